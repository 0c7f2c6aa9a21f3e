"""Weir diaphragm valve of 2 in (DN 50): a rubber sheet pressed down on a sill in the body."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart, lifted_parts
from lessons.pictures.cutaways.parts import Points, rect, round_bar, rounded, shift
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow, lifted
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import STEM, both

JOINT = 40.0  # [mm] height of the joint that clamps the diaphragm
CREST = 2.0  # [mm] top of the weir
CLAMP = 54.0  # [mm] from the axis to where the diaphragm is held
THICK = 6.0  # [mm] of the diaphragm
RISE = 12.0  # [mm] of the open diaphragm above the joint
LIFT = JOINT + RISE - CREST  # [mm] travel of the stem
S = np.inf
X = np.linspace(-CLAMP, CLAMP, 61)


def under(travel: float) -> Points:
    """Return the lower face of the diaphragm: on the weir when closed, a dome when open."""
    share = np.abs(X) / CLAMP
    bowl = 3 * share**2 - 2 * share**3
    closed = CREST + (JOINT - CREST) * np.maximum(bowl - 0.002, 0) / 0.998
    opened = JOINT + RISE * (1 - bowl)
    return np.column_stack([X, (1 - travel) * closed + travel * opened])


def sill() -> Points:
    """Return the floor of the passage over the weir, from left to right."""
    x = np.linspace(-78, 78, 53)
    return np.column_stack([x, CREST - (CREST + 25) * np.sin(np.pi / 2 * x / 78) ** 2])


def _fixed() -> list[Shape]:
    left = [(-115, 82.5, 2), (-95, 82.5, 2), (-95, 38, 8), (-80, 38), (-80, JOINT)]
    mouth = [(-CLAMP, JOINT), (-60, 30, 4), (-72, 25, 8), (-115, 25)]
    half = rounded([*left, *mouth])
    floor = sill()
    foot = rounded([(115, -25), (115, -82.5, 2), (95, -82.5, 2), (95, -38, 8), (62, -38, S), (34, -16, S),
        (-34, -16, S),
                    (-62, -38, S), (-95, -38, 8), (-95, -82.5, 2), (-115, -82.5, 2),
                        (-115, -25)])  # fmt: skip
    body = [*both(half, "body", 3), Shape(np.vstack([floor, foot]), "body", 3, "weir")]
    return [*body, *lifted(top(), JOINT)]


def top() -> list[Shape]:
    """Return the bonnet without packing, its bolting, yoke legs and scale, standing on the joint."""
    half = rounded([(CLAMP, 6), (80, 6), (80, 24, 3), (66, 26, 6), (58, 62, 12), (34, 72, 8), (34, 92),
        (27, 92, 1.5),
                    (27, 124, 1.5), (STEM + 4, 124), (STEM + 4, 66), (30, 58, 6), (46, 48, 8),
                        (CLAMP - 2, 18, 8)])  # fmt: skip
    shapes = both(half, "bonnet", 3) + both(rect(STEM, 70, STEM + 4, 120), "guide", 3.2)
    shapes += both(rect(CLAMP, 0, 80, 6), "liner", 3.1)
    shapes += both(rect(66, -16, 75, 42), "bolt", 4)
    shapes += both(rounded([(62, 24), (79, 24), (79, 37, 3), (62, 37, 3)]), "bolt", 4.5)
    return [*shapes, *bonnet.yoke_legs(234, True), *bonnet.scale_plate(LIFT)]


def _fluids(below: Points) -> list[Shape]:
    """Return the fluid before and after the weir, under the diaphragm."""
    mid = len(X) // 2
    floor = sill()
    half = len(floor) // 2
    left = np.vstack([[(-115, 25), (-72, 25), (-60, 30)], below[: mid + 1], floor[: half + 1][::-1], [(-115, -25)]])
    right = np.vstack([[(115, 25), (72, 25), (60, 30)], below[mid:][::-1], floor[half:], [(115, -25)]])
    return [Shape(left, "high", 1.8, "before"), Shape(right, "low", 1.8, "after")]


def _paths(travel: float) -> list[Shape]:
    """Return the flow over the weir, and under the diaphragm."""
    room = LIFT * travel
    shapes = []
    for name, share, start in (("upper", 0.72, 8.0), ("lower", 0.3, -9.0)):
        y = CREST + share * room
        line = [
            (-111, start),
            (-84, start),
            (-40, 0.5 * start + 0.45 * y),
            (0, y),
            (40, 0.5 * start + 0.45 * y),
            (84, start),
            (111, start),
        ]
        shapes += flow(f"flow-{name}", line, travel > 0.01, arrows=(0.12, 1))
    return shapes


def _moving(travel: float) -> list[Shape]:
    """Return diaphragm, compressor, stem, fluid and flow path."""
    below = under(travel)
    sheet = np.vstack([below, (below + (0, THICK))[::-1]])
    level = below[len(X) // 2, 1] + THICK
    press = round_bar([(1, 0), (8, 2.2), (16, 8.0), (22, 13.8), (22, 20), (12, 24), (12, 32), (0, 32)])
    lift = LIFT * travel
    return [
        *_fluids(below),
        Shape(sheet, "liner", 2.5, "diaphragm"),
        Shape(shift(press, 0, level), "steel", 2.6, "compressor"),
        *bonnet.stem(CREST + THICK + 28, JOINT, lift),
        *_paths(travel),
    ]


WEIR = Drawing(
    _fixed,
    _moving,
    (
        NamedPart("body", (-88, -31)),
        NamedPart("weir", (-8, -6)),
        NamedPart("valve diaphragm", (52, JOINT + 3)),
        NamedPart("compressor", (-17, CREST + THICK + 15), "left", (0, LIFT)),
        NamedPart("bonnet", (-54, JOINT + 54)),
        NamedPart("stem bushing", (STEM + 2, JOINT + 100), "right"),
        NamedPart("body studs", (70, JOINT + 40)),
        *lifted_parts(bonnet.OUTSIDE[1:2], JOINT),
        *(p._replace(rides=(0, LIFT) if any(p.rides) else (0, 0)) for p in lifted_parts(bonnet.OUTSIDE[2:], JOINT)),
        NamedPart("yoke", (-64, JOINT + 148)),
    ),
    (-133, -86, 133, JOINT + 255),
    1.05,
)
