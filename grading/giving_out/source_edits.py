"""What the instructor changed in source/ since a lesson was last given out: it is kept, and said."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from grading import workorders
from grading.course.course import Course, CourseError, write_safely
from grading.given_out.decisions import Decision, decisions
from grading.given_out.given_out import KEYS, SOURCE, Given, given_out, is_kept
from grading.given_out.judged_answers import WRITTEN
from grading.handins.handin import answer_grade_id, answered, ask_grade_id, asked
from grading.workorders import pool
from lessons.questions.question import Question

_OURS = {"deletable", "editable", "nbgrader"}  # of a cell's metadata: written anew each time
_PASSING = {"collapsed", "execution", "jupyter", "scrolled", "trusted"}  # what JupyterLab leaves there


@dataclass(frozen=True)
class Base:
    """What is to go out, before anything is put into it."""

    notebook: dict[str, Any]
    questions: tuple[Question, ...]
    seen: str | None  # the notebook in source/ as it was looked at
    about: dict[str, Any]  # kept with the keys, for the next time
    sentences: list[str]


def edited_base(course: Course, lesson: str, packaged: Path) -> Base:
    """Return the instructor's own version where there is one, else the lesson as it comes.

    Raises
    ------
    CourseError
        If the instructor's version is not a notebook, or asks a question that does not exist.
    """
    latest = given_out(course, lesson).latest if is_kept(course, lesson) else None
    before = _about(latest)
    fresh = json.loads(packaged.read_text(encoding="utf-8"))
    digest = hashlib.sha256(packaged.read_bytes()).hexdigest()
    seen, mine = _in_source(course.source(lesson))
    last = _written(course, lesson, latest)
    written = last or fresh
    own = mine is not None and (before.get("own", False) or essence(mine) != essence(written))
    pooled, made = pool.own_of_lesson(course, lesson), decisions(course, lesson)
    back = [question for name, question in workorders.questions().items() if name in made and made[name].asked]
    notebook = _with_asked(mine if own and mine is not None else fresh, [*pooled, *back])
    notebook, left_out = _without(notebook, [name for name, decision in made.items() if decision.asked is False])
    typed = (before.get("points", {}) if mine is not None else {}) | _changed_points(mine or {}, last or {})
    points = typed | _decided_points(made)
    questions = tuple(_with_points(each, points) for each in _questions(course, lesson, notebook, pooled))
    said = [*_own_sentences(lesson, own, before, digest), *_point_sentences(questions, points)]
    said += [f"{name} is left out, as you chose." for name in left_out]
    return Base(notebook, questions, seen, {"own": own, "points": typed, "lesson": digest}, said)


def keep_changed_work_order(course: Course, lesson: str) -> list[str]:
    """Keep a work order that was changed by hand before it is written anew, and say so."""
    path = course.source(lesson).with_name("workorder.json")
    if not path.exists() or not is_kept(course, lesson):
        return []
    latest = given_out(course, lesson).latest
    data, was = path.read_bytes(), _about(latest).get("work_order", "")
    if not was or _no_numbers(data) or hashlib.sha256(data).hexdigest() == was:
        return []
    kept = latest.folder / "changed_workorder.json"
    write_safely(kept, data, mode=0o600)
    return [f"{path} was changed by hand. It is written again each time, so your version is kept as {kept}."]


def _no_numbers(data: bytes) -> bool:
    """Tell whether a work order is as this program leaves it there: without anybody's numbers."""
    try:
        order = json.loads(data)
    except ValueError:
        return False
    return isinstance(order, dict) and order.get("badges") == {}


def not_out_yet(course: Course, lesson: str) -> list[str]:
    """Tell of changes in source/ that nobody has got: marking goes by what was given out."""
    written = _written(course, lesson, given_out(course, lesson).latest)
    path = course.source(lesson)
    try:
        _, mine = _in_source(path)
    except CourseError as problem:
        return [str(problem)]
    if mine is None or written is None or essence(mine) == essence(written):
        return []
    again = f"give-out {lesson.partition('_')[0]}"
    return [f"{path} was changed and has not gone out yet. To send the change to the class: {again}"]


def essence(notebook: Mapping[str, Any]) -> list[Any]:
    """Return what of a notebook's cells somebody may have changed on purpose.

    >>> essence({"cells": [{"cell_type": "raw", "source": ["a", "b"], "metadata": {"editable": False}}]})
    [['raw', 'ab', {}, {}]]
    """
    return [
        [
            cell["cell_type"],
            "".join(cell["source"]),
            {name: value for name, value in cell.get("metadata", {}).items() if name not in _OURS | _PASSING},
            cell.get("attachments", {}),
        ]
        for cell in notebook["cells"]
    ]


def _about(latest: Given | None) -> dict[str, Any]:
    if latest is None:
        return {}
    about: dict[str, Any] = json.loads((latest.folder / KEYS).read_text(encoding="utf-8")).get("source", {})
    return about


def _written(course: Course, lesson: str, latest: Given | None) -> dict[str, Any] | None:
    """Return the notebook as it was last written into source/, or as it went out, which has the same cells."""
    places = [course.root / "as_sent" / lesson / f"{lesson}.ipynb"]
    if latest:
        places = [latest.folder / SOURCE, latest.folder / f"{lesson}.ipynb", *places]
    found = next((path for path in places if path.exists()), None)
    return json.loads(found.read_text(encoding="utf-8")) if found else None


def _in_source(path: Path) -> tuple[str | None, dict[str, Any] | None]:
    if not path.exists():
        return None, None
    try:
        text = path.read_text(encoding="utf-8")
        notebook = json.loads(text)
        essence(notebook)
    except (ValueError, KeyError, TypeError, AttributeError) as problem:
        raise CourseError(
            f"{path} is no longer a notebook ({type(problem).__name__}). Correct it, or delete it and the lesson goes "
            "out unchanged. Nothing was changed."
        ) from problem
    return text, notebook


def _with_asked(notebook: dict[str, Any], more: Iterable[Question]) -> dict[str, Any]:
    """Ask further questions at the end of a lesson, such as the instructor's own, where it does not ask them yet."""
    asked_already = set(workorders.ids_in(notebook))
    added = []
    for question in more:
        if question.id not in asked_already:
            name = question.id.replace(".", "-")
            added += [_code(name, f'ask("{question.id}")'), _code(f"{name}-typed", f"%%answer {question.id}")]
    return {**notebook, "cells": [*notebook["cells"], *added]}


def _without(notebook: dict[str, Any], left_out: Iterable[str]) -> tuple[dict[str, Any], list[str]]:
    """Return the notebook without the cells of some questions, and which of them it had."""
    gone = [each for each in workorders.ids_in(notebook) if each in set(left_out)]
    return {**notebook, "cells": [cell for cell in notebook["cells"] if _question_of(cell) not in gone]}, gone


def _question_of(cell: Mapping[str, Any]) -> str:
    source = "".join(cell["source"])
    split = answered(source)
    return "" if cell["cell_type"] != "code" else split[0] if split else asked(source)


def _decided_points(made: Mapping[str, Decision]) -> dict[str, float]:
    """Return the points that were decided, by both cells that may be the marked one."""
    return {
        name(question): decision.points
        for question, decision in made.items()
        for name in (ask_grade_id, answer_grade_id)
        if decision.points is not None
    }


def _code(name: str, source: str) -> dict[str, Any]:
    made: dict[str, Any] = {"cell_type": "code", "execution_count": None, "id": name, "metadata": {}, "outputs": []}
    return {**made, "source": source}


def _questions(
    course: Course, lesson: str, notebook: Mapping[str, Any], pooled: Iterable[Question]
) -> tuple[Question, ...]:
    own = {question.id: question for question in pooled}
    unknown = [each for each in workorders.unknown_in(notebook) if each not in own]
    if unknown:
        raise CourseError(
            f"{course.source(lesson)} asks {', '.join(unknown)}, but there is no such question. Correct the cell. "
            "Nothing was changed."
        )
    known = workorders.questions() | own
    return tuple(known[each] for each in workorders.ids_in(notebook) if each in known)


def _marked_cell(question: Question) -> str:
    return answer_grade_id(question.id) if question.kind == WRITTEN else ask_grade_id(question.id)


def _points(notebook: Mapping[str, Any]) -> dict[str, float]:
    abouts = (cell.get("metadata", {}).get("nbgrader") or {} for cell in notebook.get("cells", ()))
    return {about["grade_id"]: float(about["points"]) for about in abouts if "points" in about}


def _changed_points(mine: Mapping[str, Any], written: Mapping[str, Any]) -> dict[str, float]:
    """Return the points that were changed by hand, by the marked cell."""
    before = _points(written)
    return {cell: points for cell, points in _points(mine).items() if before.get(cell, points) != points}


def _with_points(question: Question, points: Mapping[str, float]) -> Question:
    wanted = points.get(_marked_cell(question), question.points)
    return question if wanted == question.points else replace(question, points=wanted)


def _own_sentences(lesson: str, own: bool, before: Mapping[str, Any], digest: str) -> list[str]:
    if not own:
        return []
    said = [f"What goes out is your own version, lessons/{lesson}/{lesson}.ipynb, with what you changed there."]
    if before.get("lesson", digest) != digest:
        said.append(
            "The original lesson has changed too, and your version has none of those changes. To start from it, move "
            "your version out of the folder and give the lesson out again."
        )
    return said


def _point_sentences(questions: Iterable[Question], points: Mapping[str, float]) -> list[str]:
    return [
        f"{each.id} goes out with the points you set: {each.points:g}."
        for each in questions
        if _marked_cell(each) in points
    ]
