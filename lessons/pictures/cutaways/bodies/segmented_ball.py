"""Segmented ball valve of 2 in (DN 50): a piece of a ball with a V-notch wipes across a seat ring."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.bodies import rotary
from lessons.pictures.cutaways.bodies.rotary import FRONT, segment
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, circle, shift, turn
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

BALL, SHELL = 36.0, 5.0  # [mm] outer radius and thickness of the ball segment
PORT = 22.0  # [mm] radius of the seat ring's bore
EDGE = float(np.degrees(np.arcsin(PORT / BALL)))  # [degrees] from the pipe's axis to where the seat touches
NOTCH = 80.0  # [degrees] from the notch's apex to the ball's edge
ANGLE = 90.0  # [degrees] from closed to open
BULGE = 43.0  # [mm] radius of the cavity
BODY = BULGE + 11


def ball_section(angle: float) -> Points:
    """Return the ball segment cut through the notch's apex, turned clockwise."""
    return turn(segment(BALL - SHELL, BALL, 180 - EDGE - 9, 180 + EDGE), -angle)


def ear(angle: float) -> Points:
    """Return the ear behind the cut that joins the segment to the shaft."""
    half, hub = np.radians(EDGE - 6), 12.0
    side = np.array([(-(BALL - SHELL) * np.cos(half), (BALL - SHELL) * np.sin(half)), (-4, hub - 1)])
    round_ = segment(0, hub, 70, -70)[:24]
    return turn(np.vstack([side, round_, side[::-1] * (1, -1)]), -angle)


def notch(angle: float) -> Points:
    """Return what is free of the seat's bore, seen along the pipe: the V-notch, moved up by the turned ball."""
    below = np.linspace(0, NOTCH + 60, 71)
    on_ball = np.where(below <= NOTCH, 0.42 * BALL * np.radians(below), BALL)
    y = np.clip(-BALL * np.sin(np.radians(np.clip(EDGE + below - angle, -90, 90))), -PORT, PORT)
    half = np.minimum(on_ball, np.sqrt(np.maximum(PORT**2 - y**2, 0)))
    return np.vstack([np.column_stack([half, y]), np.column_stack([-half, y])[::-1]])


def _fixed() -> list[Shape]:
    views = [*rotary.front(BODY, 31, "trim"), *rotary.shaft(-50), *rotary.seat_front(PORT, 31)]
    return [*rotary.flanged_body(BULGE), *rotary.seat_ring(PORT, BALL), *views]


def _paths(angle: float) -> list[Shape]:
    """Return the flow through the notch, between the ball's edge and the bottom of the seat."""
    tip = turn([(-BALL * np.cos(np.radians(EDGE)), -PORT)], -angle)[0]
    bottom = np.array([-BALL * np.cos(np.radians(EDGE)), -PORT])
    shapes = []
    for name, share in (("upper", 0.68), ("lower", 0.32)):
        x, y = bottom + share * (tip - bottom)
        line = [
            (-60, 0.4 * y),
            (-50, 0.5 * y),
            (x - 7, 0.9 * y),
            (x, y),
            (x + 14, 0.9 * y),
            (30, 0.5 * y),
            (61, 0.4 * y),
        ]
        shapes += flow(f"flow-{name}", line, angle > 1, arrows=(1,), z=6)
    return shapes


def _moving(travel: float) -> list[Shape]:
    """Return the ball segment in both views and the flow path."""
    angle = ANGLE * travel
    return [
        Shape(ear(angle), "trim behind", 4, "ear"),
        Shape(ball_section(angle), "trim cut", 5, "ball"),
        Shape(circle(0, 0, rotary.SHAFT), "trim", 5.5, "shaft-end"),
        Shape(shift(notch(angle), FRONT, 0), "fluid low", 3.1, "notch"),
        *_paths(angle),
    ]


SEGMENTED_BALL = Drawing(
    _fixed,
    _moving,
    (
        *rotary.parts(BODY),
        NamedPart("seat ring", (FRONT - 26, -8), "left"),
        NamedPart("V-notch", (FRONT, -PORT + 1.2), "left"),
        NamedPart("flange", (54, 70)),
        NamedPart("ball segment", (-31.5, 11.5), "right", swings=ANGLE),
        NamedPart("seat retainer", (-54, -26), "right"),
    ),
    rotary.BOX,
    rotary.SCALE,
    lambda travel: f"opened {ANGLE * travel:.0f}°, travel {100 * travel:.0f} %",
    notes=rotary.NOTES,
)
