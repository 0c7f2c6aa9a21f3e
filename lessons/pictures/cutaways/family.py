"""All body styles of one line size, drawn to the same scale, to be told apart by their outlines."""

from __future__ import annotations

from lessons.pictures.cutaways.bodies import (
    angle,
    butterfly,
    cage,
    double_offset,
    double_seated,
    eccentric_plug,
    full_bore_ball,
    globe,
    rotary,
    segmented_ball,
    three_way,
    weir,
)
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import shift
from lessons.pictures.cutaways.sheet import Drawing, Shape

# Name, drawing, where its axis and its pipe's centre line go, and how far below that its number stands [mm].
MEMBERS = (
    ("single-seated globe", globe.GLOBE_SINGLE, 0.0, 470.0, 176.0),
    ("double-seated globe", double_seated.GLOBE_DOUBLE, 285.0, 470.0, 176.0),
    ("cage-guided globe", cage.CAGE_BALANCED, 570.0, 470.0, 176.0),
    ("angle body", angle.ANGLE, 840.0, 470.0, 176.0),
    ("three-way body", three_way.MIXING, 0.0, -115.0, 165.0),
    ("weir diaphragm body", weir.WEIR, 278.0, -115.0, 165.0),
    ("full-bore ball", full_bore_ball.FULL_BORE_BALL, 485.0, 120.0, 103.0),
    ("segmented ball", segmented_ball.SEGMENTED_BALL, 665.0, 120.0, 103.0),
    ("eccentric plug", eccentric_plug.ECCENTRIC_PLUG, 845.0, 120.0, 103.0),
    ("butterfly", butterfly.BUTTERFLY, 485.0, -165.0, 103.0),
    ("double-offset butterfly", double_offset.DOUBLE_OFFSET, 665.0, -165.0, 103.0),
)


def placed(i: int, shapes: list[Shape]) -> list[Shape]:
    """Return the shapes of one member at its place and under names of its own; of rotary bodies only the cut."""
    _, drawing, x, y, _ = MEMBERS[i]
    if drawing.box == rotary.BOX:
        shapes = [s for s in shapes if not (s.xy[:, 0] < -rotary.END - 6).all()]
    return [s._replace(xy=shift(s.xy, x, y), gid=s.gid and f"{i}-{s.gid}") for s in shapes]


def _fixed() -> list[Shape]:
    return [s for i, (_, drawing, *_) in enumerate(MEMBERS) for s in placed(i, drawing.fixed())]


def _moving(travel: float) -> list[Shape]:
    """Return the moving parts of all members."""
    return [s for i, (_, drawing, *_) in enumerate(MEMBERS) for s in placed(i, drawing.moving(travel))]


FAMILY = Drawing(
    _fixed,
    _moving,
    tuple(NamedPart(name, (x, y - below), "here") for name, _, x, y, below in MEMBERS),
    (-135, -352, 928, 800),
    0.475,
    bar=200.0,
)
