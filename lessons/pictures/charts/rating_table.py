"""A small table of what bodies may hold, by temperature and class, for one metal: ASME B16.34, second-hand."""

from __future__ import annotations

from types import SimpleNamespace

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.units.quantities import Q, shown, shown_unit
from valvecalc.rating import CLASSES, RATINGS, TEMPERATURES

HEAD, LINE = "#ECEBE7", 0.25  # [in] height of a line


def rating_figure(n: SimpleNamespace, units: str) -> Figure:
    """Draw the table of the metal a question names."""
    rows = len(TEMPERATURES) + 2
    figure = Figure(figsize=(4.2, LINE * rows + 0.1))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.set(xlim=(0, 4.2), ylim=(-LINE * rows - 0.05, 0.05))
    axes.set_axis_off()
    axes.axhspan(-2 * LINE, 0, color=HEAD, lw=0)
    _write(axes, 0, [f"{n.metal}: may hold [{shown_unit('bar', units)}]"], "bold", start=1)
    heads = [shown_unit("°C", units), *(f"class {name}" for name in CLASSES)]
    _write(axes, 1, heads, "bold")
    for k, celsius in enumerate(TEMPERATURES):
        pressures = [shown(Q(float(RATINGS[n.metal][name][k]), "bar"), units).value for name in CLASSES]
        at = shown(Q(float(celsius), "°C"), units).value
        _write(axes, k + 2, [f"{'up to ' if k == 0 else ''}{at:g}", *(f"{each:g}" for each in pressures)], "normal")
    for k in range(rows + 1):
        axes.plot([0.05, 4.15], [-LINE * k, -LINE * k], color="#999999", lw=0.6)
    return figure


def _write(axes: Axes, row: int, words: list[str], weight: str, start: int = 0) -> None:
    for column, each in enumerate(words, start=start):
        x, side = (0.15, "left") if column == 0 else (1.55 + 1.0 * (column - 1), "left" if start else "center")
        axes.text(x if not start else 0.95, -LINE * (row + 0.5), each, fontsize=9, weight=weight, ha=side, va="center")
