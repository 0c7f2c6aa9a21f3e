"""Bonnet with guide and packing box, yoke stub and stem: what sits on top of every sliding-stem body.

Sizes are those of a 2 in (DN 50) valve, rounded and from memory: good for the eye, not for ordering parts.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import bar, flip, rect, round_bar, rounded, shift
from lessons.pictures.cutaways.sheet import Shape, lifted

STEM = 6.35  # [mm] radius of the valve stem
POST = 11.0  # [mm] radius of the plug's guide post
BORE = 12.5  # [mm] radius of the packing box
LOW, HIGH = 64.0, 128.0  # [mm] bottom and top of the packing box above the joint
TRAVEL = 30.0  # [mm] rated travel
POINTER = 175.0  # [mm] height of the travel pointer above the joint, closed
TOP = 158.0  # [mm] end of the packing studs
RINGS = (4.0, 10.5, 17.0, 36.0, 42.5, 49.0)  # [mm] lower edge of each packing ring above the box's bottom
RING = 6.5  # [mm] height of a packing ring


def both(xy: ArrayLike, look: str, z: float, gid: str = "") -> list[Shape]:
    """Return a shape and its mirror image across the valve's axis."""
    names = (f"{gid}-right", f"{gid}-left") if gid else ("", "")
    return [Shape(np.asarray(xy, dtype=float), look, z, names[0]), Shape(flip(xy), look, z, names[1])]


def _casting(post: bool = True, fluid: str = "fluid low") -> list[Shape]:
    """Return the bonnet, cut, standing on the joint at y = 0; its bushing guides the plug's post, or else the stem."""
    wide = 14.0 if post else STEM + 4
    outer = rounded([
        (wide, -6), (38, -6), (38, 0), (78, 0), (78, 20, 2), (34, 20, 12), (34, 92), (27, 92, 1.5),
            (27, 128, 1.5),
        (BORE, 128), (BORE, LOW), (STEM + 1.2, LOW), (STEM + 1.2, 57), (wide, 57, 2),
    ])  # fmt: skip
    shapes = both(outer, "bonnet", 3)
    shapes.append(Shape(bar(wide, -6, 57), fluid, 2))
    shapes.append(Shape(bar(STEM + 1.2, 57, LOW), fluid, 2))
    bush = rect(POST, -6, 16, 26) if post else rect(STEM, 20, STEM + 4, 50)
    return shapes + both(bush, "guide", 3.5)


def topworks(
    joint: float, legs: float = 222.0, broken: bool = True, post: bool = True, fluid: str = "fluid low"
) -> list[Shape]:
    """Return bonnet, bolting, packing, yoke legs as high as `legs` above the joint, and travel scale."""
    shapes = [*_casting(post, fluid), *_bolting(), *packing(), *yoke_legs(legs, broken), *scale_plate()]
    return lifted(shapes, joint)


def _bolting(radius: float = 62.0, low: float = -24.0) -> list[Shape]:
    """Return the body studs with nuts, and the gasket, seen at the joint y = 0."""
    shapes = both(rect(radius - 5, low, radius + 5, 38), "bolt", 4)
    shapes += both(rounded([(radius - 9, 20), (radius + 9, 20), (radius + 9, 33, 3), (radius - 9, 33, 3)]), "bolt", 4.5)
    return shapes + both(rect(40, -2.5, 50, 1), "soft", 4)


def packing() -> list[Shape]:
    """Return packing rings, lantern ring, bottom ring, follower, flange and studs in the packing box."""
    inner = STEM
    shapes = both(rect(inner, LOW, BORE, LOW + 4), "ring", 5)
    for low in RINGS:
        shapes += both(rect(inner, LOW + low, BORE, LOW + low + RING), "packing", 5)
    waist = [(inner, 23.5), (BORE, 23.5), (BORE, 26), (BORE - 2, 28), (BORE - 2, 31.5), (BORE, 33.5),
        (BORE, 36),
             (inner, 36), (inner, 33.5), (inner + 2, 31.5), (inner + 2, 28), (inner, 26)]  # fmt: skip
    shapes += both(shift(np.array(waist), 0, LOW), "ring", 5)
    follower = [(inner, 55.5), (BORE, 55.5), (BORE, 70), (BORE + 3, 72), (BORE + 3, 76), (inner + 2, 76), (inner, 74)]
    shapes += both(shift(np.array(follower), 0, LOW), "ring", 5)
    return shapes + gland()


def gland(springs: float = 0.0) -> list[Shape]:
    """Return the packing flange with its two studs and nuts, and `springs` mm of room between flange and nuts."""
    shapes = both(rounded([(9, 140), (30, 140, 2), (30, 150, 2), (13, 150), (9, 146)]), "steel", 5.5)
    shapes += both(rect(19, 112, 25, TOP + springs), "bolt", 5.2)
    nuts = both(rounded([(16, 150), (28, 150), (28, 157, 2), (16, 157, 2)]), "bolt", 6)
    return [*shapes, *lifted(nuts, springs)]


def torn(left: float, right: float, y: float) -> list[tuple[float, float]]:
    """Return the wavy edge, from left to right, where a part is broken off in the drawing."""
    return [(left, y), (left + (right - left) * 0.3, y + 2.5), (left + (right - left) * 0.7, y - 2.5), (right, y)]


def yoke_legs(top: float, broken: bool) -> list[Shape]:
    """Return the foot of the yoke round the bonnet, its nut, and its legs as far as `top`."""
    shapes = both(rounded([(27, 92), (44, 92), (48, 97, 3), (48, 108, 3), (27, 108)]), "body", 4)
    shapes += both(rounded([(27, 108), (41, 108), (41, 120, 3), (27, 120)]), "bolt", 4)
    leg = [(38, 100, 4), (52, 100, 6), (70, 135, 14), (70, top), (58, top), (58, 136, 10), (44, 112, 6)]
    if broken:
        leg[3:5] = torn(58, 70, top)[::-1]
    return shapes + both(rounded(leg), "casting", 2.9)


def scale_plate(travel: float = TRAVEL) -> list[Shape]:
    """Return the travel scale on the right-hand leg, with marks at every tenth."""
    shapes = [Shape(rect(57, POINTER - 6, 71, POINTER + travel + 6), "plate", 7)]
    for tenth in range(11):
        y = POINTER + travel * tenth / 10
        shapes.append(Shape(np.array([(57, y), (67 if tenth % 5 == 0 else 62, y)]), "edge", 7.1))
    return shapes


def stem(low: float, joint: float, lift: float) -> list[Shape]:
    """Return valve stem from `low`, clamp, pointer and the end of the actuator's stem, raised by `lift`."""
    return lifted(_closed_stem(low, joint), lift)


@lru_cache(maxsize=32)
def _closed_stem(low: float, joint: float) -> list[Shape]:
    connector = joint + POINTER
    foot = connector - 11
    clamp = rounded([(-17, foot, 2), (17, foot, 2), (17, foot + 22, 2), (-17, foot + 22, 2)])
    above = np.array([(-8, foot + 15), (8, foot + 15), *torn(-8, 8, foot + 40)[::-1]])
    pointer = np.array(
        [(12, connector - 2), (48, connector - 2), (56, connector), (48, connector + 2), (12, connector + 2)]
    )
    bolt = rect(4, connector - 4, 12, connector + 4)
    return [
        Shape(bar(STEM, low, foot + 8), "trim", 6, "stem"),
        Shape(above, "steel", 6, "actuator-stem"),
        Shape(pointer, "soft", 7.5, "pointer"),
        Shape(clamp, "steel", 8, "connector"),
        *both(bolt, "bolt", 8.1, "connector-bolt"),
    ]


def plug(seat: float, radius: float, contour: np.ndarray, lift: float, post_top: float) -> Shape:
    """Return a contoured plug with guide post, seated at height `seat` when lift is 0.

    `contour` is radius and depth below the seat line, from the tip up; the seating face is a cone of 45 degrees.
    """
    below = np.column_stack([contour[:, 0], seat - contour[:, 1]])
    skirt = [(radius, seat), (radius + 3, seat + 3), (radius + 3, seat + 20), (POST + 2, seat + 28),
             (POST, seat + 32), (POST, post_top - 2), (POST - 2, post_top)]  # fmt: skip
    return Shape(shift(round_bar(np.vstack([below, skirt])), 0, lift), "trim", 6, "plug")


# Where the leaders of these parts end, above the joint.
OUTSIDE = (
    NamedPart("packing flange", (-27, 145)),
    NamedPart("stem", (0, 161), "left"),
    NamedPart("stem connector", (-15, 175), rides=(0, 30)),
    NamedPart("travel pointer", (40, 175), rides=(0, 30)),
    NamedPart("travel scale", (69, 171)),
)
PARTS = (
    NamedPart("bonnet", (-24, 44)),
    NamedPart("body studs", (62, 36)),
    NamedPart("packing rings", (9.4, 71)),
    NamedPart("lantern ring", (10, 90)),
    NamedPart("packing follower", (9.4, 124)),
    NamedPart("packing studs", (22, 154)),
)
