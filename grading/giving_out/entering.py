"""Enters a lesson that goes out into nbgrader's gradebook: all of its cells in one transaction, or none."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import select

from grading.course.course import Course, CourseError
from grading.gradebook import tables as t
from grading.gradebook.gradebook import opened
from lessons.units.readout import counted

COURSE_ID = "default_course"  # as nbgrader_config.py has it
_MARKED, _TYPED, _KEPT = "GradeCell", "SolutionCell", "SourceCell"


def cells_of(notebook: Mapping[str, Any]) -> dict[tuple[str, str], dict[str, Any]]:
    """Return what nbgrader keeps of a released notebook, by kind and grade id."""
    found: dict[tuple[str, str], dict[str, Any]] = {}
    for cell in notebook["cells"]:
        about = cell["metadata"].get("nbgrader")
        if not about:
            continue
        name, kind = about["grade_id"], {"cell_type": cell["cell_type"]}
        if about.get("grade"):
            found[_MARKED, name] = kind | {"max_score": float(about["points"])}
        if about.get("solution"):
            found[_TYPED, name] = {}
        if about.get("grade") or about.get("solution") or about.get("locked"):
            source = {"locked": bool(about.get("locked")), "source": "".join(cell["source"])}
            found[_KEPT, name] = kind | source | {"checksum": about.get("checksum")}
    return found


def refuse_other_questions(course: Course, lesson: str, notebook: Mapping[str, Any], came_back: int) -> None:
    """Stop where hand-ins came back and other cells would be marked now: their marks would have no place.

    Raises
    ------
    CourseError
        With the questions that came or went.
    """
    if not came_back:
        return
    wanted = {key for key in cells_of(notebook) if key[0] != _KEPT}
    known = known_cells(course, lesson)
    if not known or known == wanted:
        return
    added, gone = _ids(wanted - known), _ids(known - wanted)
    changes = [f"{word} {', '.join(ids)}" for word, ids in (("new:", added), ("gone:", gone)) if ids]
    raise CourseError(
        f"{lesson} cannot be given out with other questions than before ({'; '.join(changes)}). "
        f"{counted(came_back, 'hand-in')} came back already, and the gradebook keeps one set of questions for each "
        "lesson. Nothing was changed: what was given out stays, and so do its marks and tables. Undo your change, or "
        "give the changed lesson out in a new course."
    )


def known_cells(course: Course, lesson: str) -> set[tuple[str, str]]:
    """Return the cells of a lesson that the gradebook marks or takes comments on; none if it does not know it."""
    with opened(course) as connection:
        if not connection.dialect.has_table(connection, "assignment"):
            return set()
        joined = t.base_cell.join(t.notebook, t.notebook.c.id == t.base_cell.c.notebook_id).join(
            t.assignment, t.assignment.c.id == t.notebook.c.assignment_id
        )
        columns = select(t.base_cell.c.type, t.base_cell.c.name).select_from(joined)
        return {(kind, name) for kind, name in connection.execute(columns.where(t.assignment.c.name == lesson))}


def _ids(cells: Iterable[tuple[str, str]]) -> list[str]:
    """Return the questions that cells belong to, as the instructor knows them."""
    return sorted({name.removesuffix("-answer").replace("-", ".") for _, name in cells})


def enter(course: Course, lesson: str, notebook: Mapping[str, Any], due: datetime | None) -> None:
    """Write a lesson into the gradebook; run twice it changes nothing more.

    Raises
    ------
    CourseError
        If the gradebook is out of reach or locked.
    """
    from nbgrader.api import Gradebook  # takes two seconds to load, which marking does not need

    # `opened` says in a sentence what is wrong with a gradebook; nbgrader's own makes the tables if there are none.
    with opened(course), Gradebook(course.url, COURSE_ID) as gradebook:
        try:
            _enter(gradebook.db, lesson, notebook, due)
            gradebook.db.commit()
        except BaseException:
            gradebook.db.rollback()
            raise


def _enter(session: Any, lesson: str, notebook: Mapping[str, Any], due: datetime | None) -> None:
    from nbgrader import api

    assignment = _one(session, api.Assignment, {"name": lesson}, {"course_id": COURSE_ID})
    if due:
        assignment.duedate = due.astimezone(UTC).replace(tzinfo=None)
    kernel = json.dumps(notebook["metadata"].get("kernelspec", {}))
    page = _one(session, api.Notebook, {"name": lesson, "assignment_id": assignment.id}, {})
    page.kernelspec = kernel
    kinds = {_MARKED: api.GradeCell, _TYPED: api.SolutionCell, _KEPT: api.SourceCell}
    wanted = cells_of(notebook)
    for (kind, name), values in wanted.items():
        cell = _one(session, kinds[kind], {"name": name, "notebook_id": page.id}, values)
        for column, value in values.items():
            setattr(cell, column, value)
    if session.query(api.SubmittedNotebook).filter_by(notebook_id=page.id).first() is None:
        for kind, made in kinds.items():
            for cell in session.query(made).filter_by(notebook_id=page.id):
                if (kind, cell.name) not in wanted:
                    session.delete(cell)
    session.flush()


def _one(session: Any, kind: Any, where: dict[str, Any], values: dict[str, Any]) -> Any:
    """Return the row that is there, or a new one."""
    found = session.query(kind).filter_by(**where).one_or_none()
    if found is None:
        found = kind(**where, **values)
        session.add(found)
        session.flush()
    return found
