"""Trim geometry: cage windows, open area to characteristic, and the window for a wanted characteristic.

Heights count from the edge that opens first. Keyhole and drilled ports are in round_ports.py, contoured plugs
in plug_contour.py.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive


def window_area(lift: ArrayLike, window_height: ArrayLike, window_width: ArrayLike) -> Floats:
    """Open area of a cage window whose edges run straight between given widths.

    Two points of the same width make a rectangle, a first width of 0 a V.

    Parameters
    ----------
    lift : array_like
        How far the plug is raised, 0 or more [m].
    window_height : array_like
        Heights at which the width is known, rising from 0, two or more, one dimension [m].
    window_width : array_like
        Width there, of all equal windows together, 0 or more [m].

    Returns
    -------
    numpy.ndarray
        Open area, shape of lift; constant once the window is uncovered [m²].

    Raises
    ------
    ValueError
        If a lift or width is negative, or the heights do not rise from 0.

    Notes
    -----
    Equation: A = ∫ w dy from 0 to the lift.
    Source: worked by hand, geometry.

    Examples
    --------
    >>> window_area([0.01, 0.02], [0, 0.02], [0.03, 0.03]).round(6).tolist()  # rectangle
    [0.0003, 0.0006]
    >>> window_area([0.01, 0.02], [0, 0.02], [0, 0.04]).round(6).tolist()  # V
    [0.0001, 0.0004]
    """
    y, w = in_range("window_height", window_height, 0, np.inf, "m"), numbers("window_width", window_width)
    in_range("window_width", w, 0, np.inf, "m")
    in_range("the first window_height", y[0], 0, 0, "m")
    steps = in_range("the step from one window_height to the next", np.diff(y), 0, np.inf, "m", above=True)
    at = np.minimum(in_range("lift", lift, 0, np.inf, "m"), y[-1])
    below = np.concatenate([[0.0], np.cumsum((w[1:] + w[:-1]) / 2 * steps)])
    i = np.clip(np.searchsorted(y, at, side="right") - 1, 0, len(steps) - 1)
    return np.asarray(below[i] + (at - y[i]) * (w[i] + np.interp(at, y, w)) / 2)


def double_seated_area(area_upper: ArrayLike, area_lower: ArrayLike) -> Floats:
    """Open area of a double-seated valve: both ports pass flow side by side.

    Parameters
    ----------
    area_upper, area_lower : array_like
        Open areas at the upper and the lower seat at one lift, 0 or more; where one seat still gapes as the
        other closes (wear, heat), read its area at the lift plus the gap [m²].

    Returns
    -------
    numpy.ndarray
        Open area of the valve, broadcast shape [m²].

    Raises
    ------
    ValueError
        If an area is negative.

    Notes
    -----
    Equation: A = A_upper + A_lower.
    Source: worked by hand, flows add at the same pressure drop. The smaller lower seat lets the plug be drawn upwards.

    Examples
    --------
    >>> round(float(double_seated_area(0.0020, 0.0018)), 6)
    0.0038
    """
    upper = in_range("area_upper", area_upper, 0, np.inf, "m²")
    return upper + in_range("area_lower", area_lower, 0, np.inf, "m²")


def phi_from_area(area: ArrayLike, area_full: ArrayLike) -> Floats:
    """Relative flow coefficient from open area, where the port is the only restriction that counts.

    Parameters
    ----------
    area : array_like
        Open area, 0 to that at full opening; of a double-seated valve, both seats together [m²].
    area_full : array_like
        Open area at full opening, above 0 [m²].

    Returns
    -------
    numpy.ndarray
        Relative flow coefficient Φ, broadcast shape [-].

    Raises
    ------
    ValueError
        If an area is out of range.

    Notes
    -----
    Where the body takes a share b of the drop at full opening, put the result through
    `installed_flow` with the ratio 1 - b: body and port in series are like pipe and valve.
    Equation: Φ = A / A_full.
    Source: first approximation, common practice, no source, and a flow test decides.

    Examples
    --------
    >>> phi_from_area([0.0001, 0.0004], 0.0004).tolist()
    [0.25, 1.0]
    """
    full = positive("area_full", area_full, "m²")
    return in_range("area over area_full", numbers("area", area) / full, 0, 1, "-")


def width_for_slope(slope: ArrayLike, area_full: ArrayLike, stroke: ArrayLike) -> Floats:
    """Width the windows of a cage must have, all together, for a wanted slope of the characteristic.

    Parameters
    ----------
    slope : array_like
        dΦ/dh wanted at a travel, 0 or more [-].
    area_full : array_like
        Open area at full opening, above 0 [m²].
    stroke : array_like
        Rated travel, above 0 [m].

    Returns
    -------
    numpy.ndarray
        Width at the height stroke · travel, broadcast shape [m].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    A window starts closed: use a curve that does (a linear one without R, equal percentage with a toe).
    Equation: w = A_full (dΦ/dh) / stroke.
    Source: worked by hand, derivative of `window_area`.

    Examples
    --------
    >>> round(float(width_for_slope(1.0, 0.0006, 0.02)), 6)
    0.03
    """
    wanted = in_range("slope", slope, 0, np.inf, "-")
    return wanted * positive("area_full", area_full, "m²") / positive("stroke", stroke, "m")
