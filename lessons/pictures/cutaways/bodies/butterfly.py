"""Butterfly valve of 2 in (DN 50) with a rubber liner, clamped between pipe flanges."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.bodies import rotary
from lessons.pictures.cutaways.bodies.rotary import FRONT
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, circle, rounded, shift, turn
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

RADIUS = 25.0  # [mm] of the disc
HALF = 21.5  # [mm] half the distance between the pipe flanges
BODY = 50.0  # [mm] radius of the body
ANGLE = 90.0  # [degrees] from closed to open


def disc_section(angle: float) -> Points:
    """Return the disc cut along the pipe: a lens with the shaft through it, turned by so many degrees."""
    upper = [(9, 7, 8), (2.2, 21), (2.2, 23), (0.7, RADIUS), (-0.7, RADIUS), (-2.2, 23), (-2.2, 21), (-9, 7, 8)]
    return turn(rounded([*upper, *[(-x, -y, *r) for x, y, *r in upper]]), -angle)


def disc_front(angle: float) -> Points:
    """Return the disc seen along the pipe: a circle that turns edge-on as it opens."""
    y = RADIUS * np.cos(np.linspace(0, np.pi, 61))
    thick = np.interp(np.abs(y), [0, 7, 21, RADIUS], [9, 8.5, 2.2, 0.7])
    a = np.radians(angle)
    half = np.maximum(np.sqrt(np.maximum(RADIUS**2 - y**2, 0)) * np.cos(a) + 0.7 * np.sin(a), 0.9 * thick * np.sin(a))
    return np.vstack([np.column_stack([half, y]), np.column_stack([-half, y])[::-1]])


def _fixed() -> list[Shape]:
    shapes = [*rotary.pipe_flanges(HALF + 1.5), *rotary.front(BODY, 33), *rotary.shaft(-46)]
    ring = [(-HALF, 33), (HALF, 33), (HALF, BODY), (-HALF, BODY)]
    liner = rounded([(-HALF - 1.5, 25), (HALF + 1.5, 25), (HALF + 1.5, 42, 1), (HALF, 42), (HALF, 33),
        (-HALF, 33),
                     (-HALF, 42), (-HALF - 1.5, 42, 1)])  # fmt: skip
    for sign, name in ((1, "seat-top"), (-1, "seat-bottom")):
        shapes.append(Shape(np.array(ring, dtype=float) * (1, sign), "body", 3))
        shapes.append(Shape(liner * (1, sign), "liner", 4, name))
    shapes.append(Shape(circle(FRONT, 0, 33, 72), "liner", 2.4))
    shapes.append(Shape(circle(FRONT, 0, RADIUS, 72), "fluid low", 2.5))
    return shapes


def _fluid(angle: float) -> list[Shape]:
    """Return the fluid before and after the disc, parted along it."""
    top, bottom = turn([(0, RADIUS), (0, -RADIUS)], -angle)
    end, face = rotary.END, HALF + 1.5
    before = [
        (-end, -26),
        (-end, 26),
        (-face, 26),
        (-face, 25),
        (0, 25),
        top,
        bottom,
        (0, -25),
        (-face, -25),
        (-face, -26),
    ]
    after = [(end, 26), (end, -26), (face, -26), (face, -25), (0, -25), bottom, top, (0, 25), (face, 25), (face, 26)]
    return [Shape(np.array(before), "high", 1.8, "before"), Shape(np.array(after), "low", 1.9, "after")]


def _paths(angle: float) -> list[Shape]:
    """Return the flow past both edges of the disc."""
    x, y = RADIUS * np.sin(np.radians(angle)), RADIUS * np.cos(np.radians(angle))
    mid = (RADIUS + y) / 2
    over = np.array([(-62, 9), (-40, 10), (-14 + 0.2 * x, 0.55 * mid + 5), (x, mid), (x + 14, 0.7 * mid + 3), (61, 9)])
    under = -over[::-1] + (0, 0)
    flows = angle > 1
    return [*flow("flow-over", over, flows, arrows=(0.16, 1)), *flow("flow-under", under, flows, arrows=(0.16, 1))]


def _moving(travel: float) -> list[Shape]:
    """Return disc in both views, fluid and flow path."""
    angle = ANGLE * travel
    return [
        *_fluid(angle),
        Shape(disc_section(angle), "trim", 5, "disc"),
        Shape(circle(0, 0, rotary.SHAFT), "trim", 5.5, "shaft-end"),
        Shape(shift(disc_front(angle), FRONT, 0), "trim", 2.9, "disc-front"),
        *_paths(angle),
    ]


BUTTERFLY = Drawing(
    _fixed,
    _moving,
    (
        *rotary.parts(BODY),
        NamedPart("disc", (FRONT - 1, -14), "left"),
        NamedPart("pipe flange", (34, 72)),
        NamedPart("flange stud", (-2, 64), "right"),
        NamedPart("liner", (12, 29)),
        NamedPart("hub", (0, 0), "right"),
    ),
    rotary.BOX,
    rotary.SCALE,
    lambda travel: f"opened {ANGLE * travel:.0f}°, travel {100 * travel:.0f} %",
    notes=rotary.NOTES,
)
