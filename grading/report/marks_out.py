"""The marks as another program wants them: columns, their names, separator, decimal sign and byte mark by choice."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from pathlib import Path

from grading.course import plain
from grading.course.course import Course, CourseError, write_safely
from grading.course.roster import Apprentice
from grading.given_out.given_out import given_out
from grading.gradebook.gradebook import dues_of, opened
from grading.report.course_page import LessonColumn, standing
from grading.report.results import sheets

SEPARATORS = {"comma": ",", "semicolon": ";", "tab": "\t"}
DECIMALS = {"point": ".", "comma": ","}
_PERSON: dict[str, Callable[[Apprentice], str]] = {
    "badge": lambda person: person.badge,
    "name": lambda person: person.name,
    "first": lambda person: person.name.rpartition(" ")[0],
    "last": lambda person: person.name.rpartition(" ")[2],
    "mail": lambda person: person.mail,
    "units": lambda person: person.units,
}
_LESSON = re.compile(r"(?P<lesson>[^%]+?)(?P<kind>%|/late)?")


def write_marks(course: Course, columns: Sequence[str], separator: str, bom: bool, decimal: str) -> Path:
    """Write the marks of the class list, a line for each; return the file.

    A column is one of badge, name, first, last, mail, units; or a lesson such as 04 (points), 04% (per cent of its
    points), 04/late (yes or no); or total, total%. HEAD=COLUMN gives it another name.

    Raises
    ------
    CourseError
        If there is no such column.
    """
    lessons = _columns(course)
    wanted = [_wanted(each, lessons) for each in columns or ["badge", "name", *(each.number for each in lessons)]]
    rows = [
        [_decimal(value(person), decimal) if number else value(person) for _, value, number in wanted]
        for person in course.roster.values()
    ]
    path = course.root / "tables" / "marks_for_import.csv"
    shown = plain.table([[head for head, *_ in wanted], *rows], SEPARATORS[separator])
    write_safely(path, ("\ufeff" if bom else "") + shown)
    return path


def _columns(course: Course) -> list[LessonColumn]:
    found = []
    with opened(course) as connection:
        for lesson in course.lessons():
            due = dues_of(connection, lesson)
            standings = {each.badge: standing(each, due.of(each.badge)) for each in sheets(connection, lesson)}
            possible = sum(question.points for question in given_out(course, lesson).latest.questions)
            found.append(LessonColumn(lesson, possible, standings))
    return found


_Value = Callable[[Apprentice], str]


def _wanted(asked: str, lessons: Sequence[LessonColumn]) -> tuple[str, _Value, bool]:
    """Return head, value, and whether it is a number, of a column that was asked for."""
    head, _, name = asked.rpartition("=")
    head = head or name
    if name in _PERSON:
        return head, _PERSON[name], False
    if name in ("total", "total%"):
        return head, lambda person: _total(lessons, person.badge, share=name.endswith("%")), True
    told = _LESSON.fullmatch(name)
    found = [each for each in lessons if told and told["lesson"] in (each.lesson, each.number)]
    if not found or told is None:
        known = ", ".join([*_PERSON, *(each.number for each in lessons), "total"])
        raise CourseError(f"There is no column “{name}”. The columns are: {known}; a lesson also with % or /late.")
    return head, lambda person: _of_lesson(found[0], person.badge, told["kind"] or ""), told["kind"] != "/late"


def _of_lesson(column: LessonColumn, badge: str, kind: str) -> str:
    this = column.by_badge.get(badge)
    if kind == "/late":
        return "" if this is None else ("yes" if this.late else "no")
    if this is None or this.points is None:
        return ""
    return f"{100 * this.points / column.possible:.1f}" if kind and column.possible else f"{this.points:g}"


def _total(lessons: Sequence[LessonColumn], badge: str, share: bool) -> str:
    """Return the points of all lessons with a mark; nothing where there is none."""
    marked = [(each.by_badge[badge].points, each.possible) for each in lessons if badge in each.by_badge]
    points = [(earned, possible) for earned, possible in marked if earned is not None]
    if not points:
        return ""
    earned, possible = (sum(column) for column in zip(*points, strict=True))
    return f"{100 * earned / possible:.1f}" if share and possible else f"{earned:g}"


def _decimal(number: str, sign: str) -> str:
    return number.replace(".", DECIMALS[sign])
