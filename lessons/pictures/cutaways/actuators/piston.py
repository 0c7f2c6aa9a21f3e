"""Double-acting piston actuator: air on either side of a piston, no spring. Heights are above the actuator's foot."""

from __future__ import annotations

from lessons.pictures.cutaways.actuators.actuators import FRAME_PARTS, below, frame
from lessons.pictures.cutaways.actuators.casing import ROD, STROKE, connection
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import bar, rect, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape
from lessons.pictures.cutaways.trim.bonnet import both

BORE = 75.0  # [mm] radius of the cylinder
FLOOR, CEILING = 18.0, 92.0  # [mm] ends of the cylinder's room
THICK = 28.0  # [mm] of the piston


def _fixed() -> list[Shape]:
    foot = rounded([(ROD + 4, -4), (22, -4, 2), (26, 0), (70, 0), (74, 4, 2), (98, 4, 2), (98, FLOOR),
        (BORE, FLOOR),
                    (BORE, FLOOR + 4), (BORE - 5, FLOOR + 4), (BORE - 7, FLOOR),
                        (ROD + 4, FLOOR)])  # fmt: skip
    right = [
        (BORE - 7, CEILING),
        (BORE - 5, CEILING - 4),
        (BORE, CEILING - 4),
        (BORE, CEILING),
        (98, CEILING),
        (98, CEILING + 14, 3),
    ]
    cap = rounded([*right, *[(-c[0], *c[1:]) for c in right[::-1]]])
    shapes = [*both(foot, "body", 3), Shape(cap, "bonnet", 3)]
    shapes += both(rect(BORE, FLOOR + 0.5, BORE + 7, CEILING - 0.5), "ring", 3.2)
    shapes += both(rect(ROD, -4, ROD + 4, FLOOR), "guide", 4)
    for low in (1, 9):
        shapes += both(rect(ROD, low, ROD + 3, low + 4), "soft", 4.5)
    shapes += both(rect(87, -4, 93, CEILING + 24), "bolt", 3.4)
    shapes += both(
        rounded([(82, CEILING + 14), (98, CEILING + 14), (98, CEILING + 21, 2), (82, CEILING + 21, 2)]), "bolt", 4
    )
    for y in (FLOOR + 9, CEILING - 9):
        shapes += connection(BORE + 7, y, 0) + [Shape(rect(BORE - 1, y - 3, BORE + 8, y + 3), "air", 3.5)]
    return shapes


def _moving(travel: float) -> list[Shape]:
    """Return piston with seals and rod, the air on either side, and what hangs below."""
    lift = STROKE * travel
    low = FLOOR + 8 + lift
    high = low + THICK
    right = [(BORE - 0.6, low, 2), (BORE - 0.6, high, 2), (30, high, 4), (26, high - 7, 3)]
    piston = rounded([*right, *[(-x, y, r) for x, y, r in right[::-1]]])
    shapes = [
        Shape(rect(-BORE, FLOOR, BORE, low), "air", 2, "air-below"),
        Shape(rect(-BORE, high - 8, BORE, CEILING), "air", 2, "air-above"),
        Shape(piston, "trim cut", 5, "piston"),
        Shape(bar(ROD, -60 + lift, high - 7), "steel", 5.5, "rod"),
        Shape(rect(-13, high - 7, 13, high + 3), "bolt", 5.6, "piston-nut"),
    ]
    for name, y in (("lower", low + 5), ("upper", low + 17)):
        for side, x in (("left", -BORE), ("right", BORE - 5)):
            shapes.append(Shape(rect(x, y, x + 5, y + 5), "soft", 6, f"seal-{name}-{side}"))
    return [*shapes, *below(lift)]


PISTON = Drawing(
    lambda: [*_fixed(), *frame()],
    _moving,
    (
        NamedPart("cylinder cap", (-60, CEILING + 8)),
        NamedPart("tie rod", (90, CEILING + 22)),
        NamedPart("cylinder", (-BORE - 4, CEILING - 20)),
        NamedPart("piston", (-50, FLOOR + 20), rides=(0, 30)),
        NamedPart("piston seal", (BORE - 2.5, FLOOR + 27.5), rides=(0, 30)),
        NamedPart("upper air connection", (BORE + 24, CEILING - 9)),
        NamedPart("lower air connection", (BORE + 24, FLOOR + 9)),
        NamedPart("stem seal", (9.5, 3)),
        NamedPart("piston rod", (5, -24), "right"),
        *FRAME_PARTS,
    ),
    (-138, -110, 138, CEILING + 32),
    1.0,
)
