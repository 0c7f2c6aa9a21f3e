"""The note of lesson 13, which a person reads: from the release to the marks, and the same with nbgrader's autograde."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from nbgrader.api import Gradebook

from grading import workorders
from grading.commands import DONE, LOOK
from grading.course.course import Course, new_course, write_safely
from grading.demo.demo import roster_csv
from grading.demo.demo_class import NOTE, POOR_NOTE, filled_in, people, plans
from grading.given_out.judged_answers import posed, posed_variant
from grading.giving_out.give_out import give_out
from grading.marking.compare import differences, marks_of
from grading.report.class_tally import tally
from grading.report.questions_in_words import QuestionsInWords
from grading.report.results import ApprenticeResult, Result
from tests.grading.classroom import autograde_here, made_once, put, run

LESSON = "13_troubleshooting"
QUESTIONS = workorders.of_lesson(LESSON)
WORDS = QuestionsInWords(QUESTIONS)
ASKED = next(question for question in QUESTIONS if question.kind == "written")
RUBRIC = "as found, in numbers with units"
CLASS = people(3)
BLANK, POOR, GOOD = CLASS  # who wrote what, see `course`

# Bench set 0.2 to 1.0 bar, so 0.6 bar at 50 % signal: travel up, travel down, air at full signal.
BY_HAND = [
    ("a fifth of the air lost", 0, "34", "36", "0.8 bar", "0.6 · 0.8 = 0.48 bar; (0.48 − 0.2)/0.8 = 35 %, loop 2 %"),
    ("friction, loop 24 % wide", 1, "38", "62", "1 bar", "50 ± 12 %"),
    ("bench set 0.08 bar too high", 2, "39", "41", "1 bar", "(0.6 − 0.28)/0.8 = 40 %, loop 2 %"),
    ("play of 12 %", 3, "44", "56", "1 bar", "50 ± 6 %"),
]


@pytest.mark.parametrize(("fault", "variant", "up", "down", "air", "working"), BY_HAND, ids=[row[0] for row in BY_HAND])
def test_the_scribbles_fit_the_fault(fault: str, variant: int, up: str, down: str, air: str, working: str) -> None:
    words = posed_variant(ASKED, variant, "si").words
    assert (words["up"], words["down"], words["arrived"]) == (up, down, air)


@made_once
def handed_in(tmp_path: Path) -> Course:
    """Return a course of three: one left the note blank, one wrote a poor one, one a good one."""
    made = new_course(tmp_path / "course", secret="")
    write_safely(made.root / "roster.csv", roster_csv(CLASS))
    made = Course(made.root)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            "grading.giving_out.give_out.drawing_of", lambda _: ""
        )  # slow to draw, and nothing here looks at it
        give_out(made, LESSON, workorders.notebooks()[LESSON])
    given_out = json.loads((made.root / "as_sent" / LESSON / f"{LESSON}.ipynb").read_text(encoding="utf-8"))
    for person, offset in ((BLANK, 6), (POOR, 1), (GOOD, 2)):  # each a way of answering, see `plans`
        data = json.loads(filled_in(given_out, plans(QUESTIONS, person, offset)))
        put(made.root, f"handed_in/{person.badge}/{LESSON}/{LESSON}.ipynb", data)
    return made


@pytest.fixture
def course(tmp_path: Path) -> Course:
    return handed_in(tmp_path)


def table(course: Course, name: str) -> dict[str, dict[str, str]]:
    text = (course.root / "tables" / name).read_text(encoding="utf-8-sig")
    return {row["badge"]: row for row in csv.DictReader(io.StringIO(text))}


def page(course: Course, badge: str) -> str:
    return (course.root / "handed_back" / badge / LESSON / f"{LESSON}.html").read_text(encoding="utf-8")


def read_by_hand(course: Course, badge: str, points: float, comment: str) -> None:
    """Do what the formgrader does when the instructor types points and a comment."""
    name = f"{ASKED.id.replace('.', '-')}-answer"
    with Gradebook(course.url) as gradebook:
        grade = gradebook.find_grade(name, LESSON, LESSON, badge)
        assert (grade.auto_score, grade.needs_manual_grade, grade.max_score) == (None, True, ASKED.points)
        grade.manual_score, grade.needs_manual_grade = points, False
        gradebook.find_comment(name, LESSON, LESSON, badge).manual_comment = comment
        gradebook.db.commit()


def test_the_note_waits_for_the_instructor_and_counts_once_it_was_read(course: Course) -> None:
    code, said = run(course, "mark")
    assert code == LOOK
    for person, note in ((POOR, POOR_NOTE), (GOOD, NOTE)):
        assert f"Read: {person.badge} {person.name}, {LESSON}, question {WORDS.long(ASKED.id)} “{note[:19]}" in said
    assert f"Read: {BLANK.badge} {BLANK.name}, {LESSON}, question {WORDS.number[ASKED.id]}." not in said
    run(course, "hand-back")
    run(course, "tables")
    assert f"Question {WORDS.number[ASKED.id]}: no mark yet, worth 3 points" in page(course, GOOD.badge)
    # The note, and an answer of 2 points that could not be read.
    assert "Your instructor still has to mark 5 more" in page(course, GOOD.badge)
    assert f"Question {WORDS.number[ASKED.id]}: 0 of 3 points" in page(course, BLANK.badge)
    assert RUBRIC not in page(course, GOOD.badge) + page(course, BLANK.badge)
    people_, grades = table(course, f"{LESSON}_apprentices.csv"), table(course, "marks.csv")
    assert [people_[each.badge][ASKED.id] for each in CLASS] == ["0", "", ""]
    assert [bool(grades[each.badge][f"{LESSON} (of 13)"]) for each in CLASS] == [True, False, False]

    read_by_hand(course, POOR.badge, 0.5, "What did you find? I cannot tell.")
    read_by_hand(course, GOOD.badge, 3.0, "")
    run(course, "hand-back")
    run(course, "tables")
    poor, good = page(course, POOR.badge), page(course, GOOD.badge)
    assert f"Question {WORDS.number[ASKED.id]}: 0.5 of 3 points (by your instructor)" in poor
    assert RUBRIC in poor
    assert "What did you find? I cannot tell." in poor
    assert (
        f'<section id="{ASKED.id}" class="right"><h2>Question {WORDS.number[ASKED.id]}: 3 of 3 points (by your instructor)'
        in good
    )
    assert "Your instructor still has to mark 5 more" not in poor + good
    assert [table(course, f"{LESSON}_apprentices.csv")[each.badge][ASKED.id] for each in CLASS] == ["0", "0.5", "3"]
    for person, offset in ((BLANK, 6), (POOR, 1), (GOOD, 2)):  # an answer that could not be read waits for a person too
        waits = any(each.way == "unreadable" for each in plans(QUESTIONS, person, offset))
        assert bool(table(course, "marks.csv")[person.badge][f"{LESSON} (of 13)"]) is not waits


def test_the_instructor_sees_what_to_look_for_and_the_apprentice_does_not(course: Course) -> None:
    run(course, "mark")
    assert RUBRIC in ASKED.why
    cells = json.loads(course.autograded(GOOD.badge, LESSON).read_text(encoding="utf-8"))["cells"]
    (shown,) = next(cell["outputs"] for cell in cells if cell["source"] == f'ask("{ASKED.id}")')
    words = " ".join(shown["data"]["text/plain"].split())
    for part in (posed(ASKED, GOOD.badge, GOOD.units).sheet.text, ASKED.why, NOTE):
        assert " ".join(part.split()) in words
    for path in (course.root / "as_sent" / LESSON).iterdir():
        assert RUBRIC not in path.read_text(encoding="utf-8"), path.name


def test_nbgrader_leaves_the_note_to_a_person_too(course: Course, monkeypatch: pytest.MonkeyPatch) -> None:
    run(course, "mark")
    monkeypatch.setattr("grading.marking.compare.autograde", autograde_here)
    code, said = run(course, "compare", "13")
    assert (code, said.splitlines()[-1]) == (DONE, "No difference."), said
    name = f"{ASKED.id.replace('.', '-')}-answer"
    assert [marks_of(course, LESSON)[each.badge, name] for each in CLASS] == [0.0, None, None]


def test_a_note_marked_by_program_would_be_told() -> None:
    ours: dict[tuple[str, str], float | None] = {("4702", "w6"): None}
    assert list(differences("x", ours, {("4702", "w6"): 3.0})) == ["x, badge 4702, cell w6: here None, nbgrader 3.0"]


def written(badge: str, score: float, by_hand: bool) -> ApprenticeResult:
    known = Result(badge, "q0", "right", 2.0, 2.0, "x", "", "", "", False, False, "")
    note = Result(badge, "q1", "written", score, 3.0, "x", "", "", "", by_hand, not by_hand, "")
    return ApprenticeResult(badge, (known, note))


def test_the_class_is_counted_by_what_was_read() -> None:
    """Two full and one half read, so 4.5 of 6; two unread: nobody is stuck for points nobody gave."""
    counted = tally(["q0", "q1"])
    for number, (score, by_hand) in enumerate([(3.0, True), (1.5, True), (0.0, False), (0.0, False)]):
        counted.add(written(str(number), score, by_hand))
    note = counted.questions["q1"]
    assert (note.count, note.difficulty, note.none, note.unread) == (2, 0.75, 0, 2)
    assert counted.stuck == []
    assert counted.teach_again() == []
    assert counted.tenths == [0] * 7 + [1, 0, 3]  # 3.5 of 5, and three with all they could have so far


def test_a_class_is_not_told_to_be_taught_again_before_its_notes_were_read() -> None:
    """A blank note has its nought at once; the mean of the blank ones says nothing of the class."""
    blank = Result("1", "q1", "blank", 0.0, 3.0, "", "", "", "", False, False, "")
    counted = tally(["q0", "q1"])
    counted.add(ApprenticeResult("1", (blank,)))
    assert counted.teach_again() == [("q1", "the class earned 0 % of its points")]
    counted.add(written("2", 0.0, False))
    assert counted.teach_again() == []
