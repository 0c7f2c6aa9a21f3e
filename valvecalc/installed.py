"""Installed characteristic at a constant total pressure: the pipe takes its share, the valve has the rest.

Flows are ratios to the flow at full opening. A real line with a pump is in line.py; which characteristic
comes out straightest is in straightest.py, and how far down the flow can be controlled in rangeability.py.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range


def installed_flow(phi: ArrayLike, pressure_drop_ratio: ArrayLike) -> Floats:
    """Flow through a valve in its pipework, as a ratio to the flow at full opening.

    Parameters
    ----------
    phi : array_like
        Relative flow coefficient Φ, 0 to 1 [-].
    pressure_drop_ratio : array_like
        Share a of the valve in the total dynamic drop at full opening, above 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        q / q_max, broadcast shape [-].

    Raises
    ------
    ValueError
        If phi is outside 0 to 1, or the ratio not above 0 and up to 1.

    Notes
    -----
    Holds for constant total pressure, pipe losses with the square of flow, turbulent flow, no choking.
    Equation: q / q_max = 1 / √((1 - a) + a / Φ²) = Φ / √((1 - a) Φ² + a).
    Source: worked by hand from the pressure balance.

    Examples
    --------
    >>> installed_flow([0, 0.5, 1], 0.25).round(6).tolist()
    [0.0, 0.755929, 1.0]
    """
    x, a = in_range("phi", phi, 0, 1, "-"), _share(pressure_drop_ratio)
    flow: Floats = x / np.sqrt((1 - a) * x * x + a)
    return flow


def phi_for_flow(flow_ratio: ArrayLike, pressure_drop_ratio: ArrayLike) -> Floats:
    """Relative flow coefficient the valve must have for a wanted flow.

    Parameters
    ----------
    flow_ratio : array_like
        Flow over flow at full opening, 0 to 1 [-].
    pressure_drop_ratio : array_like
        Share a of the valve in the total dynamic drop at full opening, above 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        Relative flow coefficient Φ, broadcast shape [-].

    Raises
    ------
    ValueError
        If the flow ratio is outside 0 to 1, or the pressure drop ratio not above 0 and up to 1.

    Notes
    -----
    Equation: Φ = q √a / √(1 - (1 - a) q²).
    Source: worked by hand, `installed_flow` solved for Φ.

    Examples
    --------
    >>> round(float(phi_for_flow(0.755929, 0.25)), 6)
    0.5
    """
    q, a = in_range("flow_ratio", flow_ratio, 0, 1, "-"), _share(pressure_drop_ratio)
    phi: Floats = q * np.sqrt(a / (1 - (1 - a) * q * q))
    return phi


def installed_gain(phi: ArrayLike, slope: ArrayLike, pressure_drop_ratio: ArrayLike) -> Floats:
    """Gain of the installed valve: change of flow ratio for a change of travel.

    Parameters
    ----------
    phi : array_like
        Relative flow coefficient Φ, 0 to 1 [-].
    slope : array_like
        Slope dΦ/dh of the inherent characteristic at the same travel, 0 or more [-].
    pressure_drop_ratio : array_like
        Share a of the valve in the total dynamic drop at full opening, above 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        d(q/q_max)/dh, broadcast shape [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: dq/dh = a (dΦ/dh) / ((1 - a) Φ² + a)^1.5.
    Source: worked by hand, derivative of `installed_flow`.

    Examples
    --------
    >>> round(float(installed_gain(0.1, 1, 0.25)), 4)
    1.9133
    """
    x, a = in_range("phi", phi, 0, 1, "-"), _share(pressure_drop_ratio)
    gain: Floats = a * in_range("slope", slope, 0, np.inf, "-") * ((1 - a) * x * x + a) ** -1.5
    return gain


def valve_drop_share(flow_ratio: ArrayLike, pressure_drop_ratio: ArrayLike) -> Floats:
    """Share of the total dynamic pressure drop that is left to the valve at a flow.

    Parameters
    ----------
    flow_ratio : array_like
        Flow over flow at full opening, 0 to 1 [-].
    pressure_drop_ratio : array_like
        The same share at full opening, above 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        Δp of the valve over total Δp, broadcast shape [-].

    Raises
    ------
    ValueError
        If the flow ratio is outside 0 to 1, or the pressure drop ratio not above 0 and up to 1.

    Notes
    -----
    Equation: share = 1 - (1 - a) (q / q_max)².
    Source: worked by hand, pipe loss with the square of flow, total constant.

    Examples
    --------
    >>> valve_drop_share([0, 0.5, 1], 0.2).round(6).tolist()
    [1.0, 0.8, 0.2]
    """
    q, a = in_range("flow_ratio", flow_ratio, 0, 1, "-"), _share(pressure_drop_ratio)
    return 1 - (1 - a) * q * q


def installed_rangeability(rangeability: ArrayLike, pressure_drop_ratio: ArrayLike) -> Floats:
    """Ratio of largest to smallest flow left of the inherent rangeability by the pipework.

    Parameters
    ----------
    rangeability : array_like
        Inherent rangeability R, above 1 [-].
    pressure_drop_ratio : array_like
        Share a of the valve in the total dynamic drop at full opening, above 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        q_max / q at Φ = 1/R, broadcast shape [-].

    Raises
    ------
    ValueError
        If rangeability is not above 1, or the pressure drop ratio not above 0 and up to 1.

    Notes
    -----
    Equation: R_installed = √((1 - a) + a R²), which is near R √a.
    Source: worked by hand, `installed_flow` at Φ = 1/R.

    Examples
    --------
    >>> round(float(installed_rangeability(50, 0.1)), 4)
    15.8398
    """
    r = in_range("rangeability", rangeability, 1, np.inf, "-", above=True)
    a = _share(pressure_drop_ratio)
    return np.sqrt((1 - a) + a * r * r)


def _share(pressure_drop_ratio: ArrayLike) -> Floats:
    return in_range("pressure_drop_ratio", pressure_drop_ratio, 0, 1, "-", above=True)
