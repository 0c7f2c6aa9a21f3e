"""Puts a giving-out in force.

It is built beside the old one; a single rename makes it count, and what that rename promises is then carried out, by
the next command if this one was killed.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from grading.course.course import PART, Course, sync_folder, write_safely
from grading.given_out.given_out import FOLDER, given_out, is_kept
from grading.giving_out.zips import DATA, for_all, zips
from grading.gradebook.gradebook import dues_of, ids_of, opened, set_most_points
from grading.handins.which_counts import Due

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
        if (beside / DATA).exists() and not (
            home / name / DATA
        ).exists():  # given out by an earlier version of this program
            (beside / DATA).rename(home / name / DATA)
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
    with opened(course) as connection:  # points that were decided since count, whatever the notebook says
        set_most_points(connection, ids_of(connection, lesson), given_out(course, lesson).latest.most_points)
    _put_source(course, lesson, waiting / "source", about)
    released = _files(waiting / "release")
    _replace(course, lesson, released)
    put_zips(course, lesson, released)
    waiting.rename(waiting.parent / OVER)
    shutil.rmtree(waiting.parent / OVER)


def _put_source(course: Course, lesson: str, made: Path, about: dict[str, Any]) -> None:
    """Write the notebook as nbgrader keeps it, but not over what was changed there since it was looked at."""
    target = course.source(lesson)
    # nbgrader copies it from here, so nobody's numbers lie here either.
    write_safely(target.with_name(DATA), for_all(json.loads((made / DATA).read_bytes()), Due()))
    if not target.exists() or target.read_text(encoding="utf-8", errors="replace") == about["seen"]:
        write_safely(target, (made / target.name).read_bytes())


def put_zips(course: Course, lesson: str, released: Mapping[str, bytes]) -> None:
    """Write a zip for each badge, with its due time; those of badges that are no longer on the list go.

    What lies in as_sent, from where an exchange gives the same to all, holds nobody's numbers.
    """
    with opened(course) as connection:
        due = dues_of(connection, lesson).here()
    write_safely(course.root / "as_sent" / lesson / DATA, for_all(json.loads(released[DATA]), due))
    folder = course.root / TO_SEND / lesson
    folder.mkdir(parents=True, exist_ok=True)  # also where there is nobody to write a zip for
    written = set()
    for badge, data in zips(lesson, released, due):
        path = folder / f"{badge}.zip"
        if not path.exists() or path.read_bytes() != data:
            write_safely(path, data, lasting=False)  # what it is made of lasts
        written.add(path.name)
    for path in folder.iterdir():
        if path.name not in written:
            path.unlink()
    folder.with_suffix(".zip").unlink(missing_ok=True)  # one for the whole class, as there was earlier


def put_zips_anew(course: Course, lesson: str) -> None:
    """Write the zips of a lesson anew as it was given out last, as after its due time was moved."""
    kept = given_out(course, lesson).latest.folder / DATA
    if kept.exists():
        put_zips(course, lesson, {**_files(course.root / "as_sent" / lesson), DATA: kept.read_bytes()})


def empty_as_sent(course: Course) -> None:
    """Leave no numbers in as_sent of what an earlier version of this program gave out; its work orders are kept."""
    for path in course.root.glob(f"as_sent/*/{DATA}"):
        lesson, order = path.parent.name, _order(path)
        if order.get("badges") and is_kept(course, lesson):
            write_safely(given_out(course, lesson).latest.folder / DATA, path.read_bytes(), mode=0o600)
            with opened(course) as connection:
                due = dues_of(connection, lesson).here()
            write_safely(path, for_all(order, due))
            write_safely(course.source(lesson).with_name(DATA), for_all(order, Due()))


def _order(path: Path) -> dict[str, Any]:
    try:
        order = json.loads(path.read_text(encoding="utf-8", errors="replace"))
    except ValueError:
        order = None
    return order if isinstance(order, dict) else {}


def _files(folder: Path) -> dict[str, bytes]:
    found = (path for path in folder.rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in found}


def _replace(course: Course, lesson: str, released: Mapping[str, bytes]) -> None:
    """Put what goes to all in place of what was there; the work order follows with the zips."""
    folder = course.root / "as_sent" / lesson
    for name in sorted(released.keys() - {DATA}):
        write_safely(folder / name, released[name])
    for path in list(folder.rglob("*")):
        if path.is_file() and path.relative_to(folder).as_posix() not in released:
            path.unlink()
    for inside in sorted((path for path in folder.rglob("*") if path.is_dir()), reverse=True):
        if not any(inside.iterdir()):
            inside.rmdir()
