"""The class list: badge, name and units of each apprentice, from a CSV file."""

from __future__ import annotations

import csv
import io
from dataclasses import dataclass
from pathlib import Path

from grading.course import plain
from lessons.questions.progress import UNITS, is_badge

SAMPLE = "badge,name,units\n4711,Ada Example,si\n4712,Ben Example,us\n"


class RosterError(ValueError):
    """The class list cannot be used; its text has one sentence for each line that is wrong."""


@dataclass(frozen=True)
class Apprentice:
    """One line of the class list."""

    badge: str
    name: str
    units: str = "si"


def read_roster(path: Path) -> dict[str, Apprentice]:
    """Read the class list.

    Raises
    ------
    RosterError
        With every line that is wrong, so that all can be put right in one go.
    """
    try:
        text = path.read_bytes().decode("utf-8-sig")
    except FileNotFoundError:
        raise RosterError(f"There is no class list: {path} is missing. Write one like this:\n{SAMPLE}") from None
    except UnicodeDecodeError:
        raise RosterError(
            f"{path} is not saved as UTF-8. In the spreadsheet, choose “CSV UTF-8” and save it again."
        ) from None
    try:
        rows = _rows(text)
    except csv.Error as problem:
        raise RosterError(f"{path} cannot be read as a table ({problem}). Save it again as “CSV UTF-8”.") from None
    head = [name.strip().lower() for name in rows[0]] if rows else []
    if "badge" not in head or "name" not in head:
        raise RosterError(
            f"{path}, line 1: it must name the columns badge, name and units. It says “{','.join(head)[:60]}”."
        )
    people, wrong = _people(rows, head)
    if wrong:
        raise RosterError("\n".join(f"{path.name}, {sentence}" for sentence in wrong))
    return people


def _rows(text: str) -> list[list[str]]:
    first = text.partition("\n")[0]
    # A spreadsheet set to a decimal comma writes semicolons.
    delimiter = ";" if first.count(";") > first.count(",") else ","
    return list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))


def _people(rows: list[list[str]], head: list[str]) -> tuple[dict[str, Apprentice], list[str]]:
    people: dict[str, Apprentice] = {}
    lines: dict[str, int] = {}
    wrong: list[str] = []
    for line, row in enumerate(rows[1:], start=2):
        if not any(field.strip() for field in row):
            continue
        fields = dict(zip(head, (plain.line(field.strip()) for field in row), strict=False))
        person = Apprentice(fields.get("badge", ""), fields.get("name", ""), fields.get("units", "").lower() or "si")
        problem = _problem(person, lines.get(person.badge.lower()))
        if problem:
            wrong.append(f"line {line}: {problem}")
            continue
        people[person.badge] = person
        lines[person.badge.lower()] = line
    return people, wrong


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
    return ""
