"""A quick exhaust at the actuator: fills it from the line, but lets its air out on the spot by a wide opening."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.air.fittings import pair, port, says
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import rect, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

UP = 12.0  # [mm] the disc moves from the exhaust seat to the inlet seat


def _fixed() -> list[Shape]:
    block = rounded([(-46, -40, 4), (46, -40, 4), (46, 38, 4), (-46, 38, 4)])
    room = rounded([(-28, -14), (28, -14), (28, -6), (47, -6), (47, 6), (28, 6), (28, 14), (5, 14), (5, 39), (-5, 39),
                    (-5, 14), (-28, 14)])  # fmt: skip
    shapes = [Shape(block, "body", 3), Shape(room, "air within", 4), Shape(rect(-15, -40, 15, -8), "open air", 4.4)]
    shapes += pair(rect(5, 8, 10, 14), "seat", 4.5) + pair(rect(15, -14, 20, -8), "seat", 4.5)
    shapes += port(46, 0, 6, 22)
    shapes += [Shape(rect(-5, 38, 5, 60), "air", 5), *pair(rect(5, 44, 10, 54), "bolt", 5.1)]
    return [*shapes, *pair(rect(15, -46, 20, -40), "bolt", 5.1)]


def _moving(travel: float) -> list[Shape]:
    """Return the disc, and where the air goes: on the exhaust seat while air comes, lifted when it stops."""
    foot = -8.0 + UP * (1 - travel)
    flat = np.array([(-23, 0), (23, 0), (23, 1.5), (19, 4), (-19, 4), (-23, 1.5)], dtype=float)
    fills = [(0, 64), (0, 30), (0, 8), (10, 4), (24.5, 0), (36, 0), (68, 0)]
    vents = [(68, 0), (38, 0), (22, -4), (8, -10), (0, -24), (0, -56)]
    return [
        Shape(flat + (0, foot), "soft", 5.3, "disc"),
        *flow("air-in", fills, travel >= 1, arrows=(0.3, 1.0), look="air flow", z=9),
        *flow("air-out", vents, travel <= 0, arrows=(0.2, 1.0), look="air flow", z=9),
    ]


QUICK_EXHAUST = Drawing(
    _fixed,
    _moving,
    (
        NamedPart("port from the solenoid valve", (0, 56), "left"),
        NamedPart("inlet seat", (-7.5, 11), "left"),
        NamedPart("rubber disc", (-16, 5.5), "left", (0, -UP)),
        NamedPart("exhaust seat", (17.5, -11), "right"),
        NamedPart("port to the actuator", (62, 2), "right"),
        NamedPart("wide exhaust", (-8, -38), "left"),
    ),
    (-50, -60, 72, 66),
    1.7,
    says("no air from the line: vented here", "on its way", "air comes: the actuator fills"),
    bar=0,
)
