"""Contoured plugs in a seat: open area against lift, and the contour that gives a wanted area.

Depth counts along the plug from its seating line towards the tip; the open area is the smallest of the cones
(frustums) between the edge of the seat and the contour, and never more than the bore.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive


def plug_area(
    lift: ArrayLike, seat_radius: float, plug_depth: ArrayLike, plug_radius: ArrayLike
) -> Floats:
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
    plug leaves more than wanted before it. `plug_area` of the result tells.
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
