"""What a digital positioner reports, and the voltage that its loop leaves for it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive

HIGHEST_CURRENT = 0.024  # A


def reported_travel(travel: ArrayLike, found_closed: ArrayLike, found_open: ArrayLike) -> Floats:
    """Travel a positioner reports after it has found the two ends by itself and called them 0 and 100 %.

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
    """Real travel of a valve behind the travel its positioner reports, after it has found the two ends by itself.

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


def terminal_voltage(supply_voltage: ArrayLike, current: ArrayLike, resistance: ArrayLike) -> Floats:
    """Voltage left at the terminals of a device in a current loop.

    Parameters
    ----------
    supply_voltage : array_like
        Voltage of the output that feeds the loop, 0 or more [V].
    current : array_like
        Current in the loop, 0 to 0.024 [A].
    resistance : array_like
        Everything in the loop but the device: cable there and back, barrier, resistor, 0 or more [ohm].

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
