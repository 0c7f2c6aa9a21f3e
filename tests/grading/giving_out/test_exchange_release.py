"""What lies where every apprentice can read it holds nobody's numbers; the zips say when they have to be handed in."""

from __future__ import annotations

import json
import zipfile
from datetime import datetime
from pathlib import Path

import pytest
from nbgrader.auth import Authenticator
from nbgrader.coursedir import CourseDirectory
from nbgrader.exchange.default import ExchangeReleaseAssignment
from traitlets.config import Config

from grading.commands import DONE
from grading.course.course import Course
from grading.given_out.given_out import given_out
from grading.given_out.judged_answers import posed
from grading.giving_out.building import generate
from lessons.notebook import bank, hand_in_by
from tests.grading.classroom import CLASS, LESSON, QUESTIONS, classroom, run

ADA, BEN, *_ = CLASS


def numbers_in(folder: Path) -> set[tuple[str, str]]:
    """Return whose question can be read in a folder: badge and question."""
    course_of = {path: path.read_bytes().decode("utf-8", "replace") for path in folder.rglob("*") if path.is_file()}
    found = set()
    for person in CLASS:
        for question in QUESTIONS:
            text = json.dumps(posed(question, person.badge, person.units).sheet.text, ensure_ascii=False)[1:-1]
            found |= {(person.badge, question.id) for whole in course_of.values() if text in whole}
    return found


def test_the_search_finds_numbers(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    assert len(numbers_in(given_out(course, LESSON).latest.folder)) == len(CLASS) * len(QUESTIONS)


@pytest.fixture
def outbound(tmp_path: Path) -> Path:
    """Return what nbgrader's exchange gives to everybody."""
    course, root = classroom(tmp_path), tmp_path / "exchange"
    root.mkdir(mode=0o777)
    root.chmod(0o777)
    config = Config()
    config.Exchange.root = str(root)
    config.CourseDirectory.root = str(course.root)
    config.CourseDirectory.release_directory = "as_sent"
    config.CourseDirectory.course_id = "valves"
    config.CourseDirectory.assignment_id = LESSON
    here = CourseDirectory(config=config)
    ExchangeReleaseAssignment(coursedir=here, authenticator=Authenticator(config=config), config=config).start()
    return root / "valves" / "outbound" / LESSON


def test_the_exchange_shows_nobodys_numbers(outbound: Path) -> None:
    assert {path.name for path in outbound.iterdir()} == {f"{LESSON}.ipynb", "workorder.json"}
    assert numbers_in(outbound) == set()


def test_what_came_from_the_exchange_says_where_the_numbers_are(outbound: Path, tmp_path: Path) -> None:
    question = QUESTIONS[0].id
    assert bank.on_the_list(outbound, ADA.badge)
    with pytest.raises(ValueError, match="They come in the zip that your instructor sends you"):
        bank.released_sheet(outbound, ADA.badge, question)
    with zipfile.ZipFile(tmp_path / "course" / "to_send" / LESSON / f"{ADA.badge}.zip") as archive:
        archive.extractall(tmp_path / "mine")
    here = tmp_path / "mine" / LESSON
    sheet = bank.released_sheet(here, ADA.badge, question)
    assert sheet
    assert sheet.text == posed(QUESTIONS[0], ADA.badge, ADA.units).sheet.text
    assert numbers_in(here) == {(ADA.badge, each.id) for each in QUESTIONS}
    with pytest.raises(ValueError, match="is not on this work order's list"):
        bank.released_sheet(here, BEN.badge, question)


def test_generating_it_by_the_librarys_own_button_shows_nobodys_numbers(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    generate(course, LESSON)
    assert numbers_in(course.root / "as_sent") == set()
    assert run(course, "mark")[0] == DONE


def test_numbers_of_an_earlier_giving_out_are_taken_out_by_the_next_command(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    kept = given_out(course, LESSON).latest.folder / "workorder.json"
    for place in ("as_sent", "lessons"):
        (course.root / place / LESSON / "workorder.json").write_bytes(kept.read_bytes())
    whole = kept.read_bytes()
    kept.unlink()
    assert len(numbers_in(course.root / "as_sent")) == len(CLASS) * len(QUESTIONS)
    assert run(course, "mark")[0] == DONE
    assert numbers_in(course.root / "as_sent") == numbers_in(course.root / "lessons") == set()
    assert kept.read_bytes() == whole


def due_in_zip(course: Course, badge: str, folder: Path) -> datetime | None:
    with zipfile.ZipFile(course.root / "to_send" / LESSON / f"{badge}.zip") as archive:
        archive.extractall(folder)
    return hand_in_by.time_for(folder / LESSON, badge)


def test_the_zips_say_when_to_hand_in_and_follow_each_change(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    folders = (tmp_path / f"unpacked{number}" for number in range(20))
    assert due_in_zip(course, ADA.badge, next(folders)) is None
    first, second = datetime(2030, 3, 1, 16).astimezone(), datetime(2030, 3, 8, 9, 30).astimezone()
    name = given_out(course, LESSON).latest.id
    run(course, "due", "04", "2030-03-01 16:00")
    run(course, "due", "04", "2030-03-08 09:30", "--badge", BEN.badge)
    assert due_in_zip(course, ADA.badge, next(folders)) == first
    assert due_in_zip(course, BEN.badge, next(folders)) == second
    shown = json.loads((course.root / "as_sent" / LESSON / "workorder.json").read_text(encoding="utf-8"))
    assert datetime.fromisoformat(shown["due"]) == first
    assert run(course, "give-out", "04")[0] == DONE  # once more, with no time named: it stays
    assert due_in_zip(course, ADA.badge, next(folders)) == first
    run(course, "due", "04", "none")
    assert due_in_zip(course, ADA.badge, next(folders)) is None
    assert due_in_zip(course, BEN.badge, next(folders)) == second
    assert given_out(course, LESSON).latest.id == name  # a due time makes no other giving-out
