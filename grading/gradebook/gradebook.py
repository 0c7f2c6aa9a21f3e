"""Reaches nbgrader's gradebook: SQLite, or any database that SQLAlchemy reaches by URL."""

from __future__ import annotations

import contextlib
import functools
import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import Connection, Engine, create_engine, delete, insert, inspect, select, text, update
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError

from grading.course.course import Course, CourseError
from grading.gradebook import tables as t
from grading.handins.which_counts import Due

_LOOKED_UP = (("grade", "notebook_id"), ("comment", "notebook_id"), ("submitted_notebook", "assignment_id"))
LOCK_WAIT = 15  # seconds to wait for another program that is writing


@dataclass(frozen=True)
class Ids:
    """The gradebook's own names for one lesson."""

    assignment: str
    notebook: str
    grades: Mapping[str, str]  # grade id -> cell
    comments: Mapping[str, str]


@contextmanager
def opened(course: Course) -> Iterator[Connection]:
    """Connect to the gradebook; what is not committed is undone.

    Raises
    ------
    CourseError
        If it cannot be reached, or another program keeps it locked.
    """
    try:
        engine = _engine(course.url)
        with engine.connect() as connection:
            yield connection
    except DBAPIError as problem:
        raise CourseError(_sentence(course, problem)) from problem


@contextmanager
def many_small_writes(connection: Connection) -> Iterator[None]:
    """Let SQLite take many transactions without waiting for the disk at each.

    With the write-ahead log a cut-off run loses no finished transaction, a power cut at most the last ones,
    which the next run does again. It is switched back at the end: the folder may lie on a network.
    """
    raw = connection.connection.driver_connection
    if connection.dialect.name != "sqlite" or raw is None:
        yield
        return
    connection.rollback()
    raw.execute("PRAGMA journal_mode=WAL")
    raw.execute("PRAGMA synchronous=NORMAL")
    try:
        yield
    finally:
        connection.rollback()
        raw.execute("PRAGMA synchronous=FULL")
        with contextlib.suppress(sqlite3.OperationalError):  # another program looks in at the moment
            raw.execute("PRAGMA journal_mode=DELETE")


@functools.cache
def _engine(url: str) -> Engine:
    waits = {"timeout": LOCK_WAIT} if url.startswith("sqlite") else {"connect_timeout": LOCK_WAIT}
    try:
        engine = create_engine(url, connect_args=waits)
    except (ArgumentError, NoSuchModuleError, ImportError) as problem:
        raise CourseError(f"The gradebook “{url.partition('@')[2] or url}” cannot be used: {problem}") from problem
    return engine


def _sentence(course: Course, problem: DBAPIError) -> str:
    said = str(problem.orig).strip().partition("\n")[0]
    if "locked" in said:
        return (
            "Another program is writing to the gradebook, perhaps the marking page in a browser. "
            "Nothing is lost. Close the other program and run the command again. It goes on where it stopped."
        )
    where = course.url.partition("@")[2] or course.url
    return f"The gradebook {where} cannot be used now ({said}). Nothing is lost. Run the command again later."


def ids_of(connection: Connection, lesson: str) -> Ids:
    """Return the gradebook's names for a lesson; makes our own tables where they are missing.

    Raises
    ------
    CourseError
        If the lesson was never given out.
    """
    found = None
    if inspect(connection).has_table("assignment"):
        _make_own(connection)
        named = select(t.assignment.c.id, t.notebook.c.id).join(
            t.notebook, t.notebook.c.assignment_id == t.assignment.c.id
        )
        found = connection.execute(named.where(t.assignment.c.name == lesson)).first()
    if not found:
        raise CourseError(f"Lesson {lesson} is not in the gradebook. Give it out first: give-out {lesson}")
    cells = select(t.base_cell.c.type, t.base_cell.c.name, t.base_cell.c.id).where(
        t.base_cell.c.notebook_id == found[1]
    )
    rows = connection.execute(cells).all()
    connection.commit()
    return Ids(
        found[0],
        found[1],
        {name: cell for kind, name, cell in rows if kind == "GradeCell"},
        {name: cell for kind, name, cell in rows if kind == "SolutionCell"},
    )


def _make_own(connection: Connection) -> None:
    """Make our own tables, and indexes by what is looked up: without them a class takes the square of its time."""
    t.own.create_all(connection)
    for table, column in _LOOKED_UP:
        connection.execute(text(f"CREATE INDEX IF NOT EXISTS lesson_{table}_{column} ON {table} ({column})"))


def dues_of(connection: Connection, lesson: str) -> Due:
    """Return when a lesson has to be handed in."""
    t.own.create_all(connection)
    due = connection.execute(select(t.assignment.c.duedate).where(t.assignment.c.name == lesson)).scalar()
    rows = connection.execute(select(t.due.c.badge, t.due.c.due).where(t.due.c.lesson == lesson))
    by_badge = {badge: time.replace(tzinfo=UTC) for badge, time in rows}
    connection.commit()
    return Due(due.replace(tzinfo=UTC) if due else None, by_badge)


def set_due(connection: Connection, lesson: str, due: datetime | None, badges: Sequence[str] = ()) -> None:
    """Set or clear when a lesson has to be handed in: for the class, or for some of it."""
    t.own.create_all(connection)
    stored = due.astimezone(UTC).replace(tzinfo=None) if due else None
    if not badges:
        connection.execute(update(t.assignment).where(t.assignment.c.name == lesson).values(duedate=stored))
    for badge in badges:
        connection.execute(delete(t.due).where(t.due.c.lesson == lesson, t.due.c.badge == badge))
        if stored:
            connection.execute(insert(t.due), {"lesson": lesson, "badge": badge, "due": stored})
    connection.commit()


def set_most_points(connection: Connection, ids: Ids, points: Mapping[str, float]) -> None:
    """Set how many points each marked cell may have; cells that the gradebook does not know are passed over."""
    for name, most in points.items():
        if name in ids.grades:
            cell = t.grade_cell.c.id == ids.grades[name]
            connection.execute(update(t.grade_cell).where(cell).values(max_score=most))
    connection.commit()
