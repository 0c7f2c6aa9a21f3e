"""The class list: badge, name, units and e-mail address of each apprentice, from a table."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from grading.course import plain
from grading.course.spreadsheet_rows import TableError, rows_of
from lessons.questions.progress import UNITS, is_badge

SAMPLE = "badge,name,units\n4711,Ada Example,si\n4712,Ben Example,us\n"
# What the columns are called where a school's own program wrote the list; letters only.
_COLUMNS = {
    "badge": ("badge", "badgenumber", "badgeno", "badgeid"),
    "name": ("name", "fullname"),
    "first": ("firstname", "firstnames", "givenname", "givennames", "forename"),
    "last": ("lastname", "surname", "familyname"),
    "units": ("units", "unit"),
    "mail": ("email", "emailaddress", "mail", "mailaddress"),
}
_NAMES = {"name", "first", "last"}
_TITLES = 10  # rows among which the names of the columns are looked for
_AS_TEXT = re.compile(r"""="(?P<said>[^"]*)"|'(?P<other>\d+)""")
_MAIL = re.compile(r"[^@\s<>,;]+@[^@\s<>,;]+")


class RosterError(ValueError):
    """The class list cannot be used; its text has one sentence for each line that is wrong."""


@dataclass(frozen=True)
class Apprentice:
    """One line of the class list."""

    badge: str
    name: str
    units: str = "si"
    mail: str = ""


def read_roster(path: Path) -> dict[str, Apprentice]:
    """Read the class list.

    Raises
    ------
    RosterError
        With every line that is wrong, so that all can be put right in one go.
    """
    try:
        rows = rows_of(path.read_bytes())
    except FileNotFoundError:
        raise RosterError(f"There is no class list: {path} is missing. Write one like this:\n{SAMPLE}") from None
    except TableError as problem:
        raise RosterError(f"{path} {problem}") from None
    top = head_row(rows)
    if top < 0:
        said = ",".join(rows[0]) if rows else ""
        raise RosterError(
            f"{path}, line 1: it must name the columns badge, name and units. It says “{plain.line(said, 60)}”."
        )
    people, wrong = _people(rows, top)
    if wrong:
        raise RosterError("\n".join(f"{path.name}, {sentence}" for sentence in wrong))
    if not people:
        raise RosterError(f"{path} lists nobody. Write a line for each apprentice, like this:\n{SAMPLE}")
    return people


def head_row(rows: Sequence[Sequence[str]]) -> int:
    """Return which row names the columns, as there may be a title above it; -1 for none."""
    named = (i for i, row in enumerate(rows[:_TITLES]) if "badge" in (head := head_of(row)) and _NAMES & set(head))
    return next(named, -1)


def head_of(row: Sequence[str]) -> list[str]:
    """Return what each column holds, by its name; nothing for one that is not used here.

    >>> head_of(["Badge No.", "Surname", "First name", "E-mail address", "Shift"])
    ['badge', 'last', 'first', 'mail', '']
    """
    known = {spelled: column for column, spellings in _COLUMNS.items() for spelled in spellings}
    return [known.get("".join(filter(str.isalpha, name.lower())), "") for name in row]


def _people(rows: Sequence[Sequence[str]], top: int) -> tuple[dict[str, Apprentice], list[str]]:
    people: dict[str, Apprentice] = {}
    lines: dict[str, int] = {}
    wrong: list[str] = []
    head = head_of(rows[top])
    for line, row in enumerate(rows[top + 1 :], start=top + 2):
        if not any(map(_cell, row)) or row == rows[top]:  # the head once more, where two lists were put together
            continue
        cells = list(zip(head, map(_cell, row), strict=False))
        person = _person(dict(reversed(cells)))  # of two columns for one thing the first counts
        problem = _over_lines(head, row) or _problem(person, lines.get(person.badge.lower()))
        if problem:
            wrong.append(f"line {line}: {problem}")
            continue
        people[person.badge] = person
        lines[person.badge.lower()] = line
    return people, wrong


def _cell(field: str) -> str:
    """Return what a field says, without what spreadsheets write round a number that is to stay text."""
    said = plain.line(plain.text(field).strip())
    as_text = _AS_TEXT.fullmatch(said)
    return (as_text["said"] or as_text["other"] or "") if as_text else said


def _person(fields: Mapping[str, str]) -> Apprentice:
    name = fields.get("name") or " ".join(filter(None, (fields.get("first"), fields.get("last"))))
    units = fields.get("units", "").lower() or "si"
    return Apprentice(fields.get("badge", ""), name, units, fields.get("mail", ""))


def _over_lines(head: Sequence[str], row: Sequence[str]) -> str:
    """Return a sentence where a quotation mark that is closed too late makes one field of several lines."""
    over = next((field for name, field in zip(head, row, strict=False) if name and "\n" in field.strip()), "")
    return f"“{plain.line(over, 40)}” goes over several lines. Look at its quotation marks." if over else ""


def _problem(person: Apprentice, earlier: int | None) -> str:
    if not is_badge(person.badge):
        return (
            f"the badge is “{person.badge[:40]}”. Use 1 to 20 letters, digits, hyphens or underscores, "
            "and begin with a letter or a digit."
        )
    if earlier is not None:  # also where only capitals differ: some file systems do not tell them apart
        return f"badge {person.badge} is already in line {earlier}. Each badge may be listed once."
    if not person.name:
        return f"badge {person.badge} has no name. Write the name, or repeat the badge."
    if person.units not in UNITS:
        return f"the units of badge {person.badge} are “{person.units[:20]}”. Write si or us, or leave it empty."
    if person.mail and not _MAIL.fullmatch(person.mail):
        return (
            f"the e-mail address of badge {person.badge} is “{person.mail[:60]}”. Write one address, or leave it empty."
        )
    return ""
