"""Judge a loop: limit cycle measured from a trace, stability margin across the range."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, in_range, numbers, positive


@dataclass(frozen=True)
class Cycle:
    """Whether a trace keeps cycling, its period [s] and its amplitude, half of peak to peak; 0 if not."""

    cycling: bool
    period: float
    amplitude: float


def limit_cycle(time: ArrayLike, trace: ArrayLike, threshold: float = 0.002) -> Cycle:
    """Find a lasting cycle in the second half of a trace.

    Parameters
    ----------
    time : array_like
        Sampling times [s], one axis.
    trace : array_like
        Flow, output or travel, as many samples [-].
    threshold : float
        Amplitude below which nothing counts as a cycle [-]; several times the noise.

    Returns
    -------
    Cycle
        Period [s] and amplitude [-]; a cycle that dies away by half or more does not count.

    Raises
    ------
    ValueError
        If times do not rise, or the two are not as many samples along one axis.

    Notes
    -----
    Equation: period = mean time between upward crossings of the mean, amplitude = half the mean peak to peak.
    Source: worked by hand, definitions of period and amplitude.

    Examples
    --------
    >>> t = np.arange(0, 100, 0.1)
    >>> c = limit_cycle(t, 0.5 + 0.02 * np.sin(2 * np.pi * t / 8))
    >>> c.cycling, round(c.period, 2), round(c.amplitude, 3)
    (True, 8.0, 0.02)
    """
    clock, values = numbers("time", time), numbers("trace", trace)
    if clock.ndim != 1 or clock.shape != values.shape or clock.size < 4 or np.any(np.diff(clock) <= 0):
        raise ValueError("time and trace must be one axis of four or more samples, times rising.")
    limit = float(positive("threshold", threshold, "-"))
    half = clock.size // 2
    t, x = clock[half:], values[half:] - (values[half:].max() + values[half:].min()) / 2
    ups = _upward_crossings(x)
    if ups.size < 3:
        return Cycle(False, 0.0, 0.0)
    starts = ups[:-1]
    peaks = (np.maximum.reduceat(x[: ups[-1]], starts) - np.minimum.reduceat(x[: ups[-1]], starts)) / 2
    amplitude = float(peaks.mean())
    if amplitude < limit or peaks[-1] < 0.5 * peaks[0]:
        return Cycle(False, 0.0, 0.0)
    crossing = t[ups - 1] - x[ups - 1] * (t[ups] - t[ups - 1]) / (x[ups] - x[ups - 1])
    period = float(np.diff(crossing).mean())
    lasts = t[-1] - crossing[-1] < 1.5 * period
    return Cycle(True, period, amplitude) if lasts else Cycle(False, 0.0, 0.0)


def gain_margin(
    process_gain: ArrayLike,
    proportional_gain: ArrayLike,
    reset_time: ArrayLike,
    lag: ArrayLike,
    dead_time: ArrayLike,
    fill_time: ArrayLike,
) -> Floats:
    """Factor by which a PI flow loop's gain may grow before it hunts without any friction.

    Parameters
    ----------
    process_gain : array_like
        Change of flow over change of travel, both as fractions: the installed gain [-].
    proportional_gain, reset_time : array_like
        Controller: gain [-] and integral time [s].
    lag, dead_time : array_like
        Time constant and dead time of the flow [s].
    fill_time : array_like
        Time constant of the actuator [s]; with a positioner, over its gain.

    Returns
    -------
    numpy.ndarray
        Gain margin [-]; 1 is the limit, 2 and more is usual (common practice, no source).

    Raises
    ------
    ValueError
        If a gain or time is not above zero; the filling time may be 0.

    Notes
    -----
    Equation: 1 / |L(jω)| where arg L = -π, L = K Kc (1 + 1/(Ti s)) e^(-θ s) / ((T s + 1)(Tv s + 1)).
    Source: Nyquist criterion, from memory.

    Examples
    --------
    >>> round(float(gain_margin(1.0, 0.4, 2.0, 1.0, 0.5, 0.5)), 2)
    7.7
    """
    total = positive("installed gain", process_gain, "-")
    total = total * positive("controller gain", proportional_gain, "-")
    reset, slow = positive("reset time", reset_time, "s"), positive("lag", lag, "s")
    delay, fill = positive("dead time", dead_time, "s"), in_range("filling time", fill_time, 0, np.inf, "s")
    total, reset, slow, delay, fill = np.broadcast_arrays(total, reset, slow, delay, fill)

    def beyond(w: Floats) -> Floats:
        return np.pi / 2 + np.arctan(w * reset) - np.arctan(w * slow) - np.arctan(w * fill) - w * delay

    w = _first_root(beyond, np.pi / 2 / (slow + delay + fill), np.pi / delay)
    size = total * np.hypot(1, 1 / (w * reset)) / (np.hypot(1, w * slow) * np.hypot(1, w * fill))
    return np.asarray(1 / size, dtype=np.float64)


def _first_root(fall: Callable[[Floats], Floats], low: Floats, high: Floats) -> Floats:
    """First place between two where a function goes from above to below zero, for every element."""
    low, high = np.log(low), np.log(high)
    for _ in range(7):  # each look leaves a 199th of the way: as close as floats go
        grid = np.linspace(low, high, 200)
        below = fall(np.exp(grid)) < 0
        below[-1] = True
        first = np.maximum(below.argmax(axis=0), 1)[None, ...]
        low, high = (np.take_along_axis(grid, first - back, axis=0)[0] for back in (1, 0))
    root: Floats = np.exp((low + high) / 2)
    return root


def _upward_crossings(x: Floats) -> NDArray[np.intp]:
    """Find where a trace comes up through zero from a quarter of its size below: noise does not count."""
    band = 0.25 * float(np.abs(x).max())
    place = np.where(x > band, 1, np.where(x < -band, -1, 0))
    last = np.maximum.accumulate(np.where(place != 0, np.arange(x.size), 0))
    rises = np.flatnonzero(np.diff(place[last]) > 0) + 1
    rises = rises[place[last][rises - 1] < 0]
    # Back from the band to zero, where the crossing is.
    return np.array([int(np.flatnonzero(x[:k] < 0)[-1]) + 1 for k in rises], dtype=np.intp)
