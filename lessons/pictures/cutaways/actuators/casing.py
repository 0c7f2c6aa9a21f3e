"""Shapes that the spring-and-diaphragm actuators share: casing, diaphragm, plate, spring, air connection."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from lessons.pictures.cutaways.parts import Points, bar, coil, flip, rect, round_bar, rounded
from lessons.pictures.cutaways.sheet import Shape
from lessons.pictures.cutaways.trim.bonnet import both

ROD = 8.0  # [mm] radius of the actuator stem
PLATE = 84.0  # [mm] radius of the diaphragm plate
CLAMP = 112.0  # [mm] radius where the casing holds the diaphragm
RIM = 138.0  # [mm] radius of the casing
STROKE = 30.0  # [mm]
LOOP = 50.0  # [mm] length of rubber between plate and clamp
HALF = 47.0  # [mm] height of half the casing
DIRECT_SPLIT = 150.0  # [mm] height of the casing's joint, direct
REVERSE_SPLIT = 62.0  # [mm] the same, reverse
WALL = ((CLAMP - 2, 5, 8), (CLAMP - 7, 30, 14), (CLAMP - 20, HALF, 14))  # half a casing, inside


def dish(split: float, sign: int, inner: float) -> list[Shape]:
    """Return the upper (+1) or lower (-1) half of the casing as cut sheet, from the rim to radius `inner`."""
    out = [(x + 4.2, y + (0.5, 1, 4)[i], r + 4) for i, (x, y, r) in enumerate(WALL)]
    sheet = [(RIM, 2), (CLAMP + 2, 2, 3), *WALL, (inner, HALF), (inner, HALF + 4), *out[::-1], (RIM, 6)]
    return both(rounded(sheet) * (1, sign) + (0, split), "sheet", 9)


def rim_bolts(split: float) -> list[Shape]:
    """Return the bolts round the casing's rim."""
    shapes = both(rect(123, split - 14, 129, split + 13), "bolt", 8)
    shapes += both(
        rounded([(119, split + 6), (133, split + 6), (133, split + 12, 2), (119, split + 12, 2)]), "bolt", 9.5
    )
    return shapes + both(rect(119, split - 11, 133, split - 6), "bolt", 9.5)


@lru_cache(maxsize=8)
def rubber(split: float, plate: float, sign: int) -> Points:
    """Return the right half of the diaphragm: on the plate, a loop bulging away from the air, clamped at the rim.

    The loop keeps its length, so it is deep with the plate at mid-stroke and shallow at the ends of the stroke.
    """
    t = np.linspace(0, 1, 21)[:, None]
    near, far = 3 * t * (1 - t) ** 2, 3 * t**2 * (1 - t)
    level = (plate + split) / 2
    flat = (
        np.array([PLATE, plate]) * (1 - t) ** 3
        + np.array([PLATE + 10, level]) * near
        + np.array([CLAMP - 7, level]) * far
        + np.array([CLAMP, split]) * t**3
    )
    sag = np.array([0, -sign]) * (near + far)
    depths = np.linspace(0, 60, 31)
    steps = np.diff(flat + depths[:, None, None] * sag, axis=1)
    lengths = np.sqrt((steps**2).sum(axis=2)).sum(axis=1)
    loop = flat + float(np.interp(LOOP, lengths, depths)) * sag
    return np.vstack([[(0, plate)], loop, [(RIM, split)]])


@lru_cache(maxsize=1)
def wall() -> Points:
    """Return the inside of the upper half of the casing, from the joint to the middle of the top."""
    return rounded([(0, 0), (CLAMP + 2, 0), *WALL, (0, HALF)])[1:]


def chamber(split: float, plate: float, sign: int) -> Points:
    """Return the room on the air side of the diaphragm: above it (+1) or below (-1)."""
    right = np.vstack([rubber(split, plate, sign)[:-1], wall()[1:] * (1, sign) + (0, split)])
    return np.vstack([right, flip(right)[::-1]])


def hollow(split: float) -> Shape:
    """Return the whole inside of the casing, white."""
    half = np.vstack([wall()[::-1], wall() * (1, -1)]) + (0, split)
    return Shape(np.vstack([half, flip(half)[::-1]]), "open air", 2)


def spring(low: float, high: float) -> list[Shape]:
    """Return the spring between two heights: a dark zigzag with a lighter one on it looks like wire."""
    wire = coil(-40, 40, low, high, 5)
    return [Shape(wire, "wire", 4, "spring"), Shape(wire, "wire core", 4.1, "spring-core")]


def plate_and_rod(low: float, plate: float, sign: int) -> list[Shape]:
    """Return stem and diaphragm plate; the plate lies on the side of the diaphragm away from the air."""
    thick = -sign * 5.0
    hub = round_bar(
        [
            (PLATE, plate - sign * 2),
            (PLATE, plate - sign * 2 + thick),
            (26, plate - sign * 2 + thick),
            (20, plate + thick - sign * 10),
            (0, plate + thick - sign * 10),
        ]
    )[:, :]
    nut = rect(-13, plate + sign * 2, 13, plate + sign * 11)
    return [
        Shape(bar(ROD, low, plate), "steel", 5, "rod"),
        Shape(hub, "steel", 5.5, "plate"),
        Shape(nut, "bolt", 5.6, "plate-nut"),
    ]


def connection(x: float, y: float, up: int) -> list[Shape]:
    """Return a threaded air connection with a stub of tube, upwards (+1) or sideways to the right (0)."""
    if up:
        return [
            Shape(rect(x - 11, y, x + 11, y + 12), "bolt", 9.6),
            Shape(rect(x - 4, y - 5, x + 4, y + 26), "air", 9.7),
        ]
    return [Shape(rect(x, y - 10, x + 12, y + 10), "bolt", 9.6), Shape(rect(x - 6, y - 4, x + 26, y + 4), "air", 9.7)]
