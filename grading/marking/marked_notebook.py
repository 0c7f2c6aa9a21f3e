"""The marked notebook: the released cells, the answers typed into them, the marks; all else from the hand-in as text.

A notebook is opened where its cells are drawn and may be run: in the formgrader, in JupyterLab, by nbgrader's
autograde. So nothing but words is taken over from a hand-in: no kind of cell, no output, no attachment, no metadata,
and no line that would do something when it is run.
"""

from __future__ import annotations

import itertools
import json
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Any

from grading.course import plain
from grading.given_out.judged_answers import LONGEST, WRITTEN, Mark
from grading.handins.handin import Cell, HandIn, answered, asked, unnamed
from grading.marking.beside import beside
from lessons.questions.judge import Reply

_ENCODER = json.JSONEncoder(ensure_ascii=False, separators=(",", ":"))
_SHORT, _MOST_MARKED = 40, 1_000  # characters of an answer whose marked cell is kept; cells kept
_ADDED = "This was added to the notebook. It is shown as text and does nothing:"


class Template:
    """A released notebook, looked into once for a whole class."""

    def __init__(self, text: str) -> None:
        self.notebook: dict[str, Any] = json.loads(text)
        self.cells: list[dict[str, Any]] = self.notebook["cells"]
        self._by_id: dict[str, int] = {}
        self._by_grade_id: dict[str, int] = {}
        for place, cell in enumerate(self.cells):
            cell["source"] = "".join(cell["source"])
            if cell["cell_type"] == "code":
                cell |= {"execution_count": None, "outputs": []}
            self._by_id[cell.get("id", "")] = place
            nbgrader = cell["metadata"].get("nbgrader")
            if nbgrader:
                self._by_grade_id[nbgrader["grade_id"]] = place
        self.words = [cell["source"].strip() for cell in self.cells]
        self._typed_into = [self._question_at(place) for place in range(len(self.cells))]
        self.asking = {place: question for place, words in enumerate(self.words) if (question := asked(words))}
        # Most cells stay as they went out, so each is written down once for a whole class.
        self._written = [_ENCODER.encode(cell) for cell in self.cells]
        self._marked: dict[tuple[int, int, str, Reply, float, str], str] = {}
        self._around = _ENCODER.encode({name: each for name, each in self.notebook.items() if name != "cells"})

    def place_of(self, cell: Cell) -> int | None:
        """Return which released cell a handed-in one is, or None."""
        return self._by_grade_id.get(cell.grade_id, self._by_id.get(cell.id or "-"))

    def typed_into(self, place: int) -> str:
        """Return the question whose answer is typed into a released cell, or nothing where the cell is locked."""
        return self._typed_into[place]

    def _question_at(self, place: int) -> str:
        cell = self.cells[place]
        split = answered(cell["source"]) if cell["cell_type"] == "code" else None
        return split[0] if split else ""

    def with_mark(self, place: int, mark: Mark, drawing: str) -> str:
        """Return a cell that asks, with the marks, as JSON; for a short answer, which many give, written down once."""
        # Stays true: whoever poses a question keeps it, so that its id is not given again.
        key = (place, id(mark.asked), mark.text, mark.reply, mark.points, drawing)
        known = self._marked.get(key)
        if known is None:
            known = _ENCODER.encode({**self.cells[place], "outputs": _outputs(mark, drawing)})
            if len(self._marked) >= _MOST_MARKED:
                self._marked.clear()
            if len(mark.text) <= _SHORT:
                self._marked[key] = known
        return known

    def written(self, changed: Mapping[int, str], added: Mapping[int, Sequence[dict[str, Any]]]) -> str:
        """Return the notebook as JSON, with cells that changed by their places, and others after these."""
        written = ["", *self._written]  # so that what was added before the first cell has a place too
        for place, cell in changed.items():
            written[place + 1] = cell
        for place, cells in added.items():
            written[place + 1] = ",".join(filter(None, (written[place + 1], *map(_ENCODER.encode, cells))))
        return f'{{"cells":[{",".join(written[not written[0] :])}],{self._around[1:]}\n'


def marked_notebook(
    template: Template, handin: HandIn, marks: Sequence[Mark], drawings: Mapping[str, str] = MappingProxyType({})
) -> str:
    """Return the hand-in as a notebook with marks, for the formgrader; `drawings` are those of questions, as SVG."""
    by_question = {mark.question: mark for mark in marks}
    changed, added = _changes(template, handin)
    written = {place: _ENCODER.encode(cell) for place, cell in changed.items()}
    for place, question in template.asking.items():
        mark = by_question.get(question)
        if mark:
            written[place] = template.with_mark(place, mark, drawings.get(question, ""))
    return template.written(written, added)


def rebuilt(template: Template, handin: HandIn) -> list[dict[str, Any]]:
    """Return every released cell in its order with what was typed into it, and what was added, as text, between."""
    changed, added = _changes(template, handin)
    cells = list(added.get(-1, ()))
    for place, released in enumerate(template.cells):
        cells += [changed.get(place, released), *added.get(place, ())]
    return cells


def _changes(template: Template, handin: HandIn) -> tuple[dict[int, dict[str, Any]], dict[int, list[dict[str, Any]]]]:
    """Return the released cells that something was typed into, and what was added, by the cell it comes after."""
    typed, added = _sorted(template, handin)
    names = (f"extra-{number}" for number in itertools.count())
    extra = {place: [_extra(cell, next(names)) for cell in added[place]] for place in sorted(added)}
    changed = {
        place: {**template.cells[place], "source": _answer(cell.source)}
        for place, cell in typed.items()
        if cell.source.strip() and cell.source != template.cells[place]["source"]
    }
    return changed, extra


def _sorted(template: Template, handin: HandIn) -> tuple[dict[int, Cell], dict[int, list[Cell]]]:
    """Tell what was typed into each released cell from what was added, by the released cell it comes after."""
    typed: dict[int, Cell] = {}
    added: dict[int, list[Cell]] = {}
    last = -1  # never goes back, so that what was added keeps its order: of several answers the last one counts
    for cell in handin.cells:
        place = template.place_of(cell)
        extra: Cell | None = cell
        if place is not None:
            last = max(last, place)
            question = template.typed_into(place)
            if question and _weight(cell, question) >= _weight(typed.get(place), question):
                typed[place], extra = cell, typed.get(place)
            elif cell.source in (template.cells[place]["source"], "") or template.words[place] == cell.source.strip():
                extra = None
        if extra and extra.source.strip():
            added.setdefault(last, []).append(extra)
    return typed, added


def _weight(cell: Cell | None, question: str) -> int:
    """Tell how well a cell fills the place of an answer; where several stand in it, `answers` reads the best."""
    split = answered(cell.source) if cell else None
    if cell is None or not (split[1] if split else cell.source).strip():
        return 0
    if split is None:
        return 2
    return 3 if split[0] == question else 1


def _answer(source: str) -> str:
    """Return what was typed into an answer cell, below a first line of our own: so it stays text if it is run."""
    split = answered(source)
    if split:
        return f"%%answer {split[0]}\n{plain.cut(split[1], LONGEST)}"
    typed = unnamed(source)
    garbled = "".join(each if each.isalnum() or each in " .," else " " for each in source[: len(source) - len(typed)])
    mark = f" # {' '.join(garbled.split())[:80]}" if garbled.strip() else ""
    return f"%%answer{mark}\n{plain.cut(typed, LONGEST)}"


def _extra(cell: Cell, name: str) -> dict[str, Any]:
    """Return a cell that was added or doubled: its words only, so that it can neither do anything nor be marked."""
    words = plain.cut(cell.source, LONGEST).split("\n")
    source = _answer(cell.source) if answered(cell.source) else "\n".join(f"# {line}" for line in (_ADDED, *words))
    metadata = {"deletable": False, "editable": False}
    made: dict[str, Any] = {"cell_type": "code", "execution_count": None, "id": name, "metadata": metadata}
    return {**made, "outputs": [], "source": source}


def _outputs(mark: Mark, drawing: str) -> list[dict[str, Any]]:
    """Return what the cell that asks shows: what a person needs, and the marks where nbgrader reads them."""
    shown = [beside(mark, drawing)]
    if mark.asked and mark.asked.question.kind == WRITTEN:  # the marks stand at the cell that is typed into
        return shown
    data = {"text/plain": repr(mark.score)}
    return [*shown, {"data": data, "execution_count": None, "metadata": {}, "output_type": "execute_result"}]
