"""Writes marks into the gradebook: of a hand-in all of them or none, and some hand-ins at once."""

from __future__ import annotations

import json
import os
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from typing import Any

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
    the_same: bool = False  # as was marked last time


# Built once: building a statement anew for each hand-in takes longer than running it.
_THIS_HANDIN = (t.handin.c.lesson == bindparam("of")) & (t.handin.c.badge == bindparam("by"))
_THESE_ANSWERS = (t.answer.c.lesson == bindparam("of")) & (t.answer.c.badge == bindparam("by"))
_DEALT_WITH = select(t.handin.c.badge, t.handin.c.sha256, t.handin.c.remarks).where(
    t.handin.c.lesson == bindparam("of")
)
_FORGET_HANDIN, _FORGET_ANSWERS = delete(t.handin).where(_THIS_HANDIN), delete(t.answer).where(_THESE_ANSWERS)
_BEFORE = select(t.answer.c.badge, t.answer.c.question, t.answer.c.score, t.answer.c.text).where(
    (t.answer.c.lesson == bindparam("of")) & t.answer.c.badge.in_(bindparam("these", expanding=True))
)
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
_GRADES = select(t.grade).where(t.grade.c.notebook_id.in_(bindparam("these", expanding=True)))
_COMMENTS = select(t.comment.c.notebook_id, t.comment.c.cell_id, t.comment.c.id).where(
    t.comment.c.notebook_id.in_(bindparam("these", expanding=True))
)
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
Before = Mapping[str, Mapping[str, tuple[float, str]]]  # badge -> question -> points and answer of last time


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

    def of_earlier(self, badge: str) -> bool:
        """Tell whether the gradebook has something of a badge already."""
        return badge in self.handins or badge in self.submissions


def what_is_known(connection: Connection, ids: Ids, lesson: str) -> Known:
    """Return what the gradebook knows of a lesson before it is marked."""
    handins = {row.badge: (row.sha256, row.remarks) for row in connection.execute(_DEALT_WITH, {"of": lesson})}
    submitted = connection.execute(_SUBMITTED, {"of": ids.assignment})
    submissions = {badge: (submission, notebook) for badge, submission, notebook in submitted}
    known = Known(handins, submissions, set(connection.execute(select(t.student.c.id)).scalars()))
    connection.rollback()  # ends the look, so that nothing is held while files are read
    return known


def answers_before(connection: Connection, known: Known, lesson: str, badges: Iterable[str]) -> Before:
    """Return the points that the program gave last, and what for."""
    found = defaultdict[str, dict[str, tuple[float, str]]](dict)
    these = [badge for badge in badges if known.of_earlier(badge)]
    for row in connection.execute(_BEFORE, {"of": lesson, "these": these}) if these else ():
        found[row.badge][row.question] = row.score, row.text
    return found


def save(connection: Connection, ids: Ids, known: Known, outcomes: Sequence[Outcome], before: Before) -> None:
    """Write some hand-ins, in one transaction; of those without marks, the marks of an earlier hand-in stay."""
    earlier = [each for each in outcomes if known.of_earlier(each.badge)]
    marked = [each for each in outcomes if each.marks]
    rows = _Rows(ids, known, _written_before(connection, known, marked), before)
    for outcome in marked:
        rows.add(outcome)
    _run(connection, _FORGET_ANSWERS, [_this(each) for each in earlier if each.marks])
    _run(connection, _FORGET_MARKING, [_this(each) for each in earlier if each.marks])
    _run(connection, _FORGET_HANDIN, [_this(each) for each in earlier])
    for statement, some in rows.by_statement.items():
        _run(connection, statement, some)
    dealt_with = [_handin_row(each) for each in outcomes]
    _run(connection, _NEW_HANDIN, dealt_with)
    connection.commit()
    known.handins.update((str(row["badge"]), (str(row["sha256"]), str(row["remarks"]))) for row in dealt_with)


def _run(connection: Connection, statement: Any, rows: Sequence[Mapping[str, Any]]) -> None:
    if rows:
        connection.execute(statement, rows)


def forget_gone(connection: Connection, lesson: str, badges: Sequence[str]) -> None:
    """Take those off the list who could not be marked and whose hand-in was taken away since."""
    unmarked = select(t.handin.c.badge).where(t.handin.c.lesson == lesson, not_(t.handin.c.marked))
    for badge in set(connection.execute(unmarked).scalars()) - set(badges):
        connection.execute(_FORGET_HANDIN, {"of": lesson, "by": badge})
    connection.commit()


def _this(outcome: Outcome) -> dict[str, str]:
    return {"of": outcome.lesson, "by": outcome.badge}


def _handin_row(outcome: Outcome) -> dict[str, object]:
    row: dict[str, object] = {"lesson": outcome.lesson, "badge": outcome.badge, "sha256": outcome.sha256}
    return row | {"marked": bool(outcome.marks), "remarks": json.dumps(list(outcome.remarks))}


def answer_row(outcome: Outcome, mark: Mark) -> dict[str, Any]:
    """Return what is kept of one answer."""
    reply = mark.reply
    row: dict[str, Any] = {"lesson": outcome.lesson, "badge": outcome.badge, "question": mark.question}
    row |= {"tag": reply.tag, "score": mark.score, "points": mark.points, "text": mark.text}
    return row | {"read": reply.read, "means": reply.means, "next": reply.next}


@dataclass(frozen=True)
class _Written:
    """Rows that some submitted notebooks have already, by notebook and cell."""

    grades: Mapping[tuple[str, str], Any]
    comments: Mapping[tuple[str, str], Any]


def _written_before(connection: Connection, known: Known, outcomes: Iterable[Outcome]) -> _Written:
    notebooks = [known.submissions.get(each.badge, ("", None))[1] for each in outcomes]
    these = {"these": [each for each in notebooks if each]}
    found = [connection.execute(each, these).all() if these["these"] else () for each in (_GRADES, _COMMENTS)]
    return _Written(*({(row.notebook_id, row.cell_id): row for row in rows} for rows in found))


@dataclass
class _Rows:
    """What is to be written for some hand-ins, in the order of the tables that hang on one another."""

    ids: Ids
    known: Known
    written: _Written
    before: Before
    by_statement: dict[Any, list[dict[str, Any]]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        order = (_NEW_STUDENT, _NEW_SUBMISSION, _STAMP, _NEW_NOTEBOOK, _FLAG, _NEW_GRADE, _REGRADE, _NEW_COMMENT)
        self.by_statement = {each: [] for each in (*order, _COMMENT_ANEW, _NEW_ANSWER, _NEW_MARKED_BY)}

    def add(self, outcome: Outcome) -> None:
        """Take one hand-in in."""
        notebook, marks = self._notebook(outcome), outcome.marks
        texts = {question: text for question, (_, text) in self.before.get(outcome.badge, {}).items()}
        for mark in marks:
            self._grade(notebook, mark, texts)
            self._comment(notebook, mark)
        self.by_statement[_NEW_ANSWER] += [answer_row(outcome, mark) for mark in marks]
        marking = {"lesson": outcome.lesson, "badge": outcome.badge, "given_out": outcome.given_out}
        self.by_statement[_NEW_MARKED_BY].append(marking)

    def _notebook(self, outcome: Outcome) -> str:
        """Return the submitted notebook's id; where there is none, it is made with what it hangs on."""
        stamp = outcome.when.astimezone(UTC).replace(tzinfo=None) if outcome.when else None
        submission, notebook = self.known.submissions.get(outcome.badge, ("", None))
        if submission:
            self.by_statement[_STAMP].append({"this": submission, "stamp": stamp})
        if notebook:
            if outcome.remarks:
                self.by_statement[_FLAG].append({"this": notebook})
            return notebook
        made = {"id": _new_id(), "assignment_id": submission or self._submission(outcome, stamp)}
        new = made | {"notebook_id": self.ids.notebook, "flagged": bool(outcome.remarks)}
        self.by_statement[_NEW_NOTEBOOK].append(new)
        return made["id"]

    def _submission(self, outcome: Outcome, stamp: datetime | None) -> str:
        if outcome.badge not in self.known.students:
            first, _, last = outcome.name.rpartition(" ")
            new = {"id": outcome.badge, "first_name": first, "last_name": last}
            self.by_statement[_NEW_STUDENT].append(new)
        made = {"id": _new_id(), "assignment_id": self.ids.assignment, "student_id": outcome.badge}
        self.by_statement[_NEW_SUBMISSION].append(made | {"timestamp": stamp})
        return made["id"]

    def _grade(self, notebook: str, mark: Mark, texts: Mapping[str, str]) -> None:
        """Write the points; a mark changed by hand stays, and asks for a look if answer or mark changed."""
        cell = self.ids.grades.get(ask_grade_id(mark.question)) or self.ids.grades.get(answer_grade_id(mark.question))
        score = None if mark.reply.tag == WRITTEN else mark.score
        old = self.written.grades.get((notebook, cell or ""))
        if old:
            row = {"this": old.id, "score": score, "waits": _waits(mark, score, old, texts)}
            self.by_statement[_REGRADE].append(row)
            return
        row = {"id": _new_id(), "notebook_id": notebook, "cell_id": cell}
        self.by_statement[_NEW_GRADE].append({**row, "auto_score": score, "needs_manual_grade": mark.waits})

    def _comment(self, notebook: str, mark: Mark) -> None:
        """Write the reply where the formgrader shows comments; those written by hand stand before it."""
        cell, said = self.ids.comments.get(answer_grade_id(mark.question)), mark.reply.text
        old = self.written.comments.get((notebook, cell or ""))
        if old:
            self.by_statement[_COMMENT_ANEW].append({"this": old.id, "said": said})
        elif cell:
            row = {"id": _new_id(), "notebook_id": notebook, "cell_id": cell, "auto_comment": said}
            self.by_statement[_NEW_COMMENT].append(row)


def _new_id() -> str:
    """Return a name as nbgrader gives its rows: 32 hexadecimal digits by chance."""
    return os.urandom(16).hex()


def _waits(mark: Mark, score: float | None, before: Any, texts: Mapping[str, str]) -> bool:
    if before.manual_score is None or mark.reply.tag == WITHDRAWN:
        return mark.waits
    changed = before.auto_score != score or texts.get(mark.question, mark.text) != mark.text
    return bool(before.needs_manual_grade or changed)
