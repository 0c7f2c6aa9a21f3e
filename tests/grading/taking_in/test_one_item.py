"""One item that comes in, whatever is wrong with it, gets its sentence and keeps no other from being taken in and marked."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import time
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from grading.commands import DONE, main
from grading.course.course import Course
from grading.handins.not_taken_in import refusals
from grading.handins.received import entries
from grading.marking.mark_lesson import mark_lesson
from grading.report.results import needs_a_person
from grading.taking_in import mails
from grading.taking_in.incoming import walk
from grading.taking_in.take_in import take_in
from tests.grading.classroom import CLASS, LESSON, answers_of, classroom, full, marks, notebook_of, points, put, scores

ADA, BEN, CLEO, MALLORY = CLASS
HONEST = {ADA: ("right", "mistake"), BEN: ("other",)}


@pytest.fixture
def course(tmp_path: Path) -> Course:
    """Return a class in which two handed in honestly: one comes before the hostile items in every order, one after."""
    made = classroom(tmp_path)
    (ada, ben), back = HONEST, tmp_path / "back"
    put(back, f"00-{ada.badge}.ipynb", notebook_of(made, ada, *HONEST[ada]))
    put(back, f"zz-{ben.badge}.ipynb", notebook_of(made, ben, *HONEST[ben]))
    return made


def taken_in(course: Course, back: Path) -> list[str]:
    """Take in and mark; return what was said. Fails if anybody else was touched."""
    taken = take_in(course, back, quiet=True)
    mark_lesson(course, LESSON, quiet=True)
    found = marks(course)
    for person, ways in HONEST.items():
        assert scores(found[person.badge]) == points(answers_of(person, *ways))
    said = [*taken.refused, *needs_a_person(course)]
    for sentence in said:
        assert sentence.isprintable()  # one line, without signs that steer a screen
        sentence.encode()
    return said


def mail(*headers: str, body: bytes = b"", data: bytes = b"") -> bytes:
    """Return a mail with a notebook attached, or with another body."""
    end = "\r\n" if data else ""
    head = "\r\n".join(
        ["From: x@example.invalid", *headers, *(["Content-Type: application/json; name=a.ipynb"] if data else []), end]
    )
    return head.encode("utf-8", "surrogateescape") + (data or body)


def nested(kind: str, deep: int) -> bytes:
    """Return a mail in a mail in a mail, or parts in parts."""
    if kind == "message":
        return b"Content-Type: message/rfc822\n\n" * deep + b"Subject: in\n\nx\n"
    opened = "".join(f"Content-Type: multipart/{kind}; boundary=b{n}\n\n--b{n}\n" for n in range(deep))
    return opened.encode() + b"Content-Type: text/plain\n\nx\n"


def odd_zip(
    change: Callable[[bytearray], None] | None = None, packing: int = zipfile.ZIP_DEFLATED, count: int = 1
) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", packing) as archive:
        for number in range(count):
            archive.writestr(f"{number}.ipynb", json.dumps([*range(200)]))
    data = bytearray(packed.getvalue())
    if change:
        change(data)
    return bytes(data)


def _spoil_packed(data: bytearray) -> None:
    data[60:90] = b"\xff" * 30


def _spoil_directory(data: bytearray) -> None:
    at = data.find(b"PK\x01\x02")
    data[at + 6 : at + 8] = b"\xff" * 2


BIG = 2_000_000
LONG = "a" * BIG
# name of the file -> content, and a word of the sentence
ITEMS: dict[str, tuple[str, Callable[[], bytes], str]] = {
    "nested parts": ("4704.eml", lambda: nested("mixed", 5_000), "inside one another"),
    "nested digests": ("4704.eml", lambda: nested("digest", 5_000), "inside one another"),
    "nested mails": ("4704.eml", lambda: nested("message", 5_000), "inside one another"),
    "nested in a mailbox": ("4704.mbox", lambda: b"From x\n" + nested("mixed", 5_000) + b"\n\nFrom y\nSubject: z\n\n", "inside one another"),
    "nested, oddly written": ("4704.eml", lambda: nested("mixed", 5_000).replace(b"Content-Type: m", b"CONTENT-type:\x1c\n m"), ""),
    "a subject of 2 MB": ("4704.eml", lambda: mail(f"Subject: {LONG}", body=b"\r\n\r\nx"), "no notebook attached"),
    "a coded subject of 2 MB": ("4704.eml", lambda: mail(f"Subject: {'=?utf-8?q?a?= ' * (BIG // 14)}", body=b"\r\n\r\nx"), "no notebook"),
    "broken coding": ("4704.eml", lambda: mail("Subject: =?no-such?b?A?= =?utf-8?b?\udcff?=", body=b"\r\n\r\nx"), "no notebook attached"),
    "a file name of 2 MB": ("4704.eml", lambda: mail(f'Content-Disposition: attachment; filename="{LONG}.ipynb"', body=b"\r\n\r\nx"), "no notebook"),
    "a kind of 2 MB": ("4704.eml", lambda: mail('Content-Type: multipart/mixed; x="' + '";"' * (BIG // 3), body=b"\r\n\r\nx"), "no notebook"),
    "a header of many lines": ("4704.eml", lambda: mail("Subject: x" + "\r\n a" * (BIG // 4), body=b"\r\n\r\nx"), "no notebook"),
    "many headers": ("4704.eml", lambda: mail(*["X-A: b"] * 100_000, body=b"\r\n\r\nx"), "no notebook"),
    "many lines": ("4704.eml", lambda: b"\n" * (2 * mails.MAX_LINES + 1), "lines"),
    "many attached": ("4704.eml", lambda: b"Content-Type: multipart/mixed; boundary=b\n\n" + b"--b\nContent-Disposition: attachment; filename=a.ipynb\n\n{}\n" * 200, "more than 100"),
    "a mailbox that is none": ("4704.mbox", lambda: b"hello", "not a mailbox"),
    "a zip of many": ("4704.zip", lambda: odd_zip(count=3_000), "3000 files"),
    "a zip packed oddly": ("4704.zip", lambda: odd_zip(packing=zipfile.ZIP_LZMA), "packed in a way"),
    "a zip with spoiled content": ("4704.zip", lambda: odd_zip(_spoil_packed), "damaged here"),
    "a zip with a spoiled list": ("4704.zip", lambda: odd_zip(_spoil_directory), "damaged zip"),
    "outputs nested deeply": ("4704.ipynb", lambda: b'{"cells": [{"outputs": ' + b"[" * 100_000 + b"]" * 100_000 + b"}]}", "nested too deeply"),
    "no badge, signs for a screen": ("\x1b[2J\x1b]0;owned\x07\nRead: all.ipynb", lambda: b"{}", "has a badge of roster.csv"),
    "no badge, turned round": ("\u202egpj.ipynb", lambda: b"{}", "has a badge of roster.csv"),
}  # fmt: skip


@pytest.mark.parametrize(("name", "content", "said"), ITEMS.values(), ids=ITEMS)
def test_it_gets_a_sentence_and_stops_nobody(
    course: Course, tmp_path: Path, name: str, content: Callable[[], bytes], said: str
) -> None:
    put(tmp_path / "back" / "m", name, content())
    assert any(said in sentence for sentence in taken_in(course, tmp_path / "back"))


def file_named(folder: Path, name: bytes, data: bytes) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    with open(os.path.join(os.fsencode(folder), name), "wb") as file:  # noqa: PTH118, PTH123 - a name in bytes
        file.write(data)


@pytest.mark.parametrize("name", [b"4704-\xff\xfe.ipynb", b"\xe94704.ipynb"])
def test_a_name_that_is_not_utf8_is_taken_in_by_its_badge(course: Course, tmp_path: Path, name: bytes) -> None:
    file_named(tmp_path / "back", name, json.dumps(notebook_of(course, MALLORY)).encode())
    taken_in(course, tmp_path / "back")
    assert marks(course)[MALLORY.badge].score == full()


@pytest.mark.parametrize(
    "name", [b"\xff\xfe.ipynb", b"\xff.zip", b"\xff.eml", b"\xff.mbox", b"\xff.doc", b"4704\xff\n\x1b.zip"]
)
def test_a_name_that_is_not_utf8_without_a_use_gets_a_sentence(course: Course, tmp_path: Path, name: bytes) -> None:
    file_named(tmp_path / "back", name, b"x")
    folder = os.fsdecode(os.path.join(os.fsencode(tmp_path / "back"), b"m\xff"))  # noqa: PTH118
    file_named(Path(folder), name, b"x")
    taken = take_in(course, tmp_path / "back", quiet=True)
    assert len(taken.refused) == 2
    said: list[str] = []
    assert main(["--course", str(course.root), "take-in", str(tmp_path / "back")], said.append) != DONE
    assert "".join(said).encode()  # nothing that no screen could take
    taken_in(course, tmp_path / "back")


def test_a_folder_in_submitted_that_is_not_utf8(course: Course, tmp_path: Path) -> None:
    folder = course.root / "handed_in" / os.fsdecode(b"47\xff04\n") / LESSON
    put(folder, f"{LESSON}.ipynb", b"{}")
    assert any("not in roster.csv" in sentence for sentence in taken_in(course, tmp_path / "back"))
    taken_in(course, tmp_path / "back")  # and again, with what is in the gradebook now


DATES = [
    "Mon, 01 Jan 0001 00:00:00 +1400",
    "Fri, 31 Dec 9999 23:59:59 -1200",
    "Mon, 01 Jan 99999 00:00:00 +0000",
    "Mon, 01 Jan 2030 00:00:00 +9999",
    "Mon, 01 Jan 2030 00:00:00 -999999999",
    "Mon, 45 Foo 2030 99:99:99 +0000",
    "Mon, 01 Jan " + "9" * 5_000 + " 00:00:00 +0000",
    "x",
    "\udcff",
]
ZONES = ["Pacific/Kiritimati", "Etc/GMT+12", "UTC"]


@pytest.fixture(params=ZONES)
def zone(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    monkeypatch.setenv("TZ", request.param)
    time.tzset()
    yield request.param
    monkeypatch.undo()
    time.tzset()


def test_a_date_beyond_the_calendar(course: Course, tmp_path: Path, zone: str) -> None:
    """In any time zone; the time of the saved file counts instead, and a person is told."""
    data = json.dumps(notebook_of(course, MALLORY)).encode()
    for number, date in enumerate(DATES):
        put(tmp_path / "back", f"m/4704-{number}.eml", mail(f"Date: {date}", data=data + b" " * number))
    said = taken_in(course, tmp_path / "back")
    assert any("date of its e-mail cannot be used" in sentence for sentence in said)
    assert marks(course)[MALLORY.badge].score == full()


@pytest.mark.parametrize("seconds", [-(10**11), 10**11, 253402300799, -62135596800, 2**40])
def test_a_file_from_beyond_the_calendar(course: Course, tmp_path: Path, zone: str, seconds: int) -> None:
    for name in ("4704.ipynb", "4704-strange.doc"):
        path = put(tmp_path / "back", name, notebook_of(course, MALLORY))
        try:
            os.utime(path, (seconds, seconds))
        except (OverflowError, OSError):
            pytest.skip("this file system has no such time")
    taken_in(course, tmp_path / "back")
    assert marks(course)[MALLORY.badge].score == full()


@pytest.mark.parametrize(
    "stamp", ["0001-01-01 00:00:00 UTC", "9999-12-31 23:59:59 UTC", "2030-99-99", "\udcff", "9" * 199]
)
def test_a_timestamp_beyond_the_calendar(course: Course, tmp_path: Path, zone: str, stamp: str) -> None:
    put(tmp_path / "back" / "4704", f"{LESSON}.ipynb", notebook_of(course, MALLORY))
    put(tmp_path / "back" / "4704", "timestamp.txt", stamp.encode("utf-8", "surrogateescape"))
    taken_in(course, tmp_path / "back")
    assert marks(course)[MALLORY.badge].score == full()


@pytest.mark.parametrize("due", ["0001-01-01 00:00", "9999-12-31 23:59", "9999-12-31"])
def test_a_due_time_beyond_the_calendar(course: Course, zone: str, due: str) -> None:
    said: list[str] = []
    main(["--course", str(course.root), "give-out", "04", "--due", due], said.append)
    assert "fault" not in said[-1]


def test_a_zip_from_beyond_the_calendar(course: Course, tmp_path: Path) -> None:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr("4704.ipynb", json.dumps(notebook_of(course, MALLORY)))
    data = packed.getvalue()
    for mark, at in ((b"PK\x03\x04", 10), (b"PK\x01\x02", 12)):
        start = data.find(mark) + at
        data = data[:start] + b"\xff" * 4 + data[start + 4 :]
    put(tmp_path / "back", "4704.zip", data)
    taken_in(course, tmp_path / "back")
    assert marks(course)[MALLORY.badge].score == full()


def test_a_mailbox_is_a_plain_file(course: Course, tmp_path: Path) -> None:
    back = tmp_path / "back"
    (back / "m").mkdir()
    os.mkfifo(back / "m" / "4704.mbox")
    (back / "m" / "link.mbox").symlink_to(course.root / "gradebook.db")
    said = taken_in(course, back)
    assert any("not a file with content" in sentence for sentence in said)
    assert any("link to another file" in sentence for sentence in said)


def test_folders_may_lie_as_deep_as_a_path_is_long(course: Course, tmp_path: Path) -> None:
    deepest = tmp_path / "back"
    try:
        for _ in range(1_500):
            deepest /= "d"
            deepest.mkdir()
        put(deepest, "4704.ipynb", notebook_of(course, MALLORY))
        taken_in(course, tmp_path / "back")
    finally:
        subprocess.run(["rm", "-rf", str(tmp_path / "back")], check=True)  # the library's own cannot
    assert marks(course)[MALLORY.badge].score == full()


@pytest.mark.parametrize(
    "record",
    [
        b"",
        b"{",
        b"[]",
        b"null",
        b"\xff",
        b"[" * 50_000,
        b'{"sha256": 5}',
        b'{"when": "9999-99-99", "sha256": "", "origin": ""}',
        b'{"when": "0001-01-01T00:00:00+14:00", "sha256": "x", "origin": "", "other": [], "new": 1}',
        b" " * 1_000_000,
    ],
)
def test_a_damaged_record_is_made_again_and_said(course: Course, tmp_path: Path, record: bytes) -> None:
    for person in (MALLORY, CLEO):
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person))
    taken_in(course, tmp_path / "back")
    (path,) = (course.root / "received" / LESSON / MALLORY.badge).glob("*.json")
    path.write_bytes(record)
    put(tmp_path / "back", f"{MALLORY.badge}-again.ipynb", notebook_of(course, MALLORY, "other"))
    taken_in(course, tmp_path / "back")
    found = entries(course, LESSON, MALLORY.badge)
    assert len(found) == 2
    assert sum("record in received/ was damaged" in flag for entry in found for flag in entry.flags) == 1
    assert marks(course)[CLEO.badge].score == full()


def test_a_damaged_note_of_a_file_not_filed_is_said(course: Course, tmp_path: Path) -> None:
    put(tmp_path / "back", "nobody.ipynb", b"{}")
    taken_in(course, tmp_path / "back")
    (path,) = (course.root / "received" / "not_taken_in").glob("*.json")
    path.write_bytes(b"[" * 1000)
    assert any("record of a file is damaged" in sentence for sentence in refusals(course))


@pytest.mark.parametrize(
    "spoil",
    [MemoryError("no room"), RecursionError(), KeyError("x"), UnicodeEncodeError("utf-8", "\udcff", 0, 1, "no")],
)
def test_what_nobody_foresaw_is_said_too(
    course: Course, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, spoil: Exception
) -> None:
    put(tmp_path / "back", "4704.ipynb", b'{"cells": "here"}')
    from grading.taking_in import take_in as module

    read = module.read

    def failing(data: bytes) -> object:
        if b'"here"' in data:
            raise spoil
        return read(data)

    monkeypatch.setattr(module, "read", failing)
    assert any("a fault in this program" in sentence for sentence in taken_in(course, tmp_path / "back"))


def test_a_large_zip_is_read_up_to_a_limit(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from grading.taking_in import unpacking

    monkeypatch.setattr(unpacking, "MAX_UNPACKED", 2_500)
    monkeypatch.setattr(unpacking, "MAX_BYTES", 1_000)
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for number in range(4):
            archive.writestr(f"{number}.ipynb", b" " * 900)
    items = list(walk(put(tmp_path, "a.zip", packed.getvalue())))
    assert [item.data is not None for item in items] == [True, True, False, False]
    assert "take it in as several" in items[-1].problem


def test_all_that_is_unpacked_of_one_file_counts(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Zips in zips share one limit, whatever each of them claims, and what is refused has been unpacked too."""
    from grading.taking_in import unpacking

    monkeypatch.setattr(unpacking, "MAX_UNPACKED", 10_000)
    monkeypatch.setattr(unpacking, "MAX_BYTES", 1_000)
    inner = io.BytesIO()
    with zipfile.ZipFile(inner, "w", zipfile.ZIP_DEFLATED) as archive:
        for number in range(8):
            archive.writestr(f"{number}.ipynb", b" " * (900 if number % 2 else 5_000))
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for number in range(10):
            archive.writestr(f"{number}.zip", inner.getvalue())
    items = list(walk(put(tmp_path, "a.zip", packed.getvalue())))
    read = sum(len(item.data) for item in items if item.data and not item.problem)
    refused = sum(1_001 for item in items if "unpacks to more than 0 MB, so" in item.problem)
    assert 0 < read + refused + 10 * len(inner.getvalue()) <= 10_000 + 10 * 1_001 + 10 * len(inner.getvalue())
    assert "take it in as several" in items[-1].problem


_MAILBOX = """
import re, sys
from pathlib import Path
from grading.taking_in.incoming import walk
def most():  # of this program alone; the other count begins with that of the program that started it
    return re.search(r"VmHWM:\\s+(\\d+)", Path("/proc/self/status").read_text())[1]
before = most()
found = sum(1 for _ in walk(Path(sys.argv[1])))
print(found, before, most())
"""


@pytest.mark.skipif(sys.platform != "linux", reason="memory is measured as Linux tells it")
@pytest.mark.parametrize(
    ("line", "size"),
    [(b"x" * 76 + b"\n", 29_500_000), (b"\n", 2_500_000)],
    ids=["a mail program's lines", "empty lines"],
)
def test_a_large_mailbox_takes_little_memory(tmp_path: Path, line: bytes, size: int) -> None:
    """150 MB stay under 300 MB in all, the program itself included; so do short lines, which take more for their size."""
    path = tmp_path / "export.mbox"
    with path.open("wb") as file:
        for _ in range(5):
            file.write(
                b"From x Fri Jan  2 10:00:00 2026\nSubject: 4711\nContent-Type: multipart/mixed; boundary=b\n\n--b\n"
                b"Content-Type: application/zip\nContent-Transfer-Encoding: base64\n"
                b"Content-Disposition: attachment; filename=a.ipynb\n\n"
            )
            file.writelines(line for _ in range(size // len(line)))
            file.write(b"\n--b--\n\n")
    said = subprocess.run([sys.executable, "-c", _MAILBOX, str(path)], capture_output=True, text=True, check=True)
    found, _, most = map(int, said.stdout.split())
    assert found == 5
    assert most / 1024 < 300
