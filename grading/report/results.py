"""What the gradebook knows of a class, row by row, so that a class of any size fits."""

from __future__ import annotations

import json
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, and_, exists, not_, or_, select

from grading.course.course import Course
from grading.given_out.given_out import given_out
from grading.given_out.judged_answers import WITHDRAWN, WRITTEN
from grading.gradebook import tables as t
from grading.gradebook.gradebook import Ids, ids_of, opened
from grading.handins.handin import answer_grade_id, ask_grade_id
from grading.handins.not_taken_in import refusals
from grading.report.questions_in_words import QuestionsInWords
from lessons.questions.judge import UNREADABLE

_AT_ONCE = 200  # apprentices whose answers are read together


@dataclass(frozen=True)
class Result:
    """One answer with its marks; `score` is the one that counts, by hand where a person changed it."""

    badge: str
    question: str
    tag: str
    score: float
    points: float
    text: str
    read: str
    means: str
    next: str
    by_hand: bool
    waits: bool
    comment: str
    extra: float = 0.0  # points that a person added; they are in `score` too

    @property
    def unread(self) -> bool:
        """Whether it is an answer that waits for a person, so that its nought is no mark."""
        return not self.by_hand and (self.tag == WRITTEN or (self.tag == UNREADABLE and self.waits))


@dataclass(frozen=True)
class ApprenticeResult:
    """All answers of one apprentice to one lesson; none if nothing usable was handed in."""

    badge: str
    results: tuple[Result, ...]
    remarks: tuple[str, ...] = ()
    marked: bool = True
    flagged: bool = False
    sha256: str = ""  # of the file that was marked
    given_out: str = ""  # the giving-out it was marked by
    handed_in: datetime | None = None

    @property
    def score(self) -> float:
        """The points earned."""
        return sum(result.score for result in self.results)

    @property
    def unread(self) -> bool:
        """Whether points are missing because an answer has not been read yet."""
        return any(result.unread for result in self.results)


def sheets(connection: Connection, lesson: str, waiting: bool = False) -> Iterator[ApprenticeResult]:
    """Give each apprentice's answers, in the order of badges; with `waiting`, where a person has to look."""
    ids = ids_of(connection, lesson)
    columns = (
        t.handin.c.badge,
        t.handin.c.marked,
        t.handin.c.remarks,
        t.handin.c.sha256,
        t.submission.c.timestamp,
        t.submitted_notebook.c.id.label("notebook"),
        t.marked_by.c.given_out,
    )
    marked_by = and_(t.marked_by.c.lesson == t.handin.c.lesson, t.marked_by.c.badge == t.handin.c.badge)
    submitted = and_(t.submission.c.student_id == t.handin.c.badge, t.submission.c.assignment_id == ids.assignment)
    joined = (
        t.handin.outerjoin(t.marked_by, marked_by)
        .outerjoin(t.submission, submitted)
        .outerjoin(t.submitted_notebook, t.submitted_notebook.c.assignment_id == t.submission.c.id)
    )
    wanted = select(*columns, t.submitted_notebook.c.flagged).select_from(joined).where(t.handin.c.lesson == lesson)
    if waiting:
        to_read = exists().where(t.grade.c.notebook_id == t.submitted_notebook.c.id, t.grade.c.needs_manual_grade)
        wanted = wanted.where(or_(not_(t.handin.c.marked), t.submitted_notebook.c.flagged, to_read))
    rows = connection.execute(wanted.order_by(t.handin.c.badge)).yield_per(_AT_ONCE)
    for some in rows.partitions(_AT_ONCE):
        yield from _of_rows(connection, ids, lesson, some)


def _of_rows(connection: Connection, ids: Ids, lesson: str, rows: Sequence[Any]) -> Iterator[ApprenticeResult]:
    """Give the answers of some apprentices, with three looks into the gradebook for all of them."""
    answers = defaultdict[str, list[Any]](list)
    of_these = (t.answer.c.lesson == lesson) & t.answer.c.badge.in_([row.badge for row in rows])
    for answer in connection.execute(select(t.answer).where(of_these).order_by(t.answer.c.question)):
        answers[answer.badge].append(answer)
    notebooks = [row.notebook for row in rows if row.notebook]
    # A written answer has a cell of marks and a cell of comments under one name: they are told apart by cell.
    names = {cell: name for kind in (ids.grades, ids.comments) for name, cell in kind.items()}
    found = []
    for table in (t.grade, t.comment):
        these = connection.execute(select(table).where(table.c.notebook_id.in_(notebooks)))
        found.append({(row.notebook_id, names.get(row.cell_id, "")): row for row in these})
    for row in rows:
        made = (_result(each, row.notebook, *found) for each in (answers[row.badge] if row.notebook else ()))
        when = row.timestamp.replace(tzinfo=UTC) if row.timestamp else None
        looks = (bool(row.marked), bool(row.flagged), row.sha256, row.given_out or "", when)
        yield ApprenticeResult(row.badge, tuple(made), tuple(json.loads(row.remarks)), *looks)


def _result(answer: Any, notebook: str, grades: Mapping[Any, Any], comments: Mapping[Any, Any]) -> Result:
    asking, typed = (notebook, ask_grade_id(answer.question)), (notebook, answer_grade_id(answer.question))
    grade, said = grades.get(asking) or grades.get(typed), comments.get(typed)
    by_hand = grade is not None and grade.manual_score is not None
    score = answer.score if grade is None else (grade.manual_score if by_hand else grade.auto_score or 0.0)
    extra = (grade.extra_credit or 0.0) if grade is not None else 0.0
    if answer.tag == WITHDRAWN:  # whatever a person gave for it before
        by_hand, score, extra = False, answer.score, 0.0
    return Result(
        answer.badge, answer.question, answer.tag, score + extra, answer.points, answer.text, answer.read, answer.means,
        answer.next, by_hand, bool(grade is not None and grade.needs_manual_grade),
        (said.manual_comment or "") if said is not None else "", extra,
    )  # fmt: skip


def needs_a_person(course: Course, only: str = "") -> Iterator[str]:
    """Give a sentence for everything that waits for a person, or for what has to do with one lesson only."""
    for sentence in refusals(course):
        yield f"Not taken in: {sentence}."
    with opened(course) as connection:
        for lesson in [only] if only else course.lessons():
            words = questions_in_words(course, lesson)
            for sheet in sheets(connection, lesson, waiting=True):
                yield from waits_in(course, lesson, sheet, words)


def waits_in(course: Course, lesson: str, sheet: ApprenticeResult, words: QuestionsInWords) -> Iterator[str]:
    """Give a sentence for everything in an apprentice's answers that waits for a person."""
    person = course.roster.get(sheet.badge)
    who = f"{sheet.badge} {person.name if person else ''}".strip() + f", {lesson}"
    remarks = words.said("; ".join(dict.fromkeys(sheet.remarks)))
    if not sheet.marked:
        yield f"Not marked: {who}: {remarks}."
    elif sheet.flagged:
        yield f"Look at: {who}: {remarks or 'you flagged it on the marking page'}."
    for result in sheet.results:
        if result.waits:
            yield f"Read: {who}, question {words.long(result.question)} {_waiting(result)}"


def questions_in_words(course: Course, lesson: str) -> QuestionsInWords:
    """Return the questions of a lesson in words, in the order of its work order."""
    return QuestionsInWords(given_out(course, lesson).latest.questions)


def _waiting(result: Result) -> str:
    text = " ".join(result.text.split())[:60]
    return result.read if f"“{text[:20]}" in result.read else f"“{text}”. {result.read}"
