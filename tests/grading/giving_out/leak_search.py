"""Searches a text for keys of graded questions: used on everything that leaves the instructor's side."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache

from grading import workorders
from grading.given_out.judged_answers import posed_variant
from lessons.questions.question import Posed, Question
from lessons.units.quantities import from_base, rounded_to

LESSONS = [lesson for lesson in workorders.notebooks() if workorders.of_lesson(lesson)]
_NUMBER = re.compile(r"(?<![\w.])\d+(?:\.\d+)?(?![\w.]*\d)")


def numbers_in(text: str) -> set[float]:
    return {float(found) for found in _NUMBER.findall(text)}


def key_number(this: Posed) -> float | None:
    """Return the key of a number question as an apprentice would write it."""
    if this.question.kind != "number" or this.question.key is None:
        return None
    return from_base(float(this.question.key(this.numbers)), this.sheet.unit).value


def shown_as(key: float, least: int = 3) -> set[float]:
    """Return the ways a key could be written, sign left out; one of fewer digits, such as 50, is no sign of a leak."""
    written = {rounded_to(abs(key), digits) for digits in (3, 4, 5, 6)} | {abs(key)}
    return {number for number in written if len(f"{number:.6g}".strip("0").replace(".", "").lstrip("0")) >= least}


def leaked(
    text: str, given: set[float], questions: Sequence[Question], spare: set[float], least: int = 3
) -> Iterator[str]:
    """Give the id of every question of which a key stands in a text and is not one of the given numbers."""
    found = numbers_in(text) - given - spare
    for question, index, units in all_posed(questions):
        key = key_number(posed_variant(question, index, units))
        if key is not None and shown_as(key, least) & found:
            yield f"{question.id}, variant {index}, {units}: {shown_as(key, least) & found}"


def all_posed(questions: Sequence[Question]) -> Iterator[tuple[Question, int, str]]:
    """Give every variant of every question in both unit sets."""
    for question in questions:
        for index in range(len(question.variants)):
            yield from ((question, index, units) for units in ("si", "us"))


def leaked_words(question: Question, text: str) -> list[str]:
    """Return what stands in a text of the sentences that only the key's side may hold; but not what everybody's lesson has."""
    packaged = _packaged(next(lesson for lesson in LESSONS if question in workorders.of_lesson(lesson)))
    return [words for words in words_of(question) if words in text and words not in packaged]


@cache
def _packaged(lesson: str) -> str:
    return workorders.notebooks()[lesson].read_text(encoding="utf-8")


def words_of(question: Question) -> Iterator[str]:
    """Give the sentences of a question that only its key's side may hold."""
    for text in (
        question.idea,
        question.step,
        question.example,
        question.why,
        *(m.says for m in question.mistakes),
        *(o.says for o in question.options),
    ):
        longest = max(re.split(r"\{[^}]*\}", text), key=len)
        if len(longest) > 20:
            yield longest.strip()
    yield from (line for line in question.working if len(line) > 8)
    yield from (mistake.tag for mistake in question.mistakes if "_" in mistake.tag)
