"""When something was handed in, what of several counts, and that a due time set later gives the right points at once."""

from __future__ import annotations

import io
import json
import os
import zipfile
from datetime import UTC, datetime
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pytest

from grading.commands import DONE, FAILED, LOOK
from grading.course.course import Course
from grading.giving_out.give_out import parse_due
from grading.handins.received import entries
from tests.grading.classroom import CLASS, LESSON, classroom, full, marks, notebook_of, put, run, with_cell
from tests.grading.classroom import QUESTIONS as Q

ADA, BEN, CLEO, DAN = CLASS
DUE = datetime(2026, 1, 10, 12, tzinfo=UTC)
EARLY, LATE = datetime(2026, 1, 8, 12, tzinfo=UTC), datetime(2026, 1, 12, 12, tzinfo=UTC)
TEXT = f"{DUE.astimezone():%Y-%m-%d %H:%M}"


def at(path: Path, when: datetime) -> Path:
    os.utime(path, (when.timestamp(), when.timestamp()))
    return path


def packed(inside: bytes, when: datetime, name: str = f"{LESSON}.ipynb") -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as archive:
        archive.writestr(zipfile.ZipInfo(name, when.timetuple()[:6]), inside)
    return whole.getvalue()


def mail(data: bytes, name: str, date: datetime, received: datetime | None = None) -> bytes:
    message = EmailMessage()
    if received:
        message["Received"] = f"from there by here with ESMTP; {received:%a, %d %b %Y %H:%M:%S} +0000"
    message["Subject"], message["Date"] = ADA.badge, f"{date:%a, %d %b %Y %H:%M:%S} +0000"
    message.set_content("Here it is.")
    message.add_attachment(data, maintype="application", subtype="octet-stream", filename=name)
    return message.as_bytes()


EXCHANGE = f"{ADA.badge}+{LESSON}+{LATE:%Y-%m-%d %H:%M:%S} UTC"
# What comes in, as (name, content, time of the file), and when it counts as handed in; `data` stands for a notebook.
WHEN: dict[str, tuple[Any, datetime]] = {
    "a file: when it was saved": (lambda d: [(f"{ADA.badge}.ipynb", d, LATE)], LATE),
    "a mail: when it came, whatever its sender's clock says": (
        lambda d: [("a.eml", mail(d, "x.ipynb", EARLY, LATE), EARLY)],
        LATE,
    ),
    "a mail without a server's line: its date": (lambda d: [("a.eml", mail(d, "x.ipynb", LATE), EARLY)], LATE),
    "a mail saved later": (lambda d: [("a.eml", mail(d, "x.ipynb", EARLY), LATE)], EARLY),
    "a date in a zip does not beat the mail": (
        lambda d: [("a.eml", mail(packed(d, EARLY), "x.zip", LATE), EARLY)],
        LATE,
    ),
    "nor does a mail in a zip": (
        lambda d: [("b.eml", mail(packed(mail(d, "x.ipynb", EARLY), EARLY, "a.eml"), "x.zip", LATE), LATE)],
        LATE,
    ),
    "a file of times beside a mail does not beat it": (
        lambda d: [("x/a.eml", mail(d, "x.ipynb", LATE), LATE), ("x/timestamp.txt", b"2026-01-08 12:00:00 UTC", LATE)],
        LATE,
    ),
    "a planted file of times does not beat the exchange": (
        lambda d: [
            (f"{EXCHANGE}/{LESSON}.ipynb", d, EARLY),
            (f"{EXCHANGE}/timestamp.txt", b"2026-01-08 12:00:00 UTC", EARLY),
        ],
        LATE,
    ),
    "nor does a date in a zip": (lambda d: [(f"{EXCHANGE}/x.zip", packed(d, EARLY), EARLY)], LATE),
    "a time in the future is none": (
        lambda d: [(f"{ADA.badge}.zip", packed(d, datetime(2031, 1, 1, tzinfo=UTC)), LATE)],
        LATE,
    ),
}


@pytest.mark.parametrize(("made", "when"), WHEN.values(), ids=WHEN)
def test_when_it_was_handed_in(tmp_path: Path, made: Any, when: datetime) -> None:
    course = classroom(tmp_path)
    for name, content, time in made(json.dumps(notebook_of(course, ADA)).encode()):
        at(put(tmp_path / "back", name, content), time)
    run(course, "take-in", str(tmp_path / "back"))
    (entry,) = entries(course, LESSON, ADA.badge)
    assert datetime.fromisoformat(entry.when) == when
    assert not entry.saved


@pytest.mark.parametrize("form", ["zip", "file of times"])
def test_a_time_that_only_the_hand_in_tells_is_shown_to_a_person(tmp_path: Path, form: str) -> None:
    course = classroom(tmp_path)
    run(course, "due", "04", TEXT)
    data = json.dumps(notebook_of(course, ADA)).encode()
    if form == "zip":
        local = datetime(2026, 1, 8, 12).astimezone()
        at(put(tmp_path / "back", f"{ADA.badge}.zip", packed(data, local)), LATE)
    else:
        put(tmp_path / "back", f"{ADA.badge}/timestamp.txt", b"2026-01-08 12:00:00 UTC")
        at(put(tmp_path / "back", f"{ADA.badge}/{LESSON}.ipynb", data), LATE)
    run(course, "take-in", str(tmp_path / "back"))
    code, said = run(course, "mark")
    assert code == LOOK
    assert "it is in time only by a time in its zip or beside it" in said


def two(course: Course, folder: Path, first: tuple[str, ...], second: tuple[str, ...]) -> None:
    """Hand in twice, before and after the due time."""
    for name, ways, when in (("a", first, EARLY), ("b", second, LATE)):
        at(put(folder, f"{ADA.badge}/{name}.ipynb", notebook_of(course, ADA, *ways)), when)
    run(course, "take-in", str(folder))
    run(course, "mark")


def test_a_due_time_set_moved_and_cleared_later_gives_the_right_points_at_once(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    two(course, tmp_path / "back", ("other",), ())
    poorer = full() - Q[0].points
    seen = [marks(course)[ADA.badge].score]
    for arguments in (
        [TEXT],
        ["2026-02-01 12:00"],
        [TEXT],
        ["none"],
        [TEXT],
        ["2026-02-01 12:00", "--badge", ADA.badge],
        ["none", "--badge", ADA.badge],
        [TEXT, "--badge", BEN.badge],
    ):
        code, said = run(course, "due", "04", *arguments)
        assert code in (DONE, LOOK), said
        seen.append(marks(course)[ADA.badge].score)
    assert seen == [full(), poorer, full(), poorer, full(), poorer, full(), poorer, poorer]


def test_a_date_alone_is_the_end_of_that_day() -> None:
    assert parse_due("2026-01-10") == datetime(2026, 1, 10, 23, 59).astimezone()
    assert parse_due(" 2026-01-10 00:00 ") == datetime(2026, 1, 10).astimezone()


@pytest.mark.parametrize(
    ("arguments", "word"),
    [
        (["04", "soon"], "2030-03-01 16:00"),
        (["04", TEXT, "--badge", "9999"], "No such badge"),
        (["99", TEXT], "No lesson 99"),
    ],
)
def test_a_wrong_due_time_changes_nothing(tmp_path: Path, arguments: list[str], word: str) -> None:
    code, said = run(classroom(tmp_path), "due", *arguments)
    assert code == FAILED
    assert word in said


@pytest.mark.parametrize(
    ("rule", "first", "second", "points"),
    [
        ("last", (), ("other",), full() - Q[0].points),
        ("first", ("other",), (), full() - Q[0].points),
        ("best", (), ("other",), full()),
        ("best", ("other",), (), full()),
    ],
)
def test_the_instructor_says_which_counts(
    tmp_path: Path, rule: str, first: tuple[str, ...], second: tuple[str, ...], points: float
) -> None:
    course = classroom(tmp_path)
    two(course, tmp_path / "back", first, second)
    code, said = run(course, "counts", rule)
    assert code == DONE, said
    assert marks(course)[ADA.badge].score == points


@pytest.mark.parametrize("nothing", ["", "?", " \u200b\u00a0 ", "\u3164", "\u2800\n\u115f", "hint"])
def test_a_blank_one_never_counts_instead_of_one_with_answers_and_is_told(tmp_path: Path, nothing: str) -> None:
    course, blank = classroom(tmp_path), notebook_of(classroom(tmp_path / "other"), ADA)
    for question in Q:
        with_cell(blank, question, f"%%answer {question.id}\n{nothing}")
    at(put(tmp_path / "back", f"{ADA.badge}/a.ipynb", notebook_of(course, ADA)), EARLY)
    at(put(tmp_path / "back", f"{ADA.badge}/b.ipynb", blank), LATE)
    at(put(tmp_path / "back", f"{BEN.badge}.ipynb", blank), LATE)
    said = run(course, "take-in", str(tmp_path / "back"))[1]
    assert f"{ADA.badge}, {LESSON}: the one of {LATE.astimezone():%Y-%m-%d %H:%M} has no answers" in said
    assert f"{BEN.badge}, {LESSON}: it has no answers" in said
    run(course, "mark")
    assert {badge: sheet.score for badge, sheet in marks(course).items()} == {ADA.badge: full(), BEN.badge: 0}


def test_the_copy_of_a_download_is_no_badge(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    with (course.root / "roster.csv").open("a") as roster:
        roster.write("2,Two Example,si\n")
    run(course, "give-out", "04")
    data = notebook_of(course, ADA)
    for name in (f"{ADA.badge} (2).ipynb", f"{ADA.badge}_{LESSON} (2).ipynb"):
        put(tmp_path / "back", name, data)
    put(tmp_path / "back", f"{LESSON} (2).ipynb", data)
    said = run(course, "take-in", str(tmp_path / "back"))[1]
    assert entries(course, LESSON, "2") == []
    assert "1 new hand-in, 1 known already, 1 not taken in." in said
