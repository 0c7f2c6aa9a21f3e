"""All wrong answers a question foresees: its own mistakes first, then those of the families, then units and shares."""

from __future__ import annotations

import ast
import math
from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial

from lessons.questions.question import Mistake, Numbers, Question, by_family, key_numbers
from lessons.questions.workings.formula import Tree, Values, as_typed, name_of, pieces, replaced, worked_out
from lessons.questions.workings.names import filled
from lessons.questions.workings.tree_parts import called
from lessons.questions.workings.working import base_of, lines_of
from lessons.questions.workings.wrong_workings import all_of
from lessons.units.quantities import Q, convert, from_base, shown_unit, to_base
from lessons.units.trade_units import UNITS

_ENOUGH = 12  # variants to tell two workings apart
_SAME = 1e-6  # two workings that differ by less in every variant are one
# What people seldom do, though a number may fit it by chance: it is named only where nothing else fits.
_RARE = (
    "extra_", "half_root", "power_turned", "root_for_square", "wrong_way_circle", "wrong_way_rim", "left_out_circle",
)  # fmt: skip
_OF_A_PIECE = ("wrong_way", "left_out")  # of a piece of the formula that has no name of its own
_KNOWN: dict[int, tuple[Question, tuple[Mistake, ...]]] = {}


def foreseen(question: Question) -> tuple[Mistake, ...]:
    """Return every mistake a question foresees, each cause once; worked out when first asked for."""
    known = _KNOWN.get(id(question))
    if known is None or known[0] is not question:
        known = _KNOWN[id(question)] = (question, _foreseen(question))
    return known[1]


def _foreseen(question: Question) -> tuple[Mistake, ...]:
    if not question.working or question.kind != "number":
        return question.mistakes
    some = range(min(len(question.variants), _ENOUGH))
    numbers = [key_numbers(question, i, units) for i in some for units in ("si", "us")]
    made = list(_from_working(question))
    kept = [found for own in question.mistakes for found in _in_own_words(own, made)]
    taken = [[float(question.right(n)) for n in numbers], *([_number(m, n) for n in numbers] for m in kept)]
    for mistake in made:
        values = [_number(mistake, n) for n in numbers]
        if all(map(math.isnan, values)) or any(_same(values, others) for others in taken):
            continue
        kept.append(mistake)
        taken.append(values)
    return tuple(kept)


def _in_own_words(own: Mistake, made: list[Mistake]) -> list[Mistake]:
    """Return a question's own mistake; where a family makes it, with what the family works out."""
    if own.wrong is not by_family:
        return [own]
    found = [replace(own, wrong=each.wrong) for each in made if each.tag == own.tag]
    if not found:
        raise ValueError(
            f"No family makes a mistake “{own.tag}” of this working. It makes: {', '.join(m.tag for m in made)}."
        )
    return found


def _number(mistake: Mistake, numbers: Numbers) -> float:
    return float(mistake.wrong(numbers))


def _same(values: list[float], others: list[float]) -> bool:
    return all(
        abs(a - b) <= _SAME * abs(b) or (math.isnan(a) and math.isnan(b)) for a, b in zip(values, others, strict=True)
    )


def _from_working(question: Question) -> Iterator[Mistake]:
    lines = lines_of(question.working, question.unit)
    whole = lines[-1].whole
    for line in lines[:-1]:
        if line.unit == question.unit:
            says = f"That is {called(ast.Name(line.name))}. One more step leads to the answer."
            yield _mistake(question, f"stopped_at_{line.name}", line.whole, says)
    for wrong in (*_other_numbers(question, whole), *all_of(whole)):
        yield _mistake(question, wrong[0], wrong[1], wrong[2])
    yield from _shares(question, whole)
    yield from _units(question, whole)


def _mistake(question: Question, tag: str, tree: Tree, says: str) -> Mistake:
    said, rare = filled(says, question.names), tag.startswith(_RARE) or tag in _OF_A_PIECE
    return Mistake(tag, lambda n: base_of(worked_out(tree, n.in_formulas), question.unit, n.units), said, rare=rare)


def _other_numbers(question: Question, whole: Tree) -> Iterator[tuple[str, Tree, str]]:
    """Take one number of the question where another of the same unit belongs."""
    units = {
        name: value.unit
        for name, value in question.variants[0].items()
        if isinstance(value, Q) and f"{{{name}}}" in question.text
    }
    for piece in pieces(whole):
        if not isinstance(piece, ast.Name) or piece.id not in units:
            continue
        for other in (name for name, unit in units.items() if unit == units[piece.id] and name != piece.id):
            there = ast.Name(other)
            says = f"You took {called(there)}. Take {called(ast.Name(piece.id))}."
            yield f"{other}_for_{name_of(piece)}", replaced(whole, piece, there), says


def _shares(question: Question, whole: Tree) -> Iterator[Mistake]:
    if question.unit == "%":
        says = "That is the other part of 100 %. Read once more which part is asked for."
        yield Mistake("complement", lambda n: 1 - worked_out(whole, n.in_formulas), says)


def _units(question: Question, whole: Tree) -> Iterator[Mistake]:
    """Units left as they are, the number of another unit, or of another time."""

    def typed(value: Callable[[Values], float], meant: str = "") -> Callable[[Numbers], float]:
        """Return what a number comes to that has the unit asked for and not the one that was meant."""

        def wrong(n: Numbers) -> float:
            unit = shown_unit(question.unit, n.units)
            number = math.nan if unit == meant else value(n.in_formulas)
            return to_base(Q(number, unit)) if unit else number

        return wrong

    if question.unit and question.unit != "%":
        says = "The working is right, but the units do not go together. Convert them first."
        yield Mistake("not_converted", typed(lambda values: as_typed(whole, values)), says)
        for other in _kin(question.unit):
            says = f"That is the number in {other}. Read once more which unit is asked for."
            yield Mistake(f"in_{other}", typed(partial(_right, question, whole, other), other), says)
    for times, tag, says in _TIMES.get(question.unit.partition("/")[2], ()):
        yield Mistake(tag, partial(_times, whole, times), says)


def _times(whole: Tree, times: float, numbers: Numbers) -> float:
    return times * worked_out(whole, numbers.in_formulas)


_TIMES = {
    "min": ((60.0, "per_hour", "That is for an hour."), (1 / 60, "per_second", "That is for a second.")),
    "h": ((1 / 60, "per_minute", "That is for a minute."), (1 / 3600, "per_second", "That is for a second.")),
}


def _right(question: Question, whole: Tree, unit: str, values: Values) -> float:
    return from_base(base_of(worked_out(whole, values), question.unit, "si"), unit).value


def _kin(unit: str) -> list[str]:
    """Return the other units of a kind, but for those that only move the decimal point."""
    found = []
    for other in UNITS:
        try:
            ratio = convert(Q(1.0, unit), other).value
        except ValueError:
            continue
        if abs(math.log10(abs(ratio)) - round(math.log10(abs(ratio)))) > 1e-6:
            found.append(other)
    return found
