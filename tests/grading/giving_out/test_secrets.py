"""No key leaves the instructor's side with the release or with the wheel."""

from __future__ import annotations

import json
import re
import tomllib
import xml.etree.ElementTree as ET
import zipfile
from pathlib import Path

import pytest

from grading import workorders
from grading.course.course import REPOSITORY, Course
from grading.demo.demo_class import people
from grading.given_out.judged_answers import posed, posed_variant
from grading.giving_out.give_out import nameless, work_order
from lessons.notebook.still import drawing_of
from lessons.questions.question import Question
from lessons.units.quantities import rounded_to
from tests.grading.classroom import CLASS, LESSON, QUESTIONS, classroom, dealt
from tests.grading.giving_out.leak_search import (
    LESSONS,
    all_posed,
    key_number,
    leaked,
    leaked_words,
    numbers_in,
    shown_as,
)


def given_numbers(questions: tuple[Question, ...]) -> set[float]:
    """Return all numbers that stand in the questions themselves."""
    given = set()
    for each in all_posed(questions):
        sheet = posed_variant(*each).sheet
        texts = (sheet.text, *(text for _, text in (*sheet.options, *sheet.places)))
        given |= set().union(*map(numbers_in, texts)) | set(sheet.plausible or ())
    return given


def release_text(course: Course) -> str:
    with zipfile.ZipFile(course.root / "to_send" / LESSON / f"{CLASS[0].badge}.zip") as archive:
        return "\n".join(archive.read(name).decode() for name in archive.namelist())


def test_the_release_holds_no_key(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    text = release_text(course)
    packaged = workorders.notebooks()[LESSON].read_text(encoding="utf-8")  # the lesson as everybody has it
    spare = numbers_in(packaged)
    assert list(leaked(text, given_numbers(QUESTIONS), QUESTIONS, spare)) == []
    assert [words for question in QUESTIONS for words in leaked_words(question, text)] == []


def without_drawing(text: str) -> str:
    """Return a work order without its pictures: they show numbers that are given, and some of sixty keys is near any."""
    return re.sub(r"<svg.*?</svg>", " ", text.replace('\\"', '"'), flags=re.DOTALL)


def words_drawn(svg: str) -> str:
    """Return the words of a picture; a path is thousands of numbers of no meaning."""
    return " ".join(re.findall(r">([^<>]+)</text>", svg))


DRAWN = [question for question in workorders.questions().values() if question.figure]


@pytest.mark.parametrize("question", DRAWN, ids=lambda question: question.id)
def test_no_picture_holds_the_key_or_the_words_of_its_own_question(question: Question) -> None:
    for index in range(4):
        this = posed_variant(question, index, "si")
        key, svg = key_number(this), nameless(drawing_of(this))
        left = numbers_in(words_drawn(svg)) - numbers_in(this.sheet.text)
        assert key is None or not shown_as(key) & left, (index, key)
        assert leaked_words(question, svg) == []


@pytest.mark.parametrize("lesson", LESSONS)
def test_no_work_order_holds_a_key(lesson: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pictures are looked at above, a few of each question: here, where each would be drawn, none is."""
    monkeypatch.setattr("grading.giving_out.give_out.drawing_of", lambda this: f"<svg>{id(this)}</svg>")
    questions = workorders.of_lesson(lesson)
    text = work_order(lesson, questions, people(24), dealt(questions, people(24)))
    assert list(leaked(without_drawing(text), given_numbers(questions), questions, set())) == []
    assert [words for question in questions for words in leaked_words(question, text)] == []


def test_a_picture_does_not_name_its_parts() -> None:
    drawn = [question for question in workorders.questions().values() if question.figure and question.kind == "match"]
    assert drawn
    for question in drawn:
        pictures = json.loads(work_order("x", [question], people(2), dealt([question], people(2))))["pictures"]
        assert pictures
        for name, svg in pictures.items():
            assert re.fullmatch("p[0-9a-f]{16}", name)  # of all that is drawn, so it tells no more than the picture
            ET.fromstring(svg)  # noqa: S314 - our own picture, still whole
            seen = svg.partition(question.alt)[2]
            for option in posed_variant(question, 0, "si").sheet.options:
                assert f'"{option[1].lower().replace(" ", "-")}' not in seen, f"{question.id}: {option[1]}"
            assert not re.search(r'id="(?!p[0-9a-f]{8}-\d+")', svg)
            assert set(re.findall(r'(?:url\(|href=")#([^")]+)', svg)) <= set(re.findall(r'id="([^"]+)"', svg))


def test_the_search_finds_a_key_that_is_there(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    question = next(question for question in QUESTIONS if question.kind == "number")
    key = key_number(posed(question, "4701", "si"))
    assert key is not None
    text = release_text(course) + f' "hint": {rounded_to(key, 4)} '
    assert list(leaked(text, given_numbers(QUESTIONS), QUESTIONS, set()))


def test_most_keys_can_be_told_from_given_numbers() -> None:
    keys = [key_number(posed_variant(q, i, "si")) for q in QUESTIONS for i in range(len(q.variants))]
    real = [key for key in keys if key is not None]
    telling = [key for key in real if shown_as(key) - given_numbers(QUESTIONS)]
    assert len(telling) > 0.8 * len(real)


def test_the_wheel_holds_no_graded_question() -> None:
    project = tomllib.loads((REPOSITORY / "pyproject.toml").read_text(encoding="utf-8"))
    packages = project["tool"]["hatch"]["build"]["targets"]["wheel"]["packages"]
    assert "grading" not in packages
    files = [
        path
        for name in packages
        for path in (REPOSITORY / name).rglob("*")
        if path.suffix in (".py", ".ipynb", ".json", ".js", ".css")
    ]
    everything = "\n".join(path.read_text(encoding="utf-8") for path in files)
    assert len(files) > 30
    for question in workorders.questions().values():
        longest = max(re.split(r"\{[^}]*\}", question.text), key=len)
        if longest in everything:  # a form of words that practice has too: then what fills it must be elsewhere
            filled = {value for variant in question.variants for value in variant.values() if isinstance(value, str)}
            telling = {value for value in filled if len(value) > 20}
            assert len(telling) >= len(question.variants), question.id
            assert not {value for value in telling if value in everything}, question.id
