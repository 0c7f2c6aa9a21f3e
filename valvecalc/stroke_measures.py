"""Figures from a table of up and down readings: inaccuracy, hysteresis, linearity, zero and span error.

Travel and signal are fractions of their spans. For a valve that closes on a rising signal give 1 - travel.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, numbers, one_of


@dataclass(frozen=True)
class Line:
    """A straight line by the readings: largest `deviation` either way, its `zero` and its `slope` [-]."""

    deviation: Floats
    zero: Floats
    slope: Floats


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


def linearity(signal: ArrayLike, average: ArrayLike, method: str = "independent") -> Line:
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
        If a reading is not finite, there are not two rising points, or the method is another word.

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


def _smallest(cost: Callable[[Floats], Floats], low: Floats, high: Floats) -> Floats:
    """Place between two where a convex function is smallest, for every element."""
    for _ in range(13):  # each look leaves a sixteenth of the way: as close as floats go
        grid = np.linspace(low, high, 33)
        best = cost(grid).argmin(axis=0)[None, ...]
        low, high = (np.take_along_axis(grid, np.clip(best + step, 0, 32), axis=0)[0] for step in (-1, 1))
    return (low + high) / 2


def _free(x: Floats, y: Floats, slope: Floats) -> Line:
    rest = y - slope[..., None] * x
    top, bottom = rest.max(axis=-1), rest.min(axis=-1)
    return Line((top - bottom) / 2, (top + bottom) / 2, slope)


def _anchored(x: Floats, y: Floats, slope: Floats) -> Line:
    zero = y[..., 0] - slope * x[..., 0]
    return Line(np.abs(y - slope[..., None] * x - zero[..., None]).max(axis=-1), zero, slope)


def _table(signal: ArrayLike, average: ArrayLike) -> tuple[Floats, Floats]:
    x, y = np.broadcast_arrays(numbers("signal", signal), numbers("average travel", average))
    if x.ndim == 0 or x.shape[-1] < 2 or np.any(np.diff(x, axis=-1) <= 0):
        raise ValueError("signal must be two or more rising points; sort the readings, one for each point.")
    return x, y
