"""Two packing sets of the same box: PTFE V-rings on a spring, and die-formed graphite under disc springs.

Heights are above the joint. Sizes are rounded and from memory: good for the eye, not for ordering parts.
"""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, bar, circle, rect, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape, lifted
from lessons.pictures.cutaways.trim.bonnet import BORE, HIGH, LOW, STEM, both, gland, torn
from lessons.pictures.cutaways.trim.packing_box import BOTTOM, stem_moving

MIDDLE = (STEM + BORE) / 2  # [mm] radius of the ridge of a V-ring
RIDGE, THICK = 4.2, 3.5  # [mm] height of the ridge over the lips, thickness of a ring along the stem
V_LOW = 95.5  # [mm] lips of the lowest V-ring
V_COUNT = 4
V_HIGH = V_LOW + V_COUNT * THICK  # [mm] lips of the upper adapter
COIL = 2.2  # [mm] radius of the wire of the packing spring
RING = 6.5  # [mm] height of a die-formed or an end ring
SPACER_HIGH = 88.0  # [mm] top of the spacer bushing
GLAND = 150.0  # [mm] top of the packing flange, where the disc springs stand
STUD = 22.0  # [mm] from the valve's axis to a packing stud
DISC = 2.4  # [mm] height of one disc spring, loaded
DISCS = 6
BOX = (-54.0, BOTTOM - 4, 54.0, 191.0)


def _bonnet() -> list[Shape]:
    """Return the bonnet round a box without a tapped hole, broken off below."""
    half = rounded([(38, HIGH, 2), (BORE, HIGH), (BORE, LOW), (STEM + 1.2, LOW), (STEM + 1.2, 57), (14, 57, 2),
                    *torn(14, 38, BOTTOM)])  # fmt: skip
    below = Shape(bar(14, BOTTOM + 1, 57), "fluid low", 2)
    return [*both(half, "bonnet", 3), below, Shape(bar(STEM + 1.2, 57, LOW), "fluid low", 2)]


def _ring(low: float, high: float, look: str) -> list[Shape]:
    return both(rect(STEM, low, BORE, high), look, 5)


def _follower(foot: float, shoulder: float) -> list[Shape]:
    """Return the packing follower from its foot on the packing to six above its shoulder."""
    profile = [(STEM, foot), (BORE, foot), (BORE, shoulder), (BORE + 3.5, shoulder), (BORE + 3.5, shoulder + 6),
               (STEM + 2, shoulder + 6), (STEM, shoulder + 4)]  # fmt: skip
    return both(np.array(profile), "ring", 5)


def _chevron(lips: float) -> Points:
    """Return one V-ring, cut: its mouth looks down to the pressure."""
    ridge = lips + RIDGE
    lower = [(STEM, lips), (MIDDLE, ridge), (BORE, lips)]
    return np.array([*lower, *((x, y + THICK) for x, y in reversed(lower))])


def _v_rings() -> list[Shape]:
    """Return spring, washer, lower adapter, V-rings and upper adapter, from the bottom of the box up."""
    shapes = [Shape(bar(BORE, LOW, 90), "fluid low", 2.5), *_ring(90, 93, "ring")]
    for k, y in enumerate(np.linspace(LOW + COIL, 90 - COIL, 7)):
        shapes.append(Shape(circle(MIDDLE if k % 2 else -MIDDLE, y, COIL), "bolt", 5))
    male = [(STEM, 93), (BORE, 93), (BORE, V_LOW), (MIDDLE, V_LOW + RIDGE), (STEM, V_LOW)]
    female = [(STEM, V_HIGH), (MIDDLE, V_HIGH + RIDGE), (BORE, V_HIGH), (BORE, 117.5), (STEM, 117.5)]
    shapes += both(np.array(male), "hard ring", 5) + both(np.array(female), "hard ring", 5)
    for k in range(V_COUNT):
        shapes += both(_chevron(V_LOW + k * THICK), "packing", 5)
    return shapes


def _v_ring_fixed() -> list[Shape]:
    # The shoulder of the follower stands on the bonnet, so flange and nuts are 6 mm lower than over cut rings.
    return [*_bonnet(), *_v_rings(), *_follower(117.5, HIGH), *lifted(gland(), -6.0)]


def _graphite_fixed() -> list[Shape]:
    shapes = [*_bonnet(), *_ring(LOW, SPACER_HIGH, "guide")]
    for k, look in enumerate(("hard ring", "packing", "packing", "packing", "hard ring")):
        shapes += _ring(SPACER_HIGH + k * RING, SPACER_HIGH + (k + 1) * RING, look)
    return [*shapes, *_follower(SPACER_HIGH + 5 * RING, 134), *gland(DISCS * DISC), *_disc_springs()]


def _disc_springs() -> list[Shape]:
    """Return the disc springs on both packing studs, in pairs back to back, seen from outside."""
    shapes: list[Shape] = []
    for k in range(DISCS):
        low, high = GLAND + k * DISC, GLAND + (k + 1) * DISC
        wide, narrow = (low, high) if k % 2 == 0 else (high, low)
        cup = [(STUD - 7.5, wide), (STUD + 7.5, wide), (STUD + 4.2, narrow), (STUD - 4.2, narrow)]
        shapes += both(np.array(cup), "steel", 5.8)
    return shapes


V_RING_PACKING = Drawing(
    _v_ring_fixed,
    stem_moving,
    (
        NamedPart("stem", (0, 150), "left"),
        NamedPart("packing flange", (-27, 139)),
        NamedPart("upper adapter", (-9.4, 115), "left"),
        NamedPart("V-rings", (-9.4, V_LOW + 2 * THICK + 2), "left"),
        NamedPart("lower adapter", (-9.4, 95), "left"),
        NamedPart("packing spring", (-MIDDLE, LOW + COIL + 7.2), "left"),
        NamedPart("packing nut", (26, 147), "right"),
        NamedPart("packing studs", (22, 131), "right"),
        NamedPart("packing follower", (14.5, 131), "right"),
        NamedPart("packing box", (BORE, 106), "right"),
        NamedPart("bonnet", (30, LOW + 6)),
    ),
    BOX,
    2.45,
    bar=20.0,
)

GRAPHITE_PACKING = Drawing(
    _graphite_fixed,
    stem_moving,
    (
        NamedPart("stem", (0, 50), "left"),
        NamedPart("disc springs", (-28, GLAND + 6)),
        NamedPart("packing flange", (-27, 145)),
        NamedPart("end rings", (-9.4, SPACER_HIGH + 4.5 * RING), "left"),
        NamedPart("die-formed rings", (-9.4, SPACER_HIGH + 2.5 * RING), "left"),
        NamedPart("spacer bushing", (-9.4, LOW + 12), "left"),
        NamedPart("packing nut", (26, 168), "right"),
        NamedPart("packing studs", (22, 134), "right"),
        NamedPart("packing follower", (10, 132), "right"),
        NamedPart("packing box", (BORE, 106), "right"),
        NamedPart("bonnet", (30, LOW + 6)),
    ),
    BOX,
    2.45,
    bar=20.0,
)
