"""Makes a working copy of the lessons, and brings the text of a newer package into it without losing what was typed.

A file is replaced in one step, and only after the old one lies whole in `put_aside`; the one exception is a file whose
text nobody has touched. So whatever stops this half-way, every answer stands in a whole file. The next start goes on.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from lessons.jupyter.carrying_over import (
    Notebook,
    answers_in,
    boxes_in,
    emptied,
    read_notebook,
    text_mark,
    with_answers,
)
from lessons.jupyter.locks import locked
from lessons.questions.progress import WORKING_COPY

LESSONS = Path(__file__).parents[1]
PUT_ASIDE = "put_aside"
CAME = "came.json"  # in the hidden folder: which text of each lesson the last package brought

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


@dataclass
class Made:
    """What became of the lessons of a working copy: how many files of each kind, and answers."""

    new: int = 0
    kept: int = 0
    renewed: int = 0  # have the text of a newer package now
    carried: int = 0  # answers that stand in a renewed file
    homeless: int = 0  # answers whose question is gone
    gone: int = 0  # lessons that the newer package no longer has
    aside: int = 0  # old files put aside
    aside_in: Path = Path()


@dataclass(frozen=True)
class _Older:
    """A file with the text of an earlier package: what was typed into it, and whether nothing was changed in it."""

    answers: Mapping[str, str]
    untouched: bool


def packaged(lessons: Path = LESSONS) -> list[Path]:
    """Return every notebook of the package."""
    return sorted(path for path in lessons.rglob("*.ipynb") if ".ipynb_checkpoints" not in path.parts)


def working_copy(folder: Path, *, fresh: bool = False, lessons: Path = LESSONS) -> Made:
    """Copy the lessons that are not there yet, and renew those whose text a newer package has changed.

    With `fresh` every lesson is put there as it comes; those that differ are put aside.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    folder.mkdir(parents=True, exist_ok=True)
    packed = {path.relative_to(lessons).as_posix(): _locked(path) for path in packaged(lessons)}
    marks = {place: text_mark(notebook) for place, notebook in packed.items()}
    came = _read_came(folder)
    made = Made(aside_in=_unused(folder / PUT_ASIDE / datetime.now().astimezone().strftime("%Y-%m-%d_%H-%M-%S")))
    if fresh:
        _bring_as_they_come(folder, packed, made)
    else:
        _bring_with_answers(folder, packed, _older(folder, marks, came), made)
    for place in came.keys() - marks.keys():
        if (folder / place).is_file():
            _put_aside(folder, place, made)
            (folder / place).unlink()
            made.gone += 1
    add_settings(folder)
    if came != marks:
        write_whole(folder / WORKING_COPY / CAME, json.dumps(marks, indent=1).encode())
    return made


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


def _bring_as_they_come(folder: Path, packed: Mapping[str, Notebook], made: Made) -> None:
    for place, notebook in packed.items():
        path, content = folder / place, _as_bytes(notebook)
        if path.is_file() and path.read_bytes() != content:
            _put_aside(folder, place, made)
        elif path.exists():
            made.kept += 1
            continue
        write_whole(path, content)
        made.new += 1


def _bring_with_answers(folder: Path, packed: Mapping[str, Notebook], older: Mapping[str, _Older], made: Made) -> None:
    """Write what is missing and what is older, with the answers of all older files: a question may have moved."""
    typed = {question_id: text for old in older.values() for question_id, text in old.answers.items()}
    for place, notebook in packed.items():
        path = folder / place
        if path.exists() and place not in older:
            made.kept += 1
            continue
        filled = with_answers(notebook, {**typed, **older[place].answers} if place in older else typed)
        if place in older:
            if not older[place].untouched:
                _put_aside(folder, place, made)
            made.renewed += 1
        else:
            made.new += 1
        write_whole(path, _as_bytes(filled))
        made.carried += len(answers_in(filled))
    made.homeless = len(typed.keys() - {each for notebook in packed.values() for each in boxes_in(notebook)})


def _older(folder: Path, marks: Mapping[str, str], came: Mapping[str, str]) -> dict[str, _Older]:
    """Return the files whose text is not the package's, though the package brings another text than last time.

    What a reader changes in a lesson while the package stays the same is left alone. A lesson that the package
    no longer has is older too.
    """
    found = {}
    for place in {**came, **marks}:
        path, brings = folder / place, marks.get(place, "")
        if came.get(place) == brings or not path.is_file():
            continue
        notebook = read_notebook(path.read_bytes())
        if notebook is None:
            found[place] = _Older({}, untouched=False)
        elif text_mark(emptied(notebook)) != brings:
            found[place] = _Older(answers_in(notebook), untouched=text_mark(notebook) == came.get(place))
    return found


def _read_came(folder: Path) -> dict[str, str]:
    """Return which text of each lesson came last; nothing for a working copy from before that was written down."""
    try:
        came = json.loads((folder / WORKING_COPY / CAME).read_bytes())
    except (FileNotFoundError, ValueError):
        return {}
    return {place: mark for place, mark in came.items() if isinstance(mark, str)} if isinstance(came, dict) else {}


def _locked(lesson: Path) -> Notebook:
    return locked(json.loads(lesson.read_text(encoding="utf-8")))


def _as_bytes(notebook: Notebook) -> bytes:
    return (json.dumps(notebook, ensure_ascii=False, indent=1, sort_keys=True) + "\n").encode("utf-8", "replace")


def _put_aside(folder: Path, place: str, made: Made) -> None:
    """Copy a file whole; the one in its place is taken away only after that."""
    write_whole(made.aside_in / place, (folder / place).read_bytes())
    made.aside += 1


def write_whole(path: Path, content: bytes) -> None:
    """Write a file whole or not at all: half a lesson would be kept as somebody's work the next time."""
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        part.write_bytes(content)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)


def _unused(folder: Path) -> Path:
    """Return the folder, or one with a number behind it if it is there already."""
    names = (folder.with_name(f"{folder.name}_{number}") for number in range(2, 1000))
    return next(each for each in (folder, *names) if not each.exists())
