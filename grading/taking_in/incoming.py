"""Walks over what came back: folders, zips, e-mails: notebooks as bytes, and a sentence for the rest.

Each item has a guard of its own: whatever is wrong with one, the others are read.
"""

from __future__ import annotations

import io
import os
import stat
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from pathlib import Path

from grading.course import plain
from grading.course.times import instant, of_file
from grading.handins.files import read_plain
from grading.handins.handin import MAX_BYTES, UnusableError
from grading.taking_in.mails import MAX_MAIL, mails_of, read_mail

MAX_MEMBERS = 1_000
MAX_CONTAINER = 200_000_000
MAX_UNPACKED = 500_000_000  # of one zip
_DEEPEST = 8  # folders, from the file up, whose names are looked at
_PATH = 5_000  # letters of a path that are kept, more than a system takes; the other limits are for what is shown
_SILENT = {
    ".txt",
    ".json",
    ".jsonl",
}  # timestamps, the work order's numbers, progress: they come along with a notebook
_KNOWN_PACKING = (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED)  # the others take memory as a crafted file says


@dataclass(frozen=True)
class Item:
    """One file that came in: a notebook, or a problem with a sentence."""

    origin: str  # for people
    names: tuple[str, ...]  # folder, zip, subject, file: whatever may hold the badge
    when: datetime
    data: bytes | None = None
    problem: str = ""
    remark: str = ""  # for a person to look at, where it can be used all the same


def walk(folder: Path) -> Iterator[Item]:
    """Give everything that was handed in under a folder, or in one file."""
    if folder.is_file() or folder.is_symlink():
        yield from _guarded(folder, (plain.line(folder.name),))
        return
    waiting = [folder]  # not os.walk, which calls itself for each level: folders may lie as deep as a path is long
    while waiting:
        here = waiting.pop()
        try:
            paths = [here / name for name in sorted(filter(_wanted, os.listdir(here)))]  # noqa: PTH208 - names only
        except OSError as problem:
            yield _problem(here, (plain.line(here.name),), f"the folder cannot be opened ({problem.strerror})")
            continue
        waiting += [path for path in reversed(paths) if _is_folder(path)]
        for path in (each for each in paths if not _is_folder(each)):
            yield from _guarded(path, tuple(map(plain.line, path.relative_to(folder).parts[-_DEEPEST:])))


def _is_folder(path: Path) -> bool:
    return os.path.isdir(path) and not os.path.islink(path)  # noqa: PTH112, PTH114 - these never raise


def _wanted(name: str) -> bool:
    return not name.startswith(".") and name not in ("__MACOSX", "__pycache__")


def _guarded(path: Path, names: tuple[str, ...]) -> Iterator[Item]:
    try:
        yield from _file(path, names)
    except UnusableError as problem:
        yield _problem(path, names, str(problem))
    except Exception as problem:
        yield _problem(path, names, fault(problem))


def fault(problem: Exception) -> str:
    """Return the sentence for what nobody foresaw."""
    return f"a fault in this program kept it from being read ({plain.line(repr(problem))}); please report it"


def _file(path: Path, names: tuple[str, ...]) -> Iterator[Item]:
    suffix = path.suffix.lower()
    if suffix in _SILENT:
        return
    if os.path.isdir(path):  # noqa: PTH112 - as above
        raise UnusableError("it is a link to another folder, and links are not followed")
    origin = plain.line(str(path), _PATH)
    if suffix == ".mbox":
        yield from _mailbox(path, origin, names)
        return
    limit = {".zip": MAX_CONTAINER, ".eml": MAX_MAIL}.get(suffix, MAX_BYTES)
    yield from _content(read_plain(path, limit), suffix, origin, names, _when(path))


def _content(data: bytes, suffix: str, origin: str, names: tuple[str, ...], when: datetime) -> Iterator[Item]:
    if suffix == ".ipynb":
        yield Item(origin, names, when, data)
    elif suffix == ".zip":
        yield from _zip(data, origin, names)
    elif suffix == ".eml":
        yield from _mail(data, origin, names, when)
    else:
        sentence = "it is neither a notebook (.ipynb) nor a zip; ask for the notebook itself"
        yield Item(origin, names, when, data if len(data) <= MAX_BYTES else None, sentence)


def _zip(data: bytes, origin: str, names: tuple[str, ...]) -> Iterator[Item]:
    """Read the notebooks of a zip in memory; nothing is unpacked, so a path in it can lead nowhere."""
    now = datetime.now(UTC)
    count = data.count(b"PK\x01\x02")  # one for each file; counted before the library makes an object of each
    if count > MAX_MEMBERS:
        yield Item(origin, names, now, None, f"the zip holds {count} files; ask for the notebook itself")
        return
    try:
        archive = zipfile.ZipFile(io.BytesIO(data))
        members = archive.infolist()
    except Exception:  # a crafted one is refused in many ways
        yield Item(origin, names, now, data[:MAX_BYTES], "it is a damaged zip; ask for it again")
        return
    notebooks = [each for each in members if each.filename.lower().endswith(".ipynb") and _inside(each)]
    if not notebooks:
        yield Item(origin, names, now, None, "there is no notebook in the zip; ask for the notebook itself")
    left = MAX_UNPACKED
    for member in notebooks:
        item = _member(archive, member, origin, names, left)
        left -= len(item.data or b"")
        yield item


def _inside(member: zipfile.ZipInfo) -> bool:
    return all(map(_wanted, [part for part in member.filename.split("/") if part not in ("..", "")]))


def _member(archive: zipfile.ZipFile, member: zipfile.ZipInfo, origin: str, names: tuple[str, ...], left: int) -> Item:
    parts = [part for part in member.filename.replace("\\", "/").split("/") if part not in ("", ".", "..")]
    where, all_names = f"{origin} > {plain.line(member.filename[-200:])}", (*names, *map(plain.line, parts[-_DEEPEST:]))
    when = instant(lambda: datetime(*member.date_time).astimezone()) or datetime.now(UTC)
    try:
        return Item(where, all_names, when, _unpacked(archive, member, left))
    except UnusableError as problem:
        return Item(where, all_names, when, None, str(problem))


def _unpacked(archive: zipfile.ZipFile, member: zipfile.ZipInfo, left: int) -> bytes:
    if stat.S_ISLNK(member.external_attr >> 16):
        raise UnusableError("it is a link, not a notebook; ask for the notebook itself")
    if member.flag_bits & 1:
        raise UnusableError("it is locked with a password; ask for it again")
    if member.compress_type not in _KNOWN_PACKING:
        raise UnusableError("it is packed in a way that cannot be read here; ask for the notebook itself")
    if left < MAX_BYTES:
        raise UnusableError(
            f"the zip unpacks to more than {MAX_UNPACKED / 1e6:.0f} MB; take it in as several smaller zips"
        )
    try:
        with archive.open(member) as file:
            data = file.read(MAX_BYTES + 1)  # whatever size the zip claims, no more than this is unpacked
    except Exception:  # the library says it in many ways, and its unpacker in others
        raise UnusableError("the zip is damaged here; ask for it again") from None
    if len(data) > MAX_BYTES:
        raise UnusableError(
            f"it unpacks to more than {MAX_BYTES / 1e6:.0f} MB, so it was not read; ask for the notebook itself"
        )
    return data


def _mailbox(path: Path, origin: str, names: tuple[str, ...]) -> Iterator[Item]:
    for number, data in enumerate(mails_of(path), start=1):
        # No name of the export itself: it stands for all in it.
        yield from _mail(data, f"{origin} > message {number}", names[:-1], _when(path))


def _mail(data: bytes, origin: str, names: tuple[str, ...], when: datetime) -> Iterator[Item]:
    try:
        mail = read_mail(data)
    except UnusableError as problem:
        yield Item(origin, names or (origin,), when, None, str(problem))
        return
    except Exception as problem:
        yield Item(origin, names or (origin,), when, None, fault(problem))
        return
    if not mail.attached:
        sentence = f"the e-mail “{plain.line(mail.subject, 60)}” has no notebook attached"
        yield Item(origin, (*names, mail.subject), mail.sent or when, None, sentence)
    remark = "" if mail.sent else "the date of its e-mail cannot be used, so the time of the saved file counts"
    for name, content in mail.attached:
        suffix, said = Path(name).suffix.lower(), (*names, mail.subject, name)
        for item in _content(content, suffix, f"{origin} > {name}", said, mail.sent or when):
            yield item if item.problem else replace(item, remark=remark)


def _when(path: Path) -> datetime:
    """Return when a file was handed in: as nbgrader's exchange wrote it, or the file's own time."""
    try:
        text = read_plain(path.parent / "timestamp.txt", 200).decode()
    except (UnusableError, ValueError):
        return of_file(path)
    told = instant(lambda: datetime.fromisoformat(text.strip().replace(" UTC", "+00:00")))
    return told or of_file(path)


def _problem(path: Path, names: tuple[str, ...], sentence: str) -> Item:
    return Item(plain.line(str(path), _PATH), names, of_file(path), None, sentence)
