"""Finds people of the class list by their names and addresses, however a file, folder or mail writes them."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping

from grading.course.roster import Apprentice

_ONE_LETTER = str.maketrans({"ł": "l", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "æ": "ae", "œ": "oe", "ı": "i"})
_TWO_LETTERS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"})
_NOT_IN_WORDS = re.compile(r"[’'`´]")
_JOINED = re.compile(r"(?<=[a-z])(?=[A-Z])")  # ExampleAda
_MOST_WORDS, _MOST_CLOSE = 40, 500  # words of a name; people on a list in which close spellings are looked for


def spellings(word: str) -> set[str]:
    """Return how a word may be written where a program or keyboard lacks its letters.

    >>> sorted(spellings("Müller")), sorted(spellings("Łukasz"))
    (['mueller', 'muller'], ['lukasz'])
    """
    small = unicodedata.normalize("NFC", word).casefold()
    return {_bare(small.translate(_ONE_LETTER)), _bare(small.translate(_TWO_LETTERS).translate(_ONE_LETTER))}


def _bare(word: str) -> str:
    return "".join(letter for letter in unicodedata.normalize("NFKD", word) if not unicodedata.combining(letter))


def name_words(name: str) -> list[str]:
    """Return the words of a name that stand for something: no numbers.

    >>> name_words("O'Brien-Ng Ana_12345_file")
    ['OBrien', 'Ng', 'Ana', 'file']
    """
    # Letters with their marks as one sign, as some systems write the marks apart.
    found = re.findall(r"[^\W\d_]+", _NOT_IN_WORDS.sub("", unicodedata.normalize("NFC", name)))
    return found[:_MOST_WORDS]


class KnownNames:
    """Names and addresses of a class list, looked up by word."""

    def __init__(self, roster: Mapping[str, Apprentice]) -> None:
        self._words: dict[str, list[set[str]]] = {}
        self._with: dict[str, set[str]] = defaultdict(set)
        self._mails: dict[str, set[str]] = defaultdict(set)
        for badge, person in roster.items():
            words = name_words(person.name)
            long = [word for word in words if len(word) > 1]  # an initial is often left out
            self._words[badge] = [spellings(word) for word in long or words]
            for spelled in set().union(*self._words[badge]):
                self._with[spelled].add(badge)
            if person.mail:
                self._mails[person.mail.lower()].add(badge)

    def by_mail(self, addresses: Iterable[str]) -> set[str]:
        """Return whose addresses these are."""
        return {badge for each in addresses for badge in self._mails.get(each, ())}

    def by_name(self, name: str) -> set[str]:
        """Return who has all words of their name in this one: more than one if it could be several.

        Where Ada Example and Ada Marie Example are on the list, “Ada Example” may be either.
        """
        counts = self._counts(_spelled_in(name))
        whole = {badge for badge, count in counts.items() if count == len(self._words[badge]) > 1}
        found = {each for each in whole if not any(self._covers(other, each) for other in whole)}
        return found | {other for other in counts.keys() - whole for each in found if self._covers(other, each)}

    def _covers(self, longer: str, shorter: str) -> bool:
        """Tell whether one name is another with more words in it."""
        all_words, words = self._words[longer], self._words[shorter]
        return len(all_words) > len(words) and all(any(word & each for each in all_words) for word in words)

    def nearly(self, names: Iterable[str], most: int = 3) -> list[str]:
        """Return who may be meant, the likeliest first: by some words of a name, or by close spellings."""
        written = set().union(*map(_spelled_in, names))
        found = self._counts(written)
        if not found and len(self._words) <= _MOST_CLOSE:
            close = {near for each in written for near in difflib.get_close_matches(each, self._with, 2, 0.8)}
            found = self._counts(close)
        return [badge for badge, _ in found.most_common(most)] if len(found) <= 2 * most else []

    def _counts(self, written: set[str]) -> Counter[str]:
        who = {badge for each in written for badge in self._with.get(each, ())}
        return Counter({badge: sum(bool(word & written) for word in self._words[badge]) for badge in sorted(who)})


def _spelled_in(name: str) -> set[str]:
    words = name_words(name)
    apart = [part for word in words for part in _JOINED.split(word)]
    return set().union(*map(spellings, {*words, *apart}))
