"""Which inherent characteristic comes out straightest in the line: computed, not recited."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.characteristic import equal_percentage, linear, parabolic, quick_opening
from valvecalc.checks import Floats, in_range, one_of
from valvecalc.installed import installed_flow

NAMES = ("linear", "equal percentage", "parabolic", "quick opening")


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
        "linear" (closing fully), "equal percentage", "parabolic" or "quick opening" (square root) [no unit].
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
        "parabolic": parabolic(h),
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
    Source: computed here. Where the valve takes most of the drop that is linear, where the pipe does,
    equal percentage.

    Examples
    --------
    >>> straightest([0.7, 0.1], 50).tolist()
    ['linear', 'equal percentage']
    """
    distances = np.stack([installed_distance(name, pressure_drop_ratio, rangeability) for name in names])
    chosen: NDArray[np.str_] = np.asarray(names)[np.argmin(distances, axis=0)]
    return chosen
