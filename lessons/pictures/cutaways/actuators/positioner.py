"""A force-balance pneumatic positioner with its linkage to the valve stem, its case opened.

The valve's stem stands at x = 0; the stem connector is at y = 0 when the valve is closed.
"""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, circle, coil, rect, rounded, shift, turn
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow
from lessons.pictures.cutaways.trim.bonnet import TRAVEL, torn

PIVOT = np.array([92.0, 15.0])  # [mm] the lever's shaft, level with the pin at half travel
PIN = 24.0  # [mm] from the stem's axis to the pin
SWING = float(np.degrees(np.arctan(TRAVEL / 2 / (PIVOT[0] - PIN))))  # [degrees] of the lever from half travel to an end
LEAST, MOST = 15.0, 25.0  # [mm] radius of the cam under the roller, closed and open
ROLLER = 5.0  # [mm]
BEAM = 74.0  # [mm] level of the beam
GAUGES = {"signal": (94.0, 1.0), "output": (136.0, 1.0), "supply": (178.0, 0.0)}  # [mm] place; share that moves
DIAL = -34.0  # [mm] level of the gauges


def lever_angle(travel: float) -> float:
    """Return how far the lever is turned from level: clockwise, so negative, when the stem is up [degrees]."""
    return -float(np.degrees(np.arctan(TRAVEL * (travel - 0.5) / (PIVOT[0] - PIN))))


def cam(angle: float) -> Points:
    """Return the cam, its radius rising with the angle so that opening the valve lifts the roller."""
    around = np.linspace(0, 350, 71)
    radius = np.interp(around - 90, [-60, -SWING, SWING, 60], [12, LEAST, MOST, 12])
    outline = radius[:, None] * np.column_stack([np.cos(np.radians(around)), np.sin(np.radians(around))])
    turned: Points = turn(outline, angle) + PIVOT
    return turned


def roller_level(angle: float) -> float:
    """Return the height of the roller on top of the cam."""
    return float(PIVOT[1]) + float(np.interp(-angle, [-SWING, SWING], [LEAST, MOST])) + ROLLER


def _case() -> list[Shape]:
    outer = rounded([(64, -58, 8), (216, -58, 8), (216, 122, 8), (64, 122, 8)])
    inner = rounded([(70, -52, 5), (210, -52, 5), (210, 116, 5), (70, 116, 5)])
    leg = np.array([*torn(38, 50, -62), *torn(38, 50, 126)[::-1]])
    bracket = [Shape(rect(36, 78, 66, 98), "steel", 3), Shape(rect(40, 84, 48, 92), "bolt", 3.5)]
    return [Shape(leg, "casting", 2), *bracket, Shape(outer, "bonnet", 4), Shape(inner, "open air", 4.1)]


def _balance() -> list[Shape]:
    """Return bellows, beam with its pivot, nozzle and tube."""
    folds = [(78 + (4 if i % 2 else 0), BEAM + 5 + 2.5 * i) for i in range(11)]
    bellows = np.array([*folds, *[(184 - x, y) for x, y in folds[::-1]]])
    beam = rounded([(76, BEAM, 1), (180, BEAM, 1), (180, BEAM + 5, 1), (76, BEAM + 5, 1)])
    pivot = np.array([(142, BEAM), (135, BEAM - 14), (149, BEAM - 14)], dtype=float)
    nozzle = np.array(
        [(167, BEAM + 18), (167, BEAM + 9), (170, BEAM + 5.6), (174, BEAM + 5.6), (177, BEAM + 9), (177, BEAM + 18)]
    )
    tube = np.array([(170, BEAM + 18), (174, BEAM + 18), (174, BEAM + 28), (186, BEAM + 28),
        (186, BEAM + 4), (190, BEAM + 4),
                     (190, BEAM + 32), (170, BEAM + 32)])  # fmt: skip
    return [
        Shape(bellows, "sheet", 5),
        Shape(rect(84, BEAM + 6, 100, BEAM + 29), "air", 5.1),
        Shape(rect(88, BEAM + 29, 96, 130), "air", 5.2),
        Shape(rect(82, 116, 102, 126), "bolt", 5.1),
        Shape(beam, "steel", 6),
        Shape(pivot, "dark", 5.9),
        Shape(nozzle, "steel", 6),
        Shape(tube, "air", 5.5),
    ]


def _relay() -> list[Shape]:
    """Return the pilot relay, cut, with its three connections."""
    block = rounded([(168, -6, 2), (204, -6, 2), (204, 66, 2), (168, 66, 2)])
    shapes = [
        Shape(block, "ring", 5),
        Shape(rect(173, 54, 199, 62), "air", 5.1),
        Shape(rect(173, 44, 199, 54), "open air", 5.1),
    ]
    shapes += [Shape(rect(186, 62, 190, BEAM + 6), "air", 5.2), Shape(rect(173, 53, 199, 55), "soft", 5.3)]
    shapes += [Shape(rect(178, 20, 194, 38), "air", 5.1), Shape(rect(178, 0, 194, 15), "air", 5.1)]
    shapes += [Shape(rect(183, 15, 189, 20), "air", 5.15), Shape(rect(184.5, 20, 187.5, 53), "steel", 5.4)]
    shapes += [Shape(rounded([(180, 8), (192, 8), (188, 17), (184, 17)]), "soft", 5.3)]
    shapes += [Shape(rect(194, 25, 232, 33), "air", 5.2), Shape(rect(216, 22, 224, 36), "bolt", 5.3)]
    shapes += [Shape(rect(194, 3, 232, 11), "air", 5.2), Shape(rect(216, 0, 224, 14), "bolt", 5.3)]
    return [*shapes, Shape(rect(199, 47, 222, 51), "open air", 5.2)]


def _dials() -> list[Shape]:
    shapes = []
    for x, _ in GAUGES.values():
        shapes += [Shape(circle(x, DIAL, 13), "plate", 5), Shape(circle(x, DIAL, 1.5, 12), "dark", 7)]
        for mark in np.radians(np.linspace(225, -45, 7)):
            way = np.array([np.cos(mark), np.sin(mark)])
            shapes.append(Shape(np.array([10 * way, 12.3 * way]) + (x, DIAL), "edge", 5.5))
    return shapes


def _linkage(travel: float) -> list[Shape]:
    """Return stem, connector with arm and pin, slotted lever, and the cam on its shaft."""
    lift, angle = TRAVEL * travel, lever_angle(travel)
    rod = np.array([*torn(-6, 6, -62 + lift), *torn(-6, 6, 96 + lift)[::-1]])
    clamp = rounded([(-16, -12, 2), (16, -12, 2), (16, 12, 2), (-16, 12, 2)])
    arm = rounded([(12, -4), (PIN + 5, -4, 3), (PIN + 5, 4, 3), (12, 4)])
    far = PIVOT[0] - PIN
    lever = rounded([(-far - 9, -5, 4), (8, -7, 6), (8, 7, 6), (-far - 9, 5, 4)])
    slot = rounded([(-far - 6, -2.3, 2), (-far + 12, -2.3, 2), (-far + 12, 2.3, 2), (-far - 6, 2.3, 2)])
    return [
        Shape(rod, "trim", 2.5, "stem"),
        Shape(shift(clamp, 0, lift), "steel", 3, "connector"),
        Shape(shift(arm, 0, lift), "steel", 3.1, "arm"),
        Shape(cam(angle), "trim", 6, "cam"),
        Shape(turn(lever, angle) + PIVOT, "steel", 6.5, "lever"),
        Shape(turn(slot, angle) + PIVOT, "open air", 6.6, "slot"),
        Shape(circle(PIN, lift, 2.3, 16), "dark", 6.8, "pin"),
    ]


def _moving(travel: float) -> list[Shape]:
    """Return linkage, follower, feedback spring, needles and the air that goes to the actuator."""
    angle = lever_angle(travel)
    level = roller_level(angle)
    hinge = np.array([140.0, 44.0])
    lean = np.degrees(np.arctan2(level - hinge[1], PIVOT[0] - hinge[0]))
    length = float(np.hypot(level - hinge[1], PIVOT[0] - hinge[0]))
    follower = turn(rounded([(-3, -3, 3), (length + 2, -3, 3), (length + 2, 3, 3), (-3, 3, 3)]), float(lean)) + hinge
    wire = coil(84, 100, level + 3, BEAM, 4)
    shapes = [
        Shape(follower, "steel", 6.2, "follower"),
        Shape(circle(PIVOT[0], level, ROLLER, 20), "bolt", 6.3, "roller"),
        Shape(wire, "thin wire", 5.6, "feedback-spring"),
        Shape(wire, "thin wire core", 5.7, "feedback-spring-core"),
    ]
    for name, (x, moves) in GAUGES.items():
        share = 0.1 + 0.7 * travel if moves else 0.9
        way = np.radians(225 - 270 * share)
        shapes.append(
            Shape(
                np.array([(x, DIAL), (x + 10 * np.cos(way), DIAL + 10 * np.sin(way))]), "outline", 6, f"needle-{name}"
            )
        )
    return [*_linkage(travel), *shapes]


def _fixed() -> list[Shape]:
    hinge = [Shape(circle(140, 44, 4, 16), "dark", 6.4)]
    paths = [
        *flow("air-signal", [(92, 146), (92, 138), (92, 128)], True, arrows=(1,), look="air flow", z=8),
        *flow("air-supply", [(246, 7), (238, 7), (228, 7)], True, arrows=(1,), look="air flow", z=8),
        *flow("air-output", [(226, 29), (236, 29), (246, 29)], True, arrows=(1,), look="air flow", z=8),
    ]
    return [*_case(), *_balance(), *_relay(), *_dials(), *hinge, *paths]


POSITIONER = Drawing(
    _fixed,
    _moving,
    (
        NamedPart("stem connector", (-14, 6), rides=(0, 30)),
        NamedPart("stem", (0, -30), "left"),
        NamedPart("yoke", (44, 112), "left"),
        NamedPart("take-off pin", (PIN, 0), "left", (0, 30)),
        NamedPart("feedback lever", (40, 3.5), "left", (0, 23)),
        NamedPart("positioner case", (67, -20), "left"),
        NamedPart("cam", (88, 4), "left"),
        NamedPart("signal connection", (92, 122), "left"),
        NamedPart("signal bellows", (103, 92), "right"),
        NamedPart("beam", (120, BEAM + 2), "right"),
        NamedPart("nozzle", (172, BEAM + 12), "right"),
        NamedPart("pilot relay", (201, 58), "right"),
        NamedPart("exhaust", (220, 49), "right"),
        NamedPart("output connection", (220, 29), "right"),
        NamedPart("supply connection", (220, 7), "right"),
        NamedPart("feedback spring", (86, 62), "left"),
        NamedPart("cam follower", (90, 40), "left", (0, 10)),
        NamedPart("signal gauge", (94, DIAL - 13), "below"),
        NamedPart("output gauge", (136, DIAL - 13), "below"),
        NamedPart("supply gauge", (178, DIAL - 13), "below"),
    ),
    (-20, -62, 248, 148),
    1.04,
    bar=0,
)
