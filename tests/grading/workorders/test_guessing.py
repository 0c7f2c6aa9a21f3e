"""Nobody earns points without knowing: constants, letters and all-ticked answers, played against every graded question."""

from __future__ import annotations

from collections.abc import Callable
from statistics import fmean

import pytest

from grading import workorders
from grading.given_out.judged_answers import posed_variant
from lessons.questions.judge import judge
from lessons.questions.question import Question
from lessons.units.quantities import from_base

JUDGED = [question for question in workorders.questions().values() if question.kind != "written"]
NUMBERS = [question for question in JUDGED if question.kind == "number"]
LETTERS = "abcdefghijkl"


def earned(question: Question, text: str) -> float:
    """Return the share of the points that one answer earns, over all variants of a question."""
    return fmean(judge(posed_variant(question, i, "si"), text).score for i in range(len(question.variants)))


def all_ticked(question: Question) -> str:
    return " ".join(LETTERS[: len(question.options)])


def in_order(question: Question) -> str:
    names = [place.name if place.name.isdigit() else str(n) for n, place in enumerate(question.places, start=1)]
    return " ".join(f"{name}{letter}" for name, letter in zip(names, LETTERS, strict=False))


# An own choice of what somebody would type who knows nothing; 15 % on average is the limit.
GUESSES: dict[str, Callable[[Question], str]] = {
    "all ticked": all_ticked,
    "matched in order": in_order,
    **{letter: lambda _q, letter=letter: letter for letter in "abcdef"},  # type: ignore[misc]
    **{
        number: lambda _q, number=number: number
        for number in ("0", "0.1", "0.2", "0.5", "1", "2", "5", "10", "20", "50", "100", "1000")
    },  # type: ignore[misc]
}


@pytest.mark.parametrize("guess", GUESSES.values(), ids=GUESSES)
def test_one_answer_to_everything_earns_little(guess: Callable[[Question], str]) -> None:
    shares = {question.id: earned(question, guess(question)) for question in JUDGED}
    assert fmean(shares.values()) < 0.15, shares


@pytest.mark.parametrize("question", [q for q in JUDGED if q.kind == "several"], ids=lambda q: q.id)
def test_ticking_everything_earns_nothing(question: Question) -> None:
    for index in range(len(question.variants)):
        this = posed_variant(question, index, "si")
        if len(this.right) < len(question.options):  # else it is the right answer
            assert judge(this, all_ticked(question)).score == 0


@pytest.mark.parametrize("question", NUMBERS, ids=lambda q: q.id)
def test_no_number_is_right_for_many(question: Question) -> None:
    """The best single number there is, tried out: every key and what lies between."""
    keys = [posed_variant(question, i, "si") for i in range(len(question.variants))]
    values = [from_base(float(each.right), each.sheet.unit).value for each in keys]
    best = max(sum(abs(guess - key) <= question.tolerance * abs(key) for key in values) for guess in values)
    assert best <= 0.4 * len(values)
