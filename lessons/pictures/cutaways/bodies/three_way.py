"""Three-way bodies of 2 in (DN 50): mixing two streams into one, and dividing one into two."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart, lifted_parts
from lessons.pictures.cutaways.parts import bar, flip, round_bar, rounded, shift
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import TRAVEL, both

JOINT = 100.0
PORT = 23.0
HALF = 23.0  # [mm] height of the upper seat line above the pipe's centre line; the lower is as far below
FACES = 16.0  # [mm] between the seating faces of the mixing plug
S = np.inf


def _casting(side: str, upper: str, lower: str) -> list[Shape]:
    """Return the body, cut: left port to above the upper seat, bottom port to below the lower, right port between."""
    outer = rounded([
        (-133, 82.5, 2), (-111, 82.5, 2), (-111, 40, 5), (-100, 42, 8), (-82, 70, 8), (-78, 78),
            (-78, JOINT), (78, JOINT), (78, 42, 8),
        (111, 39, 8), (111, 82.5, 2), (133, 82.5, 2), (133, -82.5, 2), (111, -82.5, 2), (111, -39, 8),
        (74, -39, 10), (54, -54, 10), (54, -88, 10), (40, -100, 8), (40, -113, 6), (82.5, -113, 2),
            (82.5, -135, 2),
        (-82.5, -135, 2), (-82.5, -113, 2), (-40, -113, 6), (-40, -100, 8), (-54, -88, 10), (-54, -54, 10),
        (-74, -39, 10), (-111, -39, 8), (-111, -82.5, 2), (-133, -82.5, 2),
    ])  # fmt: skip
    high = rounded([
        (-133, 25), (-100, 27, S), (-70, 62, S), (-46, 74, 8), (-40, 84, 4), (-40, 100), (40, 100),
            (40, 84, 4),
        (46, 74, 6), (46, 38, 8), (31, 31), (-46, 31, S), (-62, 6, S), (-80, -22, S), (-104, -25, S),
            (-133, -25),
    ])  # fmt: skip
    middle = rounded([
        (-36, 18, 5), (36, 18, S), (66, 24, S), (90, 25, S), (133, 25), (133, -25), (90, -25, S),
            (66, -24, S),
        (36, -18, S), (-36, -18, 5), (-47, -14, 8), (-47, 14, 8),
    ])  # fmt: skip
    low = rounded([(-31, -31), (31, -31), (40, -36, 6), (40, -86, S), (25, -104, S), (25, -135), (-25, -135),
                   (-25, -104, S), (-40, -86, S), (-40, -36, 6)])  # fmt: skip
    return [Shape(outer, "body", 1), Shape(high, upper, 2), Shape(middle, side, 2.1), Shape(low, lower, 2)]


def _seat_rings(sign_out: int, upper: str, lower: str) -> list[Shape]:
    """Return both seat rings, cut, and their fluids; the cones face the plug, inwards (-1) or outwards (+1)."""
    cone = [(PORT, HALF), (PORT + 4, HALF + 4 * sign_out)]
    out, back = HALF + 5 * sign_out, HALF - 9 * sign_out
    ring = np.array([(PORT, back), (33, back), (33, out), (PORT + 4, out), cone[1], cone[0]], dtype=float)
    shapes = both(ring, "seat", 3, "seat-upper") + both(ring * (1, -1), "seat", 3, "seat-lower")
    low, high = sorted((back, HALF))
    return [*shapes, Shape(bar(PORT, low, high), upper, 2.5), Shape(bar(PORT, -high, -low), lower, 2.5)]


def mixing_plug(lift: float) -> Shape:
    """Return the plug between the seats, with a taper into either; at lift 0 it sits on the lower one."""
    half = FACES / 2
    taper = [(8, half + 26), (13, half + 20), (19, half + 9), (PORT - 0.4, half)]
    face = [(PORT, half), (PORT + 3, half - 3)]
    upper = [
        *face[::-1],
        *taper[::-1],
        (bonnet.POST, half + 29),
        (bonnet.POST, JOINT + 37),
        (bonnet.POST - 2, JOINT + 39),
    ]
    profile = np.vstack([np.array(taper) * (1, -1), np.array(face) * (1, -1), upper])
    return Shape(shift(round_bar(profile), 0, lift - HALF + half), "trim", 6, "plug")


def dividing_plug(lift: float) -> Shape:
    """Return the two plugs outside the seats; at lift 0 the upper one is closed."""
    taper = [(PORT - 0.4, 0), (19, 10), (13, 21), (9, 26)]
    upper = np.array([(r, HALF - d) for r, d in taper[::-1]])
    lower = np.array([(r, -HALF - TRAVEL + d) for r, d in taper])
    back = [(PORT, HALF), (PORT + 3, HALF + 3), (PORT + 3, HALF + 9), (14, HALF + 15),
        (bonnet.POST, HALF + 19),
            (bonnet.POST, JOINT + 22), (bonnet.POST - 2, JOINT + 24)]  # fmt: skip
    foot = -HALF - TRAVEL
    front = [(PORT - 5, foot - 12), (PORT + 3, foot - 9), (PORT + 3, foot - 3), (PORT, foot)]
    return Shape(shift(round_bar(np.vstack([front, lower, upper, back])), 0, lift), "trim", 6, "plug")


def _mixing_moving(travel: float) -> list[Shape]:
    lift = TRAVEL * travel
    a_room, b_room = TRAVEL - lift, lift
    out = [(66, 2), (98, 0), (127, 0)]
    a = [(-128, -5), (-100, -3), (-70, 34), (-48, 50), (-28, 46), (-21, HALF + 4), (-25, HALF - a_room / 2),
        (-37, 8),
         (-30, 1), (0, 3), (40, 3), *out]  # fmt: skip
    a2 = [(-128, 8), (-100, 11), (-76, 46), (-48, 66), (0, 68), (32, 52), (21, HALF + 6),
        (PORT + 4, HALF - a_room / 2),
          (46, 10), (70, 8), (98, 7), (127, 7)]  # fmt: skip
    b = [
        (8, -130),
        (10, -90),
        (16, -54),
        (19, -HALF - 6),
        (PORT + 4, b_room / 2 - HALF),
        (44, -8),
        (70, -7),
        (98, -7),
        (127, -7),
    ]
    b2 = [(-8, -130), (-10, -90), (-16, -54), (-19, -HALF - 6), (-PORT - 2, b_room / 2 - HALF), (-37, -8),
        (-30, -1), (0, -2),
          (40, 0), *out]  # fmt: skip
    return [
        mixing_plug(lift),
        *bonnet.stem(JOINT + 24, JOINT, lift),
        *flow("flow-a-left", a, a_room > 0.3, arrows=(0.1,)),
        *flow("flow-a-right", a2, a_room > 0.3, arrows=(0.1, 1)),
        *flow("flow-b-right", b, b_room > 0.3, arrows=(0.15, 1)),
        *flow("flow-b-left", b2, b_room > 0.3, arrows=(0.13,)),
    ]


def _dividing_moving(travel: float) -> list[Shape]:
    lift = TRAVEL * travel
    a_room, b_room = lift, TRAVEL - lift
    a = [(128, 8), (96, 8), (50, 8), (22, 12), (21, HALF - 2), (PORT + 8, HALF + 5 + a_room / 2), (34, 58),
        (0, 66),
         (-46, 60), (-76, 34), (-100, 8), (-127, 6)]  # fmt: skip
    b = [(128, -8), (96, -8), (50, -8), (22, -12), (21, -HALF + 2), (PORT + 6, -HALF - 4 - b_room / 2),
        (28, -70),
         (14, -96), (10, -129)]  # fmt: skip
    b2 = [(128, 0), (96, 0), (50, 0), (0, 2), (-22, -10), (-21, -HALF + 2),
        (-PORT - 6, -HALF - 4 - b_room / 2), (-28, -70),
          (-14, -96), (-10, -129)]  # fmt: skip
    flows = [
        *flow("flow-a", a, a_room > 0.3, arrows=(0.12, 1)),
        *flow("flow-b", b, b_room > 0.3, arrows=(0.12, 1)),
        *flow("flow-b-left", b2, b_room > 0.3, arrows=(0.12, 1)),
    ]
    return [dividing_plug(lift), *bonnet.stem(JOINT + 24, JOINT, lift), *mirrored(flows)]


def mirrored(shapes: list[Shape]) -> list[Shape]:
    """Return shapes with left and right changed over."""
    return [s._replace(xy=flip(s.xy)) for s in shapes]


def _drawing(mixing: bool) -> Drawing:
    """Return the drawing of the mixing body, or of the dividing one with its common port on the left."""
    if mixing:
        body = [*_casting("fluid low", "fluid high", "fluid other"), *_seat_rings(-1, "fluid high", "fluid other")]
        ports = (
            NamedPart("inlet A", (-122, 16)),
            NamedPart("inlet B", (-20, -112)),
            NamedPart("outlet AB", (122, -16)),
        )
        plugs: tuple[NamedPart, ...] = (NamedPart("plug", (-19, -HALF + 12), "left", (0, 30)),)
    else:
        body = mirrored(
            [*_casting("fluid high", "fluid low", "fluid low"), *_seat_rings(1, "fluid high", "fluid high")]
        )
        ports = (
            NamedPart("inlet AB", (-122, 16)),
            NamedPart("outlet B", (-20, -112)),
            NamedPart("outlet A", (122, -16)),
        )
        plugs = (NamedPart("upper plug", (-18, HALF + 7), "left", (0, 30)),
                 NamedPart("lower plug", (-14, -HALF - TRAVEL - 5), "left", (0, 30)))  # fmt: skip
    parts = (
        *ports, *plugs,
        NamedPart("body", (92, -33)),
        NamedPart("upper seat ring", (28, HALF + 4 * (-1 if mixing else 0))),
        NamedPart("lower seat ring", (28, -HALF - 4 * (-1 if mixing else 0))),
        NamedPart("guide bushing", (13, JOINT + 14)),
        *lifted_parts(bonnet.PARTS[:3], JOINT), *lifted_parts(bonnet.OUTSIDE[1:], JOINT),
        NamedPart("yoke", (-64, JOINT + 148)),
    )  # fmt: skip
    top = bonnet.topworks(JOINT, 213, fluid="fluid high" if mixing else "fluid low")
    return Drawing(lambda: [*body, *top], _mixing_moving if mixing else _dividing_moving, parts,
                   (-133, -138, 133, JOINT + 239), 1.05, _says_mixing if mixing else _says_dividing)  # fmt: skip


def _says_mixing(travel: float) -> str:
    return f"travel {100 * travel:.0f} %: {100 - 100 * travel:.0f} % of A, {100 * travel:.0f} % of B open"


def _says_dividing(travel: float) -> str:
    return f"travel {100 * travel:.0f} %: {100 * travel:.0f} % of A, {100 - 100 * travel:.0f} % of B open"


MIXING, DIVERTING = _drawing(True), _drawing(False)
