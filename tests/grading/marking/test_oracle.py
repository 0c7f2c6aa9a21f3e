"""The same marks as nbgrader's own autograde, which runs the hand-ins; a few here, the whole class in `compare`."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

import lessons.notebook.calls
from grading.commands import LOOK, main
from grading.demo.demo_class import filled_in, plans
from grading.marking import oracle
from grading.marking.compare import copy_course, differences, marks_of
from grading.marking.mark_lesson import mark_lesson
from tests.grading.classroom import (
    CLASS,
    LESSON,
    QUESTIONS,
    answers_of,
    autograde_here,
    classroom,
    put,
    released,
    with_cell,
)

ADA, BEN, CLEO, DAN = CLASS


def test_nbgrader_gives_the_same_marks_cell_by_cell(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    # All ways of answering that the demo class has, and cells doubled, renamed and deleted.
    for offset, person in zip((1, 3, 7), (ADA, BEN, CLEO), strict=True):
        notebook = json.loads(filled_in(released(course), plans(QUESTIONS, person, offset)))
        if person is BEN:
            answer = next(c for c in notebook["cells"] if "".join(c["source"]).startswith("%%answer inherent.w1"))
            # Without nbgrader's mark: with it nbgrader itself stops, "KeyError: grade_id" where missing cells are added.
            notebook["cells"].append({**answer, "id": "pasted", "metadata": {}, "source": "%%answer inherent.w1\n1 %"})
            with_cell(notebook, QUESTIONS[1], "12 Kv")
        if person is CLEO:
            notebook["cells"] = [c for c in notebook["cells"] if "%%answer inherent.w3" not in "".join(c["source"])]
        put(course.root, f"handed_in/{person.badge}/{LESSON}/{LESSON}.ipynb", notebook)
    mark_lesson(course, LESSON, quiet=True)
    ours = marks_of(course, LESSON)
    (tmp_path / "copy").mkdir()
    copy = copy_course(course, LESSON, [p.badge for p in (ADA, BEN, CLEO)], (tmp_path / "copy").resolve())
    autograde_here(copy, LESSON)
    theirs = marks_of(copy, LESSON)
    assert list(differences(LESSON, ours, theirs)) == []
    assert len(theirs) == 3 * len(QUESTIONS)
    assert len(set(theirs.values())) >= 3  # not all alike, so that a constant could not pass


def test_compare_tells_a_difference(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = classroom(tmp_path)
    put(
        course.root,
        f"handed_in/{ADA.badge}/{LESSON}/{LESSON}.ipynb",
        json.loads(filled_in(released(course), answers_of(ADA))),
    )
    mark_lesson(course, LESSON, quiet=True)
    said: list[str] = []
    monkeypatch.setattr("grading.marking.compare.autograde", lambda *_: [])  # an nbgrader that leaves no marks
    assert main(["--course", str(course.root), "compare"], said.append) == LOOK
    assert f"{LESSON}, badge {ADA.badge}, cell inherent-w1: here {QUESTIONS[0].points}, nbgrader no entry" in said


def test_the_marks_of_a_folder(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    folder = course.root / "marked" / ADA.badge / LESSON
    planned = answers_of(ADA, "right", "mistake", "other")
    put(folder, f"{LESSON}.ipynb", filled_in(released(course), planned))
    put(folder, "workorder.json", (course.root / "as_sent" / LESSON / "workorder.json").read_bytes())
    found = {question.id: oracle.marks_in(folder, question.id) for question in QUESTIONS}
    assert found == {each.question: each.points * each.share for each in planned}


@pytest.mark.parametrize("spoil", ["no such question", "no notebook", "no work order", "broken notebook", "stranger"])
def test_the_marker_never_raises_and_says_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str], spoil: str
) -> None:
    course = classroom(tmp_path)
    folder = course.root / "marked" / ("9999" if spoil == "stranger" else ADA.badge) / LESSON
    put(folder, f"{LESSON}.ipynb", filled_in(released(course), answers_of(ADA)))
    put(folder, "workorder.json", (course.root / "as_sent" / LESSON / "workorder.json").read_bytes())
    if spoil == "no notebook":
        (folder / f"{LESSON}.ipynb").unlink()
    if spoil == "no work order":
        (folder / "workorder.json").unlink()
    if spoil == "broken notebook":
        (folder / f"{LESSON}.ipynb").write_text("{")
    monkeypatch.chdir(folder)
    assert oracle.score("nothing.w1" if spoil == "no such question" else QUESTIONS[0].id) == 0.0
    assert capfd.readouterr() == ("", "")


def test_both_sides_mean_the_same_marker() -> None:
    assert oracle.MARKER == lessons.notebook.calls.MARKER
    assert f"{oracle.score.__module__}:{oracle.score.__name__}" == oracle.NAME


def test_the_marker_is_on_only_during_autograde(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv(oracle.MARKER, raising=False)
    oracle.before_autograde(assignment="x")

    assert os.environ[oracle.MARKER] == oracle.NAME
    oracle.after_autograde()
    assert oracle.MARKER not in os.environ
