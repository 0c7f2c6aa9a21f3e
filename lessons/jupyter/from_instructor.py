"""What the instructor sends to one apprentice on a hub: work orders and marked pages, from a box only both can open.

Each giving-out gets a folder of its own in the working copy, so that nothing an apprentice typed is ever written over.
"""

from __future__ import annotations

import json
import os
import shutil
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from lessons.jupyter.working_copy import write_whole

BOX = "OSTREL_BOX"  # the variable that names the box; the hub sets it
ABOUT = "about.json"
ORDERS, MARKED = "work_orders", "marked"  # folders in the box
FOLDER = "from_instructor"  # in the working copy


@dataclass(frozen=True)
class Sent:
    """One work order in the working copy."""

    lesson: str
    notebook: Path
    page: Path | None = None  # what it came back with


def box() -> Path | None:
    """Return the box of whoever works here, where there is one."""
    named = os.environ.get(BOX, "")
    return Path(named) if named and (Path(named) / ABOUT).is_file() else None


def about(of: Path) -> dict[str, str]:
    """Tell whose box it is: badge, units and the course."""
    read = json.loads((of / ABOUT).read_text(encoding="utf-8"))
    return {name: str(value) for name, value in read.items()}


def fetch(home: Path) -> None:
    """Bring what is new in the box into the working copy; what is there stays as it is."""
    here = box()
    if here is None:
        return
    for packed in sorted((here / ORDERS).glob("*.zip")):
        _unpack(packed, home / FOLDER)
    for page in sorted((here / MARKED).glob("*.html")):
        _copy(page, home / FOLDER / MARKED / page.name)


def sent(home: Path) -> list[Sent]:
    """Return the latest work order of each lesson that came."""
    latest: dict[str, Path] = {}
    for notebook in sorted(_unpacked(home / FOLDER), key=lambda path: _number(path.parents[1].name)):
        latest[notebook.stem] = notebook
    pages = home / FOLDER / MARKED
    return [
        Sent(lesson, notebook, pages / f"{lesson}.html" if (pages / f"{lesson}.html").is_file() else None)
        for lesson, notebook in sorted(latest.items())
    ]


def _unpacked(folder: Path) -> Iterator[Path]:
    """Give each work order that was unpacked: NUMBER-MARK/LESSON/LESSON.ipynb."""
    return (path for path in folder.glob("*-*/*/*.ipynb") if path.stem == path.parent.name)


def _number(name: str) -> int:
    number = name.partition("-")[0]
    return int(number) if number.isdecimal() else 0


def _unpack(packed: Path, folder: Path) -> None:
    """Unpack NUMBER-MARK+LESSON.zip under the name of its giving-out, whole or not at all."""
    given_out, _, lesson = packed.stem.partition("+")
    place = folder / given_out / lesson
    if place.exists():
        return
    beside = place.with_name(f".{lesson}.part")
    shutil.rmtree(beside, ignore_errors=True)
    with zipfile.ZipFile(packed) as archive:
        archive.extractall(beside)  # made by the instructor; nobody else writes to the box
    (beside / lesson).rename(place)
    shutil.rmtree(beside)


def _copy(page: Path, to: Path) -> None:
    data = page.read_bytes()
    if not to.is_file() or to.read_bytes() != data:
        write_whole(to, data)
