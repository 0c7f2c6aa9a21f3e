"""Finds the patterns of a package, and for each the texts that would take it longest: one repeat filled, then a misfit."""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from re import _constants as c  # type: ignore[attr-defined]
from re import _parser  # type: ignore[attr-defined]
from typing import Any

METHODS = {"match", "fullmatch", "search", "sub", "findall", "finditer", "split"}
_LETTERS = " \ta0A9.,-_='\"()[]{}%/>→é#:;\n\\xyz"
MISFITS = ("", "!", "\x00", "\n\x00", "0", "<", ' "')


@dataclass(frozen=True)
class Pattern:
    """A pattern, where it stands and how it is used."""

    place: str
    text: str | bytes
    flags: int
    method: str

    def run(self, text: str) -> None:
        """Use the pattern on a text as the code does."""
        compiled: Any = re.compile(self.text, self.flags)
        given: Any = text if isinstance(self.text, str) else text.encode("utf-8", "replace")
        if self.method in ("sub",):
            compiled.sub(given[:0], given)
        elif self.method == "finditer":
            list(compiled.finditer(given))
        else:
            getattr(compiled, self.method)(given)


def patterns(folder: Path) -> list[Pattern]:
    """Return every pattern under a folder, once for each way it is used."""
    return [found for path in sorted(folder.rglob("*.py")) for found in _of_file(path, folder.parent)]


def _of_file(path: Path, root: Path) -> Iterator[Pattern]:
    text = path.read_text(encoding="utf-8")
    if "re." not in text:  # most modules, and parsing them takes its time
        return
    tree = ast.parse(text)
    calls = [node for node in ast.walk(tree) if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)]
    place = str(path.relative_to(root))
    for call in calls:
        function = call.func
        assert isinstance(function, ast.Attribute)
        if not (isinstance(function.value, ast.Name) and function.value.id == "re" and call.args):
            continue
        if function.attr not in METHODS | {"compile"}:
            continue
        # A pattern put together at run time would have to be looked at by hand.
        written = ast.literal_eval(call.args[0])
        flags = _flags(call)
        for method in [function.attr] if function.attr != "compile" else _uses(tree, calls, call):
            yield Pattern(f"{place}:{call.lineno}", written, flags, method)


def _flags(call: ast.Call) -> int:
    words = {node.attr for node in ast.walk(call) if isinstance(node, ast.Attribute) and node.attr.isupper()}
    return sum((re.RegexFlag[word] for word in words), re.RegexFlag(0)) if words else 0


def _uses(tree: ast.Module, calls: list[ast.Call], compiled: ast.Call) -> list[str]:
    names = {
        target.id
        for node in ast.walk(tree)
        if isinstance(node, ast.Assign) and node.value is compiled
        for target in node.targets
        if isinstance(target, ast.Name)
    }
    found = {
        call.func.attr
        for call in calls
        if isinstance(call.func, ast.Attribute)
        and isinstance(call.func.value, ast.Name)
        and call.func.value.id in names
    }
    return sorted(found & METHODS) or ["fullmatch", "search"]  # used elsewhere: both ways


def evil(pattern: Pattern) -> Iterator[tuple[str, str]]:
    """Give what stands before a repeat, and what fills it, for every repeat without a bound."""
    seen = set()
    for before, unit in _repeats(_parser.parse(pattern.text, pattern.flags), ""):
        for start in {before, ""}:
            if unit and (start, unit) not in seen:
                seen.add((start, unit))
                yield start, unit


def _repeats(nodes: Any, before: str) -> Iterator[tuple[str, str]]:
    for kind, about in nodes:
        if kind in (c.MAX_REPEAT, c.MIN_REPEAT, c.POSSESSIVE_REPEAT):
            _low, high, inner = about
            if high > 50:
                yield from ((before, unit) for unit in _fillings(inner))
            yield from _repeats(inner, before)
        elif kind is c.SUBPATTERN:
            yield from _repeats(about[3], before)
        elif kind is c.BRANCH:
            for each in about[1]:
                yield from _repeats(each, before)
        before += _shortest([(kind, about)])


def _fillings(inner: Any) -> list[str]:
    if len(inner) == 1 and inner[0][0] is c.IN:
        return _letters_in(inner[0][1])
    if len(inner) == 1 and inner[0][0] in (c.ANY, c.NOT_LITERAL):
        return [" ", "a", "0"]
    if len(inner) == 1 and inner[0][0] is c.SUBPATTERN:
        return _fillings(inner[0][1][3])
    if len(inner) == 1 and inner[0][0] is c.BRANCH:
        return [unit for each in inner[0][1][1] for unit in _fillings(each)]
    return [_shortest(inner)]


def _shortest(nodes: Any) -> str:
    """Return a short text that fits."""
    return "".join(_SHORTEST[kind](about) for kind, about in nodes if kind in _SHORTEST)


_SHORTEST: dict[Any, Callable[[Any], str]] = {
    c.LITERAL: chr,
    c.NOT_LITERAL: lambda about: next(letter for letter in _LETTERS if ord(letter) != about),
    c.ANY: lambda _about: "x",
    c.IN: lambda about: _letters_in(about)[0],
    c.SUBPATTERN: lambda about: _shortest(about[3]),
    c.BRANCH: lambda about: _shortest(about[1][0]),
    c.ASSERT: lambda about: _shortest(about[1]) if about[0] < 0 else "",
    **dict.fromkeys((c.MAX_REPEAT, c.MIN_REPEAT, c.POSSESSIVE_REPEAT), lambda about: _shortest(about[2]) * about[0]),
}


def _letters_in(items: Any) -> list[str]:
    named = [chr(about if kind is c.LITERAL else about[0]) for kind, about in items if kind in (c.LITERAL, c.RANGE)]
    return [letter for letter in [*_LETTERS, *named] if _in_set(items, letter)]


def _in_set(items: Any, letter: str) -> bool:
    found, negated = False, False
    for kind, about in items:
        if kind is c.NEGATE:
            negated = True
        elif kind is c.LITERAL:
            found |= ord(letter) == about
        elif kind is c.RANGE:
            found |= about[0] <= ord(letter) <= about[1]
        elif kind is c.CATEGORY:
            found |= _category(about, letter)
    return found != negated


def _category(about: Any, letter: str) -> bool:
    kinds = {"DIGIT": letter.isdigit(), "SPACE": letter.isspace(), "WORD": letter.isalnum() or letter == "_"}
    name = about.name.removeprefix("CATEGORY_").removeprefix("UNI_")
    return not kinds[name.removeprefix("NOT_")] if name.startswith("NOT_") else kinds[name]
