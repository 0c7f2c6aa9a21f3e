"""Hostile hand-ins, each with its outcome: nothing handed in is run, nobody else's marks change, no point is stolen."""

from __future__ import annotations

import csv
import functools
import io
import json
import os
import sqlite3
import stat
import time
import zipfile
from collections.abc import Callable
from email.message import EmailMessage
from pathlib import Path
from typing import Any

import pytest

from grading.commands import FAILED, LOOK, main
from grading.course.course import Course
from grading.marking.mark_lesson import mark_lesson
from grading.report.class_tables import write_tables
from grading.report.handing_back.pages_back import write_pages_back
from grading.report.results import needs_a_person
from grading.taking_in.take_in import take_in
from grading.taking_in.unpacking import MAX_MEMBERS
from lessons.questions.markup import question_html
from lessons.questions.question import QuestionSheet
from tests.grading.classroom import (
    CLASS,
    LESSON,
    QUESTIONS,
    answers_of,
    classroom,
    code,
    full,
    marks,
    notebook_of,
    points,
    put,
    released,
    scores,
    with_cell,
)

ADA, BEN, CLEO, MALLORY = CLASS
HONEST = {ADA: ("right", "mistake"), BEN: ("other",), CLEO: ()}
W1 = QUESTIONS[0]


@pytest.fixture
def course(tmp_path: Path) -> Course:
    """Return a class in which three handed in honestly; the fourth is up to each test."""
    made = classroom(tmp_path)
    for person, ways in HONEST.items():
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(made, person, *ways))
    return made


def deal_with(course: Course, back: Path) -> list[str]:
    """Take in, mark, write pages and report; return what needs a person. Fails if anybody else was touched."""
    take_in(course, back, quiet=True)
    mark_lesson(course, LESSON, quiet=True)
    write_pages_back(course, LESSON, quiet=True)
    write_tables(course, LESSON)
    found = marks(course)
    for person, ways in HONEST.items():
        assert scores(found[person.badge]) == points(answers_of(person, *ways))
    return list(needs_a_person(course))


# What it does when run; ${CANARY} is a file that must not come into being.
RUNS = {
    "endless loop": "while True: pass",
    "memory hog": "hog = [0] * 10**12",
    "exit": "import os; os._exit(0)",
    "syntax error": "def (:",
    "shell": "!touch ${CANARY}",
    "patched numpy": "import numpy; numpy.isclose = numpy.allclose = lambda *a, **k: True; open('${CANARY}', 'w')",
    "patched judge": "import lessons.questions.judge as j; j.judge = lambda *a: j.Reply(1, 'right', ''); open('${CANARY}', 'w')",
    "writes the gradebook": "import sqlite3; sqlite3.connect('${ROOT}/gradebook.db').execute('delete from grade')",
    "reads the gradebook": "print(open('${ROOT}/gradebook.db', 'rb').read()); open('${CANARY}', 'w')",
    "detached child": "import subprocess; subprocess.Popen(['touch', '${CANARY}'], start_new_session=True)",
    "says points itself": "import sys; sys.stdout.write('100.0'); open('${CANARY}', 'w')\n100.0",
}


@pytest.mark.parametrize("place", ["in a new cell", "in the answer cell", "in place of the question", "first of all"])
@pytest.mark.parametrize("source", RUNS.values(), ids=RUNS)
def test_code_that_was_handed_in_is_not_run(course: Course, tmp_path: Path, source: str, place: str) -> None:
    canary = tmp_path / "canary"
    source = source.replace("${CANARY}", str(canary)).replace("${ROOT}", str(course.root))
    notebook = notebook_of(course, MALLORY, "other")
    expected = points(answers_of(MALLORY, "other"))
    if place == "in a new cell":
        notebook["cells"].append(code(source))
    elif place == "first of all":
        notebook["cells"].insert(0, code(source))
    elif place == "in the answer cell":
        with_cell(notebook, W1, f"%%answer {W1.id}\n{source}")
    else:
        asking = next(cell for cell in notebook["cells"] if "".join(cell["source"]) == f'ask("{W1.id}")')
        asking["source"] = source
    put(tmp_path / "back", f"{MALLORY.badge}.ipynb", notebook)
    deal_with(course, tmp_path / "back")
    assert scores(marks(course)[MALLORY.badge]) == expected
    time.sleep(0.05 if "Popen" in source else 0)
    assert not canary.exists()


Change = Callable[[dict[str, Any]], None]


def _points(notebook: dict[str, Any]) -> None:
    for cell in notebook["cells"]:
        if "nbgrader" in cell["metadata"]:
            cell["metadata"]["nbgrader"]["points"] = 1000.0


def _outputs(notebook: dict[str, Any]) -> None:
    for cell in notebook["cells"]:
        if cell["cell_type"] == "code":
            data = {"text/plain": "100.0"}
            cell["outputs"] = [{"output_type": "execute_result", "data": data, "metadata": {}, "execution_count": 1}]


def _all_answers(notebook: dict[str, Any]) -> None:
    texts = "\n".join(str(n / 10) for n in range(1, 1000))
    with_cell(notebook, W1, f"%%answer {W1.id}\n{texts}")


def _doubled(notebook: dict[str, Any]) -> None:
    for n in range(1, 1000):
        notebook["cells"].append(code(f"%%answer {W1.id}\n{n}"))


def _swapped_names(notebook: dict[str, Any]) -> None:
    for cell in notebook["cells"]:
        about = cell["metadata"].get("nbgrader")
        if about:
            about["grade_id"] = "inherent-w2"


def _solution_for_grade(notebook: dict[str, Any]) -> None:
    for cell in notebook["cells"]:
        about = cell["metadata"].get("nbgrader")
        if about:
            about |= {"solution": not about["solution"], "locked": False}


def _deleted_questions(notebook: dict[str, Any]) -> None:
    notebook["cells"] = [cell for cell in notebook["cells"] if "ask(" not in "".join(cell["source"])]


def _easier_question(notebook: dict[str, Any]) -> None:
    for cell in notebook["cells"]:
        if "".join(cell["source"]) == f'ask("{W1.id}")':
            cell["source"] = f'ask("{QUESTIONS[2].id}")'


def _script(notebook: dict[str, Any]) -> None:
    with_cell(notebook, W1, f"%%answer {W1.id}\n<script>alert(1)</script><img src=x onerror=alert(1)>")


def _formula(notebook: dict[str, Any]) -> None:
    with_cell(notebook, W1, f'%%answer {W1.id}\n=HYPERLINK("http://example.invalid","see")')


def _long(notebook: dict[str, Any]) -> None:
    with_cell(notebook, W1, f"%%answer {W1.id}\n{'1 ' * 500_000}")


def _odd_characters(notebook: dict[str, Any]) -> None:
    with_cell(notebook, W1, f"%%answer {W1.id}\n\u202e\u0000\ud83d{{}}{{0}}%s\u0000")


def _huge_number(notebook: dict[str, Any]) -> None:
    with_cell(notebook, W1, f"%%answer {W1.id}\n{'9' * 199}")


CHANGES: dict[str, Change] = {
    "edited points": _points,
    "forged outputs": _outputs,
    "every answer at once": _all_answers,
    "a thousand answer cells": _doubled,
    "all cells of one name": _swapped_names,
    "answer cells made marked ones": _solution_for_grade,
    "questions deleted": _deleted_questions,
    "an easier question in its place": _easier_question,
    "script in an answer": _script,
    "formula in an answer": _formula,
    "an answer of a megabyte": _long,
    "odd characters": _odd_characters,
    "a huge number": _huge_number,
}


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_a_tampered_notebook_earns_no_more_than_its_answers(course: Course, tmp_path: Path, change: Change) -> None:
    notebook = notebook_of(course, MALLORY, "other")  # the first answer is wrong, all others are right
    change(notebook)
    put(tmp_path / "back", f"{MALLORY.badge}.ipynb", notebook)
    deal_with(course, tmp_path / "back")
    assert scores(marks(course)[MALLORY.badge]) == points(answers_of(MALLORY, "other"))
    shown = json.loads(course.autograded(MALLORY.badge, LESSON).read_text(encoding="utf-8"))
    given = {
        c["metadata"]["nbgrader"]["grade_id"]: c["metadata"]["nbgrader"]["points"]
        for c in shown["cells"]
        if c["metadata"].get("nbgrader", {}).get("grade")
    }
    assert given == {question.id.replace(".", "-"): question.points for question in QUESTIONS}
    for name in (f"handed_back/{MALLORY.badge}/{LESSON}/{LESSON}.html", f"tables/{LESSON}.html"):
        page = (course.root / name).read_text(encoding="utf-8")
        assert "<script" not in page
        assert "<img src=x" not in page
        assert "default-src 'none'" in page
    locked = {
        c["id"]: "".join(c["source"]) for c in released(course)["cells"] if c["metadata"].get("editable") is False
    }
    assert {c["id"]: c["source"] for c in shown["cells"] if c["id"] in locked}.items() <= locked.items()
    for path in (course.root / "tables").glob("*.csv"):
        for row in csv.reader(io.StringIO(path.read_text("utf-8-sig"))):
            assert not any(value.startswith(("=", "@", "+")) for value in row)


def zipped(*members: tuple[str | zipfile.ZipInfo, bytes]) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members:
            archive.writestr(name, data)
    return packed.getvalue()


def _link_in_zip() -> bytes:
    entry = zipfile.ZipInfo(f"{LESSON}.ipynb")
    entry.external_attr = (stat.S_IFLNK | 0o777) << 16
    return zipped((entry, b"../../gradebook.db"))


def _locked_zip() -> bytes:
    data = bytearray(zipped((f"{LESSON}.ipynb", b"{}" * 20)))
    for mark in (b"PK\x03\x04", b"PK\x01\x02"):  # the bit that says "encrypted", in both of its places
        data[data.find(mark) + (6 if mark == b"PK\x03\x04" else 8)] |= 1
    return bytes(data)


def _mailed(packed: bytes) -> bytes:
    message = EmailMessage()
    message["Subject"] = MALLORY.badge
    message.add_attachment(packed, maintype="application", subtype="zip", filename="work.zip")
    return message.as_bytes()


FILES: dict[str, tuple[str, Callable[[], bytes], str]] = {
    "50 MB": (".ipynb", lambda: b'{"cells": "' + b"x" * 50_000_000 + b'"}', "50 MB"),
    "deep nesting": (".ipynb", lambda: b"[" * 1_000_000, "nested too deeply"),
    "invalid JSON": (".ipynb", lambda: b'{"cells": [', "not valid JSON"),
    "zip bomb": (".zip", lambda: zipped((f"{LESSON}.ipynb", b"0" * 60_000_000)), "unpacks to more than 20 MB"),
    "many files": (
        ".zip",
        lambda: zipped(*((f"{n}.ipynb", b"{}") for n in range(MAX_MEMBERS + 1))),
        f"{MAX_MEMBERS + 1} files",
    ),
    "zip in a zip": (".zip", lambda: zipped(("a.zip", zipped((f"{LESSON}.ipynb", b"{}")))), "no list of cells"),
    "zips without end": (
        ".zip",
        lambda: functools.reduce(lambda inner, _: zipped(("a.zip", inner)), range(9), b""),
        "more than 4 zips",
    ),
    "a mail in a zip in a mail": (
        ".eml",
        lambda: _mailed(zipped(("b.eml", _mailed(zipped(("x.ipynb", b"{}")))))),
        "no list of cells",
    ),
    "link in a zip": (".zip", _link_in_zip, "is a link"),
    "locked zip": (".zip", _locked_zip, "password"),
    "damaged zip": (".zip", lambda: zipped((f"{LESSON}.ipynb", b"{}" * 99))[:-30], "damaged zip"),
    "not a zip": (".zip", lambda: b"hello", "damaged zip"),
}


@pytest.mark.parametrize(("suffix", "content", "said"), FILES.values(), ids=FILES)
def test_a_hostile_file_is_not_marked_and_said(
    course: Course, tmp_path: Path, suffix: str, content: Callable[[], bytes], said: str
) -> None:
    put(tmp_path / "back", f"{MALLORY.badge}{suffix}", content())
    assert any(said in sentence for sentence in deal_with(course, tmp_path / "back"))
    assert MALLORY.badge not in marks(course)


def test_a_zip_with_paths_leading_out_writes_nothing_outside(course: Course, tmp_path: Path) -> None:
    mine = json.dumps(notebook_of(course, MALLORY)).encode()
    data = zipped(
        (f"../../../{LESSON}.ipynb", mine),
        (f"../handed_in/{MALLORY.badge}/{LESSON}/numpy.py", b"raise SystemExit"),
        ("../gradebook.db", b"gone"),
        (f"/tmp/{MALLORY.badge}.txt", b"x"),  # noqa: S108 - a name in a zip, which must not be written
    )
    put(tmp_path / "back", f"{MALLORY.badge}.zip", data)
    outside = {path for path in tmp_path.rglob("*") if not path.is_relative_to(course.root)}
    deal_with(course, tmp_path / "back")
    assert marks(course)[MALLORY.badge].score == full()  # the notebook in it is a fair one
    assert {path for path in tmp_path.rglob("*") if not path.is_relative_to(course.root)} == outside
    assert not list(course.root.rglob("numpy.py"))


@pytest.mark.parametrize("kind", ["file", "gradebook", "folder", "pipe"])
def test_links_and_pipes_are_not_followed(course: Course, tmp_path: Path, kind: str) -> None:
    back = tmp_path / "back"
    target = back / f"{MALLORY.badge}.ipynb"
    if kind == "file":
        target.symlink_to(back / f"{CLEO.badge}.ipynb")
    elif kind == "gradebook":
        target.symlink_to(course.root / "gradebook.db")
    elif kind == "folder":
        (tmp_path / "elsewhere").mkdir()
        put(tmp_path / "elsewhere", f"{LESSON}.ipynb", notebook_of(course, MALLORY))
        (back / MALLORY.badge).symlink_to(tmp_path / "elsewhere")
    else:
        os.mkfifo(target)
    waiting = deal_with(course, back)
    assert any(MALLORY.badge in sentence and ("link" in sentence or "not a file" in sentence) for sentence in waiting)
    assert MALLORY.badge not in marks(course)


def test_a_link_put_into_submitted_is_not_followed(course: Course, tmp_path: Path) -> None:
    deal_with(course, tmp_path / "back")
    place = course.submitted(MALLORY.badge, LESSON)
    place.parent.mkdir(parents=True)
    place.symlink_to(course.submitted(CLEO.badge, LESSON))
    waiting = deal_with(course, tmp_path / "back")
    assert any("it is a link to another file" in sentence for sentence in waiting)
    assert not marks(course)[MALLORY.badge].results


def test_a_wrong_encoding_is_read_and_said(course: Course, tmp_path: Path) -> None:
    notebook = notebook_of(course, MALLORY)
    notebook["cells"].append(code("é"))
    put(
        tmp_path / "back",
        f"{MALLORY.badge}.ipynb",
        json.dumps(notebook, ensure_ascii=False).encode("cp1252", "replace"),
    )
    assert any("not saved as UTF-8" in sentence for sentence in deal_with(course, tmp_path / "back"))
    assert marks(course)[MALLORY.badge].score == full()


def card(badge: str, text: str) -> list[dict[str, Any]]:
    """Return what a notebook keeps of a question that was shown, by the lessons' own means."""
    html = question_html(QuestionSheet("inherent.w1", "number", "x"), "Work order", badge)
    return [{"output_type": "display_data", "data": {"text/html": html, "text/plain": text}, "metadata": {}}]


def _with_card(notebook: dict[str, Any], badge: str, text: str) -> dict[str, Any]:
    for cell in notebook["cells"]:
        if "".join(cell["source"]) == f'ask("{W1.id}")':
            cell["outputs"] = card(badge, text)
    return notebook


def test_anothers_notebook_handed_in_as_ones_own_is_flagged_not_failed(course: Course, tmp_path: Path) -> None:
    copied = _with_card(notebook_of(course, CLEO), CLEO.badge, "")
    put(tmp_path / "back", f"{MALLORY.badge}.ipynb", copied)
    waiting = deal_with(course, tmp_path / "back")
    assert any("Look at: 4704" in sentence and f"under badge {CLEO.badge}" in sentence for sentence in waiting)
    assert marks(course)[MALLORY.badge].results  # marked with her own numbers, whatever that gives


def test_a_notebook_worked_without_signing_on_is_flagged(course: Course, tmp_path: Path) -> None:
    put(tmp_path / "back", f"{MALLORY.badge}.ipynb", _with_card(notebook_of(course, MALLORY), "alone", ""))
    assert any("without signing on" in sentence for sentence in deal_with(course, tmp_path / "back"))


def test_the_very_same_file_twice_is_flagged(course: Course, tmp_path: Path) -> None:
    put(tmp_path / "back", f"{MALLORY.badge}.ipynb", notebook_of(course, CLEO))
    waiting = deal_with(course, tmp_path / "back")
    assert any("badge 4703 handed in exactly the same file" in sentence for sentence in waiting)


def test_the_very_same_file_is_flagged_also_when_it_comes_later(course: Course, tmp_path: Path) -> None:
    deal_with(course, tmp_path / "back")
    put(tmp_path / "later", f"{MALLORY.badge}.ipynb", notebook_of(course, CLEO))
    waiting = deal_with(course, tmp_path / "later")
    assert any("badge 4703 handed in exactly the same file" in sentence for sentence in waiting)


def test_numbers_of_another_badge_are_flagged(course: Course, tmp_path: Path) -> None:
    from grading.given_out.judged_answers import posed

    text = posed(W1, MALLORY.badge, MALLORY.units).sheet.text
    other = next(t for p in CLASS if (t := posed(W1, p.badge, p.units).sheet.text) != text)
    put(tmp_path / "back", f"{MALLORY.badge}.ipynb", _with_card(notebook_of(course, MALLORY), MALLORY.badge, other))
    assert any("numbers of another badge" in sentence for sentence in deal_with(course, tmp_path / "back"))
    own = _with_card(notebook_of(course, MALLORY), MALLORY.badge, text)
    put(tmp_path / "back", f"{MALLORY.badge}.ipynb", own)
    (course.root / "received" / LESSON / MALLORY.badge).rename(tmp_path / "away")
    assert not any("numbers of another" in flag for flag in _flags(course, tmp_path / "back"))


def _flags(course: Course, back: Path) -> list[str]:
    from grading.handins.received import entries

    take_in(course, back, quiet=True)
    return [flag for entry in entries(course, LESSON, MALLORY.badge)[-1:] for flag in entry.flags]


def test_someone_elses_badge_does_not_replace_their_hand_in(course: Course, tmp_path: Path) -> None:
    deal_with(course, tmp_path / "back")
    forged = _with_card(notebook_of(course, CLEO, "other", "other", "other", "other"), MALLORY.badge, "")
    path = put(tmp_path / "back2", f"{CLEO.badge}.ipynb", forged)
    os.utime(path, (time.time() + 100, time.time() + 100))
    take_in(course, tmp_path / "back2", quiet=True)
    deal_with(course, tmp_path / "back")  # holds Cleo to her own marks
    write_tables(course, LESSON)
    rows = csv.DictReader(io.StringIO((course.root / "tables" / f"{LESSON}_apprentices.csv").read_text("utf-8-sig")))
    assert any("handed in 2 times" in row["remarks"] for row in rows if row["badge"] == CLEO.badge)


def test_a_locked_gradebook_loses_nothing(course: Course, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    from grading.gradebook import gradebook

    monkeypatch.setattr(gradebook, "LOCK_WAIT", 0.2)
    gradebook._engine.cache_clear()
    take_in(course, tmp_path / "back", quiet=True)
    other = sqlite3.connect(course.root / "gradebook.db", isolation_level=None)
    other.execute("BEGIN EXCLUSIVE")
    said: list[str] = []
    assert main(["--course", str(course.root), "mark"], said.append) == FAILED
    assert "Another program is writing" in said[-1]
    other.execute("ROLLBACK")
    other.close()
    assert not deal_with(course, tmp_path / "back")
    gradebook._engine.cache_clear()


def test_everything_at_once(course: Course, tmp_path: Path) -> None:
    back = tmp_path / "back"
    for name, (suffix, content, _said) in FILES.items():
        if name != "50 MB":
            put(back / name.replace(" ", "-"), f"{MALLORY.badge}{suffix}", content())
    put(back, "9999.ipynb", notebook_of(course, MALLORY))
    waiting = deal_with(course, back)
    assert len(waiting) == len(FILES)
    assert main(["--course", str(course.root), "mark"], lambda _said: None) == LOOK
