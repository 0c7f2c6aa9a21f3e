"""The packing box of a 2 in (DN 50) valve, twice as large as in the other cut-aways. Heights are above the joint."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import bar, rect, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape
from lessons.pictures.cutaways.trim import bonnet
from lessons.pictures.cutaways.trim.bonnet import BORE, LOW, STEM, TRAVEL, both, torn

BOTTOM = 38.0  # [mm] where the bonnet is broken off
TAP = LOW + 29.75  # [mm] height of the tapped hole to the lantern ring


def _fixed() -> list[Shape]:
    torn_off = torn(14, 38, BOTTOM)[::-1]
    half = rounded(
        [(38, 128, 2), (BORE, 128), (BORE, LOW), (STEM + 1.2, LOW), (STEM + 1.2, 57), (14, 57, 2), *torn_off[::-1]]
    )
    shapes = [*both(half, "bonnet", 3), Shape(bar(14, BOTTOM + 1, 57), "fluid low", 2)]
    shapes += [Shape(bar(STEM + 1.2, 57, LOW), "fluid low", 2), *bonnet.packing()]
    tap = [
        Shape(rect(BORE, TAP - 2, 26, TAP + 2), "open air", 3.3),
        Shape(rect(24, TAP - 5, 38, TAP + 5), "open air", 3.4),
    ]
    plug = rounded([(27, TAP - 5), (38, TAP - 5), (38, TAP - 8), (46, TAP - 8, 1), (46, TAP + 8, 1),
        (38, TAP + 8),
                    (38, TAP + 5), (27, TAP + 5)])  # fmt: skip
    return [*shapes, *tap, Shape(plug, "bolt", 3.5)]


def stem_moving(travel: float) -> list[Shape]:
    """Return the stem, with a scribed mark for every 10 mm so that its movement shows."""
    lift = TRAVEL * travel
    rod = [(STEM, BOTTOM), *torn(-STEM, STEM, 188 - TRAVEL + lift)[::-1], (-STEM, BOTTOM)]
    shapes = [Shape(np.array(rod), "trim", 6, "stem")]
    for i in range(-4, 13):
        y = BOTTOM + 10 * i + lift + 14
        inside = BOTTOM + 1 < y < 186 - TRAVEL + lift - 3
        mark = np.array([(-STEM, y), (-STEM + 4, y)]) if inside else np.full((2, 2), np.nan)
        shapes.append(Shape(mark, "edge", 6.1, f"mark-{i}"))
    return shapes


PACKING_BOX = Drawing(
    _fixed,
    stem_moving,
    (
        NamedPart("stem", (0, 150), "left"),
        NamedPart("packing flange", (-27, 145)),
        NamedPart("packing studs", (22, 134)),
        NamedPart("packing nut", (26, 153), "right"),
        NamedPart("packing follower", (10, 132), "right"),
        NamedPart("packing rings", (-9.4, LOW + 45)),
        NamedPart("lantern ring", (-10.5, LOW + 25), "left"),
        NamedPart("bottom ring", (-10, LOW + 2), "left"),
        NamedPart("packing box", (BORE, LOW + 52), "right"),
        NamedPart("leak-off plug", (42, TAP)),
        NamedPart("bonnet", (30, LOW + 6)),
    ),
    (-54, BOTTOM - 4, 54, 191),
    2.45,
    bar=20.0,
)
