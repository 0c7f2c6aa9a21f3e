"""Writes one hand-in's marks into the gradebook, all of them or none."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import Any
from uuid import uuid4

from sqlalchemy import Connection, bindparam, delete, insert, not_, select, update

from grading.given_out.judged_answers import WITHDRAWN, WRITTEN, Mark
from grading.gradebook import tables as t
from grading.gradebook.gradebook import Ids
from grading.handins.handin import answer_grade_id, ask_grade_id


@dataclass(frozen=True)
class Outcome:
    """What came of one hand-in; no marks if it could not be marked."""

    lesson: str
    badge: str
    name: str
    sha256: str
    when: datetime | None
    marks: Sequence[Mark]
    remarks: Sequence[str]
    given_out: str = ""  # the giving-out that was marked by


# Built once: building a statement anew for each hand-in takes longer than running it.
_THIS_HANDIN = (t.handin.c.lesson == bindparam("of")) & (t.handin.c.badge == bindparam("by"))
_THESE_ANSWERS = (t.answer.c.lesson == bindparam("of")) & (t.answer.c.badge == bindparam("by"))
_DEALT_WITH = select(t.handin.c.badge, t.handin.c.sha256, t.handin.c.remarks).where(
    t.handin.c.lesson == bindparam("of")
)
_FORGET_HANDIN, _FORGET_ANSWERS = delete(t.handin).where(_THIS_HANDIN), delete(t.answer).where(_THESE_ANSWERS)
_TEXTS = select(t.answer.c.question, t.answer.c.text).where(_THESE_ANSWERS)
_SCORES = select(t.answer.c.question, t.answer.c.score).where(_THESE_ANSWERS)
_THIS_MARKING = (t.marked_by.c.lesson == bindparam("of")) & (t.marked_by.c.badge == bindparam("by"))
_FORGET_MARKING = delete(t.marked_by).where(_THIS_MARKING)
_SUBMITTED = (
    select(t.submission.c.student_id, t.submission.c.id, t.submitted_notebook.c.id)
    .select_from(
        t.submission.outerjoin(t.submitted_notebook, t.submitted_notebook.c.assignment_id == t.submission.c.id)
    )
    .where(t.submission.c.assignment_id == bindparam("of"))
)
_STAMP = update(t.submission).where(t.submission.c.id == bindparam("this")).values(timestamp=bindparam("stamp"))
_FLAG = update(t.submitted_notebook).where(t.submitted_notebook.c.id == bindparam("this")).values(flagged=True)
_GRADES = select(t.grade).where(t.grade.c.notebook_id == bindparam("this"))
_COMMENTS = select(t.comment.c.cell_id, t.comment.c.id).where(t.comment.c.notebook_id == bindparam("this"))
_REGRADE = (
    update(t.grade)
    .where(t.grade.c.id == bindparam("this"))
    .values(auto_score=bindparam("score"), needs_manual_grade=bindparam("waits"))
)
_NEW_ANSWER = insert(t.answer)
_NEW_MARKED_BY = insert(t.marked_by)
_NEW_HANDIN = insert(t.handin)
_NEW_NOTEBOOK = insert(t.submitted_notebook)
_NEW_STUDENT = insert(t.student)
_NEW_SUBMISSION = insert(t.submission)
_NEW_GRADE = insert(t.grade)
_NEW_COMMENT = insert(t.comment)
_COMMENT_ANEW = update(t.comment).where(t.comment.c.id == bindparam("this")).values(auto_comment=bindparam("said"))


@dataclass
class Known:
    """What the gradebook knows of a lesson, asked once for the whole class and kept up while it is marked."""

    handins: dict[str, tuple[str, str]]  # badge -> checksum of the hand-in last dealt with, what was remarked
    submissions: dict[str, tuple[str, str | None]]  # badge -> its submission, its notebook
    students: set[str]

    def dealt_with(self, badge: str) -> tuple[str, list[str]]:
        """Return the checksum of the hand-in last dealt with and what was remarked, or nothing."""
        sha256, remarks = self.handins.get(badge, ("", "[]"))
        return sha256, json.loads(remarks)


def what_is_known(connection: Connection, ids: Ids, lesson: str) -> Known:
    """Return what the gradebook knows of a lesson before it is marked."""
    handins = {row.badge: (row.sha256, row.remarks) for row in connection.execute(_DEALT_WITH, {"of": lesson})}
    submitted = connection.execute(_SUBMITTED, {"of": ids.assignment})
    submissions = {badge: (submission, notebook) for badge, submission, notebook in submitted}
    known = Known(handins, submissions, set(connection.execute(select(t.student.c.id)).scalars()))
    connection.rollback()  # ends the look, so that nothing is held while files are read
    return known


def scores_before(connection: Connection, lesson: str, badge: str) -> dict[str, float]:
    """Return the points that the program gave last, by question."""
    return {row.question: row.score for row in connection.execute(_SCORES, {"of": lesson, "by": badge})}


def save(connection: Connection, ids: Ids, known: Known, outcome: Outcome) -> None:
    """Write one hand-in, in one transaction; without marks, those from an earlier hand-in stay."""
    before = outcome.badge in known.handins or outcome.badge in known.submissions
    if outcome.marks:
        notebook, there = _submitted_notebook(connection, ids, known, outcome)
        _put_grades(connection, ids, notebook, there, outcome)
        _put_comments(connection, ids, notebook, there, outcome.marks)
        if before:
            connection.execute(_FORGET_ANSWERS, _this(outcome))
            connection.execute(_FORGET_MARKING, _this(outcome))
        connection.execute(_NEW_ANSWER, [_answer_row(outcome, mark) for mark in outcome.marks])
        marking = {"lesson": outcome.lesson, "badge": outcome.badge, "given_out": outcome.given_out}
        connection.execute(_NEW_MARKED_BY, marking)
    if before:
        connection.execute(_FORGET_HANDIN, _this(outcome))
    row: dict[str, object] = {"lesson": outcome.lesson, "badge": outcome.badge, "sha256": outcome.sha256}
    row |= {"marked": bool(outcome.marks), "remarks": json.dumps(list(outcome.remarks))}
    connection.execute(_NEW_HANDIN, row)
    connection.commit()
    known.handins[outcome.badge] = (outcome.sha256, str(row["remarks"]))


def forget_gone(connection: Connection, lesson: str, badges: Sequence[str]) -> None:
    """Take those off the list who could not be marked and whose hand-in was taken away since."""
    unmarked = select(t.handin.c.badge).where(t.handin.c.lesson == lesson, not_(t.handin.c.marked))
    for badge in set(connection.execute(unmarked).scalars()) - set(badges):
        connection.execute(_FORGET_HANDIN, {"of": lesson, "by": badge})
    connection.commit()


def _this(outcome: Outcome) -> dict[str, str]:
    return {"of": outcome.lesson, "by": outcome.badge}


def _answer_row(outcome: Outcome, mark: Mark) -> dict[str, Any]:
    reply = mark.reply
    row: dict[str, Any] = {"lesson": outcome.lesson, "badge": outcome.badge, "question": mark.question}
    row |= {"tag": reply.tag, "score": mark.score, "points": mark.points, "text": mark.text}
    return row | {"read": reply.read, "means": reply.means, "next": reply.next}


def _submitted_notebook(connection: Connection, ids: Ids, known: Known, outcome: Outcome) -> tuple[str, bool]:
    """Return the submitted notebook's id and whether it was known; make it, with what it hangs on, if not."""
    stamp = outcome.when.astimezone(UTC).replace(tzinfo=None) if outcome.when else None
    flagged = bool(outcome.remarks)
    found = known.submissions.get(outcome.badge)
    if found:
        connection.execute(_STAMP, {"this": found[0], "stamp": stamp})
    if found and found[1]:
        if flagged:
            connection.execute(_FLAG, {"this": found[1]})
        return found[1], True
    submission = found[0] if found else _new_submission(connection, ids, known, outcome, stamp)
    row = {"id": uuid4().hex, "assignment_id": submission, "notebook_id": ids.notebook, "flagged": flagged}
    connection.execute(_NEW_NOTEBOOK, row)
    return str(row["id"]), False


def _new_submission(connection: Connection, ids: Ids, known: Known, outcome: Outcome, stamp: datetime | None) -> str:
    if outcome.badge not in known.students:
        first, _, last = outcome.name.rpartition(" ")
        connection.execute(_NEW_STUDENT, {"id": outcome.badge, "first_name": first, "last_name": last})
    made = uuid4().hex
    row = {"id": made, "assignment_id": ids.assignment, "student_id": outcome.badge, "timestamp": stamp}
    connection.execute(_NEW_SUBMISSION, row)
    return made


def _put_grades(connection: Connection, ids: Ids, notebook: str, known: bool, outcome: Outcome) -> None:
    """Write the points; a mark changed by hand stays, and asks for a look if answer or mark changed."""
    old, texts = {}, {}
    if known:
        old = {row.cell_id: row for row in connection.execute(_GRADES, {"this": notebook})}
        texts = {row.question: row.text for row in connection.execute(_TEXTS, _this(outcome))}
    fresh, again = [], []
    for mark in outcome.marks:
        cell = ids.grades.get(ask_grade_id(mark.question)) or ids.grades.get(answer_grade_id(mark.question))
        score = None if mark.reply.tag == WRITTEN else mark.score
        if cell in old:
            again.append({"this": old[cell].id, "score": score, "waits": _waits(mark, score, old[cell], texts)})
        else:
            row = {"id": uuid4().hex, "notebook_id": notebook, "cell_id": cell}
            fresh.append({**row, "auto_score": score, "needs_manual_grade": mark.waits})
    for statement, rows in ((_NEW_GRADE, fresh), (_REGRADE, again)):
        if rows:
            connection.execute(statement, rows)


def _waits(mark: Mark, score: float | None, before: Any, texts: Mapping[str, str]) -> bool:
    if before.manual_score is None or mark.reply.tag == WITHDRAWN:
        return mark.waits
    changed = before.auto_score != score or texts.get(mark.question, mark.text) != mark.text
    return bool(before.needs_manual_grade or changed)


def _put_comments(connection: Connection, ids: Ids, notebook: str, known: bool, marks: Sequence[Mark]) -> None:
    """Write the replies where the formgrader shows comments; those written by hand stand before them."""
    old = {}
    if known:
        old = {row.cell_id: row.id for row in connection.execute(_COMMENTS, {"this": notebook})}
    fresh, again = [], []
    for mark in marks:
        cell, said = ids.comments.get(answer_grade_id(mark.question)), mark.reply.text
        if cell in old:
            again.append({"this": old[cell], "said": said})
        elif cell:
            fresh.append({"id": uuid4().hex, "notebook_id": notebook, "cell_id": cell, "auto_comment": said})
    for statement, rows in ((_NEW_COMMENT, fresh), (_COMMENT_ANEW, again)):
        if rows:
            connection.execute(statement, rows)
