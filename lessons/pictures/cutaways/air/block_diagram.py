"""A digital positioner as blocks: what is electric, what is air, and how travel and pressure come back."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import coil, head, rect, rounded
from lessons.pictures.cutaways.sheet import HEADS, Drawing, Shape

WIDE, HIGH = 64.0, 44.0  # [mm] of a block
STROKE = 16.0  # [mm]
# Lower left corners; electric blocks are grey, those with air in them yellow, as in every picture.
BLOCKS = {
    "loop terminals": (0, 60, "steel"),
    "current meter": (86, 60, "steel"),
    "modem": (86, 122, "steel"),
    "processor": (172, 60, "steel"),
    "memory": (172, 122, "steel"),
    "converter stage": (258, 60, "air"),
    "pilot relay": (344, 60, "air"),
    "pressure sensor": (258, 122, "air"),
    "travel sensor": (258, -2, "steel"),
}
STEM = 452.0  # [mm] where the actuator's stem is drawn


def wire(through: ArrayLike, look: str, *, both: bool = False) -> list[Shape]:
    """Return a line with square corners and an arrow head at its end, or at both ends."""
    points = np.asarray(through, dtype=float)
    shapes = [Shape(points, look, 4), Shape(head(points[-1], points[-1] - points[-2], 8), HEADS[look], 4.1)]
    return shapes + ([Shape(head(points[0], points[0] - points[1], 8), HEADS[look], 4.1)] if both else [])


def _wires() -> list[Shape]:
    mid = 60 + HIGH / 2
    shapes = wire([(-44, mid), (0, mid)], "flow") + wire([(64, mid), (86, mid)], "flow")
    shapes += wire([(32, 104), (32, 144), (86, 144)], "flow", both=True) + wire([(150, mid), (172, mid)], "flow")
    shapes += wire([(150, 144), (161, 144), (161, 92), (172, 92)], "flow", both=True)
    shapes += wire([(204, 122), (204, 104)], "flow", both=True) + wire([(236, mid), (258, mid)], "flow")
    shapes += wire([(322, mid), (344, mid)], "air flow") + wire([(376, 36), (376, 60)], "air flow")
    shapes += wire([(408, mid), (415, mid), (415, 71), (424, 71)], "air flow")
    shapes += wire([(415, mid), (415, 144), (322, 144)], "air flow")
    shapes += wire([(258, 144), (247, 144), (247, 92), (236, 92)], "flow")
    shapes += wire([(258, 20), (204, 20), (204, 60)], "flow")
    return shapes


def _actuator() -> list[Shape]:
    lower = rounded([(STEM - 30, 78), (STEM - 30, 64, 6), (STEM + 30, 64, 6), (STEM + 30, 78)])
    upper = rounded([(STEM - 30, 82), (STEM - 30, 118, 8), (STEM + 30, 118, 8), (STEM + 30, 82)])
    rim = [Shape(rect(STEM - 34, 78, STEM + 34, 82), "bolt", 6)]
    seat = [Shape(rect(STEM + s * 9 - 4, -6, STEM + s * 9 + 4, 0), "seat", 5) for s in (-1, 1)]
    return [Shape(lower, "air", 3), Shape(upper, "open air", 3), *rim, *seat]


def _moving(travel: float) -> list[Shape]:
    """Return stem, plate and spring of the actuator, and the arm that the travel sensor feels."""
    lift = STROKE * travel
    plate = 68 + lift
    plug = np.array([(-8, 0), (8, 0), (4, -8), (-4, -8)], dtype=float) + (STEM, lift)
    wires = coil(STEM - 14, STEM + 14, plate + 4, 116, 4)
    return [
        Shape(rect(STEM - 2, lift, STEM + 2, plate), "steel", 4, "stem"),
        Shape(rect(STEM - 26, plate, STEM + 26, plate + 4), "steel", 4.5, "plate"),
        Shape(wires, "thin wire", 4.2, "spring"),
        Shape(wires, "thin wire core", 4.3, "spring-core"),
        Shape(plug, "trim", 5.5, "plug"),
        Shape(np.array([(STEM - 2, 36 + lift), (334, 20)], dtype=float), "outline", 3.5, "arm"),
        Shape(rect(322, 17, 334, 23), "steel", 3.6),
    ]


def _fixed() -> list[Shape]:
    boxes = [
        Shape(rounded([(x, y, 4), (x + WIDE, y, 4), (x + WIDE, y + HIGH, 4), (x, y + HIGH, 4)]), look, 5)
        for x, y, look in BLOCKS.values()
    ]
    return [*boxes, *_wires(), *_actuator()]


BLOCK_DIAGRAM = Drawing(
    _fixed,
    _moving,
    tuple(NamedPart(name, (x + WIDE / 2, y + HIGH - 10), "here") for name, (x, y, _) in BLOCKS.items()),
    (-46, -12, 490, 172),
    0.94,
    bar=0,
    notes=((-25, 93, "4–20 mA"), (347, 46, "air supply")),
)
