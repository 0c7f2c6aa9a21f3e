"""Brings lesson notebooks into the form they are stored in: `python -m tests.tidy` after editing them in JupyterLab.

No outputs, no execution counts, stable cell ids, code of a lesson collapsed and locked, answer cells open and empty.
"""

from __future__ import annotations

import hashlib
import re
from pathlib import Path

import nbformat
from nbformat import NotebookNode

LESSONS = Path(__file__).parent.parent / "lessons"
KERNEL = {"kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
          "language_info": {"name": "python"}}  # fmt: skip


def notebooks() -> list[Path]:
    """Return every lesson notebook of the project."""
    return sorted(path for path in LESSONS.rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts)


def tidy(notebook: NotebookNode) -> NotebookNode:
    """Return the notebook as it is stored."""
    notebook = nbformat.from_dict(notebook)
    notebook.metadata = nbformat.from_dict(KERNEL)
    notebook.nbformat, notebook.nbformat_minor = 4, 5
    seen: set[str] = set()
    for number, cell in enumerate(notebook.cells):
        _tidy_cell(cell, number)
        cell.id = _cell_id(cell, number, seen)
    return notebook


def _tidy_cell(cell: NotebookNode, number: int) -> None:
    cell.metadata = NotebookNode()
    answer = re.match(r"%%answer +(\S+)", cell.source)
    if cell.cell_type == "code":
        cell.outputs, cell.execution_count = [], None
    if answer:
        cell.source = f"%%answer {answer[1]}\n"
        return
    cell.source = cell.source.strip()
    cell.metadata.update(editable=False, deletable=False)
    if cell.cell_type == "code":
        cell.metadata["jupyter"] = {"source_hidden": True}


def _cell_id(cell: NotebookNode, number: int, seen: set[str]) -> str:
    """Name question and answer cells after their question, others after their words; ids stay put in a diff."""
    question = re.match(r'ask\("([^"]+)"\)', cell.source)
    answer = re.match(r"%%answer (\S+)", cell.source)
    if question or answer:
        name = f"ask-{question[1]}" if question else f"answer-{answer[1]}"
        name = name.replace(".", "-")
    else:
        name = f"{cell.cell_type}-{hashlib.sha256(cell.source.encode()).hexdigest()[:8]}"
    while name in seen:
        name += "-again"
    seen.add(name)
    return name


def main() -> None:
    """Tidy all notebooks in place and name those that changed."""
    for path in notebooks():
        before = path.read_text(encoding="utf-8")
        after = nbformat.writes(tidy(nbformat.reads(before, as_version=4))) + "\n"
        if after != before:
            path.write_text(after, encoding="utf-8")
            print(f"tidied {path.name}")


if __name__ == "__main__":
    main()
