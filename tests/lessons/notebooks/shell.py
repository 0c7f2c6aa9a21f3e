"""Runs a notebook in a process of its own that is copied from this one: what is imported here need not be imported again.

Every notebook also runs in a kernel, as an apprentice's does: nbval does that. What needs many runs of a lesson is run here.
"""

from __future__ import annotations

import json
import os
import traceback
from functools import cache
from pathlib import Path
from typing import Any

from IPython.core.interactiveshell import InteractiveShell
from IPython.utils.capture import capture_output
from nbformat import NotebookNode
from nbformat.v4 import new_output

import lessons.notebook.calls  # noqa: F401 - imported here once, and not in each copy
from lessons.notebook import bank
from lessons.notebook.figures import LIVE, moving_picture
from lessons.questions.foreseen import foreseen


@cache
def _get_ready() -> None:
    """Do once, and not in each copy, what is kept from then on: fonts, the table of units, questions, modules."""
    for name in LIVE:
        moving_picture(name, "si")
    for question in (*bank.practice_questions().values(), *bank.graded_questions().values()):
        len(question.variants)
        foreseen(question)


def run_notebook(notebook: NotebookNode, folder: Path) -> NotebookNode:
    """Run the cells one after another in a folder, up to the first that fails, and put what they show below them."""
    _get_ready()
    (cells,) = in_a_copy(_run, [cell.source for cell in notebook.cells if cell.cell_type == "code"], folder)
    for cell, shown in zip((c for c in notebook.cells if c.cell_type == "code"), cells, strict=False):
        cell.outputs = [new_output(kind, **fields) for kind, fields in shown]
    return notebook


def in_a_copy(work: Any, *arguments: Any) -> list[Any]:
    """Call a function in a copy of this process; return what it returned, as JSON carries it, in a list."""
    out, into = os.pipe()
    child = os.fork()
    if not child:
        try:
            os.close(out)
            with os.fdopen(into, "w") as pipe:
                json.dump([work(*arguments)], pipe)
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(0)
    os.close(into)
    with os.fdopen(out) as pipe:
        told = pipe.read()
    os.waitpid(child, 0)
    assert told, "the copy came to grief: see above"
    return list(json.loads(told))


def _run(sources: list[str], folder: Path) -> list[list[tuple[str, dict[str, Any]]]]:
    os.chdir(folder)
    InteractiveShell.clear_instance()
    shell = InteractiveShell.instance()
    cells: list[list[tuple[str, dict[str, Any]]]] = []
    for source in sources:
        with capture_output() as shown:
            ran = shell.run_cell(source, store_history=True)
        cells.append([("display_data", {"data": each.data}) for each in shown.outputs])
        said = {"stdout": shown.stdout, "stderr": shown.stderr}
        cells[-1] += [("stream", {"name": name, "text": text}) for name, text in said.items() if text]
        if wrong := ran.error_before_exec or ran.error_in_exec:
            cells[-1].append(("error", {"ename": type(wrong).__name__, "evalue": str(wrong), "traceback": []}))
            break
    return cells
