"""Any bytes at all, in every place where something is read: they are used or refused with a sentence, and nothing is raised."""

from __future__ import annotations

import io
import json
import zipfile
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from grading.course.course import Course, CourseError, open_course
from grading.course.roster import RosterError, read_roster
from grading.handins import received
from grading.handins.handin import UnusableError, answers, read
from grading.handins.not_taken_in import refusals
from grading.handins.which_counts import choose, doubts, notes
from grading.taking_in.incoming import Item, walk
from grading.taking_in.mails import read_mail
from lessons.notebook import bank
from lessons.questions import progress

anything = settings(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=120, deadline=None)
# JSON of any shape, with the names that mean something here and there.
_NAMES = st.sampled_from(
    ["cells", "source", "metadata", "nbgrader", "grade_id", "outputs", "data", "text/html", "cell_type", "id", "work_order", "lesson",
     "badges", "4711", "sheets", "pictures", "picture", "kind", "text", "options", "places", "plausible", "points", "units",
     "sha256", "origin", "when", "flags", "other", "sentence", "what", "badge", "tag", "at", "place", "gradebook"]
)  # fmt: skip
_LEAVES = (
    st.none()
    | st.booleans()
    | st.floats()
    | st.integers()
    | st.text(max_size=8)
    | st.sampled_from(["answer", "new", "again", "sign_on", "x.w1", "number"])
)
JSON = st.recursive(
    _LEAVES, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(_NAMES, inner, max_size=5), max_leaves=20
)


def _zip() -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("4711.ipynb", json.dumps([*range(99)]))
        archive.writestr("a/é.ipynb", b"{}")
    return packed.getvalue()


def _mail() -> bytes:
    message = EmailMessage()
    message["Subject"], message["Date"] = "Hand-in é 4711", "Mon, 01 Mar 2030 16:00:00 +0100"
    message.set_content("Here it is.")
    message.add_attachment(b"{}", maintype="application", subtype="json", filename="é 4711.ipynb")
    inner = EmailMessage()
    inner.set_content("x")
    inner.add_attachment(_zip(), maintype="application", subtype="zip", filename="4711.zip")
    message.add_attachment(inner)
    return message.as_bytes()


VALID = {".zip": _zip(), ".eml": _mail(), ".mbox": b"From x\n" + _mail() + b"\n\nFrom y\n" + _mail()}


def changed(data: bytes) -> st.SearchStrategy[bytes]:
    """Give valid bytes with some of them overwritten, left out or doubled."""

    def change(at: int, length: int, new: bytes) -> bytes:
        at %= len(data)
        return data[:at] + new + data[at + length :]

    one = st.builds(change, st.integers(0, 10**6), st.integers(0, 40), st.binary(max_size=12) | st.just(data))
    return one | st.binary(max_size=300)


def items(path: Path) -> list[Item]:
    found = list(walk(path))
    for item in found:
        assert item.problem or item.data is not None
        assert "fault in this program" not in item.problem  # it was foreseen, and has a sentence of its own
        for words in (item.origin, item.problem, *item.names):
            assert words.isprintable()
            words.encode()
        assert 1970 < item.when.year < 2200
    return found


@pytest.mark.parametrize("suffix", VALID)
def test_the_valid_one_is_read(tmp_path: Path, suffix: str) -> None:
    (tmp_path / f"x{suffix}").write_bytes(VALID[suffix])
    assert all(item.data and not item.problem for item in items(tmp_path))


@anything
@given(st.one_of(*(st.tuples(st.just(suffix), changed(data)) for suffix, data in VALID.items())))
def test_any_file_that_comes_in(tmp_path: Path, given_in: tuple[str, bytes]) -> None:
    path = tmp_path / f"x{given_in[0]}"
    path.write_bytes(given_in[1])
    items(path)


_HEADER = st.sampled_from(
    ["Subject", "Date", "Content-Type", "Content-Disposition", "Content-Transfer-Encoding", "MIME-Version"]
)
_VALUE = st.lists(
    st.sampled_from(["multipart/mixed", "message/rfc822", "boundary=b", ";", "=?utf-8?b?", "?=", "é", "filename*0*=utf-8''%e9", "filename=a.ipynb",
                     "base64", "x-uuencode", '"', "\\", "\x1c", "Mon, 1 Jan 1 00:00 +9999", "9" * 30, "\n ", "\r\n"]), max_size=6,
).map("".join)  # fmt: skip


@anything
@given(st.lists(st.tuples(_HEADER, _VALUE) | st.sampled_from([("--b", ""), ("", "x"), ("--b--", "")]), max_size=12))
def test_any_mail(lines: list[tuple[str, str]]) -> None:
    data = "\n".join(
        f"{name}: {value}" if name and not name.startswith("--") else f"\n{name}{value}" for name, value in lines
    )
    try:
        mail = read_mail(data.encode("utf-8", "surrogateescape"))
    except UnusableError as problem:
        assert len(str(problem)) > 20
        return
    mail.subject.encode()


@anything
@given(JSON)
def test_any_notebook(content: Any) -> None:
    try:
        handin = read(json.dumps(content).encode())
    except UnusableError as problem:
        assert len(str(problem)) > 20
        return
    assert set(answers(handin, ["x.w1"])) == {"x.w1"}


@anything
@given(
    st.binary(max_size=200)
    | st.text(max_size=200).map(lambda text: f"badge,name,units\n{text}".encode("utf-8", "replace"))
    | st.lists(st.lists(st.text(max_size=6), max_size=4).map(",".join)).map(
        lambda rows: "\n".join(["badge;name", *rows]).encode("utf-8", "replace")
    )
)
def test_any_class_list(tmp_path: Path, content: bytes) -> None:
    (tmp_path / "roster.csv").write_bytes(content)
    try:
        people = read_roster(tmp_path / "roster.csv")
    except RosterError as problem:
        assert len(str(problem)) > 20
        return
    for person in people.values():
        assert person.name.isprintable()


def test_a_field_without_end_in_the_class_list_is_said(tmp_path: Path) -> None:
    (tmp_path / "roster.csv").write_text('badge,name\n4711,"' + "x" * 200_000)
    with pytest.raises(RosterError, match="cannot be read as a table"):
        read_roster(tmp_path / "roster.csv")


@anything
@given(st.binary(max_size=100) | JSON.map(lambda content: json.dumps(content).encode()))
def test_any_record(tmp_path: Path, content: bytes) -> None:
    course, name = Course(tmp_path), "0" * 64
    folder, refused = tmp_path / "received" / "x" / "4711", tmp_path / "received" / "not_taken_in"
    for each in (folder, refused):
        each.mkdir(parents=True, exist_ok=True)
        (each / f"{name}.json").write_bytes(content)
    (folder / f"{name}.ipynb").write_bytes(b"{}")
    (entry,) = received.entries(course, "x", "4711")
    assert choose([entry], None, "last", lambda _entry: 0.0) == entry
    assert all(isinstance(each, str) for each in (*notes([entry], entry, None, "last"), *doubts([entry], entry, None)))
    assert len(refusals(course)) == 1
    (tmp_path / "course.json").write_bytes(content)
    try:
        open_course(tmp_path)
    except CourseError as problem:
        assert "damaged" in str(problem)


@anything
@given(
    st.lists(
        st.binary(max_size=60)
        | JSON.map(lambda content: json.dumps(content, ensure_ascii=False).encode("utf-8", "replace")),
        max_size=8,
    )
)
def test_any_progress(tmp_path: Path, lines: list[bytes]) -> None:
    (tmp_path / progress.FILE).write_bytes(b"\n".join(lines))
    known = progress.load(tmp_path)
    for record in map(known.of, known.answers):
        assert all(isinstance(text, str) for text in (*record.texts, *record.tags, record.last))


def test_a_line_of_progress_that_is_nested_deeply_costs_itself_only(tmp_path: Path) -> None:
    (tmp_path / progress.FILE).write_bytes(b"[" * 100_000 + b"\n")
    progress.keep_sign_on(tmp_path, "4711", "us")
    assert progress.load(tmp_path).badge == "4711"


@given(st.text(max_size=30))
@anything
def test_any_answer_is_remembered(tmp_path: Path, text: str) -> None:
    """Also one with line breaks that are no plain ones, and with half a character."""
    (tmp_path / progress.FILE).unlink(missing_ok=True)
    progress.record(tmp_path, "x.y", text, "right", 1.0)
    progress.record(tmp_path, "x.y", "after\u2028it\x85\x0b\ud83d", "other", 0.0)
    found = progress.load(tmp_path).of("x.y")
    assert found.texts == (text.encode("utf-8", "replace").decode(), "after\u2028it\x85\x0b?")
    assert (found.solved, found.tries) == (True, 1)


@anything
@given(
    st.binary(max_size=60)
    | JSON.map(lambda content: json.dumps(content).encode())
    | JSON.map(
        lambda sheets: json.dumps({"badges": {"4711": {"units": "si", "sheets": sheets}}, "pictures": {}}).encode()
    )
)
def test_any_work_order(tmp_path: Path, content: bytes) -> None:
    (tmp_path / bank.RELEASED).write_bytes(content)
    try:
        bank.released_sheet(tmp_path, "4711", "inherent.w1")
    except ValueError as problem:
        assert len(str(problem)) > 20
    bank.on_the_list(tmp_path, "4711")


def test_a_work_order_that_is_nested_deeply_is_said(tmp_path: Path) -> None:
    (tmp_path / bank.RELEASED).write_bytes(b'{"badges":' + b"[" * 100_000)
    with pytest.raises(ValueError, match="unpack the zip once more"):
        bank.released_sheet(tmp_path, "4711", "inherent.w1")
