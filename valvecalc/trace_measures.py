"""Read a recorded trace: up and down tables, dead band, friction and spring, whatever made the trace."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive


@dataclass(frozen=True)
class Signature:
    """Read off pressure against travel: friction [N], spring rate [N/m], bench set under load [Pa gauge]."""

    friction: Floats
    spring_rate: Floats
    bench_low_gauge: Floats
    bench_high_gauge: Floats


def up_down_table(signal: ArrayLike, travel: ArrayLike, points: ArrayLike) -> tuple[Floats, Floats]:
    """Travel at chosen signals on the way up and on the way down.

    Parameters
    ----------
    signal, travel : array_like
        Samples in order of time [-], one axis; a ramp, or steps read at their end.
    points : array_like
        Signals wanted [-], at least 0, 0.25, 0.5, 0.75 and 1 as a rule.

    Returns
    -------
    tuple of numpy.ndarray
        Travel up and travel down at the points [-], averaged over all runs of the trace.

    Raises
    ------
    ValueError
        If the trace has no run up or no run down, or a point lies outside it.

    Notes
    -----
    Equation: linear interpolation in each run.
    Source: five points up and down as in the test clause of GB/T 4213, second-hand.

    Examples
    --------
    >>> up, down = up_down_table([0, 0.5, 1, 0.5, 0], [0, 0.49, 1, 0.51, 0.01], [0, 0.5])
    >>> up.tolist(), down.tolist()
    ([0.0, 0.49], [0.01, 0.51])
    """
    x, y = _trace(signal, travel)
    wanted = in_range("points", points, x.min(), x.max(), "-")
    up: list[Floats] = []
    down: list[Floats] = []
    for first, last in _runs(x):
        rising = x[last] > x[first]
        sent, read = x[first : last + 1], y[first : last + 1]
        settled = np.append(np.diff(sent) != 0, True)
        order = np.argsort(sent[settled], kind="stable")
        value = np.interp(wanted, sent[settled][order], read[settled][order], left=np.nan, right=np.nan)
        (up if rising else down).append(value)
    return _mean(up, "up"), _mean(down, "down")


def dead_band(signal: ArrayLike, travel: ArrayLike, threshold: float = 0.002) -> Floats:
    """Change of signal on reversal that brings no visible response.

    Parameters
    ----------
    signal, travel : array_like
        Samples in order of time [-], one axis; slow, and turning between the stops of the valve.
    threshold : float
        Travel back that counts as a response [-]; several times the noise.

    Returns
    -------
    numpy.ndarray
        Mean over all reversals [-]; the travel of the threshold is in it.

    Raises
    ------
    ValueError
        If the trace has no reversal, or none is answered.

    Notes
    -----
    Equation: |signal at the first response - signal at the reversal|.
    Source: dead band as in ISA-75.25.01 and IEC 61298-2, second-hand.

    Examples
    --------
    >>> round(float(dead_band([0, 0.2, 0.4, 0.6, 0.5, 0.4, 0.3], [0, 0.1, 0.3, 0.5, 0.5, 0.5, 0.4])), 3)
    0.202
    """
    x, y = _trace(signal, travel)
    visible = float(positive("threshold", threshold, "-"))
    found = []
    for (start, first), (_, last) in pairwise(_runs(x)):
        if abs(y[first] - y[start]) <= visible:
            continue  # It did not move before either: nothing to measure from.
        run = np.sign(y[first] - y[start]) * y[first : last + 1]
        back = np.maximum.accumulate(run) - run
        answered = np.flatnonzero(back > visible)
        if answered.size:
            k = answered[0]
            sent = np.interp(visible, back[k - 1 : k + 1], x[first + k - 1 : first + k + 1])
            found.append(abs(sent - x[first]))
    if not found:
        raise ValueError("the trace must hold a reversal that the travel answers; record a longer one.")
    return np.asarray(np.mean(found), dtype=np.float64)


def loop_width(signal: ArrayLike, travel: ArrayLike) -> Floats:
    """Distance between the rising and the falling branch of a loop, along the signal, at the same travel.

    Parameters
    ----------
    signal, travel : array_like
        Samples in order of time, one axis [any unit; -]: a full stroke up and down, also pressure for signal.

    Returns
    -------
    numpy.ndarray
        Mean width over the middle four fifths of the travel [unit of the signal].

    Raises
    ------
    ValueError
        If the trace has no run up or no run down.

    Notes
    -----
    Equation: x_rising - x_falling, from a straight line through each branch, at mid travel.
    Source: worked by hand, geometry of the loop. Equal to the dead band where friction or backlash alone makes it.

    Examples
    --------
    >>> round(float(loop_width([0, 0.2, 0.4, 1, 0.8, 0.6, 0.2], [0, 0.1, 0.3, 1, 0.8, 0.6, 0.2])), 3)
    0.1
    """
    x, y = _trace(signal, travel)
    rising, falling, middle = _branches(x, y)
    return np.asarray(np.polyval(rising, middle) - np.polyval(falling, middle), dtype=np.float64)


def friction_and_spring(
    pressure_gauge: ArrayLike, travel: ArrayLike, area: ArrayLike, rated_travel: ArrayLike
) -> Signature:
    """Friction, spring rate and bench set from actuator pressure against travel.

    Parameters
    ----------
    pressure_gauge, travel : array_like
        Samples of a full stroke up and down [Pa gauge, -], one axis.
    area : array_like
        Effective area [m²].
    rated_travel : array_like
        Rated travel [m].

    Returns
    -------
    Signature
        Friction [N], spring rate [N/m], pressures at the ends of the stroke without friction [Pa gauge].

    Raises
    ------
    ValueError
        If the trace has no run up or no run down, or a size is not above zero.

    Notes
    -----
    Equation: F = A (p_rising - p_falling) / 2, k = A (dp/dh) / X.
    Source: worked by hand, statics: straight lines through the middle four fifths of each branch.

    Examples
    --------
    >>> pressure, travel = [2e4, 4e4, 10e4, 12e4, 9e4, 3e4, 1e4], [0, 0.2, 0.8, 1, 0.8, 0.2, 0]
    >>> s = friction_and_spring(pressure, travel, 0.05, 0.05)
    >>> round(float(s.friction)), round(float(s.spring_rate))
    (250, 100000)
    """
    p, h = _trace(pressure_gauge, travel)
    surface = positive("effective area", area, "m²")
    rising, falling, middle = _branches(p, h)
    line = (rising + falling) / 2
    gap = abs(float(np.polyval(rising, middle) - np.polyval(falling, middle)))
    ends = np.sort(np.polyval(line, [0.0, 1.0]))
    rate = surface * abs(line[0]) / positive("rated travel", rated_travel, "m")
    return Signature(surface * gap / 2, rate, ends[0], ends[1])


def _branches(x: Floats, y: Floats) -> tuple[Floats, Floats, float]:
    """Straight lines x(y) through the rising and the falling branch, and the travel half way."""
    low, high = float(y.min()), float(y.max())
    margin = 0.1 * (high - low)
    lines = []
    for rising in (True, False):
        points = [np.empty((2, 0))]
        for first, last in _runs(x):
            sent, read = x[first : last + 1], y[first : last + 1]
            # The stem rests at the start of a run: only what it does once it moves lies on the branch.
            moving = np.maximum.accumulate(np.abs(read - read[0]) > margin / 4)
            inside = moving & (read >= low + margin) & (read <= high - margin)
            if rising == (x[last] > x[first]):
                points.append(np.stack([read[inside], sent[inside]]))
        lines.append(_line(np.concatenate(points, axis=1), "up" if rising else "down"))
    return lines[0], lines[1], (low + high) / 2


def _line(points: Floats, word: str) -> Floats:
    if np.unique(points[0]).size < 2:
        raise ValueError(f"the trace must hold a run {word} that moves the valve; record a full stroke.")
    return np.asarray(np.polyfit(points[0], points[1], 1), dtype=np.float64)


def _runs(x: Floats) -> list[tuple[int, int]]:
    """First and last sample of each run; a turn counts once it has gone back a twentieth of the span."""
    reach = 0.05 * float(np.ptp(x))
    values, ends, far, way = x.tolist(), [0], 0, 0.0
    for k, value in enumerate(values):
        ahead = (value - values[far]) * (way or np.sign(value - values[far]))
        if (way and ahead >= 0) or (not way and ahead > reach):
            way, far = way or float(np.sign(value - values[far])), k
        elif way and -ahead > reach:
            ends.append(far)
            way, far = -way, k
    ends.append(x.size - 1)
    return list(pairwise(ends))


def _mean(values: list[Floats], word: str) -> Floats:
    if not values or np.any(np.all(np.isnan(values), axis=0)):
        raise ValueError(f"the trace must hold a run {word} over all the points; record a full stroke.")
    return np.asarray(np.nanmean(values, axis=0), dtype=np.float64)


def _trace(signal: ArrayLike, travel: ArrayLike) -> tuple[Floats, Floats]:
    x, y = numbers("signal", signal), numbers("travel", travel)
    if x.ndim != 1 or x.shape != y.shape or x.size < 3:
        raise ValueError("signal and travel must be one axis of three or more samples, as many of each.")
    return x, y
