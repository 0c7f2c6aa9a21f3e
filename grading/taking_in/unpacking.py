"""Unpacks zips in memory, zips in zips too; nothing is written, so a path in one can lead nowhere.

What a crafted zip claims counts for nothing: what is unpacked is counted, in all of one file that came in.
"""

from __future__ import annotations

import contextlib
import io
import stat
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from grading.course import plain
from grading.course.times import instant
from grading.handins.handin import MAX_BYTES, UnusableError
from lessons.units.readout import counted

MAX_MEMBERS = 2_000  # of one file that came in, zips in zips counted too
MAX_UNPACKED = 400_000_000
MAX_INNER = 50_000_000  # of a zip in a zip
MAX_DEPTH = 4  # zips in one another: an export of a class holds zips of apprentices, which may hold zips
READ = (".ipynb", ".zip", ".eml")
# What some browsers make of the name of a notebook that they save.
_MADE_OF_IT = (".ipynb.txt", ".ipynb.json")
_SAYS_UTF8 = 0x800
_LONGEST = 200  # letters of a name in a zip that are shown
_KNOWN_PACKING = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)  # the others take memory as a crafted file says


@dataclass
class Budget:
    """What may still be unpacked of one file that came in."""

    left: int = -1
    files: int = -1

    def __post_init__(self) -> None:
        self.left, self.files = MAX_UNPACKED, MAX_MEMBERS


@dataclass(frozen=True)
class Member:
    """One file of a zip, or the sentence that says why it cannot be read."""

    origin: str
    names: tuple[str, ...]  # folders and file
    suffix: str = ""
    data: bytes | None = None
    problem: str = ""
    told: datetime | None = None  # the time that the zip gives it


def suffix_of(name: str) -> str:
    """Return what a file is by the end of its name, a notebook also where a browser wrote another end behind it.

    >>> suffix_of("4711.IPYNB"), suffix_of("4711.ipynb.txt"), suffix_of("4711.ipynb. "), suffix_of("zip")
    ('.ipynb', '.ipynb', '.ipynb', '')
    """
    small = name.lower().rstrip(". ")  # as some systems leave them behind a name
    if small.endswith(_MADE_OF_IT):
        return ".ipynb"
    _, dot, end = small.rpartition("/")[2].rpartition(".")
    return f"{dot}{end}" if dot else ""


def members(data: bytes, origin: str, budget: Budget, depth: int = 1) -> Iterator[Member]:
    """Give the notebooks and mails of a zip, and of zips in it."""
    try:
        files = _opened(data, budget, depth)
    except UnusableError as problem:
        yield Member(origin, (), problem=str(problem), data=data[:MAX_BYTES])
        return
    archive, wanted = files
    if not wanted:
        yield Member(origin, (), problem="there is no notebook in the zip; ask for the notebook itself")
    for each in wanted:
        yield from _member(archive, each, origin, budget, depth)


def _opened(data: bytes, budget: Budget, depth: int) -> tuple[zipfile.ZipFile, list[zipfile.ZipInfo]]:
    if depth > MAX_DEPTH:
        raise UnusableError(f"it holds more than {MAX_DEPTH} zips inside one another; ask for the notebook itself")
    count = data.count(b"PK\x01\x02")  # one for each file; counted before the library makes an object of each
    budget.files -= count
    if budget.files < 0:
        raise UnusableError(f"the zip holds {counted(count, 'file')}, more than are read; ask for the notebook itself")
    try:
        archive = zipfile.ZipFile(io.BytesIO(data))
        listed = archive.infolist()
    except Exception:  # a crafted one is refused in many ways
        raise UnusableError("it is a damaged zip; ask for it again") from None
    return archive, [each for each in listed if suffix_of(each.filename) in READ and _inside(each)]


def _inside(member: zipfile.ZipInfo) -> bool:
    return all(map(wanted, [part for part in member.filename.split("/") if part not in ("..", "")]))


def wanted(name: str) -> bool:
    """Tell whether a file or folder is somebody's work, by its name: not what systems put beside it."""
    return not name.startswith(".") and name not in ("__MACOSX", "__pycache__")


def _member(
    archive: zipfile.ZipFile, member: zipfile.ZipInfo, origin: str, budget: Budget, depth: int
) -> Iterator[Member]:
    name = _spelled(member)
    parts = [part for part in name.replace("\\", "/").split("/") if part not in ("", ".", "..")]
    where, names = f"{origin} > {plain.line(name[-_LONGEST:])}", tuple(map(plain.line, parts))
    told = instant(lambda: datetime(*member.date_time).astimezone())
    suffix = suffix_of(member.filename)
    try:
        data = _unpacked(archive, member, budget, MAX_INNER if suffix == ".zip" else MAX_BYTES)
    except UnusableError as problem:
        yield Member(where, names, suffix, problem=str(problem), told=told)
        return
    if suffix != ".zip":
        yield Member(where, names, suffix, data, told=told)
        return
    for inner in members(data, where, budget, depth + 1):
        yield Member(inner.origin, (*names, *inner.names), inner.suffix, inner.data, inner.problem, inner.told)


def _spelled(member: zipfile.ZipInfo) -> str:
    """Return a name as it was meant: some programs write UTF-8 and do not say so."""
    if not member.flag_bits & _SAYS_UTF8:
        with contextlib.suppress(UnicodeError):
            return member.filename.encode("cp437").decode("utf-8")
    return member.filename


def _unpacked(archive: zipfile.ZipFile, member: zipfile.ZipInfo, budget: Budget, most: int) -> bytes:
    if stat.S_ISLNK(member.external_attr >> 16):
        raise UnusableError("it is a link, not a notebook; ask for the notebook itself")
    if member.flag_bits & 1:
        raise UnusableError("it is locked with a password; ask for it again")
    if member.compress_type not in _KNOWN_PACKING:
        raise UnusableError("it is packed in a way that cannot be read here; ask for the notebook itself")
    allowed = min(most, budget.left)
    try:
        with archive.open(member) as file:
            data = file.read(allowed + 1)  # whatever size the zip claims, no more than this is unpacked
    except Exception:  # the library says it in many ways, and its unpacker in others
        raise UnusableError("the zip is damaged here; ask for it again") from None
    budget.left = max(0, budget.left - len(data))
    if len(data) > allowed < most:
        raise UnusableError(
            f"the zip unpacks to more than {MAX_UNPACKED / 1e6:.0f} MB; take it in as several smaller zips"
        )
    if len(data) > most:
        raise UnusableError(
            f"it unpacks to more than {most / 1e6:.0f} MB, so it was not read; ask for the notebook itself"
        )
    return data
