"""What the devices of an air line share: pairs of cut parts, pipe ends, a readout in words."""

from __future__ import annotations

from collections.abc import Callable

from lessons.pictures.cutaways.parts import Points, flip, rect
from lessons.pictures.cutaways.sheet import Shape


def pair(xy: Points, look: str, z: float) -> list[Shape]:
    """Return a cut part and its mirror image across x = 0."""
    return [Shape(xy, look, z), Shape(flip(xy), look, z)]


def port(x: float, y: float, half: float, out: float, look: str = "air") -> list[Shape]:
    """Return a pipe end to the right (`out` above 0) or to the left: its air, and the nut round it."""
    near, far = sorted((x, x + out))
    nut = sorted((x + 0.35 * out, x + 0.75 * out))
    return [
        Shape(rect(near, y - half, far, y + half), look, 5),
        Shape(rect(nut[0], y + half, nut[1], y + half + 4), "bolt", 5.1),
        Shape(rect(nut[0], y - half - 4, nut[1], y - half), "bolt", 5.1),
    ]


def says(low: str, between: str, high: str) -> Callable[[float], str]:
    """Return what the readout says at the two ends of a device's movement, and between them."""
    return lambda travel: low if travel <= 0 else high if travel >= 1 else between
