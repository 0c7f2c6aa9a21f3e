"""The class at a glance: by apprentice, by question, by mistake; as a page and as tables."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from html import escape
from pathlib import Path

from grading import workorders
from grading.course import Course, write_safely
from grading.feedback import page
from grading.gradebook import due_of, opened
from grading.marking import BLANK, MISSING
from grading.received import choose, entries
from grading.results import Result, Sheet, needs_a_person, sheets
from lessons.judge import RIGHT, UNREADABLE

_NO_MISTAKE = (RIGHT, BLANK, MISSING, UNREADABLE, "recorded", "written")


@dataclass
class Question:
    """One question over the whole class, counted while the class passes by."""

    id: str
    points: float = 0.0
    count: int = 0
    earned: float = 0.0
    tags: dict[str, int] = field(default_factory=dict)
    examples: dict[str, str] = field(default_factory=dict)  # what a mistake means, in the words of the reply

    def add(self, result: Result) -> None:
        """Count one answer."""
        self.points, self.count, self.earned = result.points, self.count + 1, self.earned + result.score
        self.tags[result.tag] = self.tags.get(result.tag, 0) + 1
        if result.tag not in _NO_MISTAKE:
            self.examples.setdefault(result.tag, result.means)

    @property
    def share(self) -> float:
        """The share of the points that the class earned."""
        return self.earned / (self.points * self.count) if self.count and self.points else 0.0


def write_report(course: Course, lesson: str) -> Path:
    """Write the tables and the page of one lesson; return the page."""
    order = [question.id for question in workorders.in_notebook(course.source(lesson))]
    questions = {each: Question(each) for each in order}
    rows: list[list[str]] = []
    with opened(course) as connection:
        due, seen = due_of(connection, lesson), set()
        for sheet in sheets(connection, lesson):
            seen.add(sheet.badge)
            notes = choose(found, due).notes if (found := entries(course, lesson, sheet.badge)) else ()
            rows.append(_row(course, sheet, order, notes))
            for result in sheet.results:
                if result.question in questions:
                    questions[result.question].add(result)
    rows += [_absent(course, badge, order) for badge in sorted(course.roster) if badge not in seen]
    folder = course.root / "report"
    head = ["badge", "name", "points", *order, "remarks"]
    write_safely(folder / f"{lesson}_apprentices.csv", table(head, rows))
    write_safely(folder / f"{lesson}_questions.csv", table(*_by_question(questions.values())))
    write_safely(folder / f"{lesson}_mistakes.csv", table(*_by_mistake(questions.values())))
    target = folder / f"{lesson}.html"
    write_safely(target, _page(lesson, head, rows, list(questions.values()), list(needs_a_person(course))))
    return target


def table(head: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """Return a CSV table in which no cell is a formula, whatever an apprentice wrote."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)
    writer.writerow(head)
    writer.writerows([defused(str(value)) for value in row] for row in rows)
    return "\ufeff" + out.getvalue()  # the mark by which spreadsheets know UTF-8


def defused(value: str) -> str:
    """Return a cell's text so that no spreadsheet takes it for a formula; numbers stay numbers.

    >>> defused("=1+1"), defused("-3.5"), defused("@x")
    ("'=1+1", '-3.5', "'@x")
    """
    if value.lstrip()[:1] in tuple("=+-@\t\r＝＋－＠") and not _number(value):
        return f"'{value}"
    return value


def _number(value: str) -> bool:
    try:
        float(value)
    except ValueError:
        return False
    return True


def _row(course: Course, sheet: Sheet, order: Sequence[str], notes: Iterable[str]) -> list[str]:
    person = course.roster.get(sheet.badge)
    scores = {result.question: f"{result.score:g}" for result in sheet.results}
    waits = [
        f"{each.question} waits for you: “{each.text.strip()[:40]}”" for each in sheet.results if each.waits
    ]
    remarks = "; ".join([*sheet.remarks, *notes, *waits])
    points = f"{sheet.score:g}" if sheet.results else ""
    return [
        sheet.badge,
        person.name if person else "(not in roster.csv)",
        points,
        *(scores.get(q, "") for q in order),
        remarks,
    ]


def _absent(course: Course, badge: str, order: Sequence[str]) -> list[str]:
    return [badge, course.roster[badge].name, "", *("" for _ in order), "nothing handed in"]


def _by_question(questions: Iterable[Question]) -> tuple[list[str], list[list[str]]]:
    head = ["question", "answers", "share of points", "right", "blank or missing", "unreadable"]
    rows = [
        [
            each.id, str(each.count), f"{each.share:.2f}", str(each.tags.get(RIGHT, 0)),
            str(each.tags.get(BLANK, 0) + each.tags.get(MISSING, 0)), str(each.tags.get(UNREADABLE, 0)),
        ]
        for each in questions
    ]  # fmt: skip
    return head, rows


def _by_mistake(questions: Iterable[Question]) -> tuple[list[str], list[list[str]]]:
    rows = [
        [each.id, tag, str(count), str(each.count), each.examples.get(tag, "")]
        for each in questions
        for tag, count in each.tags.items()
        if tag not in _NO_MISTAKE
    ]
    return ["question", "mistake", "how many", "of", "what it means"], sorted(
        rows, key=lambda row: -int(row[2])
    )


def _page(
    lesson: str, head: list[str], rows: list[list[str]], questions: list[Question], waiting: list[str]
) -> str:
    parts = [f"<h1>{escape(lesson.replace('_', ' '))}: the class</h1>"]
    if waiting:
        listed = "".join(f"<li>{escape(sentence)}</li>" for sentence in waiting)
        parts.append(f"<h2>Needs a person</h2><ul>{listed}</ul>")
    parts += [
        "<h2>Mistakes</h2>",
        _html(*_by_mistake(questions)),
        "<h2>Questions</h2>",
        _html(*_by_question(questions)),
    ]
    parts += ["<h2>Apprentices</h2>", _html(head, rows)]
    return page(f"{lesson}: the class", "\n".join(parts))


def _html(head: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    if not rows:
        return "<p>None.</p>"
    first = "".join(f"<th>{escape(name)}</th>" for name in head)
    body = "".join(f"<tr>{''.join(f'<td>{escape(str(value))}</td>' for value in row)}</tr>" for row in rows)
    return f"<table><tr>{first}</tr>{body}</table>"
