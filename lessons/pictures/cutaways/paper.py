"""Draws a cut-away on paper with matplotlib: shapes, numbers and names, scale bar; and the key to all cut-aways."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.artist import Artist
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Polygon

from lessons.pictures import style
from lessons.pictures.cutaways import labels
from lessons.pictures.cutaways.parts import rect
from lessons.pictures.cutaways.sheet import Drawing, Shape, callouts, leader
from valvecalc import checks

NAMES_ROOM = 122.0  # [pt] beside the drawing, for numbers with names
NUMBERS_ROOM = 34.0  # [pt] beside or below the drawing, for numbers alone
BELOW_ROOM = 52.0  # [pt] below the drawing, for numbers with names
MARGIN = 8.0  # [pt] round the drawing where nothing is written
KEY_ALT = (
    "Key to the cut-aways: every material has its own colour and its own hatch, neighbouring castings are hatched in "
    "opposite directions, shafts, plugs, bolts and springs are never cut, and blue lines with arrows are the flow path."
)
COLUMNS, LINE = 3, 27.0  # [-], [pt] of the key; height of a line


def draw(drawing: Drawing, travel: float = 0.5, names: bool = True) -> Figure:
    """Draw a cut-away at a travel, with numbers and names or with numbers only."""
    checks.in_range("travel", travel, 0, 1, "-")
    figure, axes = _paper(drawing, names)
    for shape in [*drawing.fixed(), *drawing.moving(travel)]:
        add(axes, shape)
    _label(axes, drawing, travel, names)
    _foot(axes, drawing, travel, names)
    for x, y, words in drawing.notes:
        axes.text(x, y, words, ha="center", va="center", fontsize=style.LETTERS, family=style.FONT, zorder=30)
    return figure


def add(axes: Axes, shape: Shape) -> None:
    """Put one shape on the axes."""
    look = style.LOOKS[shape.look]
    kind: dict[str, Any] = {"zorder": shape.z, "linewidth": look.width, "linestyle": look.dashes, "clip_on": False}
    if look.fill is None:
        x, y = shape.xy.T
        artist: Artist = Line2D(x, y, color=look.edge, solid_capstyle="butt", solid_joinstyle="round", **kind)
    else:
        artist = Polygon(shape.xy, facecolor=look.fill, edgecolor=look.edge, joinstyle="round", **kind)
        if look.hatch:
            artist.set(hatch=look.hatch, hatchcolor="#666666", hatch_linewidth=0.5)
    if shape.gid:
        artist.set_gid(shape.gid)
    axes.add_artist(artist)


def _room(drawing: Drawing, names: bool) -> tuple[float, float]:
    """Return the room for numbers and names beside and below the drawing [pt]."""
    sides = {part.side for part in drawing.parts}
    beside = (NAMES_ROOM if names else NUMBERS_ROOM) if sides - {"below", "here"} else MARGIN
    return beside, (BELOW_ROOM if names else NUMBERS_ROOM) if "below" in sides else 0.0


def _paper(drawing: Drawing, names: bool) -> tuple[Figure, Axes]:
    """Return an empty figure whose data unit is one millimetre at the drawing's scale."""
    left, bottom, right, top = drawing.box
    beside, below = (room / drawing.scale for room in _room(drawing, names))
    foot, above = 22 / drawing.scale, MARGIN / drawing.scale
    x0, x1, y0, y1 = left - beside, right + beside, bottom - below - foot, top + above
    inches = drawing.scale / 72
    figure = Figure(figsize=((x1 - x0) * inches, (y1 - y0) * inches), facecolor="white")
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(x0, x1), ylim=(y0, y1))
    axes.set_axis_off()
    return figure, axes


def _label(axes: Axes, drawing: Drawing, travel: float, names: bool) -> None:
    """Write numbers, and names if wanted, with a leader to each part."""
    for call in callouts(drawing):
        for shape in leader(drawing, call, travel):
            add(axes, shape)
        circle_ = {"boxstyle": "circle,pad=0.22", "fc": "white", "ec": "black", "lw": 0.8}
        axes.text(*call.place, str(call.number), ha="center", va="center", fontsize=style.NUMBERS,
                  family=style.FONT, weight="bold", zorder=30, bbox=circle_)  # fmt: skip
        if names:
            _name(axes, call, drawing.scale)


def _name(axes: Axes, call: labels.Callout, scale: float) -> None:
    """Write a name beside or below its number."""
    x, y = call.place
    kind: dict[str, Any] = {"fontsize": style.LETTERS, "family": style.FONT, "linespacing": 1.1, "zorder": 30}
    if call.side in ("below", "here"):
        axes.text(x, y - 11 / scale, labels.wrapped(call.part.name, 10), ha="center", va="top", **kind)
    else:
        out, words = (-1 if call.side == "left" else 1), labels.wrapped(call.part.name)
        axes.text(x + out * 11 / scale, y, words, ha="right" if out < 0 else "left", va="center", **kind)


def _foot(axes: Axes, drawing: Drawing, travel: float, names: bool) -> None:
    """Write the scale bar and the travel below the drawing."""
    left, bottom, right, _ = drawing.box
    level = bottom - (13 + _room(drawing, names)[1]) / drawing.scale
    axes.text(right, level, drawing.says(travel), ha="right", va="center", fontsize=style.LETTERS,
              family=style.FONT, gid="readout")  # fmt: skip
    if drawing.bar:
        thick = 1.5 / drawing.scale
        add(axes, Shape(rect(left, level - thick, left + drawing.bar, level + thick), "dark"))
        axes.text(
            left + drawing.bar + 6 / drawing.scale,
            level,
            f"{drawing.bar:g} mm",
            ha="left",
            va="center",
            fontsize=style.LETTERS,
            family=style.FONT,
        )


def how_to_read() -> Figure:
    """Draw the key: a swatch of every material and kind of line with its meaning."""
    told = [(name, look.says) for name, look in style.LOOKS.items() if look.says]
    rows = -(-len(told) // COLUMNS)
    figure = Figure(figsize=(style.WIDTH / 72, (rows * LINE + 12) / 72), facecolor="white")
    FigureCanvasAgg(figure)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, style.WIDTH), ylim=(-rows * LINE - 6, 6))
    axes.set_axis_off()
    for i, (name, says) in enumerate(told):
        x, y = i // rows * style.WIDTH / COLUMNS + 8, -(i % rows + 0.5) * LINE
        line = style.LOOKS[name].fill is None
        xy = np.array([(x, y), (x + 34, y)]) if line else rect(x, y - 9, x + 34, y + 9)
        add(axes, Shape(xy, name))
        axes.text(x + 40, y, says, va="center", fontsize=style.LETTERS, family=style.FONT)
    return figure
