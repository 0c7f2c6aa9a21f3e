"""Questions chosen before a lesson goes out, withdrawn or mended after it did: points, maximum and table follow at once."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import zipfile
from pathlib import Path

import pytest
from nbgrader.api import Gradebook

from grading import workorders
from grading.commands import DONE, FAILED, LOOK
from grading.course.course import Course, CourseError
from grading.given_out.decisions import FILE, decisions, to_mark_again
from grading.given_out.given_out import given_out
from grading.giving_out.changed_questions import withdraw
from grading.giving_out.give_out import give_out
from grading.marking.mark_lesson import mark_lesson
from grading.report.class_tally import tally
from grading.taking_in.take_in import take_in
from lessons.questions.judge import RIGHT
from lessons.units.quantities import from_base
from tests.grading.classroom import (
    CLASS,
    LESSON,
    QUESTIONS,
    autograde_here,
    classroom,
    full,
    made_once,
    marks,
    notebook_of,
    put,
    run,
    scores,
    with_cell,
)

ADA, BEN, CLEO, DAN = CLASS
W1, W2, W3, W4 = QUESTIONS
CHOICE = next(question for question in QUESTIONS if question.kind == "choice")
WAYS = {ADA: "right", BEN: "mistake", CLEO: "blank"}


@made_once
def marked(tmp_path: Path) -> Course:
    """Return a marked course; the first question was answered right, wrong and not at all."""
    made = classroom(tmp_path)
    for person, way in WAYS.items():
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(made, person, way))
    take_in(made, tmp_path / "back", quiet=True)
    assert run(made, "mark")[0] == DONE
    return made


@pytest.fixture
def course(tmp_path: Path) -> Course:
    return marked(tmp_path)


def received(course: Course) -> dict[str, str]:
    files = (path for path in (course.root / "received").rglob("*") if path.is_file())
    return {str(path): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


def table(course: Course) -> dict[str, dict[str, str]]:
    text = (course.root / "tables" / f"{LESSON}_before_and_after.csv").read_text(encoding="utf-8-sig")
    return {row["badge"]: row for row in csv.DictReader(io.StringIO(text))}


def most(course: Course) -> float:
    """Return what nbgrader takes for the most points of the lesson."""
    with Gradebook(course.url) as gradebook:
        return float(gradebook.find_assignment(LESSON).max_score)


def now(course: Course) -> dict[str, float]:
    return {badge: scores(sheet)[W1.id] for badge, sheet in marks(course).items()}


def test_a_withdrawn_question_counts_for_nobody_and_comes_back(course: Course) -> None:
    before, came_in = now(course), received(course)
    assert before[ADA.badge] == W1.points
    code, said = run(course, "withdraw", "04", W1.id)
    assert (code, now(course)) == (DONE, dict.fromkeys(before, 0.0)), said
    assert most(course) == full() - W1.points
    row = table(course)[ADA.badge]
    assert (row[f"{W1.id} before"], row[f"{W1.id} now"]) == (f"{W1.points:g}", "0")
    assert float(row["lesson before"]) - float(row["lesson now"]) == W1.points
    run(course, "hand-back")
    page = (course.root / "handed_back" / BEN.badge / LESSON / f"{LESSON}.html").read_text(encoding="utf-8")
    assert "Your instructor withdrew this question. It does not count for anybody." in page
    assert W1.id not in page.partition("Look at again")[2]
    assert run(course, "mark")[1].startswith(f"{LESSON}: 0 marked, 3 unchanged")
    assert run(course, "withdraw", "04", W1.id, "--undo")[0] == DONE
    assert (now(course), most(course), received(course)) == (before, full(), came_in)


def test_everybody_can_have_the_points_of_a_withdrawn_question(course: Course) -> None:
    assert run(course, "withdraw", "04", W1.id.upper(), "--points-for", "everybody")[0] == DONE
    assert set(now(course).values()) == {W1.points}
    assert most(course) == full()


def test_a_withdrawn_question_says_nothing_about_the_class(course: Course) -> None:
    run(course, "withdraw", "04", W1.id)
    counted = tally([question.id for question in QUESTIONS])
    for sheet in marks(course).values():
        counted.add(sheet)
    assert counted.questions[W1.id].count == 0
    assert counted.questions[W2.id].count == len(WAYS)
    assert run(course, "tables")[0] == DONE


def test_points_by_hand_do_not_bring_a_withdrawn_question_back(course: Course) -> None:
    with Gradebook(course.url) as gradebook:
        grade = gradebook.find_grade(W1.id.replace(".", "-"), LESSON, LESSON, BEN.badge)
        grade.manual_score = 1.5
        gradebook.db.commit()
    assert now(course)[BEN.badge] == 1.5
    assert run(course, "withdraw", "04", W1.id)[0] == DONE  # and nobody is asked to look at it
    assert now(course)[BEN.badge] == 0
    run(course, "withdraw", "04", W1.id, "--undo")
    assert now(course)[BEN.badge] == 1.5


def test_a_wider_tolerance_gives_its_points_at_once(course: Course, tmp_path: Path) -> None:
    given = given_out(course, LESSON).latest
    number = next(each for each in given.questions if each.kind == "number")
    this = number.pose(number.dealt[DAN.badge], given.units[DAN.badge])
    typed = from_base(float(this.right) * 1.08, this.sheet.unit)
    put(
        tmp_path / "late",
        f"{DAN.badge}.ipynb",
        with_cell(notebook_of(course, DAN), number, f"%%answer {number.id}\n{typed.value:.5g}"),
    )
    take_in(course, tmp_path / "late", quiet=True)
    run(course, "mark")
    assert scores(marks(course)[DAN.badge])[number.id] < number.points
    assert run(course, "mend", "04", number.id, "--tolerance", "9 %")[0] == DONE
    assert scores(marks(course)[DAN.badge])[number.id] == number.points
    run(course, "mend", "04", number.id, "--undo")
    assert scores(marks(course)[DAN.badge])[number.id] < number.points


def test_another_option_can_be_taken_as_right_too(course: Course) -> None:
    given = given_out(course, LESSON).latest
    asked = next(each for each in given.questions if each.id == CHOICE.id)
    this = asked.pose(asked.dealt[BEN.badge], given.units[BEN.badge])
    wrong = next(each for each in asked.options if each.name != this.right)
    assert "{" not in wrong.text
    letter = next(letter for letter, name in this.names.items() if name == wrong.name)
    put(
        course.root.parent / "again",
        f"{BEN.badge}.ipynb",
        with_cell(notebook_of(course, BEN), CHOICE, f"%%answer {CHOICE.id}\n{letter}"),
    )
    take_in(course, course.root.parent / "again", quiet=True)
    run(course, "mark")
    before = {badge: scores(sheet)[CHOICE.id] for badge, sheet in marks(course).items()}
    assert before[BEN.badge] == 0
    code, said = run(course, "mend", "04", CHOICE.id, "--accept", wrong.text.upper())
    assert code == DONE, said
    after = {badge: scores(sheet)[CHOICE.id] for badge, sheet in marks(course).items()}
    assert after[BEN.badge] == CHOICE.points
    assert all(after[badge] >= before[badge] for badge in before)
    result = next(each for each in marks(course)[BEN.badge].results if each.question == CHOICE.id)
    assert (result.tag, result.means) == (RIGHT, "Right: your instructor takes this answer as right too.")


WRONG = {
    "no such question": (["withdraw", "04", "inherent.w9"], "has no question inherent.w9"),
    "no such lesson": (["withdraw", "77", W1.id], "No lesson 77 was given out"),
    "nothing to mend": (["mend", "04", W1.id], "Say what is to be mended"),
    "a tolerance of words": (["mend", "04", W1.id, "--tolerance", "a bit"], "from 0.1 to 50"),
    "a tolerance of all": (["mend", "04", W1.id, "--tolerance", "100"], "from 0.1 to 50"),
    "not a number at all": (["mend", "04", W1.id, "--tolerance", "nan"], "from 0.1 to 50"),
    "a tolerance for letters": (["mend", "04", CHOICE.id, "--tolerance", "5"], "asks for no number"),
    "an option for a number": (["mend", "04", W1.id, "--accept", "it rises"], "one right option only"),
    "an option by its letter": (["mend", "04", CHOICE.id, "--accept", "zzz"], "fits 0 options"),
    "an empty option": (["mend", "04", CHOICE.id, "--accept", " "], "fits 0 options"),
    "points of nothing": (["choose", "04", "--points", f"{W1.id}=0"], "more than 0"),
    "points without an end": (["choose", "04", "--points", f"{W1.id}=inf"], "more than 0"),
    "points of words": (["choose", "04", "--points", W1.id], "does not say points"),
    "points of a stranger": (["choose", "04", "--points", "trim.w1=2"], "has no question trim.w1"),
    "left out too late": (["choose", "04", "--leave-out", W1.id], "withdraw 04 inherent.w1"),
}


@pytest.mark.parametrize(("command", "sentence"), WRONG.values(), ids=WRONG)
def test_what_cannot_be_is_refused_and_changes_nothing(course: Course, command: list[str], sentence: str) -> None:
    before = {badge: scores(sheet) for badge, sheet in marks(course).items()}
    code, said = run(course, *command)
    assert (code, sentence in said) == (FAILED, True), said
    assert not (course.root / FILE).exists()
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == before


def test_points_set_after_it_went_out_count_at_once(course: Course, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("grading.marking.compare.autograde", autograde_here)
    assert run(course, "choose", "04", "--points", f"{W1.id}=4,5")[0] == DONE
    assert now(course)[ADA.badge] == 4.5
    assert most(course) == full() - W1.points + 4.5
    assert float(table(course)[ADA.badge]["lesson now"]) == full() - W1.points + 4.5
    code, said = run(course, "compare", "04", "--sample", "1")
    assert (code, said.splitlines()[-1]) == (DONE, "No difference."), said


def test_the_gradebooks_maximum_follows_points_edited_in_the_notebook(course: Course) -> None:
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    for cell in own["cells"]:
        about = cell["metadata"].get("nbgrader", {})
        if about.get("grade_id") == W1.id.replace(".", "-"):
            about["points"] = 7.0
    course.source(LESSON).write_text(json.dumps(own), encoding="utf-8")
    assert run(course, "give-out", "04")[0] == DONE
    assert most(course) == full() - W1.points + 7
    run(course, "mark", "--again")
    assert now(course)[ADA.badge] == 7
    assert run(course, "choose", "04", "--points", f"{W1.id}=3")[0] == DONE  # what is decided by command goes before
    assert (most(course), now(course)[ADA.badge]) == (full() - W1.points + 3, 3)


def test_a_change_that_was_cut_short_is_finished_by_the_next_mark(course: Course) -> None:
    withdraw(course, LESSON, W1.id, "nobody")  # and killed before it marked
    assert now(course)[ADA.badge] == W1.points
    assert mark_lesson(course, LESSON, quiet=True).marked == len(WAYS)
    assert now(course)[ADA.badge] == 0
    assert to_mark_again(course, LESSON) == []
    assert run(course, "mark")[0] == DONE  # a change that was meant asks nobody to look


def test_questions_are_chosen_before_they_go_out(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    code, said = run(course, "choose", "04", "--leave-out", W2.id, "--points", f"{W1.id}=5")
    assert code == DONE
    assert f"{W2.id}, left out" in said
    assert f"{W1.id}, 5 points" in said
    give_out(course, LESSON, workorders.notebooks()[LESSON])
    assert most(course) == full() - W2.points - W1.points + 5
    with zipfile.ZipFile(course.root / "to_send" / LESSON / f"{ADA.badge}.zip") as archive:
        sent = {name.rpartition("/")[2]: archive.read(name).decode() for name in archive.namelist()}
    assert all(W2.id not in text for text in sent.values())
    sheets = json.loads(sent["workorder.json"])["badges"][ADA.badge]["sheets"]
    assert {each["id"]: each["points"] for each in sheets} == {W1.id: 5.0, W3.id: W3.points, W4.id: W4.points}
    assert run(course, "choose", "04", "--take-back", W2.id)[0] == DONE
    give_out(course, LESSON, workorders.notebooks()[LESSON])
    assert most(course) == full() - W1.points + 5


def test_a_question_comes_back_into_an_instructors_own_version(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    run(course, "choose", "04", "--leave-out", W2.id)
    give_out(course, LESSON, workorders.notebooks()[LESSON])
    own = json.loads(course.source(LESSON).read_text(encoding="utf-8"))
    own["cells"][0]["source"] = "# My own title"
    course.source(LESSON).write_text(json.dumps(own), encoding="utf-8")
    run(course, "choose", "04", "--take-back", W2.id)
    give_out(course, LESSON, workorders.notebooks()[LESSON])
    assert {each.id for each in given_out(course, LESSON).latest.questions} == {each.id for each in QUESTIONS}


def test_some_question_has_to_stay(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    every = [word for question in QUESTIONS for word in ("--leave-out", question.id)]
    code, said = run(course, "choose", "04", *every)
    assert (code, said) == (FAILED, f"{LESSON} would have no question left. Nothing was changed.")


DAMAGED = [
    "",
    "[]",
    "{",
    '{"decided": []}',
    '{"decided": {"x": 1}}',
    '{"decided": {"04": {"q": 1}}}',
    '{"to_mark": {"04": 7}}',
    '{"decided": {"04": {"inherent.w1": {"points": "many"}}}}'.replace("04", LESSON),
]


@pytest.mark.parametrize("text", DAMAGED)
def test_a_damaged_file_of_decisions_is_said(tmp_path: Path, text: str) -> None:
    course = classroom(tmp_path)
    (course.root / FILE).write_text(text, encoding="utf-8")
    with pytest.raises(CourseError, match=r"decisions\.json is damaged"):
        decisions(course, LESSON)
    code, said = run(course, "mark")
    assert (code, "decisions.json is damaged" in said) == (FAILED, True)


def test_what_waits_for_a_person_is_still_told_after_a_change(course: Course, tmp_path: Path) -> None:
    put(tmp_path / "more", f"{DAN.badge}.ipynb", notebook_of(course, DAN, "unreadable"))
    take_in(course, tmp_path / "more", quiet=True)
    assert run(course, "mark")[0] == LOOK
    assert run(course, "withdraw", "04", W2.id)[0] == LOOK
    assert run(course, "withdraw", "04", W1.id)[0] == DONE  # the answer that could not be read counts no more
