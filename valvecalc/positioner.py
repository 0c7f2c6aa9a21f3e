"""What a digital positioner is told, what it reports and when it warns; the voltage its loop leaves it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive

HIGHEST_CURRENT = 0.024  # A


def reported_travel(travel: ArrayLike, found_closed: ArrayLike, found_open: ArrayLike) -> Floats:
    """Travel a positioner reports after it looked for its own two ends and called them 0 and 100 %.

    Parameters
    ----------
    travel : array_like
        Real travel, from closed 0 to full open 1 [-].
    found_closed, found_open : array_like
        Real travel at which the stem stopped when it was calibrated, closed below open [-].

    Returns
    -------
    numpy.ndarray
        Travel as reported, broadcast shape [-].

    Raises
    ------
    ValueError
        If the ends found do not lie in order.

    Notes
    -----
    Equation: (h − h0)/(h1 − h0).
    Source: worked by hand, a straight line through the ends.

    Examples
    --------
    >>> reported_travel([0.1, 0.55, 1.0], 0.1, 1.0).round(3).tolist()
    [0.0, 0.5, 1.0]
    """
    low = numbers("closed end", found_closed)
    span = positive("distance between the ends", numbers("open end", found_open) - low, "-")
    return (numbers("travel", travel) - low) / span


def real_travel(reported: ArrayLike, found_closed: ArrayLike, found_open: ArrayLike) -> Floats:
    """Real travel of a valve whose positioner reports one, after it looked for its own two ends.

    Parameters
    ----------
    reported : array_like
        Travel as reported [-].
    found_closed, found_open : array_like
        Real travel at which the stem stopped when it was calibrated, closed below open [-].

    Returns
    -------
    numpy.ndarray
        Real travel, broadcast shape [-].

    Raises
    ------
    ValueError
        If the ends found do not lie in order.

    Notes
    -----
    Equation: h0 + s (h1 − h0), the way back from `reported_travel`.
    Source: worked by hand, a straight line through the ends.

    Examples
    --------
    >>> real_travel([0.0, 0.5], 0.1, 1.0).round(3).tolist()
    [0.1, 0.55]
    """
    low = numbers("closed end", found_closed)
    span = positive("distance between the ends", numbers("open end", found_open) - low, "-")
    return low + numbers("travel reported", reported) * span


def alarm_time(time: ArrayLike, signal: ArrayLike, travel: ArrayLike, allowed: float, dwell: float) -> float:
    """Time at which a travel deviation alarm comes, or infinity where it does not.

    Parameters
    ----------
    time : array_like
        Sampling times, rising, one axis [s].
    signal, travel : array_like
        Travel asked for and travel measured at each of them [-].
    allowed : float
        Deviation allowed, above 0, at most 1 [-].
    dwell : float
        How long it may be larger without a break before the alarm comes, 0 or more [s].

    Returns
    -------
    float
        Time of the alarm [s].

    Raises
    ------
    ValueError
        If times do not rise, lengths differ, or a limit is out of its range.

    Notes
    -----
    Equation: the first t with |signal − travel| > allowed at every sample from t − dwell to t.
    Source: common practice, no source.

    Examples
    --------
    >>> alarm_time([0, 1, 2, 3, 4], [0.5] * 5, [0.5, 0.4, 0.4, 0.4, 0.5], 0.05, 2.0)
    3.0
    """
    clock = np.atleast_1d(numbers("time", time))
    asked, moved = (np.atleast_1d(numbers(name, value)) for name, value in (("signal", signal), ("travel", travel)))
    if not clock.shape == asked.shape == moved.shape or clock.ndim != 1 or np.any(np.diff(clock) <= 0):
        raise ValueError("time, signal and travel must be as long as each other, and the times must rise.")
    limit = float(in_range("deviation allowed", allowed, 0, 1, "-", above=True))
    wait = float(in_range("delay", dwell, 0, np.inf, "s"))
    since = np.inf
    for now, off in zip(clock.tolist(), (np.abs(asked - moved) > limit).tolist(), strict=True):
        since = min(since, now) if off else np.inf
        if now - since >= wait - 1e-9:
            return float(now)
    return float(np.inf)


def terminal_voltage(supply_voltage: ArrayLike, current: ArrayLike, resistance: ArrayLike) -> Floats:
    """Voltage left at the terminals of a device in a current loop.

    Parameters
    ----------
    supply_voltage : array_like
        Voltage of the output that feeds the loop, 0 or more [V].
    current : array_like
        Current in the loop, 0 to 0.024 [A].
    resistance : array_like
        All that lies in the loop besides the device: cable there and back, barrier, resistor, 0 or more [ohm].

    Returns
    -------
    numpy.ndarray
        Voltage, below 0 where the supply cannot drive that current at all, broadcast shape [V].

    Raises
    ------
    ValueError
        If an input is outside the limits.

    Notes
    -----
    Equation: U = U0 − I R.
    Source: Ohm's law, worked by hand.

    Examples
    --------
    >>> round(float(terminal_voltage(24, 0.020, 300)), 2)
    18.0
    """
    source = in_range("supply voltage", supply_voltage, 0, np.inf, "V")
    flowing = in_range("current", current, 0, HIGHEST_CURRENT, "A")
    return source - flowing * in_range("resistance", resistance, 0, np.inf, "ohm")
