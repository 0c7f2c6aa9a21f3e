"""As-found stroke tests for questions: tables of five points, charts of their errors, traces of a step."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.pictures.charts.five_points import SIGNALS, faulty, five_points
from lessons.pictures.charts.traces import thin_lines
from lessons.pictures.style import BLUE, CYCLE, GREY

BAND = 0.01  # own choice, no source: the valve's data sheet or the site says
TOP = 0.055  # of the error axis
WAYS = (("up", "^"), ("down", "v"))
SIZE = 0.03  # of the faults in the four charts


def table_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - the same in both sets
    """Draw the table of a five-point test."""
    figure = Figure(figsize=(7.0, 2.5))
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    columns = (0.155, 0.385, 0.635, 0.885)
    titles = ("signal [mA]", "signal [%]", "travel up [%]", "travel down [%]")
    for x, words in zip(columns, titles, strict=True):
        axes.text(x, 0.90, words, fontsize=9.5, weight="bold", ha="right", va="center")
    up, down = five_points(n.zero, n.span, n.gap, n.bow, n.seed)
    for k, (signal, rising, falling) in enumerate(zip(SIGNALS, up, down, strict=True)):
        y = 0.74 - 0.16 * k
        axes.plot([0.02, 0.98], [y + 0.08, y + 0.08], color="#bbbbbb", lw=0.7)
        row = [f"{4 + 16 * signal:.0f}", f"{100 * signal:.0f}", f"{100 * rising:.1f}", f"{100 * falling:.1f}"]
        for x, words in zip(columns, row, strict=True):
            axes.text(x, y, words.replace("-", "−"), fontsize=9.5, ha="right", va="center")
    return figure


def fault_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - as above
    """Draw the errors of one faulty valve."""
    figure = Figure(figsize=(7.0, 3.6))
    axes = figure.add_axes((0.10, 0.15, 0.87, 0.81))
    _errors(axes, *faulty(n.right, n.size, n.seed))
    axes.set(xlabel="signal [%]", ylabel="error of travel [% of span]")
    axes.legend(loc="upper left", ncols=2, fontsize=8.5, frameon=False)
    return figure


def four_faults_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - as above
    """Draw the errors of four valves, numbered, in the order the question wants."""
    figure = Figure(figsize=(7.0, 5.2))
    for k, fault in enumerate(n.order.split()):
        axes = figure.add_axes((0.09 + 0.48 * (k % 2), 0.58 - 0.485 * (k // 2), 0.42, 0.38))
        _errors(axes, *faulty(fault, SIZE * n.sign, n.seed + k))
        ring = {"boxstyle": "circle,pad=0.25", "fc": "white", "ec": "black"}
        axes.text(0.06, 0.90, str(k + 1), transform=axes.transAxes, fontsize=10.5, weight="bold", ha="center",
                  va="center_baseline", bbox=ring)  # fmt: skip
        if k >= 2:
            axes.set_xlabel("signal [%]")
    axes.legend(loc="upper right", ncols=2, fontsize=8, frameon=False)
    figure.text(0.02, 0.5, "error of travel [% of span]", rotation=90, fontsize=9.5, ha="center", va="center")
    return figure


def _errors(axes: Axes, up: Any, down: Any) -> None:
    axes.axhspan(-BAND, BAND, color="#DDEEDD", zorder=0.2)
    axes.axhline(0, color=GREY, lw=0.8)
    for (way, marker), (colour, dashes), travel in zip(WAYS, CYCLE, (up, down), strict=False):
        line: dict[str, Any] = {"marker": marker, "color": colour, "ls": dashes, "lw": 1.3, "ms": 7, "mec": "white"}
        axes.plot(SIGNALS, travel - SIGNALS, label=way, **line)
    ticks = np.arange(-4, 5, 2)
    axes.set(xlim=(-0.05, 1.05), ylim=(-TOP, TOP + 0.006))
    axes.set_xticks(SIGNALS, [f"{100 * s:.0f}" for s in SIGNALS])
    axes.set_yticks(ticks / 100, [f"{t:+d}".replace("-", "−") if t else "0" for t in ticks])
    axes.grid(visible=True, axis="x", color="#dddddd", lw=0.6)


def step_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - as above
    """Draw signal and travel of a step test on a grid fine enough to read its times."""
    end = math.ceil(n.dead + 6 * n.constant)  # the change is all but done, so that its size can be read
    time = np.arange(-1, end + 0.01, 0.02)
    moved = 1 - np.exp(-np.maximum(time - n.dead, 0) / n.constant)
    noise = 0.004 * n.step * np.random.default_rng(n.seed).standard_normal(time.size)
    figure = Figure(figsize=(7.0, 4.2))
    axes = figure.add_axes((0.10, 0.12, 0.87, 0.83))
    signal = n.base + n.step * np.array([0, 0, 1, 1])
    axes.plot([-1, 0, 0, end], signal, color=GREY, ls=(0, (4, 2)), lw=1.3, label="signal")
    axes.plot(time, n.base + n.step * moved + noise, color=BLUE, lw=1.6, label="travel")
    levels = n.base + n.step * np.linspace(0, 1, 11)
    axes.set(xlim=(-1, end), ylim=(n.base - 0.1 * n.step, n.base + 1.1 * n.step))
    axes.set(xlabel="time from the step [s]", ylabel="signal, travel [%]")
    axes.set_yticks(levels, [f"{100 * level:.0f}" for level in levels])
    axes.set_xticks(np.arange(0, end + 1, 1 if end <= 16 else 2))
    thin_lines(axes, np.arange(-1, end + 0.1, 0.2))
    axes.grid(visible=True, color="#bbbbbb", lw=0.7)
    axes.legend(loc="lower right", fontsize=8.5)
    return figure
