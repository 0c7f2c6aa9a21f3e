"""Walks over what came back: folders, zips, e-mails: notebooks as bytes, and a sentence for the rest."""

from __future__ import annotations

import email
import email.policy
import io
import mailbox
import os
import stat
import zipfile
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from email.message import EmailMessage
from email.utils import parsedate_to_datetime
from pathlib import Path

from grading.files import read_plain
from grading.handin import MAX_BYTES, UnusableError

MAX_MEMBERS = 1_000
MAX_CONTAINER = 200_000_000
_SILENT = {
    ".txt",
    ".json",
    ".jsonl",
}  # timestamps, the work order's numbers, progress: they come along with a notebook


@dataclass(frozen=True)
class Item:
    """One file that came in: a notebook, or a problem with a sentence."""

    origin: str  # for people
    names: tuple[str, ...]  # folder, zip, subject, file: whatever may hold the badge
    when: datetime
    data: bytes | None = None
    problem: str = ""


def walk(folder: Path) -> Iterator[Item]:
    """Give everything that was handed in under a folder, or in one file."""
    if folder.is_file() or folder.is_symlink():
        yield from _file(folder, (folder.name,))
        return
    for here, folders, files in os.walk(folder):
        folders[:] = sorted(each for each in folders if _wanted(each))
        for name in sorted(filter(_wanted, files)):
            path = Path(here) / name
            yield from _file(path, path.relative_to(folder).parts)
        for name in folders:
            if (Path(here) / name).is_symlink():
                yield _problem(
                    Path(here) / name, (name,), "it is a link to another folder, which is not followed"
                )


def _wanted(name: str) -> bool:
    return not name.startswith(".") and name not in ("__MACOSX", "__pycache__")


def _file(path: Path, names: tuple[str, ...]) -> Iterator[Item]:
    suffix = path.suffix.lower()
    if suffix in _SILENT:
        return
    try:
        if suffix == ".mbox":
            yield from _mailbox(path, names)
            return
        limit = MAX_CONTAINER if suffix in (".zip", ".eml") else MAX_BYTES
        yield from _content(read_plain(path, limit), suffix, str(path), names, _when(path))
    except UnusableError as problem:
        yield _problem(path, names, str(problem))


def _content(data: bytes, suffix: str, origin: str, names: tuple[str, ...], when: datetime) -> Iterator[Item]:
    if suffix == ".ipynb":
        yield Item(origin, names, when, data)
    elif suffix == ".zip":
        yield from _zip(data, origin, names)
    elif suffix == ".eml":
        yield from _message(_parsed(data), origin, names, when)
    else:
        sentence = "it is neither a notebook (.ipynb) nor a zip; ask for the notebook itself"
        yield Item(origin, names, when, data if len(data) <= MAX_BYTES else None, sentence)


def _zip(data: bytes, origin: str, names: tuple[str, ...]) -> Iterator[Item]:
    """Read the notebooks of a zip in memory; nothing is unpacked, so a path in it can lead nowhere."""
    now = datetime.now(UTC)
    try:
        archive = zipfile.ZipFile(io.BytesIO(data))
        members = archive.infolist()
    except (zipfile.BadZipFile, ValueError, NotImplementedError, OSError):
        yield Item(origin, names, now, data[:MAX_BYTES], "it is a damaged zip; ask for it again")
        return
    notebooks = [each for each in members if each.filename.lower().endswith(".ipynb") and _inside(each)]
    if len(members) > MAX_MEMBERS or not notebooks:
        sentence = f"the zip holds {len(members)} files" if notebooks else "there is no notebook in the zip"
        yield Item(origin, names, now, None, f"{sentence}; ask for the notebook itself")
        return
    for member in notebooks:
        yield _member(archive, member, origin, names)


def _inside(member: zipfile.ZipInfo) -> bool:
    return all(map(_wanted, [part for part in member.filename.split("/") if part not in ("..", "")]))


def _member(archive: zipfile.ZipFile, member: zipfile.ZipInfo, origin: str, names: tuple[str, ...]) -> Item:
    parts = tuple(
        part for part in member.filename.replace("\\", "/").split("/") if part not in ("", ".", "..")
    )
    where, all_names = f"{origin} > {member.filename[-200:]}", names + parts
    try:
        when = datetime(*member.date_time).astimezone(UTC)
    except (ValueError, OverflowError):
        when = datetime.now(UTC)
    if stat.S_ISLNK(member.external_attr >> 16):
        return Item(where, all_names, when, None, "it is a link, not a notebook; ask for the notebook itself")
    try:
        with archive.open(member) as file:
            data = file.read(MAX_BYTES + 1)  # whatever size the zip claims, no more than this is unpacked
    except (zipfile.BadZipFile, RuntimeError, NotImplementedError, EOFError, OSError, ValueError) as problem:
        sentence = "it is locked with a password" if "password" in str(problem) else "the zip is damaged here"
        return Item(where, all_names, when, None, f"{sentence}; ask for it again")
    if len(data) > MAX_BYTES:
        return Item(
            where,
            all_names,
            when,
            None,
            f"it unpacks to more than {MAX_BYTES / 1e6:.0f} MB and was left alone",
        )
    return Item(where, all_names, when, data)


def _mailbox(path: Path, names: tuple[str, ...]) -> Iterator[Item]:
    for number, message in enumerate(mailbox.mbox(path, create=False), start=1):
        # No name of the export itself: it stands for all in it.
        yield from _message(
            _parsed(message.as_bytes()), f"{path} > message {number}", names[:-1], _when(path)
        )


def _message(message: EmailMessage, origin: str, names: tuple[str, ...], when: datetime) -> Iterator[Item]:
    try:
        sent = parsedate_to_datetime(str(message["Date"])).astimezone(UTC)
    except (TypeError, ValueError):
        sent = when
    subject, found = str(message["Subject"] or ""), False
    for part in message.walk():
        name = part.get_filename() or ""
        suffix = Path(name).suffix.lower()
        if suffix in (".ipynb", ".zip"):
            found = True
            data = part.get_payload(decode=True)
            content = data if isinstance(data, bytes) else b""
            yield from _content(content, suffix, f"{origin} > {name}", (*names, subject, name), sent)
    if not found:
        yield Item(
            origin, (*names, subject), sent, None, f"the e-mail “{subject[:60]}” has no notebook attached"
        )


def _parsed(data: bytes) -> EmailMessage:
    message = email.message_from_bytes(data, policy=email.policy.default)
    assert isinstance(message, EmailMessage)  # noqa: S101 - the default policy makes these
    return message


def _when(path: Path) -> datetime:
    """Return when a file was handed in: as nbgrader's exchange wrote it, or the file's own time."""
    try:
        text = read_plain(path.parent / "timestamp.txt", 200).decode()
        return datetime.fromisoformat(text.strip().replace(" UTC", "+00:00")).astimezone(UTC)
    except (UnusableError, ValueError):
        return datetime.fromtimestamp(path.lstat().st_mtime, UTC)


def _problem(path: Path, names: tuple[str, ...], sentence: str) -> Item:
    return Item(str(path), names, datetime.fromtimestamp(path.lstat().st_mtime, UTC), None, sentence)
