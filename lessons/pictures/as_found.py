"""As-found stroke tests of faulty valves, computed and drawn as two charts: stem against signal, stem against air."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.pictures.style import BLUE, GREY, VERMILION
from lessons.pictures.traces import share_grid
from lessons.sliders import in_unit
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.stroke import Faults, StrokeTrace, simulate_stroke
from valvecalc.stroke_signal import ramp_signal

FAULTS = ("friction", "bench", "seat", "zero", "leak", "play")
STROKE = 0.02  # m; drops out of every share
SOUND_FRICTION = 50.0  # N; even good packing rubs. Own choice, no source
_STEPS = {"bar": (0.2, 0.02), "psi": (2.0, 0.5)}


def stroke(
    low: float, high: float, area: float, bench_shift: float = 0.0, seed: int | None = None, **faults: float
) -> StrokeTrace:
    """Stroke a valve without positioner slowly from signal 0 to 100 % and back, once to settle and once to record [SI].

    `bench_shift` [Pa] is how far the real bench set lies above the nameplate, which the signal is set for.
    """
    valve = actuator_from_bench_set("reverse", area, low + bench_shift, high + bench_shift, STROKE)
    _, once = ramp_signal(200, 1.0)
    signal = np.concatenate([once[once.size // 2 :], once[1:]])
    run = simulate_stroke(
        np.arange(signal.size), signal, valve, low, high, Faults(**faults), supply_gauge=1.4 * high, fill_time=0.05,
        noise=0.0 if seed is None else 0.0015, rng=None if seed is None else np.random.default_rng(seed),
    )  # fmt: skip
    keep = slice(-once.size, None)
    return StrokeTrace(run.time[keep], run.signal[keep], run.pressure_gauge[keep], run.travel[keep])


def recorded(n: SimpleNamespace) -> tuple[StrokeTrace, StrokeTrace]:
    """Return the test as told by the valve stem and by the actuator stem; they differ by the play between them."""
    faults = {"friction": SOUND_FRICTION} | {
        "friction": {"friction": n.size}, "zero": {"zero_error": n.size}, "leak": {"air_leak": n.size},
        "seat": {"seat_travel": n.size}, "play": {"backlash_gap": n.size}, "bench": {"bench_shift": n.size},
    }[n.fault]  # fmt: skip
    rubbing = getattr(n, "rubbing", 0.0)
    if rubbing:
        faults["friction"] = rubbing
    at = (n.low, n.high, n.area)
    above = {name: value for name, value in faults.items() if name != "backlash_gap"}
    return stroke(*at, seed=n.seed, **faults), stroke(*at, seed=n.seed, **above)


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


def signal_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - shares look the same in both sets
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


def _air_chart(axes: Axes, n: SimpleNamespace, units: str, run: StrokeTrace) -> None:
    unit = "psi" if units == "us" else "bar"
    share_grid(axes, f"air in the actuator [{unit}]", "travel [%]")
    axes.plot(in_unit(run.pressure_gauge, unit), run.travel, color=BLUE, lw=1.4)
    low, high = in_unit([n.low, n.high], unit)
    axes.plot([low, high], [0, 1], color=GREY, lw=1.2, ls=(0, (1, 1.5)))
    end = 1.2 * high
    coarse, fine = _STEPS[unit] if end < 1.5 * _STEPS[unit][0] * 10 else (2 * s for s in _STEPS[unit])
    ticks: Any = np.arange(0, end + 1e-9, coarse)
    axes.set_xlim(0, end)
    axes.set_xticks(ticks, [f"{tick:.3g}" for tick in ticks])
    axes.set_xticks(np.arange(0, end + 1e-9, fine), minor=True)
