"""What counts is in the lesson's file: the counter follows what is saved, and lost answers are kept for their boxes."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import nbformat
import pytest

from lessons.notebook import bank, lesson_file
from lessons.notebook.on_screen import OnScreen
from lessons.questions import progress
from lessons.questions.progress import Variant
from tests.lessons.questions.desk import desk

ALL = sum(q.kind != "predict" for q in bank.practice_questions().values() if q.id.startswith("inherent."))
BEGIN = 'from lessons.notebook import *\nbegin("inherent")'


@pytest.fixture
def lesson(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The file of a lesson whose kernel this process plays."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("JPY_SESSION_NAME", str(tmp_path / "04.ipynb"))
    return tmp_path / "04.ipynb"


def save(path: Path, **boxes: str) -> None:
    """Save a lesson with these answers in its boxes, a second after whatever was written down before."""
    cells = [nbformat.v4.new_code_cell(f"%%answer inherent.{name}\n{text}") for name, text in boxes.items()]
    nbformat.write(nbformat.v4.new_notebook(cells=cells), path)
    later = path.stat().st_mtime + 1
    os.utime(path, (later, later))


def tally(folder: Path) -> str:
    known = progress.load(folder)
    return bank.topic_tally("inherent", known, lesson_file.missing(known, "inherent"))


def test_the_counter_counts_what_is_in_the_file(lesson: Path) -> None:
    folder = lesson.parent
    progress.record(folder, "inherent.linear", "Kv 5", "right", 1.0)
    progress.record(folder, "inherent.w1", "5 %", "recorded", 0.0)
    counted = f"this lesson: 1 of {ALL} practice solved, 1 work order question answered · all lessons: 1 of"
    assert tally(folder).startswith(counted), "answered just now, not saved yet"
    save(lesson, linear="Kv 5", w1="5 %")
    assert tally(folder).startswith(counted)
    save(lesson, linear="", w1="5 %")
    assert tally(folder).startswith(f"this lesson: 0 of {ALL} practice solved, 1 work order question answered")
    save(lesson, linear="Kv 5", w1="  \n")
    assert tally(folder).startswith(f"this lesson: 1 of {ALL} practice solved · all lessons: 1 of")
    lesson.unlink()
    assert tally(folder).startswith(counted), "no file is known: nothing is claimed of it"


def test_new_numbers_need_no_answer_in_the_box(lesson: Path) -> None:
    progress.record(lesson.parent, "inherent.linear", "Kv 5", "right", 1.0)
    progress.new_numbers(lesson.parent, "inherent.linear")
    save(lesson, linear="")
    assert tally(lesson.parent).startswith(f"this lesson: 1 of {ALL}")


@pytest.mark.parametrize("content", ["", "[]", "5", '{"cells": 5}', '{"cells": [5]}', "\xff"])
def test_a_file_that_cannot_be_read_takes_nothing_away(lesson: Path, content: str) -> None:
    lesson.write_text(content, encoding="latin-1")
    assert lesson_file.shown_variant("inherent.linear") is None
    assert not lesson_file.is_lesson()
    progress.record(lesson.parent, "inherent.linear", "Kv 5", "right", 1.0)
    assert tally(lesson.parent).startswith(f"this lesson: 1 of {ALL}")


def test_cells_of_any_shape_are_passed_over(lesson: Path) -> None:
    lesson.write_text(
        '{"cells": [5, {"outputs": 5}, {"source": {}}, {"source": "ask(\\"a.b\\")", "outputs": {"x": 1}}]}'
    )
    assert lesson_file.shown_variant("a.b") is None
    assert not lesson_file.is_lesson()


@pytest.mark.parametrize(
    "metadata",
    [
        {},
        5,
        {"variant": 5},
        {"variant": {}},
        {"variant": {"question": 5, "turn": 0}},
        {"variant": {"question": "a.b", "turn": "x"}},
    ],
)
def test_a_mark_that_is_none_is_passed_over(lesson: Path, metadata: Any) -> None:
    cell = nbformat.v4.new_code_cell('ask("inherent.linear")')
    cell.outputs = [{"output_type": "display_data", "data": {}, "metadata": metadata}]
    lesson.write_text(
        nbformat.writes(nbformat.from_dict({"cells": [cell], "metadata": {}, "nbformat": 4, "nbformat_minor": 5}))
    )
    assert lesson_file.shown_variant("inherent.linear") is None


def test_the_page_is_given_what_was_last_answered_to_the_present_numbers(lesson: Path) -> None:
    folder = lesson.parent
    progress.keep_sign_on(folder, "4711", "si")
    for badge, text in (("4711", "Kv 4"), ("4711", "Kv 5"), ("4712", "Kv 6")):
        progress.record(folder, "inherent.linear", text, "other", 0.0, Variant("inherent.linear", badge, "si"))
    progress.record(folder, "start.read", "5 bar", "right", 1.0)
    progress.put_in_place(folder, "inherent.again1", "start.read")
    progress.record(folder, "start.read", "6 bar", "right", 1.0, Variant("start.read", "4711", "si", 1))
    assert OnScreen(print)._answers() == {"inherent.linear": "Kv 5", "start.read": "6 bar", "inherent.again1": "6 bar"}


def test_an_empty_box_shows_again_what_was_answered(tmp_path: Path) -> None:
    with desk(tmp_path, BEGIN, 'ask("inherent.linear")') as page:
        assert page.run("%%answer inherent.linear\n") == ""
        said = page.run("%%answer inherent.linear\nKv 0.001")
        again = page.run("%%answer inherent.linear\n")
        assert said in again
        assert "kept from before: “Kv 0.001”" in again
        assert progress.load(tmp_path).of("inherent.linear").tries == 1


def test_the_dashboard_follows_what_is_answered(tmp_path: Path) -> None:
    with desk(tmp_path, BEGIN, "dashboard()", 'ask("inherent.linear")') as page:
        before = page.cell(1)
        page.run("%%answer inherent.linear\nKv 0.001")
        page.run("%%answer inherent.linear\nKv 0.002")
        assert page.cell(1) != before
