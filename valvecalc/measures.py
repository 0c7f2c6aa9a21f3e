"""What readings and recordings say: a table up and down, dead band, friction and spring from a trace, a step response.

Travel and signal are fractions of their spans. For a valve that closes on a rising signal give 1 - travel.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, one_of, positive


class _Line(NamedTuple):
    """A straight line by the readings: largest `deviation` either way, its `zero` and its `slope` [-]."""

    deviation: Floats
    zero: Floats
    slope: Floats


class Signature(NamedTuple):
    """Read off pressure against travel: friction [N], spring rate [N/m], bench set under load [Pa gauge]."""

    friction: Floats
    spring_rate: Floats
    bench_low_gauge: Floats
    bench_high_gauge: Floats


class StepResponse(NamedTuple):
    """Answer to one step: times from the step [s], overshoot over the change [-], change over step [-]."""

    dead_time: float
    t63: float
    t86: float
    overshoot: float
    gain: float


def inaccuracy(signal: ArrayLike, up: ArrayLike, down: ArrayLike) -> tuple[Floats, Floats]:
    """Largest errors of any single reading.

    Parameters
    ----------
    signal, up, down : array_like
        Signal and travel read on the way up and on the way down [-], points on the last axis.

    Returns
    -------
    tuple of numpy.ndarray
        Largest positive and largest negative error [-].

    Raises
    ------
    ValueError
        If a reading is not finite.

    Notes
    -----
    Equation: max and min of travel - signal over all readings.
    Source: inaccuracy as in IEC 61298-2, second-hand, in own words.

    Examples
    --------
    >>> [round(float(e), 3) for e in inaccuracy([0, 0.5, 1], [0, 0.491, 0.996], [0.008, 0.513, 1])]
    [0.013, -0.009]
    """
    ideal = numbers("signal", signal)
    errors = np.concatenate([numbers("up", up) - ideal, numbers("down", down) - ideal], axis=-1)
    return errors.max(axis=-1), errors.min(axis=-1)


def measured_error(signal: ArrayLike, up: ArrayLike, down: ArrayLike) -> Floats:
    """Largest error of the averages of up and down.

    Parameters
    ----------
    signal, up, down : array_like
        Signal and travel read on the way up and on the way down [-], points on the last axis.

    Returns
    -------
    numpy.ndarray
        The error of largest size, with its sign [-].

    Raises
    ------
    ValueError
        If a reading is not finite.

    Notes
    -----
    Equation: (up + down) / 2 - signal, the one of largest size.
    Source: measured error as in IEC 61298-2, from memory.

    Examples
    --------
    >>> round(float(measured_error([0, 0.5, 1], [0, 0.491, 0.996], [0.008, 0.513, 1])), 3)
    0.004
    """
    errors = (numbers("up", up) + numbers("down", down)) / 2 - numbers("signal", signal)
    largest = np.abs(errors).argmax(axis=-1, keepdims=True)
    error: Floats = np.take_along_axis(errors, largest, axis=-1)[..., 0]
    return error


def hysteresis(up: ArrayLike, down: ArrayLike, dead_band: ArrayLike = 0.0) -> Floats:
    """Largest gap between the readings up and down at one signal.

    Parameters
    ----------
    up, down : array_like
        Travel read on the way up and on the way down [-], points on the last axis.
    dead_band : array_like
        Dead band to take off [-]: strictly hysteresis is what is left without it.

    Returns
    -------
    numpy.ndarray
        Gap [-].

    Raises
    ------
    ValueError
        If a reading is not finite.

    Notes
    -----
    Equation: max |down - up| - dead band, not below 0.
    Source: hysteresis as in IEC 61298-2 and ISA-51.1, from memory.

    Examples
    --------
    >>> round(float(hysteresis([0.242, 0.491, 0.743], [0.26, 0.513, 0.759])), 3)
    0.022
    """
    gap = np.abs(numbers("down", down) - numbers("up", up)).max(axis=-1)
    left: Floats = np.maximum(gap - numbers("dead band", dead_band), 0.0)
    return left


def zero_and_span_error(signal: ArrayLike, average: ArrayLike) -> tuple[Floats, Floats]:
    """Zero error and span error of a calibration.

    Parameters
    ----------
    signal, average : array_like
        Signal, rising, and average travel [-], points on the last axis.

    Returns
    -------
    tuple of numpy.ndarray
        Travel too much at the first point, and travel span too long, as part of the signal span [-].

    Raises
    ------
    ValueError
        If a reading is not finite, or there are fewer than two points or they do not rise.

    Notes
    -----
    Equation: zero = y1 - x1, span = (yn - y1) / (xn - x1) - 1.
    Source: usual meaning in calibration, common practice, no source.

    Examples
    --------
    >>> [round(float(e), 3) for e in zero_and_span_error([0, 0.5, 1], [0.02, 0.535, 1.05])]
    [0.02, 0.03]
    """
    x, y = _table(signal, average)
    return y[..., 0] - x[..., 0], (y[..., -1] - y[..., 0]) / (x[..., -1] - x[..., 0]) - 1


def linearity(signal: ArrayLike, average: ArrayLike, method: str = "independent") -> _Line:
    """How far the readings lie from a straight line, by one of three ways to draw it.

    Parameters
    ----------
    signal, average : array_like
        Signal, rising, and average travel [-], points on the last axis.
    method : str
        "terminal": through the two end points; "zero": from the first point, and "independent": anywhere,
        each so that the largest deviation is as small as it can be [no unit].

    Returns
    -------
    Line
        Largest deviation either way, zero and slope of the line [-].

    Raises
    ------
    ValueError
        If a reading is not finite, there are not two rising points, or the method is none of the three words.

    Notes
    -----
    Equation: smallest over the lines allowed of max |y - (zero + slope x)|, found by slopes tried ever closer.
    Source: terminal-based, zero-based and independent linearity as in IEC 61298-2, from memory.

    Examples
    --------
    >>> round(float(linearity([0, 0.5, 1], [0, 0.53, 1], "terminal").deviation), 3)
    0.03
    >>> round(float(linearity([0, 0.5, 1], [0, 0.53, 1], "independent").deviation), 3)
    0.015
    """
    x, y = _table(signal, average)
    if one_of("method", method, ("terminal", "zero", "independent")) == "independent":
        fit, chords = _free, np.diff(y, axis=-1) / np.diff(x, axis=-1)
    else:
        fit, chords = _anchored, (y[..., 1:] - y[..., :1]) / (x[..., 1:] - x[..., :1])
    if method == "terminal":
        return fit(x, y, chords[..., -1])
    slope = _smallest(lambda s: fit(x, y, s).deviation, chords.min(axis=-1), chords.max(axis=-1))
    return fit(x, y, slope)


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


def step_response(time: ArrayLike, signal: ArrayLike, travel: ArrayLike, threshold: float = 0.01) -> StepResponse:
    """Measure how a valve answers one step of its signal.

    Parameters
    ----------
    time, signal, travel : array_like
        Samples [s, -, -], one axis, with one step of the signal and the valve at rest before and at the end.
    threshold : float
        Part of the final change that counts as the first response [-]; several times the noise.

    Returns
    -------
    StepResponse
        Dead time, T63 and T86 [s], overshoot and gain [-]; dead time is part of T63 and T86.

    Raises
    ------
    ValueError
        If the signal has no step, or the travel does not answer it.

    Notes
    -----
    Equation: first times at which the change reaches the threshold, 63.2 % and 86.5 % of its final value.
    Source: Td as in IEC 60534-9 and ISA-75.25.01, second-hand; T63, T86 and overshoot from memory.

    Examples
    --------
    >>> r = step_response([0, 1, 2, 3, 4, 5], [0, 1, 1, 1, 1, 1], [0, 0, 0.5, 1, 1, 1])
    >>> round(r.t63 - r.dead_time, 3), r.overshoot
    (1.244, 0.0)
    """
    t, x, y = np.broadcast_arrays(numbers("time", time), numbers("signal", signal), numbers("travel", travel))
    visible = float(in_range("threshold", threshold, 0, 0.6, "-", above=True))
    stepped = np.flatnonzero(x != x.flat[0])
    if t.ndim != 1 or stepped.size == 0:
        raise ValueError("the signal must hold one step, samples along one axis; record some time before it.")
    start = stepped[0]
    before = float(np.mean(y[:start]))
    change = float(np.mean(y[-max((t.size - start) // 10, 1) :])) - before
    # A change smaller than the scatter at rest, or none at all, is no answer.
    if abs(change) <= 3 * float(np.std(y[:start])) or change == 0:
        raise ValueError("the travel does not answer the step; make the step larger than the dead band.")
    share = (y - before) / change
    dead, t63, t86 = (_reached(t, share, start, level) for level in (visible, 0.632, 0.865))
    return StepResponse(dead, t63, t86, max(float(share.max()) - 1, 0.0), change / float(x[-1] - x[0]))


def _smallest(cost: Callable[[Floats], Floats], low: Floats, high: Floats) -> Floats:
    """Place between two where a convex function is smallest, for every element."""
    for _ in range(13):  # each pass leaves a sixteenth of the range: as close as floats go
        grid = np.linspace(low, high, 33)
        best = cost(grid).argmin(axis=0)[None, ...]
        low, high = (np.take_along_axis(grid, np.clip(best + step, 0, 32), axis=0)[0] for step in (-1, 1))
    return (low + high) / 2


def _free(x: Floats, y: Floats, slope: Floats) -> _Line:
    rest = y - slope[..., None] * x
    top, bottom = rest.max(axis=-1), rest.min(axis=-1)
    return _Line((top - bottom) / 2, (top + bottom) / 2, slope)


def _anchored(x: Floats, y: Floats, slope: Floats) -> _Line:
    zero = y[..., 0] - slope * x[..., 0]
    return _Line(np.abs(y - slope[..., None] * x - zero[..., None]).max(axis=-1), zero, slope)


def _table(signal: ArrayLike, average: ArrayLike) -> tuple[Floats, Floats]:
    x, y = np.broadcast_arrays(numbers("signal", signal), numbers("average travel", average))
    if x.ndim == 0 or x.shape[-1] < 2 or np.any(np.diff(x, axis=-1) <= 0):
        raise ValueError("signal must be two or more rising points; sort the readings, one for each point.")
    return x, y


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


def _trace(signal: ArrayLike, travel: ArrayLike) -> tuple[Floats, Floats]:
    x, y = numbers("signal", signal), numbers("travel", travel)
    if x.ndim != 1 or x.shape != y.shape or x.size < 3:
        raise ValueError("signal and travel must be one axis of three or more samples, as many of each.")
    return x, y


def _reached(t: Floats, share: Floats, start: int, level: float) -> float:
    k = start + int(np.argmax(share[start:] >= level))
    if k == start:
        return 0.0
    return float(np.interp(level, share[k - 1 : k + 1], t[k - 1 : k + 1]) - t[start])
