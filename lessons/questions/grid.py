"""More variants of a number question: some of its numbers are moved over a grid of neat values.

A few variants are written by hand, so that each is sound; the others lie between and beside them. They are made when
first looked at, and only those stay in which the answer lies apart from every mistake the question words itself.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import Any, overload

from lessons.questions.foreseen import foreseen
from lessons.questions.question import Mistake, Numbers, Question, key_numbers
from lessons.units.quantities import Q, from_base, rounded_to

ENOUGH = 60
_UNITS = ("si", "us")
_ALIKE = 0.4  # tolerances between the answers in the two unit sets
_APART = 2.2  # tolerances between the answer and a mistake; the last tenth is for rounding
# The first leaves a number as it is. Then small moves: near a number written by hand, a number is as sound as it is.
_FACTORS = (
    1.0,
    1.1,
    0.9,
    1.2,
    0.8,
    1.05,
    0.95,
    1.15,
    0.85,
    1.3,
    0.7,
    1.25,
    0.75,
    1.4,
    0.65,
    1.5,
    0.6,
    1.07,
    0.93,
    1.03,
    0.97,
)


class Grid(Sequence[Mapping[str, Any]]):
    """The variants of a question, those by hand first."""

    def __init__(self, question: Question, moved: Sequence[str]) -> None:
        self._question, self._moved = question, moved

    @functools.cached_property
    def _watched(self) -> tuple[Mistake, ...]:
        """The foreseen mistakes that lie apart from the answer in every variant by hand: they shall do so in all."""
        question = self._question
        numbers = [key_numbers(question, i, units) for i in range(len(question.variants)) for units in _UNITS]
        keyed = [(each, float(question.right(each))) for each in numbers]
        own = [each for each in foreseen(question) if not each.rare]
        return tuple(each for each in own if all(_apart(question, each, n, right) for n, right in keyed))

    @functools.cached_property
    def _all(self) -> tuple[Mapping[str, Any], ...]:
        found = {_words(variant): variant for variant in self._question.variants}
        for variant in _candidates(self._question.variants, self._moved):
            if len(found) >= ENOUGH:
                break
            if _words(variant) not in found and is_sound(replace(self._question, variants=(variant,)), self._watched):
                found[_words(variant)] = variant
        return tuple(found.values())

    @overload
    def __getitem__(self, index: int) -> Mapping[str, Any]: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Mapping[str, Any], ...]: ...
    def __getitem__(self, index: int | slice) -> Mapping[str, Any] | tuple[Mapping[str, Any], ...]:
        return self._all[index]

    def __len__(self) -> int:
        return len(self._all)


def on_grid(question: Question, *moved: str) -> Question:
    """Return a question with at least 60 variants, made by moving some of its numbers, each by itself and together.

    A seed that is named moves along, so that the recording of each variant is its own.
    """
    return replace(question, variants=Grid(question, moved))


def _candidates(by_hand: Sequence[Mapping[str, Any]], moved: Sequence[str]) -> Iterator[Mapping[str, Any]]:
    seeds = [name for name in moved if name == "seed"]
    names = [name for name in moved if name != "seed"]
    number = 0
    for moves in sorted(product(range(len(_FACTORS)), repeat=len(names)), key=_how_far):
        for variant in by_hand:
            number += 1
            changed = {name: _moved(variant[name], _FACTORS[move]) for name, move in zip(names, moves, strict=True)}
            yield {**variant, **changed, **{seed: variant[seed] + 1000 * number for seed in seeds}}


def _how_far(moves: tuple[int, ...]) -> tuple[int, int]:
    """Put single moves before double ones, in the order they are listed."""
    return sum(map(bool, moves)), sum(moves)


def _moved(value: Any, factor: float) -> Any:
    """Return a number moved and rounded as it was written: two digits, or three where it had as many."""
    if isinstance(value, Q):
        return Q(_neat(value.value, factor), value.unit)
    if isinstance(value, int):
        return max(1, round(value * factor))
    return _neat(value, factor)


def _neat(value: float, factor: float) -> float:
    digits = 2 if rounded_to(value, 2) == value else 3
    return rounded_to(value * factor, digits)


def _words(variant: Mapping[str, Any]) -> tuple[str, ...]:
    return tuple(str(value) for name, value in variant.items() if name != "seed")


def is_sound(question: Question, watched: Sequence[Mistake]) -> bool:
    """Tell whether the only variant's answer is plausible, apart from what is foreseen, and alike in both unit sets."""
    answers = []
    try:
        for units in _UNITS:
            numbers = key_numbers(question, 0, units)
            right = float(question.right(numbers))
            answers.append(right)
            low, high = question.plausible or (-math.inf, math.inf)
            if not _within(right, low, high, question.unit):
                return False
            if not all(_apart(question, mistake, numbers, right) for mistake in watched):
                return False
    except (ValueError, TypeError, ArithmeticError):  # numbers that cannot be
        return False
    # Numbers are rounded in each unit set; where a small difference of them is asked for, that would show.
    return math.isclose(*answers, rel_tol=_ALIKE * question.tolerance)


def _apart(question: Question, mistake: Mistake, numbers: Numbers, right: float) -> bool:
    wrong = float(mistake.wrong(numbers))
    return not abs(wrong - right) <= _APART * question.tolerance * max(abs(wrong), abs(right))


def _within(value: float, low: float, high: float, unit: str) -> bool:
    return low < from_base(value, unit).value < high if unit else low < value < high
