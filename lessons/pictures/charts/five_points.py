"""Readings of a five-point test as found, right or with a fault: what the charts of them draw, and keys stand on."""

from __future__ import annotations

from typing import Any

import numpy as np

SIGNALS = np.linspace(0, 1, 5)
FAULTS = ("zero", "span", "friction", "linkage")
SOUND_GAP = 0.004  # up to down of a valve without fault; own choice, no source
SCATTER = 0.0012  # of a reading either way; own choice, no source


def five_points(zero: float, span: float, gap: float, bow: float, seed: int) -> tuple[Any, Any]:
    """Return the readings up and down at the five signals, to 0.1 %, each with a little scatter.

    `gap` is how far up and down are apart, `bow` how far the middle lies off a straight line.
    """
    middle = zero + (1 + span) * SIGNALS + bow * 4 * SIGNALS * (1 - SIGNALS)
    scatter = np.random.default_rng(seed).uniform(-SCATTER, SCATTER, (2, 5))
    return np.round(middle - gap / 2 + scatter[0], 3), np.round(middle + gap / 2 + scatter[1], 3)


def faulty(fault: str, size: float, seed: int) -> tuple[Any, Any]:
    """Return the readings of a valve with one fault: zero, span, friction or linkage."""
    sizes = {name: size if name == fault else 0.0 for name in FAULTS}
    gap = abs(size) if fault == "friction" else SOUND_GAP
    return five_points(sizes["zero"], sizes["span"], gap, sizes["linkage"], seed)
