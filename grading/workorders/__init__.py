"""Graded questions: one module for each lesson, in the four rooms of the course, found by walking them.

No marking is done here, and what came back is never judged by these: it is judged by what was given out.
"""

from __future__ import annotations

import functools
import hashlib
import importlib
import json
import pkgutil
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import lessons
import valvecalc
from grading.handins.handin import asked
from grading.workorders.grids import MOVED
from lessons.notebook.bank import is_work_order
from lessons.questions.grid import on_grid
from lessons.questions.question import Question


@functools.cache
def questions() -> dict[str, Question]:
    """Return every graded question by id."""
    rooms = [
        (found.name, importlib.import_module(found.name))
        for found in pkgutil.iter_modules(__path__, f"{__name__}.")
        if found.ispkg
    ]
    names = [found.name for name, room in rooms for found in pkgutil.iter_modules(room.__path__, f"{name}.")]
    modules = sorted(map(importlib.import_module, names), key=lambda module: module.__name__.rpartition(".")[2])
    found = [question for module in modules for question in module.QUESTIONS]
    return {each.id: on_grid(each, *MOVED[each.id]) if each.id in MOVED else each for each in found}


@functools.cache
def code() -> str:
    """Return what the code that makes, shows and judges questions comes to, as a checksum."""
    digest = hashlib.sha256()
    for folder in (Path(__file__).parent, Path(lessons.__file__).parent, Path(valvecalc.__file__).parent):
        for path in sorted(folder.rglob("*.py")):
            digest.update(path.name.encode() + b"\0" + path.read_bytes())
    return digest.hexdigest()


def notebooks() -> dict[str, Path]:
    """Return the packaged lessons by name."""
    return {path.stem: path for path in sorted(Path(lessons.__path__[0]).glob("[0-9][0-9]_*.ipynb"))}


def of_lesson(lesson: str) -> tuple[Question, ...]:
    """Return the graded questions a lesson asks, in their order; none for a lesson that is not known."""
    path = notebooks().get(lesson)
    return in_notebook(path) if path else ()


def in_notebook(path: Path) -> tuple[Question, ...]:
    """Return the graded questions that a notebook asks, in their order."""
    return asked_in(json.loads(path.read_text(encoding="utf-8")))


def asked_in(notebook: Mapping[str, Any]) -> tuple[Question, ...]:
    """Return the graded questions that a notebook's cells ask, in their order."""
    return tuple(questions()[each] for each in ids_in(notebook) if each in questions())


def unknown_in(notebook: Mapping[str, Any]) -> list[str]:
    """Return what a notebook asks by the name of a graded question that there is not."""
    return [each for each in ids_in(notebook) if is_work_order(each) and each not in questions()]


def ids_in(notebook: Mapping[str, Any]) -> list[str]:
    """Return the ids of all questions that a notebook asks, in their order."""
    cells = [cell for cell in notebook["cells"] if cell["cell_type"] == "code"]
    return list(dict.fromkeys(filter(None, (asked("".join(cell["source"])) for cell in cells))))
