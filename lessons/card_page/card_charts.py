"""The charts of the job cards: lines over axes that follow what they show, and bars; drawn once, then moved."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import ArrayLike, NDArray

from lessons.live.axis_units import growing_axis
from lessons.pictures.style import CYCLE, GREY, VERMILION

Moved = dict[str, Any]
Span = tuple[float, float]
_SIZE = (7.2, 3.1)  # inches
_LETTERS = 9.5  # pt


def chart(
    x: tuple[str, str], y: tuple[str, str], lines: Mapping[str, str], *, marks: Sequence[str] = ()
) -> tuple[Figure, Callable[..., Moved]]:
    """Draw a chart; return it and `place(x_span, y_span, units, lines, marks, says)`, all in SI.

    `x`, `y`: label and trade unit. `lines`: name -> its words in the key; a name that starts with "limit" is
    thin and grey, one that starts with "back" has the colour of the line before it, dashed. `marks`: names of
    points. `says`: words over the chart.
    """
    figure = Figure(figsize=_SIZE)
    axes = figure.add_axes((0.115, 0.175, 0.865, 0.655))
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.spines[["top", "right"]].set_visible(False)
    _draw_lines(axes, lines, marks)
    figure.text(0.985, 0.955, "", ha="right", va="center", fontsize=_LETTERS + 0.5, weight="bold", gid="says")
    across, up = growing_axis(axes, "x", *x), growing_axis(axes, "y", *y)

    def place(
        spans: tuple[Span, Span],
        units: str,
        paths: Mapping[str, ArrayLike],
        points: Mapping[str, ArrayLike],
        says: str = "",
    ) -> Moved:
        moved: Moved = {**across(*spans[0], units), **up(*spans[1], units), "says": says}
        moved |= {f"line_{name}": _fractions(path, spans) for name, path in paths.items()}
        return moved | {f"mark_{name}": _fractions(np.asarray([at]), spans) for name, at in points.items()}

    return figure, place


def bar_chart(count: int, label: str, unit: str, limit: bool = False) -> tuple[Figure, Callable[..., Moved]]:
    """Draw bars; return them and `place(units, rows, limit, says)`, rows of (words, value, value in words)."""
    figure = Figure(figsize=_SIZE)
    axes = figure.add_axes((0.30, 0.175, 0.655, 0.70))
    axes.set(xlim=(0, 1), ylim=(count - 0.4, -0.6), yticks=[])
    axes.spines[["top", "right"]].set_visible(False)
    _draw_bars(axes, count)
    if limit:
        _draw_limit(axes, count)
    along = growing_axis(axes, "x", label, unit)

    def place(units: str, rows: Sequence[tuple[str, float, str]], at: float | None = None, said: str = "") -> Moved:
        high = _nice(max([abs(value) for _, value, _ in rows if math.isfinite(value)] + [abs(at or 0.0)]) * 1.25)
        moved: Moved = {**along(0.0, high, units)}
        for k, (words, value, in_words) in enumerate(rows):
            end = max(value, 0.0) / high if math.isfinite(value) else 0.0
            moved |= {
                f"bar_{k}": [(0, k), (end, k)],
                f"name_{k}": words,
                f"value_{k}": (in_words, (end + 0.01, k)),
            }
        if limit:
            here = math.nan if at is None else min(max(at / high, 0.0), 1.0)
            moved |= {
                "limit": [(here, count - 0.4), (here, -0.6)],
                "limit_says": (said, (min(max(here, 0.12), 0.85), -0.62)),
            }
        return moved

    return figure, place


def _draw_lines(axes: Axes, lines: Mapping[str, str], marks: Sequence[str]) -> None:
    looks = iter(CYCLE)
    colour: Any
    dashes: Any
    for name, words in lines.items():
        if name.startswith("back"):
            dashes = (0, (4, 2))
        else:
            colour, dashes = (GREY, (0, (1, 2))) if name.startswith("limit") else next(looks)
        width = 1.3 if name.startswith("limit") else 2
        axes.plot([0, 1], [0, 1], color=colour, ls=dashes, lw=width, gid=f"line_{name}", label=words)
    mark: dict[str, Any] = {"ms": 9, "color": VERMILION, "mec": "white", "clip_on": False, "zorder": 5}
    for name in marks:
        axes.plot([0.5], [0.5], "o", gid=f"mark_{name}", **mark)
    where: dict[str, Any] = {"loc": "lower left", "bbox_to_anchor": (-0.01, 1.0), "borderaxespad": 0.1}
    axes.legend(**where, ncols=6, frameon=False, fontsize=_LETTERS, columnspacing=1.2, handlelength=2.2)


def _draw_bars(axes: Axes, count: int) -> None:
    names: dict[str, Any] = {"transform": axes.get_yaxis_transform(), "ha": "right", "va": "center"}
    for k in range(count):
        axes.plot([0, 1], [k, k], lw=13, color="#8FC1E3", solid_capstyle="butt", gid=f"bar_{k}")
        axes.text(-0.015, k, "", fontsize=_LETTERS, gid=f"name_{k}", **names)
        axes.text(0, k, "", va="center", ha="left", fontsize=_LETTERS, gid=f"value_{k}")


def _draw_limit(axes: Axes, count: int) -> None:
    axes.plot([0.5, 0.5], [count - 0.4, -0.6], color=VERMILION, lw=2, ls=(0, (4, 2)), gid="limit")
    look: dict[str, Any] = {"fontsize": _LETTERS, "weight": "bold", "color": "#A34700"}
    axes.text(0.5, -0.62, "", ha="center", va="bottom", gid="limit_says", **look)


def upto(*values: float) -> Span:
    """Return an axis from 0 to over the largest value, which stays put while the values move a little."""
    return 0.0, _nice(1.08 * max(values))


def around(*values: float) -> Span:
    """Return an axis with 0 in the middle that holds the values."""
    top = _nice(1.15 * max(abs(value) for value in values))
    return -top, top


def _line(*points: ArrayLike) -> NDArray[np.float64]:
    """Put points one after another."""
    return np.asarray(points, dtype=float)


def curve(x: ArrayLike, y: ArrayLike) -> NDArray[np.float64]:
    """Put x and y side by side."""
    return np.column_stack(np.broadcast_arrays(np.asarray(x, dtype=float), np.asarray(y, dtype=float)))


def _fractions(path: ArrayLike, spans: tuple[Span, Span]) -> NDArray[np.float64]:
    (x0, x1), (y0, y1) = spans
    return (np.asarray(path, dtype=float) - (x0, y0)) / (x1 - x0, y1 - y0)


def _nice(value: float) -> float:
    """Return the next of 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8 times a power of ten."""
    if not value > 0:
        return 1.0
    power = 10.0 ** math.floor(math.log10(value))
    return next((n * power for n in (1, 1.5, 2, 2.5, 3, 4, 5, 6, 8) if n * power >= value * (1 - 1e-9)), 10 * power)
