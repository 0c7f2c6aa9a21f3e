"""Live picture: two charts of a stroke test, stem against signal and against air, with faults to put in."""

from __future__ import annotations

import functools
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.charts.fault_charts import stroke
from lessons.pictures.live.flow.inherent_curves import share_axes
from lessons.pictures.style import BLUE, GREY, VERMILION
from lessons.refinery import drive_of
from lessons.units.quantities import to_base
from lessons.units.readout import to_decimals
from valvecalc.measures import friction_and_spring, loop_width
from valvecalc.stroke import StrokeTrace

TAG = "FV-1204"
TOP = 1.2e5  # Pa gauge; end of the air axis
ALT = (
    f"Two charts of a stroke test of {TAG}, up and down. Chart A: travel against signal. Chart B: travel "
    "against the air in the actuator. Dotted lines show the valve as it was left. Friction opens a loop in "
    "both charts; a zero shift moves chart A sideways and leaves B on its line; an air leak flattens A, and "
    "B stops short on its line."
)


def as_found_trace(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 13; sliders for friction, air leak and zero shift."""
    sliders = (
        Slider("friction", "packing friction", 0.0, 500.0, 25.0, 50.0, "N"),
        Slider("air_leak", "air leak, share of what the supply can pass", 0.0, 0.4, 0.02, 0.0, "%"),
        Slider("zero", "zero shift of the converter", -0.1, 0.1, 0.01, 0.0, "%"),
    )
    figure = Figure(figsize=(7.2, 4.0))
    left, right = figure.add_axes((0.08, 0.27, 0.39, 0.66)), figure.add_axes((0.58, 0.27, 0.39, 0.66))
    air = _charts(left, right)
    _words(figure)

    def move(friction: float, air_leak: float, zero: float, units: str) -> dict[str, Any]:
        run = as_found_stroke(friction, air_leak, zero)
        return {
            **air(units),
            "by_signal": np.column_stack([run.signal, run.travel]),
            "by_air": np.column_stack([run.pressure_gauge, run.travel]),
            **_says(run, units),
        }

    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


@functools.cache
def _sizes() -> tuple[float, float, float, float]:
    drive = drive_of(TAG)
    return to_base(drive.bench_low), to_base(drive.bench_high), to_base(drive.area), to_base(drive.travel)


@functools.lru_cache(maxsize=400)
def as_found_stroke(friction: float, air_leak: float, zero: float) -> StrokeTrace:
    """Return the stroke of the valve with these faults, without noise."""
    low, high, area, _ = _sizes()
    return stroke(low, high, area, friction=friction, air_leak=air_leak, zero_error=zero)


def _says(run: StrokeTrace, units: str) -> dict[str, str]:
    _, _, area, rated = _sizes()
    read = friction_and_spring(run.pressure_gauge, run.travel, area, rated)
    digits = 1 if units == "us" else 2
    return {
        "width": f"loop {abs(100 * float(loop_width(run.signal, run.travel))):.0f} % of the signal wide",
        "ends": f"travel from {100 * run.travel.min():.0f} to {100 * run.travel.max():.0f} %",
        "rubs": f"friction ± {to_decimals(float(read.friction), 'N', units)}",
        "bench": f"middle line starts at {to_decimals(float(read.bench_low_gauge), 'bar', units, digits)}",
    }


def _charts(left: Axes, right: Axes) -> Any:
    low, high, _, _ = _sizes()
    share_axes(left, "signal [%]", "travel [%]")
    share_axes(right, "", "travel [%]")
    right.set_xlim(0, TOP)
    for axes, ends, name, colour, title in (
        (left, [0, 1], "by_signal", VERMILION, "A  stem against signal"),
        (right, [low, high], "by_air", BLUE, "B  stem against air"),
    ):
        axes.plot(ends, [0, 1], color=GREY, lw=1.3, ls=(0, (1, 1.5)))
        axes.plot([0, 1], [0, 1], color=colour, lw=1.8)[0].set_gid(name)
        axes.set_title(title, fontsize=10, loc="left")
    right.grid(visible=False, axis="x")
    return unit_axis(right, "x", "air in the actuator", "bar")


def _words(figure: Figure) -> None:
    for x, names in ((0.08, ("width", "ends")), (0.58, ("rubs", "bench"))):
        for name, y in zip(names, (0.095, 0.038), strict=True):
            figure.text(x, y, "", fontsize=9, va="center").set_gid(name)
