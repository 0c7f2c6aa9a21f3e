"""Angle body of 2 in (DN 50): in at the side, over the seat and out at the bottom."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart, lifted_parts
from lessons.pictures.cutaways.parts import bar, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import TRAVEL, both
from lessons.pictures.cutaways.trim.trim_shapes import contour

JOINT = 64.0
SEAT, PORT = -34.0, 23.0
CONTOUR = contour("equal percentage", PORT, TRAVEL)
S = np.inf


def _casting() -> list[Shape]:
    """Return the body with side and bottom flange, cut, and its cavities."""
    outer = rounded([
        (-125, 82.5, 2), (-103, 82.5, 2), (-103, 39, 8), (-78, 39, 8), (-78, JOINT), (78, JOINT), (78, 42, 8),
        (60, 40, 6), (58, -30, 14), (40, -50, 14), (40, -103, 8), (82.5, -103, 2), (82.5, -125, 2),
            (-82.5, -125, 2),
        (-82.5, -103, 2), (-40, -103, 8), (-40, -60, 18), (-62, -38, 16), (-103, -38, 8), (-103, -82.5, 2),
        (-125, -82.5, 2),
    ])  # fmt: skip
    before = rounded([
        (-125, 25), (-70, 25, 12), (-46, 46, 8), (-40, 54, 4), (-40, 64), (40, 64), (40, 54, 4), (46, 46, 8),
        (46, -24, 14), (31, -36), (-31, -36), (-52, -25, 10), (-125, -25),
    ])  # fmt: skip
    after = rounded(
        [(-31, -46), (31, -46), (28, -60, S), (25, -80, S), (25, -125), (-25, -125), (-25, -80, S), (-28, -60, S)]
    )
    return [Shape(outer, "body", 1), Shape(before, "fluid high", 2), Shape(after, "fluid low", 2)]


def _seat_ring() -> list[Shape]:
    """Return the screwed seat ring, cut, and the fluid in its bore."""
    ring = np.array([(-13, PORT), (-13, 31), (-2, 31), (-2, 36), (4, 36), (4, PORT + 4), (0, PORT)], dtype=float)
    section = ring[:, ::-1] + (0, SEAT)
    return [*both(section, "seat", 3, "seat"), Shape(bar(PORT, SEAT - 13, SEAT), "fluid low", 2.5)]


def _paths(lift: float) -> list[Shape]:
    """Return the flow round the plug and down through the seat."""
    plug = np.interp(lift, CONTOUR[::-1, 1], CONTOUR[::-1, 0])
    mid, over = (PORT + plug) / 2, SEAT + 6 + lift / 2
    left = [
        (-120, -4),
        (-90, -4),
        (-52, -8),
        (-PORT - 10, over),
        (-mid, SEAT - 2),
        (-mid + 1, -56),
        (-12, -84),
        (-12, -119),
    ]
    right = [(-120, 8), (-84, 8), (-44, 14), (-16, 32), (20, 26), (40, 2), (PORT + 12, over), (mid, SEAT - 2),
             (mid - 1, -56), (12, -84), (12, -119)]  # fmt: skip
    return [*flow("flow-left", left, lift > 0.3), *flow("flow-right", right, lift > 0.3, arrows=(0.14, 1))]


def _moving(travel: float) -> list[Shape]:
    """Return plug, stem with connector and pointer, and flow paths."""
    lift = TRAVEL * travel
    plug = bonnet.plug(SEAT, PORT, CONTOUR, lift, JOINT + 22)
    return [plug, *bonnet.stem(JOINT + 22, JOINT, lift), *_paths(lift)]


ANGLE = Drawing(
    lambda: [*_casting(), *_seat_ring(), *bonnet.topworks(JOINT, 215, fluid="fluid high")],
    _moving,
    (
        NamedPart("body", (52, 10)),
        NamedPart("inlet flange", (-114, 60)),
        NamedPart("outlet flange", (60, -114)),
        NamedPart("seat ring", (33, SEAT + 1)),
        NamedPart("plug", (-12, SEAT + 16), rides=(0, 30)),
        NamedPart("guide bushing", (13, JOINT + 14)),
        NamedPart("gasket", (45, JOINT - 0.5)),
        *lifted_parts(bonnet.PARTS[:3], JOINT),
        *lifted_parts(bonnet.OUTSIDE[1:], JOINT),
        NamedPart("yoke", (-64, JOINT + 148)),
    ),
    (-131, -128, 131, JOINT + 239),
    1.05,
)
