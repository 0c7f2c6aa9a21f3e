"""The course at a glance: one page with apprentices, lessons, means, what is late and what waits; and marks.csv."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape
from statistics import fmean

from grading.course.course import Course
from grading.report.results import ApprenticeResult
from grading.report.whole_page import page, page_table
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
    by_badge: Mapping[str, Standing]  # of the class list
    due: datetime | None = None  # of the class

    @property
    def number(self) -> str:
        """The number of the lesson, which its name begins with."""
        return self.lesson.partition("_")[0]


def standing(result: ApprenticeResult, due: datetime | None) -> Standing:
    """Return how an apprentice stands, from what the gradebook says."""
    points = result.score if result.results and not result.unread else None
    late = bool(due and result.handed_in and result.handed_in > due)
    waits = not result.marked or result.flagged or any(each.waits for each in result.results)
    return Standing(points, late, waits, bool(result.results))


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


def course_page(
    course: Course, columns: Sequence[LessonColumn], refused: Sequence[str], waiting: int, learned: bool
) -> str:
    """Return the page of the whole course."""
    needs = f"{counted(waiting, 'thing')} on the list of what needs a person, needs_a_person.txt."
    people = [_person_row(course, badge, columns) for badge in course.roster]
    means = ["<b>Mean of those marked</b>", _share(_shares(columns)), *(_mean(each) for each in columns)]
    head = ["Apprentice", "All", *(f"{each.number} of {each.possible:g}" for each in columns)]
    files = "".join(f"<li>{escape(sentence)}</li>" for sentence in refused)
    return page(
        "The course",
        f"<h1>The course</h1><p>{needs if waiting else 'Nothing is waiting for you.'}</p>"
        f"<h2>Lessons</h2>{page_table(_LESSON_HEAD, (_lesson_row(course, each) for each in columns))}"
        f"<h2>Apprentices</h2>{page_table(head, [*people, means] if columns else people, many=True)}"
        "<p>Points by lesson. “All” is the part of the points of all lessons that have a mark. “late” was handed in "
        "after its due time. “open” waits for you. A dash: nothing was handed in.</p>"
        + (f"<h2>Files that were not taken in</h2><ul>{files}</ul>" if files else "")
        + '<p>All points in one table: <a href="marks.csv">marks.csv</a></p>'
        + ('<p><a href="learning.html">How practice went</a></p>' if learned else ""),
        sideways=True,
    )


_LESSON_HEAD = ("Lesson", "Due", "Handed in", "Mean", "Late", "Open")


def _lesson_row(course: Course, column: LessonColumn) -> list[str]:
    here = list(column.by_badge.values())
    points = [each.points for each in here if each.points is not None]
    mean = f"{fmean(points):.1f} of {column.possible:g}" if points else "–"
    counts = (sum(each.late for each in here), sum(each.waits for each in here))
    link = f'<a href="{escape(column.lesson, quote=True)}.html">{escape(bank.title_of(column.lesson))}</a>'
    due = column.due.astimezone().strftime("%Y-%m-%d %H:%M") if column.due else "–"
    return [link, due, f"{len(here)} of {len(course.roster)}", mean, *(str(each) if each else "–" for each in counts)]


def _person_row(course: Course, badge: str, columns: Sequence[LessonColumn]) -> list[str]:
    name = f"<b>{escape(badge)} {escape(course.roster[badge].name)}</b>"
    return [name, _share(_shares(columns, badge)), *(_cell(badge, each) for each in columns)]


def _shares(columns: Iterable[LessonColumn], badge: str = "") -> list[tuple[float, float]]:
    """Return points and points to be had, wherever there is a mark: of one badge, or of all."""
    found = [
        (each.points, column.possible)
        for column in columns
        for each in ([column.by_badge.get(badge)] if badge else column.by_badge.values())
        if each is not None
    ]
    return [(points, possible) for points, possible in found if points is not None]


def _share(points: Sequence[tuple[float, float]]) -> str:
    possible = sum(most for _, most in points)
    return f"{100 * sum(earned for earned, _ in points) / possible:.0f} %" if possible else "–"


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
