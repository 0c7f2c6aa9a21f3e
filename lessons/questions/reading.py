"""Reads what an apprentice typed: letters, options in words, pairs, a cry for help, how sure somebody is.

Numbers are read in `read_number`.
"""

from __future__ import annotations

import re

from lessons.questions.read_number import Unreadable, short
from lessons.units.readout import counted

Options = tuple[tuple[str, str], ...]  # letter and text of each, as a sheet has them
_NO_ANSWER = "There is no answer yet. Type the letter below the first line and press Shift+Enter."
_LONGEST = 4_000  # no answer with options is longer
_AROUND = frozenset(
    (
        "and",
        "then",
        "und",
        "answer",
        "option",
    )
)
_DENIES = frozenset((
    "not", "no", "never", "nothing", "none", "neither", "nor", "without", "cannot",
))  # fmt: skip
_HELP = frozenset((
    "?", "??", "???", "help", "help me", "hint", "a hint", "hint please", "please help", "tip", "more", "more help",
    "i don't know", "i dont know", "i do not know", "don't know", "dont know", "do not know", "no idea", "idk",
    "i have no idea", "not sure", "i am not sure", "i'm not sure",
))  # fmt: skip
_SURE = re.compile(r"(?<![\s,;(])[\s,;(]+(?P<how>not sure|not certain|unsure|sure|certain)[).!]*", re.IGNORECASE)


# What may stand between options in words, the surest first: an option may hold a comma itself.
_BETWEEN = (re.compile(r"\n"), re.compile(r"[\n;]"), re.compile(r"[\n;,]"), re.compile(r"[\n;,]|\band\b"))


def asks_for_hint(text: str) -> bool:
    """Tell whether somebody asks for help instead of answering.

    >>> asks_for_hint("I don’t know."), asks_for_hint("?"), asks_for_hint("4.2 bar")
    (True, True, False)
    """
    return len(text) < 40 and text.strip().lower().replace("’", "'").rstrip(".! ") in _HELP


def sureness(text: str) -> tuple[str, bool | None]:
    """Part an answer from the word at its end that says how sure somebody is; None where nothing is said.

    A page that offers "sure" and "not sure" as a click writes one of the two as the last line of the answer.

    >>> sureness("4.2 bar, not sure"), sureness("b sure"), sureness("b")
    (('4.2 bar', False), ('b', True), ('b', None))
    """
    end = text.rstrip()
    start = max(len(end) - 20, 0)
    for found in _SURE.finditer(end[start:]):
        before = end[: start + found.start()].strip()
        if start + found.end() == len(end) and before:
            return before, found["how"].lower() in ("sure", "certain")
    return text, None


def picked(text: str, options: Options, *, how_many: int | None = None) -> tuple[str, ...] | Unreadable:
    """Read options in the order typed, by letter or in words.

    >>> shown = (("a", "It falls"), ("b", "It stays: the pump is the same"), ("c", "It rises"))
    >>> picked("c", shown), picked("it stays", shown), picked("b) It stays", shown)
    (('c',), ('b',), ('b',))
    """
    if len(text) > _LONGEST:
        return Unreadable("That is very long. Type letters only.")
    found = _in_words(text, options)
    if found is None:
        return letters(text, "".join(letter for letter, _ in options), how_many=how_many)
    return found if isinstance(found, Unreadable) else _counted(found, how_many)


def letters(text: str, allowed: str, *, how_many: int | None = None) -> tuple[str, ...] | Unreadable:
    """Read letters in the order typed.

    >>> letters("B) and c", "abcd")
    ('b', 'c')
    """
    words = re.findall(r"[^\s,;.:()\[\]>→/-]+", text.strip().lower())
    words = [word for word in words if word not in (*_AROUND, "&", "+")]
    found = list(words[0]) if len(words) == 1 and len(words[0]) > 1 else words
    if not found:
        return Unreadable(_NO_ANSWER)
    if [word for word in found if len(word) != 1 or word not in allowed]:
        reason = f"is not among the letters {', '.join(allowed)}. Type letters, or an option in its own words"
        return Unreadable(f"“{short(text.strip())}” {reason}.")
    return _counted(tuple(found), how_many)


def _counted(found: tuple[str, ...], how_many: int | None) -> tuple[str, ...] | Unreadable:
    if len(set(found)) != len(found):
        return Unreadable("You typed a letter twice. Type each letter once.")
    if how_many is not None and len(found) != how_many:
        wanted = "one letter" if how_many == 1 else f"{counted(how_many, 'letter')}, each once"
        read = f"{counted(len(found), 'letter was', 'letters were')} read"
        return Unreadable(f"{read}, but this question needs {wanted}.")
    return found


def pairs(text: str, places: tuple[str, ...], options: Options) -> dict[str, str] | Unreadable:
    """Read pairs of a place number and a letter, or of a number and an option in words.

    >>> pairs("1c, 2-a 12 = stem", ("1", "2", "12"), (("a", "plug"), ("b", "stem"), ("c", "yoke")))
    {'1': 'c', '2': 'a', '12': 'b'}
    """
    compact = re.sub(r"[\s,;:=()>→.-]+", "", text.strip().lower())
    if not compact:
        return Unreadable("There is no answer yet. Type pairs such as 1c 2a and press Shift+Enter.")
    if not re.fullmatch(r"(\d+[a-z])+", compact, re.ASCII):
        in_words = _pairs_in_words(text, options)
        if in_words is None:
            return Unreadable(f"“{short(text.strip())}” does not read as pairs. Type them like this: 1c 2a.")
        compact = in_words
    found = list(zip(re.split(r"[a-z]", compact), re.findall(r"[a-z]", compact), strict=False))
    allowed = [letter for letter, _ in options]
    for place, letter in found:
        if place not in places or letter not in allowed:
            known = f"the numbers {', '.join(places)} and the letters {', '.join(allowed)}"
            return Unreadable(f"{short(place + letter)} is not among {known}.")
    if sorted(place for place, _ in found) != sorted(places):
        return Unreadable(f"Each of the numbers {', '.join(places)} needs exactly one letter.")
    return dict(found)


def _pairs_in_words(text: str, options: Options) -> str | None:
    """Return pairs with the letters put in for the words; None where a word fits no option or more than one."""
    parts = re.findall(r"(\d{1,3})([^\d\n;]+)", text) if len(text) < _LONGEST else []
    named = [(place, words.strip(" ,.:=()>→-")) for place, words in parts]
    found = [(place, words if len(words) == 1 else _one(words, options)) for place, words in named]
    if not found or not all(letter for _, letter in found):
        return None
    return "".join(f"{place}{letter}" for place, letter in found)


def _in_words(text: str, options: Options) -> tuple[str, ...] | Unreadable | None:
    """Return the options that are meant; None where the text is not in words."""
    words = _words(text)
    if all(len(word) == 1 for word in words) or not words:
        return None
    if whole := _one(text, options):
        return (whole,)
    for between in _BETWEEN:
        parts = [part for part in between.split(text) if part.strip()]
        found = [_one(part, options) for part in parts]
        if len(parts) > 1 and all(found):
            return tuple(letter for letter in found if letter)
    fitting = [letter for letter, option in options if _run(words, _words(option))]
    if len(fitting) > 1:
        return Unreadable(f"“{short(text.strip())}” fits {', '.join(fitting)}. Type the letter of the one you mean.")
    return None


def _one(text: str, options: Options) -> str | None:
    """Return the one option that a text names: whole, by its letter and words, or by words that no other has."""
    words = _words(text)
    own = [letter for letter, option in options if words and _words(option) == words]
    if own:
        return own[0] if len(own) == 1 else None
    if len(words) == 1 and len(words[0]) == 1:
        return words[0] if words[0] in dict(options) else None
    by_letter = dict(options).get(words[0]) if words else None
    if by_letter and len(words) > 1 and _run(words[1:], _words(by_letter)):
        return words[0]
    fitting = [(letter, option) for letter, option in options if words and _run(words, _words(option))]
    if len(fitting) != 1 or _DENIES & set(_words(fitting[0][1])) - set(words):
        return None
    return fitting[0][0]


def _words(text: str) -> list[str]:
    return re.findall(r"\w+", text.lower().replace("’", "").replace("'", ""))


def _run(words: list[str], option: list[str]) -> bool:
    """Tell whether words stand in an option one after another."""
    return any(option[i : i + len(words)] == words for i in range(len(option) - len(words) + 1))
