"""Judges a number: right, a foreseen mistake, or off by a sign or by the decimal point."""

from __future__ import annotations

import math

from lessons.questions.foreseen import foreseen
from lessons.questions.question import Mistake, Posed
from lessons.units.quantities import Q, from_base, rounded_to, to_base

RIGHT = "right"
OTHER = "other"
_READ_OFF = 0.05  # a tolerance above this is that of a chart
_MOST_NAMED = 3


def judge_number(posed: Posed, answer: Q) -> tuple[float, str, str]:
    """Return the score of a number, its tag, and what was done if it is wrong."""
    question, value = posed.question, to_base(answer)
    if _is_right(posed, answer):
        return 1.0, RIGHT, ""
    wrong = _wrong_numbers(posed)
    typed_to = _typed_to(answer, question.tolerance)
    fitting = [mistake for mistake, number in wrong if _near(value, number, typed_to)]
    # Partial credit is given as far as the tolerance reaches, whatever was rounded on the way.
    fitting = fitting or [m for m, number in wrong if m.credit and _near(value, number, question.tolerance)]
    fitting = [mistake for mistake in fitting if not mistake.rare] or fitting
    if fitting:
        return max(mistake.credit for mistake in fitting), fitting[0].tag, _both(fitting, posed)
    return 0.0, *_slip_of_size(posed, value)


def _is_right(posed: Posed, answer: Q) -> bool:
    """Tell whether an answer is right: within the tolerance, or right when rounded to the digits asked for."""
    question, right = posed.question, right_number(posed)
    exact = from_base(right, answer.unit).value if answer.unit else right
    step = 10.0 ** (math.floor(math.log10(abs(exact))) - question.digits + 1) if exact else 0.0
    return _near(to_base(answer), right, question.tolerance) or abs(answer.value - exact) <= 0.5 * step * (1 + 1e-9)


def _wrong_numbers(posed: Posed) -> list[tuple[Mistake, float]]:
    """Return what each foreseen mistake comes to; worked out once for all answers to the same numbers."""
    if not posed.wrong:
        worked = [(mistake, mistake.wrong(posed.numbers)) for mistake in foreseen(posed.question)]
        posed.wrong.extend((mistake, math.nan if number is None else float(number)) for mistake, number in worked)
    return posed.wrong


def _typed_to(answer: Q, tolerance: float) -> float:
    """Return how far a wrong number may lie from a foreseen one: as it was rounded, or as a chart can be read.

    A wide net would name causes that are not the one.
    """
    if tolerance > _READ_OFF or not answer.value:
        return tolerance
    digits = 2 if rounded_to(answer.value, 2) == answer.value else 3
    return float(0.5 * 10.0 ** (math.floor(math.log10(abs(answer.value))) - digits + 1) / abs(answer.value))


def _both(fitting: list[Mistake], posed: Posed) -> str:
    """Say what was done; where several mistakes give the same number, name each."""
    says = list(dict.fromkeys(fill(mistake.says, posed) for mistake in fitting))[:_MOST_NAMED]
    return says[0] if len(says) == 1 else f"More than one mistake leads to this number. {' Or: '.join(says)}"


def _slip_of_size(posed: Posed, value: float) -> tuple[str, str]:
    """Name a right answer that is off by a sign, by per cent for fraction, or by a power of ten."""
    right, tolerance = right_number(posed), posed.question.tolerance
    if _near(-value, right, tolerance):
        return "sign", "The size is right, the sign is not."
    if posed.sheet.unit == "%" and _near(value * 100, right, tolerance):
        return "fraction_for_percent", "That is the fraction; the question asks for per cent."
    for power in (-6, -3, -2, -1, 1, 2, 3, 6):
        if _near(value * 10.0**power, right, tolerance):
            return "power_of_ten", "The digits are right, but the decimal point or the unit is not."
    return OTHER, ""


def right_number(posed: Posed) -> float:
    """Return the key of a number question in SI."""
    return float(posed.right)


def _near(value: float, right: float, tolerance: float) -> bool:
    # The rounding allowance lets an answer on the very limit count, whatever the last binary digit says.
    return abs(value - right) <= tolerance * abs(right) * (1 + 1e-9)


def fill(template: str, posed: Posed) -> str:
    """Put the numbers of a variant into a text."""
    return template.format_map(posed.words)
