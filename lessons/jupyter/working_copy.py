"""Makes a working copy of the lessons: what is missing is added, locked; what is there stays, or is put aside whole."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from lessons.jupyter.locks import locked
from lessons.questions.progress import WORKING_COPY

LESSONS = Path(__file__).parents[1]
PUT_ASIDE = "put_aside"

# Jupyter asks about news and updates at the first start, which is noise in a lesson and fails without a network.
QUIET = {"fetchNews": "false", "checkForUpdates": False, "doNotDisturbMode": True}
# Every cell stays in the page, so that a live picture does not blank when it is scrolled out of sight.
WHOLE_PAGE = {"windowingMode": "none", "recordTiming": False}
SETTINGS = {
    "@jupyterlab/apputils-extension/notification": QUIET,
    "@jupyterlab/notebook-extension/tracker": WHOLE_PAGE,
}
# So that `ask` and an answer work even before the lesson has run.
STARTUP = "from lessons.notebook import *\nfrom lessons.notebook import calls as _lesson\n_lesson.ready()\n"


@dataclass(frozen=True)
class Made:
    """How many lessons were copied, how many were left as they were, and how many were put aside, and where."""

    new: int = 0
    kept: int = 0
    aside: int = 0
    aside_in: Path = Path()


def packaged() -> list[Path]:
    """Return every notebook of the package."""
    return sorted(path for path in LESSONS.rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts)


def working_copy(folder: Path, *, fresh: bool = False) -> Made:
    """Copy the lessons that are not there yet; with `fresh`, put those aside that differ and copy them too.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    new = kept = aside = 0
    folder.mkdir(parents=True, exist_ok=True)
    aside_in = _unused(folder / PUT_ASIDE / datetime.now().astimezone().strftime("%Y-%m-%d_%H-%M-%S"))
    for lesson in packaged():
        place = lesson.relative_to(LESSONS)
        content = _locked_text(lesson)
        if fresh and _differs(folder / place, content):
            _move(folder / place, aside_in / place)
            aside += 1
        if (folder / place).exists():
            kept += 1
            continue
        _write(folder / place, content)
        new += 1
    add_settings(folder)
    return Made(new, kept, aside, aside_in)


def add_settings(folder: Path) -> None:
    """Mark a folder as a working copy, with settings apart from the reader's own Jupyter."""
    hidden = folder / WORKING_COPY
    for name, settings in SETTINGS.items():
        path = hidden / "settings" / f"{name}.jupyterlab-settings"
        if not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(json.dumps(settings, indent=1), encoding="utf-8")
    startup = hidden / "ipython" / "profile_default" / "startup" / "00_lessons.py"
    startup.parent.mkdir(parents=True, exist_ok=True)
    startup.write_text(STARTUP, encoding="utf-8")


def _locked_text(lesson: Path) -> bytes:
    notebook = locked(json.loads(lesson.read_text(encoding="utf-8")))
    return (json.dumps(notebook, ensure_ascii=False, indent=1, sort_keys=True) + "\n").encode()


def _differs(path: Path, content: bytes) -> bool:
    return path.is_file() and path.read_bytes() != content


def _move(path: Path, to: Path) -> None:
    to.parent.mkdir(parents=True, exist_ok=True)
    path.rename(to)


def _write(path: Path, content: bytes) -> None:
    """Write a file whole or not at all: half a lesson would be kept as somebody's work the next time."""
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.part")
    part.write_bytes(content)
    part.replace(path)


def _unused(folder: Path) -> Path:
    """Return the folder, or one with a number behind it if it is there already."""
    names = (folder.with_name(f"{folder.name}_{number}") for number in range(2, 1000))
    return next(each for each in (folder, *names) if not each.exists())
