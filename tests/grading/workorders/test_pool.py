"""An instructor's own questions: written as a file, checked in sentences, given out, marked; no Python in them."""

from __future__ import annotations

import json
import re
import zipfile
from pathlib import Path

import pytest

from grading.commands import DONE, FAILED
from grading.demo.demo_class import Planned, filled_in, plan
from grading.given_out.given_out import given_out
from grading.given_out.judged_answers import posed
from grading.workorders.pool import SAMPLE, read_question
from lessons.questions.judge import RIGHT, judge
from lessons.questions.question import Question, pose_variant
from tests.grading.classroom import CLASS, LESSON, classroom, full, marks, put, released, run

ADA = CLASS[0]


def written(folder: Path, text: str = SAMPLE, name: str = "orifice.w1.toml") -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")
    return folder / name


def test_the_sample_is_a_question(tmp_path: Path) -> None:
    lesson, question = read_question(written(tmp_path))
    assert (lesson, question.id, question.points) == ("04", "orifice.w1", 2.0)
    assert len(question.variants) >= 60
    for index in range(60):
        this = pose_variant(question, index)
        kv, p1, p2 = (float(each) for each in re.findall(r"[\d.]+(?= bar|\b has)", this.sheet.text))
        # By hand, IEC 60534-2-1 for water: Kv times the root of the drop in bar is the flow in m³/h.
        assert judge(this, f"{kv * (p1 - p2) ** 0.5:.4g} m³/h").tag == RIGHT
        wrong = judge(this, f"{kv * p1**0.5:.4g} m³/h")
        assert wrong.score == 0.25


WRONG = {
    "no number of that name": ("kv = {", "kw = {", "no range has this name"),
    "an unknown unit": ('unit = "Kv"', 'unit = "furlong"', "the unit “furlong” of kv is not known"),
    "a range that goes nowhere": ("step = 5", "step = -1", "the range of kv should be written like this"),
    "Python in it": ("sqrt(drop)", "__import__('os').system('true')", "cannot be"),
    "half a formula": ('"kv * sqrt(drop)"', '"kv *"', "cannot be read"),
    "too few numbers": ("to = 60", "to = 10", "60 are needed"),
    "a word too much": ("points =", "pionts =", "pionts is not known here"),
    "a part missing": ("source =", "idea2 =", "it has no source"),
    "not TOML": ("[ranges]", "[ranges", "it cannot be read"),
    "a mistake that is right": ("kv * sqrt(p1)", "kv * sqrt(p1 - p2) * 1.01", "nearly the right answer"),
    "a number for words": ('lesson = "04"', "lesson = 4", "lesson is not written as in the sample"),
}


@pytest.mark.parametrize(("old", "new", "word"), WRONG.values(), ids=WRONG)
def test_what_is_wrong_is_said(tmp_path: Path, old: str, new: str, word: str) -> None:
    course = classroom(tmp_path)
    path = written(course.root / "questions", SAMPLE.replace(old, new, 1))
    code, said = run(course, "questions")
    assert code == FAILED
    assert word in said
    assert str(path) in said


def test_a_wrong_name_is_said(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"orifice\.w1\.toml"):
        read_question(written(tmp_path, name="My question.toml"))


def test_the_command_shows_a_sample_and_then_the_questions(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    assert run(course, "questions")[0] == DONE
    sample = (course.root / "questions" / "sample.txt").read_text(encoding="utf-8")
    written(course.root / "questions", sample)
    code, said = run(course, "questions")
    assert code == DONE
    assert "1 question can be used" in said
    page = (course.root / "tables" / "own_questions.html").read_text(encoding="utf-8")
    assert page.count("The answer was") == 3
    assert "The pressure before the valve was taken for the drop across it." in page


def _taken_for_the_drop(question: Question) -> Planned:
    this = posed(question, ADA.badge, ADA.units)
    kv, p1, _ = (float(each) for each in re.findall(r"[\d.]+(?= bar|\b has)", this.sheet.text))
    return Planned(question.id, "mistake", f"{kv * p1**0.5:.4g} m³/h", 0.25, question.points)


def test_an_own_question_goes_out_and_is_marked(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    written(course.root / "questions")
    assert run(course, "give-out", "04")[0] == DONE
    with zipfile.ZipFile(course.root / "to_send" / LESSON / f"{ADA.badge}.zip") as archive:
        sent = {name: archive.read(name).decode() for name in archive.namelist()}
    sheets = json.loads(sent[f"{LESSON}/workorder.json"])["badges"][ADA.badge]["sheets"]
    assert sheets[-1]["id"] == "orifice.w1"
    assert "was taken for the drop" not in "".join(sent.values())
    questions = given_out(course, LESSON).latest.questions
    answers = [_taken_for_the_drop(each) if each.id == "orifice.w1" else plan(each, ADA, "right") for each in questions]
    put(tmp_path / "back", f"{ADA.badge}.ipynb", filled_in(released(course), answers))
    run(course, "take-in", str(tmp_path / "back"))
    code, said = run(course, "mark")
    assert code == DONE, said
    assert "changed since" not in said
    assert marks(course)[ADA.badge].score == full() + 0.25 * 2
    assert "your own version" not in run(course, "give-out", "04")[1]
