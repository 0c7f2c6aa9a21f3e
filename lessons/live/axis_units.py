"""An axis of a live picture that follows the apprentice's unit set: round numbers in either, without drawing anew."""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Any

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.markers import TICKDOWN, TICKLEFT
from matplotlib.ticker import MaxNLocator
from matplotlib.transforms import ScaledTranslation
from numpy.typing import NDArray

from lessons.live.sliders import UNIT_SETS
from lessons.live.svg_parts import Place
from lessons.units.quantities import shown_unit
from lessons.units.readout import in_trade_unit

_GAP = 5.0  # pt between axis and numbers
_SIDES: dict[str, dict[str, Any]] = {"x": {"ha": "center", "va": "top"}, "y": {"ha": "right", "va": "center_baseline"}}


def unit_axis(axes: Axes, which: str, label: str, unit: str, ticks: int = 6) -> Callable[[str], dict[str, Place]]:
    """Put ticks, grid and label in trade units on the x or y axis, whose data are in SI and whose limits are set.

    Returns what `move` merges into its answer, so figure and `move` are best written in one function::

        flow_axis = unit_axis(axes, "y", "flow", "m³/h")
        def move(travel, units): return {**flow_axis(units), "curve": ...}
        return Live(lambda: figure, move, ...)
    """
    low, high = sorted(axes.get_xlim() if which == "x" else axes.get_ylim())
    places = {units: _round_places(low, high, shown_unit(unit, units), ticks) for units in UNIT_SETS}
    most = max(len(at) for at, _ in places.values())
    _draw_parts(axes, which, most, max(len(words) for _, said in places.values() for words in said))

    def moved(units: str) -> dict[str, Place]:
        at, said = places[units]
        here = _points(which, at, 0.0)
        numbers = {f"{which}_tick_{k}": (said[k], here[k]) if k < len(at) else ("", here[-1]) for k in range(most)}
        words = f"{label} [{shown_unit(unit, units)}]" if unit else label
        return {f"{which}_label": words, f"{which}_ticks": here, f"{which}_grid": _grid(which, at), **numbers}

    return moved


def growing_axis(axes: Axes, which: str, label: str, unit: str, ticks: int = 6) -> Callable[..., dict[str, Place]]:
    """Put ticks, grid and label in trade units on an axis from 0 to 1, whose real limits change with what it shows.

    Returns what `move` merges into its answer, for limits in SI: `axis(low, high, units)`. The caller places its
    lines as fractions of the way from low to high.
    """
    most = ticks + 2
    _draw_parts(axes, which, most, 6)

    @functools.lru_cache(maxsize=200)  # an axis mostly stays as it was while a number grows
    def moved(low: float, high: float, units: str) -> dict[str, Place]:
        shown = shown_unit(unit, units)
        at, said = _round_places(low, high, shown, ticks)
        at, said = (at[:most] - low) / (high - low), said[:most]
        here = _points(which, at, 0.0)
        numbers = {f"{which}_tick_{k}": (said[k], here[k]) if k < len(at) else ("", (0.0, 0.0)) for k in range(most)}
        words = f"{label} [{shown}]" if unit else label
        return {f"{which}_label": words, f"{which}_ticks": here, f"{which}_grid": _grid(which, at), **numbers}

    return moved


def _round_places(start: float, end: float, unit: str, ticks: int) -> tuple[NDArray[np.float64], list[str]]:
    """Find round numbers of a unit within the limits; return where they are in SI, and as words."""
    low, high = in_trade_unit([start, end], unit)
    numbers = MaxNLocator(ticks, steps=[1, 2, 2.5, 5, 10]).tick_values(low, high)
    inside = numbers[(numbers >= low - 1e-9 * (high - low)) & (numbers <= high + 1e-9 * (high - low))]
    at = start + (inside - low) / (high - low) * (end - start)
    digits = next((n for n in range(6) if np.allclose(inside, np.round(inside, n), rtol=0, atol=1e-9)), 6)
    return at, [f"{0.0 if abs(n) < 1e-12 else n:.{digits}f}".replace("-", "−") for n in inside]


def _draw_parts(axes: Axes, which: str, most: int, longest: int) -> None:
    along = axes.get_xaxis_transform() if which == "x" else axes.get_yaxis_transform()
    away = (0.0, -_GAP / 72) if which == "x" else (-_GAP / 72, 0.0)
    own = axes.xaxis if which == "x" else axes.yaxis
    own.set_ticks([])
    asked = mpl.rcParams["xtick.labelsize" if which == "x" else "ytick.labelsize"]
    size = mpl.font_manager.FontProperties(size=asked).get_size_in_points()
    wide = size * 1.2 if which == "x" else 0.65 * size * longest
    own.set_label_text(" ", gid=f"{which}_label")
    own.labelpad = _GAP + wide + 3
    line: dict[str, Any] = {"transform": along, "clip_on": False, "ls": "", "color": "0.2"}
    axes.plot([0], [0], marker=TICKDOWN if which == "x" else TICKLEFT, ms=3.5, gid=f"{which}_ticks", **line)
    axes.plot([0], [0], transform=along, color="0.88", lw=0.7, zorder=0.5, gid=f"{which}_grid")
    for k in range(most):
        shift = ScaledTranslation(*away, axes.figure.dpi_scale_trans)
        axes.text(0, 0, "0", transform=along + shift, size=size, gid=f"{which}_tick_{k}", **_SIDES[which])


def _points(which: str, at: NDArray[np.float64], across: float) -> NDArray[np.float64]:
    points = np.column_stack([at, np.full(len(at), across)])
    return points if which == "x" else points[:, ::-1]


def _grid(which: str, at: NDArray[np.float64]) -> NDArray[np.float64]:
    lines = [[[p, 0.0], [p, 1.0], [np.nan, np.nan]] for p in at]
    points = np.array(lines).reshape(-1, 2)
    return points if which == "x" else points[:, ::-1]
