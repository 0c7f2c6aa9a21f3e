"""Live picture: the five-point stroke test of a valve, and the zero and span screws that bring it into its band."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import BLUE, CYCLE, GREY, VERMILION
from valvecalc.measures import hysteresis, inaccuracy
from valvecalc.stiction import backlash

SIGNALS = np.linspace(0, 1, 5)
BAND = 0.01  # own choice, no source: the valve's data sheet or the site says
FOUND_ZERO, FOUND_SPAN = 0.030, -0.050  # how the valve comes in
SHIFT = 0.25  # part of a span turn that also moves the zero; own choice, no source
TOP = 0.10  # of the error axis
WAYS = {"up": ("up", "^"), "down": ("down", "v")}
ALT = (
    "Error of travel, in per cent of span, against signal at 0, 25, 50, 75 and 100 %, going up and coming down, over a "
    "shaded band of plus and minus 1 %. The zero screw shifts all points, the span screw tilts them, and friction "
    "keeps up and down apart. A table lists signal and travel."
)


def stroke_points(units: str = "si") -> MovingPicture:
    """Return the first live picture of lesson 10; sliders for zero screw, span screw and dead band."""
    sliders = (
        Slider("zero", "zero screw, turned by", -0.05, 0.05, 0.0025, 0.0, "%"),
        Slider("span", "span screw, turned by", -0.07, 0.07, 0.0025, 0.0, "%"),
        Slider("dead_band", "dead band left by friction", 0.0, 0.04, 0.002, 0.006, "%"),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


def travels_at(zero: float, span: float, dead_band: float) -> tuple[Any, Any]:
    """Return the travel at the five signals on the way up and on the way down."""
    offset, slope = FOUND_ZERO + zero + SHIFT * span, 1 + FOUND_SPAN + span
    # Three runs: the first leads the stem to the lower end, as it stands before a test.
    runs = np.concatenate([SIGNALS[::-1], SIGNALS[1:], SIGNALS[-2::-1]])
    travel = np.clip(backlash(offset + slope * runs, dead_band), 0.0, 1.0)
    return travel[4:9], travel[8:13][::-1]


def _move(zero: float, span: float, dead_band: float) -> dict[str, Any]:
    up, down = travels_at(zero, span, dead_band)
    high, low = (float(error) for error in inaccuracy(SIGNALS, up, down))
    inside = max(high, -low) <= BAND + 1e-9
    moved: dict[str, Any] = {
        "worst": f"largest errors {_signed(high)} and {_signed(low)} %",
        "gap": f"up and down differ by {100 * float(hysteresis(up, down)):.1f} %",
        "verdict": "inside ±1 %: note as left" if inside else "outside ±1 %",
    }
    for name, travel in (("up", up), ("down", down)):
        # What lies beyond the chart is drawn on its edge; the table has the number.
        points = np.column_stack([SIGNALS, np.clip(travel - SIGNALS, -TOP, TOP)])
        moved[f"{name}_line"] = moved[f"{name}_dots"] = points
        for k, reading in enumerate(travel):
            moved[f"{name}_{k}"] = f"{100 * reading:.1f}"
    return moved


def _signed(error: float) -> str:
    return f"{100 * error:+.1f}".replace("-", "−")


def _draw() -> Figure:
    figure = Figure(figsize=(7.2, 4.0))
    axes = figure.add_axes((0.10, 0.13, 0.50, 0.83))
    axes.set(xlim=(-0.06, 1.06), ylim=(-TOP - 0.006, TOP + 0.006))
    axes.set(xlabel="signal [%]", ylabel="error of travel [% of span]")
    axes.set_xticks(SIGNALS, [f"{100 * s:.0f}" for s in SIGNALS])
    ticks = np.arange(-10, 11, 2)
    axes.set_yticks(ticks / 100, [f"{t:+d}".replace("-", "−") if t else "0" for t in ticks])
    axes.axhspan(-BAND, BAND, color="#DDEEDD", zorder=0.2)
    axes.axhline(0, color=GREY, lw=0.8)
    axes.grid(visible=True, axis="x", color="#dddddd", lw=0.6)
    axes.text(1.05, BAND + 0.002, "±1 %", fontsize=8.5, ha="right", va="bottom", color="#336633")
    axes.spines[["top", "right"]].set_visible(False)
    for (name, (_, marker)), (colour, dashes) in zip(WAYS.items(), CYCLE, strict=False):
        axes.plot(SIGNALS, SIGNALS, color=colour, ls=dashes, lw=1.4)[0].set_gid(f"{name}_line")
        axes.plot(SIGNALS, SIGNALS, marker, color=colour, ms=8, mec="white")[0].set_gid(f"{name}_dots")
    _table(figure.add_axes((0.65, 0.13, 0.34, 0.83)))
    return figure


def _table(axes: Axes) -> None:
    """Write the places of the readings and of what follows from them."""
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.text(0.0, 0.97, "Travel read [%]", fontsize=10, weight="bold", va="center")
    for x, words, colour in ((0.0, "signal", "black"), (0.55, "▲ up", BLUE), (0.95, "▼ down", VERMILION)):
        axes.text(x, 0.88, words, fontsize=9.5, va="center", ha="left" if x == 0 else "right", color=colour)
    for k, signal in enumerate(SIGNALS):
        y = 0.80 - 0.075 * k
        axes.text(0.0, y, f"{100 * signal:.0f} %", fontsize=9.5, va="center")
        for name, x in (("up", 0.55), ("down", 0.95)):
            axes.text(x, y, "", fontsize=9.5, va="center", ha="right").set_gid(f"{name}_{k}")
    for name, y in (("worst", 0.34), ("gap", 0.26)):
        axes.text(0.0, y, "", fontsize=9, va="center").set_gid(name)
    axes.text(0.0, 0.15, "", fontsize=9.5, weight="bold", va="center").set_gid("verdict")
    axes.text(0.0, 0.03, "at 0 and 100 % the valve may\nstand on its stops", fontsize=8.5, va="center", color="#444444")
