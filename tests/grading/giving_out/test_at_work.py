"""Two commands at once on one course: one waits for the other, and nobody is left unmarked. Real processes throughout."""

from __future__ import annotations

import atexit
import functools
import json
import os
import re
import shutil
import signal
import sys
import tempfile
from pathlib import Path

import pytest

from grading import workorders
from grading.commands import DONE, FAILED, LOOK, main
from grading.course.course import Course, new_course, write_safely
from grading.demo.demo import roster_csv
from grading.demo.demo_class import filled_in, people, plans
from grading.giving_out import at_work as lock
from grading.giving_out.at_work import at_work
from grading.giving_out.give_out import give_out
from grading.marking.mark_lesson import mark_lesson
from grading.taking_in.take_in import take_in
from tests.grading.classroom import LESSON, QUESTIONS, classroom, marks
from tests.grading.processes import Forked, forked

MANY = people(30)  # so many that two runs meet


@functools.cache
def _made() -> Path:
    folder = Path(tempfile.mkdtemp(prefix="many-")).resolve()
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    course = new_course(folder / "course", secret="")
    write_safely(course.root / "roster.csv", roster_csv(MANY))
    give_out(course, LESSON, workorders.notebooks()[LESSON])
    released = json.loads((course.root / "as_sent" / LESSON / f"{LESSON}.ipynb").read_text(encoding="utf-8"))
    for i, person in enumerate(MANY):
        data = filled_in(released, plans(QUESTIONS, person, i))
        write_safely(folder / "back" / f"{person.badge}.ipynb", data, lasting=False)
    return folder


def big_class(tmp_path: Path) -> Course:
    """Return a class of thirty whose hand-ins lie beside it in the folder back."""
    shutil.copytree(_made(), tmp_path / "class")
    return Course((tmp_path / "class" / "course").resolve())


def expected(course: Course) -> dict[str, float]:
    """Return the points that must come out."""
    of_class = {person.badge: plans(QUESTIONS, person, i) for i, person in enumerate(course.roster.values())}
    return {badge: sum(each.points * each.share for each in planned) for badge, planned in of_class.items()}


def command(course: Course, *words: str) -> Forked:
    """Start a process that waits for a word and then runs a command as an instructor's does; return it when it is ready."""

    def work() -> int:
        sys.stdout.write("ready\n")
        sys.stdin.readline()
        return main(["--course", str(course.root), *words])

    return ready(forked(work))


def holder(course: Course) -> Forked:
    """Start a process that has a course until it is told to let go."""

    def work() -> int:
        with at_work(course, "mark"):
            sys.stdout.write("ready\n")
            sys.stdin.readline()
        return 0

    return ready(forked(work))


def ready(process: Forked) -> Forked:
    line = process.stdout.readline()
    assert line == "ready\n", line + process.stdout.read()
    return process


def at_once(course: Course, *commands: list[str]) -> list[tuple[int, str]]:
    """Run commands at the same time; return exit code and what each said."""
    started = [command(course, *words) for words in commands]
    for process in started:
        process.tell("go")
    return [process.end() for process in started]


PAIRS = {
    "mark and mark": (["mark"], ["mark"]),
    "mark again and mark": (["mark", "--again"], ["mark"]),
    "take-in and mark": (["take-in", "BACK"], ["mark"]),
    "take-in and take-in": (["take-in", "BACK"], ["take-in", "BACK"]),
    "give-out and mark": (["give-out", "04"], ["mark"]),
    "give-out and give-out": (["give-out", "04"], ["give-out", "04", "--due", "2040-01-01 12:00"]),
    "tables and mark": (["tables"], ["mark"]),
    "hand-back and mark": (["hand-back"], ["mark"]),
}


@pytest.mark.parametrize("pair", PAIRS.values(), ids=PAIRS)
def test_two_at_once_leave_nobody_unmarked(tmp_path: Path, pair: tuple[list[str], list[str]]) -> None:
    course = big_class(tmp_path)
    back = course.root.parent / "back"
    if "BACK" not in pair[0]:
        take_in(course, back, quiet=True)
    commands = [[str(back) if word == "BACK" else word for word in words] for words in pair]
    for code, said in at_once(course, *commands):
        assert code in (DONE, LOOK), said  # some answers of this class cannot be read, and wait for a person
        assert not re.search(r"[1-9]\d* could not be marked|fault|locked", said), said
    tally = mark_lesson(course, LESSON, quiet=True)  # what was not there yet when mark had its turn
    assert (tally.marked + tally.unchanged, tally.unmarked) == (len(MANY), 0)
    found = marks(course)
    assert {badge: sheet.score for badge, sheet in found.items()} == pytest.approx(expected(course))
    assert all(sheet.marked and not sheet.remarks for sheet in found.values())
    assert all(course.autograded(badge, LESSON).stat().st_size for badge in course.roster)


def test_who_waits_is_told_for_whom(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    has_it = holder(course)
    waiting = command(course, "give-out", "04")
    waiting.tell("go")
    line = waiting.stdout.readline()
    assert re.match(
        r"“mark” has been at work in this course since \d{4}-\d\d-\d\d \d\d:\d\d:\d\d \(.* on .*, process \d+\)\.", line
    )
    assert f"process {has_it.pid})" in line
    assert "Waiting for it to end" in line
    assert not waiting.ended()
    has_it.tell("enough")
    assert has_it.end()[0] == 0
    code, said = waiting.end()
    assert code == DONE, said
    assert "Gave out" in said


@pytest.mark.parametrize("words", [["mark"], ["give-out", "04"], ["tables"], ["hand-back"], ["take-in", "."]])
def test_who_waits_too_long_gives_up_with_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: list[str]
) -> None:
    course = classroom(tmp_path)
    before = {path: path.read_bytes() for path in course.root.rglob("*") if path.is_file()}
    has_it = holder(course)
    monkeypatch.setattr(lock, "TELL_AFTER", 0.05)
    monkeypatch.setattr(lock, "LONGEST_WAIT", 0.1)
    said: list[str] = []
    assert main(["--course", str(course.root), *words], said.append) == FAILED
    assert "“mark” has been at work in this course since" in said[-1]
    assert "nothing was changed" in said[-1]
    has_it.tell("enough")
    assert has_it.end()[0] == 0
    assert {path: path.read_bytes() for path in course.root.rglob("*") if path.is_file()} == before


def test_a_killed_command_blocks_nobody(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    has_it = holder(course)
    os.kill(has_it.pid, signal.SIGKILL)
    assert has_it.end()[0] == -signal.SIGKILL
    assert (course.root / lock.HOLDER).exists()  # it had no time to tidy up
    said: list[str] = []
    assert main(["--course", str(course.root), "mark"], said.append) == DONE
    assert not any("at work" in sentence for sentence in said)


def test_one_command_may_call_another(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    with at_work(course, "mark"), at_work(course, "tables"):
        assert '"mark"' in (course.root / lock.HOLDER).read_text(encoding="utf-8")
    assert not (course.root / lock.HOLDER).exists()


def test_a_folder_that_cannot_be_locked_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    course = classroom(tmp_path)

    def cannot(*_: object, **__: object) -> None:
        raise OSError(95, "Operation not supported")

    monkeypatch.setattr(lock.FileLock, "acquire", cannot)
    said: list[str] = []
    assert main(["--course", str(course.root), "mark"], said.append) == FAILED
    assert "is on a disk where files cannot be locked" in said[-1]
