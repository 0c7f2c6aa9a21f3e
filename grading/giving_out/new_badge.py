"""Gives an apprentice's marks, numbers and hand-ins to the new badge they have, all of it or, killed, once more."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import Connection, MetaData, Table, delete, insert, select, update

from grading.course import plain
from grading.course.course import Course, CourseError, write_safely
from grading.course.moves import MOVES, Move, moves_text
from grading.given_out.given_out import given_out
from grading.giving_out.at_work import at_work
from grading.gradebook import tables as t
from grading.gradebook.gradebook import opened

_OURS = (t.handin, t.marked_by, t.answer, t.due)


def change_badge(course: Course, was: str, now: str) -> list[str]:
    """Give everything of one badge to another; return the lessons in whose giving-out the old one is.

    Run twice it changes nothing more, so that what was cut short goes on.

    Raises
    ------
    CourseError
        If the class list does not say so, or the new badge has marks of its own.
    """
    with at_work(course, "badge"):
        lessons = [each for each in course.lessons() if was in given_out(course, each).latest.units]
        started = course.moves[-1:] and (course.moves[-1].was, course.moves[-1].now) == (was, now)
        if not started:
            _refuse_others(course, was, now, known=bool(lessons))
            moves = [*course.moves, Move(was, now, datetime.now(UTC).isoformat())]
            write_safely(course.root / MOVES, moves_text(moves))
        for folder in _folders(course, was):
            folder.rename(folder.with_name(now))
        with opened(course) as connection:
            _change_marks(connection, was, now)
    return lessons


def _refuse_others(course: Course, was: str, now: str, known: bool) -> None:
    if was in course.roster or now not in course.roster:
        raise CourseError(
            f"First write the new badge in roster.csv: it has to list {plain.line(now, 20)}, and no longer "
            f"{plain.line(was, 20)}. Then run this again. Nothing was changed."
        )
    if not known and not list(_folders(course, was)):
        raise CourseError(f"Nothing was given out to badge {plain.line(was, 20)}, and nothing came from it.")
    if list(_folders(course, now)):
        raise CourseError(f"Badge {now} has hand-ins of its own, and they would be mixed up. Nothing was changed.")


def _folders(course: Course, badge: str) -> Iterator[Path]:
    """Give the folders that are named by a badge."""
    homes = [course.root / name for name in ("handed_in", "marked", "handed_back")]
    homes += (each for each in (course.root / "received").glob("*") if each.name != "not_taken_in")
    yield from (home / badge for home in homes if (home / badge).is_dir())


def _change_marks(connection: Connection, was: str, now: str) -> None:
    """Change the badge in the gradebook, in one transaction."""
    t.own.create_all(connection)
    if connection.dialect.has_table(connection, "student"):
        student = Table("student", MetaData(), autoload_with=connection)  # with what other programs keep there
        row = connection.execute(select(student).where(student.c.id == was)).mappings().first()
        known = connection.execute(select(student.c.id).where(student.c.id == now)).first()
        if row and not known:
            connection.execute(insert(student), {**row, "id": now})
        submitted = update(t.submission).where(t.submission.c.student_id == was).values(student_id=now)
        connection.execute(submitted)
        connection.execute(delete(student).where(student.c.id == was))
    for table in _OURS:
        connection.execute(update(table).where(table.c.badge == was).values(badge=now))
    connection.commit()
