"""Live picture: a step test of a valve with positioner, with dead time, T63 and T86 read off the trace."""

from __future__ import annotations

import functools
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import BLUE, GREEN, GREY, PURPLE, VERMILION
from lessons.refinery import drive_of
from lessons.units.quantities import to_base
from valvecalc.actuator import Actuator, actuator_from_bench_set
from valvecalc.measures import StepResponse, step_response
from valvecalc.stroke import Faults, StrokeTrace, simulate_stroke

TAG = "FV-6204"
TIME = np.concatenate([np.arange(-2, 14, 0.05), np.arange(14, 60, 0.5)])  # s; the chart ends at 14
BASE = 0.40  # travel before the step
POSITIONER_GAIN = 10.0  # own choice, no source
MARKS = {"dead_time": ("Td", GREEN, 0.01), "t63": ("T63", PURPLE, 0.632), "t86": ("T86", VERMILION, 0.865)}
ROWS = {"dead_time": 0.80, "t63": 0.62, "t86": 0.44}
SAYS = {"dead_time": "dead time, nothing moves", "t63": "63.2 % of the change done", "t86": "86.5 % of the change done"}
ALT = (
    f"Step test of {TAG}: signal and travel against time. After the signal's step the stem waits for the dead time, "
    "then rises ever more slowly to its new place. Marks show the dead time and the times for 63 and 86 per cent of "
    "the change."
)


def signal_step(units: str = "si") -> MovingPicture:
    """Return the second live picture of lesson 10; sliders for friction, filling time and step size."""
    sliders = (
        Slider("friction", "packing friction", 0.0, 800.0, 50.0, 250.0, "N"),
        Slider("fill_time", "filling time of the actuator", 2.0, 16.0, 0.5, 8.0, "s"),
        Slider("step", "size of the step", 0.01, 0.20, 0.01, 0.10, "%"),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


@functools.cache
def _actuator() -> tuple[Actuator, float, float]:
    drive = drive_of(TAG)
    low, high = to_base(drive.bench_low), to_base(drive.bench_high)
    return actuator_from_bench_set("reverse", to_base(drive.area), low, high, to_base(drive.travel)), low, high


@functools.lru_cache(maxsize=400)
def step_trace(friction: float, fill_time: float, step: float) -> StrokeTrace:
    """Record one step up from `BASE`, the stem having come to rest there on its way down."""
    actuator, low, high = _actuator()
    # A little way down first, so that friction holds against the step, as after any real movement.
    time = np.concatenate([np.arange(-60, -2, 0.5), TIME])
    signal = np.where(time < -59, BASE + 0.2, np.where(time < 0, BASE, BASE + step))
    run = simulate_stroke(
        time, signal, actuator, low, high, Faults(friction=friction), supply_gauge=1.75 * high,
        positioner_gain=POSITIONER_GAIN, fill_time=fill_time, dead_time=0.2,
    )  # fmt: skip
    keep = slice(-TIME.size, None)
    return StrokeTrace(TIME, signal[keep], run.pressure_gauge[keep], run.travel[keep])


def measured(run: StrokeTrace) -> StepResponse | None:
    """Read the times off a trace, or none where the stem did not answer."""
    if abs(float(run.travel[-1] - run.travel[0])) < 0.001:
        return None
    return step_response(run.time, run.signal, run.travel)


def _move(friction: float, fill_time: float, step: float) -> dict[str, Any]:
    run = step_trace(friction, fill_time, step)
    found, before, after = measured(run), float(run.travel[0]), float(run.travel[-1])
    low, high = min(before, BASE), max(before, after, BASE + step)

    def scaled(values: Any) -> Any:
        # The chart shows the step as large whatever its size; its numbers stand at the axis.
        return (np.asarray(values, dtype=float) - low) / (high - low)

    moved: dict[str, Any] = {
        "signal": np.column_stack([TIME, scaled(run.signal)]),
        "travel": np.column_stack([TIME, scaled(run.travel)]),
        "from": (f"{100 * BASE:.0f} %", (-2.2, float(scaled(BASE)))),
        "to": (f"{100 * (BASE + step):.0f} %", (-2.2, float(scaled(BASE + step)))),
        "verdict": _verdict(found, after - before, step),
    }
    for name, (short, _, share) in MARKS.items():
        at = np.nan if found is None else float(getattr(found, name))
        shown = at if at <= 14 else np.nan
        level = float(scaled(before + share * (after - before)))
        moved[f"{name}_mark"] = [(shown, -0.12), (shown, level)]
        moved[f"{name}_dot"] = [(shown, level)]
        moved[f"{name}_says"] = f"{short} –" if found is None else f"{short} {at:.2f} s"
    return moved


def _verdict(found: StepResponse | None, change: float, step: float) -> str:
    if found is None:
        return "no answer to so small a step"
    return f"stem went {100 * change:.1f} of {100 * step:.0f} %"


def _draw() -> Figure:
    figure = Figure(figsize=(7.2, 3.9))
    axes = figure.add_axes((0.08, 0.14, 0.56, 0.82))
    axes.set(xlim=(-2, 14), ylim=(-0.12, 1.12), xlabel="time from the step [s]")
    axes.set_yticks([])
    axes.set_xticks(range(-2, 15, 2))
    axes.spines[["top", "right"]].set_visible(False)
    axes.grid(visible=True, axis="x", color="#dddddd", lw=0.6)
    axes.plot(TIME, TIME, color=GREY, lw=1.4, ls=(0, (4, 2)))[0].set_gid("signal")
    axes.plot(TIME, TIME, color=BLUE, lw=2)[0].set_gid("travel")
    for name in ("from", "to"):
        axes.text(-2.2, 0, "", fontsize=9, ha="right", va="center").set_gid(name)
    for name, (_, colour, _) in MARKS.items():
        axes.plot([0, 0], [0, 1], color=colour, lw=1.4, ls=(0, (2, 1.5)))[0].set_gid(f"{name}_mark")
        axes.plot([0], [0], "o", color=colour, ms=7, mec="white")[0].set_gid(f"{name}_dot")
    _side(figure.add_axes((0.67, 0.14, 0.32, 0.82)))
    return figure


def _side(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.text(0.0, 0.96, "Read off the trace", fontsize=10, weight="bold", va="center")
    for name, (_, colour, _) in MARKS.items():
        y = ROWS[name]
        axes.plot([0, 0.10], [y, y], color=colour, lw=1.6, ls=(0, (2, 1.5)))
        axes.plot([0.05], [y], "o", color=colour, ms=6, mec="white")
        axes.text(0.15, y, "", fontsize=10, va="center", weight="bold").set_gid(f"{name}_says")
        axes.text(0.15, y - 0.065, SAYS[name], fontsize=8.5, va="center", color="#444444")
    axes.text(0.0, 0.24, "", fontsize=9.5, weight="bold", va="center").set_gid("verdict")
    axes.text(
        0.0,
        0.09,
        "dashed: signal · full: travel\nthe chart grows with the step;\nall times count from the step",
        fontsize=8.5,
        va="center",
        color="#444444",
    )
