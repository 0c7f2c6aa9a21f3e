"""Writes one hand-in's marks into the gradebook, all of them or none."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from typing import Any
from uuid import uuid4

from sqlalchemy import Connection, delete, insert, select, update

from grading import tables as t
from grading.gradebook import Ids
from grading.handin import answer_grade_id, ask_grade_id
from grading.marking import WRITTEN, Mark


def already_marked(connection: Connection, lesson: str, badge: str) -> str:
    """Return the checksum of the hand-in last dealt with, or nothing."""
    where = (t.handin.c.lesson == lesson) & (t.handin.c.badge == badge)
    found = connection.execute(select(t.handin.c.sha256).where(where)).scalar()
    connection.rollback()  # ends the look, so that nothing is held while the file is read
    return found or ""


def save_unmarked(
    connection: Connection, lesson: str, badge: str, sha256: str, remarks: Sequence[str]
) -> None:
    """Write down that a hand-in could not be marked, and why; earlier marks of this badge stay."""
    _put_handin(connection, lesson, badge, sha256, False, remarks)
    connection.commit()


def save(
    connection: Connection,
    ids: Ids,
    lesson: str,
    person: tuple[str, str],
    sha256: str,
    when: datetime | None,
    marks: Sequence[Mark],
    remarks: Sequence[str],
) -> None:
    """Write one hand-in's marks, all of them or none: one transaction."""
    badge, name = person
    notebook_id = _submitted_notebook(connection, ids, badge, name, when, flagged=bool(remarks))
    _put_grades(connection, ids, notebook_id, marks, _texts(connection, lesson, badge))
    _put_comments(connection, ids, notebook_id, marks)
    where = (t.answer.c.lesson == lesson) & (t.answer.c.badge == badge)
    connection.execute(delete(t.answer).where(where))
    connection.execute(insert(t.answer), [_answer_row(lesson, badge, mark) for mark in marks])
    _put_handin(connection, lesson, badge, sha256, True, remarks)
    connection.commit()


def _answer_row(lesson: str, badge: str, mark: Mark) -> dict[str, Any]:
    reply = mark.reply
    row = {"lesson": lesson, "badge": badge, "question": mark.question, "tag": reply.tag, "text": mark.text}
    return {
        **row,
        "score": mark.score,
        "points": mark.points,
        "read": reply.read,
        "means": reply.means,
        "next": reply.next,
    }


def _put_handin(
    connection: Connection, lesson: str, badge: str, sha256: str, marked: bool, remarks: Sequence[str]
) -> None:
    where = (t.handin.c.lesson == lesson) & (t.handin.c.badge == badge)
    connection.execute(delete(t.handin).where(where))
    row = {
        "lesson": lesson,
        "badge": badge,
        "sha256": sha256,
        "marked": marked,
        "remarks": json.dumps(list(remarks)),
    }
    connection.execute(insert(t.handin).values(row))


def _submitted_notebook(
    connection: Connection, ids: Ids, badge: str, name: str, when: datetime | None, flagged: bool
) -> str:
    """Return the submitted notebook's id; make it, with whatever it hangs on, if it is new."""
    stamp = when.astimezone(UTC).replace(tzinfo=None) if when else None
    of_badge = (t.submission.c.assignment_id == ids.assignment) & (t.submission.c.student_id == badge)
    joined = t.submission.outerjoin(
        t.submitted_notebook, t.submitted_notebook.c.assignment_id == t.submission.c.id
    )
    found = connection.execute(
        select(t.submission.c.id, t.submitted_notebook.c.id).select_from(joined).where(of_badge)
    ).first()
    if found:
        connection.execute(update(t.submission).where(t.submission.c.id == found[0]).values(timestamp=stamp))
    if found and found[1]:
        if flagged:
            connection.execute(
                update(t.submitted_notebook).where(t.submitted_notebook.c.id == found[1]).values(flagged=True)
            )
        return str(found[1])
    submission_id = found[0] if found else _new_submission(connection, ids, badge, name, stamp)
    row = {"id": uuid4().hex, "assignment_id": submission_id, "notebook_id": ids.notebook, "flagged": flagged}
    connection.execute(insert(t.submitted_notebook).values(row))
    return row["id"]


def _new_submission(connection: Connection, ids: Ids, badge: str, name: str, stamp: datetime | None) -> str:
    if not connection.execute(select(t.student.c.id).where(t.student.c.id == badge)).first():
        first, _, last = name.rpartition(" ")
        connection.execute(insert(t.student).values(id=badge, first_name=first, last_name=last))
    row = {"id": uuid4().hex, "assignment_id": ids.assignment, "student_id": badge, "timestamp": stamp}
    connection.execute(insert(t.submission).values(row))
    return row["id"]


def _texts(connection: Connection, lesson: str, badge: str) -> dict[str, str]:
    where = (t.answer.c.lesson == lesson) & (t.answer.c.badge == badge)
    return {
        row.question: row.text
        for row in connection.execute(select(t.answer.c.question, t.answer.c.text).where(where))
    }


def _put_grades(
    connection: Connection, ids: Ids, notebook_id: str, marks: Iterable[Mark], texts: Mapping[str, str]
) -> None:
    """Write the points; a mark changed by hand stays, and asks for a look if answer or mark changed."""
    columns = (t.grade.c.cell_id, t.grade.c.id, t.grade.c.auto_score, t.grade.c.manual_score)
    rows = connection.execute(
        select(*columns, t.grade.c.needs_manual_grade).where(t.grade.c.notebook_id == notebook_id)
    )
    old = {row.cell_id: row for row in rows}
    fresh = []
    for mark in marks:
        written = mark.reply.tag == WRITTEN
        cell = ids.grades.get(ask_grade_id(mark.question)) or ids.grades.get(answer_grade_id(mark.question))
        score = None if written else mark.score
        before = old.get(cell)
        if before is None:
            fresh.append(_grade_row(notebook_id, cell, score, mark.waits))
            continue
        changed = before.auto_score != score or texts.get(mark.question, mark.text) != mark.text
        waits = mark.waits if before.manual_score is None else before.needs_manual_grade or changed
        values = {"auto_score": score, "needs_manual_grade": waits}
        connection.execute(update(t.grade).where(t.grade.c.id == before.id).values(values))
    if fresh:
        connection.execute(insert(t.grade), fresh)


def _grade_row(notebook_id: str, cell: str | None, score: float | None, waits: bool) -> dict[str, Any]:
    row = {"id": uuid4().hex, "notebook_id": notebook_id, "cell_id": cell}
    return {**row, "auto_score": score, "needs_manual_grade": waits}


def _put_comments(connection: Connection, ids: Ids, notebook_id: str, marks: Iterable[Mark]) -> None:
    rows = connection.execute(
        select(t.comment.c.cell_id, t.comment.c.id).where(t.comment.c.notebook_id == notebook_id)
    )
    old = {row.cell_id: row.id for row in rows}
    fresh = []
    for mark in marks:
        cell, text = ids.comments.get(answer_grade_id(mark.question)), mark.reply.text
        if cell in old:
            connection.execute(update(t.comment).where(t.comment.c.id == old[cell]).values(auto_comment=text))
        elif cell:
            fresh.append(
                {"id": uuid4().hex, "notebook_id": notebook_id, "cell_id": cell, "auto_comment": text}
            )
    if fresh:
        connection.execute(insert(t.comment), fresh)
