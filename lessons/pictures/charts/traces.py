"""Recorded traces for questions, computed and not drawn: loops that swing, stroke tests of valves with friction."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import ArrayLike

from lessons.pictures.live.drive.hunting import TRAVELS, installed_curve
from lessons.pictures.style import BLUE, GREY, ORANGE, VERMILION
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.loop import LoopTrace, gain_margin, simulate_loop
from valvecalc.stroke import Faults, StrokeTrace, ramp_signal, simulate_stroke

FINE = np.linspace(0, 1, 51)  # every 2 %
TIME = np.arange(0, 180, 0.3)  # s
SLOW = {"reset_time": 8.0, "lag": 4.0, "dead_time": 1.5, "fill_time": 1.0}  # s; own choice, no source


def swinging_loop(cause: str, size: float, seed: int) -> LoopTrace:
    """Record a flow loop that swings, by one of three causes.

    "sticky": a stick band of `size`; "tuned": a controller gain `size` times the one that just hunts; "setpoint": a set
    point that another controller moves by `size` either way.
    """
    rng = np.random.default_rng(seed)
    wanted, settings = np.where(TIME < 6, 0.47, 0.5), dict(SLOW)
    gain, band = 0.6, 0.0
    if cause == "tuned":
        gain, band = size * _hunting_gain(), 0.0
    elif cause == "setpoint":
        wanted = 0.5 + size * np.sin(2 * np.pi * TIME / (34 + 3 * (seed % 4)))
    else:
        # Without the quick filling the jump of the stem would be smeared.
        settings, gain, band = {**SLOW, "reset_time": 3.0, "lag": 2.0, "dead_time": 0.6}, 0.8, size
    return simulate_loop(
        TIME, wanted, TRAVELS, installed_curve(), proportional_gain=gain, stick_band=band, slip_jump=0.35 * band,
        noise=0.001, rng=rng, **settings,
    )  # fmt: skip


def _hunting_gain() -> float:
    flow = installed_curve()
    steep = float(np.interp(0.5, flow, np.gradient(flow, TRAVELS)))
    return float(gain_margin(steep, 1.0, SLOW["reset_time"], SLOW["lag"], SLOW["dead_time"], SLOW["fill_time"]))


def loop_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - shares look the same in both unit sets
    """Draw set point and flow, and below signal and, where the valve has a travel recorder, travel."""
    run = swinging_loop(n.right, n.size, n.seed)
    figure = Figure(figsize=(7.0, 4.0))
    upper, lower = figure.add_axes((0.09, 0.57, 0.88, 0.38)), figure.add_axes((0.09, 0.13, 0.88, 0.38))
    upper.plot(TIME, run.setpoint, color=GREY, lw=1.3, ls=(0, (4, 2)), label="set point")
    upper.plot(TIME, run.flow, color=BLUE, lw=1.6, label="flow")
    lower.plot(TIME, run.output, color=ORANGE, lw=1.6, ls=(0, (4, 1.5)), label="signal")
    if n.recorder:
        lower.plot(TIME, run.travel, color=VERMILION, lw=1.6, label="travel")
    for axes, words in ((upper, "flow [%]"), (lower, "signal, travel [%]" if n.recorder else "signal [%]")):
        _time_chart(axes, words)
    upper.set_xticklabels([])
    lower.set_xlabel("time [s]")
    return figure


def _time_chart(axes: Axes, words: str) -> None:
    low, high = axes.get_ylim()
    # A quiet trace stays quiet: never less than 15 % from bottom to top, with room for the names above it.
    middle, half = (low + high) / 2, max((high - low) / 2, 0.075)
    axes.set(xlim=(0, TIME[-1]), ylim=(middle - 1.1 * half, middle + 1.7 * half), ylabel=words)
    axes.yaxis.set_major_formatter(lambda value, _: f"{100 * value:.0f}")
    axes.grid(visible=True, color="#dddddd", lw=0.6)
    axes.legend(loc="upper right", ncols=2, fontsize=8.5, frameon=False, borderaxespad=0.2)


def stroke_trace(friction: float, area: float, low: float, high: float, seed: int) -> StrokeTrace:
    """Record a slow ramp from 10 to 90 % of the signal and back, twice, without a positioner [SI]."""
    valve = actuator_from_bench_set("reverse", area, low, high, 0.03)
    _, once = ramp_signal(200, 0.5, 0.1, 0.9)
    signal = np.concatenate([once, once[1:]])
    return simulate_stroke(
        np.arange(signal.size) * 0.5, signal, valve, low, high, Faults(friction=friction), supply_gauge=1.4 * high,
        fill_time=0.05, noise=0.0015, rng=np.random.default_rng(seed),
    )  # fmt: skip


def stroke_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - shares look the same in both unit sets
    """Draw travel against signal, up and down, on a grid fine enough to read it."""
    run = stroke_trace(n.friction, n.area, n.low, n.high, n.seed)
    settled = slice(run.time.size // 2, None)
    figure = Figure(figsize=(7.0, 4.6))
    axes = figure.add_axes((0.09, 0.12, 0.88, 0.84))
    axes.plot(run.signal[settled], run.travel[settled], color=VERMILION, lw=1.5)
    share_grid(axes, "signal [%]", "travel [%]")
    return figure


def share_grid(axes: Axes, across: str, up: str, thin: ArrayLike = FINE) -> None:
    """Draw axes of two shares with a line at every 10 % and thin ones at every 2 %, or across at `thin`."""
    major = np.linspace(0, 1, 11)
    labels: Any = [f"{100 * t:.0f}" for t in major]
    axes.set(xlim=(0, 1), ylim=(0, 1), xlabel=across, ylabel=up)
    axes.set_xticks(major, labels)
    axes.set_yticks(major, labels)
    axes.grid(visible=True, color="#aaaaaa", lw=0.7)
    axes.set_axisbelow(True)
    thin_lines(axes, thin, FINE)


def thin_lines(axes: Axes, across: ArrayLike, up: ArrayLike = ()) -> None:
    """Draw the thin lines of a grid: as ticks they would take longer than all the rest of a chart."""
    thin: dict[str, Any] = {"color": "#e6e6e6", "lw": 0.5, "zorder": 0.4}
    axes.vlines(across, 0, 1, transform=axes.get_xaxis_transform(), **thin)
    axes.hlines(up, 0, 1, transform=axes.get_yaxis_transform(), **thin)
