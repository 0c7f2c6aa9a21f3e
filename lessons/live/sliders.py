"""A slider of a live picture: SI inside, read out in the apprentice's unit set."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lessons.units.quantities import shown_unit
from lessons.units.readout import counted, in_trade_unit, with_unit

UNIT_SETS = ("si", "us")
MOST_POSITIONS = 1001


@dataclass(frozen=True)
class Slider:
    """One slider: limits, step and start as valvecalc takes them (SI, fractions), shown in trade units.

    `unit` is the trade unit of the SI set ("%", "bar", "mm", "m³/h", ...; "" for a plain number); in the US set the
    twin from `lessons.units.quantities` is shown, or `us_unit` where another is wanted. Where the positions are a
    choice and no measure, `words` says what each is called.
    """

    name: str  # the keyword that `move` takes
    label: str  # what the apprentice reads: "travel"
    low: float
    high: float
    step: float
    start: float
    unit: str = ""
    us_unit: str | None = None
    words: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not (self.low < self.high and self.step > 0 and self.low <= self.start <= self.high):
            raise ValueError(
                f"slider {self.name!r} needs low < high, a step above 0 and a start between them, but got "
                f"low {self.low:g}, high {self.high:g}, step {self.step:g}, start {self.start:g}."
            )
        if self.count > MOST_POSITIONS:
            raise ValueError(
                f"slider {self.name!r} has {counted(self.count, 'position')}, at most {MOST_POSITIONS}: widen the step."
            )
        if self.words and len(self.words) != self.count:
            raise ValueError(
                f"slider {self.name!r} has {counted(self.count, 'position')}, but words for {len(self.words)}."
            )
        if abs(self.value(self.position(self.start)) - self.start) > 1e-6 * self.step:
            said = f"no step of {self.step:g} from {self.low:g} lands on it"
            raise ValueError(f"slider {self.name!r} cannot start at {self.start:g}: {said}.")

    @property
    def count(self) -> int:
        """How many positions there are; the last may fall short of `high` if the step does not divide the range."""
        return math.floor((self.high - self.low) / self.step + 1e-6) + 1

    def value(self, position: int) -> float:
        """Value at a position, 0 being the lowest; rounded so that 0.1 + 0.2 is 0.3."""
        value = self.low + min(max(int(position), 0), self.count - 1) * self.step
        return round(value, 12 - math.floor(math.log10(max(abs(self.low), abs(self.high)))))

    def position(self, value: float) -> int:
        """Nearest position to a value."""
        return min(max(round((value - self.low) / self.step), 0), self.count - 1)

    def shown_unit(self, units: str) -> str:
        """Trade unit shown in a unit set, "si" or "us"."""
        return self.us_unit if units == "us" and self.us_unit is not None else shown_unit(self.unit, units)

    def readouts(self, units: str) -> list[str]:
        """Return what stands beside the slider at each position: "50 %"."""
        if self.words:
            return list(self.words)
        unit = self.shown_unit(units)
        values = in_trade_unit([self.value(k) for k in range(self.count)], unit)
        digits = _digits(values)
        return [with_unit(value, unit, digits) for value in values]


def _digits(values: NDArray[np.float64]) -> int:
    """Fewest decimals that show every position exactly, or else tell two neighbours apart."""
    apart = max(0, math.ceil(-math.log10(abs(values[1] - values[0])) - 1e-9))
    exact = [n for n in range(5) if np.allclose(values, np.round(values, n), rtol=0, atol=1e-6 * 10.0**-n)]
    return exact[0] if exact and exact[0] <= apart + 2 else apart
