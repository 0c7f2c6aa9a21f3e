"""Trim geometry: windows and drilled rows of a cage, contoured plugs; open area and characteristic, both ways.

Lift counts from the edge that opens first; depth along a plug from its seating line towards the tip.
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
    """Width that the windows of a cage must have in all, for a wanted slope of the characteristic.

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


def drilled_area(lift: ArrayLike, row_height: ArrayLike, hole_diameter: ArrayLike, hole_count: ArrayLike) -> Floats:
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
    return np.asarray(np.sum(n * _circle_below(np.maximum(y - bottom, 0), d), axis=-1))


def plug_area(lift: ArrayLike, seat_radius: float, plug_depth: ArrayLike, plug_radius: ArrayLike) -> Floats:
    """Open area between a seat and a contoured plug.

    Parameters
    ----------
    lift : array_like
        How far the plug is raised, 0 or more [m].
    seat_radius : float
        Radius of the seat bore, above 0 [m].
    plug_depth : array_like
        Depths at which the contour is known, not falling, from 0 at the seating line, one dimension [m].
    plug_radius : array_like
        Radius there, 0 to the seat radius; straight between the points [m].

    Returns
    -------
    numpy.ndarray
        Open area, shape of lift [m²].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: A = min over the contour of π (R + r) √((R - r)² + (lift - depth)²), at most π R².
    Source: worked by hand, lateral area of a frustum; the smallest section as flow area: common practice, no source.

    Examples
    --------
    >>> area = plug_area([0, 0.005, 0.02], 0.02, [0, 0], [0.02, 0])  # a flat disc, nearly a curtain 2 π R lift
    >>> (area / (np.pi * 0.02**2)).round(2).tolist()
    [0.0, 0.5, 1.0]
    """
    bore = float(positive("seat_radius", seat_radius, "m"))
    y = in_range("plug_depth", plug_depth, 0, np.inf, "m")
    r = in_range("plug_radius", plug_radius, 0, bore, "m")
    in_range("the step from one plug_depth to the next", np.diff(y), 0, np.inf, "m")
    raised = in_range("lift", lift, 0, np.inf, "m")[..., np.newaxis]
    index = np.arange(len(y))

    def cone(place: Floats) -> Floats:
        """Lateral area of the cone from the edge of the seat to a place on the contour."""
        depth, radius = np.interp(place, index, y), np.interp(place, index, r)
        return np.asarray(np.pi * (bore + radius) * np.hypot(bore - radius, raised - depth))

    # The smallest cone seldom ends at a given point: look at 20 places a stretch, then closer and closer.
    place, step = np.linspace(0, index[-1], 20 * index[-1] + 1) + 0 * raised, 1 / 20
    for _ in range(4):
        best = np.take_along_axis(place, np.argmin(cone(place), axis=-1)[..., np.newaxis], axis=-1)
        place = np.clip(best + step * np.linspace(-1, 1, 21), 0, index[-1])
        step /= 10
    return np.asarray(np.minimum(np.min(cone(place), axis=-1), np.pi * bore**2))


def plug_contour(plug_depth: ArrayLike, seat_radius: float, lift: ArrayLike, area: ArrayLike) -> Floats:
    """Contour of the fattest plug that leaves at least a wanted open area at each lift.

    Parameters
    ----------
    plug_depth : array_like
        Depths at which the radius is wanted, 0 or more, one dimension [m].
    seat_radius : float
        Radius of the seat bore, above 0 [m].
    lift : array_like
        Lifts at which the area is given, 0 or more, one dimension; closely spaced [m].
    area : array_like
        Open area wanted there, 0 to that of the bore [m²].

    Returns
    -------
    numpy.ndarray
        Radius, shape of plug_depth [m].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Open area cannot rise faster than a curtain, 2 π R for each metre of lift: where more is asked for, the
    plug leaves more than wanted before it. `plug_area` of the result shows it.
    Equation: at each depth the least, over the lifts, of the radius r at which
    π (R + r) √((R - r)² + (lift - depth)²) equals the wanted area.
    Source: computed here, envelope of the cones of `plug_area`.

    Examples
    --------
    >>> lift = np.linspace(0, 0.02, 101)
    >>> radius = plug_contour(lift, 0.02, lift, 0.5 * np.pi * 0.02**2 * lift / 0.02)
    >>> round(float(plug_area(0.01, 0.02, lift, radius)) / (np.pi * 0.02**2), 3)
    0.25
    """
    bore = float(positive("seat_radius", seat_radius, "m"))
    y = in_range("plug_depth", plug_depth, 0, np.inf, "m")[:, np.newaxis]
    raised = in_range("lift", lift, 0, np.inf, "m")
    wanted = in_range("area", area, 0, np.pi * bore**2, "m²")
    return np.asarray(_radius_of_cone(bore, raised - y, wanted).min(axis=-1))


def _circle_below(height: Floats, diameter: Floats) -> Floats:
    """Area of the part of a circle that lies below a height above its lowest point: a circular segment."""
    r = diameter / 2
    theta = np.arccos(np.clip(1 - height / r, -1, 1))
    return np.asarray(r * r * (theta - np.sin(theta) * np.cos(theta)))


def _radius_of_cone(bore: float, rise: Floats, area: Floats) -> Floats:
    """Smallest radius at which the cone has the area; the bore where every cone is larger."""
    # Cone area squared is a quartic in r that falls only between these two radii.
    half = np.sqrt(np.maximum(bore**2 - 2 * rise**2, 0)) / 2
    low, high = bore / 2 - half, bore / 2 + half
    never = np.pi * (bore + high) * np.hypot(bore - high, rise) >= area
    for _ in range(50):
        middle = (low + high) / 2
        larger = np.pi * (bore + middle) * np.hypot(bore - middle, rise) > area
        low, high = np.where(larger, middle, low), np.where(larger, high, middle)
    return np.where(never, bore, low)
