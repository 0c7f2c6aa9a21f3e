"""The tables of the gradebook: nbgrader's, as far as they are used here, and three of our own."""

from __future__ import annotations

from sqlalchemy import Boolean, Column, DateTime, Float, MetaData, String, Table, Text

_nbgrader = MetaData()

# nbgrader makes these tables; the columns named here are those that this package reads or writes. Loading
# nbgrader's own classes would take two seconds, more than marking a class does.
assignment = Table("assignment", _nbgrader, Column("id", String), Column("name", String), Column("duedate", DateTime))
notebook = Table("notebook", _nbgrader, Column("id", String), Column("assignment_id", String))
base_cell = Table("base_cell", _nbgrader, *(Column(name, String) for name in ("id", "name", "notebook_id", "type")))
grade_cell = Table("grade_cells", _nbgrader, Column("id", String), Column("max_score", Float))
student = Table("student", _nbgrader, *(Column(name, String) for name in ("id", "first_name", "last_name")))
submission = Table(
    "submitted_assignment",
    _nbgrader,
    *(Column(name, String) for name in ("id", "assignment_id", "student_id")),
    Column("timestamp", DateTime),
)
submitted_notebook = Table(
    "submitted_notebook",
    _nbgrader,
    *(Column(name, String) for name in ("id", "assignment_id", "notebook_id")),
    Column("flagged", Boolean),
    Column("late_submission_penalty", Float),
)
grade = Table(
    "grade",
    _nbgrader,
    *(Column(name, String) for name in ("id", "notebook_id", "cell_id")),
    *(Column(name, Float) for name in ("auto_score", "manual_score", "extra_credit")),
    Column("needs_manual_grade", Boolean),
)
comment = Table(
    "comment",
    _nbgrader,
    *(Column(name, String) for name in ("id", "notebook_id", "cell_id")),
    *(Column(name, Text) for name in ("auto_comment", "manual_comment")),
)

own = MetaData()
handin = Table(
    "lesson_handin",
    own,
    Column("lesson", String(128), primary_key=True),
    Column("badge", String(128), primary_key=True),
    Column("sha256", String(64), nullable=False),
    Column("marked", Boolean, nullable=False),
    Column("remarks", Text, nullable=False),  # JSON: a list of sentences
)
marked_by = Table(
    "lesson_marked_by",
    own,
    *(Column(name, String(128), primary_key=True) for name in ("lesson", "badge")),
    Column("given_out", String(128), nullable=False),  # the giving-out whose numbers and keys were used
)
answer = Table(
    "lesson_answer",
    own,
    *(Column(name, String(128), primary_key=True) for name in ("lesson", "badge", "question")),
    Column("tag", String(128), nullable=False),
    Column("score", Float, nullable=False),
    Column("points", Float, nullable=False),
    *(Column(name, Text, nullable=False) for name in ("text", "read", "means", "next")),
)
due = Table(
    "lesson_due",
    own,
    *(Column(name, String(128), primary_key=True) for name in ("lesson", "badge")),
    Column("due", DateTime, nullable=False),  # UTC; another time than the class has
)
