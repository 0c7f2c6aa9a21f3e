"""A filter-regulator, the air set: air comes in on the left, is cleaned below, reduced above, leaves on the right."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.air.fittings import pair, port, says
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, coil, flip, rect, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

LIFT = 5.0  # [mm] the supply valve opens
FOLD = 36.0  # [mm] level of the diaphragm's rim


def _body() -> list[Shape]:
    block = rounded([(-48, -16, 3), (48, -16, 3), (48, 34, 3), (-48, 34, 3)])
    shapes = [Shape(block, "body", 3)]
    right = rounded(
        [
            (0, 36),
            (32, 36),
            (32, 23),
            (49, 23),
            (49, 14),
            (32, 14),
            (32, 8),
            (6, 8),
            (6, -1),
            (13, -4),
            (13, -17),
            (0, -17),
        ]
    )
    left = rounded([(0, 36), (-32, 36), (-32, 8), (-6, 8), (-6, -1), (-13, -4), (-13, -17), (0, -17)])
    shapes += [Shape(np.vstack([right, left[::-1]]), "air within", 4)]
    inlet = rounded([(-49, 2), (-18, 2), (-18, -17), (-30, -17), (-30, -7), (-49, -7)])
    shapes += [Shape(inlet, "air within", 4)]
    shapes += pair(rounded([(6, -1), (13, -1), (13, 8), (10, 10, 1), (6, 10, 1)]), "seat", 4.5)
    return [*shapes, *port(-48, -2.5, 4.5, -20), *port(48, 18.5, 4.5, 20)]


def _bowl() -> list[Shape]:
    outer = [(30, -16), (34, -16), (34, -92, 16), (6, -104, 3), (6, -112), (2, -112), (2, -99), (30, -88, 12)]
    inside = np.vstack(
        [rounded([(30, -16), (30, -88, 12), (2, -99)]), flip(rounded([(30, -16), (30, -88, 12), (2, -99)]))[::-1]]
    )
    water = np.array([(-23.5, -86), (23.5, -86), (2, -99), (-2, -99)], dtype=float)
    shapes = [Shape(inside, "air within", 3.2), Shape(water, "fluid high", 3.3), *pair(rounded(outer), "sheet", 3)]
    shapes += [*pair(rect(13, -66, 20, -16), "packing", 4), Shape(rect(-23, -71, 23, -66), "steel", 4.2)]
    shapes += [Shape(rect(-2, -112, 2, -99), "open air", 3.1), Shape(rect(-10, -120, 10, -111), "bolt", 3.5)]
    return [*shapes, Shape(rect(-2, -128, 2, -120), "steel", 3.4)]


def _bonnet() -> list[Shape]:
    wall = [
        (46, FOLD),
        (46, 44),
        (30, 52, 4),
        (30, 112),
        (9, 112),
        (9, 104),
        (25, 104),
        (25, 50, 3),
        (38, 43),
        (38, FOLD),
    ]
    hollow = rounded([(0, FOLD), (38, FOLD), (38, 43), (25, 50), (25, 104), (0, 104)])
    shapes = [*pair(rounded(wall), "bonnet", 6), Shape(np.vstack([hollow, flip(hollow)[::-1]]), "open air", 2)]
    shapes += [Shape(rect(24, 62, 31, 66), "open air", 6.1)]
    screw = [Shape(rect(-5, 96, 5, 132), "steel", 6.5), Shape(rect(-9, 103, 9, 113), "bolt", 6.4)]
    knob = Shape(rounded([(-16, 124, 3), (16, 124, 3), (16, 140, 4), (-16, 140, 4)]), "bolt", 6.6)
    return [*shapes, *screw, knob, Shape(rect(-18, 92, 18, 97), "steel", 6.3)]


def _rubber(drop: float) -> Points:
    half = np.array(
        [(24, FOLD - drop), (28, FOLD - drop), (32, FOLD + 5 - drop / 2), (36, FOLD), (48, FOLD)], dtype=float
    )
    return np.vstack([flip(half)[::-1], half])


def moving(travel: float) -> list[Shape]:
    """Return supply valve, stem, diaphragm and spring: the more air is taken, the lower they stand."""
    drop = LIFT * travel
    plug = np.array([(-8.5, -9), (8.5, -9), (8.5, -3.5), (6, -1), (-6, -1), (-8.5, -3.5)], dtype=float) + (0, -drop)
    plate = np.array([(-24, 36.5), (24, 36.5), (24, 41), (-24, 41)], dtype=float) + (0, -drop)
    through = [(-66, -2.5), (-32, -2.5), (-25, -8), (-25, -40), (-16, -50), (-10, -40), (-11, -14), (-8, -4), (-4, 4),
               (-3, 12), (12, 19), (40, 18.5), (66, 18.5)]  # fmt: skip
    path = flow("air-through", through, travel > 0, arrows=(0.16, 0.4, 1.0), look="air flow", z=9)
    wire = coil(-17, 17, 41 - drop, 92, 5)
    foot = coil(-6, 6, -66, -9 - drop, 5)
    return [
        Shape(plug, "trim", 5, "supply-valve"),
        Shape(rect(-2, -1 - drop, 2, 36 - drop), "steel", 5.1, "pin"),
        Shape(_rubber(drop), "rubber", 7, "rubber"),
        Shape(plate, "steel", 6.2, "plate"),
        Shape(wire, "wire", 5.5, "spring"),
        Shape(wire, "wire core", 5.6, "spring-core"),
        Shape(foot, "thin wire", 4.6, "foot-spring"),
        Shape(foot, "thin wire core", 4.7, "foot-spring-core"),
        *path,
    ]


AIR_SET = Drawing(
    lambda: [*_body(), *_bowl(), *_bonnet()],
    moving,
    (
        NamedPart("setting screw", (3, 118), "left"),
        NamedPart("setting spring", (-17, 72), "left"),
        NamedPart("spring-side vent", (28, 64), "right"),
        NamedPart("regulator diaphragm", (34, FOLD + 2), "right"),
        NamedPart("air outlet", (62, 17), "right"),
        NamedPart("air inlet", (-62, -4), "left"),
        NamedPart("supply valve", (6, -6), "right", (0, -LIFT)),
        NamedPart("filter element", (16.5, -40), "right"),
        NamedPart("bowl", (-32, -60), "left"),
        NamedPart("collected water", (8, -92), "right"),
        NamedPart("drain", (-6, -116), "left"),
    ),
    (-70, -130, 70, 142),
    1.3,
    says("no air taken: shut", "air taken", "much air taken: wide open"),
    bar=0,
)
