"""Pictures kept as files, so that they are shown without being drawn again, in whichever kernel.

A file holds what one program made, and counts only as long as that program is the same: its first line is a mark made
of the code, of what it draws with, of the file's name and of all that follows. Where the mark is not the one expected,
be the file old, cut off or somebody's own, the picture is drawn as if there were no file.

Whoever can write into the folder decides what others see. So a variable names it, which is set where that was settled.
"""

from __future__ import annotations

import functools
import hashlib
import json
import os
from importlib.metadata import version
from pathlib import Path
from typing import Any

FOLDER = "OSTREL_PICTURES"  # the variable that names the folder; without it nothing is kept
_DRAWN_BY = ("lessons", "valvecalc")
_DRAWN_WITH = ("matplotlib", "numpy")
_HOUSE = Path(__file__).parents[2]


def kept_data(name: str) -> Any:
    """Return what is kept under a name; None if nothing is, or nothing that can be trusted."""
    folder = os.environ.get(FOLDER)
    return kept_in(Path(folder), name) if folder else None


def kept_in(folder: Path, name: str) -> Any:
    """Return what a folder keeps under a name; None if nothing, or if it is old or damaged."""
    try:
        mark, _, text = path_of(folder, name).read_text(encoding="utf-8").partition("\n")
        return json.loads(text) if mark == _mark(name, text) else None
    except (OSError, ValueError):
        return None


def keep_in(folder: Path, name: str, data: object) -> None:
    """Keep something under a name. Whoever reads half of it sees so by its mark."""
    text = json.dumps(data, ensure_ascii=False)
    path_of(folder, name).write_text(f"{_mark(name, text)}\n{text}", encoding="utf-8")


def path_of(folder: Path, name: str) -> Path:
    """Return the file of a name; the name itself may hold anything."""
    return folder / f"{hashlib.sha256(name.encode()).hexdigest()}.json"


def _mark(name: str, text: str) -> str:
    return hashlib.sha256(f"{code_mark()}\n{name}\n{text}".encode()).hexdigest()


@functools.cache
def code_mark() -> str:
    """Return a mark of all that decides how a picture looks: our code, and what it draws with."""
    told = hashlib.sha256(" ".join(f"{each} {version(each)}" for each in _DRAWN_WITH).encode())
    for path in sorted(each for package in _DRAWN_BY for each in (_HOUSE / package).rglob("*.py")):
        told.update(f"{path.relative_to(_HOUSE)}\n".encode() + path.read_bytes())
    return told.hexdigest()
