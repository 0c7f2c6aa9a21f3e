"""Round ports of a cage: keyholes and drilled rows; open area against lift."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive


def keyhole_area(
    lift: ArrayLike, slot_width: ArrayLike, slot_height: ArrayLike, hole_diameter: ArrayLike
) -> Floats:
    """Open area of a keyhole port: a slot that opens first and runs into a round hole above.

    Parameters
    ----------
    lift : array_like
        How far the plug is raised, 0 or more [m].
    slot_width : array_like
        Width of the slot, above 0, at most the hole diameter [m].
    slot_height : array_like
        Height of the slot up to where it meets the hole, 0 or more [m].
    hole_diameter : array_like
        Diameter of the hole, above 0 [m].

    Returns
    -------
    numpy.ndarray
        Open area of one port, broadcast shape [m²].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: A = w min(y, a), and above the slot the part of the circle between its chord w and the lift.
    Source: worked by hand, geometry.

    Examples
    --------
    >>> round(float(keyhole_area(1.0, 0.002, 0.01, 0.02)) * 1e6, 2)  # all open: mm²
    334.09
    """
    y, w = in_range("lift", lift, 0, np.inf, "m"), positive("slot_width", slot_width, "m")
    a = in_range("slot_height", slot_height, 0, np.inf, "m")
    d = positive("hole_diameter", hole_diameter, "m")
    in_range("slot_width over hole_diameter", w / d, 0, 1, "-")
    hidden = (d - np.sqrt(d * d - w * w)) / 2  # height of the circle's part that the slot replaces
    hole = circle_below(np.maximum(y - a, 0) + hidden, d) - circle_below(hidden, d)
    return np.asarray(w * np.minimum(y, a) + hole)


def drilled_area(
    lift: ArrayLike, row_height: ArrayLike, hole_diameter: ArrayLike, hole_count: ArrayLike
) -> Floats:
    """Open area of a cage drilled in rows of round holes.

    Parameters
    ----------
    lift : array_like
        How far the plug is raised, 0 or more [m].
    row_height : array_like
        Height of the hole centres of each row, one dimension [m].
    hole_diameter : array_like
        Diameter of the holes, one for all or one for each row, above 0 [m].
    hole_count : array_like
        Holes in a row, one number for all or one for each row, 0 or more [-].

    Returns
    -------
    numpy.ndarray
        Open area, shape of lift [m²].

    Raises
    ------
    ValueError
        If an input is out of range, or a hole starts below the edge that opens first.

    Notes
    -----
    Equation: A = Σ n_row · (area of the circle below the lift).
    Source: worked by hand, geometry.

    Examples
    --------
    >>> round(float(drilled_area(0.01, [0.01, 0.03], 0.01, 8)) * 1e6, 3)  # half of 8 holes of 10 mm: mm²
    314.159
    """
    y = in_range("lift", lift, 0, np.inf, "m")[..., np.newaxis]
    d = positive("hole_diameter", hole_diameter, "m")
    n = in_range("hole_count", hole_count, 0, np.inf, "holes")
    bottom = numbers("row_height", row_height) - d / 2
    in_range("height of the lower edge of a row", bottom, 0, np.inf, "m")
    return np.asarray(np.sum(n * circle_below(np.maximum(y - bottom, 0), d), axis=-1))


def circle_below(height: ArrayLike, hole_diameter: ArrayLike) -> Floats:
    """Area of the part of a circle that lies below a height above its lowest point.

    Parameters
    ----------
    height : array_like
        Height above the lowest point, 0 or more; above the top counts as the top [m].
    hole_diameter : array_like
        Diameter, above 0 [m].

    Returns
    -------
    numpy.ndarray
        Area, broadcast shape [m²].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: r² (θ - sin θ cos θ), with cos θ = 1 - y/r.
    Source: worked by hand, geometry, circular segment.

    Examples
    --------
    >>> circle_below([0, 1, 2], 2).round(6).tolist()
    [0.0, 1.570796, 3.141593]
    """
    r = positive("hole_diameter", hole_diameter, "m") / 2
    theta = np.arccos(np.clip(1 - in_range("height", height, 0, np.inf, "m") / r, -1, 1))
    return np.asarray(r * r * (theta - np.sin(theta) * np.cos(theta)))
