"""Walks over what came back: folders, zips, e-mails: notebooks as bytes, and a sentence for the rest.

Each item has a guard of its own: whatever is wrong with one, the others are read.
"""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from grading.course import plain
from grading.course.times import instant, of_file
from grading.handins.files import read_plain
from grading.handins.handin import MAX_BYTES, UnusableError
from grading.handins.received import STAMP_FILE, told_in
from grading.taking_in.mails import MAX_MAIL, mails_of, read_mail
from grading.taking_in.unpacking import MAX_DEPTH, Budget, members, suffix_of, wanted

MAX_CONTAINER = 200_000_000
_DEEPEST = 8  # folders, from the file up, whose names are looked at
_PATH = 5_000  # letters of a path that are kept, more than a system takes; the other limits are for what is shown
_SILENT = {
    ".txt",
    ".json",
    ".jsonl",
}  # timestamps, the work order's numbers, progress: they come along with a notebook
# <user>+<lesson>+<time>, perhaps +<mark>
_EXCHANGE = re.compile(r"^[^+]+\+[^+]+\+(?P<when>\d{4}-\d\d-\d\d \d\d:\d\d:\d\d(?:\.\d+)?) UTC(?:\+[^+]*)?$")


@dataclass(frozen=True)
class Item:
    """One file that came in: a notebook, or a problem with a sentence."""

    origin: str  # for people
    names: tuple[str, ...]  # folder, zip, subject, file: whatever may hold the badge
    when: datetime
    data: bytes | None = None
    problem: str = ""
    remark: str = ""  # for a person to look at, where it can be used all the same
    sender: str = ""  # of the mail it came with, or that was passed on: name and address
    mentioned: tuple[str, ...] = ()  # addresses in the words of that mail
    passed_on: datetime | None = None  # when a mail in the mail says it was sent
    told: datetime | None = None  # the time it says of itself, where `when` is only that of the saved file


def walk(folder: Path) -> Iterator[Item]:
    """Give everything that was handed in under a folder, or in one file."""
    if folder.is_file() or folder.is_symlink():
        yield from _guarded(folder, (plain.line(folder.name),), told_in(folder.with_name(STAMP_FILE)))
        return
    waiting = [folder]  # not os.walk, which calls itself for each level: folders may lie as deep as a path is long
    while waiting:
        here = waiting.pop()
        try:
            with os.scandir(here) as listed:
                found = sorted((each.name, each.is_dir(follow_symlinks=False)) for each in listed if wanted(each.name))
        except OSError as problem:
            yield _problem(here, (plain.line(here.name),), f"the folder cannot be opened ({problem.strerror})")
            continue
        waiting += [here / name for name, is_folder in reversed(found) if is_folder]
        around = tuple(map(plain.line, here.relative_to(folder).parts[-_DEEPEST + 1 :]))
        told = told_in(here / STAMP_FILE)
        for name in (name for name, is_folder in found if not is_folder):
            yield from _guarded(here / name, (*around, plain.line(name)), told)


def _guarded(path: Path, names: tuple[str, ...], told: datetime | None) -> Iterator[Item]:
    try:
        yield from _file(path, names, told)
    except UnusableError as problem:
        yield _problem(path, names, str(problem))
    except Exception as problem:
        yield _problem(path, names, fault(problem))


def fault(problem: Exception) -> str:
    """Return the sentence for what nobody foresaw."""
    return f"a fault in this program kept it from being read ({plain.line(repr(problem))}); please report it"


def _file(path: Path, names: tuple[str, ...], beside: datetime | None) -> Iterator[Item]:
    """Give what one file holds; `beside` is the time that a timestamp file in its folder tells."""
    suffix = suffix_of(path.name)
    if suffix in _SILENT:
        return
    origin = plain.line(str(path), _PATH)
    if suffix == ".mbox":
        yield from _mailbox(path, origin, names)
        return
    limit = {".zip": MAX_CONTAINER, ".eml": MAX_MAIL}.get(suffix, MAX_BYTES)
    exchanged = _exchanged(path)
    sure = exchanged is not None or suffix == ".eml"
    for item in _content(Content(read_plain(path, limit), suffix, origin, names, exchanged or of_file(path)), Budget()):
        # The exchange's own time and that of a mail stand above what is written in a zip or beside a file.
        yield replace(item, told=None if sure else item.told or beside)


@dataclass(frozen=True)
class Content:
    """What a file holds, wherever it lay."""

    data: bytes
    suffix: str
    origin: str
    names: tuple[str, ...]
    when: datetime
    depth: int = 1  # how many zips and mails it lies in


def _content(found: Content, budget: Budget) -> Iterator[Item]:
    if found.suffix == ".ipynb":
        yield Item(found.origin, found.names, found.when, found.data)
    elif found.suffix == ".zip":
        yield from _zip(found, budget)
    elif found.suffix == ".eml":
        yield from _mail(found, budget)
    else:
        sentence = "it is neither a notebook (.ipynb) nor a zip; ask for the notebook itself"
        yield Item(
            found.origin, found.names, found.when, found.data if len(found.data) <= MAX_BYTES else None, sentence
        )


def _zip(found: Content, budget: Budget) -> Iterator[Item]:
    for each in members(found.data, found.origin, budget, found.depth):
        names = (*found.names, *each.names[-_DEEPEST:])
        if each.problem:
            yield Item(each.origin, names, found.when, each.data, each.problem)
            continue
        inside = Content(each.data or b"", each.suffix, each.origin, names, found.when, found.depth + 1)
        # A time in a zip, and the date of a mail in one, is only what the zip says.
        yield from (replace(item, when=found.when, told=each.told) for item in _content(inside, budget))


def _mailbox(path: Path, origin: str, names: tuple[str, ...]) -> Iterator[Item]:
    for number, data in enumerate(mails_of(path), start=1):
        # No name of the export itself: it stands for all in it.
        yield from _mail(Content(data, ".eml", f"{origin} > message {number}", names[:-1], of_file(path)), Budget())


def _mail(found: Content, budget: Budget) -> Iterator[Item]:
    try:
        if found.depth > MAX_DEPTH:
            raise UnusableError(
                f"it lies in more than {MAX_DEPTH} mails or zips inside one another; take it in by itself"
            )
        mail = read_mail(found.data)
    except UnusableError as problem:
        yield Item(found.origin, found.names or (found.origin,), found.when, None, str(problem))
        return
    except Exception as problem:
        yield Item(found.origin, found.names or (found.origin,), found.when, None, fault(problem))
        return
    when, names = mail.sent or found.when, (*found.names, mail.subject)
    if not mail.attached:
        sentence = f"the e-mail “{plain.line(mail.subject, 60)}” has no notebook attached"
        yield Item(found.origin, names, when, None, sentence, sender=mail.sender)
    remark = "" if mail.sent else "the date of its e-mail cannot be used, so the time of the saved file counts"
    for each in mail.attached:
        origin, around = f"{found.origin} > {each.name}", each.envelope
        names = (*found.names, *around.subjects, each.name)
        inside = Content(each.data, suffix_of(each.name), origin, names, when, found.depth + 1)
        for item in _content(inside, budget):
            said = item.mentioned or mail.mentioned
            about = replace(
                item, sender=item.sender or around.sender, mentioned=said, remark="" if item.problem else remark
            )
            # The mail that came here tells the time: whoever passed one on could have changed that one's.
            inner = item.passed_on or (item.when if inside.suffix == ".eml" else around.told)
            yield replace(about, when=when, told=None, passed_on=inner)


def _exchanged(path: Path) -> datetime | None:
    """Return when a file came into nbgrader's exchange, which writes it into the name of the folder; else None."""
    told = _EXCHANGE.search(path.parent.name)
    return instant(lambda: datetime.fromisoformat(f"{told['when']}+00:00")) if told else None


def _problem(path: Path, names: tuple[str, ...], sentence: str) -> Item:
    return Item(plain.line(str(path), _PATH), names, of_file(path), None, sentence)
