"""Spring-and-diaphragm actuators, air to push down (direct) and air to push up (reverse).

Heights are above the actuator's foot, where the yoke legs end; `lift` is the stem's rise from the closed valve.
"""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways import sheet
from lessons.pictures.cutaways.actuators.casing import (
    CLAMP,
    DIRECT_SPLIT,
    HALF,
    REVERSE_SPLIT,
    ROD,
    STROKE,
    chamber,
    connection,
    dish,
    hollow,
    plate_and_rod,
    rim_bolts,
    rubber,
    spring,
)
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import bar, flip, rect, round_bar, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import both


def direct_fixed() -> list[Shape]:
    """Return casing, spring barrel and adjuster of the direct actuator."""
    wall = rounded([(58, 0), (70, 0), (66, 24, 8), (66, DIRECT_SPLIT - HALF - 4),
        (82, DIRECT_SPLIT - HALF - 4),
                    (82, DIRECT_SPLIT - HALF), (52, DIRECT_SPLIT - HALF), (52, 32, 4), (24, 26),
                        (24, 4, 3)])  # fmt: skip
    shapes = both(wall, "body", 3) + [Shape(rect(-52, 26, 52, DIRECT_SPLIT - HALF), "open air", 2)]
    shapes += both(rounded([(ROD + 2, -4, 1), (34, -4, 1), (34, 2), (24, 2), (24, 26), (ROD + 2, 26)]), "ring", 4)
    shapes += both(
        rounded([(ROD + 2, 26), (48, 26), (48, 32, 2), (ROD + 8, 32), (ROD + 8, 38), (ROD + 2, 38)]), "steel", 4
    )
    shapes += [hollow(DIRECT_SPLIT), *dish(DIRECT_SPLIT, 1, 0), *dish(DIRECT_SPLIT, -1, 52), *rim_bolts(DIRECT_SPLIT)]
    vent = Shape(rect(-101, DIRECT_SPLIT - 40, -88, DIRECT_SPLIT - 33), "open air", 9.6)
    return [*shapes, *connection(0, DIRECT_SPLIT + HALF + 3, 1), vent]


def direct_moving(lift: float) -> list[Shape]:
    """Return diaphragm, plate, spring, stem and the air above the diaphragm."""
    plate = DIRECT_SPLIT - STROKE / 2 + lift
    half = rubber(DIRECT_SPLIT, plate, 1)
    return [
        Shape(chamber(DIRECT_SPLIT, plate, 1), "air", 2.5, "air"),
        *spring(34, plate - 9),
        *plate_and_rod(-60 + lift, plate, 1),
        Shape(np.vstack([flip(half)[::-1], half]), "rubber", 6, "diaphragm"),
    ]


def reverse_fixed() -> list[Shape]:
    """Return casing, spring can with adjuster and stem seal of the reverse actuator."""
    low, high = REVERSE_SPLIT - HALF, REVERSE_SPLIT + HALF
    foot = rounded(
        [(ROD + 4, -4), (20, -4), (20, 0), (70, 0), (74, low - 4, 3), (90, low - 4), (90, low), (ROD + 4, low)]
    )
    shapes = both(foot, "body", 3) + both(rect(ROD, -4, ROD + 4, low), "guide", 4)
    shapes += both(rect(ROD, 2, ROD + 3, 6), "soft", 4.5) + both(rect(ROD, 8, ROD + 3, 12), "soft", 4.5)
    shapes += [hollow(REVERSE_SPLIT), *dish(REVERSE_SPLIT, 1, 52), *dish(REVERSE_SPLIT, -1, 24)]
    shapes += rim_bolts(REVERSE_SPLIT)
    can = rounded([(52, high), (80, high), (80, high + 4), (58, high + 4, 3), (58, high + 84, 12),
        (14, high + 84),
                   (14, high + 77), (52, high + 77, 6)])  # fmt: skip
    shapes += both(can, "sheet", 9) + [Shape(rect(-52, high, 52, high + 78), "open air", 2)]
    shapes.append(Shape(bar(14, high + 62, high + 100), "bolt", 9.2))
    shapes.append(Shape(round_bar([(46, high + 60), (46, high + 66), (16, high + 70)]), "steel", 4.5))
    shapes.append(
        Shape(rounded([(-24, high + 84), (24, high + 84), (24, high + 93, 2), (-24, high + 93, 2)]), "bolt", 9.4)
    )
    vent = Shape(rect(-62, high + 60, -50, high + 67), "open air", 9.6)
    return [*shapes, *connection(CLAMP - 14, REVERSE_SPLIT - 26, 0), vent]


def reverse_moving(lift: float) -> list[Shape]:
    """Return diaphragm, plate, spring, stem and the air below the diaphragm."""
    plate = REVERSE_SPLIT - STROKE / 2 + lift
    half = rubber(REVERSE_SPLIT, plate, -1)
    return [
        Shape(chamber(REVERSE_SPLIT, plate, -1), "air", 2.5, "air"),
        *spring(plate + 9, REVERSE_SPLIT + HALF + 58),
        *plate_and_rod(-60 + lift, plate, -1),
        Shape(np.vstack([flip(half)[::-1], half]), "rubber", 6, "diaphragm"),
    ]


def below(lift: float) -> list[Shape]:
    """Return stem connector, pointer and the end of the valve stem, hanging under the actuator's foot."""
    joint = -67.0 - bonnet.POINTER
    moved = [s for s in bonnet.stem(-104.0, joint, lift) if s.gid != "actuator-stem"]
    return [
        s
        if s.gid != "stem"
        else s._replace(
            xy=np.array(
                [
                    (bonnet.STEM, -70 + lift),
                    (-bonnet.STEM, -70 + lift),
                    *[(x, y + lift) for x, y in bonnet.torn(-bonnet.STEM, bonnet.STEM, -104.0)],
                ]
            )
        )
        for s in moved
    ]


def frame() -> list[Shape]:
    """Return the upper end of the yoke legs with the travel scale."""
    leg = np.array([(58, 1), (70, 1), *bonnet.torn(58, 70, -96.0)[::-1]])
    return [*both(leg, "casting", 2.9), *sheet.lifted(bonnet.scale_plate(), -67.0 - bonnet.POINTER)]


FRAME_PARTS = (
    NamedPart("yoke", (-64, -74)),
    NamedPart("stem connector", (-15, -67), rides=(0, 30)),
    NamedPart("travel pointer", (40, -67), rides=(0, 30)),
    NamedPart("travel scale", (69, -71)),
    NamedPart("stem", (0, -96), "left", (0, 30)),
)
REVERSE_PARTS = (
    NamedPart("spring adjuster", (20, REVERSE_SPLIT + HALF + 88)),
    NamedPart("vent", (-59, REVERSE_SPLIT + HALF + 63)),
    NamedPart("spring", (-38, REVERSE_SPLIT + HALF + 30)),
    NamedPart("upper casing", (-104, REVERSE_SPLIT + 34)),
    NamedPart("casing bolts", (126, REVERSE_SPLIT + 9)),
    NamedPart("diaphragm plate", (60, REVERSE_SPLIT - 11), rides=(0, 30)),
    NamedPart("diaphragm", (-70, REVERSE_SPLIT - 15), rides=(0, 30)),
    NamedPart("lower casing", (-86, REVERSE_SPLIT - 48.5)),
    NamedPart("air connection", (CLAMP + 8, REVERSE_SPLIT - 26)),
    NamedPart("stem seal", (9.5, 4)),
    NamedPart("actuator stem", (5, -18), "right"),
)
DIRECT_PARTS = (
    NamedPart("air connection", (8, DIRECT_SPLIT + HALF + 9)),
    NamedPart("upper casing", (-104, DIRECT_SPLIT + 34)),
    NamedPart("casing bolts", (126, DIRECT_SPLIT + 9)),
    NamedPart("diaphragm", (50, DIRECT_SPLIT - 15), rides=(0, 30)),
    NamedPart("diaphragm plate", (-60, DIRECT_SPLIT - 18.5), rides=(0, 30)),
    NamedPart("vent", (-95, DIRECT_SPLIT - 36)),
    NamedPart("lower casing", (86, DIRECT_SPLIT - 48.5)),
    NamedPart("spring", (-38, 80)),
    NamedPart("spring barrel", (60, 70)),
    NamedPart("spring seat", (-44, 29)),
    NamedPart("spring adjuster", (30, -1)),
    NamedPart("actuator stem", (5, -30), "right"),
)


def _drawing(which: str, top: float) -> Drawing:
    fixed, moved, names = {
        "direct": (direct_fixed, direct_moving, DIRECT_PARTS),
        "reverse": (reverse_fixed, reverse_moving, REVERSE_PARTS),
    }[which]
    return Drawing(
        lambda: [*fixed(), *frame()],
        lambda travel: [*moved(STROKE * travel), *below(STROKE * travel)],
        (*names, *FRAME_PARTS),
        (-138, -110, 138, top),
        1.0,
    )


DIRECT, REVERSE = _drawing("direct", 228), _drawing("reverse", 214)
