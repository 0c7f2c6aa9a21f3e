"""A current-to-pressure converter: a coil in a magnet tilts a flapper before a nozzle."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import circle, coil, rect, rounded, turn
from lessons.pictures.cutaways.sheet import Drawing, Shape, flow

LEVEL = 40.0  # [mm] of the flapper
TILT = 2.4  # [degrees] from no current to full current, drawn larger than it is
ARM = 62.0  # [mm] from the pivot to the nozzle


def _case() -> list[Shape]:
    outer = rounded([(-112, -74, 6), (112, -74, 6), (112, 86, 6), (-112, 86, 6)])
    inner = rounded([(-107, -69, 4), (107, -69, 4), (107, 81, 4), (-107, 81, 4)])
    pivot = np.array([(0, LEVEL - 3), (-8, LEVEL - 18), (8, LEVEL - 18)], dtype=float)
    post = [Shape(rect(-5, -69, 5, LEVEL - 18), "steel", 4), Shape(pivot, "dark", 5)]
    return [Shape(outer, "bonnet", 3), Shape(inner, "open air", 3.1), *post]


def _magnet() -> list[Shape]:
    yoke = rounded([(-96, -34, 2), (-44, -34, 2), (-44, 18), (-54, 18), (-54, -24), (-86, -24), (-86, 18), (-96, 18)])
    return [Shape(yoke, "ring", 4), Shape(rect(-75, -24, -65, 18), "trim", 4.1)]


def _nozzle() -> list[Shape]:
    tip = np.array([(ARM - 6, LEVEL - 26), (ARM - 6, LEVEL - 14), (ARM - 3, LEVEL - 7), (ARM + 3, LEVEL - 7),
                    (ARM + 6, LEVEL - 14), (ARM + 6, LEVEL - 26)])  # fmt: skip
    shapes = [Shape(tip, "steel", 5), Shape(rect(ARM - 1.5, -8, ARM + 1.5, LEVEL - 7), "air", 5.1)]
    shapes += [Shape(rect(22, -11, ARM + 1.5, -8), "air", 5), Shape(rect(22, -40, 25, -8), "air", 5)]
    shapes += [Shape(rect(17, -26, 30, -18), "steel", 5.3), Shape(rect(23, -26, 24, -18), "air", 5.4)]
    shapes += [Shape(rect(22, -62, 128, -54), "air", 4.9), Shape(rect(22, -54, 25, -38), "air", 5)]
    return shapes


def _relay() -> list[Shape]:
    block = rounded([(48, -50, 2), (104, -50, 2), (104, -14, 2), (48, -14, 2)])
    shapes = [
        Shape(block, "body", 4.5),
        Shape(rect(54, -23, 98, -14), "air", 5),
        Shape(rect(60, -15, 64, -8), "air within", 5.2),
    ]
    shapes += [Shape(rect(54, -26, 98, -23), "soft", 5.4), Shape(rect(54, -34, 98, -26), "open air", 5)]
    shapes += [Shape(rect(98, -32, 118, -29), "open air", 5.1), Shape(rect(62, -46, 98, -38), "air", 5)]
    shapes += [Shape(rect(98, -46, 128, -38), "air", 4.9), Shape(rect(72, -54, 80, -46), "air", 5)]
    return [*shapes, Shape(rect(74.5, -48, 77.5, -26), "steel", 5.5), Shape(rect(71, -51, 81, -47), "soft", 5.6)]


def _moving(travel: float) -> list[Shape]:
    """Return flapper with coil and zero spring: the more current, the nearer the flapper stands to the nozzle."""
    angle = TILT * (0.5 - travel) + 0.6
    bar = rounded([(-92, LEVEL - 3, 1), (ARM + 12, LEVEL - 3, 1), (ARM + 12, LEVEL + 3, 1), (-92, LEVEL + 3, 1)])
    former = rect(-82, LEVEL - 44, -78, LEVEL - 3), rect(-62, LEVEL - 44, -58, LEVEL - 3)
    about = (0.0, LEVEL)
    foot = float(turn([(-24, LEVEL + 3)], angle, about)[0][1])
    wire = coil(-30, -18, foot, 74, 4)
    needle = float(np.radians(225 - 270 * (0.12 + 0.7 * travel)))
    return [
        Shape(turn(bar, angle, about), "steel", 6, "flapper"),
        *(Shape(turn(xy, angle, about), "guide", 5, f"coil-{k}") for k, xy in enumerate(former)),
        Shape(wire, "thin wire", 5.6, "spring"),
        Shape(wire, "thin wire core", 5.7, "spring-core"),
        Shape(np.array([(40, 64), (40 + 9 * np.cos(needle), 64 + 9 * np.sin(needle))]), "outline", 7, "needle"),
    ]


def _fixed() -> list[Shape]:
    cable = [Shape(rect(-128, 58, -106, 66), "bolt", 4), Shape(rect(-140, 61, -126, 63), "dark", 4)]
    screw = [Shape(rect(-32, 74, -16, 78), "steel", 5), Shape(rect(-27, 78, -21, 94), "steel", 5.2)]
    dial = [Shape(circle(40, 64, 12), "plate", 5), Shape(circle(40, 64, 1.4, 12), "dark", 7.1)]
    paths = [
        *flow("air-supply", [(142, -58), (134, -58), (124, -58)], True, arrows=(1,), look="air flow", z=8),
        *flow("air-output", [(120, -42), (132, -42), (142, -42)], True, arrows=(1,), look="air flow", z=8),
    ]
    return [*_case(), *_magnet(), *_nozzle(), *_relay(), *cable, *screw, *dial, *paths]


CONVERTER = Drawing(
    _fixed,
    _moving,
    (
        NamedPart("cable", (-134, 62), "left"),
        NamedPart("flapper", (-50, LEVEL + 1), "left", (0, TILT * 0.9)),
        NamedPart("signal coil", (-80, LEVEL - 36), "left", (0, TILT)),
        NamedPart("magnet", (-91, -20), "left"),
        NamedPart("zero screw", (-24, 90), "left"),
        NamedPart("fixed restriction", (24, -22), "left"),
        NamedPart("output gauge", (46, 70), "right"),
        NamedPart("nozzle", (ARM + 4, LEVEL - 20), "right"),
        NamedPart("pilot relay", (100, -18), "right"),
        NamedPart("exhaust", (115, -30.5), "right"),
        NamedPart("output connection", (122, -41), "right"),
        NamedPart("supply connection", (122, -60), "right"),
    ),
    (-142, -76, 144, 96),
    0.95,
    lambda travel: f"{4 + 16 * travel:.1f} mA",
    bar=0,
)
