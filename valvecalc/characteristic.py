"""Inherent characteristics at a constant pressure drop: Φ at a travel, the travel that gives a Φ, and the slope.

Only equal percentage needs a logarithm to find the travel; the others are solved by hand.
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
    """Relative flow coefficient of a stand-in for quick opening: most of the capacity comes early in the travel.

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


def equal_percentage_travel(phi: ArrayLike, rangeability: ArrayLike, toe: ArrayLike = 0.0) -> Floats:
    """Travel at which an equal percentage characteristic gives a wanted relative flow coefficient.

    Parameters
    ----------
    phi : array_like
        Relative flow coefficient Φ, Φ0 = 1/R (0 with a toe) to 1 [-].
    rangeability : array_like
        R, above 1 [-].
    toe : array_like, optional
        Travel below which the curve is a straight line to zero, from 0 to below 1; 0 for none [-].

    Returns
    -------
    numpy.ndarray
        Relative travel h, broadcast shape [-].

    Raises
    ------
    ValueError
        If phi is below what the curve gives closed, or above 1, or another input is out of range.

    Notes
    -----
    Equation: h = 1 + ln Φ / ln R; below a toe δ, h = δ Φ R^(1 - δ).
    Source: IEC 60534-2-4, ideal equal percentage, solved for h.

    Examples
    --------
    >>> equal_percentage_travel([0.02, 1], 50).round(9).tolist()
    [0.0, 1.0]
    """
    phi0, delta = phi_closed(rangeability), in_range("toe", toe, 0, 1, "-", below=True)
    wanted = _reachable(phi, np.where(delta > 0, 0, phi0))
    phi_toe = phi0 ** (1 - delta)
    # The larger of the two keeps the logarithm away from zero; that branch is then not the one chosen.
    curve = 1 - np.log(np.maximum(wanted, phi_toe)) / np.log(phi0)
    return np.clip(np.where(wanted < phi_toe, delta * wanted / phi_toe, curve), 0.0, 1.0)


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


def _reachable(phi: ArrayLike, lowest: Floats) -> Floats:
    """Return Φ as floats; refuse it above 1 and below what its own curve gives when closed."""
    wanted, least = np.broadcast_arrays(in_range("phi", phi, 0, 1, "-"), lowest)
    # One rounding step of slack: Φ0 computed by the curve itself must come back as travel 0.
    bad = wanted < least * (1 - 1e-12)
    if bad.any():
        in_range("phi", wanted[bad].flat[0], float(least[bad].flat[0]), 1, "-")
    return wanted
