"""Puts a giving-out in force.

It is built beside the old one; a single rename makes it count, and what that rename promises is then carried out, by
the next command if this one was killed.
"""

from __future__ import annotations

import json
import shutil
from datetime import datetime
from pathlib import Path
from typing import Any

from grading.course.course import PART, Course, sync_folder, write_safely
from grading.given_out.given_out import FOLDER
from grading.giving_out.zips import zips

TO_SEND = "to_send"
WAITING, OVER = "to_put_out", ".over"  # in the folder of a giving-out
UNFINISHED = ".new-"  # how the folder's name begins while it is built
ABOUT = "about.json"


def commit(course: Course, lesson: str, name: str, files: dict[str, bytes]) -> None:
    """Make a giving-out count: its folder appears whole, under its name, or not at all.

    The same one once more, such as with another due time: only what is to be put out appears in its folder.
    """
    home = course.root / FOLDER / lesson
    home.mkdir(parents=True, exist_ok=True, mode=0o700)
    (course.root / FOLDER).chmod(0o700)
    for left_over in home.glob(f"{UNFINISHED}*"):
        shutil.rmtree(left_over)
    beside = home / f"{UNFINISHED}{name}"
    for place, data in files.items():
        write_safely(beside / place, data, mode=0o600)
    if (home / name).exists():
        (beside / WAITING).rename(home / name / WAITING)
        shutil.rmtree(beside)
    else:
        beside.rename(home / name)
    sync_folder(home)


def finish(course: Course) -> None:
    """Carry out every giving-out that counts and was cut short."""
    for folder in sorted((course.root / FOLDER).glob(f"*/[0-9]*/{WAITING}")):
        put_out(course, folder)
    for folder in (course.root / FOLDER).glob(f"*/[0-9]*/{OVER}"):
        shutil.rmtree(folder)
    for place in (".", "to_send", "to_send/*", "lessons/*", "as_sent/*"):
        for part in course.root.glob(f"{place}/{PART}*"):  # of a command that was killed while it wrote
            part.unlink()


def put_out(course: Course, waiting: Path) -> None:
    """Enter a lesson into the gradebook and replace its files one by one; at no moment is one missing."""
    from grading.giving_out.entering import enter

    lesson = waiting.parent.parent.name
    about = json.loads((waiting / ABOUT).read_text(encoding="utf-8"))
    notebook = json.loads((waiting / "release" / f"{lesson}.ipynb").read_text(encoding="utf-8"))
    enter(course, lesson, notebook, datetime.fromisoformat(about["due"]) if about["due"] else None)
    _put_source(course, lesson, waiting / "source", about)
    _replace(course.root / "as_sent" / lesson, waiting / "release")
    _put_zips(course, lesson, waiting / "release")
    waiting.rename(waiting.parent / OVER)
    shutil.rmtree(waiting.parent / OVER)


def _put_source(course: Course, lesson: str, made: Path, about: dict[str, Any]) -> None:
    """Write the notebook as nbgrader keeps it, but not over what was changed there since it was looked at."""
    target = course.source(lesson)
    write_safely(target.with_name("workorder.json"), (made / "workorder.json").read_bytes())
    if not target.exists() or target.read_text(encoding="utf-8", errors="replace") == about["seen"]:
        write_safely(target, (made / target.name).read_bytes())


def _put_zips(course: Course, lesson: str, released: Path) -> None:
    """Write a zip for each badge; those of badges that are no longer on the list go."""
    folder = course.root / TO_SEND / lesson
    files = {path.relative_to(released).as_posix(): path for path in released.rglob("*") if path.is_file()}
    written = set()
    for badge, data in zips(lesson, {name: path.read_bytes() for name, path in files.items()}):
        write_safely(folder / f"{badge}.zip", data, lasting=False)  # what it is made of lasts
        written.add(f"{badge}.zip")
    for path in folder.iterdir():
        if path.name not in written:
            path.unlink()
    folder.with_suffix(".zip").unlink(missing_ok=True)  # one for the whole class, as there was earlier


def _replace(folder: Path, made: Path) -> None:
    wanted = {path.relative_to(made) for path in made.rglob("*") if path.is_file()}
    for name in sorted(wanted):
        write_safely(folder / name, (made / name).read_bytes())
    for path in list(folder.rglob("*")):
        if path.is_file() and path.relative_to(folder) not in wanted:
            path.unlink()
    for inside in sorted((path for path in folder.rglob("*") if path.is_dir()), reverse=True):
        if not any(inside.iterdir()):
            inside.rmdir()
