"""A control valve in its line, seen from the side: block valves, strainer, bypass, drains, supports. A sketch."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, arc, bar, circle, flip, rect, round_bar, shift, turn
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

PIPE, SMALL = 13.0, 9.0  # [mm] half of the pipe and of the valve's own bore, on paper
ENDS, TEE, TOP = 292.0, 236.0, 318.0  # [mm] where the drawing ends, where the bypass leaves, how high it runs
BLOCK, STRAIN, CONE = 178.0, -112.0, 58.0  # [mm] block valves, strainer, wide end of the reducers
FLOOR = -128.0
STROKE = 15.0  # [mm] of the stem, on paper


def _flanges(x: float, half: float, radius: float) -> list[Shape]:
    """Return the flange pairs at both ends of something in the pipe."""
    return [
        Shape(rect(x + s * half - 4, -radius - 11, x + s * half + 4, radius + 11), "casting", 4) for s in (-1.0, 1.0)
    ]


def _wheel(x: float, y: float, high: float) -> list[Shape]:
    """Return bonnet, stem and hand wheel of a hand valve from its pipe's centre line up."""
    profile = [(9, 0), (9, high * 0.35), (15, high * 0.35), (15, high * 0.45), (6, high * 0.55), (6, high * 0.7)]
    wheel = [Shape(shift(rect(-24, high * 0.9, 24, high), x, y), "steel", 6)]
    return [
        Shape(shift(rect(-2.5, 0, 2.5, high), x, y), "bolt", 4.5),
        Shape(shift(round_bar(profile), x, y), "casting", 5),
        *wheel,
    ]


def _hand_valve(x: float, y: float, high: float, body: str = "gate") -> list[Shape]:
    """Return a hand valve in a level pipe: a wedge-shaped gate body, or the round one of a globe."""
    gate = np.array([(-25, PIPE + 3), (-14, 24), (14, 24), (25, PIPE + 3), (25, -PIPE - 3), (12, -22), (-12, -22),
                     (-25, -PIPE - 3)], dtype=float)  # fmt: skip
    shape = gate if body == "gate" else circle(0, 0, 27)
    flanges = [s._replace(xy=shift(s.xy, 0, y)) for s in _flanges(x, 29, PIPE)]
    return [Shape(shift(shape, x, y), "casting", 4.5), *flanges, *_wheel(x, y, high)]


def _pipes() -> list[Shape]:
    level = [Shape(rect(-ENDS, -PIPE, ENDS, PIPE), "sheet", 2)]
    over = [Shape(rect(-TEE + PIPE, TOP - PIPE, TEE - PIPE, TOP + PIPE), "sheet", 2)]
    legs, bends = [], []
    for side in (-1.0, 1.0):
        legs.append(Shape(rect(side * TEE - PIPE, PIPE, side * TEE + PIPE, TOP - PIPE), "sheet", 2))
        outer, inner = arc(TEE - PIPE, TOP - PIPE, 2 * PIPE, 0, 90), np.array([(TEE - PIPE, TOP - PIPE)])
        bend = np.vstack([outer, inner])
        bends.append(Shape(bend if side > 0 else flip(bend), "sheet", 2.2))
    return [*level, *over, *legs, *bends]


def _reducers() -> list[Shape]:
    cone = np.array([(CONE + 26, PIPE), (CONE, SMALL), (CONE, -SMALL), (CONE + 26, -PIPE)])
    room = rect(CONE - 4, -PIPE - 1, CONE + 26, PIPE + 1)
    covers = [Shape(xy, "open air", 2.5) for xy in (room, flip(room))]
    return [*covers, *(Shape(xy, "steel", 3) for xy in (cone, flip(cone)))]


def _drain(x: float) -> list[Shape]:
    """Return a drain: a short leg with a small valve and an open end."""
    cone = [np.array([(-9, s * 9), (0, 0), (9, s * 9)]) for s in (-1.0, 1.0)]
    leg = Shape(rect(x - 4, -82, x + 4, -PIPE), "sheet", 1.8)
    handle = Shape(rect(x - 2, -53, x + 20, -49), "bolt", 4)
    return [leg, *(Shape(shift(each, x, -51), "casting", 3) for each in cone), handle]


def _strainer() -> list[Shape]:
    """Return a strainer with its basket in a leg that hangs down; cap and blow-off valve to clean and drain it."""
    leg = np.array([(0, -9), (52, -9), (52, 9), (0, 9)], dtype=float)
    cap = rect(52, -14, 60, 14)
    body = np.array([(-25, PIPE + 3), (25, PIPE + 3), (25, -PIPE - 3), (-25, -PIPE - 3)], dtype=float)
    cones = [np.array([(71 + s * 9, -8), (71, 0), (71 + s * 9, 8)]) for s in (-1.0, 1.0)]
    parts = ((leg, "casting", 3), (cap, "casting", 3.2), (cones[0], "casting", 3), (cones[1], "casting", 3))
    turned = [Shape(shift(turn(xy, -48), STRAIN - 8, 0), look, z) for xy, look, z in parts]
    return [*turned, Shape(shift(body, STRAIN, 0), "casting", 3.6), *_flanges(STRAIN, 29, PIPE)]


def _supports() -> list[Shape]:
    shapes = []
    for x in (-264.0, -146.0, 146.0, 264.0):
        shapes += [Shape(rect(x - 5, FLOOR, x + 5, -PIPE - 6), "steel", 1.5)]
        shapes += [Shape(rect(x - 14, -PIPE - 6, x + 14, -PIPE), "steel", 1.6)]
        shapes += [Shape(rect(x - 16, FLOOR - 5, x + 16, FLOOR), "steel", 1.6)]
    return shapes


def _valve() -> list[Shape]:
    """Return the control valve: body, bonnet, yoke and actuator, upright."""
    body = np.array(
        [(-50, 13), (-30, 24), (-19, 40), (19, 40), (30, 24), (50, 13), (50, -13), (26, -30), (-26, -30), (-50, -13)],
        dtype=float,
    )
    bonnet = round_bar([(24, 40), (24, 48), (12, 52), (12, 84), (20, 84), (20, 90)])
    yoke: list[Points] = [rect(s * 24 - 4, 90, s * 24 + 4, 168) for s in (-1.0, 1.0)]
    lower = round_bar([(14, 168), (60, 182), (68, 186), (68, 190)])
    upper = round_bar([(68, 190), (68, 194), (58, 200), (22, 222), (8, 226)])
    arrow = [Shape(np.array([(-26.0, -2), (10, -2), (10, -7), (26, 1), (10, 9), (10, 4), (-26, 4)]), "dark", 6)]
    return [
        Shape(body, "casting", 5),
        *_flanges(0, 54, PIPE - 2),
        Shape(bonnet, "casting", 5),
        *(Shape(each, "casting", 5) for each in yoke),
        Shape(bar(28, 90, 96), "casting", 5.2),
        Shape(bar(28, 162, 168), "casting", 5.2),
        Shape(lower, "steel", 5),
        Shape(upper, "steel", 5),
        *arrow,
    ]


def _fixed() -> list[Shape]:
    path = flow("path", [(-ENDS - 8, 0), (-ENDS + 10, 0), (-ENDS + 26, 0)], True, arrows=(1.0,), size=11)
    return [
        *_pipes(), *_supports(), *_reducers(), *_hand_valve(-BLOCK, 0, 82), *_hand_valve(BLOCK, 0, 82), *_strainer(),
        *_drain(112), *_hand_valve(0, TOP, 78, "globe"), *_valve(),
        *(s._replace(gid="") for s in path),
    ]  # fmt: skip


def _moving(travel: float) -> list[Shape]:
    """Return stem and travel pointer: air opens it."""
    lift = STROKE * travel
    pointer = np.array([(-14, 118 + lift), (14, 118 + lift), (14, 126 + lift), (-14, 126 + lift)])
    return [Shape(rect(-3, 86, 3, 164), "bolt", 4.8, "stem"), Shape(pointer, "trim", 5.5, "pointer")]


INSTALLATION = Drawing(
    _fixed,
    _moving,
    (
        NamedPart("bypass valve", (-20, TOP + 14), "left"),
        NamedPart("actuator", (-40, 196), "left"),
        NamedPart("upstream block valve", (-BLOCK, 60), "left"),
        NamedPart("strainer", (STRAIN + 14, -30), "left"),
        NamedPart("pipe support", (-264, -84), "left"),
        NamedPart("flow arrow", (16, 1), "right"),
        NamedPart("downstream block valve", (BLOCK + 4, 60), "right"),
        NamedPart("reducer", (CONE + 14, 0), "right"),
        NamedPart("drain valve", (112, -51), "right"),
    ),
    (-ENDS - 8, FLOOR - 8, ENDS, TOP + 84),
    0.455,
    says=lambda travel: f"travel {100 * travel:.0f} %, a sketch",
    bar=0.0,
)
