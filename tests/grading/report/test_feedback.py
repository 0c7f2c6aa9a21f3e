"""No key leaves the instructor's side with the feedback, and the feedback says what was wrong: in every lesson."""

from __future__ import annotations

import re
from html import unescape

import pytest

from grading import workorders
from grading.course.course import new_course, write_safely
from grading.course.roster import Apprentice
from grading.demo.demo import hand_in_answers, roster_csv
from grading.demo.demo_class import Planned, clear_mistakes, people, plans
from grading.given_out.judged_answers import WRITTEN, posed, posed_variant
from grading.giving_out.give_out import give_out
from grading.marking.mark_lesson import mark_lesson
from grading.report.handing_back.pages_back import write_pages_back
from grading.taking_in.take_in import take_in
from lessons.questions.foreseen import foreseen
from lessons.questions.judge import RIGHT, judge, read_answer
from lessons.questions.question import Posed, Question
from lessons.questions.reading import Unreadable
from tests.grading.giving_out.leak_search import LESSONS, all_posed, key_number, numbers_in, shown_as

Pages = dict[tuple[str, str], str]  # lesson, badge -> the page's body
TWO = 2  # digits, from which a key counts: a page holds few numbers, where a work order has the axes of its pictures


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Pages:
    """Return the feedback pages of a class of twelve for every lesson, by lesson and badge."""
    course = new_course(tmp_path_factory.mktemp("feedback") / "course", secret="")
    write_safely(course.root / "roster.csv", roster_csv(people()))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(
            "grading.giving_out.give_out.drawing_of", lambda _: ""
        )  # slow to draw, and no page shows a picture
        for lesson in LESSONS:
            give_out(course, lesson, workorders.notebooks()[lesson])
    for lesson in LESSONS:
        hand_in_answers(course, course.root / "back", lesson, spoil=False)
    take_in(course, course.root / "back", quiet=True)
    for lesson in LESSONS:
        mark_lesson(course, lesson, quiet=True)
        write_pages_back(course, lesson, quiet=True)
    texts = {path: unescape(path.read_text(encoding="utf-8")) for path in (course.root / "handed_back").rglob("*.html")}
    return {(path.stem, path.parent.parent.name): searchable(text) for path, text in texts.items()}


def searchable(page: str) -> str:
    """Return the body of a page without its counts of points and words, and with points for decimal commas."""
    body = re.sub(r"<b>\S+ of \S+ points?</b>|Read as \d+ words", "", page.partition("<body>")[2])
    return re.sub(r"(?<=\d),(?=\d)", ".", body)


def section(page: str, question: Question) -> re.Match[str]:
    """Return the part of a page that is on one question; its groups are the points earned and to be had."""
    found = re.search(
        rf'<section id="{question.id}"[^>]*><h2>Question \d+: (no mark yet|\S+)(?: of|, worth) (\S+) points?.*?</section>',
        page,
        re.DOTALL,
    )
    assert found is not None, question.id
    return found


def known_to(person: Apprentice, page: str, questions: tuple[Question, ...]) -> set[float]:
    """Return the numbers that are no news to an apprentice: those asked with, typed, or found by oneself."""
    known: set[float] = set()
    for question in questions:
        part, this = section(page, question), posed(question, person.badge, person.units)
        known |= numbers_in(this.sheet.text)
        if part[1] == part[2] and question.kind == "number":  # found by oneself: no secret any more
            known |= numbers_in(part[0])
        typed = re.search(r"<dt>You wrote</dt><dd>(.*?)</dd>", part[0], re.DOTALL)
        known |= numbers_in(typed[1]) if typed else set()
    return known


@pytest.mark.parametrize("lesson", LESSONS)
def test_the_feedback_holds_no_key_but_those_that_were_found(lesson: str, pages: Pages) -> None:
    questions = workorders.of_lesson(lesson)
    for person in people():
        page = pages[lesson, person.badge]
        # Of sixty variants some key is near any number; what must not stand there is a key of this badge's own numbers.
        found = numbers_in(page) - known_to(person, page, questions)
        for question in questions:
            key = key_number(posed(question, person.badge, person.units))
            assert key is None or not shown_as(key, TWO) & found, f"{person.badge}, {question.id}: {key}"
        assert "The answer was" not in page
        for question in questions:
            part, this = section(page, question), posed(question, person.badge, person.units)
            if part[1] != part[2] and question.why:  # why it is so tells what is so, in words
                assert question.why.format_map(this.words) not in part[0], f"{person.badge}, {question.id}"


@pytest.mark.parametrize("lesson", LESSONS)
def test_no_advice_holds_a_key(lesson: str) -> None:
    """The class above makes some mistakes with some numbers; these are all of both."""
    questions = workorders.of_lesson(lesson)
    for question, index, units in all_posed(questions):
        this = posed_variant(question, index, units)
        says = [question.idea, *(m.says for m in foreseen(question)), *(option.says for option in question.options)]
        says += [question.why] if question.kind != "number" else []  # of a number it is told to who found it
        advice = " ".join(text.format_map(this.words) for text in says)
        key = key_number(this)
        left = numbers_in(advice) - numbers_in(this.sheet.text)
        assert key is None or not shown_as(key, TWO) & left, f"{question.id}, {index}: {key}"


def test_the_sentence_on_how_to_type_a_number_gives_no_answer_away() -> None:
    """It stands in the feedback on what could not be read, where its number was once the key of four questions."""
    for question, index, units in all_posed(tuple(workorders.questions().values())):
        this = posed_variant(question, index, units)
        if question.kind == "number":
            reason = read_answer(this.sheet, "see my notebook")
            assert isinstance(reason, Unreadable)
            for sample in numbers_in(reason.reason):
                assert judge(this, f"{sample:g}").tag != RIGHT, f"{question.id}, {index}, {units}"


@pytest.mark.parametrize("lesson", LESSONS)
def test_the_search_finds_a_key_in_feedback(lesson: str, pages: Pages) -> None:
    questions, person = workorders.of_lesson(lesson), people()[0]
    page = pages[lesson, person.badge]
    known = known_to(person, page, questions)
    for question in questions:
        key = key_number(posed(question, person.badge, person.units))
        for number in shown_as(key, TWO) - known if key is not None else ():
            assert shown_as(key, TWO) & (numbers_in(f"{page} about {number!r}") - known), (question.id, number)


@pytest.mark.parametrize("lesson", LESSONS)
def test_the_feedback_names_the_mistake_and_what_to_do(lesson: str, pages: Pages) -> None:
    questions, said = workorders.of_lesson(lesson), set()
    for i, person in enumerate(people()):
        page = pages[lesson, person.badge]
        for question, planned in zip(questions, plans(questions, person, i), strict=True):
            this, part = posed(question, person.badge, person.units), section(page, question)[0]
            means = meant(this, planned)
            assert means in part, f"{person.badge}, {question.id}: {means}"
            said |= {question.id} if means else set()
            if planned.share < 1 and planned.way not in ("blank", "unreadable", WRITTEN):
                number = questions.index(question) + 1
                assert f"question {number}" in page.partition("Look at again")[2]
    assert said == {question.id for question in questions if question.kind in ("number", "choice")}


def meant(this: Posed, planned: Planned) -> str:
    """Return what a page has to say of a wrong answer that is foreseen; nothing for any other."""
    question = this.question
    if question.kind == "number" and planned.way in ("mistake", "second mistake"):
        says = clear_mistakes(this)[planned.way != "mistake"][0].says
    elif question.kind == "choice" and planned.way == "other":
        says = next(option.says for option in question.options if option.name == this.names[planned.text])
    else:
        says = ""
    return says.format_map(this.words)
