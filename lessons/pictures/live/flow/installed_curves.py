"""Live picture: the same trims in a line, when the pipework takes part of the pressure drop."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.flow.inherent_curves import TITLES, TRAVELS, draw_curves, draw_names, share_axes
from lessons.pictures.style import GREY, SKY, YELLOW
from valvecalc.characteristic import equal_percentage, linear
from valvecalc.installed import distance_from_straight, installed_flow, valve_drop_share

RANGEABILITY = 50.0
NAMES = ("linear", "equal")
ROWS = {"linear": 0.86, "equal": 0.70}
BARS = {"linear": 0.30, "equal": 0.16}
ALT = (
    "Flow as a share of full flow against travel, for a linear and an equal percentage trim fitted in a line. "
    "The smaller the valve's share of the pressure drop, the further both curves bow upwards. Bars show how the "
    "pressure is shared between valve and pipework at the present travel."
)


def installed_curves(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 05; sliders for pressure-drop ratio and travel."""
    sliders = (
        Slider("pressure_drop_ratio", "valve's share of the drop, full open", 0.02, 1.0, 0.01, 1.0, "%"),
        Slider("travel", "travel", 0.0, 1.0, 0.01, 0.5, "%"),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


def _flows(travel: Any, pressure_drop_ratio: float) -> dict[str, Any]:
    trims = {"linear": linear(travel, RANGEABILITY), "equal": equal_percentage(travel, RANGEABILITY)}
    return {name: installed_flow(phi, pressure_drop_ratio) for name, phi in trims.items()}


def _move(pressure_drop_ratio: float, travel: float) -> dict[str, Any]:
    curves, here = _flows(TRAVELS, pressure_drop_ratio), _flows(travel, pressure_drop_ratio)
    distances = {name: float(distance_from_straight(TRAVELS, curves[name])) for name in NAMES}
    straighter = min(distances, key=distances.__getitem__)
    moved: dict[str, Any] = {
        "stem": [(travel, 0), (travel, 1)],
        "verdict": f"straighter here: {TITLES[straighter]}",
    }
    for name in NAMES:
        share = float(valve_drop_share(here[name], pressure_drop_ratio))
        moved[f"{name}_curve"] = np.column_stack([TRAVELS, curves[name]])
        moved[f"{name}_dot"] = [(travel, float(here[name]))]
        moved[f"{name}_says"] = f"{100 * float(here[name]):.0f} % of full flow"
        moved[f"{name}_valve"] = _bar(0.0, share, BARS[name])
        moved[f"{name}_pipe"] = _bar(share, 1.0, BARS[name])
        moved[f"{name}_share"] = f"valve {100 * share:.0f} %"
    return moved


def _bar(start: float, end: float, y: float) -> list[tuple[float, float]]:
    return [(start, y - 0.03), (end, y - 0.03), (end, y + 0.03), (start, y + 0.03)]


def _draw() -> Figure:
    figure = Figure(figsize=(7.2, 3.9))
    axes = figure.add_axes((0.09, 0.14, 0.52, 0.81))
    share_axes(axes, "travel [%]", "flow, share of full flow [%]")
    axes.plot([0, 1], [0, 1], color=GREY, lw=1, ls=(0, (1, 2)))
    draw_curves(axes, NAMES)
    _side(figure.add_axes((0.64, 0.14, 0.34, 0.81)))
    return figure


def _side(axes: Axes) -> None:
    """Write the numbers and draw the bars that share the pressure between valve and pipework."""
    draw_names(axes, "In this line", ROWS, (0.16, 0.06))
    for name in NAMES:
        _pressure_bar(axes, name)
    axes.text(0.0, 0.545, "", fontsize=9.5, va="center").set_gid("verdict")
    axes.text(0.0, 0.43, "Who takes the pressure now", fontsize=10, weight="bold", va="center")
    axes.text(0.0, 0.03, "hatched: valve · plain: pipework", fontsize=8.5, va="center", color="#444444")


def _pressure_bar(axes: Axes, name: str) -> None:
    y = BARS[name]
    for part, colour, hatch in (("valve", YELLOW, "///"), ("pipe", SKY, "")):
        corners = _bar(0.0, 1.0, y)
        axes.add_patch(Polygon(corners, fc=colour, ec="black", lw=0.6, hatch=hatch, gid=f"{name}_{part}"))
    axes.text(0.0, y + 0.06, TITLES[name], fontsize=8.5, va="center")
    axes.text(1.0, y + 0.06, "", fontsize=8.5, va="center", ha="right").set_gid(f"{name}_share")
