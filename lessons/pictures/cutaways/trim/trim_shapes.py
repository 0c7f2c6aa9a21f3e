"""Plug contours and cage windows that give a characteristic, worked out by valvecalc, in millimetres."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from lessons.pictures.cutaways.parts import Points
from valvecalc import characteristic, trim
from valvecalc import trim as plug_contour

RANGEABILITY = 50.0
FULL = 0.65  # share of the seat's bore that is free at full travel


def phi(kind: str, travel: np.ndarray, toe: float = 0.03) -> np.ndarray:
    """Return the relative flow coefficient of a characteristic; that of equal percentage closes below its toe."""
    if kind == "equal percentage":
        return characteristic.equal_percentage(travel, RANGEABILITY, toe=toe)
    return {"linear": characteristic.linear, "quick opening": characteristic.quick_opening}[kind](travel)


@lru_cache(maxsize=32)
def contour(kind: str, radius: float, stroke: float, steps: int = 49) -> Points:
    """Return radius against depth below the seat line, tip first, of a plug in a bore of that radius [mm]."""
    travel = np.linspace(0, 1, 201)
    area = FULL * np.pi * (radius / 1000) ** 2 * phi(kind, travel)
    depth = np.linspace(0, 1, steps)
    outline = 1000 * plug_contour.plug_contour(depth * stroke / 1000, radius / 1000, travel * stroke / 1000, area)
    slim = np.minimum(np.minimum.accumulate(outline), radius - 0.15)  # room to slide
    # Beyond the steepest part the metal no longer throttles: there the plug is cut off flat, as it is on the bench.
    steep = -np.gradient(slim, depth)
    steepest = int(np.argmax(np.where(depth > 0.3, steep, 0)))
    late = (np.arange(steps) > steepest) & (depth > 0.5) & (steep < 0.75 * steep[steepest])
    last = int(np.argmax(late)) if late.any() else steps
    return np.column_stack([slim, depth * stroke])[: last + 1][::-1]


@lru_cache(maxsize=32)
def window(kind: str, height: float, widest: float, steps: int = 41) -> Points:
    """Return half the width of a cage window against height from its lower edge [mm], widest as given."""
    travel = np.linspace(0, 1, steps)
    slope = np.gradient(phi(kind, travel, toe=0), travel)
    width = trim.width_for_slope(slope, 1.0, 1.0)
    return np.column_stack([widest / 2 * width / width.max(), travel * height])
