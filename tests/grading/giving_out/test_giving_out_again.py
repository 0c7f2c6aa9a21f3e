"""Giving out again: the old release, its marks and the instructor's own changes stay until the new one is whole."""

from __future__ import annotations

import contextlib
import functools
import itertools
import json
import os
import re
import shutil
import signal
import sys
import zipfile
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event
from sqlalchemy.engine import Engine

from grading import workorders
from grading.commands import DONE, FAILED
from grading.course.course import Course, CourseError, write_safely
from grading.demo.demo import roster_csv
from grading.demo.demo_class import people
from grading.given_out.given_out import keys_of
from grading.giving_out.at_work import at_work
from grading.giving_out.entering import known_cells
from grading.giving_out.give_out import give_out, parse_due
from grading.gradebook.gradebook import dues_of, opened
from grading.marking.mark_lesson import mark_lesson
from lessons.questions.question import Question
from tests.grading.classroom import (
    CLASS,
    LESSON,
    QUESTIONS,
    answers_of,
    classroom,
    dealt,
    made_once,
    marks,
    notebook_of,
    points,
    put,
    run,
    scores,
)
from tests.grading.processes import forked

ADA, BEN, CLEO, DAN = CLASS
W1, W2, W3, W4 = QUESTIONS
LESSON_FILE = workorders.notebooks()[LESSON]
DUE = "2040-01-01 12:00"
EXPECTED = {person.badge: points(answers_of(person, "mistake", "other")) for person in CLASS}


@made_once
def marked(tmp_path: Path) -> Course:
    """Return a course that is marked, with its pages and tables written."""
    course = classroom(tmp_path)
    for person in CLASS:
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person, "mistake", "other"))
    for command in (["take-in", str(tmp_path / "back")], ["mark"], ["hand-back"], ["tables"]):
        assert run(course, *command)[0] == DONE
    return course


def files(course: Course, *folders: str) -> dict[str, bytes]:
    """Return the content of some folders, by name."""
    found = (path for name in folders for path in (course.root / name).rglob("*") if path.is_file())
    return {path.relative_to(course.root).as_posix(): path.read_bytes() for path in found}


def state(course: Course) -> Any:
    """Return all that giving out changes, as the next command finds it."""
    with at_work(course, "look"):
        with opened(course) as connection:
            due = dues_of(connection, LESSON).whole
        return files(course, "as_sent", "lessons", "to_send"), known_cells(course, LESSON), due


def standing(course: Course) -> dict[str, bytes]:
    """Return what giving out must not touch."""
    return files(course, "handed_in", "received", "marked", "handed_back", "tables")


# At each step of giving out again


def _more_people(course: Course) -> None:
    write_safely(course.root / "roster.csv", roster_csv(people(6)))


class Fault:
    """Counts each time that a file of the course is written, renamed or deleted, or a statement is run, and strikes there."""

    EVENTS = frozenset({"open", "os.rename", "os.remove", "os.mkdir", "os.rmdir", "os.chmod"})

    def __init__(self, course: Course, strike: Callable[[int], None]) -> None:
        self.root, self.step, self.strike, self.striking = str(course.root), 0, strike, False

    def hook(self, name: str, arguments: tuple[Any, ...]) -> None:
        if name in self.EVENTS and self.root in f"{arguments[0]}" and self._changes(name, arguments):
            self.count()

    @staticmethod
    def _changes(name: str, arguments: tuple[Any, ...]) -> bool:
        if name == "open":
            return bool(len(arguments) > 2 and arguments[2] & (os.O_WRONLY | os.O_RDWR | os.O_CREAT))
        return name != "os.mkdir" or not Path(arguments[0]).exists()  # a folder that is there is not made again

    def count(self, *_: object) -> None:
        if not self.striking:
            self.step += 1
            self.striking = True
            try:
                self.strike(self.step)
            finally:
                self.striking = False


def struck(course: Course, strike: Callable[[int], None]) -> tuple[int, int]:
    """Give out again in a process of its own that is struck at each step; return how it ended, and how many steps came."""

    def work() -> int:
        fault = Fault(course, strike)
        sys.addaudithook(fault.hook)  # which is there for as long as a process is
        event.listen(Engine, "before_cursor_execute", fault.count)
        event.listen(Engine, "commit", fault.count)
        with contextlib.suppress(OSError, CourseError):
            give_out(course, LESSON, LESSON_FILE, parse_due(DUE))
        sys.stdout.write(f"{fault.step}")
        return 0

    code, said = forked(work).end()
    assert code == -signal.SIGKILL or said.isdecimal(), said
    return code, int(said or 0)


class Struck:
    """A marked class that grew, what it is before and after giving out again, and how it stands when that was cut short."""

    def __init__(self, folder: Path) -> None:
        self.folder, self.course = folder, marked(folder)
        _more_people(self.course)
        self.before, self.stays = state(self.course), standing(self.course)
        whole = self.copy("whole")
        give_out(whole, LESSON, LESSON_FILE, parse_due(DUE))
        self.whole, self.after = whole, state(whole)
        self.looked_at: dict[frozenset[tuple[str, bytes]], bool] = {}
        self.marked_as_before: set[frozenset[tuple[str, bytes]]] = set()

    def copy(self, name: str, source: Course | None = None) -> Course:
        made = Course(self.folder / name)
        shutil.copytree((source or self.course).root, made.root)
        return made

    def as_before(self, bench: Course, lesson: str) -> None:
        """Write what nbgrader wrote the first time: it works outside the course, where no step is counted."""
        shutil.copytree(self.whole.root / "as_sent" / lesson, bench.root / "as_sent" / lesson)
        shutil.copy(bench.source(lesson).with_name("workorder.json"), bench.root / "as_sent" / lesson)

    def is_new(self, left: Course) -> bool:
        """Tell whether a course that was cut short stands as after, and not as before; nothing lies between."""
        lies_there = frozenset(files(left, ".").items())
        if lies_there not in self.looked_at:  # between two steps that only read, the same files lie there
            self.looked_at[lies_there] = self._is_new(left)
        shutil.rmtree(left.root)
        return self.looked_at[lies_there]

    def _is_new(self, left: Course) -> bool:
        for name in (
            f"as_sent/{LESSON}/{LESSON}.ipynb",
            f"as_sent/{LESSON}/workorder.json",
            f"lessons/{LESSON}/{LESSON}.ipynb",
        ):
            json.loads((left.root / name).read_text(encoding="utf-8"))  # at no moment is one missing or cut short
        assert zipfile.ZipFile(left.root / "to_send" / LESSON / f"{ADA.badge}.zip").testzip() is None
        found = state(left)
        assert found in (self.before, self.after), f"{left.root.name} left a mixture"
        assert standing(left) == self.stays
        lies_there = frozenset(files(left, ".").items())
        if lies_there not in self.marked_as_before:  # the same files are marked alike
            assert mark_lesson(left, LESSON, again=True, quiet=True).marked == len(CLASS)
            assert {badge: scores(sheet) for badge, sheet in marks(left).items()} == EXPECTED
            self.marked_as_before.add(lies_there)
        return bool(found == self.after)


def one_moment(seen: list[bool]) -> None:
    """Check that there is one moment at which the new one counts."""
    assert seen[0] is False
    assert seen[-1] is True
    assert seen == sorted(seen)


@pytest.fixture
def again(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Struck:
    made = Struck(tmp_path)
    assert made.before != made.after
    keys = keys_of(QUESTIONS, people(6), dealt(QUESTIONS, people(6)))  # reckoned once: nothing is written for them
    monkeypatch.setattr("grading.giving_out.give_out.keys_of", lambda *_: keys)
    monkeypatch.setattr("grading.giving_out.building.generate", made.as_before)
    return made


def test_killed_at_any_step_it_is_wholly_old_or_wholly_new(again: Struck) -> None:
    """A kill leaves what lies on the disk at that moment, so a copy made at a step stands for a kill there."""
    course = again.copy("at work")
    _, steps = struck(course, lambda step: shutil.copytree(course.root, again.folder / f"step{step}"))
    seen = [again.is_new(Course(again.folder / f"step{step}")) for step in range(1, steps + 1)]
    one_moment([*seen, again.is_new(course)])
    assert len(seen) > 60

    for at in range(1, steps + 1, steps // 9):  # and so it does
        killed = again.copy(f"killed{at}")
        assert struck(killed, functools.partial(_kill, at))[0] == -signal.SIGKILL
        assert again.is_new(killed) is seen[at - 1], at


def _kill(at: int, step: int) -> None:
    if step == at:
        os.kill(os.getpid(), signal.SIGKILL)


def test_a_disk_that_is_full_at_any_step_leaves_it_wholly_old_or_wholly_new(again: Struck) -> None:
    seen = list[bool]()
    for at in itertools.count(5, 5):
        course = again.copy(f"full{at}")
        _, steps = struck(course, functools.partial(_full, at))
        seen.append(again.is_new(course))
        if steps < at:  # it came to its end
            break
    one_moment(seen)
    assert len(seen) > 12


def _full(at: int, step: int) -> None:
    if step == at:
        raise OSError(28, "No space left on device")


# Refused


def test_a_refusal_by_the_library_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = marked(tmp_path)
    _more_people(course)
    before, stays = state(course), standing(course)

    def refuses(*_: object) -> None:
        raise CourseError("nbgrader could not carry out GenerateAssignment")

    with monkeypatch.context() as patched:
        patched.setattr("grading.gradebook.nbgrader_calls.run", refuses)
        code, said = run(course, "give-out", "04")
    assert code == FAILED
    assert "could not carry out" in said
    assert (state(course), standing(course)) == (before, stays)
    assert run(course, "tables")[0] == DONE


def test_a_cell_that_nbgrader_does_not_take_changes_nothing(tmp_path: Path) -> None:
    course = marked(tmp_path)
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    own["cells"].append(
        {**own["cells"][-1], "id": "own", "metadata": {"nbgrader": {"schema_version": 3, "grade": True}}}
    )
    course.source(LESSON).write_text(json.dumps(own), encoding="utf-8")
    before, stays = state(course), standing(course)
    code, said = run(course, "give-out", "04")
    assert code == FAILED, said
    assert "Traceback" not in said
    assert (state(course), standing(course)) == (before, stays)


def _with_question(course: Course, monkeypatch: pytest.MonkeyPatch) -> None:
    added = replace(W1, id="inherent.w8")
    known = {**workorders.questions(), added.id: added}
    monkeypatch.setattr(workorders, "questions", lambda: known)
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    for source in (f'ask("{added.id}")', f"%%answer {added.id}\n"):
        cell = {"cell_type": "code", "id": f"own{len(source)}", "metadata": {}, "source": source, "outputs": []}
        own["cells"].append({**cell, "execution_count": None})
    course.source(LESSON).write_text(json.dumps(own), encoding="utf-8")


def _without_question(course: Course, _monkeypatch: pytest.MonkeyPatch) -> None:
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    own["cells"] = [cell for cell in own["cells"] if W2.id not in "".join(cell["source"])]
    course.source(LESSON).write_text(json.dumps(own), encoding="utf-8")


def _read_by_a_person(_course: Course, monkeypatch: pytest.MonkeyPatch) -> None:
    changed: Question = replace(W1, kind="written", key=None)
    known = {**workorders.questions(), changed.id: changed}
    monkeypatch.setattr(workorders, "questions", lambda: known)


@pytest.mark.parametrize(
    ("change", "named"),
    [
        (_with_question, "new: inherent.w8"),
        (_without_question, "gone: inherent.w2"),
        (_read_by_a_person, "inherent.w1"),
    ],
)
@pytest.mark.parametrize("when", ["marked", "not yet marked", "hand-ins taken away"])
def test_other_questions_after_hand_ins_came_back_are_refused(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    change: Callable[[Course, pytest.MonkeyPatch], None],
    named: str,
    when: str,
) -> None:
    if when == "not yet marked":
        course = classroom(tmp_path)
        put(tmp_path / "back", f"{ADA.badge}.ipynb", notebook_of(course, ADA))
        run(course, "take-in", str(tmp_path / "back"))
    else:
        course = marked(tmp_path)
    if when == "hand-ins taken away":
        shutil.rmtree(course.root / "handed_in")
    change(course, monkeypatch)
    before, stays = state(course), standing(course)
    code, said = run(course, "give-out", "04")
    assert code == FAILED
    assert named in said
    assert "so do its marks and tables" in said
    assert (state(course), standing(course)) == (before, stays)
    assert run(course, "tables")[0] == DONE


@pytest.mark.parametrize("change", [_with_question, _without_question])
def test_other_questions_before_anything_came_back_are_taken(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: Callable[[Course, pytest.MonkeyPatch], None]
) -> None:
    course = classroom(tmp_path)
    old = notebook_of(course, ADA)
    change(course, monkeypatch)
    assert run(course, "give-out", "04")[0] == DONE
    asked = set(re.findall(r"inherent\.w\d", sent(course)["workorder.json"]))
    assert {name for kind, name in known_cells(course, LESSON) if kind == "GradeCell"} == {
        name.replace(".", "-") for name in asked
    }
    put(tmp_path / "back", f"{ADA.badge}.ipynb", old)  # whoever worked on the first one all the same
    run(course, "take-in", str(tmp_path / "back"))
    _, said = run(course, "mark")
    lost = change is _without_question
    assert ("inherent.w2 is no longer in the lesson" in said) is lost
    assert bool(marks(course)[ADA.badge].results) is not lost


# What the instructor changed


def _own_words(course: Course, words: str = "Read chapter two first.") -> None:
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    own["cells"].insert(1, {"cell_type": "markdown", "id": "own", "metadata": {}, "source": words})
    course.source(LESSON).write_text(json.dumps(own, indent=4), encoding="utf-8")


def sent(course: Course) -> dict[str, str]:
    """Return what is in the zip to send."""
    with zipfile.ZipFile(course.root / "to_send" / LESSON / f"{ADA.badge}.zip") as archive:
        return {name.partition("/")[2]: archive.read(name).decode() for name in archive.namelist()}


def test_what_the_instructor_changed_in_source_goes_out_each_time(tmp_path: Path) -> None:
    course = marked(tmp_path)
    _own_words(course)
    for _ in range(3):
        code, said = run(course, "give-out", "04")
        assert code == DONE
        assert "your own version" in said
        assert "Read chapter two first." in course.source(LESSON).read_text(encoding="utf-8")
        assert "Read chapter two first." in sent(course)[f"{LESSON}.ipynb"]
    _own_words(course, "And chapter three.")
    assert run(course, "give-out", "04")[0] == DONE
    assert {"Read chapter two first.", "And chapter three."} <= {
        "".join(cell["source"]) for cell in json.loads(sent(course)[f"{LESSON}.ipynb"])["cells"]
    }
    assert mark_lesson(course, LESSON, again=True, quiet=True).marked == len(CLASS)
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == EXPECTED


def test_a_change_that_has_not_gone_out_is_told_when_marking(tmp_path: Path) -> None:
    course = marked(tmp_path)
    assert "has not gone out yet" not in run(course, "mark")[1]
    _own_words(course)
    code, said = run(course, "mark", "--again")
    assert code == DONE
    assert "has not gone out yet" in said
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == EXPECTED
    course.source(LESSON).write_text("{", encoding="utf-8")
    code, said = run(course, "mark", "--again")
    assert code == DONE
    assert "is no longer a notebook" in said


def test_a_lesson_that_changed_too_is_said(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    newer = json.loads(LESSON_FILE.read_text(encoding="utf-8"))
    newer["cells"].insert(1, {"cell_type": "markdown", "id": "new", "metadata": {}, "source": "New in this version."})
    path = put(tmp_path, f"{LESSON}.ipynb", newer)
    said: list[str] = []
    give_out(course, LESSON, path, say=said.append)
    assert said == []  # nobody changed anything here, so the newer lesson goes out
    assert "New in this version." in sent(course)[f"{LESSON}.ipynb"]
    _own_words(course)
    give_out(course, LESSON, LESSON_FILE, say=said.append)
    assert any("has changed too" in sentence for sentence in said)
    assert "Read chapter two first." in sent(course)[f"{LESSON}.ipynb"]
    course.source(LESSON).unlink()  # as the sentence says
    said.clear()
    give_out(course, LESSON, LESSON_FILE, say=said.append)
    assert said == []
    assert "Read chapter two first." not in sent(course)[f"{LESSON}.ipynb"]


def test_saving_without_a_change_is_no_change(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    own["metadata"]["language_info"] = {"name": "python", "version": "3.12.1"}
    for cell in own["cells"]:
        cell["source"] = "".join(cell["source"]).splitlines(keepends=True)
        if cell["cell_type"] == "code":
            cell["execution_count"], cell["metadata"]["execution"] = 3, {"iopub.execute_input": "2030-01-01"}
    course.source(LESSON).write_text(json.dumps(own, indent=1), encoding="utf-8")
    assert "your own version" not in run(course, "give-out", "04")[1]


def test_points_changed_in_source_stay_and_count(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    for cell in own["cells"]:
        if cell["metadata"].get("nbgrader", {}).get("grade_id") == "inherent-w1":
            cell["metadata"]["nbgrader"]["points"] = 6.0
    course.source(LESSON).write_text(json.dumps(own), encoding="utf-8")
    for _ in range(2):
        code, said = run(course, "give-out", "04")
        assert code == DONE
        assert "inherent.w1 goes out with the points you set: 6." in said
    put(tmp_path / "back", f"{ADA.badge}.ipynb", notebook_of(course, ADA))
    run(course, "take-in", str(tmp_path / "back"))
    assert run(course, "mark")[0] == DONE
    assert scores(marks(course)[ADA.badge])[W1.id] == 6.0
    assert json.loads(sent(course)["workorder.json"])["badges"][ADA.badge]["sheets"][0]["points"] == 6.0


def test_files_put_into_source_stay_and_go_out(tmp_path: Path) -> None:
    course = marked(tmp_path)
    for name in ("valve.png", "more/plan.txt"):
        path = course.source(LESSON).parent / name
        path.parent.mkdir(exist_ok=True)
        path.write_text("mine", encoding="utf-8")
    assert run(course, "give-out", "04")[0] == DONE
    assert {name: sent(course)[name] for name in ("valve.png", "more/plan.txt")} == dict.fromkeys(
        ("valve.png", "more/plan.txt"), "mine"
    )
    (course.source(LESSON).parent / "valve.png").unlink()
    assert run(course, "give-out", "04")[0] == DONE
    assert "valve.png" not in sent(course)
    assert (course.source(LESSON).parent / "more" / "plan.txt").exists()


def test_a_work_order_changed_by_hand_is_kept_aside(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    path = course.source(LESSON).with_name("workorder.json")
    path.write_text(json.dumps({"lesson": LESSON, "badges": {ADA.badge: {"sheets": []}}}), encoding="utf-8")
    changed = path.read_bytes()
    code, said = run(course, "give-out", "04")
    assert code == DONE
    assert "was changed by hand" in said
    assert changed in files(course, "given_out").values()
    assert "was changed by hand" not in run(course, "give-out", "04")[1]


def test_a_source_that_is_no_notebook_is_told(tmp_path: Path) -> None:
    course = marked(tmp_path)
    course.source(LESSON).write_text("{", encoding="utf-8")
    before = state(course)
    code, said = run(course, "give-out", "04")
    assert code == FAILED
    assert "is no longer a notebook" in said
    assert state(course) == before


def test_giving_out_the_same_again_changes_nothing(tmp_path: Path) -> None:
    course = marked(tmp_path)
    before, kept = state(course), files(course, "given_out")
    assert run(course, "give-out", "04")[0] == DONE
    assert (state(course), files(course, "given_out")) == (before, kept)
    assert run(course, "give-out", "04", "--due", DUE)[0] == DONE
    assert files(course, "given_out") == kept
    due: datetime | None = state(course)[2]
    assert due == parse_due(DUE)


def test_a_release_that_was_lost_is_put_back_by_giving_out_again(tmp_path: Path) -> None:
    course = marked(tmp_path)
    before = state(course)
    for name in ("as_sent", "to_send"):
        shutil.rmtree(course.root / name)
    assert run(course, "give-out", "04")[0] == DONE
    assert state(course) == before
