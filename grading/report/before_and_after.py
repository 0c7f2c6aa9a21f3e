"""Marks a lesson again after the instructor changed a question, and tells whose points changed, before and after."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from grading.course import plain
from grading.course.course import Course, write_safely
from grading.gradebook.gradebook import opened
from grading.marking.mark_lesson import mark_lesson
from grading.report.results import ApprenticeResult, sheets
from lessons.units.readout import counted

_MOST = 20  # apprentices told on the screen; the table has all
_Points = Mapping[str, ApprenticeResult]


def mark_before_and_after(
    course: Course, lesson: str, questions: Sequence[str], change: Callable[[], None], say: Callable[[str], None]
) -> Path:
    """Change questions, mark every hand-in again and write the table; nothing that came in is touched.

    Marks given by hand stay as they are.
    """
    before = _marks(course, lesson)
    change()
    tally = mark_lesson(course, lesson, again=True)
    after = _marks(course, lesson)
    rows = [_row(course, badge, before.get(badge), after[badge], questions) for badge in after]
    path = course.root / "tables" / f"{lesson}_before_and_after.csv"
    write_safely(path, "\ufeff" + plain.table([_head(questions), *rows]))
    other = [row for row in rows if row[-2] != row[-1]]
    for row in other[:_MOST]:
        say(f"{row[0]} {row[1]}: {row[-2] or 'no mark'} before, {row[-1] or 'no mark'} now.")
    say(
        f"{lesson}: {counted(tally.marked, 'hand-in')} marked again, {counted(len(other), 'apprentice')} with other "
        f"points, {tally.unmarked} could not be marked. The whole table is {path}."
    )
    return path


def _marks(course: Course, lesson: str) -> dict[str, ApprenticeResult]:
    with opened(course) as connection:
        return {sheet.badge: sheet for sheet in sheets(connection, lesson)}


def _head(questions: Sequence[str]) -> list[str]:
    each = [f"{question} {when}" for question in questions for when in ("before", "now")]
    return ["badge", "name", *each, "lesson before", "lesson now"]


def _row(
    course: Course, badge: str, before: ApprenticeResult | None, now: ApprenticeResult, questions: Sequence[str]
) -> list[str]:
    person = course.roster.get(badge)
    each = [_of(sheet, question) for question in questions for sheet in (before, now)]
    return [badge, person.name if person else "", *each, _whole(before), _whole(now)]


def _of(sheet: ApprenticeResult | None, question: str) -> str:
    found = next((each for each in sheet.results if each.question == question), None) if sheet else None
    return "" if found is None or found.unread else f"{found.score:g}{' by hand' if found.by_hand else ''}"


def _whole(sheet: ApprenticeResult | None) -> str:
    return f"{sheet.score:g}" if sheet and sheet.results else ""
