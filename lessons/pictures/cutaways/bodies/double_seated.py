"""Double-seated globe body of 2 in (DN 50): two plugs on one stem, so that the fluid nearly balances itself."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart, lifted_parts
from lessons.pictures.cutaways.parts import bar, rect, round_bar, rounded, shift
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import TRAVEL, both
from lessons.pictures.cutaways.trim.trim_shapes import contour

JOINT = 88.0  # [mm] height of the bonnet joint; the bottom joint is as far below
UPPER, LOWER = 30.0, -26.0  # [mm] heights of the seat lines
PORTS = (20.5, 17.0)  # [mm] radii of upper and lower port; the lower plug goes in through the upper port
POST = 9.0  # [mm] radius of the lower guide post
S = np.inf


def _casting() -> list[Shape]:
    """Return the body, cut: the inlet leads between the two webs, the outlet round them."""
    right = [(133, 82.5, 2), (133, -82.5, 2), (111, -82.5, 2), (111, -40, 8), (78, -40, 8), (78, -88)]
    left = [(-78, -88), (-78, -40, 8), (-111, -40, 8), (-111, -82.5, 2), (-133, -82.5, 2), (-133, 82.5, 2),
            (-111, 82.5, 2), (-111, 40, 8), (-78, 40, 8), (-78, 88)]  # fmt: skip
    outer = rounded([*left, (78, 88), (78, 40, 8), (111, 40, 8), (111, 82.5, 2), *right])
    after = rounded([
        (-40, 88), (-40, 78, 4), (-48, 68, 8), (-48, 40, 8), (-40, 30, 4), (34, 30, 2), (62, 30, S),
            (62, -28, S),
        (34, -28, 2), (-40, -28, 4), (-48, -40, 8), (-48, -68, 8), (-40, -78, 4), (-40, -88), (40, -88),
        (40, -78, 4), (58, -70, S), (80, -26, S), (133, -25), (133, 25), (80, 26, S), (58, 70, S),
            (40, 78, 4), (40, 88),
    ])  # fmt: skip
    before = rounded([
        (-133, 25), (-90, 25, S), (-66, 17, S), (34, 17, 4), (48, 17, S), (48, -15, S), (34, -15, 4),
            (-66, -15, S),
        (-90, -25, S), (-133, -25),
    ])  # fmt: skip
    return [Shape(outer, "body", 1), Shape(after, "fluid low", 2), Shape(before, "fluid high", 2)]


def _seat_rings() -> list[Shape]:
    """Return both screwed seat rings, cut, and the fluid in their bores."""
    shapes = []
    for name, line, port, foot in (("upper", UPPER, PORTS[0], 17), ("lower", LOWER, PORTS[1], -39)):
        ring = [(port, foot), (port + 8, foot), (port + 8, line), (port + 11, line),
                (port + 11, line + 4), (port + 4, line + 4), (port, line)]  # fmt: skip
        shapes += both(np.array(ring, dtype=float), "seat", 3, f"seat-{name}")
        shapes.append(Shape(bar(port, foot, line + 4), "fluid high", 2.5))
    return shapes


def bottom() -> list[Shape]:
    """Return the bottom flange with the lower guide bushing."""
    cap = rounded([(13, -82), (38, -82), (38, -88), (78, -88), (78, -106, 2), (30, -106, 8), (26, -138, 6),
        (-26, -138, 6), (-30, -106, 8), (-78, -106, 2),
                   (-78, -88), (-38, -88), (-38, -82), (-13, -82), (-13, -132, 3),
                       (13, -132, 3)])  # fmt: skip
    shapes = [Shape(cap, "bonnet", 3), Shape(bar(13, -132, -82), "fluid low", 2)]
    shapes += both(rect(POST, -122, 14, -82), "guide", 3.5) + both(rect(40, -89, 50, -85.5), "soft", 4)
    shapes += both(rect(57, -124, 67, -64), "bolt", 4)
    return shapes + both(rounded([(53, -106), (71, -106), (71, -119, 3), (53, -119, 3)]), "bolt", 4.5)


def _plug(lift: float) -> Shape:
    """Return the double plug with its upper and lower guide posts."""
    high, low = PORTS
    upper, lower = (contour("equal percentage", r, TRAVEL) for r in PORTS)
    profile = np.vstack([
        [(POST - 2, -128), (POST, -126), (POST, -62)],
        [(r, LOWER - d) for r, d in lower],
        [(low, LOWER), (low + 2.5, LOWER + 2.5), (low + 2.5, LOWER + 5), (12, LOWER + 9)],
        [(r, UPPER - d) for r, d in upper if r > 12],
        [(high, UPPER), (high + 3, UPPER + 3), (high + 3, UPPER + 9), (13, UPPER + 16),
            (bonnet.POST, UPPER + 20),
         (bonnet.POST, JOINT + 20), (bonnet.POST - 2, JOINT + 22)],
    ])  # fmt: skip
    return Shape(shift(round_bar(profile), 0, lift), "trim", 6, "plug")


def _paths(lift: float) -> list[Shape]:
    """Return the flow between the webs, through both ports, and round to the outlet."""
    up = [(-128, 8), (-92, 8), (-60, 2), (-20, 2), (4, 4), (16, 14), (18, 26), (27, UPPER + 6 + lift / 2),
        (42, 46),
          (66, 36), (90, 10), (126, 8)]  # fmt: skip
    up_left = [(-128, 14), (-92, 14), (-60, 8), (-30, 6), (-18, 16), (-19, 26), (-28, UPPER + 6 + lift / 2),
        (-34, 60),
               (-10, 70), (36, 66), (66, 46), (92, 16), (126, 14)]  # fmt: skip
    down = [(-128, -8), (-92, -8), (-60, -4), (-36, -8), (-24, LOWER + 6 + lift / 5), (-14.5, LOWER - 3),
        (-15, -46),
            (-14, -62), (24, -64), (54, -54), (84, -12), (126, -8)]  # fmt: skip
    flows = lift > 0.3
    arrows = (0.13, 0.99)
    return [
        *flow("flow-up", up, flows, arrows=(0.99,)),
        *flow("flow-left", up_left, flows, arrows=arrows),
        *flow("flow-down", down, flows, arrows=arrows),
    ]


def _moving(travel: float) -> list[Shape]:
    """Return plug, stem with connector and pointer, and flow paths."""
    lift = TRAVEL * travel
    return [_plug(lift), *bonnet.stem(JOINT + 22, JOINT, lift), *_paths(lift)]


GLOBE_DOUBLE = Drawing(
    lambda: [*_casting(), *_seat_rings(), *bottom(), *bonnet.topworks(JOINT, 215)],
    _moving,
    (
        NamedPart("body", (-100, 33)),
        NamedPart("upper seat ring", (27, UPPER + 2), "right"),
        NamedPart("lower seat ring", (25, LOWER - 6), "right"),
        NamedPart("upper plug", (-16, UPPER + 8), "left", rides=(0, 30)),
        NamedPart("lower plug", (-14, LOWER + 3), "left", rides=(0, 30)),
        NamedPart("guide bushing", (13, JOINT + 14)),
        NamedPart("lower guide bushing", (12, -110)),
        NamedPart("bottom flange", (-34, -96)),
        NamedPart("gasket", (45, JOINT - 0.5)),
        *lifted_parts(bonnet.PARTS[:3], JOINT),
        *lifted_parts(bonnet.OUTSIDE[1:], JOINT),
        NamedPart("yoke", (-64, JOINT + 148)),
    ),
    (-133, -140, 133, JOINT + 239),
    1.05,
)
