"""One line of a P&ID: a pipe with its loop, in the symbols of ISA-5.1 (from memory). Places are in data units."""

from __future__ import annotations

from collections.abc import Sequence
from types import SimpleNamespace
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon, Rectangle

from lessons.pictures.style import BLACK

LINE, BYPASS, ROUND = 1.6, 0.25, 0.36  # [-] height of pipe and bypass, radius of a bubble
VALVE = (7.3, LINE)
# The orifice plate between its flanges, where flow is measured.
PLATE = {f"plate_{x:g}": [(x, LINE - 0.25), (x, LINE + 0.25)] for x in (2.02, 2.18)}
# Each thing on the sheet, and where it stands.
PLACES = {
    "transmitter": (2.1, 3.0),
    "controller": (4.3, 4.55),
    "converter": (6.0, 3.3),
    "valve": (7.3, 2.35),
    "block valve": (5.7, LINE),
    "strainer": (6.45, LINE),
    "bypass valve": (7.3, BYPASS),
    "drain": (7.95, 1.02),
    "electric signal": (2.85, 4.55),
    "air signal": (6.86, 3.3),
}
# Where the number of each thing stands when it is asked for.
NUMBERS = {
    "transmitter": (1.5, 3.3),
    "controller": (4.3, 3.92),
    "converter": (5.42, 3.62),
    "valve": (6.62, 2.5),
    "block valve": (5.7, 2.05),
    "strainer": (6.45, 1.16),
    "bypass valve": (7.3, 0.68),
    "drain": (8.42, 1.0),
    "electric signal": (3.0, 4.9),
    "air signal": (6.8, 3.68),
}


def bow_tie(axes: Axes, x: float, y: float, *, half: float = 0.26, upright: bool = False, dot: bool = False) -> None:
    """Draw a valve: two cones tip to tip; a dot in the middle makes it a globe valve."""
    for side in (-1, 1):
        cone = np.array([(0, 0), (side * half, 0.62 * half), (side * half, -0.62 * half)])
        axes.add_patch(Polygon((cone[:, ::-1] if upright else cone) + (x, y), fc="white", ec=BLACK, lw=1.2, zorder=4))
    if dot:
        axes.add_patch(Circle((x, y), 0.09, fc=BLACK, zorder=5))


def paper(size: tuple[float, float] = (7.2, 3.9)) -> tuple[Figure, Axes]:
    """Return a figure with axes for the sheet and its loop, drawn without letters."""
    figure = Figure(figsize=size)
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, 10.4), ylim=(-0.25, 10.4 * size[1] / size[0] - 0.25), aspect="equal")
    axes.set_axis_off()
    _pipes(axes)
    _signals(axes)
    _bubbles(axes)
    _control_valve(axes)
    return figure, axes


def _pipes(axes: Axes) -> None:
    axes.plot([0.3, 10.1], [LINE, LINE], color=BLACK, lw=2.2)
    axes.plot([5.1, 5.1, 9.5, 9.5], [LINE, BYPASS, BYPASS, LINE], color=BLACK, lw=2.2)
    for x in (5.7, 8.75):
        bow_tie(axes, x, LINE)
    bow_tie(axes, 7.3, BYPASS, dot=True)
    x, y = PLACES["drain"]
    bow_tie(axes, x, y, half=0.2, upright=True)
    axes.plot([x, x], [LINE, y + 0.2], color=BLACK, lw=1.4)
    axes.plot([x, x], [y - 0.2, y - 0.4], color=BLACK, lw=1.4)
    # A strainer: a square across its corner, with a dashed basket in it.
    square = np.array([(-0.2, 0), (0, 0.2), (0.2, 0), (0, -0.2)]) + PLACES["strainer"]
    axes.add_patch(Polygon(square, fc="white", ec=BLACK, lw=1.2, zorder=4))
    axes.plot([6.35, 6.55], [LINE + 0.1, LINE - 0.1], color=BLACK, lw=1.1, ls=(0, (2, 1.5)), zorder=5)
    axes.add_patch(Polygon([(1.0, LINE), (0.75, LINE + 0.12), (0.75, LINE - 0.12)], fc=BLACK, zorder=4))
    for name, places in PLATE.items():
        axes.plot(*np.transpose(places), color=BLACK, lw=1.6)[0].set_gid(name)


def _signals(axes: Axes) -> None:
    dashes: dict[str, Any] = {"color": BLACK, "lw": 1.2, "ls": (0, (5, 3))}
    axes.plot([2.1, 2.1], [LINE, 2.64], color=BLACK, lw=1.2)
    axes.plot([2.1, 2.1, 3.94], [3.36, 4.55, 4.55], **dashes)
    axes.plot([4.66, 6.0, 6.0], [4.55, 4.55, 3.66], **dashes)
    axes.plot([6.36, 7.3, 7.3], [3.3, 3.3, 2.56], color=BLACK, lw=1.2)
    for x, y, level in ((6.7, 3.3, True), (7.3, 3.0, False)):  # pairs of strokes across the line: air
        stroke = np.array([(-0.07, -0.13), (0.07, 0.13)])
        for shift in (-0.05, 0.05):
            across = (stroke + (shift, 0)) if level else (stroke + (shift, 0))[:, ::-1]
            axes.plot(*(across + (x, y)).T, color=BLACK, lw=1.1)


def _bubbles(axes: Axes) -> None:
    for name in ("transmitter", "controller", "converter"):
        axes.add_patch(Circle(PLACES[name], ROUND, fc="white", ec=BLACK, lw=1.3, zorder=4))
    x, y = PLACES["controller"]
    axes.add_patch(Rectangle((x - ROUND, y - ROUND), 2 * ROUND, 2 * ROUND, fc="white", ec=BLACK, lw=1.3, zorder=3))
    axes.plot([x - ROUND, x + ROUND], [y, y], color=BLACK, lw=1.1, zorder=4.5)


def _control_valve(axes: Axes) -> None:
    x, y = VALVE
    bow_tie(axes, x, y, half=0.34)
    axes.plot([x, x], [y, 2.35], color=BLACK, lw=1.3, zorder=3)
    angle = np.linspace(0, np.pi, 25)
    dome = np.column_stack([x + 0.38 * np.cos(angle), 2.28 + 0.26 * np.sin(angle)])
    axes.add_patch(Polygon(dome, fc="white", ec=BLACK, lw=1.3, zorder=4))


def tags(loop: str) -> dict[str, str]:
    """Return the letters of each bubble of a loop, such as F-2107; the number stands below.

    >>> tags("F-2107")["controller"]
    'FIC'
    """
    letter = loop[0]
    return {"transmitter": f"{letter}T", "controller": f"{letter}IC", "converter": f"{letter}Y", "valve": f"{letter}V"}


def numbered(loop: str, order: Sequence[str]) -> Figure:
    """Draw the sheet of a loop with numbers at what is asked, in the order of the names."""
    figure, axes = paper((7.2, 3.75))
    for name, letters in tags(loop).items():
        write_tag(axes, name, letters, loop[2:])
    ring = {"boxstyle": "circle,pad=0.22", "fc": "#111111", "ec": "black", "lw": 0.8}
    for number, name in enumerate(order, start=1):
        axes.text(*NUMBERS[name], str(number), fontsize=9.5, weight="bold", color="white", ha="center", va="center",
                  bbox=ring, zorder=9)  # fmt: skip
    return figure


def asked_figure(n: SimpleNamespace, _units: str) -> Figure:
    """Draw the sheet for a question: its loop, and what is asked, with commas between."""
    return numbered(n.loop, n.asked.split(", "))


def write_tag(axes: Axes, name: str, letters: str, number: str, gid: str = "") -> None:
    """Write letters and number of a tag into its bubble; those of the valve stand beside it."""
    x, y = PLACES[name]
    if name == "valve":
        x, y, side = x + 0.5, y - 0.25, "left"
    else:
        side = "center"
    first = axes.text(x, y + 0.13, letters, fontsize=8.5, weight="bold", ha=side, va="center", zorder=6)
    axes.text(x, y - 0.14, number, fontsize=8, ha=side, va="center", zorder=6)
    if gid:
        first.set_gid(gid)
