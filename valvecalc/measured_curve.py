"""A measured characteristic: a smooth curve through a table that never rises where the table does not."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, in_range


def tabulated(travel: ArrayLike, table_travel: ArrayLike, table_phi: ArrayLike) -> Floats:
    """Relative flow coefficient between the points of a measured table.

    Parameters
    ----------
    travel : array_like
        Relative travel h within the table [-].
    table_travel : array_like
        Travel of two or more points, rising, 0 to 1, one dimension [-].
    table_phi : array_like
        Relative flow coefficient at those points, not falling, 0 or more [-].

    Returns
    -------
    numpy.ndarray
        Relative flow coefficient Φ, shape of travel [-].

    Raises
    ------
    ValueError
        If travel lies outside the table, or the table does not rise.

    Notes
    -----
    Equation: in each step a cubic through both points, with slopes that keep it monotone.
    Source: Fritsch and Carlson 1980, slopes by Fritsch and Butland 1984, from memory and held to SciPy by the tests.

    Examples
    --------
    >>> tabulated([0, 0.25, 0.5], [0, 0.5, 1], [0, 0.2, 1]).round(4).tolist()
    [0.0, 0.06, 0.2]
    """
    x, y = _table(table_travel, table_phi)
    return _cubic(in_range("travel", travel, x[0], x[-1], "-"), x, y)


def tabulated_slope(travel: ArrayLike, table_travel: ArrayLike, table_phi: ArrayLike) -> Floats:
    """Slope dΦ/dh of a measured table.

    Parameters
    ----------
    travel : array_like
        Relative travel h within the table [-].
    table_travel : array_like
        Travel of two or more points, rising, 0 to 1, one dimension [-].
    table_phi : array_like
        Relative flow coefficient at those points, not falling, 0 or more [-].

    Returns
    -------
    numpy.ndarray
        dΦ/dh, shape of travel [-].

    Raises
    ------
    ValueError
        If travel lies outside the table, or the table does not rise.

    Notes
    -----
    Equation: derivative of the cubic of `tabulated`.
    Source: as `tabulated`.

    Examples
    --------
    >>> tabulated_slope([0.1, 0.9], [0, 0.5, 1], [0, 0.5, 1]).round(6).tolist()
    [1.0, 1.0]
    """
    x, y = _table(table_travel, table_phi)
    h = in_range("travel", travel, x[0], x[-1], "-")
    i, width, t = _step(h, x)
    slopes = _node_slopes(x, y)
    secant = (y[i + 1] - y[i]) / width
    slope = 6 * t * (1 - t) * secant + (1 - t) * (1 - 3 * t) * slopes[i] + t * (3 * t - 2) * slopes[i + 1]
    return np.asarray(slope)


def tabulated_travel(phi: ArrayLike, table_travel: ArrayLike, table_phi: ArrayLike) -> Floats:
    """Travel at which a measured table gives a wanted relative flow coefficient.

    Parameters
    ----------
    phi : array_like
        Relative flow coefficient Φ within the table [-].
    table_travel : array_like
        Travel of two or more points, rising, 0 to 1, one dimension [-].
    table_phi : array_like
        Relative flow coefficient at those points, not falling, 0 or more [-].

    Returns
    -------
    numpy.ndarray
        Relative travel h, shape of phi; the smallest one where the table is flat [-].

    Raises
    ------
    ValueError
        If phi lies outside the table, or the table does not rise.

    Notes
    -----
    Equation: the cubic of `tabulated`, halved 53 times within its step.
    Source: as `tabulated`; bisection.

    Examples
    --------
    >>> round(float(tabulated_travel(0.06, [0, 0.5, 1], [0, 0.2, 1])), 6)
    0.25
    """
    x, y = _table(table_travel, table_phi)
    wanted = in_range("phi", phi, y[0], y[-1], "-")
    right = np.clip(np.searchsorted(y, wanted), 1, len(x) - 1)
    low, high = x[right - 1], x[right]
    for _ in range(53):
        middle = (low + high) / 2
        short = _cubic(middle, x, y) < wanted
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    # At the first point there is nothing to halve towards: the table itself says where it is.
    return np.where(wanted == y[0], x[0], high)


def _cubic(at: Floats, x: Floats, y: Floats) -> Floats:
    """Cubic Hermite in each step: smooth, and rising wherever the points do."""
    slopes = _node_slopes(x, y)
    i, width, t = _step(at, x)
    straight = y[i] + t * t * (3 - 2 * t) * (y[i + 1] - y[i])
    return np.asarray(straight + width * t * (1 - t) * ((1 - t) * slopes[i] - t * slopes[i + 1]))


def _node_slopes(x: Floats, y: Floats) -> Floats:
    """Slopes at the points that keep a cubic between them from turning.

    Inside, the weighted harmonic mean of the two secants, 0 beside a flat step; at the ends the three-point formula,
    not below 0 (Kahaner, Moler and Nash 1989, from memory).
    """
    width = np.diff(x)
    secant = np.diff(y) / width
    if len(secant) == 1:
        return np.repeat(secant, 2)
    rising = secant[1:] * secant[:-1] > 0
    w1, w2 = 2 * width[1:] + width[:-1], width[1:] + 2 * width[:-1]
    before, after = np.where(rising, secant[:-1], 1), np.where(rising, secant[1:], 1)
    inner = np.where(rising, (w1 + w2) * before * after / (w1 * after + w2 * before), 0)
    first, last = _end_slope(width, secant), _end_slope(width[::-1], secant[::-1])
    return np.concatenate([[first], inner, [last]])


def _end_slope(width: Floats, secant: Floats) -> float:
    slope = float(((2 * width[0] + width[1]) * secant[0] - width[0] * secant[1]) / (width[0] + width[1]))
    return max(slope, 0.0) if secant[0] > 0 else 0.0


def _step(value: Floats, points: Floats) -> tuple[NDArray[np.intp], Floats, Floats]:
    """Which step each value lies in, how wide that is, and how far in it (0 to 1)."""
    i = np.clip(np.searchsorted(points, value, side="right") - 1, 0, len(points) - 2)
    width = points[i + 1] - points[i]
    return i, width, (value - points[i]) / width


def _table(table_travel: ArrayLike, table_phi: ArrayLike) -> tuple[Floats, Floats]:
    x = in_range("table_travel", table_travel, 0, 1, "-")
    y = in_range("table_phi", table_phi, 0, np.inf, "-")
    in_range("the number of table points", min(x.size, y.size), 2, np.inf, "points")
    in_range("table_phi points less table_travel points", y.size - x.size, 0, 0, "points")
    in_range("the step from one table_travel to the next", np.diff(x), 0, 1, "-", above=True)
    in_range("the step from one table_phi to the next", np.diff(y), 0, np.inf, "-")
    return x, y
