"""A cover on a gasket, pulled down by studs one after another: schematic, what each nut does to the others.

The cover is stiff and stays flat, studs and gasket are springs that can only pull and only push, and every
nut is turned until its stud has just the load wanted. Real covers bend, real gaskets stay crushed and real
wrenches scatter: all of that makes things worse. Loads are shares of the load wanted in the end. Stiffness,
snug load and sizes are own choices, no source.
"""

from __future__ import annotations

import functools
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

STUDS = 8
GASKET_POINTS = 72
GASKET_RADIUS = 0.8  # of the stud circle
STIFFNESS = 1.0  # of the gasket by one stud, over that of the stud
SNUG = 0.1  # load of every stud before the first round
CROSSWISE = (0, 4, 2, 6, 1, 5, 3, 7)
ROUND_THE_CIRCLE = tuple(range(STUDS))
LEVELS = {1: (1.0,), 2: (0.5, 1.0), 3: (0.3, 0.6, 1.0), 4: (0.3, 0.6, 1.0, 1.0)}

Loads = NDArray[np.float64]


class Turn(NamedTuple):
    """What stands after one nut: which, in what round, to what load; loads of the studs and of the gasket."""

    stud: int
    round: int
    level: float
    studs: Loads
    gasket: Loads


def _arms(count: int, radius: float) -> Loads:
    """Return what one unit of sinking and of tilting two ways moves each point of a circle by."""
    around = 2 * np.pi * np.arange(count) / count
    return np.column_stack([np.ones(count), radius * np.sin(around), radius * np.cos(around)])


STUD_ARMS = _arms(STUDS, 1.0)
GASKET_ARMS = _arms(GASKET_POINTS, GASKET_RADIUS)
_EACH = STIFFNESS * STUDS / GASKET_POINTS


def order(crosswise: bool, rounds: int) -> list[tuple[int, int, float]]:
    """Return stud, round and level of every turn; a fourth round goes round the circle, at the full load."""
    usual = CROSSWISE if crosswise else ROUND_THE_CIRCLE
    return [
        (stud, k, level)
        for k, level in enumerate(LEVELS[rounds], start=1)
        for stud in (usual if k < 4 else ROUND_THE_CIRCLE)
    ]


@functools.cache
def tightened(crosswise: bool, rounds: int) -> tuple[Turn, ...]:
    """Return what stands before the first nut and after each."""
    sunk = np.array([SNUG / STIFFNESS, 0.0, 0.0])
    nuts = np.full(STUDS, SNUG + sunk[0])
    turns = [_state(-1, 0, SNUG, sunk, nuts)]
    for stud, k, level in order(crosswise, rounds):
        sunk, nuts = turn_nut(stud, level, sunk, nuts)
        turns.append(_state(stud, k, level, sunk, nuts))
    return tuple(turns)


def turn_nut(stud: int, level: float, sunk: Loads, nuts: Loads) -> tuple[Loads, Loads]:
    """Turn one nut until its stud has the load; a stud that has it already is left alone."""
    if nuts[stud] - STUD_ARMS[stud] @ sunk >= level:
        return sunk, nuts
    others = np.arange(STUDS) != stud
    for _ in range(50):  # a few are enough: only which points touch can change from one to the next
        pull = np.where(others, nuts - STUD_ARMS @ sunk, 0.0)
        push = GASKET_ARMS @ sunk
        tight, pressed = pull > 0, push > 0
        missing = STUD_ARMS[tight].T @ pull[tight] + level * STUD_ARMS[stud]
        missing = missing - _EACH * GASKET_ARMS[pressed].T @ push[pressed]
        stiff = STUD_ARMS[tight].T @ STUD_ARMS[tight] + _EACH * GASKET_ARMS[pressed].T @ GASKET_ARMS[pressed]
        sunk = sunk + np.linalg.solve(stiff, missing)
        if np.abs(missing).max() < 1e-12:
            break
    nuts = np.where(others, nuts, level + STUD_ARMS[stud] @ sunk)
    return sunk, nuts


def _state(stud: int, k: int, level: float, sunk: Loads, nuts: Loads) -> Turn:
    # The gasket's load is told as if one point stood for the part by one stud, so that 1 is the load wanted.
    studs = np.maximum(nuts - STUD_ARMS @ sunk, 0.0)
    return Turn(stud, k, level, studs, STIFFNESS * np.maximum(GASKET_ARMS @ sunk, 0.0))
