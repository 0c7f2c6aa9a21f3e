"""The working of a question, written down once.

From it come the worked example, the answer after the last try, and the wrong workings that can be foreseen. It is a few
lines, as one would write them on paper. All but the last have a name and a unit:

    working=("spring [N] = low * area", "line [N] = dp * circle(port)", "(spring - line - friction) / rim(port)")

Names are those of the variant's numbers and of the lines above; `formula.py` lists what else may stand there. The last
line gives the answer in the question's unit.
"""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Protocol

from lessons.questions.workings.formula import Tree, Values, as_typed, put_in, told, tree_of, worked_out
from lessons.questions.workings.names import spoken
from lessons.units.quantities import Q, from_base, plain_number, rounded_to, shown_unit, to_base

ANSWER = "answer"
_DEGREES = ("°C", "°F")  # formulas take these as they are shown: their zero is not a zero
_COEFFICIENTS = ("Kv", "Cv")
# Kv is m³/h at 1 bar, which is 100 000 Pa; a formula has m³/s at 1 Pa. Written out: `valvecalc.units` loads numpy.
_PER_COEFFICIENT = 3600 * math.sqrt(1e5)
_LINE = re.compile(r"(?:(?P<name>\w+) \[(?P<unit>[^\]]*)\] = )?(?P<formula>.+)", re.ASCII | re.DOTALL)


class _Worked(Protocol):
    """What of a question its working needs."""

    @property
    def working(self) -> tuple[str, ...]: ...
    @property
    def unit(self) -> str: ...
    @property
    def digits(self) -> int: ...
    @property
    def names(self) -> Mapping[str, str]: ...


@dataclass(frozen=True)
class _Line:
    """One line of a working: a name, its trade unit, the formula as it stands and with all lines put in."""

    name: str
    unit: str
    as_written: Tree
    whole: Tree


@functools.cache
def lines_of(working: tuple[str, ...], unit: str) -> tuple[_Line, ...]:
    """Read a working; its last line is the answer, in the question's unit."""
    lines: list[_Line] = []
    for text in working:
        found = _LINE.fullmatch(text)
        if found is None:
            raise ValueError(f"“{text}” is no line of a working, such as: spring [N] = low * area")
        tree = tree_of(found["formula"])
        whole = put_in(tree, {line.name: line.whole for line in lines})
        lines.append(_Line(found["name"] or ANSWER, unit if found["name"] is None else found["unit"], tree, whole))
    return tuple(lines)


def values_of(seen: Mapping[str, Any]) -> Values:
    """Return the numbers a formula can use, of a variant as it is shown."""
    numbers = {name: value for name, value in seen.items() if isinstance(value, (int, float, Q))}
    si = {name: into_formula(value) for name, value in numbers.items()}
    return Values(si, {name: _bare(value, si[name]) for name, value in numbers.items()})


def into_formula(value: float | Q) -> float:
    """Return a number as formulas take it: SI, with flow coefficients so that Kv times the root of a drop is a flow."""
    if not isinstance(value, Q):
        return float(value)
    if value.unit in _DEGREES:
        return value.value
    return to_base(value) / (_PER_COEFFICIENT if value.unit in _COEFFICIENTS else 1.0)


def base_of(value: float, unit: str, units: str) -> float:
    """Return what a formula gave as the key of a question gives it."""
    if unit in _DEGREES:
        return to_base(Q(value, shown_unit(unit, units)))
    return value * (_PER_COEFFICIENT if unit in _COEFFICIENTS else 1.0)


def _bare(value: float | Q, si: float) -> float:
    return si if not isinstance(value, Q) or value.unit in ("%", "points") else value.value


def told_working(question: _Worked, seen: Mapping[str, Any], units: str) -> str:
    """Tell a working with its numbers: each line as formula, numbers put in, result and unit."""
    given, seen = values_of(seen), dict(seen)
    parts = []
    for line in lines_of(question.working, question.unit):
        result = result_of(line, given, units, question.digits if line.name == ANSWER else 4)
        formula = told(line.as_written, {name: spoken(name, question.names) for name in seen})
        numbers = told(line.as_written, {name: _put_in(value) for name, value in seen.items()})
        steps = dict.fromkeys((formula, numbers, _in_unit(line, seen, result)))
        parts.append(f"{_capital(spoken(line.name, question.names))} = {' = '.join(steps)}.")
        seen[line.name] = result
    return re.sub(r"(?<!\w)-(?=\d)", "−", " ".join(parts))


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def result_of(line: _Line, values: Values, units: str, digits: int) -> Q:
    """Return what a line comes to, in its unit of a unit set."""
    unit = shown_unit(line.unit, units)
    found = worked_out(line.whole, values)
    return Q(rounded_to(from_base(base_of(found, line.unit, units), unit).value if unit else found, digits), unit)


def results(working: tuple[str, ...], unit: str, seen: Mapping[str, Any], units: str) -> dict[str, Q]:
    """Return the results of the named lines of a working, for the replies that speak of them."""
    given = values_of(seen)
    return {line.name: result_of(line, given, units, 4) for line in lines_of(working, unit)[:-1]}


def _put_in(value: Any) -> str:
    if isinstance(value, Q):
        return plain_number(to_base(value)) if value.unit in ("%", "points") else str(value)
    return plain_number(value) if isinstance(value, (int, float)) else str(value)


def _in_unit(line: _Line, seen: Mapping[str, Any], result: Q) -> str:
    """Say how the bare numbers and the unit come together, where that is not plain to see."""
    bare = rounded_to(as_typed(line.as_written, values_of(seen)), 4)
    if result.unit == "%":
        return f"{plain_number(bare)} = {result}"
    if abs(result.value - bare) < 0.01 * abs(bare):
        return str(result)
    times = plain_number(rounded_to(result.value / bare, 4)) if bare else "0"
    return f"{result} (the bare numbers give {plain_number(bare)}; the units bring a factor of {times})"
