"""Four flanged joints, cut through one bolt: how each kind of gasket sits, and how far the nuts press it."""

from __future__ import annotations

import numpy as np

from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, rect, shift
from lessons.pictures.cutaways.sheet import Drawing, Shape

WALL, BOLT, OUT = 20.0, 92.0, 122.0  # [mm] from the pipe's bore: pipe wall, bolt, edge of the flange
RAISED, FACE = 66.0, 3.0  # [mm] edge and height of a raised face
DEEP, HIGH = 40.0, 78.0  # [mm] thickness of a flange, end of the pipe
STUD, HOLE = 10.0, 12.0  # [mm] half a bolt, half its hole
GROOVE, STEEP = (38.0, 56.0), 6.0  # [mm] edges of the groove of a ring joint, its slope
PITCH = 152.0  # [mm] from one joint to the next
OFTEN = 0.25  # share of a soft gasket's thickness that the nuts take away: own choice, for the eye
# Name, thickness when the nuts are only snug [mm], how far they press it [mm].
KINDS = (
    ("full-face gasket", 6.0, 6.0 * OFTEN),
    ("ring gasket", 6.0, 6.0 * OFTEN),
    ("spiral-wound gasket", 9.0, 3.0),
    ("ring joint gasket", 7.0, 1.0),
)


def _flange(kind: str) -> Points:
    """Return the lower flange with its pipe, cut, its joint face at 0."""
    face = (
        [(OUT, 0.0), (OUT, -DEEP)]
        if kind == "full-face gasket"
        else [(RAISED, 0.0), (RAISED, -FACE), (OUT, -FACE), (OUT, -DEEP)]
    )
    low, high = GROOVE
    groove = [(low, 0.0), (low + STEEP, -10.0), (high - STEEP, -10.0), (high, 0.0)] if "joint" in kind else []
    return np.array([(0.0, -HIGH), (0.0, 0.0), *groove, *face, (WALL + 8, -DEEP), (WALL, -DEEP - 8), (WALL, -HIGH)])


def _hole() -> Points:
    return rect(BOLT - HOLE, -DEEP, BOLT + HOLE, 0)


def _joint_gap(kind: str, travel: float) -> float:
    thick, pressed = next((thick, pressed) for name, thick, pressed in KINDS if name == kind)
    return thick - pressed * travel


def _placed(shapes: list[Shape], kind: str) -> list[Shape]:
    x = PITCH * [name for name, *_ in KINDS].index(kind)
    return [s._replace(xy=shift(s.xy, x, 0), gid=s.gid and f"{kind}-{s.gid}") for s in shapes]


def _lower(kind: str) -> list[Shape]:
    nut = [Shape(rect(BOLT - 17, -DEEP - 16, BOLT + 17, -DEEP), "bolt", 6)]
    stud = Shape(rect(BOLT - STUD, -DEEP - 24, BOLT + STUD, 0), "bolt", 5)
    return [Shape(_flange(kind), "body", 2), Shape(_hole(), "plate", 3), stud, *nut]


def _upper(kind: str, gap: float) -> list[Shape]:
    """Return the upper half as the nuts have drawn it down."""
    up = np.array([1.0, -1.0])
    flange, hole = _flange(kind) * up + (0, gap), _hole() * up + (0, gap)
    stud = rect(BOLT - STUD, -DEEP, BOLT + STUD, gap + DEEP + 26)
    nut = rect(BOLT - 17, gap + DEEP, BOLT + 17, gap + DEEP + 16)
    return [
        Shape(flange, "bonnet", 2, "flange"),
        Shape(hole, "plate", 3, "hole"),
        Shape(stud, "bolt", 5, "stud"),
        Shape(nut, "bolt", 6, "nut"),
    ]


def _soft(kind: str, gap: float) -> list[Shape]:
    """Return a flat gasket: to the edge of the flange with a hole for the bolt, or inside the bolts."""
    if kind == "ring gasket":
        return [Shape(rect(0, 0, RAISED + 10, gap), "soft", 4, "gasket")]
    inner, outer = rect(0, 0, BOLT - HOLE, gap), rect(BOLT + HOLE, 0, OUT, gap)
    return [Shape(inner, "soft", 4, "gasket"), Shape(outer, "soft", 4, "rim")]


def _spiral(gap: float) -> list[Shape]:
    """Return the windings between an inner and a centring ring, which reaches to the bolt."""
    steel = min(gap, 6.0) / 2
    low, high = gap / 2 - steel, gap / 2 + steel
    rings = [
        Shape(rect(2, low, 14, high), "ring", 4, "inner"),
        Shape(rect(60, low, BOLT - STUD, high), "ring", 4, "centring"),
    ]
    turns = []
    for k in range(8):
        x = 15 + 5.6 * k
        vee = [(x, 0), (x + 2.5, gap / 2), (x, gap), (x + 2.6, gap), (x + 5.1, gap / 2), (x + 2.6, 0)]
        turns.append(Shape(np.array(vee), "seat" if k % 2 else "soft", 5, f"turn{k}"))
    return [*rings, *turns]


def _ring_joint(gap: float) -> list[Shape]:
    """Return the eight-sided ring; only its flanks touch those of the grooves."""
    low, high = GROOVE
    wide, narrow = ((high - low) / 2 - STEEP * depth / 10.0 for depth in (1.0, 8.0))
    side, top = gap / 2 + 1.0, gap / 2 + 8.0
    half = [(-narrow, -top), (narrow, -top), (wide, -side), (wide, side)]
    ring = np.array([*half, *((-x, -y) for x, y in half)])
    return [Shape(shift(ring, (low + high) / 2, gap / 2), "ring", 4, "gasket")]


def _gasket(kind: str, gap: float) -> list[Shape]:
    return {"spiral-wound gasket": _spiral, "ring joint gasket": _ring_joint}.get(kind, lambda g: _soft(kind, g))(gap)


def _fixed() -> list[Shape]:
    return [shape for kind, *_ in KINDS for shape in _placed(_lower(kind), kind)]


def _moving(travel: float) -> list[Shape]:
    shapes = []
    for kind, *_ in KINDS:
        gap = _joint_gap(kind, travel)
        shapes += _placed([*_upper(kind, gap), *_gasket(kind, gap)], kind)
    return shapes


GASKET_KINDS = Drawing(
    _fixed,
    _moving,
    tuple(NamedPart(kind, (PITCH * k + 52, -102), "here") for k, (kind, *_) in enumerate(KINDS)),
    (-6, -160, 3 * PITCH + OUT + 6, HIGH + 12),
    0.86,
    says=lambda travel: f"nuts {'snug' if travel == 0 else f'drawn {100 * travel:.0f} %'}",
    bar=0.0,
)
