"""Has nbgrader's own autograde mark a throw-away copy of the hand-ins, and says where its marks differ from ours."""

from __future__ import annotations

import contextlib
import json
import shutil
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from sqlalchemy import select

from grading.course.course import SETTINGS, Course, CourseError, write_safely
from grading.course.folder_texts import NBGRADER_SETTINGS
from grading.course.moves import MOVES
from grading.given_out.decisions import FILE as DECISIONS
from grading.given_out.given_out import SOURCE, folder_of, given_out
from grading.giving_out.at_work import at_work
from grading.giving_out.building import generate
from grading.gradebook import tables as t
from grading.gradebook.gradebook import ids_of, opened
from grading.handins.files import read_plain
from grading.handins.handin import UnusableError
from grading.handins.received import badges_of
from grading.marking.autograde_copy import autograde
from lessons.units.readout import counted

_BEFORE = (
    "{lesson}: nbgrader now marks {count} in its own way, in a throw-away copy outside this course folder. "
    "It runs the lesson's own cells there, with the answers as text. Code that was added to a hand-in is not run. "
    "The copy has none of your marks, and nothing is written back. This takes a few seconds for each."
)
Marks = dict[tuple[str, str], float | None]  # badge, grade id -> points


def compare(course: Course, lesson: str, sample: int, say: Callable[[str], None]) -> list[str] | None:
    """Return a sentence for each cell that nbgrader marks differently, or None where nothing is marked yet.

    A sample of 0 takes all hand-ins.
    """
    with tempfile.TemporaryDirectory(prefix="compare-") as folder:
        with at_work(course, "compare", say):
            ours = marks_of(course, lesson)
            marked = sorted({badge for badge, _ in ours} & set(badges_of(course, lesson)))
            badges = marked[:: max(1, len(marked) // sample)][:sample] if sample else marked
            if not badges:
                say(f"{lesson}: nothing is marked yet, so there is nothing to compare.")
                return None
            say(_BEFORE.format(lesson=lesson, count=counted(len(badges), "hand-in")))
            copy = copy_course(course, lesson, badges, Path(folder).resolve())
        started = time.monotonic()
        try:
            autograde(copy, lesson)
        except CourseError as problem:  # it goes on with the others; those it left out show as "no entry"
            say(f"nbgrader stopped at some of the hand-ins. {str(problem)[:2000]}")
        say(f"{lesson}: nbgrader took {time.monotonic() - started:.1f} s.")
        theirs = marks_of(copy, lesson)
    mine = {key: score for key, score in ours.items() if key[0] in badges}
    return list(differences(lesson, mine, theirs))


def copy_course(course: Course, lesson: str, badges: list[str], root: Path) -> Course:
    """Make a course folder of its own with these hand-ins and an empty gradebook.

    Its settings are those of this program, whatever the course's own file says: they keep what was handed in from
    being run. Of a hand-in's folder only the notebook comes along.
    """
    write_safely(root / "nbgrader_config.py", NBGRADER_SETTINGS)
    write_safely(root / SETTINGS, '{"gradebook": ""}')
    for name in ("roster.csv", MOVES, DECISIONS):
        with contextlib.suppress(FileNotFoundError):
            shutil.copy(course.root / name, root / name)
    shutil.copytree(course.root / "lessons" / lesson, root / "lessons" / lesson)
    copy = Course(root)
    for badge in badges:
        with contextlib.suppress(UnusableError):  # it then has no entry in the copy, which is told as a difference
            write_safely(copy.submitted(badge, lesson), read_plain(course.submitted(badge, lesson)), lasting=False)
    # The keys as they were given out, by which the marks are to be: asked for beside the hand-in, see oracle.
    shutil.copytree(folder_of(course, lesson), folder_of(copy, lesson))
    given = given_out(course, lesson).latest.folder / SOURCE
    if given.exists():  # what was changed in source/ since did not go out yet
        shutil.copy(given, copy.source(lesson))
    _set_points(copy, lesson)
    generate(copy, lesson)
    return copy


def _set_points(copy: Course, lesson: str) -> None:
    """Write the points that count now into the notebook: nbgrader gives no more than it finds there."""
    path, most = copy.source(lesson), given_out(copy, lesson).latest.most_points
    notebook = json.loads(path.read_text(encoding="utf-8"))
    for cell in notebook["cells"]:
        about = cell["metadata"].get("nbgrader") or {}
        if "points" in about:
            about["points"] = most.get(about["grade_id"], about["points"])
    write_safely(path, json.dumps(notebook), lasting=False)


def marks_of(course: Course, lesson: str) -> Marks:
    """Return the points in a gradebook as they were given by program, cell by cell."""
    with opened(course) as connection:
        ids = ids_of(connection, lesson)
        names = {cell: name for name, cell in ids.grades.items()}
        joined = t.grade.join(t.submitted_notebook, t.submitted_notebook.c.id == t.grade.c.notebook_id).join(
            t.submission, t.submission.c.id == t.submitted_notebook.c.assignment_id
        )
        columns = select(t.submission.c.student_id, t.grade.c.cell_id, t.grade.c.auto_score)
        rows = connection.execute(columns.select_from(joined).where(t.submission.c.assignment_id == ids.assignment))
        return {(badge, names[cell]): score for badge, cell, score in rows}


def differences(lesson: str, ours: Marks, theirs: Marks) -> Iterator[str]:
    """Give a sentence for each cell whose points differ, or that only one side has."""
    for key in sorted(ours.keys() | theirs.keys()):
        mine, other = ours.get(key, "no entry"), theirs.get(key, "no entry")
        if mine != other:
            yield f"{lesson}, badge {key[0]}, cell {key[1]}: here {mine}, nbgrader {other}"
