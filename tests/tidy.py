"""Brings lesson notebooks into the form they are stored in: `python -m tests.tidy` after editing them in JupyterLab.

No outputs, no execution counts, no metadata, stable cell ids, empty answer boxes. `python -m tests.tidy --check` changes
nothing: it names what is not tidy, and what of a new lesson is still to be written.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import re
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import nbformat
from nbformat import NotebookNode

from lessons.jupyter.working_copy import packaged as notebooks

ROOT = Path(__file__).parent.parent
KERNEL = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}
TO_WRITE = re.compile(r"\bTODO\b.*")  # what `python -m tests.new_lesson` leaves to its author
WRITTEN_IN = ("lessons", "grading", "tests/by_hand", "README.md")


def tidy(notebook: NotebookNode) -> NotebookNode:
    """Return the notebook as it is stored."""
    notebook = nbformat.from_dict(notebook)
    notebook.metadata = nbformat.from_dict(KERNEL)
    notebook.nbformat, notebook.nbformat_minor = 4, 5
    seen: set[str] = set()
    for number, cell in enumerate(notebook.cells):
        _tidy_cell(cell)
        cell.id = _cell_id(cell, number, seen)
    return notebook


def stored(notebook: NotebookNode) -> str:
    """Return the text of the file a notebook is stored in."""
    return nbformat.writes(tidy(notebook)) + "\n"


def _tidy_cell(cell: NotebookNode) -> None:
    cell.metadata = NotebookNode()
    if cell.cell_type == "code":
        cell.outputs, cell.execution_count = [], None
    answer = re.match(r"%%answer +(\S+)", cell.source)
    cell.source = f"%%answer {answer[1]}\n" if answer else cell.source.strip()


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


def untidy() -> Iterator[tuple[Path, str]]:
    """Yield every notebook that is not as it is stored, with the text it should have."""
    for path in notebooks():
        before = path.read_text(encoding="utf-8")
        after = stored(nbformat.reads(before, as_version=4))
        if after != before:
            yield path, after


def to_write(root: Path) -> list[str]:
    """Return each place where a new lesson still holds a placeholder: file, line or cell, and the words."""
    places = [root / each for each in WRITTEN_IN]
    files = sorted(file for place in places for file in (place.rglob("*.*") if place.is_dir() else [place]))
    return [
        f"{file.relative_to(root)}:{where}: {found[0].strip()[:70]}"
        for file in files
        for where, line in _lines(file)
        if (found := TO_WRITE.search(line))
    ]


def _lines(file: Path) -> list[tuple[str, str]]:
    if file.suffix == ".ipynb" and ".ipynb_checkpoints" not in file.parts:
        cells = json.loads(file.read_text(encoding="utf-8"))["cells"]
        return [(f"cell {n}", line) for n, cell in enumerate(cells, start=1) for line in _source(cell)]
    if file.suffix not in (".py", ".md"):
        return []
    return [(f"{n}", line) for n, line in enumerate(file.read_text(encoding="utf-8").splitlines(), start=1)]


def _source(cell: dict[str, Any]) -> list[str]:
    return "".join(cell["source"]).splitlines()


def check() -> list[str]:
    """Return what is not as it has to be before a lesson is committed."""
    names = [f"{path.relative_to(ROOT)} is not tidy. Run: python -m tests.tidy" for path, _ in untidy()]
    return names + [f"still to be written: {each}" for each in to_write(ROOT)]


def main(arguments: list[str] | None = None) -> int:
    """Tidy all notebooks in place and name those that changed, or only check; return an exit code."""
    parser = argparse.ArgumentParser(prog="python -m tests.tidy", description="Tidy the lesson notebooks.")
    parser.add_argument("--check", action="store_true", help="change nothing; say what is not tidy or not written yet")
    if parser.parse_args(arguments).check:
        found = check()
        print("\n".join(found) or "All notebooks are tidy, and nothing is left to be written.")
        return 1 if found else 0
    for path, text in untidy():
        path.write_text(text, encoding="utf-8")
        print(f"tidied {path.name}")
    return 0


if __name__ == "__main__":
    sys.exit(main())
