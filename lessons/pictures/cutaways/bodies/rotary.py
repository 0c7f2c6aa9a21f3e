"""What rotary valves of 2 in (DN 50) share: the view along the pipe with neck and shaft, and the pipe flanges.

The cut along the pipe stands at x = 0 with the shaft end-on; the view along the pipe stands beside it at x = FRONT.
"""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import circle, flip, rect, rounded, shift
from lessons.pictures.cutaways.sheet import Shape

FRONT = -128.0  # [mm] axis of the view along the pipe
END = 64.0  # [mm] from the shaft to where the pipe is broken off
SHAFT = 7.0  # [mm] radius
TOP = 126.0  # [mm] upper side of the mounting flange
BOX = (FRONT - 53, -86.0, END, 150.0)
SCALE = 1.14
NOTES = ((FRONT, -76.0, "seen along the pipe"), (0.0, 98.0, "cut along the pipe"))


def front(radius: float, bore: float, hole: str = "fluid low") -> list[Shape]:
    """Return the view along the pipe: round body, neck, shaft with bearings and packing; all but the face is cut."""
    neck = [(18, 30), (18, 108, 4), (38, 114), (38, TOP), (-38, TOP), (-38, 114), (-18, 108, 4), (-18, 30)]
    foot = [(16, -30), (16, -radius - 8, 3), (-16, -radius - 8, 3), (-16, -30)]
    shapes = [Shape(rounded(neck), "body", 2), Shape(rounded(foot), "body", 2)]
    shapes += [Shape(circle(0, 0, radius, 72), "body", 2.1), Shape(circle(0, 0, bore, 72), hole, 2.3)]
    for low, high in ((radius + 2, radius + 24), (-radius + 1, -bore - 9)):
        bush = rect(SHAFT, low, SHAFT + 3, high)
        shapes += [Shape(bush, "guide", 3), Shape(flip(bush), "guide", 3)]
    for low in (92.0, 98.5, 105.0):
        ring = rect(SHAFT, low, SHAFT + 6, low + 6.5)
        shapes += [Shape(ring, "packing", 3), Shape(flip(ring), "packing", 3)]
    shapes.append(Shape(rect(-SHAFT - 6, 111.5, SHAFT + 6, TOP), "open air", 2.7))
    gland = rounded([(SHAFT, 111.5), (SHAFT + 6, 111.5), (SHAFT + 6, TOP + 2), (SHAFT + 14, TOP + 2),
                     (SHAFT + 14, TOP + 9, 2), (SHAFT, TOP + 9)])  # fmt: skip
    shapes += [Shape(gland, "ring", 3.2), Shape(flip(gland), "ring", 3.2)]
    return [s._replace(xy=shift(s.xy, FRONT, 0)) for s in shapes]


def shaft(low: float) -> list[Shape]:
    """Return the shaft in the view along the pipe, with flats for the actuator on top."""
    x = FRONT
    shapes = [
        Shape(shift(rounded([(-SHAFT, low), (SHAFT, low), (SHAFT, 148, 1), (-SHAFT, 148, 1)]), x, 0), "trim", 2.8)
    ]
    return [*shapes, Shape(shift(rect(-5, 138, 5, 148), x, 0), "trim", 2.85)]


def pipe_flanges(face: float, inner: float = 26.0) -> list[Shape]:
    """Return both pipe flanges with their studs, and a piece of pipe."""
    shapes = []
    flange = rounded([(face, inner), (END, inner), (END, inner + 5), (face + 32, inner + 5, 5),
        (face + 20, inner + 14, 5),
                      (face + 20, 82, 1), (face, 82)])  # fmt: skip
    nut = rounded([(face + 20, 56), (face + 30, 56, 2), (face + 30, 72, 2), (face + 20, 72)])
    for y in (1, -1):
        shapes.append(Shape(rect(-face - 34, 59.5, face + 34, 68.5) * (1, y), "bolt", 2.5))
        for x in (1, -1):
            shapes += [Shape(flange * (x, y), "bonnet", 2.4), Shape(nut * (x, y), "bolt", 3.5)]
    return shapes


def parts(radius: float) -> tuple[NamedPart, ...]:
    """Return the parts of the view along the pipe."""
    return (
        NamedPart("shaft", (FRONT - 3, 142), "left"),
        NamedPart("packing follower", (FRONT - 17, TOP + 5), "left"),
        NamedPart("mounting flange", (FRONT - 32, 120), "left"),
        NamedPart("packing rings", (FRONT - SHAFT - 3, 101), "left"),
        NamedPart("shaft bearing", (FRONT - SHAFT - 1.5, radius + 10), "left"),
        NamedPart("body", (FRONT - radius * 0.86, radius * 0.4), "left"),
    )


def segment(inner: float, outer: float, start: float, stop: float, points: int = 24) -> np.ndarray:
    """Return a piece of a ring about the origin between two angles [degrees]."""
    angle = np.radians(np.linspace(start, stop, points))
    arc = np.column_stack([np.cos(angle), np.sin(angle)])
    return np.vstack([outer * arc, inner * arc[::-1]])


def flanged_body(bulge: float) -> list[Shape]:
    """Return a body with flanges cut along the pipe, with a pocket for a seat ring on the inlet side."""
    soft = np.inf
    half = rounded([
        (-62, 30), (-36, 30), (-34, bulge - 2, soft), (-8, bulge + 2, soft), (30, bulge, soft),
            (36, 26, soft), (62, 25),
        (62, 82, 1), (44, 82, 1), (44, bulge + 13, 8), (-44, bulge + 13, 8), (-44, 82, 1), (-62, 82, 1),
    ])  # fmt: skip
    inside = [(-62, 30), (-36, 30), (-34, bulge + 3), (30, bulge + 3), (40, 30), (62, 25)]
    room = np.vstack([inside, [(x, -y) for x, y in inside[::-1]]])
    return [Shape(room, "low", 1.5), Shape(half, "body", 3), Shape(half * (1, -1), "body", 3)]


def seat_ring(port: float, ball: float) -> list[Shape]:
    """Return the seat ring against a ball about the origin, its retainer, and the fluid before it."""
    x = -float(np.sqrt(ball**2 - port**2))  # where the ring touches the ball
    ring = np.array(
        [(x - 13, port), (x - 1, port - 0.0), (x, port), (x - 1, port + 4), (x - 3, 30), (x - 13, 30)], dtype=float
    )
    retainer = rounded([(-62, port + 1), (x - 13, port + 1), (x - 13, 30), (-62, 30)])
    shapes = []
    for sign, name in ((1, "top"), (-1, "bottom")):
        shapes += [Shape(ring * (1, sign), "seat", 3.2, f"seat-{name}"), Shape(retainer * (1, sign), "ring", 3.1)]
    edge = float(np.degrees(np.arcsin(port / ball)))
    angle = np.radians(np.linspace(180 + edge, 180 - edge, 25))
    face = ball * np.column_stack([np.cos(angle), np.sin(angle)])
    return [*shapes, Shape(np.vstack([[(-62, port), (-62, -port)], face]), "high", 1.6)]


def seat_front(port: float, outer: float) -> list[Shape]:
    """Return the seat ring seen along the pipe, and in its bore the face that closes it."""
    return [Shape(circle(FRONT, 0, outer, 72), "seat", 2.85), Shape(circle(FRONT, 0, port, 72), "trim", 2.9)]
