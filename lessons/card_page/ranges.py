"""A range typed into one box, as it stands on a plate: 3 to 15 psi, 0.2-1 bar, 100 to 0 %."""

from __future__ import annotations

import re

from lessons.questions import read_number
from lessons.questions.read_number import Unreadable
from lessons.units.quantities import plain_number
from lessons.units.trade_units import unit_spelled

Range = tuple[float, float, str]  # its ends in the order typed, and the name of their unit
_RANGE = re.compile(r"(\d[\d.,]{0,8}) ?(?:to|-|–|—|−|…|\.\.) ?(\d[\d.,]{0,8}) ?(\D{0,12})", re.IGNORECASE)
_LONGEST = 60


def read_range(text: str, units: tuple[str, ...], such_as: str) -> Range | Unreadable:
    """Read a range whose unit is one of these; `such_as` says how to type it.

    >>> read_range("3-15 psi", ("psi", "bar"), ""), read_range("100 to 0%", ("%",), "")
    ((3.0, 15.0, 'psi'), (100.0, 0.0, '%'))
    """
    found = _RANGE.fullmatch(" ".join(text[:_LONGEST].split()))
    unit = unit_spelled(found[3].strip()) if found and found[3].strip() else None
    if not found or not unit or unit.name not in units:
        return Unreadable(such_as)
    low, high = (read_number.number(end, "") for end in (found[1], found[2]))
    if isinstance(low, Unreadable) or isinstance(high, Unreadable):
        return Unreadable(such_as)
    if not 1e-3 <= abs(high.value - low.value) <= 1e5:
        return Unreadable(f"The two ends are too near or too far apart. {such_as}")
    return low.value, high.value, unit.name


def write_range(value: Range) -> str:
    """Write a range as it is read.

    >>> write_range((3.0, 15.0, "psi"))
    '3 to 15 psi'
    """
    low, high, unit = value
    return f"{plain_number(low)} to {plain_number(high)} {unit}"
