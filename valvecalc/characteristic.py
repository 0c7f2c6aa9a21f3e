"""Inherent characteristics: relative flow coefficient Φ at a travel, with a constant pressure drop.

The way back is in characteristic_inverse.py, the slope in characteristic_slope.py, measured curves in
tabulated.py, and how far a made valve may stray in permitted_deviation.py.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range


def linear(travel: ArrayLike, rangeability: ArrayLike | None = None) -> Floats:
    """Relative flow coefficient of a linear characteristic: equal travel adds equal capacity.

    Parameters
    ----------
    travel : array_like
        Relative travel h, 0 to 1 [-].
    rangeability : array_like, optional
        R, above 1; leave out for the simplified Φ = h that closes fully [-].

    Returns
    -------
    numpy.ndarray
        Relative flow coefficient Φ, broadcast shape [-].

    Raises
    ------
    ValueError
        If travel is outside 0 to 1, or rangeability not above 1.

    Notes
    -----
    Equation: Φ = Φ0 + (1 - Φ0) h, with Φ0 = 1/R.
    Source: IEC 60534-2-4, ideal linear characteristic.

    Examples
    --------
    >>> linear([0, 0.5, 1], rangeability=50).round(4).tolist()
    [0.02, 0.51, 1.0]
    """
    h, phi0 = in_range("travel", travel, 0, 1, "-"), phi_closed(rangeability)
    return phi0 + (1 - phi0) * h


def equal_percentage(travel: ArrayLike, rangeability: ArrayLike, toe: ArrayLike = 0.0) -> Floats:
    """Relative flow coefficient of an equal percentage characteristic: equal travel multiplies capacity.

    Parameters
    ----------
    travel : array_like
        Relative travel h, 0 to 1 [-].
    rangeability : array_like
        R, above 1 [-].
    toe : array_like, optional
        Travel below which the curve is a straight line to zero, below 1; 0 for the ideal curve, which
        does not close [-].

    Returns
    -------
    numpy.ndarray
        Relative flow coefficient Φ, broadcast shape [-].

    Raises
    ------
    ValueError
        If travel is outside 0 to 1, rangeability not above 1, or toe not from 0 to below 1.

    Notes
    -----
    Equation: Φ = R^(h - 1); with a toe δ, Φ = (h/δ) R^(δ - 1) for h ≤ δ.
    Source: IEC 60534-2-4, ideal equal percentage; toe as in the Modelica Standard Library,
    `ValveCharacteristics.equalPercentage`.

    Examples
    --------
    >>> equal_percentage([0, 0.5, 1], 50).round(6).tolist()
    [0.02, 0.141421, 1.0]
    >>> equal_percentage([0, 0.01], 20, toe=0.01).round(6).tolist()
    [0.0, 0.051521]
    """
    h, ln_r = in_range("travel", travel, 0, 1, "-"), -np.log(phi_closed(rangeability))
    delta = in_range("toe", toe, 0, 1, "-", below=True)
    curve: Floats = np.exp(ln_r * (np.maximum(h, delta) - 1))
    if not delta.any():
        return curve
    in_toe = np.minimum(h, delta) / np.where(delta > 0, delta, 1)
    return np.where(delta > 0, in_toe, 1) * curve


def quick_opening(travel: ArrayLike, root: ArrayLike = 2.0) -> Floats:
    """Relative flow coefficient of a quick opening stand-in: most of the capacity early in the travel.

    Parameters
    ----------
    travel : array_like
        Relative travel h, 0 to 1 [-].
    root : array_like, optional
        Which root of the travel, 1 (linear) to 10 [-].

    Returns
    -------
    numpy.ndarray
        Relative flow coefficient Φ, broadcast shape [-].

    Raises
    ------
    ValueError
        If travel is outside 0 to 1, or root outside 1 to 10.

    Notes
    -----
    The standards describe quick opening in words and give no equation; a measured curve goes first.
    Equation: Φ = h^(1/root).
    Source: common textbook stand-in, from memory, no standard.

    Examples
    --------
    >>> quick_opening([0, 0.25, 1]).tolist()
    [0.0, 0.5, 1.0]
    """
    return in_range("travel", travel, 0, 1, "-") ** (1 / in_range("root", root, 1, 10, "-"))


def parabolic(travel: ArrayLike) -> Floats:
    """Relative flow coefficient of a parabolic characteristic, between linear and equal percentage.

    Parameters
    ----------
    travel : array_like
        Relative travel h, 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        Relative flow coefficient Φ, same shape [-].

    Raises
    ------
    ValueError
        If travel is outside 0 to 1.

    Notes
    -----
    Equation: Φ = h².
    Source: Modelica Standard Library, `ValveCharacteristics.quadratic`.

    Examples
    --------
    >>> parabolic([0, 0.5, 1]).tolist()
    [0.0, 0.25, 1.0]
    """
    return in_range("travel", travel, 0, 1, "-") ** 2


def phi_closed(rangeability: ArrayLike | None) -> Floats:
    """Relative flow coefficient Φ0 where the ideal curve meets travel 0.

    Parameters
    ----------
    rangeability : array_like or None
        R, above 1; None for a curve that closes fully [-].

    Returns
    -------
    numpy.ndarray
        Φ0, same shape [-].

    Raises
    ------
    ValueError
        If rangeability is not above 1.

    Notes
    -----
    Equation: Φ0 = 1/R.
    Source: IEC 60534-2-4.

    Examples
    --------
    >>> phi_closed([20, 50]).tolist(), float(phi_closed(None))
    ([0.05, 0.02], 0.0)
    """
    if rangeability is None:
        return np.zeros(())
    return 1 / in_range("rangeability", rangeability, 1, np.inf, "-", above=True)
