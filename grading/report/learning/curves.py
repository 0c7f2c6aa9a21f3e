"""How the error falls from one opportunity to the next: a curve, its slope, and how sure the slope is.

The model is the one of additive factors for one idea (Cen, Koedinger and Junker 2006, from memory): the log of the odds
of an error is what the apprentice brings, plus the slope times the opportunities before. What apprentices bring is
taken as normally spread, and summed out over its spread (Gauss-Hermite), so that a small class is not taken for sure.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

_Array = NDArray[np.float64]
_NODES, _WEIGHTS = np.polynomial.hermite_e.hermegauss(15)
_Z = 1.959964  # of a normal spread: 95 % lie within
FEWEST_PEOPLE, FEWEST_ANSWERS = 5, 20  # below which no slope is told
_CLOSE = 1e-4  # of a step
MOST_OPPORTUNITIES = 15  # beyond, hardly anybody is left


@dataclass(frozen=True)
class Point:
    """One opportunity over the class: how many met it, the share of errors, and the interval it may lie in."""

    number: int
    people: int
    error: float
    low: float
    high: float


@dataclass(frozen=True)
class Slope:
    """The change of the log odds of an error from one opportunity to the next, with its 95 % interval."""

    value: float
    low: float
    high: float

    @property
    def tells(self) -> bool:
        """Whether it can be told from no change at all."""
        return self.low > 0 or self.high < 0


def points(errors: Sequence[Sequence[bool]]) -> list[Point]:
    """Return the curve: `errors` has a row for each apprentice, in the order of their opportunities."""
    found = []
    for n in range(min(MOST_OPPORTUNITIES, max(map(len, errors), default=0))):
        here = [row[n] for row in errors if len(row) > n]
        found.append(Point(n + 1, len(here), sum(here) / len(here), *_wilson(sum(here), len(here))))
    return found


def _wilson(count: int, of: int) -> tuple[float, float]:
    """Return Wilson's 95 % interval of a share (Wilson 1927), which also holds for few."""
    share, z2 = count / of, _Z * _Z
    middle, room = share + z2 / (2 * of), _Z * math.sqrt(share * (1 - share) / of + z2 / (4 * of * of))
    low, high = (middle - room) / (1 + z2 / of), (middle + room) / (1 + z2 / of)
    return max(0.0, min(low, share)), min(1.0, max(high, share))  # the share itself lies in it, whatever is rounded


def slope(errors: Sequence[Sequence[bool]]) -> Slope | None:
    """Return the slope; None where there is too little to say anything."""
    rows = [row[:MOST_OPPORTUNITIES] for row in errors if row]
    if sum(len(row) > 1 for row in rows) < FEWEST_PEOPLE or sum(map(len, rows)) < FEWEST_ANSWERS:
        return None
    longest = max(map(len, rows))
    seen = np.array([[n < len(row) for n in range(longest)] for row in rows])
    wrong = np.array([[n < len(row) and row[n] for n in range(longest)] for row in rows])
    best, curvature = _highest(lambda at: _likelihood(at, wrong, seen))
    spread = _Z * math.sqrt(max(0.0, float(np.linalg.pinv(curvature)[1, 1])))
    return Slope(float(best[1]), float(best[1]) - spread, float(best[1]) + spread)


def _likelihood(at: _Array, wrong: NDArray[np.bool_], seen: NDArray[np.bool_]) -> float:
    """Return the log of the likelihood of level, slope and log of the spread of apprentices.

    The spread is drawn a little towards 1 and the slope towards 0, so that a class where nobody erred has an answer.
    """
    level, rise, log_spread = at
    line = level + rise * np.arange(wrong.shape[1])
    odds = line[None, :, None] + math.exp(log_spread) * _NODES[None, None, :]
    each = np.where(wrong[:, :, None], -np.logaddexp(0, -odds), -np.logaddexp(0, odds)) * seen[:, :, None]
    whole = each.sum(axis=1) + np.log(_WEIGHTS / _WEIGHTS.sum())
    top = whole.max(axis=1, keepdims=True)
    logs = top[:, 0] + np.log(np.exp(whole - top).sum(axis=1))
    return float(logs.sum() - 0.5 * log_spread**2 - 0.5 * (rise / 2) ** 2 - 0.5 * (level / 5) ** 2)


_Height = Callable[[_Array], float]


def _highest(height: _Height) -> tuple[_Array, _Array]:
    """Climb to the top by Newton's steps; return where it is, and the curvature there."""
    at = np.zeros(3)
    for _ in range(40):
        gradient, curvature = _slopes(height, at)
        values, vectors = np.linalg.eigh(curvature)
        step = vectors @ ((vectors.T @ gradient) / np.maximum(np.abs(values), 1e-3))
        step *= min(1.0, 2.0 / max(1e-12, float(np.abs(step).max())))
        here = height(at)
        while height(at + step) < here and np.abs(step).max() > _CLOSE:
            step = step / 2
        at = at + step
        if np.abs(step).max() <= _CLOSE:
            break
    return at, _slopes(height, at)[1]


def _slopes(height: _Height, at: _Array, by: float = 1e-2) -> tuple[_Array, _Array]:
    """Return the gradient, and the curvature downwards, by differences."""
    unit, size = by * np.eye(len(at)), range(len(at))
    gradient = np.array([height(at + unit[i]) - height(at - unit[i]) for i in size]) / (2 * by)
    curvature = np.empty((len(at), len(at)))
    for i, j in ((i, j) for i in size for j in size if i <= j):
        corners = [s * t * height(at + s * unit[i] + t * unit[j]) for s in (1, -1) for t in (1, -1)]
        curvature[i, j] = curvature[j, i] = -sum(corners) / (4 * by * by)
    return gradient, curvature
