"""Five ways of keeping a plug in the middle of its seat, side by side; what guides it is drawn in the guide's look."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import flip, rect, round_bar, shift
from lessons.pictures.cutaways.sheet import Drawing, Shape
from lessons.pictures.cutaways.trim.bonnet import torn

PORT, STROKE = 14.0, 18.0  # [mm] radius of the seat's bore; travel
STEP = 60.0  # [mm] from one to the next
WAYS = ("top", "top and bottom", "cage", "port", "stem")
PLACES = tuple(STEP * (i - 2) for i in range(5))
ROD, POST = 4.0, 8.0  # [mm] radius of stem and of guide post
TOP = 88.0


def _pair(xy: ArrayLike, look: str, z: float, gid: str = "") -> list[Shape]:
    """Return a shape and its mirror image."""
    return [
        Shape(np.asarray(xy, dtype=float), look, z, gid and f"{gid}-right"),
        Shape(flip(xy), look, z, gid and f"{gid}-left"),
    ]


def common(way: str) -> list[Shape]:
    """Return fluid, seat ring, web and bonnet, whose bore fits the plug's post or the stem."""
    fluid = [Shape(rect(-27, -34, 27, -4), "high", 0.5), Shape(rect(-27, -4, 27, 46), "low", 0.5)]
    ring = [(PORT, -9), (20, -9), (20, 4), (PORT + 3, 4), (PORT, 1)]
    hole = {"top": 11.0, "top and bottom": 11.0, "cage": 5.0, "port": 5.0, "stem": 7.5}[way]
    bonnet = _pair(np.array([(hole, 46), (27, 46), (27, 68), (hole, 68)]), "bonnet", 3)
    room = [Shape(rect(-hole, 45, hole, 68), "low", 0.6)]
    return [*fluid, *room, *bonnet, *_pair(ring, "seat", 2, f"{way} seat"), *_pair(rect(20, -9, 27, 0), "body", 1)]


def guide(way: str) -> list[Shape]:
    """Return what guides the plug."""
    if way in ("top", "top and bottom"):
        shapes = _pair(rect(POST, 44, 11, 66), "guide", 4)
        if way == "top and bottom":
            shapes += [Shape(rect(-27, -70, 27, -34), "bonnet", 3), Shape(rect(-9, -65, 9, -34), "high", 3.1)]
            shapes += _pair(rect(6, -62, 9, -34), "guide", 4)
        return shapes
    if way == "cage":
        return _pair(rect(19, 22, 23, 46), "cage", 4) + _pair(rect(19, 4, 23, 6), "cage", 4)
    if way == "stem":
        return _pair(rect(ROD, 42, 7.5, 66), "guide", 4)
    return []


def _plug(way: str, lift: float) -> list[Shape]:
    """Return the plug with stem for one way of guiding, raised by `lift`."""
    nose = [(6, -17), (10, -12), (PORT - 0.4, 0), (PORT, 1), (PORT + 3, 4)]
    above = {
        "top": [(PORT + 3, 9), (POST, 16), (POST, 66), (ROD, 68)],
        "top and bottom": [(PORT + 3, 9), (POST, 16), (POST, 66), (ROD, 68)],
        "cage": [(PORT + 3, 5), (18.8, 6), (18.8, 26), (ROD, 26)],
        "port": [(PORT + 3, 9), (ROD + 2, 14), (ROD, 16)],
        "stem": [(PORT + 3, 9), (ROD + 2, 14), (ROD, 16)],
    }[way]
    below = {
        "top and bottom": [(6, -62), (6, -18), *nose[1:]],
        "port": [(PORT - 0.3, -32), (PORT - 0.3, 0), *nose[3:]],
    }.get(way, nose)
    if way == "cage":
        below = [(PORT - 0.4, -3), (PORT - 0.4, 0), *nose[3:]]
    outline = np.vstack(
        [
            round_bar([*below, *above, (ROD, 69)])[: len(below) + len(above) + 1],
            torn(-ROD, ROD, TOP - STROKE)[::-1],
            flip([*below, *above])[::-1],
        ]
    )
    shapes = [Shape(outline, "trim", 5, f"{way} plug")]
    if way == "port":
        slot = np.array([(-8, -32), (8, -32), (5, -8), (0, -2.5), (-5, -8)], dtype=float)
        shapes.append(Shape(slot, "high", 5.2, "port slot"))
    return [s._replace(xy=shift(s.xy, 0, lift)) for s in shapes]


def _fixed() -> list[Shape]:
    shapes: list[Shape] = []
    for way, x in zip(WAYS, PLACES, strict=True):
        shapes += [s._replace(xy=shift(s.xy, x, 0)) for s in [*common(way), *guide(way)]]
    return shapes


def _moving(travel: float) -> list[Shape]:
    """Return all five plugs."""
    shapes: list[Shape] = []
    for way, x in zip(WAYS, PLACES, strict=True):
        shapes += [s._replace(xy=shift(s.xy, x, 0)) for s in _plug(way, STROKE * travel)]
    return shapes


GUIDING = Drawing(
    _fixed,
    _moving,
    tuple(
        NamedPart(f"{way} guiding", (x + dx, y), "below", (0, STROKE if way == "port" else 0))
        for way, x, dx, y in zip(WAYS, PLACES, (9.5, 7.5, 21, 11.5, 6), (55, -48, 34, -28, 55), strict=True)
    ),
    (-149, -72, 149, TOP + 4),
    1.69,
    bar=20.0,
)
