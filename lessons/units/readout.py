"""Numbers of valvecalc in trade units, as they are read out.

Everything here is linear in the number, so pint is asked once per unit and never while a slider moves.
"""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, Any

from lessons.units.quantities import from_base, plain_number, rounded_to, shown_unit

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray


def in_trade_unit(value: ArrayLike, unit: str) -> NDArray[np.float64]:
    """Turn numbers of valvecalc into a trade unit; fast enough for every frame of a picture.

    >>> in_trade_unit([0, 2.5e5], "bar").tolist()
    [0.0, 2.5]
    """
    import numpy as np  # a command that only counts things need not wait for it

    factor, offset = _line(unit)
    return np.asarray(value, dtype=float) * factor + offset


def to_decimals(value: float, unit: str, units: str = "si", digits: int = 0) -> str:
    """Write a number of valvecalc as an apprentice of that unit set reads it, with so many decimals.

    >>> to_decimals(0.5, "%"), to_decimals(6e5, "bar", "us"), to_decimals(-0.02, "mm", digits=1)
    ('50 %', '87 psi', '−20.0 mm')
    """
    shown = shown_unit(unit, units)
    return with_unit(float(in_trade_unit(value, shown)), shown, digits)


def to_digits(value: Any, unit: str = "", units: str = "si", digits: int = 3) -> str:
    """Write a number of valvecalc with its trade unit, to so many significant digits.

    >>> to_digits(6e5, "bar"), to_digits(6e5, "bar", "us"), to_digits(-0.0123, "%"), to_digits(2, "Kv", "us")
    ('6 bar', '87 psi', '−1.23 %', 'Cv 2.31')
    """
    shown = shown_unit(unit, units)
    number = plain_number(rounded_to(float(in_trade_unit(float(value), shown)), digits)).replace("-", "−")
    return f"{shown} {number}" if shown in ("Kv", "Cv") else f"{number} {shown}".strip()


def with_unit(value: float, unit: str, digits: int) -> str:
    """Write a number that is in its trade unit already, with so many decimals and a real minus sign.

    >>> with_unit(-0.02, "mm", 1), with_unit(-1.25, "mm", 2)
    ('0.0 mm', '−1.25 mm')
    """
    number = f"{value:.{digits}f}"
    number = number.removeprefix("-") if float(number) == 0 else number.replace("-", "−")
    return f"{number} {unit}".strip()


@functools.cache
def _line(unit: str) -> tuple[float, float]:
    offset = from_base(0.0, unit).value
    return from_base(1.0, unit).value - offset, offset


def counted(number: float, thing: str, things: str = "") -> str:
    """Return how many there are, in words that fit the number.

    >>> counted(1, "hand-in"), counted(2, "hand-in"), counted(0, "page"), counted(3, "copy", "copies")
    ('1 hand-in', '2 hand-ins', '0 pages', '3 copies')
    """
    return f"{number:g} {thing if number == 1 else things or f'{thing}s'}"
