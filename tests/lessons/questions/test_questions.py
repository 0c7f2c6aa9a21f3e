"""Every variant of every question: right, each mistake, unreadable, absurd; and one row a question worked by hand."""

from __future__ import annotations

import math
import string
from collections.abc import Iterable
from functools import cache
from types import SimpleNamespace

import pytest

from lessons.notebook import bank
from lessons.questions import judge
from lessons.questions.foreseen import foreseen
from lessons.questions.judge import HINT, RIGHT, UNREADABLE
from lessons.questions.question import (
    KINDS,
    Mistake,
    Posed,
    Question,
    QuestionSheet,
    pose,
    pose_variant,
    sheet_from_data,
)
from lessons.questions.workings.formula import worked_out
from lessons.questions.workings.working import base_of, lines_of
from lessons.units.quantities import Q, from_base, plain_number, rounded_to, to_base
from tests.by_hand import ROWS

QUESTIONS = {**bank.practice_questions(), **bank.graded_questions()}
UNJUDGED = ("predict", "written")
JUDGED = [q for q in QUESTIONS.values() if q.kind not in UNJUDGED]
NUMBERS = [q for q in JUDGED if q.kind == "number"]
CHOICES = [q for q in JUDGED if q.kind == "choice"]
OTHERS = [q for q in JUDGED if q.kind not in ("number", "choice")]
UNITS = ("si", "us")
READ_ONLY = {"start.read"}  # a number to be read and typed, with nothing to work out


def every_variant(question: Question) -> list[Posed]:
    return _every_variant(question.id)


@cache  # for all tests below
def _every_variant(question_id: str) -> list[Posed]:
    question = QUESTIONS[question_id]
    return [pose_variant(question, i, units) for i in range(len(question.variants)) for units in UNITS]


def typed(value: float, unit: str) -> str:
    return str(Q(from_base(value, unit).value, unit))


def letter_of(posed: Posed, name: str) -> str:
    return next(letter for letter, option in posed.names.items() if option == name)


def each(questions: Iterable[Question]) -> pytest.MarkDecorator:
    """One test for the questions of each lesson: for each question there would be four thousand."""
    topics: dict[str, list[Question]] = {}
    for question in questions:
        topics.setdefault(question.id.partition(".")[0], []).append(question)
    return pytest.mark.parametrize("questions", topics.values(), ids=topics)


@each(QUESTIONS.values())
def test_is_whole(questions: list[Question]) -> None:
    for question in questions:
        assert question.kind in KINDS
        assert question.kind in UNJUDGED or (question.key and question.idea and question.step and question.source)
        assert question.kind in UNJUDGED or len(question.variants) >= 12
        assert len({tuple(map(str, v.items())) for v in question.variants}) == len(question.variants), "a variant twice"
        if question.kind == "number":
            assert question.plausible
            assert question.working or question.id in READ_ONLY
            assert len(foreseen(question)) >= 4
            assert not question.example or question.id in READ_ONLY, "the worked example is made from the working"


@each(QUESTIONS.values())
def test_every_text_fills_and_every_sheet_survives_json(questions: list[Question]) -> None:
    for question in questions:
        for posed in every_variant(question):
            sheet = posed.sheet
            assert "{" not in sheet.text + "".join(text for _, text in sheet.options)
            assert sheet_from_data(sheet.as_data()) == sheet
            assert not [name for _, name, _, _ in string.Formatter().parse(sheet.text) if name]


@each(NUMBERS)
def test_number_right_and_each_mistake(questions: list[Question]) -> None:
    for question in questions:
        for posed in every_variant(question):
            right = judge.right_number(posed)
            unit = posed.sheet.unit
            assert judge.judge(posed, typed(right, unit)).tag == RIGHT
            assert judge.judge(posed, typed(right, unit).replace(".", ",").split(" ")[0]).tag in (RIGHT, UNREADABLE)
            assert judge.judge(posed, typed(right * (1 + 0.9 * question.tolerance), unit)).tag == RIGHT
            assert judge.judge(posed, typed(right * (1 + 1.1 * question.tolerance), unit)).tag != RIGHT
            for mistake in own(question):
                reply = judge.judge(posed, typed(float(mistake.wrong(posed.numbers)), unit))
                assert mistake.says.format_map(posed.words) in reply.means, (posed.words, reply)
                assert reply.score >= mistake.credit


def own(question: Question) -> list[Mistake]:
    """The mistakes a question says in its own words."""
    tags = [mistake.tag for mistake in question.mistakes]
    return [
        each for each in foreseen(question) if each.tag in tags and each.says in [m.says for m in question.mistakes]
    ]


@each(NUMBERS)
def test_right_answer_lies_apart_from_each_own_mistake(questions: list[Question]) -> None:
    for question in questions:
        for posed in every_variant(question):
            right = judge.right_number(posed)
            for mistake in own(question):
                wrong = float(mistake.wrong(posed.numbers))
                assert abs(wrong - right) > 2 * question.tolerance * min(abs(wrong), abs(right)), (
                    posed.words,
                    mistake.tag,
                )


@each(NUMBERS)
def test_each_foreseen_mistake_is_named_or_cannot_be_told_from_right(questions: list[Question]) -> None:
    """A cause that people seldom have is named only where no other leads to the same number."""
    for question in questions:
        often = {mistake.tag for mistake in foreseen(question) if not mistake.rare}
        for posed in every_variant(question):
            nothing = 1e-6 * abs(judge.right_number(posed))  # two forces that cancel leave a last digit
            for mistake in foreseen(question):
                wrong = float(mistake.wrong(posed.numbers))
                reply = (
                    judge.judge(posed, typed(wrong, posed.sheet.unit))
                    if abs(wrong) > nothing and math.isfinite(wrong)
                    else None
                )
                if reply and reply.tag not in (RIGHT, UNREADABLE):
                    named = mistake.says.format_map(posed.words) in reply.means
                    hidden = mistake.rare and reply.tag in often
                    assert named or hidden or reply.means.count(" Or: ") == 2, (posed.words, mistake.tag, reply)


@each([q for q in NUMBERS if q.working])
def test_key_and_working_agree(questions: list[Question]) -> None:
    """Two ways to the answer, written apart: the key in Python, the working as it is told. Charts are read to a digit."""
    for question in questions:
        for posed in every_variant(question):
            line = lines_of(question.working, question.unit)[-1]
            worked = base_of(worked_out(line.whole, posed.numbers.in_formulas), question.unit, posed.units)
            assert worked == pytest.approx(judge.right_number(posed), rel=question.tolerance / 5)
            last = posed.words["working"].rpartition(" = ")[2].partition(" (")[0].rstrip(".")
            assert judge.judge(posed, last).tag == RIGHT, last


@each(NUMBERS)
def test_an_answer_rounded_to_the_digits_asked_for_is_right(questions: list[Question]) -> None:
    for question in questions:
        for posed in every_variant(question):
            unit = posed.sheet.unit
            right = from_base(judge.right_number(posed), unit).value if unit else judge.right_number(posed)
            assert posed.sheet.digits >= 2
            for digits in range(posed.sheet.digits, 7):
                answer = plain_number(rounded_to(right, digits))
                assert judge.judge(posed, f"{answer} {unit}").tag == RIGHT, (answer, right)


@each(NUMBERS)
def test_both_unit_sets_have_the_same_answer(questions: list[Question]) -> None:
    for question in questions:
        for i in range(len(question.variants)):
            si, us = (judge.right_number(pose_variant(question, i, units)) for units in UNITS)
            assert us == pytest.approx(si, rel=question.tolerance / 2)


@each(NUMBERS)
def test_right_answers_are_plausible(questions: list[Question]) -> None:
    for question in questions:
        for posed in every_variant(question):
            right = typed(judge.right_number(posed), posed.sheet.unit)
            assert judge.acknowledge(posed.sheet, right).means == ""


@each(CHOICES)
def test_choice_right_and_each_wrong_option(questions: list[Question]) -> None:
    for question in questions:
        assert question.key
        for posed in every_variant(question):
            right = question.key(posed.numbers)
            for option in question.options:
                reply = judge.judge(posed, letter_of(posed, option.name))
                assert reply.tag == (RIGHT if option.name == right else option.name)
                assert option.name == right or option.says, f"{question.id}: nothing is said to {option.name}"


@each(OTHERS)
def test_other_kinds_right_and_wrong(questions: list[Question]) -> None:
    """The solution typed back is right; so is no other order of its letters, and each foreseen mistake is named."""
    for question in questions:
        for posed in every_variant(question):
            right = judge.solution(posed).partition("The answer was ")[2].partition(".")[0]
            assert judge.judge(posed, right).tag == RIGHT
            letters = [found for found in right.split() if found]
            if question.kind == "order":
                assert judge.judge(posed, " ".join(letters[::-1])).tag not in (RIGHT, UNREADABLE)
            if question.kind == "match":
                shifted = [a[:-1] + b[-1] for a, b in zip(letters, letters[1:] + letters[:1], strict=True)]
                assert judge.judge(posed, " ".join(shifted)).score == 0
            if question.kind == "several":
                everything = " ".join(letter for letter, _ in posed.sheet.options)
                assert judge.judge(posed, everything).tag != RIGHT
            for mistake in question.mistakes:
                wrong = " ".join(letter_of(posed, name) for name in mistake.wrong(posed.numbers))
                assert judge.judge(posed, wrong).tag == mistake.tag


@each(JUDGED)
@pytest.mark.parametrize("text", ["", "1,200", "12 parsec", "9" * 400])
def test_unreadable_costs_nothing_and_is_polite(questions: list[Question], text: str) -> None:
    for question in questions:
        reply = judge.judge(pose(question, "4711"), text)
        assert reply.tag == UNREADABLE
        assert reply.score == 0
        assert reply.text.endswith(".")


@each(JUDGED)
def test_three_hints_are_idea_step_and_example_and_cost_nothing(questions: list[Question]) -> None:
    for question in questions:
        posed = pose(question, "4711")
        replies = [judge.judge(posed, text, hints=hints) for hints, text in enumerate(("?", "no idea", "help"))]
        assert {(reply.tag, reply.score) for reply in replies} == {(HINT, 0.0)}
        assert len({reply.next for reply in replies}) == 3
        assert replies[0].next == question.idea.format_map(posed.words)


@each(JUDGED)
def test_step_and_why_are_sentences_and_never_bare(questions: list[Question]) -> None:
    for question in questions:
        for said in (question.step, question.why, question.idea):
            assert len(said.split()) >= 5, said
            assert said[0].isupper() or said[0] in "{“π", said
            assert said.rstrip("”)").endswith((".", "?", ":", "…")), said


@each(NUMBERS)
@pytest.mark.parametrize("text", ["0", "-1e", "123456789", "-99999", "0,0000001"])
def test_absurd_numbers_are_never_right(questions: list[Question], text: str) -> None:
    for question in questions:
        for posed in every_variant(question):
            assert judge.judge(posed, text).tag != RIGHT


@each(JUDGED)
def test_help_climbs_and_ends_with_new_numbers(questions: list[Question]) -> None:
    for question in questions:
        posed = pose(question, "4711")
        wrong = next(text for text in wrong_texts(posed) if _is_wrong(posed, text))
        replies = [judge.judge(posed, wrong, tries) for tries in range(4)]
        assert len({reply.next for reply in replies}) == 4
        assert [reply.fresh for reply in replies] == [False, False, False, True]
        if question.kind == "number":
            assert question.id in READ_ONLY or posed.words["working"] in replies[3].next
        else:
            assert question.why.format_map(posed.words) in replies[3].next
        if question.kind == "choice":
            assert dict(posed.sheet.options)[letter_of(posed, posed.right)] in replies[3].next


def wrong_texts(posed: Posed) -> list[str]:
    """Return answers of the right form, most of which are wrong."""
    letters = [letter for letter, _ in posed.sheet.options]
    if posed.sheet.kind == "match":
        numbers = [number for number, _ in posed.sheet.places]
        return [" ".join(n + letters[(i + k) % len(letters)] for i, n in enumerate(numbers)) for k in range(3)]
    if posed.sheet.kind == "order":
        return [" ".join(letters), " ".join(letters[::-1])]
    return letters or ["0.0123"]


def _is_wrong(posed: Posed, text: str) -> bool:
    return judge.judge(posed, text).tag not in (RIGHT, UNREADABLE)


def test_letters_and_numbers_do_not_give_the_key_away() -> None:
    """Over the variants the right letter is spread: no letter is right more than three times in four."""
    for question in CHOICES:
        assert question.key
        letters = [letter_of(p, question.key(p.numbers)) for p in every_variant(question)]
        assert max(letters.count(letter) for letter in set(letters)) <= 0.75 * len(letters), question.id


def test_sheets_hold_no_key() -> None:
    names = {field for sheet in (pose(q, "4711").sheet for q in JUDGED) for field in sheet.as_data()}
    assert names == set(QuestionSheet.__dataclass_fields__)
    assert not names & {"key", "mistakes", "tolerance", "why", "step", "example"}


@pytest.mark.parametrize(("question_id", "numbers", "answer", "working"), ROWS)
def test_key_by_hand(question_id: str, numbers: dict[str, Q], answer: Q, working: str) -> None:
    question = QUESTIONS[question_id]
    assert question.key
    base = {name: to_base(n) if isinstance(n, Q) else n for name, n in numbers.items()}
    assert from_base(question.key(SimpleNamespace(**base)), answer.unit).value == pytest.approx(answer.value, rel=1e-3)


def test_every_number_question_is_worked_by_hand_once() -> None:
    assert {q.id for q in NUMBERS} == {row[0] for row in ROWS}
