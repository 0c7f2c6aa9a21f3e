"""What a cut-away is made of, and where its moving parts are at a travel; `paper` draws it."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from lessons.pictures.cutaways import labels
from lessons.pictures.cutaways.labels import NamedPart
from lessons.pictures.cutaways.parts import Points, circle, head, shift, smooth
from valvecalc import checks

HEADS = {"flow": "flow head", "air flow": "air head"}


class Shape(NamedTuple):
    """One outline in one look; those with a higher z lie in front; a gid marks one that moves or is measured."""

    xy: Points
    look: str
    z: float = 1.0
    gid: str = ""


def lifted(shapes: list[Shape], dy: float) -> list[Shape]:
    """Return shapes drawn about their own foot, lifted to where that foot is."""
    return [s._replace(xy=shift(s.xy, 0, dy)) for s in shapes]


class Drawing(NamedTuple):
    """All that makes a cut-away: the shapes that stay, those that move, the names, and the paper they need."""

    fixed: Callable[[], list[Shape]]
    moving: Callable[[float], list[Shape]]
    parts: tuple[NamedPart, ...]
    box: tuple[float, float, float, float]  # [mm] left, bottom, right, top of what is drawn
    scale: float  # [pt/mm]
    says: Callable[[float], str] = lambda travel: f"travel {100 * travel:.0f} %"
    bar: float = 50.0  # [mm] length of the scale bar; 0 for a sketch that is not to scale
    notes: tuple[tuple[float, float, str], ...] = ()  # [mm] words under or in the drawing, centred there


def move(drawing: Drawing, travel: float) -> dict[str, Points | str]:
    """Return where every moving part is at a travel: gid -> points [mm], and the text of the read-out."""
    checks.in_range("travel", travel, 0, 1, "-")
    places: dict[str, Points | str] = {s.gid: s.xy for s in drawing.moving(travel) if s.gid}
    for call in callouts(drawing):
        if any(call.part.rides) or call.part.swings:
            places |= {s.gid: s.xy for s in leader(drawing, call, travel)}
    places["readout"] = drawing.says(travel)
    return places


def flow(
    name: str,
    through: ArrayLike,
    flows: bool,
    *,
    arrows: tuple[float, ...] = (0.2, 1.0),
    size: float = 9.0,
    look: str = "flow",
    z: float = 4.0,
) -> list[Shape]:
    """Return a flow path with arrow heads at shares of its length; where nothing flows it is hidden (nan)."""
    line = smooth(through, 10)
    lengths = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(line, axis=0).T))])
    shapes = [Shape(line, look, z, name)]
    for i, share in enumerate(arrows):
        k = min(int(np.searchsorted(lengths, share * lengths[-1])), len(line) - 1)
        arrow = head(line[k], line[k] - line[max(k - 2, 0)], size)
        shapes.append(Shape(arrow, HEADS[look], z + 0.1, f"{name}-{i}"))
    if not flows:
        shapes = [s._replace(xy=np.full_like(s.xy, np.nan)) for s in shapes]
    return shapes


@cache
def callouts(drawing: Drawing) -> tuple[labels.Callout, ...]:
    """Return the numbers of a drawing with their parts and places; the same at every travel, so found only once."""
    left, bottom, right, top = drawing.box
    gap = 10 / drawing.scale
    return tuple(labels.placed_callouts(drawing.parts, (left - gap, bottom, right + gap, top), 11.5 / drawing.scale))


def leader(drawing: Drawing, call: labels.Callout, travel: float) -> list[Shape]:
    """Return the line from a number to its part at a travel, and the dot at its end."""
    if call.side == "here":
        return []
    end = labels.end_of(call.part, travel)
    dot = circle(*end, 1.9 / drawing.scale, 12)
    return [
        Shape(np.array([call.place, end]), "leader", 20, f"leader-{call.number}"),
        Shape(dot, "dot", 21, f"dot-{call.number}"),
    ]
