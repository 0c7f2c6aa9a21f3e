"""Globe body of 2 in (DN 50) with a cage drilled full of small holes, for gas and steam that would be loud."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.bodies import cage, globe
from lessons.pictures.cutaways.labels import NamedPart, lifted_parts
from lessons.pictures.cutaways.parts import Points, circle, rect
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import STEM, TRAVEL, both

HOLE = 1.5  # [mm] radius of a hole
ROWS = np.arange(cage.SILL + 2.2, cage.SILL + TRAVEL, 4.1)  # [mm] heights of the rows of holes
APART = 15.0  # [degrees] from hole to hole in a row; every second row is turned by half of that
JETS = ROWS[1::2]  # [mm] rows with a hole in the plane of the cut


def _hole(angle: float, height: float) -> Points:
    """Return a hole in the far half of the cage, narrower the further it lies to the side."""
    a = np.radians(angle)
    seen: Points = circle(0, 0, HOLE, 14) * (np.cos(a), 1.0) + (cage.INSIDE * np.sin(a), height)
    return seen


def _drilled() -> list[Shape]:
    """Return the cage: its far half with all its holes, and its wall, cut, with the holes that lie in the cut."""
    shapes = [Shape(rect(-cage.INSIDE, 8, cage.INSIDE, cage.CAGE_TOP), "cage behind", 2.6)]
    for k, height in enumerate(ROWS):
        angles = np.arange(-75.0, 76.0, APART) + (APART / 2 if k % 2 == 0 else 0.0)
        shapes += [Shape(_hole(a, height), "fluid low", 2.7) for a in angles if abs(a) < 80]
    lows, highs = [8.0, *(JETS + HOLE)], [*(JETS - HOLE), cage.CAGE_TOP]
    for low, high in zip(lows, highs, strict=True):
        shapes += both(rect(cage.INSIDE, low, cage.OUTSIDE, high), "cage", 4.5)
    for height in JETS:
        shapes += both(rect(cage.INSIDE, height - HOLE, cage.OUTSIDE, height + HOLE), "fluid low", 4.4)
    return shapes + both(rect(cage.OUTSIDE, cage.CAGE_TOP - 8, 39, cage.CAGE_TOP), "cage", 4.5)


def _paths(lift: float) -> list[Shape]:
    """Return the flow up through the seat, and a small jet out of each hole that the plug has uncovered."""
    way = [(-128, 0), (-96, 0), (-66, -18), (-36, -36), (-8, -38), (0, -24), (0, -6)]
    out = [(58, 16), (84, 6), (126, 0)]
    shapes = [*flow("flow-in", way, lift > 0.3, arrows=(0.2, 1.0)), *flow("flow-out", out, lift > 0.3, arrows=(0.99,))]
    for k, height in enumerate(JETS):
        free = height + HOLE < cage.SEAT + 2 + lift
        for side, sign in (("left", -1), ("right", 1)):
            jet = [(sign * (cage.INSIDE - 3), height), (sign * (cage.OUTSIDE + 9), height)]
            shapes += flow(f"jet-{side}-{k}", jet, free, arrows=(1.0,), size=5.0, z=5.0)
    return shapes


def _fixed() -> list[Shape]:
    top = bonnet.topworks(cage.JOINT, 213, post=False, fluid="fluid high")
    return [*globe.casting(cage.JOINT), *cage.caged_ring(), *_drilled(), *top]


def _moving(travel: float) -> list[Shape]:
    lift = TRAVEL * travel
    return [*cage.caged_plug(lift, True), *bonnet.stem(cage.SEAT + 20, cage.JOINT, lift), *_paths(lift)]


LOW_NOISE_CAGE = Drawing(
    _fixed,
    _moving,
    (
        NamedPart("body", (-100, -31)),
        NamedPart("seat ring", (34, 5)),
        NamedPart("plug", (-21, cage.SEAT + 9), rides=(0, 30)),
        NamedPart("drilled cage", (30, cage.CAGE_TOP - 16)),
        NamedPart("drilled hole", (30, float(JETS[1]))),
        NamedPart("stem bushing", (STEM + 2, cage.JOINT + 34), "right"),
        NamedPart("gasket", (45, cage.JOINT - 0.5)),
        *lifted_parts(bonnet.PARTS[:3], cage.JOINT),
        *lifted_parts(bonnet.OUTSIDE[1:], cage.JOINT),
        NamedPart("yoke", (-64, cage.JOINT + 148)),
        NamedPart("balance hole", (-13.5, cage.SEAT + 22), "left", (0, 30)),
        NamedPart("plug seal", (-cage.INSIDE + 2, cage.HEAD - 4), "left", (0, 30)),
    ),
    (-133, -86, 133, cage.JOINT + 239),
    1.05,
)
