"""The right answer to a question with a badge's numbers, and how its points fall: for the instructor's eyes only."""

from __future__ import annotations

from collections.abc import Iterator

from grading.given_out.judged_answers import WRITTEN
from lessons.questions.judge import shown_answer
from lessons.questions.judge_number import fill
from lessons.questions.question import Mistake, Posed
from lessons.units.quantities import Q, from_base, rounded_to
from lessons.units.readout import counted


def right_answer(this: Posed) -> str:
    """Return the right answer in short, options with their words."""
    kind = this.question.kind
    if kind == "number":
        return shown_answer(this)
    if kind == WRITTEN:
        return "Any words that say what is looked for."
    key = this.right
    letter = {name: letter for letter, name in this.names.items()}
    if kind == "match":
        return " ".join(f"{number}{letter[key[place]]}" for number, place in this.places.items())
    if kind == "order":
        return " ".join(letter[name] for name in key)
    texts = dict(this.sheet.options)
    keyed = sorted(letter[name] for name in ([key] if isinstance(key, str) else key))
    return "; ".join(f"{each}) {texts[each]}" for each in keyed)


def rubric(this: Posed) -> list[str]:
    """Return in sentences how the points fall."""
    return [each for each in _sentences(this) if each]


def _sentences(this: Posed) -> Iterator[str]:
    question = this.question
    if question.kind == "number":
        yield this.words.get("working", "")
        digits = counted(question.digits, "digit")
        yield f"Right within {rounded_to(100 * question.tolerance):g} %, or when rounded to {digits}."
        yield from (_part(this, mistake) for mistake in question.mistakes if mistake.credit)
    elif question.kind == "several":
        yield "Part of the points for each right one; a wrong one takes away what a right one gives."
    elif question.kind == "order":
        yield "Half of the points, shared out over the steps that follow the right step."
    elif question.kind == "match":
        yield "Each right pair earns its share of the points."
    said = fill(question.why, this)
    yield f"Look for: {said}" if question.kind == WRITTEN else said


def _part(this: Posed, mistake: Mistake) -> str:
    """Say which wrong number earns part of the points."""
    number = mistake.wrong(this.numbers)
    if number is None:
        return ""
    seen = from_base(float(number), this.sheet.unit)
    return f"{mistake.credit:g} of the points for {Q(rounded_to(seen.value), seen.unit)}: {fill(mistake.says, this)}"
