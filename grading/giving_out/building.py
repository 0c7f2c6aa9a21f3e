"""Builds a giving-out in a folder of its own, away from the course, so that nothing is lost if it fails."""

from __future__ import annotations

import hashlib
import json
import shutil
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from sqlalchemy import select

from grading.course.course import SETTINGS, Course, CourseError, write_safely
from grading.given_out.given_out import KEYS, SOURCE, given_out, is_kept
from grading.giving_out.put_out import ABOUT, WAITING
from grading.giving_out.source_edits import Base
from grading.giving_out.zips import DATA
from grading.gradebook import tables as t
from grading.gradebook.gradebook import opened
from grading.handins.received import badges_of
from grading.workorders import pool


@dataclass(frozen=True)
class Built:
    """A giving-out that is whole but does not count yet."""

    id: str
    lesson: str
    keys: Mapping[str, Any]
    source: Mapping[str, bytes]
    released: Mapping[str, bytes]
    seen: str | None

    @property
    def notebook(self) -> dict[str, Any]:
        """The notebook as it goes out."""
        read: dict[str, Any] = json.loads(self.released[f"{self.lesson}.ipynb"])
        return read

    def files(self, due: datetime | None) -> dict[str, bytes]:
        """Return everything to be written, by its place in the folder of the giving-out."""
        about = {"due": due.isoformat() if due else None, "seen": self.seen}
        kept = {KEYS: _json(self.keys), SOURCE: self.source[f"{self.lesson}.ipynb"]}
        kept |= {name: self.released[name] for name in (f"{self.lesson}.ipynb", DATA)}
        waiting = {ABOUT: _json(about)}
        waiting |= {f"source/{name}": data for name, data in self.source.items()}
        waiting |= {f"release/{name}": data for name, data in self.released.items()}
        return kept | {f"{WAITING}/{name}": data for name, data in waiting.items()}


def build(
    course: Course, lesson: str, base: Base, prepared: dict[str, Any], work_order: str, keys: Mapping[str, Any]
) -> Built:
    """Make all that is given out and all that is kept of it, from the notebook with its marks and the work order.

    Raises
    ------
    CourseError
        If nbgrader refuses.
    """
    order = work_order.encode("utf-8", "replace")
    with tempfile.TemporaryDirectory(prefix="give-out-") as folder:
        bench = _bench(course, lesson, Path(folder).resolve())
        place = bench.source(lesson).parent
        others = {path.relative_to(place).as_posix(): path.read_bytes() for path in place.rglob("*") if path.is_file()}
        name = _name(course, lesson, keys, {**others, DATA: order, "": _json(prepared)})
        prepared["metadata"]["work_order"]["given_out"] = name
        source = {f"{lesson}.ipynb": _text(prepared), DATA: order}
        for file, data in source.items():
            write_safely(place / file, data, lasting=False)
        generate(bench, lesson)
        released = _files(bench.root / "as_sent" / lesson)
    if not {f"{lesson}.ipynb", DATA} <= released.keys():
        raise CourseError(f"{lesson} could not be prepared, and nbgrader did not say why. Nothing was changed.")
    about = base.about | {"work_order": hashlib.sha256(order).hexdigest(), "made_by": pool.made_by(course)}
    kept = dict(keys) | {"lesson": lesson, "when": datetime.now(UTC).isoformat(), "source": about}
    return Built(name, lesson, kept, source, released, base.seen)


def generate(course: Course, lesson: str) -> None:
    """Have nbgrader write the release of a course folder and enter the lesson into its gradebook."""
    from grading.gradebook.nbgrader_calls import run  # takes two seconds to load, which marking does not need

    run(course, "GenerateAssignment", lesson)


def _bench(course: Course, lesson: str, root: Path) -> Course:
    """Make a course folder to work in, with the instructor's own files and a gradebook that is thrown away."""
    shutil.copy(course.root / "nbgrader_config.py", root / "nbgrader_config.py")
    write_safely(root / SETTINGS, '{"gradebook": ""}', lasting=False)
    place = root / "lessons" / lesson
    if course.source(lesson).parent.is_dir():
        shutil.copytree(course.source(lesson).parent, place, ignore=shutil.ignore_patterns(".ipynb_checkpoints"))
        for name in (f"{lesson}.ipynb", DATA):
            (place / name).unlink(missing_ok=True)
    place.mkdir(parents=True, exist_ok=True)
    return Course(root)


def _files(folder: Path) -> dict[str, bytes]:
    found = (path for path in sorted(folder.rglob("*")) if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in found}


def _name(course: Course, lesson: str, keys: Mapping[str, Any], files: Mapping[str, bytes]) -> str:
    """Return number and mark of a giving-out, which every notebook of it carries; the same one again keeps them."""
    digest = hashlib.sha256(json.dumps(keys, sort_keys=True).encode())
    for name, data in sorted(files.items()):
        digest.update(name.encode() + b"\0" + data)
    mark = digest.hexdigest()[:8]
    if not is_kept(course, lesson):
        earlier = lesson in course.lessons()  # given out without its keys, and changed since
        return f"{1 + earlier}-{mark}"
    number, _, latest = given_out(course, lesson).latest.id.partition("-")
    return f"{number}-{mark}" if latest == mark else f"{int(number) + 1}-{mark}"


def came_back(course: Course, lesson: str) -> int:
    """Count the apprentices whose hand-ins of a lesson came back or are in the gradebook."""
    badges = set(badges_of(course, lesson))
    with opened(course) as connection:
        if connection.dialect.has_table(connection, "submitted_assignment"):
            joined = t.submission.join(t.assignment, t.assignment.c.id == t.submission.c.assignment_id)
            of_lesson = select(t.submission.c.student_id).select_from(joined).where(t.assignment.c.name == lesson)
            badges |= set(connection.execute(of_lesson).scalars())
    return len(badges)


def _json(data: Mapping[str, Any]) -> bytes:
    return json.dumps(data, ensure_ascii=False).encode("utf-8", "replace")


def _text(notebook: Mapping[str, Any]) -> bytes:
    return (json.dumps(notebook, ensure_ascii=False, indent=1) + "\n").encode("utf-8", "replace")
