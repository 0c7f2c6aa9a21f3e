"""Numbers with trade units at the edge: shown in either unit set, turned into what valvecalc takes."""

from __future__ import annotations

import functools
import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from lessons.units.trade_units import DEFINITIONS, unit_named

if TYPE_CHECKING:
    import pint


@dataclass(frozen=True)
class Q:
    """A number with its trade unit, as an apprentice would write it."""

    value: float
    unit: str = ""

    def __str__(self) -> str:
        if self.unit in ("Kv", "Cv"):  # the trade says Kv 40 and not 40 Kv
            return f"{self.unit} {plain_number(self.value)}"
        return f"{plain_number(self.value)} {self.unit}".strip()


def plain_number(value: float) -> str:
    """Write a number without an exponent and without idle zeros.

    >>> plain_number(37.50), plain_number(1200.0), plain_number(0.00125)
    ('37.5', '1200', '0.00125')
    """
    if value != 0 and (abs(value) >= 1e9 or abs(value) < 1e-6):
        return f"{value:.3g}"
    return f"{value:.9f}".rstrip("0").rstrip(".")


def rounded_to(value: float, digits: int = 3) -> float:
    """Round to so many significant digits.

    >>> rounded_to(87.0226), rounded_to(0.086497), rounded_to(12345)
    (87.0, 0.0865, 12300.0)
    """
    if value == 0 or not math.isfinite(value):
        return value
    return float(round(value, digits - 1 - math.floor(math.log10(abs(value)))))


@functools.cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint  # takes half a second, which a command that converts nothing need not wait for

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
    for definition in DEFINITIONS:
        registry.define(definition)
    return registry


def _as_pint(q: Q) -> Any:
    return _registry().Quantity(q.value, unit_named(q.unit).pint)


def shown_unit(unit: str, units: str) -> str:
    """Name the unit to show for a trade unit in a unit set, "si" or "us".

    >>> shown_unit("bar", "us"), shown_unit("%", "us"), shown_unit("bar", "si")
    ('psi', '%', 'bar')
    """
    return unit_named(unit).twin or unit if units == "us" else unit


def convert(q: Q, unit: str) -> Q:
    """Return the same quantity in another unit of its kind.

    >>> round(convert(Q(6, "bar"), "psi").value, 2)
    87.02

    Raises
    ------
    ValueError
        If the units are not of one kind, or one of them is not known.
    """
    factor = _factor(unit_named(q.unit).pint, unit_named(unit).pint)
    if factor is None:
        raise ValueError(f"{q.unit or 'a bare number'} cannot be turned into {unit or 'a bare number'}.")
    return Q(q.value * factor if factor else float(_as_pint(q).to(unit_named(unit).pint).magnitude), unit)


@functools.cache  # marking a class asks for the same ones over and over, also for those that cannot be
def _factor(unit: str, other: str) -> float | None:
    """Return one of pint's units in another; 0 where a zero is not a zero, as in °C; None if not of one kind."""
    registry = _registry()
    try:
        zero = registry.Quantity(0.0, unit).to(other).magnitude
    except TypeError:  # the library's own where units are not of one kind
        return None
    return float(registry.Quantity(1.0, unit).to(other).magnitude) if zero == 0 else 0.0


def shown(q: Q, units: str, digits: int = 3) -> Q:
    """Return the quantity as an apprentice of that unit set sees it: the twin unit, three digits.

    >>> str(shown(Q(6, "bar"), "us")), str(shown(Q(6, "bar"), "si"))
    ('87 psi', '6 bar')
    """
    unit = shown_unit(q.unit, units)
    return q if unit == q.unit else Q(rounded_to(convert(q, unit).value, digits), unit)


def to_base(q: Q) -> float:
    """Return the number valvecalc takes: SI base units, fractions; flow coefficients as Kv.

    >>> to_base(Q(6, "bar")), to_base(Q(25, "%")), round(to_base(Q(100, "Cv")), 4)
    (600000.0, 0.25, 86.4978)
    """
    if q.unit in ("Kv", "Cv"):
        return convert(q, "Kv").value
    factor, zero = _line_to_base(q.unit)
    return q.value * factor + zero


@functools.cache  # a slider of a job card asks at each of its steps
def _line_to_base(unit: str) -> tuple[float, float]:
    """Return what one more of a unit is in SI base units, and where its zero lies: not at 0 for °C."""
    zero, one, many = (float(_as_pint(Q(value, unit)).to_base_units().magnitude) for value in (0.0, 1.0, 1e6))
    return (one if zero == 0 else (many - zero) / 1e6), zero  # over a long way, so that no digit is lost


def from_base(value: float, unit: str) -> Q:
    """Return a number of valvecalc in a trade unit; the inverse of `to_base`.

    >>> str(from_base(600000.0, "bar")), str(from_base(0.25, "%"))
    ('6 bar', '25 %')
    """
    if unit in ("Kv", "Cv"):
        return convert(Q(value, "Kv"), unit)
    base = _base_unit(unit)
    factor = _factor(base, unit_named(unit).pint)
    if factor:
        return Q(value * factor, unit)
    return Q(float(_registry().Quantity(value, base).to(unit_named(unit).pint).magnitude), unit)


@functools.cache
def _base_unit(unit: str) -> Any:
    return _as_pint(Q(1.0, unit)).to_base_units().units
