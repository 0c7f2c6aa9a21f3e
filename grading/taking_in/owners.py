"""Whose a hand-in is: by badge, by name or by e-mail address; where that is not sure, the instructor is asked."""

from __future__ import annotations

import itertools
import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from grading.course import plain
from grading.course.roster import Apprentice
from grading.handins.handin import UnusableError
from grading.taking_in.known_names import KnownNames
from grading.taking_in.mails import addresses

_COPY = re.compile(r"(?<![ _-])[ _-]*\(\d{1,2}\)(?=\.[A-Za-z]+$|$)")  # written by a browser that downloads a file again
_TIMES = re.compile(r"\d{4}-\d\d-\d\d[ T_]\d\d[:.]?\d\d[:.]?\d\d(\.\d+)?( UTC)?|\d{4}-\d\d-\d\d")
_ENDING = re.compile(r"\.(ipynb(\.txt|\.json)?|zip|eml)$", re.IGNORECASE)
_SAVED_AGAIN = re.compile(r"^[ -]\d{1,2}(?=\.|$)")  # behind the name of a lesson: some systems count copies so


class UnsureError(UnusableError):
    """Nobody can tell for sure whose it is; the instructor is asked, and may mean one of `badges`."""

    def __init__(self, sentence: str, badges: Iterable[str] = ()) -> None:
        super().__init__(sentence)
        self.badges = tuple(badges)


@dataclass(frozen=True)
class Owner:
    """Whose it is; `note` says how that was found where no badge told it, `doubt` is for a person to look at."""

    badge: str
    note: str = ""
    doubt: str = ""


class Owners:
    """What is looked up for every file: the class list and the badges of earlier."""

    def __init__(self, roster: Mapping[str, Apprentice], lessons: Sequence[str], earlier: Mapping[str, str]) -> None:
        self.roster, self.lessons, self.earlier = roster, lessons, earlier
        self.known = KnownNames(roster)
        self.badges = Badges([*roster, *(was for was in earlier if was not in roster)])

    def of(self, names: tuple[str, ...], sender: str = "", mentioned: Sequence[str] = ()) -> Owner:
        """Return whose it is, by the names of folder, zip, subject and file, and who sent it.

        Raises
        ------
        UnsureError
            If the clues name nobody, several, or do not agree.
        """
        told = dict.fromkeys(badge for name in names for badge in badges_in(name, self.badges, self.lessons))
        badges = list(dict.fromkeys(self.earlier.get(each, each) if each not in self.roster else each for each in told))
        named = set().union(*(self.known.by_name(name) for name in names)) if names else set()
        named |= self.known.by_mail(each for name in names for each in addresses(_ENDING.sub("", name)))
        sent = self._by_sender(sender) if sender else set()
        if len(badges) > 1:
            raise UnsureError(f"it names two badges, {' and '.join(badges)}", badges)
        if badges and named and badges[0] not in named:
            both = [*badges, *sorted(named)]
            raise UnsureError(f"it has badge {badges[0]} in its name, but also the name of {self._all(named)}", both)
        if badges:
            return Owner(badges[0], self._earlier(next(iter(told))), self._other_sender(badges[0], sent))
        return self._by_person(names, sender, named, sent, mentioned)

    def _by_sender(self, sender: str) -> set[str]:
        return self.known.by_mail(addresses(sender)) or self.known.by_name(re.split("[<@]", sender)[0])

    def _by_person(
        self, names: tuple[str, ...], sender: str, named: set[str], sent: set[str], mentioned: Sequence[str]
    ) -> Owner:
        found = named & sent if named and named & sent else named or sent
        if len(found) == 1 and not (named and sent and not named & sent):
            (badge,) = found
            how = "name" if named else "sender"
            return Owner(badge, f"taken in for {self._said(badge)} by its {how}", self._strange_address(badge, sender))
        if named or sent:
            raise UnsureError(f"it could be of {self._all(named | sent)}", sorted(named | sent))
        maybe = sorted(self.known.by_mail(mentioned)) or self.known.nearly([*names, sender])
        perhaps = f". Perhaps it is of {self._all(maybe)}" if maybe else ""
        file = plain.line(names[-1], 60)
        raise UnsureError(
            f"neither its name “{file}” nor its folder or sender has a badge of roster.csv in it, or a name{perhaps}",
            maybe,
        )

    def _said(self, badge: str) -> str:
        return f"{badge} {self.roster[badge].name}"

    def _all(self, badges: Iterable[str]) -> str:
        return " or ".join(map(self._said, sorted(badges)))

    def _earlier(self, told: str) -> str:
        return "" if told in self.roster else f"it is named by {told}, the badge of earlier"

    def _other_sender(self, badge: str, sent: set[str]) -> str:
        return f"it was sent by {self._all(sent)}" if sent and badge not in sent else ""

    def _strange_address(self, badge: str, sender: str) -> str:
        told, own = addresses(sender), self.roster[badge].mail
        strange = own and told and own.lower() not in told
        return f"it came from {told[0]}, which is not the address in roster.csv" if strange else ""


class Badges:
    """Badges, found however they are typed: a-23, A 23 or a23 for A-23; of two that this may stand for, neither."""

    def __init__(self, badges: Iterable[str]) -> None:
        self._exact: dict[str, str] = {}
        self._spelled: dict[tuple[str, ...], set[str]] = defaultdict(set)
        for badge in badges:
            self._exact[badge.lower()] = badge  # a class list holds no two that differ in capitals only
            words = re.findall(r"[a-z0-9]+", badge.lower())
            for key in (words, ["".join(words)], re.findall(r"[a-z]+|[0-9]+", badge.lower())):
                self._spelled[tuple(key)].add(badge)

    def typed(self, run: str, words: tuple[str, ...]) -> str:
        """Return the badge that a run of words is, or nothing."""
        could_be = self._spelled.get(words, set())
        return self._exact.get(run.lower()) or (next(iter(could_be)) if len(could_be) == 1 else "")


def badges_in(name: str, badges: Badges, lessons: Iterable[str]) -> Iterator[str]:
    """Give the badges that a name has in it.

    >>> known = Badges(["4711", "04", "2", "A-23"])
    >>> list(badges_in("4711_04_inherent_characteristic (2).ipynb", known, ["04_inherent_characteristic"]))
    ['4711']
    >>> list(badges_in("04_inherent_characteristic 2.ipynb", known, ["04_inherent_characteristic"]))
    []
    >>> list(badges_in("work of a 23.ipynb", known, []))
    ['A-23']
    """
    name = _COPY.sub("", name)
    for lesson in lessons:  # their numbers and those of times are not badges
        before, *behind = name.split(lesson)
        name = " ".join([before, *(_SAVED_AGAIN.sub("", each) for each in behind)])
    name = _TIMES.sub(" ", _ENDING.sub("", name))
    words = list(itertools.islice(re.finditer(r"[A-Za-z0-9]+", name), 20))
    first = 0
    while first < len(words):
        # The longest run of words that is a badge: “a-12” before “a”.
        for last in reversed(range(first, len(words))):
            run = name[words[first].start() : words[last].end()]
            badge = badges.typed(run, tuple(word[0].lower() for word in words[first : last + 1]))
            if badge:
                yield badge
                first = last
                break
        first += 1
