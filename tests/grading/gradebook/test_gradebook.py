"""The gradebook: nbgrader reads what is written, hand-made marks survive, a killed run loses nothing, PostgreSQL."""

from __future__ import annotations

import itertools
import json
import os
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from nbgrader.api import Gradebook
from sqlalchemy import event
from sqlalchemy.engine import Engine

from grading import workorders
from grading.commands import DONE, FAILED, LOOK, main
from grading.course.course import Course, new_course, write_safely
from grading.demo.demo import roster_csv
from grading.giving_out.give_out import give_out, prepare
from grading.marking import mark_lesson as marking
from grading.marking import store
from grading.marking.mark_lesson import mark_lesson
from grading.report.results import needs_a_person
from grading.taking_in.take_in import take_in
from lessons.questions.question import Question
from tests.grading.classroom import (
    CLASS,
    LESSON,
    QUESTIONS,
    answers_of,
    classroom,
    full,
    marks,
    notebook_of,
    points,
    put,
    scores,
    with_cell,
)
from tests.grading.gradebook.postgres import free_port, running_postgres, skip_without_postgres
from tests.grading.processes import forked

ADA, BEN, CLEO, DAN = CLASS
W1 = QUESTIONS[0]


def marked(tmp_path: Path, *ways: str) -> Course:
    course = classroom(tmp_path)
    for person in CLASS:
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person, *ways))
    take_in(course, tmp_path / "back", quiet=True)
    mark_lesson(course, LESSON, quiet=True)
    return course


def in_nbgrader(course: Course, badge: str = ADA.badge) -> tuple[Gradebook, Any]:
    gradebook = Gradebook(course.url)
    return gradebook, gradebook.find_submission_notebook(LESSON, LESSON, badge)


def set_by_hand(course: Course, score: float, question: Question = W1, comment: str = "") -> None:
    """Change a mark the way the formgrader does."""
    gradebook, _ = in_nbgrader(course)
    with gradebook:
        grade = gradebook.find_grade(question.id.replace(".", "-"), LESSON, LESSON, ADA.badge)
        grade.manual_score, grade.needs_manual_grade = score, False
        if comment:
            name = f"{question.id.replace('.', '-')}-answer"
            gradebook.find_comment(name, LESSON, LESSON, ADA.badge).manual_comment = comment
        gradebook.db.commit()


def test_nbgrader_reads_the_marks(tmp_path: Path) -> None:
    course = marked(tmp_path, "mistake", "other")
    gradebook, notebook = in_nbgrader(course)
    expected = points(answers_of(ADA, "mistake", "other"))
    with gradebook:
        assert notebook.score == sum(expected.values())
        assert notebook.max_score == full()
        assert notebook.needs_manual_grade is False
        found = {grade.name: grade.score for grade in notebook.grades}
        assert found == {name.replace(".", "-"): score for name, score in expected.items()}
        assert "Read as" in gradebook.find_comment("inherent-w2-answer", LESSON, LESSON, ADA.badge).comment
        assert gradebook.find_student(ADA.badge).last_name == ADA.name.split()[-1]


def test_a_mark_changed_by_hand_survives_marking_again(tmp_path: Path) -> None:
    course = marked(tmp_path, "other")
    set_by_hand(course, 1.5, comment="You explained it to me.")
    mark_lesson(course, LESSON, again=True, quiet=True)
    assert scores(marks(course)[ADA.badge])[W1.id] == 1.5
    assert list(needs_a_person(course)) == []
    main(["--course", str(course.root), "hand-back"], lambda _said: None)
    page = (course.root / "handed_back" / ADA.badge / LESSON / f"{LESSON}.html").read_text(encoding="utf-8")
    assert "You explained it to me." in page
    assert "(by your instructor)" in page


def test_a_new_answer_under_a_hand_made_mark_asks_for_a_look(tmp_path: Path) -> None:
    course = marked(tmp_path, "other")
    set_by_hand(course, 1.5)
    later = put(tmp_path / "back", f"{ADA.badge}.ipynb", notebook_of(course, ADA, "right"))
    os.utime(later, (time.time() + 60, time.time() + 60))
    take_in(course, tmp_path / "back", quiet=True)
    mark_lesson(course, LESSON, quiet=True)
    assert scores(marks(course)[ADA.badge])[W1.id] == 1.5
    assert any("question 1" in sentence for sentence in needs_a_person(course))


def test_what_was_looked_at_in_the_formgrader_leaves_the_list(tmp_path: Path) -> None:
    course = marked(tmp_path, "unreadable")
    assert any(sentence.startswith(f"Read: {ADA.badge}") for sentence in needs_a_person(course))
    set_by_hand(course, 0.5)
    assert not any(sentence.startswith(f"Read: {ADA.badge}") for sentence in needs_a_person(course))


def test_a_flag_taken_off_in_the_formgrader_leaves_the_list(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    put(tmp_path / "back", f"{ADA.badge}.ipynb", with_cell(notebook_of(course, ADA), W1, "no first line"))
    take_in(course, tmp_path / "back", quiet=True)
    mark_lesson(course, LESSON, quiet=True)
    assert any(sentence.startswith(f"Look at: {ADA.badge}") for sentence in needs_a_person(course))
    gradebook, notebook = in_nbgrader(course)
    with gradebook:
        notebook.flagged = False
        gradebook.db.commit()
    assert not any(sentence.startswith(f"Look at: {ADA.badge}") for sentence in needs_a_person(course))


def killed_at(course: Course, statement: int) -> int:
    """Mark in a process of its own that is killed at a statement to the gradebook; return how it ended."""
    left = itertools.count(statement - 1, -1)

    def count(*_: object) -> None:
        if not next(left):
            os.kill(os.getpid(), signal.SIGKILL)

    def work() -> int:
        marking.AT_ONCE = 2  # so that a class of four is written in two transactions
        event.listen(Engine, "before_cursor_execute", count)
        mark_lesson(course, LESSON, quiet=True)
        return 0

    return forked(work).end()[0]


@pytest.mark.parametrize("statement", [20, 24, 28, 31, 33, 38])
def test_a_kill_at_any_moment_loses_nothing(tmp_path: Path, statement: int) -> None:
    course = classroom(tmp_path)
    for person in CLASS:
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person, "mistake", "other"))
    take_in(course, tmp_path / "back", quiet=True)
    assert killed_at(course, statement) == -signal.SIGKILL
    for badge, sheet in marks(course).items():  # whoever is in the gradebook is there whole
        person = course.roster[badge]
        assert scores(sheet) == points(answers_of(person, "mistake", "other"))
        assert course.autograded(badge, LESSON).stat().st_size > 0
    half = len(marks(course))
    tally = mark_lesson(course, LESSON, quiet=True)
    assert (tally.unchanged, tally.marked) == (half, len(CLASS) - half)
    assert {b: scores(s) for b, s in marks(course).items()} == {
        person.badge: points(answers_of(person, "mistake", "other")) for person in CLASS
    }


def test_the_kill_falls_in_the_middle_of_the_class(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    for person in CLASS:
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person))
    take_in(course, tmp_path / "back", quiet=True)
    killed_at(course, 36)
    assert 0 < len(marks(course)) < len(CLASS)


def test_what_the_gradebook_does_not_take_stops_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Hand-ins are written together; where that fails, each is written by itself, and the one at fault is told."""
    course = classroom(tmp_path)
    for person in CLASS:
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person))
    take_in(course, tmp_path / "back", quiet=True)
    real = store.answer_row

    def refused_for_ben(outcome: store.Outcome, mark: Any) -> dict[str, Any]:
        row = real(outcome, mark)
        return row | {"text": None} if outcome.badge == BEN.badge else row

    monkeypatch.setattr(store, "answer_row", refused_for_ben)
    tally = mark_lesson(course, LESSON, quiet=True)
    assert (tally.marked, tally.unmarked) == (3, 1)
    assert {badge for badge, sheet in marks(course).items() if sheet.results} == {p.badge for p in CLASS} - {BEN.badge}
    assert any("a fault in this program" in sentence and BEN.badge in sentence for sentence in needs_a_person(course))


def test_a_fault_in_this_program_stops_no_other(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = classroom(tmp_path)
    for person in CLASS:
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person))
    take_in(course, tmp_path / "back", quiet=True)
    real = marking.mark_answers

    def fails_for_ben(handin: Any, questions: Any, person: Any) -> Any:
        if person is course.roster[BEN.badge]:
            raise ZeroDivisionError("division by zero")
        return real(handin, questions, person)

    monkeypatch.setattr(marking, "mark_answers", fails_for_ben)
    tally = mark_lesson(course, LESSON, quiet=True)
    assert (tally.marked, tally.unmarked) == (3, 1)
    assert any("a fault in this program" in sentence and BEN.badge in sentence for sentence in needs_a_person(course))


WRITTEN = Question(
    id="inherent.w9", kind="written", text="Tell in two sentences what you saw.", variants=({},), points=3.0
)


@pytest.fixture
def written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Course:
    """Return a course whose lesson also has a question that a person reads."""
    known = {**workorders.questions(), WRITTEN.id: WRITTEN}
    monkeypatch.setattr(workorders, "questions", lambda: known)
    notebook = json.loads(workorders.notebooks()[LESSON].read_text(encoding="utf-8"))
    for source in (f'ask("{WRITTEN.id}")', f"%%answer {WRITTEN.id}\n"):
        cell = {"cell_type": "code", "id": f"w9-{len(source)}", "metadata": {}, "source": source, "outputs": []}
        notebook["cells"].append({**cell, "execution_count": None})
    path = put(tmp_path, f"{LESSON}.ipynb", notebook)
    course = new_course(tmp_path / "course", secret="")
    write_safely(course.root / "roster.csv", roster_csv(CLASS))
    give_out(course, LESSON, path)
    return course


def test_written_answers_wait_for_the_instructor(written: Course, tmp_path: Path) -> None:
    for person, text in ((ADA, "It hunted. Then it stuck."), (BEN, "")):
        notebook = with_cell(notebook_of(written, person), WRITTEN, f"%%answer {WRITTEN.id}\n{text}")
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook)
    take_in(written, tmp_path / "back", quiet=True)
    said: list[str] = []
    assert main(["--course", str(written.root), "mark"], said.append) == LOOK
    assert any("Tell in two sentences what you saw." in line and "It hunted" in line for line in said)
    with Gradebook(written.url) as gradebook:
        waiting = gradebook.find_grade("inherent-w9-answer", LESSON, LESSON, ADA.badge)
        blank = gradebook.find_grade("inherent-w9-answer", LESSON, LESSON, BEN.badge)
        assert (waiting.auto_score, waiting.needs_manual_grade, waiting.max_score) == (None, True, 3.0)
        assert (blank.auto_score, blank.needs_manual_grade) == (0.0, False)
        waiting.manual_score, waiting.needs_manual_grade = 2.5, False
        gradebook.db.commit()
    mark_lesson(written, LESSON, again=True, quiet=True)
    assert scores(marks(written)[ADA.badge])[WRITTEN.id] == 2.5
    assert list(needs_a_person(written)) == []


def test_a_written_answer_is_the_cell_that_nbgrader_grades() -> None:
    notebook = {
        "cells": [
            {"cell_type": "code", "source": f"%%answer {WRITTEN.id}"},
            {"cell_type": "code", "source": f'ask("{WRITTEN.id}")'},
        ]
    }
    answer, ask = (cell["metadata"]["nbgrader"] for cell in prepare(notebook, LESSON, [WRITTEN])["cells"])
    assert (answer["grade"], answer["solution"], answer["points"]) == (True, True, 3.0)
    assert (ask["grade"], ask["solution"], ask["locked"]) == (False, False, True)


@pytest.fixture(scope="module")
def formgrader(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Course, str]]:
    """Start a real Jupyter server with nbgrader's formgrader on a marked course."""
    course = marked(tmp_path_factory.mktemp("formgrader"), "mistake", "unreadable")
    port = free_port()
    command = [
        sys.executable, "-m", "jupyter_server", "--allow-root", "--no-browser", f"--port={port}", "--IdentityProvider.token=t",
        "--ServerApp.jpserver_extensions={'nbgrader.server_extensions.formgrader': True}", "--ServerApp.disable_check_xsrf=True",
    ]  # fmt: skip
    server = subprocess.Popen(command, cwd=course.root, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    try:
        yield course, f"http://127.0.0.1:{port}/formgrader"
    finally:
        server.terminate()
        server.wait(20)


def fetch(url: str, data: dict[str, Any] | None = None, method: str = "GET") -> str:
    content = json.dumps(data).encode() if data is not None else None
    request = urllib.request.Request(url, content, {"Authorization": "token t"}, method=method)  # noqa: S310
    for _ in range(100):
        try:
            with urllib.request.urlopen(request, timeout=120) as answer:  # noqa: S310 - our own server
                return str(answer.read().decode())
        except (ConnectionError, urllib.error.URLError) as problem:
            if isinstance(problem, urllib.error.HTTPError):
                raise
            time.sleep(0.2)
    raise TimeoutError(url)


def test_the_formgrader_shows_the_marked_notebooks_and_takes_a_mark(formgrader: tuple[Course, str]) -> None:
    course, url = formgrader
    listed = json.loads(fetch(f"{url}/api/submitted_notebooks/{LESSON}/{LESSON}"))
    (ada,) = [each for each in listed if each["student"] == ADA.badge]
    assert ada["score"] == sum(points(answers_of(ADA, "mistake", "unreadable")).values())
    assert ada["needs_manual_grade"] is True
    page = fetch(f"{url}/submissions/{ada['id']}/")
    assert "see my notebook please" in page
    assert "does not read as a number" in page
    grades = json.loads(fetch(f"{url}/api/grades?submission_id={ada['id']}"))
    (waiting,) = [grade for grade in grades if grade["needs_manual_grade"]]
    fetch(f"{url}/api/grade/{waiting['id']}", {"manual_score": 1.0, "extra_credit": None}, "PUT")
    mark_lesson(course, LESSON, again=True, quiet=True)
    assert scores(marks(course)[ADA.badge])["inherent.w2"] == 1.0


def test_the_formgraders_own_button_gives_the_same_marks(formgrader: tuple[Course, str]) -> None:
    """Without the hook in nbgrader_config.py every question would end without a number, that is, with full points."""
    course, url = formgrader
    before = {badge: scores(sheet) for badge, sheet in marks(course).items()}
    with Gradebook(course.url) as gradebook:
        for grade in gradebook.find_submission_notebook(LESSON, LESSON, BEN.badge).grades:
            grade.auto_score = None
        gradebook.db.commit()
    course.autograded(BEN.badge, LESSON).unlink()
    said = json.loads(fetch(f"{url}/api/submission/{LESSON}/{BEN.badge}/autograde", {}, "POST"))
    assert said["success"], said
    with Gradebook(course.url) as gradebook:
        found = gradebook.find_submission_notebook(LESSON, LESSON, BEN.badge).grades
        assert {grade.name: grade.auto_score for grade in found} == {
            name.replace(".", "-"): score for name, score in before[BEN.badge].items()
        }


@pytest.fixture
def postgres() -> Iterator[str]:
    """Give the URL of a PostgreSQL server of the test's own."""
    skip_without_postgres()
    with running_postgres() as url:
        yield url


def test_the_same_on_a_postgresql_server(postgres: str, tmp_path: Path) -> None:
    folder = tmp_path / "course"
    new_course(folder, postgres, secret="")  # so that the test knows who has which numbers
    write_safely(folder / "roster.csv", roster_csv(CLASS))
    command = ["--course", str(folder)]
    assert main([*command, "give-out", "04", "--due", "2026-01-10 12:00"], lambda _said: None) == DONE
    course = Course(folder.resolve(), postgres)
    ways = {ADA: ("mistake", "other"), BEN: ("unreadable",), CLEO: ()}
    for person, how in ways.items():
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person, *how))
    put(
        tmp_path / "back",
        f"{DAN.badge}.ipynb",
        with_cell(notebook_of(course, DAN), W1, f"%%answer {W1.id}\n\u0000\ud800'; DROP TABLE grade; --"),
    )
    assert main([*command, "take-in", str(tmp_path / "back")], lambda _said: None) == DONE
    assert main([*command, "mark"], lambda _said: None) == LOOK
    set_by_hand(course, 1.5)
    assert main([*command, "mark", "--again"], lambda _said: None) == LOOK
    found = marks(course)
    assert scores(found[ADA.badge]) == {**points(answers_of(ADA, *ways[ADA])), W1.id: 1.5}
    assert scores(found[BEN.badge]) == points(answers_of(BEN, *ways[BEN]))
    assert scores(found[DAN.badge]) == {**points(answers_of(DAN)), W1.id: 0.0}
    assert main([*command, "hand-back"], lambda _said: None) == DONE
    assert main([*command, "tables"], lambda _said: None) == LOOK
    assert not (folder / "gradebook.db").exists()


@pytest.mark.parametrize(
    "url", ["postgresql+psycopg://teacher@127.0.0.1:1/none", "nonsense://x", "sqlite:////no/such/folder/gradebook.db"]
)
def test_a_gradebook_that_cannot_be_reached_is_said(tmp_path: Path, url: str) -> None:
    course = classroom(tmp_path)
    (course.root / "course.json").write_text(json.dumps({"gradebook": url}))
    put(course.root, f"handed_in/{ADA.badge}/{LESSON}/{LESSON}.ipynb", notebook_of(course, ADA))
    said: list[str] = []
    assert main(["--course", str(course.root), "mark"], said.append) == FAILED
    assert "cannot be used" in said[-1]
    assert "teacher@" not in said[-1]  # nor a password that might stand before the @
