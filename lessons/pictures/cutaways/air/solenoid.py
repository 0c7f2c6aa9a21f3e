"""A three-way solenoid valve in the air line: with current it lets air through, without it vents the actuator."""

from __future__ import annotations

from lessons.pictures.cutaways.air.fittings import pair, port, says
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import coil, rect, rounded
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

LIFT = 8.0  # [mm] of the plunger
TOP = 52.0  # [mm] foot of the fixed core


def _body() -> list[Shape]:
    block = rounded([(-40, -42, 3), (40, -42, 3), (40, 14, 3), (-40, 14, 3)])
    room = rounded([(-16, -12), (-4, -12), (-4, -24), (-41, -24), (-41, -32), (4, -32), (4, -12), (16, -12), (16, -8),
                    (41, -8), (41, 0), (16, 0), (16, 14), (-16, 14)])  # fmt: skip
    shapes = [Shape(block, "body", 3), Shape(room, "air within", 4)]
    shapes += pair(rounded([(4, -12), (8, -12), (6, -2, 1), (4, -2)]), "seat", 4.5)
    return [*shapes, *port(-40, -28, 4, -22), *port(40, -4, 4, 22)]


def _coil() -> list[Shape]:
    shapes = [*pair(rect(12, 14, 15, 98), "steel", 6), Shape(rect(-12, 13, 12, TOP), "air within", 4)]
    core = [(3, TOP), (12, TOP), (12, 98), (3, 98)]
    shapes += [*pair(rounded(core), "ring", 5), Shape(rect(-3, TOP - 1, 3, 112), "air within", 5.05)]
    shapes += pair(rect(15, 20, 36, 88), "guide", 4)
    frame = rounded([(15, 14), (42, 14, 3), (42, 94, 3), (15, 94), (15, 88), (36, 88), (36, 20), (15, 20)])
    shapes += [
        *pair(frame, "sheet", 4.5),
        *pair(rect(3, 98, 11, 106), "bolt", 6.1),
        Shape(rect(-3, 106, 3, 112), "air", 5.1),
    ]
    return [*shapes, Shape(rect(40, 48, 60, 62), "bolt", 4.6), Shape(rect(58, 53, 74, 57), "dark", 4.5)]


def _moving(travel: float) -> list[Shape]:
    """Return the plunger with its discs and spring, and where the air goes."""
    up = LIFT * travel
    foot = -2.0 + up
    wire = coil(-6.5, 6.5, foot + 38, TOP, 3)
    body = rounded([(-8.5, foot + 4, 1), (8.5, foot + 4, 1), (8.5, foot + 38), (4, foot + 38), (4, foot + 44),
                    (-4, foot + 44), (-4, foot + 38), (-8.5, foot + 38)])  # fmt: skip
    through = [(-60, -28), (-20, -28), (0, -22), (0, -8), (9, -4), (24, -4), (60, -4)]
    vented = [(60, -4), (26, -4), (12, 2), (10.3, 14), (10.3, 44), (7, 50), (0, 56), (0, 80), (0, 114)]
    return [
        Shape(body, "trim", 5.2, "plunger"),
        Shape(rect(-8, foot, 8, foot + 4), "soft", 5.3, "lower-disc"),
        Shape(rect(-4, foot + 44, 4, foot + 46), "soft", 5.3, "upper-disc"),
        Shape(wire, "thin wire", 5.6, "spring"),
        Shape(wire, "thin wire core", 5.7, "spring-core"),
        *flow("air-in", through, travel >= 1, arrows=(0.3, 1.0), look="air flow", z=9),
        *flow("air-out", vented, travel <= 0, arrows=(0.15, 1.0), look="air flow", z=9),
    ]


SOLENOID = Drawing(
    lambda: [*_body(), *_coil()],
    _moving,
    (
        NamedPart("exhaust port", (0, 108), "left"),
        NamedPart("fixed core", (-8, 92), "left"),
        NamedPart("solenoid coil", (-25, 66), "left"),
        NamedPart("plunger", (-5, 26), "left", (0, LIFT)),
        NamedPart("port from the positioner", (-56, -27), "left"),
        NamedPart("return spring", (6.5, 45), "right", (0, 3)),
        NamedPart("cable", (66, 55), "right"),
        NamedPart("port to the actuator", (56, -3), "right"),
        NamedPart("supply seat", (6, -9), "right"),
    ),
    (-64, -44, 76, 116),
    1.55,
    says("no current: the actuator is vented", "on its way", "current: air goes through"),
    bar=0,
)
