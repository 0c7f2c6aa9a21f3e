"""Shapes that many pictures share, as arrays of points in millimetres: x along the pipe, y up."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

Points = NDArray[np.float64]


def rect(x0: float, y0: float, x1: float, y1: float) -> Points:
    """Corners of an upright rectangle."""
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)], dtype=float)


def circle(x: float, y: float, radius: float, points: int = 36) -> Points:
    """Points round a circle."""
    return arc(x, y, radius, 0.0, 360.0 * (1 - 1 / points), points)


def arc(x: float, y: float, radius: float, start: float, stop: float, points: int = 24) -> Points:
    """Points along an arc; angles in degrees, anticlockwise from the right."""
    angle = np.radians(np.linspace(start, stop, points))
    return np.column_stack([x + radius * np.cos(angle), y + radius * np.sin(angle)])


def flip(xy: ArrayLike) -> Points:
    """Return the mirror image across the valve's axis, x = 0."""
    return np.asarray(xy, dtype=float) * (-1, 1)


def shift(xy: ArrayLike, dx: float, dy: float) -> Points:
    """Return the same shape, moved."""
    return np.asarray(xy, dtype=float) + (dx, dy)


def turn(xy: ArrayLike, degrees: float, about: tuple[float, float] = (0.0, 0.0)) -> Points:
    """Return the same shape, turned anticlockwise."""
    a = np.radians(degrees)
    matrix = np.array([(np.cos(a), -np.sin(a)), (np.sin(a), np.cos(a))])
    turned: Points = (np.asarray(xy, dtype=float) - about) @ matrix.T + about
    return turned


def round_bar(profile: ArrayLike) -> Points:
    """Return the outline of a part that is round about x = 0, from its right-hand profile (radius, height)."""
    right = np.asarray(profile, dtype=float)
    return np.vstack([right, flip(right)[::-1]])


def bar(radius: float, low: float, high: float) -> Points:
    """Return a plain round bar about x = 0."""
    return rect(-radius, low, radius, high)


def rounded(corners: Sequence[Sequence[float]], points: int = 8) -> Points:
    """Return a closed outline with its corners (x, y, fillet radius) rounded as in a casting.

    A corner without a radius stays sharp; an infinite one is as soft as its neighbours allow,
        as in a flow passage.
    """
    xy = np.array([c[:2] for c in corners], dtype=float)
    radii = [c[2] if len(c) > 2 else 0.0 for c in corners]
    before, after = np.roll(xy, 1, axis=0), np.roll(xy, -1, axis=0)
    return np.vstack([_fillet(*four, points) for four in zip(before, xy, after, radii, strict=True)])


def _fillet(before: Points, corner: Points, after: Points, radius: float, points: int) -> Points:
    """Arc that touches both edges of a corner; shortened where an edge is too short for the radius."""
    a, b = before - corner, after - corner
    if np.isinf(radius):
        t = np.linspace(0, 1, points)[:, None]
        return corner + a / 2 * (1 - t) ** 2 + b / 2 * t**2
    la, lb = np.hypot(*a), np.hypot(*b)
    half = np.arccos(np.clip(a @ b / (la * lb), -1, 1)) / 2
    if radius <= 0 or half > np.pi / 2 - 0.01:
        return corner[None, :]
    reach = min(radius / np.tan(half), 0.5 * la, 0.5 * lb)
    radius = reach * np.tan(half)
    middle = (a / la + b / lb) / np.hypot(*(a / la + b / lb))
    centre = corner + middle * radius / np.sin(half)
    first, last = corner + a / la * reach - centre, corner + b / lb * reach - centre
    start = np.arctan2(first[1], first[0])
    sweep = np.arctan2(first[0] * last[1] - first[1] * last[0], first @ last)
    angle = start + sweep * np.linspace(0, 1, points)
    arc: Points = centre + radius * np.column_stack([np.cos(angle), np.sin(angle)])
    return arc


def smooth(through: ArrayLike, points: int = 12) -> Points:
    """Return a soft open curve through the points (Catmull-Rom), `points` to each stretch."""
    p = np.asarray(through, dtype=float)
    p = np.vstack([2 * p[0] - p[1], p, 2 * p[-1] - p[-2]])
    t = np.linspace(0, 1, points, endpoint=False)[:, None]
    a, b, c, d = p[:-3, None], p[1:-2, None], p[2:-1, None], p[3:, None]
    curve = 0.5 * (2 * b + (c - a) * t + (2 * a - 5 * b + 4 * c - d) * t**2 + (3 * b - a - 3 * c + d) * t**3)
    return np.vstack([curve.reshape(-1, 2), p[-2:-1]])


def coil(left: float, right: float, low: float, high: float, turns: int = 6) -> Points:
    """Return the zigzag of a coil spring seen from the side, its end coils flat on the seats."""
    lean = (high - low) / (2 * turns + 2)
    y = low + lean * (1 + np.arange(2 * turns + 1))
    x = np.where(np.arange(2 * turns + 1) % 2 == 0, left, right)
    ends = [(right, low)], [(right if x[-1] == left else left, high)]
    return np.vstack([ends[0], np.column_stack([x, y]), ends[1]])


def head(tip: ArrayLike, towards: ArrayLike, size: float) -> Points:
    """Return an arrow head with its tip at a point, pointing along a direction."""
    ahead = np.asarray(towards, dtype=float) / max(float(np.hypot(*np.asarray(towards, dtype=float))), 1e-9)
    across = np.array([-ahead[1], ahead[0]])
    end = np.asarray(tip, dtype=float)
    back = end - size * ahead
    return np.array([end, back + 0.38 * size * across, back - 0.38 * size * across])
