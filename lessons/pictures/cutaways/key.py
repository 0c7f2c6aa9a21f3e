"""The key to the cut-aways: which colour and hatch stands for what."""

from __future__ import annotations

import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure

from lessons.pictures import style
from lessons.pictures.cutaways.paper import add
from lessons.pictures.cutaways.parts import rect
from lessons.pictures.cutaways.sheet import Shape

ALT = (
    "Key to the cut-aways: every material has its own colour and its own hatch, neighbouring castings are hatched in "
    "opposite directions, shafts, plugs, bolts and springs are never cut, and blue lines with arrows are the flow path."
)
COLUMNS, LINE = 3, 27.0  # [-], [pt] height of a line


def how_to_read() -> Figure:
    """Draw a swatch of every material and kind of line with its meaning."""
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
