"""A live picture for the browser tests; imported by their notebooks too."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import numpy as np
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.engine import LivePicture, on_page
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.units.readout import to_decimals

X = np.linspace(0, 1, 201)
FULL_FLOW = 120 / 3600  # m³/s
CELLS = [
    f"import sys; sys.path.insert(0, {str(Path(__file__).resolve().parents[2])!r})\n"
    "from tests.browser.live_figures import curve_picture",
    "live = curve_picture()\nlive",
    "closed = curve_picture(locked=True)\nclosed",
]  # of a notebook


def curve_picture(locked: bool = False) -> LivePicture:
    """A curve, its fill, its operating point and a number beside it, on axes that follow the units."""
    figure, move = curve_parts(Figure(figsize=(7, 4), layout="constrained"))
    sliders = [
        Slider("travel", "travel", 0, 1, 0.01, 0.5, "%"),
        Slider("rangeability", "rangeability", 20, 100, 5, 50),
    ]
    alt = "Flow against travel, with the valve's place on it"
    return on_page(MovingPicture(lambda: figure, move, sliders, alt=alt, units="si"), locked=locked)


def curve_parts(figure: Figure) -> tuple[Figure, Callable[..., dict[str, object]]]:
    axes = figure.subplots()
    axes.set(xlim=(0, 1), ylim=(0, 130 / 3600))
    axes.plot(X, X, lw=2, gid="curve")
    axes.fill_between(X, X, alpha=0.15, gid="fill")
    axes.plot([], [], "o", ms=8, clip_on=False, gid="point")
    axes.text(0, 0, "", ha="right", va="bottom", gid="flow")
    across, up = unit_axis(axes, "x", "travel", "%"), unit_axis(axes, "y", "flow", "m³/h")

    def move(travel: float, rangeability: float, units: str) -> dict[str, object]:
        flow = FULL_FLOW * rangeability ** (np.append(X, travel) - 1)
        curve, point = np.column_stack([X, flow[:-1]]), (travel, flow[-1])
        under = np.vstack([curve, [[1, 0], [0, 0]]])
        moved = {
            "curve": curve,
            "fill": under,
            "point": point,
            "flow": (to_decimals(flow[-1], "m³/h", units, 1) + "  ", point),
        }
        return moved | across(units) | up(units)

    return figure, move
