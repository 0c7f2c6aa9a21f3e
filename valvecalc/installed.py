"""Installed characteristic at a constant total pressure: the pipe takes its share, and the valve gets the rest.

Flows are ratios to the flow at full opening. A real line with a pump is in line.py.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.characteristic import equal_percentage, linear, quick_opening
from valvecalc.checks import Floats, in_range, one_of

NAMES = ("linear", "equal percentage", "quick opening")


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


def distance_from_straight(travel: ArrayLike, flow_ratio: ArrayLike) -> Floats:
    """Root-mean-square distance of an installed curve from the straight line flow ratio = travel.

    Parameters
    ----------
    travel : array_like
        Relative travel h at two or more points, rising, 0 to 1, one dimension [-].
    flow_ratio : array_like
        Flow over flow at full opening at those points, along the last axis, 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        The distance, shape of the flow ratio without its last axis [-].

    Raises
    ------
    ValueError
        If an input is out of range, or travel does not rise.

    Notes
    -----
    Equation: √(∫ (q/q_max - h)² dh / (h_end - h_start)), by the trapezoidal rule.
    Source: worked by hand, a root mean square; that straightness is what to ask for: common practice, no source.

    Examples
    --------
    >>> round(float(distance_from_straight([0, 0.5, 1], [0, 0.7, 1])), 6)
    0.141421
    """
    h, q = in_range("travel", travel, 0, 1, "-"), in_range("flow_ratio", flow_ratio, 0, 1, "-")
    in_range("the step from one travel to the next", np.diff(h), 0, 1, "-", above=True)
    mean_square: Floats = np.asarray(np.trapezoid((q - h) ** 2, h, axis=-1)) / (h[-1] - h[0])
    return np.sqrt(mean_square)


def installed_distance(name: str, pressure_drop_ratio: ArrayLike, rangeability: float) -> Floats:
    """Distance from a straight line of one kind of valve at a pressure drop ratio.

    Parameters
    ----------
    name : str
        "linear" (closing fully), "equal percentage" or "quick opening" (square root) [no unit].
    pressure_drop_ratio : array_like
        Share a of the valve in the total dynamic drop at full opening, above 0 to 1 [-].
    rangeability : float
        R of the equal percentage valve, above 1; the others do not use it [-].

    Returns
    -------
    numpy.ndarray
        Root-mean-square distance, shape of the ratio [-].

    Raises
    ------
    ValueError
        If the name is not known or a number out of range.

    Notes
    -----
    Equation: `distance_from_straight` of `installed_flow` at 1001 travels.
    Source: as `distance_from_straight`.

    Examples
    --------
    >>> installed_distance("linear", [0.5, 0.1], 50).round(4).tolist()
    [0.0948, 0.2893]
    """
    h = np.linspace(0.0, 1.0, 1001)
    curves = {
        "linear": linear(h),
        "equal percentage": equal_percentage(h, rangeability),
        "quick opening": quick_opening(h),
    }
    ratio = in_range("pressure_drop_ratio", pressure_drop_ratio, 0, 1, "-", above=True)[..., np.newaxis]
    return distance_from_straight(h, installed_flow(curves[one_of("name", name, NAMES)], ratio))


def straightest(
    pressure_drop_ratio: ArrayLike,
    rangeability: float,
    names: tuple[str, ...] = ("linear", "equal percentage"),
) -> NDArray[np.str_]:
    """Which characteristic comes out straightest at a pressure drop ratio.

    Parameters
    ----------
    pressure_drop_ratio : array_like
        Share a of the valve in the total dynamic drop at full opening, above 0 to 1 [-].
    rangeability : float
        R of the equal percentage valve, above 1 [-].
    names : tuple of str, optional
        Which to choose from, as in `installed_distance` [no unit].

    Returns
    -------
    numpy.ndarray of str
        The name for each ratio, same shape [no unit].

    Raises
    ------
    ValueError
        If a name is not known or a number out of range.

    Notes
    -----
    Equation: the name with the least `installed_distance`.
    Source: computed here. Where the valve takes most of the drop, that is linear. Where the pipe
    does, it is equal percentage.

    Examples
    --------
    >>> straightest([0.7, 0.1], 50).tolist()
    ['linear', 'equal percentage']
    """
    distances = np.stack([installed_distance(name, pressure_drop_ratio, rangeability) for name in names])
    chosen: NDArray[np.str_] = np.asarray(names)[np.argmin(distances, axis=0)]
    return chosen


def _share(pressure_drop_ratio: ArrayLike) -> Floats:
    return in_range("pressure_drop_ratio", pressure_drop_ratio, 0, 1, "-", above=True)
