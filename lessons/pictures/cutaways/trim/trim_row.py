"""Three windows or three plugs in a row, in any order and without their curves: for questions."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.figure import Figure

from lessons.pictures.cutaways import paper
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.sheet import Drawing, Shape
from lessons.pictures.cutaways.trim import characteristic_shapes as shapes

LOW, HIGH = shapes.SILL - 18, 46.0  # [mm] of the windows; plugs hang a little lower
HALF = 0.5 * shapes.STROKE


def _window(kind: str) -> list[Shape]:
    return [
        *shapes.cage(),
        Shape(shapes.opened_shape(kind, shapes.STROKE), "trim", 3),
        Shape(shapes.opened_shape(kind, HALF), "fluid low", 3.5),
    ]


def _plug(kind: str) -> list[Shape]:
    return [*shapes.seat_shape(0), Shape(shapes.plug_shape(kind, HALF), "trim", 3)]


def trim_row(what: str, kinds: Sequence[str]) -> Figure:
    """Draw half-open windows ("window") or plugs ("plug") for these curves, numbered from the left."""
    one = _window if what == "window" else _plug
    drawn = [s for kind, x in zip(kinds, shapes.PLACES, strict=True) for s in shapes.at(x, one(kind))]
    level = shapes.SILL + 10 if what == "window" else HALF
    parts = tuple(NamedPart(kind, (x, level), "below") for kind, x in zip(kinds, shapes.PLACES, strict=True))
    box = (-134.0, LOW if what == "window" else -46.0, 134.0, HIGH if what == "window" else 66.0)
    row = Drawing(lambda: drawn, lambda _travel: [], parts, box, 1.9)
    return paper.draw(row, 0.5, names=False)
