"""The gain of the valve alone: slope dΦ/dh of an inherent characteristic at a travel."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.characteristic import equal_percentage, phi_closed
from valvecalc.checks import Floats, in_range


def linear_slope(travel: ArrayLike, rangeability: ArrayLike | None = None) -> Floats:
    """Slope of a linear characteristic, the same at each travel.

    Parameters
    ----------
    travel : array_like
        Relative travel h, 0 to 1 [-].
    rangeability : array_like, optional
        R, above 1; leave out for the simplified Φ = h [-].

    Returns
    -------
    numpy.ndarray
        dΦ/dh, broadcast shape [-].

    Raises
    ------
    ValueError
        If travel is outside 0 to 1, or rangeability not above 1.

    Notes
    -----
    Equation: dΦ/dh = 1 - 1/R.
    Source: IEC 60534-2-4, nominal slope of the linear characteristic.

    Examples
    --------
    >>> linear_slope([0, 1], 50).tolist()
    [0.98, 0.98]
    """
    return 1 - phi_closed(rangeability) + 0 * in_range("travel", travel, 0, 1, "-")


def equal_percentage_slope(travel: ArrayLike, rangeability: ArrayLike, toe: ArrayLike = 0.0) -> Floats:
    """Slope of an equal percentage characteristic, in proportion to the coefficient itself.

    Parameters
    ----------
    travel : array_like
        Relative travel h, 0 to 1 [-].
    rangeability : array_like
        R, above 1 [-].
    toe : array_like, optional
        Travel below which the curve is a straight line to zero, from 0 to below 1; 0 for none [-].

    Returns
    -------
    numpy.ndarray
        dΦ/dh, broadcast shape; at the corner of the toe that of the curve above it [-].

    Raises
    ------
    ValueError
        If travel is outside 0 to 1, rangeability not above 1, or toe not from 0 to below 1.

    Notes
    -----
    Equation: dΦ/dh = ln R · Φ; below a toe δ, R^(δ - 1) / δ.
    Source: IEC 60534-2-4, derivative of the ideal equal percentage.

    Examples
    --------
    >>> equal_percentage_slope([0, 1], 50).round(6).tolist()
    [0.07824, 3.912023]
    """
    phi = equal_percentage(travel, rangeability, toe)
    h, delta, phi0 = np.asarray(travel), np.asarray(toe), phi_closed(rangeability)
    in_toe = phi0 ** (1 - delta) / np.where(delta > 0, delta, 1)
    return np.where(h < delta, in_toe, -np.log(phi0) * phi)


def quick_opening_slope(travel: ArrayLike, root: ArrayLike = 2.0) -> Floats:
    """Slope of the quick opening stand-in, without limit as the valve closes.

    Parameters
    ----------
    travel : array_like
        Relative travel h, above 0 (where the slope has no limit) to 1 [-].
    root : array_like, optional
        Which root of the travel, 1 (linear) to 10 [-].

    Returns
    -------
    numpy.ndarray
        dΦ/dh, broadcast shape [-].

    Raises
    ------
    ValueError
        If travel is not above 0 and up to 1, or root outside 1 to 10.

    Notes
    -----
    Equation: dΦ/dh = h^(1/root - 1) / root.
    Source: derivative of a common textbook stand-in, from memory, no standard.

    Examples
    --------
    >>> quick_opening_slope([0.25, 1]).tolist()
    [1.0, 0.5]
    """
    n = in_range("root", root, 1, 10, "-")
    return in_range("travel", travel, 0, 1, "-", above=True) ** (1 / n - 1) / n


def parabolic_slope(travel: ArrayLike) -> Floats:
    """Slope of a parabolic characteristic, in proportion to travel.

    Parameters
    ----------
    travel : array_like
        Relative travel h, 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        dΦ/dh, same shape [-].

    Raises
    ------
    ValueError
        If travel is outside 0 to 1.

    Notes
    -----
    Equation: dΦ/dh = 2 h.
    Source: derivative of the Modelica Standard Library's `ValveCharacteristics.quadratic`.

    Examples
    --------
    >>> parabolic_slope([0, 0.5, 1]).tolist()
    [0.0, 1.0, 2.0]
    """
    return 2 * in_range("travel", travel, 0, 1, "-")
