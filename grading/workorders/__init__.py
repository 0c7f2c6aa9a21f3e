"""Graded questions: one module for each lesson, found by walking this package."""

from __future__ import annotations

import functools
import importlib
import json
import pkgutil
from pathlib import Path

import lessons
from grading.handin import asked
from lessons.question import Question


@functools.cache
def questions() -> dict[str, Question]:
    """Return every graded question by id."""
    names = sorted(module.name for module in pkgutil.iter_modules(__path__))
    modules = [importlib.import_module(f"{__name__}.{name}") for name in names]
    return {question.id: question for module in modules for question in module.QUESTIONS}


def notebooks() -> dict[str, Path]:
    """Return the packaged lessons by name."""
    return {path.stem: path for path in sorted(Path(lessons.__path__[0]).glob("[0-9][0-9]_*.ipynb"))}


def of_lesson(lesson: str) -> tuple[Question, ...]:
    """Return the graded questions a lesson asks, in their order; none for a lesson that is not known."""
    path = notebooks().get(lesson)
    return in_notebook(path) if path else ()


def in_notebook(path: Path) -> tuple[Question, ...]:
    """Return the graded questions that a notebook asks, in their order."""
    cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
    ids = [asked("".join(cell["source"])) for cell in cells if cell["cell_type"] == "code"]
    return tuple(questions()[each] for each in dict.fromkeys(ids) if each in questions())
