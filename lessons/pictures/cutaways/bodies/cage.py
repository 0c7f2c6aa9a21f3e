"""Cage-guided globe bodies of 2 in (DN 50), with a closed and with a pressure-balanced plug."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.bodies import globe
from lessons.pictures.cutaways.labels import NamedPart, lifted_parts
from lessons.pictures.cutaways.parts import Points, bar, flip, rect, rounded, shift
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import STEM, TRAVEL, both
from lessons.pictures.cutaways.trim.trim_shapes import window

JOINT = 90.0  # [mm] height of the bonnet joint above the pipe's centre line
SEAT, PORT = globe.SEAT, globe.PORT
INSIDE, OUTSIDE = 27.0, 33.0  # [mm] radii of the cage
SILL = 10.0  # [mm] lower edge of the windows
HEAD = 46.0  # [mm] top of the plug, closed
CAGE_TOP = JOINT - 6


def caged_ring() -> list[Shape]:
    """Return the loose seat ring that the cage clamps down on its gasket, and the fluid in it."""
    ring = np.array([(PORT, -9), (31, -9), (31, 0), (37, 0), (37, 8), (PORT + 4, 8), (PORT, SEAT)], dtype=float)
    shapes = both(ring, "seat", 3, "seat") + both(rect(31, 0, 37, 2), "soft", 3.1)
    return [*shapes, Shape(bar(PORT, -9.4, SEAT), "fluid high", 2.5)]


def _opening(kind: str = "equal percentage") -> Points:
    """Return the outline of one window seen from inside."""
    half = window(kind, TRAVEL, 24.0)
    right = np.column_stack([half[:, 0], SILL + half[:, 1]])
    return np.vstack([right, flip(right)[::-1]])


def _cage() -> list[Shape]:
    """Return the cage: its far half with one window, and the cut wall above and below the windows."""
    top = SILL + TRAVEL + 1.5
    shapes = [Shape(rect(-INSIDE, 8, INSIDE, CAGE_TOP), "cage behind", 2.6), Shape(_opening(), "fluid low", 2.7)]
    for low, high in ((8, SILL), (top, CAGE_TOP)):
        shapes += both(rect(INSIDE, low, OUTSIDE, high), "cage", 4.5)
    shapes += both(rect(OUTSIDE, CAGE_TOP - 8, 39, CAGE_TOP), "cage", 4.5)
    return shapes


def caged_plug(lift: float, balanced: bool) -> list[Shape]:
    """Return the plug, cut: a cup with a web; the balanced one has holes through the web and a seal ring on top."""
    wall = [(0, SEAT + 14), (16, SEAT + 14, 3), (17, SEAT - 3, 2), (PORT - 0.4, SEAT - 3),
        (PORT - 0.2, SEAT - 0.2),
            (PORT + 3, SEAT + 3), (INSIDE - 0.4, SEAT + 5), (INSIDE - 0.4, HEAD), (20, HEAD, 2),
                (18, SEAT + 28, 3),
            (0, SEAT + 28)]  # fmt: skip
    half = rounded(wall)
    shapes = [Shape(np.vstack([half, flip(half)[::-1]]), "trim cut", 6, "plug")]
    if balanced:
        for name, x in (("left", -16.5), ("right", 10.5)):
            shapes.append(Shape(rect(x, SEAT + 14, x + 6, SEAT + 28), "fluid high", 6.2, f"hole-{name}"))
        for name, x in (("left", -INSIDE), ("right", INSIDE - 4)):
            shapes.append(Shape(rect(x, HEAD - 6, x + 4, HEAD - 2), "soft", 6.3, f"seal-{name}"))
    shapes = [s._replace(xy=shift(s.xy, 0, lift)) for s in shapes]
    above = bar(INSIDE, SEAT + 28 + lift, CAGE_TOP)
    inside = "fluid high" if balanced else "fluid low"
    cup = bar(16.5, SEAT - 3.5 + lift, SEAT + 14 + lift)
    return [*shapes, Shape(above, inside, 3, "above"), Shape(cup, "fluid high", 5.9, "cup")]


def _paths(lift: float) -> list[Shape]:
    """Return the flow up through the seat, out through the windows on both sides, and round the cage."""
    flows, level = lift > 0.3, SILL + 0.5 * lift
    right = [(-128, -9), (-96, -10), (-66, -28), (-36, -42), (0, -40), (14, -26), (18, -8),
        (21, SEAT + lift / 3),
             (INSIDE + 3, level), (48, level - 2), (84, 0), (126, -2)]  # fmt: skip
    left = [(-128, 9), (-96, 8), (-68, -12), (-46, -26), (-24, -26), (-18, -8), (-21, SEAT + lift / 3),
            (-INSIDE - 4, level), (-40, level + 10), (-38, 46), (-10, 56), (30, 52), (56, 34), (88, 12),
                (126, 12)]  # fmt: skip
    return [
        *flow("flow-left", left, flows, arrows=(0.16, 0.99), z=2.9),
        *flow("flow-right", right, flows, arrows=(0.2, 0.99), z=2.9),
    ]


def _fixed(balanced: bool) -> list[Shape]:
    fluid = "fluid high" if balanced else "fluid low"
    top = bonnet.topworks(JOINT, 213, post=False, fluid=fluid)
    return [*globe.casting(JOINT), *caged_ring(), *_cage(), *top]


def _moving(travel: float, balanced: bool) -> list[Shape]:
    lift = TRAVEL * travel
    return [*caged_plug(lift, balanced), *bonnet.stem(SEAT + 20, JOINT, lift), *_paths(lift)]


def _drawing(balanced: bool) -> Drawing:
    parts = [
        NamedPart("body", (-100, -31)),
        NamedPart("web", (-54, 4)),
        NamedPart("seat ring", (34, 5)),
        NamedPart("plug", (-21, SEAT + 9), rides=(0, 30)),
        NamedPart("cage", (30, CAGE_TOP - 16)),
        NamedPart("cage window", (30, SILL + 26)),
        NamedPart("stem bushing", (STEM + 2, JOINT + 34), "right"),
        NamedPart("gasket", (45, JOINT - 0.5)),
        *lifted_parts(bonnet.PARTS[:3], JOINT),
        *lifted_parts(bonnet.OUTSIDE[1:], JOINT),
        NamedPart("yoke", (-64, JOINT + 148)),
    ]
    if balanced:
        parts += [
            NamedPart("balance hole", (-13.5, SEAT + 22), "left", (0, 30)),
            NamedPart("plug seal", (-INSIDE + 2, HEAD - 4), "left", (0, 30)),
        ]
    return Drawing(
        lambda: _fixed(balanced),
        lambda travel: _moving(travel, balanced),
        tuple(parts),
        (-133, -86, 133, JOINT + 239),
        1.05,
    )


CAGE_UNBALANCED, CAGE_BALANCED = _drawing(False), _drawing(True)
