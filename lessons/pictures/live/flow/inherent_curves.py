"""Live picture: the three inherent characteristics, and how steep each is where the stem stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import BLACK, CYCLE, GREY
from valvecalc.characteristic import (
    equal_percentage,
    equal_percentage_slope,
    linear,
    linear_slope,
    quick_opening,
    quick_opening_slope,
)

TRAVELS = np.linspace(0, 1, 101)
NAMES = ("linear", "equal", "quick")
TITLES = {"linear": "linear", "equal": "equal percentage", "quick": "quick opening"}
ROWS = {"linear": 0.66, "equal": 0.48, "quick": 0.84}
ALT = (
    "Relative flow coefficient against travel for linear, equal percentage and quick opening trim, at constant "
    "pressure drop. A dot on each curve moves with the stem; beside it stand flow coefficient and steepness."
)


def inherent_curves(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 04; sliders for travel and rangeability."""
    sliders = (
        Slider("travel", "travel", 0.0, 1.0, 0.01, 0.2, "%"),
        Slider("rangeability", "rangeability", 10.0, 100.0, 5.0, 50.0),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


def _phi(travel: Any, rangeability: float) -> dict[str, Any]:
    return {
        "linear": linear(travel, rangeability),
        "equal": equal_percentage(travel, rangeability),
        "quick": quick_opening(travel),
    }


def _slopes(travel: float, rangeability: float) -> dict[str, float]:
    # The quick opening stand-in is vertical at the seat; a hair above it the number can be said.
    return {
        "linear": float(linear_slope(travel, rangeability)),
        "equal": float(equal_percentage_slope(travel, rangeability)),
        "quick": float(quick_opening_slope(max(travel, 0.001))),
    }


def _move(travel: float, rangeability: float) -> dict[str, Any]:
    curves, here = _phi(TRAVELS, rangeability), _phi(travel, rangeability)
    slopes = _slopes(travel, rangeability)
    moved: dict[str, Any] = {"stem": [(travel, 0), (travel, 1)]}
    for name in NAMES:
        at = float(here[name])
        moved[f"{name}_curve"] = np.column_stack([TRAVELS, curves[name]])
        moved[f"{name}_dot"] = [(travel, at)]
        moved[f"{name}_says"] = f"{100 * at:.1f} %"
        moved[f"{name}_slope"] = f"{100 * slopes[name] / 10:.1f} points" if slopes[name] < 5 else "very steep"
    return moved


def _draw() -> Figure:
    figure = Figure(figsize=(7.2, 3.9), layout=None)
    axes = figure.add_axes((0.09, 0.14, 0.52, 0.81))
    share_axes(axes, "travel [%]", "relative flow coefficient [%]")
    draw_curves(axes, NAMES)
    _legend(figure.add_axes((0.63, 0.14, 0.36, 0.81)))
    return figure


def _legend(axes: Axes) -> None:
    """Write the names, each with a piece of its line, and the places for the numbers that move."""
    draw_names(axes, "Where the stem stands", ROWS, (0.15, 0.065))
    for name, y in ROWS.items():
        axes.text(0.42, y - 0.065, "", fontsize=9.5, va="center", color=BLACK).set_gid(f"{name}_slope")
    axes.text(0.15, 0.30, "of rated", fontsize=8.5, va="center", color="#444444")
    axes.text(0.42, 0.30, "steepness here, for\n10 % of travel", fontsize=8.5, va="center", color="#444444")
    axes.text(
        0.0,
        0.08,
        "Constant pressure drop. Quick opening\nhas no standard equation: √travel\nstands in for it.",
        fontsize=8.5,
        va="center",
        color="#444444",
    )


def share_axes(axes: Axes, across: str, up: str) -> None:
    """Draw axes of two shares from 0 to 100 %, with a light grid."""
    ticks = np.linspace(0, 1, 6)
    labels = [f"{100 * t:.0f}" for t in ticks]
    axes.set(xlim=(-0.02, 1.02), ylim=(-0.02, 1.03), xlabel=across, ylabel=up)
    axes.set_xticks(ticks, labels)
    axes.set_yticks(ticks, labels)
    axes.grid(visible=True, color="#dddddd", lw=0.6)
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_axisbelow(True)


def draw_curves(axes: Axes, names: Sequence[str]) -> None:
    """Draw the line at the stem, and for each trim a curve with a dot where the stem stands."""
    axes.plot([0, 0], [0, 1], color=GREY, lw=0.8)[0].set_gid("stem")
    for name, (colour, dashes) in zip(names, CYCLE, strict=False):
        axes.plot(TRAVELS, TRAVELS, color=colour, ls=dashes, lw=2)[0].set_gid(f"{name}_curve")
        axes.plot([0], [0], "o", color=colour, ms=8, mec="white")[0].set_gid(f"{name}_dot")


def draw_names(axes: Axes, heading: str, rows: Mapping[str, float], beside: tuple[float, float]) -> None:
    """Write the names beside pieces of their lines, and below each the place for its number."""
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.text(0.0, 0.985, heading, fontsize=10, weight="bold", va="center")
    right, below = beside
    for (name, y), (colour, dashes) in zip(rows.items(), CYCLE, strict=False):
        axes.plot([0, 0.12], [y, y], color=colour, ls=dashes, lw=2)
        axes.text(right, y, TITLES[name], fontsize=9.5, va="center", weight="bold")
        axes.text(right, y - below, "", fontsize=9.5, va="center").set_gid(f"{name}_says")
