"""The way back: the travel at which an inherent characteristic gives a wanted Φ."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.characteristic import phi_closed
from valvecalc.checks import Floats, in_range


def linear_travel(phi: ArrayLike, rangeability: ArrayLike | None = None) -> Floats:
    """Travel at which a linear characteristic gives a wanted relative flow coefficient.

    Parameters
    ----------
    phi : array_like
        Relative flow coefficient Φ, Φ0 = 1/R to 1 [-].
    rangeability : array_like, optional
        R, above 1; leave out for the simplified Φ = h [-].

    Returns
    -------
    numpy.ndarray
        Relative travel h, broadcast shape [-].

    Raises
    ------
    ValueError
        If phi is below what the curve gives closed, or above 1, or rangeability is not above 1.

    Notes
    -----
    Equation: h = (Φ - Φ0) / (1 - Φ0).
    Source: IEC 60534-2-4, ideal linear characteristic, solved for h.

    Examples
    --------
    >>> round(float(linear_travel(0.51, 50)), 6)
    0.5
    """
    phi0 = phi_closed(rangeability)
    return np.clip((_reachable(phi, phi0) - phi0) / (1 - phi0), 0.0, 1.0)


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


def quick_opening_travel(phi: ArrayLike, root: ArrayLike = 2.0) -> Floats:
    """Travel at which the quick opening stand-in gives a wanted relative flow coefficient.

    Parameters
    ----------
    phi : array_like
        Relative flow coefficient Φ, 0 to 1 [-].
    root : array_like, optional
        Which root of the travel, 1 (linear) to 10 [-].

    Returns
    -------
    numpy.ndarray
        Relative travel h, broadcast shape [-].

    Raises
    ------
    ValueError
        If phi is outside 0 to 1, or root outside 1 to 10.

    Notes
    -----
    Equation: h = Φ^root.
    Source: common textbook stand-in solved for h, from memory, no standard.

    Examples
    --------
    >>> quick_opening_travel([0, 0.5, 1]).tolist()
    [0.0, 0.25, 1.0]
    """
    return in_range("phi", phi, 0, 1, "-") ** in_range("root", root, 1, 10, "-")


def parabolic_travel(phi: ArrayLike) -> Floats:
    """Travel at which a parabolic characteristic gives a wanted relative flow coefficient.

    Parameters
    ----------
    phi : array_like
        Relative flow coefficient Φ, 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        Relative travel h, same shape [-].

    Raises
    ------
    ValueError
        If phi is outside 0 to 1.

    Notes
    -----
    Equation: h = √Φ.
    Source: Modelica Standard Library, `ValveCharacteristics.quadratic`, solved for h.

    Examples
    --------
    >>> parabolic_travel([0, 0.25, 1]).tolist()
    [0.0, 0.5, 1.0]
    """
    return np.sqrt(in_range("phi", phi, 0, 1, "-"))


def _reachable(phi: ArrayLike, lowest: Floats) -> Floats:
    """Φ as floats, refused above 1 and below what its own curve gives when closed."""
    wanted, least = np.broadcast_arrays(in_range("phi", phi, 0, 1, "-"), lowest)
    # One rounding step of slack: Φ0 computed by the curve itself must come back as travel 0.
    bad = wanted < least * (1 - 1e-12)
    if bad.any():
        in_range("phi", wanted[bad].flat[0], float(least[bad].flat[0]), 1, "-")
    return wanted
