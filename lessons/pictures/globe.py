"""Globe bodies of 2 in (DN 50): single-seated with an S-shaped passage."""

from __future__ import annotations

import numpy as np
from matplotlib.figure import Figure

from lessons.pictures import bonnet
from lessons.pictures import labels as numbers
from lessons.pictures.bonnet import both
from lessons.pictures.labels import Part
from lessons.pictures.parts import bar, rounded
from lessons.pictures.sheet import Drawing, Shape, draw, flow, lifted

JOINT = 70.0  # [mm] height of the bonnet joint above the pipe's centre line
FACE = 133.0  # [mm] from the valve's axis to a flange face
SEAT = 4.0  # [mm] height of the seat line
PORT = 23.0  # [mm] radius of the seat ring's bore
TRAVEL = 30.0  # [mm] rated travel
POINTER = 245.0  # [mm] height of the travel pointer, closed
S = np.inf  # as soft a corner as its neighbours allow


def contour(radius: float = PORT, travel: float = TRAVEL, steps: int = 24) -> np.ndarray:
    """Return an equal-percentage plug's radius against depth below its seat line, tip first."""
    depth = np.linspace(0, travel, steps)
    share = 0.86 * 50.0 ** (depth / travel - 1)
    outline = np.column_stack([radius * np.sqrt(1 - share), depth])
    return np.vstack([(outline[-1, 0] - 3, travel + 3), outline[::-1]])


def casting() -> list[Shape]:
    """Return the body with flanges, cut, and its two cavities."""
    outer = rounded([
        (-133, 82.5, 2), (-111, 82.5, 2), (-111, 39, 8), (-78, 39, 8), (-78, 70), (78, 70), (78, 39, 8),
        (111, 39, 8), (111, 82.5, 2), (133, 82.5, 2), (133, -82.5, 2), (111, -82.5, 2), (111, -38, 8),
        (88, -38, S), (64, -66, S), (0, -72, S), (-66, -64, S), (-88, -38, S), (-111, -38, 8), (-111, -82.5, 2),
        (-133, -82.5, 2),
    ])  # fmt: skip
    before = rounded([
        (-133, 25), (-84, 27, S), (-60, -9, S), (-31, -9), (31, -9), (50, -9, 10), (52, -42, S), (8, -62, S),
        (-58, -54, S), (-88, -25, S), (-133, -25),
    ])  # fmt: skip
    after = rounded([
        (-40, 70), (-40, 60, 4), (-46, 52, 6), (-46, 6, 9), (-31, 2), (31, 2), (56, 2, S), (72, -26, S),
        (133, -25), (133, 25), (88, 24, S), (66, 46, S), (46, 52, 8), (40, 60, 4), (40, 70),
    ])  # fmt: skip
    return [Shape(outer, "body", 1), Shape(before, "fluid high", 2), Shape(after, "fluid low", 2)]


def seat_ring() -> list[Shape]:
    """Return the screwed seat ring, cut; its bore is full of fluid."""
    ring = np.array([(PORT, -9), (31, -9), (31, 2), (36, 2), (36, 8), (PORT + 4, 8), (PORT, SEAT)], dtype=float)
    return [*both(ring, "seat", 3, "seat"), Shape(bar(PORT, -9.4, SEAT), "fluid high", 2.5)]


def _paths(lift: float) -> list[Shape]:
    """Return the flow under the seat, up through it on both sides of the plug, and out."""
    plug = np.interp(lift, contour()[::-1, 1], contour()[::-1, 0])
    mid, over = (PORT + plug) / 2, SEAT + 5 + lift / 2
    right = [(-128, -9), (-96, -10), (-66, -28), (-36, -42), (0, -42), (mid - 3, -28), (mid, -8), (mid + 1, SEAT),
             (PORT + 12, over), (56, 12), (84, 0), (126, -2)]  # fmt: skip
    left = [(-128, 9), (-96, 8), (-68, -12), (-46, -26), (-mid - 6, -28), (-mid, -14), (-mid, SEAT - 2),
            (-PORT - 8, over), (-36, 36), (-20, 48), (10, 50), (44, 40), (76, 18), (126, 12)]  # fmt: skip
    open_ = lift > 0.3
    return [*flow("flow-left", left, open_, arrows=(0.16, 0.99)), *flow("flow-right", right, open_, arrows=(0.2, 0.99))]


def lower_half() -> list[Shape]:
    """Return body and seat ring."""
    return [*casting(), *seat_ring()]


def topworks(legs: float, broken: bool = False) -> list[Shape]:
    """Return bonnet, bolting, packing, yoke legs as high as `legs` above the joint, and travel scale."""
    top = [*bonnet.casting(), *bonnet.bolting(), *bonnet.packing(), *bonnet.yoke_legs(legs, broken)]
    return [*lifted(top, JOINT), *bonnet.scale_plate(POINTER, TRAVEL)]


def moving(travel: float) -> list[Shape]:
    """Return plug, stem with connector and pointer, and flow path."""
    lift = TRAVEL * travel
    plug = bonnet.plug(SEAT, PORT, contour(), lift, JOINT + 22)
    return [plug, *bonnet.stem(JOINT + 22, POINTER, lift), *_paths(lift)]


GLOBE_SINGLE = Drawing(
    lambda: [*lower_half(), *topworks(222.0, broken=True)],
    moving,
    (
        Part("body", (-100, -31)),
        Part("web", (-54, 4)),
        Part("seat ring", (33, 5)),
        Part("plug", (-14, 22), rides=(0, 30)),
        Part("guide bushing", (13, 84)),
        Part("gasket", (45, 69.5)),
        *numbers.lifted(bonnet.PARTS, JOINT),
        *numbers.lifted(bonnet.OUTSIDE, JOINT),
        Part("yoke", (-64, 270)),
    ),
    (-133, -86, 133, 306),
    1.05,
)


def globe_single(travel: float = 0.5, names: bool = True) -> Figure:
    """Draw a single-seated globe valve body with contoured plug."""
    return draw(GLOBE_SINGLE, travel, names)
