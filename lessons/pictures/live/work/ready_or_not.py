"""Live picture: how likely a valve that stands still has failed unseen, with proof tests and partial strokes."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import NDArray

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import CYCLE, VERMILION
from valvecalc.on_demand import YEAR, failed_by, failure_on_demand

MEAN_TIME = 50 * YEAR  # from one hidden failure to the next; own choice, no source
RATE = 1 / MEAN_TIME
SHOWN = 10 * YEAR
ALT = (
    "The probability that the valve has failed and nobody knows, over ten years: a saw. It climbs, and falls to zero "
    "at each proof test; each partial stroke takes part of it off, a small tooth. A dashed line marks its mean."
)


def ready_or_not(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 20; sliders for proof test, partial strokes and what these find."""
    sliders = (
        Slider("proof", "proof test every", 0.5 * YEAR, 5 * YEAR, 0.5 * YEAR, 2 * YEAR, "years"),
        Slider("strokes", "partial strokes a year", 0, 12, 1, 0),
        Slider("coverage", "share of failures they find", 0.0, 0.9, 0.05, 0.6, "%"),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


def partial_interval(proof: float, strokes: float) -> float | None:
    """Return the time from one partial stroke to the next, or None where they come no more often than proof tests."""
    return YEAR / strokes if strokes and YEAR / strokes < proof else None


def saw(proof: float, strokes: float, coverage: float) -> NDArray[np.float64]:
    """Return the corners of the saw: each test twice, just before it and after it [s, -]."""
    partial = partial_interval(proof, strokes)
    tests = np.concatenate([np.arange(step, SHOWN * 1.001, step) for step in (proof, partial or proof)])
    tests = np.unique(tests.round())
    before = np.repeat(tests, 2) + np.tile([-60.0, 60.0], len(tests))
    time = np.concatenate([[0.0], before[before < SHOWN - 60], [SHOWN - 60]])
    return np.column_stack([time, failed_by(time, RATE, proof, coverage, partial)])


def _move(proof: float, strokes: float, coverage: float) -> dict[str, Any]:
    partial = partial_interval(proof, strokes)
    mean = float(failure_on_demand(RATE, proof, coverage, partial))
    bare = float(failure_on_demand(RATE, proof))
    worst = float(saw(proof, strokes, coverage)[:, 1].max())
    return {
        "saw": saw(proof, strokes, coverage),
        "mean": [(0, mean), (SHOWN, mean)],
        "says": f"on average {100 * mean:.2f} %",
        "one_in": f"one demand in {1 / mean:.0f} missed",
        "worst": f"just before a test {100 * worst:.1f} %",
        "bare": f"without them {100 * bare:.2f} %" if partial else "no partial strokes",
        "level": f"range of {_level(mean)}",
    }


def _level(mean: float) -> str:
    """Name the range of a mean probability of failure on demand (IEC 61508-1, low demand, from memory)."""
    names = ("SIL 4 or better", "SIL 3", "SIL 2", "SIL 1", "no SIL")
    return names[int(np.searchsorted([1e-4, 1e-3, 1e-2, 1e-1], mean, side="right"))]


def _draw() -> Figure:
    figure = Figure(figsize=(7.2, 4.0))
    axes = figure.add_axes((0.09, 0.14, 0.55, 0.82))
    axes.set(
        xlim=(0, SHOWN),
        ylim=(0, 0.10),
        xlabel="years since the valve was as new",
        ylabel="has failed, and nobody knows [%]",
    )
    axes.set_xticks(np.arange(0, 11) * YEAR, [str(k) for k in range(11)], fontsize=8.5)
    axes.set_yticks(np.arange(0, 11, 2) / 100, [str(k) for k in range(0, 11, 2)], fontsize=8.5)
    axes.grid(color="0.9", lw=0.7)
    axes.spines[["top", "right"]].set_visible(False)
    axes.plot([0], [0], color=CYCLE[0][0], lw=2.2)[0].set_gid("saw")
    axes.plot([0], [0], color=VERMILION, lw=1.8, ls=(0, (6, 2)))[0].set_gid("mean")
    _side(figure.add_axes((0.67, 0.14, 0.32, 0.82)))
    return figure


def _side(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.plot([0, 0.12], [0.95, 0.95], color=VERMILION, lw=1.8, ls=(0, (6, 2)))
    for place, x, y, weight in (
        ("says", 0.16, 0.95, "bold"),
        ("one_in", 0.0, 0.87, "normal"),
        ("level", 0.0, 0.79, "bold"),
        ("worst", 0.16, 0.67, "normal"),
        ("bare", 0.0, 0.55, "normal"),
    ):
        axes.text(x, y, "", fontsize=9.5, va="center", weight=weight).set_gid(place)
    axes.plot([0, 0.12], [0.67, 0.67], color=CYCLE[0][0], lw=2.2)
    case = (
        "An invented valve: one hidden\nfailure in 50 years. Sensor, logic\nand solenoid come on top. The\n"
        "range is only one of the things\na SIL asks for (IEC 61508-1,\nfrom memory). Repairs take no\ntime here."
    )
    axes.text(0.0, 0.2, case, fontsize=8.5, va="center", color="#444444")
