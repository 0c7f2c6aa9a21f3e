"""Globe bodies of 2 in (DN 50): single-seated with an S-shaped passage."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways import labels as numbers
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import bar, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import TRAVEL, both
from lessons.pictures.cutaways.trim.trim_shapes import contour

JOINT = 70.0  # [mm] height of the bonnet joint above the pipe's centre line
FACE = 133.0  # [mm] from the valve's axis to a flange face
SEAT = 4.0  # [mm] height of the seat line
PORT = 23.0  # [mm] radius of the seat ring's bore
S = np.inf  # as soft a corner as its neighbours allow


CONTOUR = contour("equal percentage", PORT, TRAVEL)


def casting(joint: float = JOINT) -> list[Shape]:
    """Return the body with flanges, cut, and its two cavities; `joint` is the height of the bonnet joint."""
    outer = rounded([
        (-133, 82.5, 2), (-111, 82.5, 2), (-111, 39, 8), (-78, 39, 8), (-78, joint), (78, joint), (78, 39, 8),
        (111, 39, 8), (111, 82.5, 2), (133, 82.5, 2), (133, -82.5, 2), (111, -82.5, 2), (111, -38, 8),
        (88, -38, S), (64, -66, S), (0, -72, S), (-66, -64, S), (-88, -38, S), (-111, -38, 8),
            (-111, -82.5, 2),
        (-133, -82.5, 2),
    ])  # fmt: skip
    before = rounded([
        (-133, 25), (-84, 27, S), (-60, -9, S), (-31, -9), (31, -9), (50, -9, 10), (52, -42, S), (8, -62, S),
        (-58, -54, S), (-88, -25, S), (-133, -25),
    ])  # fmt: skip
    neck = joint - 18
    after = rounded([
        (-40, joint), (-40, neck + 8, 4), (-46, neck, 6), (-46, 6, 9), (-31, 2), (31, 2), (56, 2, S),
            (72, -26, S),
        (133, -25), (133, 25), (88, 24, S), (66, 46, S), (46, neck, 8), (40, neck + 8, 4), (40, joint),
    ])  # fmt: skip
    return [Shape(outer, "body", 1), Shape(before, "fluid high", 2), Shape(after, "fluid low", 2)]


def _seat_ring() -> list[Shape]:
    """Return the screwed seat ring, cut; its bore is full of fluid."""
    ring = np.array([(PORT, -9), (31, -9), (31, 2), (36, 2), (36, 8), (PORT + 4, 8), (PORT, SEAT)], dtype=float)
    return [*both(ring, "seat", 3, "seat"), Shape(bar(PORT, -9.4, SEAT), "fluid high", 2.5)]


def _paths(lift: float) -> list[Shape]:
    """Return the flow under the seat, up through it on both sides of the plug, and out."""
    plug = np.interp(lift, CONTOUR[::-1, 1], CONTOUR[::-1, 0])
    mid, over = (PORT + plug) / 2, SEAT + 5 + lift / 2
    right = [(-128, -9), (-96, -10), (-66, -28), (-36, -42), (0, -42), (mid - 3, -28), (mid, -8),
        (mid + 1, SEAT),
             (PORT + 12, over), (56, 12), (84, 0), (126, -2)]  # fmt: skip
    left = [(-128, 9), (-96, 8), (-68, -12), (-46, -26), (-mid - 6, -28), (-mid, -14), (-mid, SEAT - 2),
            (-PORT - 8, over), (-36, 36), (-20, 48), (10, 50), (44, 40), (76, 18), (126, 12)]  # fmt: skip
    open_ = lift > 0.3
    return [*flow("flow-left", left, open_, arrows=(0.16, 0.99)), *flow("flow-right", right, open_, arrows=(0.2, 0.99))]


def lower_half() -> list[Shape]:
    """Return body and seat ring."""
    return [*casting(), *_seat_ring()]


def globe_moving(travel: float) -> list[Shape]:
    """Return plug, stem with connector and pointer, and flow path."""
    lift = TRAVEL * travel
    plug = bonnet.plug(SEAT, PORT, CONTOUR, lift, JOINT + 22)
    return [plug, *bonnet.stem(JOINT + 22, JOINT, lift), *_paths(lift)]


GLOBE_SINGLE = Drawing(
    lambda: [*lower_half(), *bonnet.topworks(JOINT)],
    globe_moving,
    (
        NamedPart("body", (-100, -31)),
        NamedPart("web", (-54, 4)),
        NamedPart("seat ring", (33, 5)),
        NamedPart("plug", (-14, 22), rides=(0, 30)),
        NamedPart("guide bushing", (13, 84)),
        NamedPart("gasket", (45, 69.5)),
        *numbers.lifted_parts(bonnet.PARTS, JOINT),
        *numbers.lifted_parts(bonnet.OUTSIDE, JOINT),
        NamedPart("yoke", (-64, JOINT + 148)),
    ),
    (-133, -86, 133, JOINT + 239),
    1.05,
)
