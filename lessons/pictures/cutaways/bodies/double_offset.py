"""Double-offset butterfly valve of 2 in (DN 50): its shaft lies behind the seat ring and beside the pipe's axis."""

from __future__ import annotations

from typing import Any

import numpy as np

from lessons.pictures.cutaways.bodies import rotary
from lessons.pictures.cutaways.bodies.rotary import FRONT
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, circle, rect, rounded, shift, turn
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

SEAT = -11.0  # [mm] plane of the seat: the first offset
SHAFT = (0.0, -3.0)  # [mm] and the second, beside the pipe's axis
PORT = 24.0  # [mm] radius where the disc meets its seat
BORE = 28.0  # [mm] radius of the body behind the seat
HALF = 21.5  # [mm] half the distance between the pipe flanges
BODY = 52.0  # [mm] radius of the body
POCKET = 37.0  # [mm] outer radius of the seat retainer
ANGLE = 90.0  # [degrees] from closed to open
FACE, BACK = -13.5, -8.5  # [mm] the rim of the disc, before and behind the seat
HUB, HUB_HALF = 8.0, 9.0  # [mm] how far the hub reaches behind the shaft, and half its width


def _disc_section(angle: float) -> Points:
    """Return the disc cut along the pipe, turned clockwise about its shaft."""
    upper = [(FACE, 22.7), (SEAT, PORT), (BACK, 24.9), (-7, 21.5), (-4.5, 12, 6), (HUB, HUB_HALF + SHAFT[1], 7)]
    lower = [(HUB, SHAFT[1] - HUB_HALF, 7), (-4.5, -17, 6), (-7, -21.5), (BACK, -24.9), (SEAT, -PORT), (FACE, -22.7)]
    return turn(rounded([*upper, *lower, (FACE - 1.5, 0, 40)]), -angle, SHAFT)


def _disc_front(angle: float) -> Points:
    """Return the disc seen along the pipe; the rim swings to one side as it opens."""
    z = PORT * np.cos(np.linspace(0, np.pi, 61))
    rim = np.sqrt(np.maximum(PORT**2 - z**2, 0))
    hub = np.clip(1 - (z / 22) ** 2, 0, 1)
    edges: list[tuple[Any, Any]] = [(FACE, rim), (FACE, -rim), (BACK, rim), (BACK, -rim)]
    edges += [(BACK + hub * (HUB - BACK), SHAFT[1] + side * np.minimum(HUB_HALF, rim)) for side in (1, -1)]
    a = np.radians(angle)
    across = [SHAFT[1] - np.asarray(x) * np.sin(a) + (y - SHAFT[1]) * np.cos(a) for x, y in edges]
    low, high = np.min(across, axis=0), np.max(across, axis=0)
    return np.vstack([np.column_stack([high, z]), np.column_stack([low, z])[::-1]])


def _fixed() -> list[Shape]:
    shapes = [*rotary.pipe_flanges(HALF + 0.5), *rotary.front(BODY, BORE), *rotary.shaft(-48)]
    for radius, look, z in ((POCKET, "ring", 2.81), (26.5, "seat", 2.82), (PORT, "fluid low", 2.83)):
        shapes.append(Shape(circle(FRONT, 0, radius, 72), look, z))
    reach = float(np.sqrt(PORT**2 - rotary.SHAFT**2))  # the shaft behind the disc, as far as the seat lets it be seen
    shapes.append(Shape(rect(FRONT - rotary.SHAFT, -reach, FRONT + rotary.SHAFT, reach), "trim", 2.84))
    body = [(-HALF, POCKET), (-14.5, POCKET), (-14.5, 34), (-9.5, 34), (-9.5, BORE), (HALF, BORE), (HALF, BODY),
            (-HALF, BODY)]  # fmt: skip
    seat = [(SEAT, PORT), (-12.6, 23.9), (-14.5, 25.5), (-14.5, 34), (-9.5, 34), (-9.5, 29), (-10.6, 26)]
    retainer = [(-HALF, 26.5), (-14.5, 26.5), (-14.5, POCKET), (-HALF, POCKET)]
    for sign, name in ((1, "seat-top"), (-1, "seat-bottom")):
        for corners, look, gid in ((body, "body", ""), (seat, "seat", name), (retainer, "ring", "")):
            shapes.append(Shape(np.array(corners, dtype=float) * (1, sign), look, 3.2 if gid else 3, gid))
    return shapes


def _rim(angle: float) -> Points:
    return turn([(SEAT, PORT), (SEAT, -PORT)], -angle, SHAFT)


def _fluid(angle: float) -> list[Shape]:
    """Return the fluid before and after the disc, parted along it."""
    (top, bottom), end, face = _rim(angle), rotary.END, HALF + 0.5
    inlet = [(-face, 26), (-face, 26.5), (-14.5, 26.5), (SEAT, PORT)]
    outlet = [(-9.5, BORE), (face, BORE), (face, 26), (end, 26)]
    mirror = [(x, -y) for x, y in inlet[::-1]]
    before = [(-end, -26), (-end, 26), *inlet, top, bottom, *mirror]
    after = [(SEAT, -PORT), bottom, top, (SEAT, PORT), *outlet, *[(x, -y) for x, y in outlet[::-1]]]
    return [Shape(np.array(before), "high", 1.8, "before"), Shape(np.array(after), "low", 1.9, "after")]


def _paths(angle: float) -> list[Shape]:
    """Return the flow past both edges of the disc."""
    (x, y), (u, v) = _rim(angle)
    middle = (BORE + y) / 2
    over = [(-62, 9), (-40, 11), (x - 20, 0.6 * middle + 5), (x, middle), (x + 14, 0.75 * middle), (61, 9)]
    if x > 20:
        over = [(-62, 11), (-40, 13), (-10, 18), (14, 18), (36, 15), (61, 11)]
    low = (v - BORE) / 2
    under = [(-62, -9), (-42, -12), (min(u - 4, -18), low), (3, -21), (24, -17), (61, -9)]
    flows = angle > 1
    return [*flow("flow-over", over, flows, arrows=(0.14, 1)), *flow("flow-under", under, flows, arrows=(0.14, 1))]


def _moving(travel: float) -> list[Shape]:
    """Return disc in both views, fluid and flow path."""
    angle = ANGLE * travel
    return [
        *_fluid(angle),
        Shape(_disc_section(angle), "trim", 5, "disc"),
        Shape(circle(*SHAFT, rotary.SHAFT), "steel", 5.5, "shaft-end"),
        Shape(shift(_disc_front(angle), FRONT, 0), "trim", 2.85, "disc-front"),
        *_paths(angle),
    ]


DOUBLE_OFFSET = Drawing(
    _fixed,
    _moving,
    (
        *rotary.parts(BODY),
        NamedPart("disc", (FRONT - 5, -15), "left"),
        NamedPart("pipe flange", (34, 72)),
        NamedPart("flange stud", (-2, 64), "right"),
        NamedPart("seat retainer", (-18, 32), "right"),
        NamedPart("seat ring", (-12, 31), "right"),
        NamedPart("hub", (3, -3), "right"),
    ),
    rotary.BOX,
    rotary.SCALE,
    lambda travel: f"opened {ANGLE * travel:.0f}°, travel {100 * travel:.0f} %",
    notes=rotary.NOTES,
)
