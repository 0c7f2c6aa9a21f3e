"""Full-bore ball valve of 2 in (DN 50): a whole ball with a straight hole turns between two seat rings."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.bodies import rotary
from lessons.pictures.cutaways.bodies.rotary import FRONT
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, rounded, shift, turn
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

BALL = 40.0  # [mm] radius
BORE = 25.0  # [mm] radius of the hole through the ball, and of both seat rings
EDGE = float(np.degrees(np.arcsin(BORE / BALL)))  # [degrees] from the pipe's axis to where a seat touches
ANGLE = 90.0  # [degrees] from closed to open
LAP = 2 * (45 - EDGE)  # [degrees] it turns before the hole passes the edge of a seat
POCKET = 35.0  # [mm] outer radius of the seat rings
BULGE = 46.0
BODY = BULGE + 11


def _halves(angle: float) -> tuple[Points, Points]:
    """Return what is left of the ball on either side of its hole, cut along the pipe, turned clockwise."""
    side = np.radians(np.linspace(90 + EDGE, 270 - EDGE, 41))
    left = BALL * np.column_stack([np.cos(side), np.sin(side)])
    return turn(left, -angle), turn(-left, -angle)


def _hole(angle: float) -> Points:
    """Return the hole, cut along the pipe, turned clockwise."""
    end = np.radians(np.linspace(90 + EDGE, 90 - EDGE, 25))
    top = BALL * np.column_stack([np.cos(end), np.sin(end)])
    return turn(np.vstack([top, -top]), -angle)


def _mouth(angle: float) -> Points:
    """Return what is free of the seat's bore, seen along the pipe: the hole comes in from one side."""
    y = BORE * np.cos(np.linspace(0, np.pi, 61))
    room = np.sqrt(np.maximum(BORE**2 - y**2, 0))
    away = np.radians(ANGLE - angle)
    left = np.clip(np.sqrt(BALL**2 - BORE**2) * np.sin(away) - room * np.cos(away), -room, room)
    return np.vstack([np.column_stack([left, y]), np.column_stack([room, y])[::-1]])


def _fixed() -> list[Shape]:
    views = [*rotary.front(BODY, POCKET, "trim"), *rotary.shaft(-52), *rotary.seat_front(BORE, POCKET)]
    return [*_body(), *_seats(), *views]


def _body() -> list[Shape]:
    soft = np.inf
    half = rounded([
        (-62, POCKET), (-33, POCKET), (-30, BULGE, soft), (30, BULGE, soft), (33, POCKET), (62, POCKET),
        (62, 82, 1), (44, 82, 1), (44, BULGE + 13, 8), (-44, BULGE + 13, 8), (-44, 82, 1), (-62, 82, 1),
    ])  # fmt: skip
    inside = [(-62, POCKET), (-33, POCKET), (-30, BULGE), (30, BULGE), (33, POCKET), (62, POCKET)]
    room = np.vstack([inside, [(x, -y) for x, y in inside[::-1]]])
    return [Shape(room, "low", 1.5), Shape(half, "body", 3), Shape(half * (1, -1), "body", 3)]


def _seats() -> list[Shape]:
    x = -float(np.sqrt(BALL**2 - BORE**2))  # where a ring touches the ball
    outer = -float(np.sqrt(BALL**2 - 31**2))
    ring = np.array([(x - 13, BORE), (x, BORE), (outer - 0.4, 31), (outer - 2, POCKET), (x - 13, POCKET)])
    retainer = rounded([(-62, BORE + 1), (x - 13, BORE + 1), (x - 13, POCKET), (-62, POCKET)])
    shapes = []
    for side, end in ((1, "in"), (-1, "out")):
        for sign, name in ((1, "top"), (-1, "bottom")):
            shapes.append(Shape(ring * (side, sign), "seat", 3.2, f"seat-{end}-{name}"))
            shapes.append(Shape(retainer * (side, sign), "ring", 3.1))
    face = np.radians(np.linspace(180 + EDGE, 180 - EDGE, 25))
    curve = BALL * np.column_stack([np.cos(face), np.sin(face)])
    return [*shapes, Shape(np.vstack([[(-62, BORE), (-62, -BORE)], curve]), "high", 1.6)]


def _paths(angle: float) -> list[Shape]:
    """Return the flow past the edge of the first seat, through the hole and past the edge of the second."""
    first, last = np.radians(180 + EDGE), np.radians(180 + EDGE - max(angle - LAP, 0.0))
    lip, edge = (BALL * np.array([np.cos(a), np.sin(a)]) for a in (first, last))
    shapes = []
    for name, share in (("near", 0.34), ("far", 0.66)):
        x, y = lip + share * (edge - lip)
        before = [(-61, 0.55 * y), (-50, 0.7 * y), (x - 3, 0.97 * y), (x + 8, 0.86 * y)]
        other = lip + (1 - share) * (edge - lip)
        after = [
            (-other[0] - 8, -0.86 * other[1]),
            (-other[0] + 3, -0.97 * other[1]),
            (50, -0.7 * other[1]),
            (61, -0.55 * other[1]),
        ]
        shapes += flow(f"flow-{name}", [*before, *after], angle > LAP + 1, arrows=(0.14, 1), z=6)
    return shapes


def _moving(travel: float) -> list[Shape]:
    """Return the ball in both views and the flow path."""
    angle = ANGLE * travel
    left, right = _halves(angle)
    return [
        Shape(_hole(angle), "fluid low", 4, "hole"),
        Shape(left, "trim cut", 5, "ball-left"),
        Shape(right, "trim cut", 5, "ball-right"),
        Shape(shift(_mouth(angle), FRONT, 0), "fluid low", 3.1, "mouth"),
        *_paths(angle),
    ]


FULL_BORE_BALL = Drawing(
    _fixed,
    _moving,
    (
        *rotary.parts(BODY),
        NamedPart("seat ring", (FRONT - 29, -8), "left"),
        NamedPart("bore", (FRONT + 20, -12), "left"),
        NamedPart("flange", (54, 70)),
        NamedPart("ball", (-33, 0), "right", swings=ANGLE),
        NamedPart("seat retainer", (54, -30), "right"),
    ),
    rotary.BOX,
    rotary.SCALE,
    lambda travel: f"opened {ANGLE * travel:.0f}°, travel {100 * travel:.0f} %",
    notes=rotary.NOTES,
)
