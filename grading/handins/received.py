"""Every file that came in, kept as it came: read-only, with its checksum."""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from types import MappingProxyType
from typing import Any

from grading.course.course import Course, write_safely
from grading.course.times import instant, of_file
from grading.handins.files import read_plain
from grading.handins.handin import UnusableError

_ENTRY: dict[str, type] = {
    "sha256": str,
    "origin": str,
    "when": str,
    "flags": list,
    "other": str,
    "blank": bool,
    "saved": str,
}
_MOST, _ANY = 100_000, 10**9  # bytes of a record; of a file that only has to be put aside
_NOTHING: Mapping[str, bytes] = MappingProxyType({})
STAMP_FILE, STAMP = "timestamp.txt", "%Y-%m-%d %H:%M:%S UTC"  # as nbgrader writes it


@dataclass(frozen=True)
class Entry:
    """One hand-in as it came."""

    sha256: str
    origin: str
    when: str  # ISO, UTC
    flags: list[str] = field(default_factory=list)  # for a person to look at
    other: str = ""  # another badge whose numbers or name it shows
    blank: bool = False  # nothing is answered
    saved: str = ""  # when the file was saved here, where `when` is only what the hand-in itself says

    @property
    def handed_in(self) -> datetime:
        """When it was handed in, to the second."""
        return datetime.fromisoformat(self.when).replace(microsecond=0)


def keep(course: Course, lesson: str, badge: str, data: bytes, entry: Entry, lasting: bool = True) -> bool:
    """Keep a hand-in; return whether it is new. Without `lasting`, the caller waits for the disk once for many."""
    path = _path(course, lesson, badge, entry.sha256)
    record = path.with_suffix(".json")
    if _size(path) == len(data) and record.exists():  # a power cut may have left it empty
        return False
    write_safely(path, data, mode=0o444, lasting=lasting)
    write_safely(record, json.dumps(vars(entry), ensure_ascii=False, indent=1), lasting=lasting)
    return True


def first_with(course: Course, lesson: str) -> dict[str, str]:
    """Return who handed in each file of a lesson first, by its checksum."""
    found: dict[str, tuple[int, str]] = {}
    for path in (course.root / "received" / lesson).glob("*/*.ipynb"):
        this = (path.lstat().st_mtime_ns, path.parent.name)  # it was written once, when it came in
        found[path.stem] = min(found.get(path.stem, this), this)
    return {sha256: badge for sha256, (_, badge) in found.items()}


def _size(path: Path) -> int:
    try:
        return path.stat().st_size
    except FileNotFoundError:
        return -1


def badges_of(course: Course, lesson: str) -> list[str]:
    """Return who handed in a lesson."""
    submitted = course.root / "handed_in"
    folders = submitted.iterdir() if submitted.is_dir() else ()
    return sorted(folder.name for folder in folders if (folder / lesson).is_dir())


def entries(course: Course, lesson: str, badge: str) -> list[Entry]:
    """Return what one apprentice has handed in, oldest first."""
    folder = course.root / f"received/{lesson}/{badge}"
    try:
        names = set(os.listdir(folder))  # noqa: PTH208 - names only
    except (FileNotFoundError, NotADirectoryError):
        return []
    records = (name for name in names if name.endswith(".json") and f"{name.removesuffix('.json')}.ipynb" in names)
    found = [_entry(folder / name) for name in records]
    return sorted(found, key=lambda entry: (datetime.fromisoformat(entry.when), entry.sha256))


def _entry(path: Path) -> Entry:
    """Read what is written down of a hand-in; a damaged record is made again from the file that was kept."""
    about = record_of(path, _ENTRY)
    when = instant(lambda: datetime.fromisoformat(about.get("when", "")))
    flags = about.get("flags", [])
    if when and about["sha256"] == path.stem and all(isinstance(each, str) for each in flags):
        saved = instant(lambda: datetime.fromisoformat(about.get("saved", "")))
        more = (about.get("other", ""), about.get("blank", False), saved.isoformat() if saved else "")
        return Entry(path.stem, about["origin"], when.isoformat(), flags, *more)
    flag = "its record in received/ was damaged, so the time of the file kept there counts"
    return Entry(path.stem, str(path), of_file(path.with_suffix(".ipynb")).isoformat(), [flag])


def record_of(path: Path, kinds: dict[str, type]) -> dict[str, Any]:
    """Read a record; an empty one where it is damaged."""
    try:
        about = json.loads(read_plain(path, _MOST).decode("utf-8"))
    except (UnusableError, ValueError, RecursionError):
        return {}
    right = isinstance(about, dict) and all(isinstance(about.get(name, kind()), kind) for name, kind in kinds.items())
    return about if right and {"sha256", "origin"} <= about.keys() else {}


def content(course: Course, lesson: str, badge: str, entry: Entry) -> bytes:
    """Return a hand-in as it came."""
    return read_plain(_path(course, lesson, badge, entry.sha256))


def place(
    course: Course, lesson: str, badge: str, entry: Entry, there: str = "", known: Mapping[str, bytes] = _NOTHING
) -> None:
    """Put the hand-in that counts where nbgrader and the marking look for it.

    `there` is the checksum of what lies there, if known; `known` are contents by checksum that need not be read.
    """
    target = course.submitted(badge, lesson)
    if not there and target.exists():
        there = hashlib.sha256(target.read_bytes()).hexdigest()
    if there != entry.sha256:
        data = known.get(entry.sha256) or content(course, lesson, badge, entry)
        write_safely(target, data, lasting=False)  # the original lasts; this copy can be made again
    stamp, beside = entry.handed_in.astimezone(UTC).strftime(STAMP) + "\n", target.with_name(STAMP_FILE)
    if _said_in(beside) != stamp.encode():
        write_safely(beside, stamp, lasting=False)


def _said_in(path: Path) -> bytes:
    """Return what a small file says; nothing if there is none, or if it is a link."""
    try:
        return read_plain(path, _MOST)
    except UnusableError:
        return b""


def told_in(path: Path) -> datetime | None:
    """Return the time that a timestamp file tells, or None."""
    try:
        text = read_plain(path, 200).decode()
    except (UnusableError, ValueError):
        return None
    return instant(lambda: datetime.fromisoformat(text.strip().replace(" UTC", "+00:00")))


def adopt(course: Course, lesson: str, badge: str) -> str:
    """Keep what another program, such as nbgrader's collect, put into submitted/, before it is replaced.

    Returns the checksum of what lies there, or nothing.
    """
    path = course.submitted(badge, lesson)
    if not path.is_file() or path.is_symlink():
        return ""
    data, when = read_plain(path, _ANY), told_in(path.with_name(STAMP_FILE)) or of_file(path)
    entry = Entry(hashlib.sha256(data).hexdigest(), str(path), when.isoformat())
    keep(course, lesson, badge, data, entry)
    return entry.sha256


def _path(course: Course, lesson: str, badge: str, sha256: str) -> Path:
    return course.root / f"received/{lesson}/{badge}/{sha256}.ipynb"
