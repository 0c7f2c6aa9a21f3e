"""Plugs and cage windows of the three characteristics side by side, each with the curve that its own shape gives."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, circle, flip, rect, round_bar, shift
from lessons.pictures.cutaways.sheet import Drawing, Shape
from lessons.pictures.cutaways.trim.bonnet import torn
from lessons.pictures.cutaways.trim.trim_shapes import contour, window
from valvecalc import trim
from valvecalc import trim as plug_contour

KINDS = ("quick opening", "linear", "equal percentage")
PLACES = (-88.0, 0.0, 88.0)  # [mm] axes of the three
PORT, STROKE = 23.0, 30.0  # [mm] radius of the seat's bore; rated travel
CHART = (-24.0, 96.0, 50.0, 38.0)  # [mm] left, bottom, width, height of the curve over each
SILL, CAGE = -20.0, 27.0  # [mm] lower edge of the windows; radius of the cage


def _profile(kind: str) -> Points:
    """Return the contour of a plug, tip first; the quick opening one is a plain disc, as it is on the bench."""
    if kind == "quick opening":
        return np.array([(0.0, 2.0), (PORT - 2, 2.0), (PORT - 0.15, 0.0)])
    return contour(kind, PORT, STROKE)


@cache
def plug_curve(kind: str) -> Points:
    """Return the open area of the drawn plug from closed to open, as a share of that at full travel."""
    travel = np.linspace(0, 1, 121)
    radius, depth = (_profile(kind)[::-1] / 1000).T
    ends = np.append(depth, depth[-1]), np.append(radius, 0.0)
    area = plug_contour.plug_area(travel * STROKE / 1000, PORT / 1000, *ends)
    return np.where(travel > 0, area / area[-1], 0)


@cache
def window_curve(kind: str) -> Points:
    """Return the uncovered area of the drawn window from closed to open, as a share of the whole."""
    travel = np.linspace(0, 1, 121)
    half, height = (window(kind, STROKE, 34.0) / 1000).T
    area = trim.window_area(travel * STROKE / 1000, height, 2 * half)
    share: Points = area / area[-1]
    return share


def _chart(curve: np.ndarray) -> list[Shape]:
    x0, y0, width, height = CHART
    axes = np.array([(x0, y0 + height), (x0, y0), (x0 + width, y0)])
    line = np.column_stack([np.linspace(0, 1, len(curve)), curve]) * (width, height) + (x0, y0)
    return [Shape(axes, "axis", 2), Shape(line, "curve", 3)]


def _point(curve: np.ndarray, travel: float) -> Points:
    x0, y0, width, height = CHART
    flow = float(np.interp(travel, np.linspace(0, 1, len(curve)), curve))
    return circle(x0 + travel * width, y0 + flow * height, 1.9, 20)


def at(place: float, shapes: list[Shape]) -> list[Shape]:
    """Return shapes moved sideways to one of the places."""
    return [s._replace(xy=shift(s.xy, place, 0)) for s in shapes]


def seat_shape(i: int) -> list[Shape]:
    """Return a seat ring in its web, cut, and the fluid below and above."""
    ring = np.array([(PORT, -12), (31, -12), (31, -1), (35, -1), (35, 4), (PORT + 4, 4), (PORT, 0)], dtype=float)
    web = np.array([(31, -12), (40, -12), (40, -1), (31, -1)], dtype=float)
    fluid = [Shape(rect(-40, -44, 40, -1), "high", 0.5), Shape(rect(-40, -1, 40, 50), "low", 0.5)]
    rings = [Shape(ring, "seat", 2, f"seat-{i}-right"), Shape(flip(ring), "seat", 2, f"seat-{i}-left")]
    return [*fluid, *rings, Shape(web, "body", 1), Shape(flip(web), "body", 1)]


def plug_shape(kind: str, lift: float) -> Points:
    """Return the plug with the contour for a characteristic."""
    below = _profile(kind) * (1, -1)
    above = [(PORT, 0), (PORT + 3, 3), (PORT + 3, 10), (10, 17), (7, 19), *torn(-7, 7, 46)[::-1][:2]]
    left = [*torn(-7, 7, 46)[::-1][2:], *[(-x, y) for x, y in above[:5][::-1]], *flip(below)[::-1]]
    return shift(np.vstack([below, above, left]), 0, lift)


def cage() -> list[Shape]:
    """Return a cage seen from outside, standing on a seat ring."""
    ring = round_bar([(34, SILL - 14), (34, SILL - 6), (CAGE, SILL - 6)])
    return [
        Shape(ring, "steel", 2),
        Shape(rect(-CAGE, SILL - 6, CAGE, 30), "cage behind", 2.1),
        Shape(rect(-33, 30, 33, 38), "cage behind", 2.2),
    ]


def opened_shape(kind: str, lift: float) -> Points:
    """Return what the plug leaves free of the window."""
    half, height = window(kind, STROKE, 34.0).T
    y = np.linspace(0, lift, 31)
    edge = np.column_stack([np.interp(y, height, half), SILL + y])
    return np.vstack([edge, flip(edge)[::-1]])


def _whole(kind: str) -> Points:
    return opened_shape(kind, STROKE)


def _plugs_fixed() -> list[Shape]:
    shapes: list[Shape] = []
    for i, (kind, x) in enumerate(zip(KINDS, PLACES, strict=True)):
        shapes += at(x, [*seat_shape(i), *_chart(plug_curve(kind))])
    return shapes


def _plugs_moving(travel: float) -> list[Shape]:
    shapes: list[Shape] = []
    for i, (kind, x) in enumerate(zip(KINDS, PLACES, strict=True)):
        dot = _point(plug_curve(kind), travel)
        shapes += at(
            x, [Shape(plug_shape(kind, STROKE * travel), "trim", 3, f"plug-{i}"), Shape(dot, "point", 4, f"point-{i}")]
        )
    return shapes


def _windows_fixed() -> list[Shape]:
    shapes: list[Shape] = []
    for kind, x in zip(KINDS, PLACES, strict=True):
        shapes += at(x, [*cage(), Shape(_whole(kind), "trim", 3), *_chart(window_curve(kind))])
    return shapes


def _windows_moving(travel: float) -> list[Shape]:
    shapes: list[Shape] = []
    for i, (kind, x) in enumerate(zip(KINDS, PLACES, strict=True)):
        lift, dot = STROKE * travel, _point(window_curve(kind), travel)
        rod = np.array([(-7, 38.5), (7, 38.5), *torn(-7, 7, 48 + lift)[::-1]])
        shapes += at(
            x,
            [
                Shape(opened_shape(kind, lift), "fluid low", 3.5, f"open-{i}"),
                Shape(rod, "trim", 1.5, f"stem-{i}"),
                Shape(dot, "point", 4, f"point-{i}"),
            ],
        )
    return shapes


def _drawing(
    what: str,
    level: float,
    rides: tuple[float, float],
    fixed: Callable[[], list[Shape]],
    moving: Callable[[float], list[Shape]],
) -> Drawing:
    parts = tuple(
        NamedPart(f"{kind} {what}", (x, level), "below", rides) for kind, x in zip(KINDS, PLACES, strict=True)
    )
    left, low, width, high = CHART
    notes = [(x + left + width / 2, low - 6, "travel") for x in PLACES]
    notes += [(x + left + 8, low + high + 5, "flow") for x in PLACES]
    box = (-134.0, -46.0 if what == "plug" else SILL - 18, 134.0, low + high + 6)
    return Drawing(fixed, moving, parts, box, 1.9, notes=tuple(notes))


PLUGS = _drawing("plug", 3, (0, STROKE), _plugs_fixed, _plugs_moving)
WINDOWS = _drawing("window", SILL + 10, (0, 0), _windows_fixed, _windows_moving)
