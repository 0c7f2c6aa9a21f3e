"""The marked notebook for nbgrader's formgrader: the hand-in, locked cells restored, marks beside answers."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Mapping, Sequence
from typing import Any

from grading.handin import Cell, HandIn, asked
from grading.marking import Mark

_WIDTH = 110  # letters that the formgrader shows of a line


class Template:
    """A released notebook, looked into once for a whole class."""

    def __init__(self, text: str) -> None:
        self.notebook: dict[str, Any] = json.loads(text)
        self.by_id: dict[str, dict[str, Any]] = {}
        self.by_grade_id: dict[str, dict[str, Any]] = {}
        self.asks: dict[str, dict[str, Any]] = {}
        for cell in self.notebook["cells"]:
            cell["source"] = "".join(cell["source"])
            self.by_id[cell.get("id", "")] = cell
            nbgrader = cell["metadata"].get("nbgrader")
            if nbgrader:
                self.by_grade_id[nbgrader["grade_id"]] = cell
            question = asked(cell["source"])
            if question and nbgrader:
                self.asks[question] = cell

    def of(self, cell: Cell) -> dict[str, Any] | None:
        """Return the released cell that a handed-in one is, or None."""
        return self.by_grade_id.get(cell.grade_id) or self.by_id.get(cell.id or "-")


def marked_notebook(template: Template, handin: HandIn, marks: Sequence[Mark]) -> str:
    """Return the hand-in as a notebook with marks, as nbgrader's autograde would leave it."""
    by_question = {mark.question: mark for mark in marks}
    cells: list[dict[str, Any]] = []
    used: set[int] = set()
    for number, cell in enumerate(handin.cells):
        released = template.of(cell)
        if released is None or id(released) in used:
            cells.append(_extra(cell, number))
            continue
        used.add(id(released))
        cells.append(_restored(released, cell, by_question))
    missing = [
        cell for question, cell in template.asks.items() if question in by_question and id(cell) not in used
    ]
    cells += [_restored(cell, None, by_question) for cell in missing]
    notebook = {**template.notebook, "cells": cells}
    return json.dumps(notebook, ensure_ascii=False, separators=(",", ":")) + "\n"


def _restored(released: Mapping[str, Any], cell: Cell | None, marks: Mapping[str, Mark]) -> dict[str, Any]:
    result = dict(released)
    typed_into = "editable" not in released["metadata"]
    if cell and typed_into:
        result["source"] = cell.source
    if result["cell_type"] != "code":
        return result
    mark = marks.get(asked(released["source"]))
    result["outputs"] = [] if mark is None else _outputs(mark)
    return result


def _outputs(mark: Mark) -> list[dict[str, Any]]:
    """Return what the cell that asks shows: the reply as text, and the marks where nbgrader reads them."""
    if mark.brief:
        return [{"name": "stdout", "output_type": "stream", "text": _to_read(mark)}]
    said = {"name": "stdout", "output_type": "stream", "text": f"{mark.reply.text}\n"}
    data = {"text/plain": repr(mark.score)}
    return [said, {"data": data, "execution_count": None, "metadata": {}, "output_type": "execute_result"}]


def _to_read(mark: Mark) -> str:
    """Return what was asked, the answer and what to look for, in lines that fit: the formgrader wraps none."""
    lines = f"{mark.brief}\n\nThe answer: {mark.text.strip() or '(nothing)'}".splitlines()
    return "".join(f"{textwrap.fill(line, _WIDTH)}\n" for line in lines)


def _extra(cell: Cell, number: int) -> dict[str, Any]:
    """Return a cell that was added or doubled: its words only, so that it cannot pass for a marked one."""
    result: dict[str, Any] = {
        "cell_type": cell.kind,
        "id": f"extra-{number}",
        "metadata": {},
        "source": cell.source,
    }
    if cell.kind == "code":
        result |= {"execution_count": None, "outputs": []}
    return result
