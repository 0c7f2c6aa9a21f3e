"""Saved e-mails: what is attached, the subject and the date. Crafted ones cost no more time than their size is worth.

The standard library reads a mail line by line, and each line once more for every multipart it lies in; it takes the
square of a header's length. So headers are cut as they are read, and parts in parts are counted before.
"""

from __future__ import annotations

import binascii
import contextlib
import email
import email.policy
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from email.errors import MessageError
from email.header import decode_header, make_header
from email.message import Message
from email.utils import parsedate_to_datetime
from pathlib import Path

from grading.course import plain
from grading.course.times import instant
from grading.handins.files import open_plain
from grading.handins.handin import UnusableError
from grading.taking_in.unpacking import READ, suffix_of

MAX_MAIL = 30_000_000  # a notebook of 20 MB as mail programs pack it has 27 MB
MAX_LINES = 1_000_000
MAX_NESTED = 30  # parts that hold parts
MAX_ATTACHED = 100
MAX_WORDS = 20_000  # bytes of each text that are looked at
MAX_HEADER = 2_000  # letters of a subject, a file name, a date that are read
_AROUND = str.maketrans(dict.fromkeys("<>()[],;:|", " "))
_HOLDS_PARTS = re.compile(rb"(?:^|[\r\n])content-type:[\s\x1c-\x1f]*(?:multipart|message)/", re.IGNORECASE)
_PIECE = 65_536
_BASE64 = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/="
_LONGEST_LINE, _LONG_RUN = 200, 500  # bytes of a line of base64; lines that are worth a mark
_MARK = b"@taken-out-"  # no base64 has these signs


@dataclass(frozen=True)
class Envelope:
    """What a mail says of all that lies in it; of a mail in a mail, what that one says."""

    subjects: tuple[str, ...]  # of the mail that came, and of those passed on in it, down to this one
    sender: str
    told: datetime | None = None  # when a mail that was passed on says it was sent


@dataclass(frozen=True)
class Attached:
    """A notebook, zip or mail that came with a mail."""

    name: str
    data: bytes
    envelope: Envelope


@dataclass(frozen=True)
class Mail:
    """What counts of a mail; `sent` is None where its date is missing or beyond the calendar."""

    subject: str
    sent: datetime | None
    sender: str
    attached: tuple[Attached, ...]
    mentioned: tuple[str, ...] = ()  # addresses in its words, as where a mail was passed on


class _Cut(email.policy.Compat32):
    """Reads headers like the library's own policy, but cuts each, and takes bytes beyond ASCII for UTF-8."""

    def header_source_parse(self, sourcelines: list[str]) -> tuple[str, str]:
        name, _, value = "".join(sourcelines).partition(":")
        cut = value[: MAX_HEADER + 2].encode("ascii", "surrogateescape").decode("utf-8", "replace")
        return name, " ".join(cut.split())[:MAX_HEADER]


def read_mail(data: bytes) -> Mail:
    """Read a mail.

    Raises
    ------
    UnusableError
        With a sentence, if it is beyond what a mail with a notebook is like.
    """
    if len(data) > MAX_MAIL:
        raise UnusableError(
            f"the e-mail has {len(data) / 1e6:.0f} MB, more than the {MAX_MAIL / 1e6:.0f} MB that are read; "
            "save the attachment and take that in"
        )
    lines = data.count(b"\n") + data.count(b"\r")
    if lines > 2 * MAX_LINES or len(_HOLDS_PARTS.findall(data)) > MAX_NESTED:
        raise UnusableError(
            f"the e-mail has more than {MAX_NESTED} parts inside one another, or more than {MAX_LINES} lines; "
            "save the attachment and take that in"
        )
    bare, bodies = _without_bodies(data)
    message = email.message_from_bytes(bare, policy=_Cut())
    around = Envelope((_words(message["Subject"]),), _words(message["From"]))
    parts = list(_parts(message, around))
    attached = tuple(_attached(parts, bodies))
    if len(attached) > MAX_ATTACHED:
        raise UnusableError(f"the e-mail has more than {MAX_ATTACHED} notebooks attached; ask what happened to it")
    return Mail(around.subjects[0], _sent(message), around.sender, attached, _mentioned(parts))


def _sent(message: Message) -> datetime | None:
    """Return when the mail came to the last server, which its sender cannot choose; else the date it bears."""
    received = str(message["Received"] or "").rpartition(";")[2]  # the first of these lines is the last server's
    date = str(message["Date"] or "")
    return instant(lambda: parsedate_to_datetime(received)) or instant(lambda: parsedate_to_datetime(date))


_Part = tuple[Message, Envelope]


def _parts(message: Message, around: Envelope) -> Iterator[_Part]:
    """Give the parts that hold no others, each with what is said by the mail it lies in."""
    inside = message.get_payload()
    if not isinstance(inside, list):
        yield message, around
        return
    passed_on = message.get_content_type() == "message/rfc822"
    for part in (each for each in inside if isinstance(each, Message)):
        yield from _parts(part, _inner(part, around) if passed_on else around)


def _inner(mail: Message, around: Envelope) -> Envelope:
    subjects = (*around.subjects, _words(mail["Subject"]))
    return Envelope(subjects, _words(mail["From"]) or around.sender, _sent(mail))


def _attached(parts: Sequence[_Part], bodies: Sequence[bytes]) -> Iterator[Attached]:
    for part, around in parts:
        name = _words(part.get_filename())
        if suffix_of(name) in READ:
            yield Attached(name, _decoded(part, bodies), around)


def _mentioned(parts: Sequence[_Part]) -> tuple[str, ...]:
    """Return the addresses in the words of a mail: where it was passed on they tell who sent it first."""
    texts = (part.get_payload(decode=True) for part, _ in parts if part.get_content_type() == "text/plain")
    words = b" ".join(each[:MAX_WORDS] for each in texts if isinstance(each, bytes)).decode("utf-8", "replace")
    return tuple(plain.line(each) for each in addresses(words))[:MAX_ATTACHED]


def addresses(words: str) -> list[str]:
    """Return the e-mail addresses in some words, in small letters.

    >>> addresses("From: Ada <Ada@Example.org>, and x@y (old)")
    ['ada@example.org', 'x@y']
    """
    found = (each.strip("._-'\"") for each in words.lower().translate(_AROUND).split())
    return list(dict.fromkeys(each for each in found if "@" in each.strip("@")))


def _without_bodies(data: bytes) -> tuple[bytes, list[bytes]]:
    """Return a mail with a mark in place of each long run of base64, and the runs.

    The library makes an object of each line, which takes six times the size of a mail.
    """
    bare, bodies, done, first, count, place = bytearray(), list[bytes](), 0, 0, 0, 0
    while place < len(data):
        after = data.find(b"\n", place) + 1 or len(data)
        line = data[place:after].rstrip(b"\r\n") if after - place < _LONGEST_LINE else b"-"
        if line and not line.translate(None, _BASE64):
            first, count = (place, 1) if not count else (first, count + 1)
        else:
            if count >= _LONG_RUN:
                bare += data[done:first] + b"%s%d\n" % (_MARK, len(bodies))
                bodies.append(data[first:place])
                done = place
            count = 0
        place = after
    return bytes(bare + data[done:]), bodies


def _decoded(part: Message, bodies: Sequence[bytes]) -> bytes:
    """Return what is attached."""
    packed = part.get_payload()
    mark = packed.strip() if isinstance(packed, str) else ""
    number = mark.removeprefix(_MARK.decode())
    if mark != number and number.isdecimal() and int(number[:9]) < len(bodies):
        with contextlib.suppress(ValueError):  # not quite base64: asked for again, as any damaged notebook
            return binascii.a2b_base64(bodies[int(number[:9])])
    data = part.get_payload(decode=True)
    return data if isinstance(data, bytes) else b""


def _words(value: object) -> str:
    """Return a header's words, which mail programs write in several ways, on one line."""
    words = str(value or "")
    try:
        return plain.line(str(make_header(decode_header(words))))
    except (MessageError, LookupError, ValueError):  # an alphabet nobody knows, or broken coding
        return plain.line(words)


def mails_of(path: Path) -> Iterator[bytes]:
    """Give each mail of a mailbox (.mbox) as bytes, at most one byte more than is read.

    Raises
    ------
    UnusableError
        With a sentence, if it is no mailbox.
    """
    with open_plain(path) as file:
        first = file.readline(_PIECE)
        if first.strip() and not first.startswith(b"From "):
            raise UnusableError("it is not a mailbox; save the e-mails one by one (.eml)")
        yield from _split(iter(lambda: file.readline(_PIECE), b""))


def _split(pieces: Iterator[bytes]) -> Iterator[bytes]:
    """Split at lines that begin with “From ” after an empty one, as mailboxes are written."""
    mail, before = bytearray(), b"\n"  # one piece of memory: a list of short lines takes fifty times their size
    for piece in pieces:
        if piece.startswith(b"From ") and before in (b"\n", b"\r\n"):
            whole, mail = bytes(mail), bytearray()
            yield whole
            del whole
        elif len(mail) <= MAX_MAIL:  # more is let go; what is left still shows that it was too much
            mail += piece
        before = piece
    if mail:
        yield bytes(mail)
