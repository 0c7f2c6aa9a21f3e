"""Stroke tests of faulty valves, computed and drawn as two charts: stem against signal, stem against air."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.pictures.charts.traces import share_grid
from lessons.pictures.style import BLUE, GREY, VERMILION
from lessons.units.readout import in_trade_unit
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.stroke import Faults, StrokeTrace, ramp_signal, simulate_stroke

STROKE = 0.02  # m; drops out of every share
SOUND_FRICTION = 50.0  # N; even good packing rubs. Own choice, no source
_STEPS = {"bar": (0.2, 0.02), "psi": (2.0, 0.5)}


def stroke(
    low: float, high: float, area: float, bench_shift: float = 0.0, seed: int | None = None, **faults: float
) -> StrokeTrace:
    """Stroke a valve without positioner slowly from signal 0 to 100 % and back; keep the second go [SI].

    `bench_shift` [Pa] is how far the real bench set lies above the nameplate, which the signal is set for.
    """
    valve = actuator_from_bench_set("reverse", area, low + bench_shift, high + bench_shift, STROKE)
    _, once = ramp_signal(200, 1.0)
    signal = np.concatenate([once[once.size // 2 :], once[1:]])
    noise, rng = (0.0, None) if seed is None else (0.001, np.random.default_rng(seed))
    run = simulate_stroke(
        np.arange(signal.size), signal, valve, low, high, Faults(**faults), supply_gauge=1.4 * high,
        fill_time=0.05, noise=noise, rng=rng,
    )  # fmt: skip
    keep = slice(-once.size, None)
    return StrokeTrace(run.time[keep], run.signal[keep], run.pressure_gauge[keep], run.travel[keep])


_FAULT = {
    "friction": "friction",
    "zero": "zero_error",
    "leak": "air_leak",
    "seat": "seat_travel",
    "play": "backlash_gap",
    "bench": "bench_shift",
}


def recorded(n: SimpleNamespace) -> tuple[StrokeTrace, StrokeTrace]:
    """Return the test as told by the valve stem and by the actuator stem; play between them parts the two."""
    told = {"friction": getattr(n, "rubbing", SOUND_FRICTION)} | {_FAULT[n.fault]: n.size}
    above = {name: size for name, size in told.items() if name != "backlash_gap"}
    at = (n.low, n.high, n.area)
    return stroke(*at, seed=n.seed, **told), stroke(*at, seed=n.seed, **above)


def both_figure(n: SimpleNamespace, units: str) -> Figure:
    """Draw both charts; dotted, how the valve was left last time."""
    figure = Figure(figsize=(7.2, 3.8))
    left, right = figure.add_axes((0.08, 0.14, 0.40, 0.76)), figure.add_axes((0.58, 0.14, 0.40, 0.76))
    valve_stem, actuator_stem = recorded(n)
    left.plot(valve_stem.signal, valve_stem.travel, color=VERMILION, lw=1.4)
    left.plot([0, 1], [0, 1], color=GREY, lw=1.2, ls=(0, (1, 1.5)))
    share_grid(left, "signal [%]", "travel [%]")
    left.set_title("A  valve stem against signal", fontsize=10, loc="left")
    _air_chart(right, n, units, actuator_stem)
    right.set_title("B  actuator stem against air", fontsize=10, loc="left")
    return figure


def signal_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - the same in both sets
    """Draw travel against signal alone, large enough to read."""
    figure = Figure(figsize=(6.4, 4.6))
    axes = figure.add_axes((0.10, 0.12, 0.87, 0.85))
    run = recorded(n)[0]
    axes.plot(run.signal, run.travel, color=VERMILION, lw=1.4)
    axes.plot([0, 1], [0, 1], color=GREY, lw=1.2, ls=(0, (1, 1.5)))
    share_grid(axes, "signal [%]", "travel [%]")
    return figure


def air_figure(n: SimpleNamespace, units: str) -> Figure:
    """Draw travel against the air alone, large enough to read."""
    figure = Figure(figsize=(7.2, 4.8))
    _air_chart(figure.add_axes((0.09, 0.12, 0.88, 0.84)), n, units, recorded(n)[1])
    return figure


def sheet_figure(n: SimpleNamespace, units: str) -> Figure:
    """Draw an as-found sheet: at three signals the travel up and down and the air in the actuator."""
    unit = "psi" if units == "us" else "bar"
    figure = Figure(figsize=(6.0, 1.9))
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    rows = [("signal [%]", "travel up [%]", "travel down [%]", f"air in actuator [{unit}]")]
    for signal, name in ((25, "a"), (50, "b"), (75, "c")):
        air = f"{float(in_trade_unit(getattr(n, f'air_{name}'), unit)):.{1 if unit == 'psi' else 2}f}"
        rows.append((str(signal), getattr(n, f"up_{name}"), getattr(n, f"down_{name}"), air))
    for k, row in enumerate(rows):
        how: dict[str, Any] = {"fontsize": 9.5, "ha": "right", "va": "center", "weight": "normal" if k else "bold"}
        for x, words in zip((0.18, 0.42, 0.67, 0.96), row, strict=True):
            axes.text(x, 0.87 - 0.25 * k, words, **how)
        axes.plot([0.03, 0.97], [0.745 - 0.25 * k] * 2, color="#bbbbbb", lw=0.7)
    return figure


def air_grid(axes: Axes, end: float, unit: str, up: str = "travel [%]") -> None:
    """Draw axes of travel against the air in the actuator, from 0 to `end` [Pa gauge], in bar or psi."""
    last = float(in_trade_unit(end, unit))
    coarse, fine = _STEPS[unit]
    share_grid(axes, f"air in the actuator [{unit}]", up, np.arange(0, last + 1e-9, fine))
    step = coarse * (1 if last < 7 * coarse else 2)  # numbers have room
    ticks: Any = np.arange(0, last + 1e-9, step)
    axes.set_xlim(0, last)
    axes.set_xticks(ticks, [f"{tick:.3g}" for tick in ticks])


def _air_chart(axes: Axes, n: SimpleNamespace, units: str, run: StrokeTrace) -> None:
    unit = "psi" if units == "us" else "bar"
    air_grid(axes, 1.2 * n.high, unit)
    axes.plot(in_trade_unit(run.pressure_gauge, unit), run.travel, color=BLUE, lw=1.4)
    axes.plot(in_trade_unit([n.low, n.high], unit), [0, 1], color=GREY, lw=1.2, ls=(0, (1, 1.5)))
