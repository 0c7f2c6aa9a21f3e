"""Eccentric rotary plug valve of 2 in (DN 50): a round plug on an arm, on a shaft beside the pipe's axis."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.bodies import rotary
from lessons.pictures.cutaways.bodies.rotary import FRONT, segment
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, circle, rounded, shift, turn
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

FACE = 33.0  # [mm] radius of the plug's face, a piece of a ball
PORT = 20.0  # [mm] radius of the seat ring's bore
EDGE = float(np.degrees(np.arcsin(PORT / FACE)))  # [degrees] from the pipe's axis to where the seat touches
RIM = EDGE + 6  # [degrees] to the plug's rim
SHAFT = (0.0, -6.0)  # [mm] the shaft lies below the middle of the face: so the plug lifts off before it slides
ANGLE = 55.0  # [degrees] from closed to open
BULGE = 41.0
BODY = BULGE + 11


def plug_section(angle: float) -> Points:
    """Return the plug's face cut along the pipe, turned clockwise about the shaft."""
    return turn(segment(FACE - 9, FACE, 180 - RIM, 180 + RIM), -angle, SHAFT)


def arm(angle: float) -> Points:
    """Return the arm from the shaft to the plug."""
    return turn(rounded([(-24.5, 13), (-24.5, -15), (-6, -17, 3), (10, -12, 6), (10, 2, 6), (-6, 6, 4)]), -angle, SHAFT)


def _opening(angle: float) -> Points:
    """Return what is free of the seat's bore below the plug's rim, seen along the pipe."""
    z = PORT * np.cos(np.linspace(0, np.pi, 61))
    room = np.sqrt(np.maximum(PORT**2 - z**2, 0))
    centre = turn([(0, 0)], -angle, SHAFT)[0]
    lean = np.radians(angle)
    rim, reach = FACE * np.sin(np.radians(RIM)), FACE * np.cos(np.radians(RIM))
    low = centre[1] + reach * np.sin(lean) - np.cos(lean) * np.sqrt(np.maximum(rim**2 - z**2, 0))
    edge = np.clip(low, -room, room) if angle > 0 else -room
    return np.vstack([np.column_stack([z, -room]), np.column_stack([z, edge])[::-1]])


def _fixed() -> list[Shape]:
    views = [*rotary.front(BODY, 29, "trim"), *rotary.shaft(-48), *rotary.seat_front(PORT, 29)]
    return [*rotary.flanged_body(BULGE), *rotary.seat_ring(PORT, FACE), *views]


def _paths(angle: float) -> list[Shape]:
    """Return the flow between the plug's rim and the bottom of the seat."""
    rim = np.radians(180 + RIM)
    tip = turn([(FACE * np.cos(rim), FACE * np.sin(rim))], -angle, SHAFT)[0]
    bottom = np.array([-FACE * np.cos(np.radians(EDGE)), -PORT])
    shapes = []
    for name, share in (("upper", 0.68), ("lower", 0.32)):
        x, y = bottom + share * (tip - bottom)
        line = [(-60, 0.5 * y), (-50, 0.6 * y), (x - 6, 0.93 * y), (x + 1, y - 1), (-8, -29 + 4 * share),
                (16, -31 + 14 * share), (40, -24 + 26 * share), (61, -17 + 26 * share)]  # fmt: skip
        shapes += flow(f"flow-{name}", line, angle > 0.5, arrows=(1,), z=6)
    return shapes


def _moving(travel: float) -> list[Shape]:
    """Return plug and arm in both views and the flow path."""
    angle = ANGLE * travel
    return [
        Shape(arm(angle), "trim", 4, "arm"),
        Shape(plug_section(angle), "trim cut", 5, "plug"),
        Shape(circle(*SHAFT, rotary.SHAFT), "steel", 5.5, "shaft-end"),
        Shape(shift(_opening(angle), FRONT, 0), "fluid low", 3.1, "opening"),
        *_paths(angle),
    ]


ECCENTRIC_PLUG = Drawing(
    _fixed,
    _moving,
    (
        *rotary.parts(BODY),
        NamedPart("seat ring", (FRONT - 24, -8), "left"),
        NamedPart("flange", (54, 70)),
        NamedPart("plug", (-22, 18), "right", swings=ANGLE, about=SHAFT),
        NamedPart("plug arm", (-9, -11), "right", swings=ANGLE, about=SHAFT),
        NamedPart("seat retainer", (-54, -26), "right"),
    ),
    rotary.BOX,
    rotary.SCALE,
    lambda travel: f"opened {ANGLE * travel:.0f}°, travel {100 * travel:.0f} %",
    notes=rotary.NOTES,
)
