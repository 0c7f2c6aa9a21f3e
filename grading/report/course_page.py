"""The course at a glance: one page with apprentices, lessons, means, what is late and what waits; and marks.csv."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from html import escape
from statistics import fmean
from typing import Any

from grading.course.course import Course
from grading.report.pages_back import page, wide
from grading.report.results import ApprenticeResult
from lessons.notebook import bank
from lessons.units.readout import counted

Table = tuple[list[str], list[list[str]]]  # head and rows


@dataclass(frozen=True)
class Standing:
    """How one apprentice stands in one lesson."""

    points: float | None  # None while an answer waits for a person, or nothing could be marked
    late: bool
    waits: bool
    has_page: bool = True  # to hand back


@dataclass(frozen=True)
class LessonColumn:
    """One lesson over the whole class."""

    lesson: str
    possible: float
    by_badge: Mapping[str, Standing]


def standing(sheet: ApprenticeResult, due: Any) -> Standing:
    """Return how an apprentice stands, from what the gradebook says."""
    points = sheet.score if sheet.results and not sheet.unread else None
    late = bool(due and sheet.handed_in and sheet.handed_in > due)
    waits = not sheet.marked or sheet.flagged or any(result.waits for result in sheet.results)
    return Standing(points, late, waits, bool(sheet.results))


def marks_table(course: Course, columns: Sequence[LessonColumn]) -> Table:
    """Return all lessons' points of everybody in the class list, for another program to take in.

    Who has no mark yet, or an answer that waits for a person, has an empty field, not a nought.
    """
    head = ["badge", "name", *(f"{each.lesson} (of {each.possible:g})" for each in columns)]
    rows = [
        [badge, person.name, *(_points(each.by_badge.get(badge)) for each in columns)]
        for badge, person in course.roster.items()
    ]
    return head, rows


def _points(this: Standing | None) -> str:
    return "" if this is None or this.points is None else f"{this.points:g}"


def course_page(course: Course, columns: Sequence[LessonColumn], waiting: int) -> str:
    """Return the page of the whole course."""
    needs = f"{counted(waiting, 'thing')} on the list of what needs a person: needs_a_person.txt."
    lessons = "".join(
        f'<th><a href="{escape(each.lesson, quote=True)}.html">{escape(bank.title_of(each.lesson))}</a>'
        f"<br>of {each.possible:g}</th>"
        for each in columns
    )
    body = "".join(_row(course, badge, columns) for badge in course.roster)
    means = "".join(f"<td>{_mean(each)}</td>" for each in columns)
    return page(
        "The course",
        f"<h1>The course</h1><p>{needs if waiting else 'Nothing is waiting for you.'}</p>"
        "<p>“late” was handed in after its due time. “open” waits for you. A dash: nothing was handed in.</p>"
        + wide(
            "Points",
            f"<table><tr><th>Apprentice</th>{lessons}</tr>{body}<tr><th>Mean of those marked</th>{means}</tr></table>",
        )
        + '<p>All points in one table: <a href="marks.csv">marks.csv</a></p>',
    )


def _row(course: Course, badge: str, columns: Sequence[LessonColumn]) -> str:
    cells = "".join(f"<td>{_cell(badge, each)}</td>" for each in columns)
    return f"<tr><th>{escape(badge)} {escape(course.roster[badge].name)}</th>{cells}</tr>"


def _cell(badge: str, column: LessonColumn) -> str:
    this = column.by_badge.get(badge)
    if this is None:
        return "–"
    words = [f"{this.points:g}" if this.points is not None else "", "late" if this.late else ""]
    said = " ".join(filter(None, [*words, "open" if this.waits else ""])) or "no marks"
    if not this.has_page:
        return said
    lesson = escape(column.lesson, quote=True)
    return f'<a href="../handed_back/{escape(badge, quote=True)}/{lesson}/{lesson}.html">{said}</a>'


def _mean(column: LessonColumn) -> str:
    points = [each.points for each in column.by_badge.values() if each.points is not None]
    return f"{fmean(points):.1f}" if points else "–"
