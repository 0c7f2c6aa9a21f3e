"""Reads a handed-in notebook as data: its cells and the answers typed into them. Nothing in it is run."""

from __future__ import annotations

import functools
import json
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, NamedTuple

from grading.course import plain
from lessons.units.readout import counted

MAX_BYTES = 20_000_000  # a lesson with all its pictures saved is about 1 MB
MAX_CELLS = 2_000
_OFTEN = 2_000  # letters of a text that is looked into once for all who hand it in
# Patterns see text that somebody may have crafted: no two repeats in a row may match the same letters.
_FIRST_LINE = re.compile(r"\s*%%answer[ \t]+(?P<id>[\w.]+)(?:[ \t][^\n]*)?(?:\n|$)")
_ASK = re.compile(r"""ask\(\s*["'](?P<id>[^"']+)["']\s*\)\s*;?""")
_GARBLED = re.compile(r"\s*%+[^\n]*(?:\n|$)")
_TYPES = ("code", "markdown", "raw")


class UnusableError(ValueError):
    """A hand-in that cannot be read; its text is the sentence for the instructor."""


class Cell(NamedTuple):  # a tuple, as a class of hand-ins has very many
    """What counts of one handed-in cell."""

    kind: str
    source: str
    id: str = ""
    grade_id: str = ""
    outputs: tuple[Any, ...] = ()


@dataclass(frozen=True)
class HandIn:
    """A handed-in notebook as data."""

    cells: tuple[Cell, ...]
    lesson: str = ""  # as the release wrote it into the notebook; empty if it is gone
    given_out: str = ""  # the same: which giving-out it is of
    remark: str = ""


@dataclass(frozen=True)
class HandedInAnswer:
    """What was typed for one question; `found` is False when no cell was there for it."""

    text: str = ""
    found: bool = True
    remark: str = ""


def read(data: bytes) -> HandIn:
    """Read the bytes of a notebook file.

    Raises
    ------
    UnusableError
        With a sentence, if they are no notebook.
    """
    if len(data) > MAX_BYTES:
        raise UnusableError(
            f"the file has {len(data) / 1e6:.0f} MB, more than the {MAX_BYTES / 1e6:.0f} MB that are opened; "
            "ask for it again, saved after Edit > Clear Outputs of All Cells"
        )
    text, remark = _decoded(data)
    notebook = _parsed(text)
    cells = notebook.get("cells")
    if not isinstance(cells, list):
        raise UnusableError(
            "the file is JSON but not a notebook, as it has no list of cells; ask for the notebook itself"
        )
    if len(cells) > MAX_CELLS:
        raise UnusableError(
            f"the notebook has {counted(len(cells), 'cell')}, more than the {MAX_CELLS} that are read; "
            "ask what happened to it"
        )
    lesson, given_out = (_of_work_order(notebook, name) for name in ("lesson", "given_out"))
    return HandIn(tuple(_cell(cell) for cell in cells if isinstance(cell, dict)), lesson, given_out, remark)


def asked(source: str) -> str:
    """Return the question id of an `ask("…")` cell, or nothing.

    >>> asked('ask("inherent.w1")'), asked("print(1)")
    ('inherent.w1', '')
    """
    match = _ASK.fullmatch(source.strip()) if "ask(" in source else None  # few cells do, and a class has very many
    return match["id"] if match else ""


def answered(source: str) -> tuple[str, str] | None:
    r"""Split an answer cell into question id and text, or return None if it is no answer cell.

    >>> answered("%%answer inherent.w1\n60 %")
    ('inherent.w1', '60 %')
    """
    match = _FIRST_LINE.match(source) if "%%answer" in source else None
    return (match["id"], source[match.end() :]) if match else None


def unnamed(source: str) -> str:
    r"""Return what was typed into an answer cell whose first line fell victim to a slip.

    >>> unnamed("%answer inherent\n60 %"), unnamed("60 %")
    ('60 %', '60 %')
    """
    garbled = _GARBLED.match(source)
    return source[garbled.end() :] if garbled else source


def ask_grade_id(question_id: str) -> str:
    """Return nbgrader's name of the cell that asks (and is marked); nbgrader allows no point in it."""
    return question_id.replace(".", "-")


def answer_grade_id(question_id: str) -> str:
    """Return nbgrader's name of the cell that is typed into."""
    return f"{ask_grade_id(question_id)}-answer"


def answers(handin: HandIn, question_ids: Iterable[str]) -> dict[str, HandedInAnswer]:
    """Find the answer to each question.

    The first line names the question. Where several cells name it, the one that stands in the question's own
    place counts before a new cell, a new cell before one in another question's place, and the last before
    earlier ones.
    """
    wanted = list(question_ids)
    own = {answer_grade_id(each): each for each in wanted}
    named: dict[str, list[tuple[int, str]]] = {each: [] for each in wanted}
    nameless: dict[str, str] = {}
    for cell in handin.cells:
        place, split = own.get(cell.grade_id), answered(cell.source)
        if split and split[0] in named:
            rank = 2 if place == split[0] else 1 if place is None else 0
            named[split[0]].append((rank, split[1]))
        elif place and not split and (cell.source.strip() or place not in nameless):
            nameless[place] = cell.source
    return {each: _chosen(each, named[each], nameless.get(each)) for each in wanted}


def _chosen(question_id: str, named: list[tuple[int, str]], nameless: str | None) -> HandedInAnswer:
    filled = [(rank, text) for rank, text in named if text.strip()]
    if filled:
        best = max(rank for rank, _ in filled)
        text = [text for rank, text in filled if rank == best][-1]
        if len({" ".join(text.split()) for _, text in filled}) > 1:
            return HandedInAnswer(
                text, remark=f"{question_id} is answered in {counted(len(filled), 'cell')}, and the answers differ"
            )
        return HandedInAnswer(text)
    if nameless is not None and nameless.strip():
        # The first line fell victim to a slip; the cell still stands in its place, so the answer is not lost.
        return HandedInAnswer(
            unnamed(nameless),
            remark=f"the first line of the answer to {question_id} was changed; the answer was found by its place",
        )
    if named or nameless is not None:
        return HandedInAnswer()
    return HandedInAnswer(found=False, remark=f"the answer cell of {question_id} is missing")


def _decoded(data: bytes) -> tuple[str, str]:
    try:
        return data.decode(json.detect_encoding(data)), ""
    except UnicodeDecodeError:
        # Some editors save in the code page of Windows; digits and letters of an answer survive that.
        return data.decode("cp1252", "replace"), "the file was not saved as UTF-8; it was read as Windows-1252"


def _parsed(text: str) -> dict[str, Any]:
    if not text.strip():
        raise UnusableError("the file is empty; ask for it again")
    try:
        notebook = json.loads(text)
    except RecursionError:
        raise UnusableError("the file is nested too deeply to be a notebook; ask what happened to it") from None
    except ValueError:  # also numbers of absurd length
        raise UnusableError(
            "the file is not a notebook (not valid JSON), perhaps cut short; ask for it again"
        ) from None
    if not isinstance(notebook, dict):
        raise UnusableError("the file is JSON but not a notebook; ask for the notebook itself")
    return notebook


def _of_work_order(notebook: dict[str, Any], name: str) -> str:
    metadata = notebook.get("metadata")
    order = metadata.get("work_order") if isinstance(metadata, dict) else None
    value = order.get(name) if isinstance(order, dict) else None
    return value if isinstance(value, str) else ""


def _cell(cell: dict[str, Any]) -> Cell:
    metadata = cell.get("metadata")
    nbgrader = metadata.get("nbgrader") if isinstance(metadata, dict) else None
    grade_id = nbgrader.get("grade_id") if isinstance(nbgrader, dict) else None
    outputs = cell.get("outputs")
    kind = cell.get("cell_type")
    return Cell(
        kind if kind in _TYPES else "raw",
        _text(cell.get("source")),
        _text(cell.get("id")),
        _text(grade_id) if grade_id else "",
        tuple(outputs) if outputs and isinstance(outputs, list) else (),
    )


def _text(value: Any) -> str:
    if isinstance(value, list):
        try:
            value = "".join(value)
        except TypeError:  # somebody put something else between the lines
            value = "".join(part for part in value if isinstance(part, str))
    if not isinstance(value, str):
        return ""
    return _same_in_all(value) if len(value) <= _OFTEN else plain.text(value)


# A class hands in the same cells over and over, with a few answers of its own.
_same_in_all = functools.lru_cache(maxsize=1_000)(plain.text)
