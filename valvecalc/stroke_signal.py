"""Signals to test a valve with: a ramp up and down, a staircase."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive


def ramp_signal(
    duration: float, interval: float, low: float = 0.0, high: float = 1.0
) -> tuple[Floats, Floats]:
    """Signal of a stroke test: up at a steady rate and down again.

    Parameters
    ----------
    duration : float
        Time for up and down together [s].
    interval : float
        Time between samples [s].
    low, high : float
        Ends of the signal [-]; a little outside 0 and 1 presses the plug on its stops.

    Returns
    -------
    tuple of numpy.ndarray
        Time [s] and signal [-].

    Raises
    ------
    ValueError
        If duration or interval is not above zero, or high is not above low.

    Notes
    -----
    Equation: triangle.
    Source: none needed.

    Examples
    --------
    >>> ramp_signal(4, 1)[1].tolist()
    [0.0, 0.5, 1.0, 0.5, 0.0]
    """
    total = float(positive("duration", duration, "s"))
    step = float(positive("sampling interval", interval, "s"))
    top = float(in_range("high end of the signal", high, low, np.inf, "-", above=True))
    time: Floats = np.arange(round(total / step) + 1, dtype=np.float64) * step
    share: Floats = 1 - np.abs(2 * time / total - 1)
    return time, low + (top - low) * share.clip(0.0, 1.0)


def step_signal(levels: ArrayLike, dwell: float, interval: float) -> tuple[Floats, Floats]:
    """Signal of a step test: each level held for a while.

    Parameters
    ----------
    levels : array_like
        Levels in order [-], one axis.
    dwell : float
        Time at each level [s].
    interval : float
        Time between samples [s].

    Returns
    -------
    tuple of numpy.ndarray
        Time [s] and signal [-].

    Raises
    ------
    ValueError
        If a level is not finite, or dwell or interval is not above zero.

    Notes
    -----
    Equation: staircase.
    Source: none needed.

    Examples
    --------
    >>> step_signal([0.5, 0.6], 2, 1)[1].tolist()
    [0.5, 0.5, 0.6, 0.6]
    """
    step = float(positive("sampling interval", interval, "s"))
    each = max(round(float(positive("dwell", dwell, "s")) / step), 1)
    signal = np.repeat(np.atleast_1d(numbers("levels", levels)), each)
    return np.arange(signal.size, dtype=np.float64) * step, signal
