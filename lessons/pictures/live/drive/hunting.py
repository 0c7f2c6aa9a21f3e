"""Live picture: a flow loop in time with a sticky valve, without and with a positioner."""

from __future__ import annotations

import functools
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.drive.dead_band_loop import POSITIONER_GAIN, TAG, signal_span
from lessons.pictures.style import BLUE, GREY, ORANGE, VERMILION
from lessons.refinery import VALVES, drive_of, line_of
from lessons.units.quantities import to_base
from valvecalc.characteristic import equal_percentage
from valvecalc.line import line_flow
from valvecalc.loop import LoopTrace, limit_cycle, simulate_loop
from valvecalc.units import WATER_DENSITY

TIME = np.arange(0, 240, 0.25)  # s
SETPOINT = np.where(TIME < 10, 0.45, 0.50)  # share of full flow
DRAWN = 6  # a sample every 1.5 s is drawn: ten in the quickest swing told, and a sixth to send
SLIDING = 0.5  # part of the friction at rest that is left in motion; own choice, no source
FLOW_LIMITS, SIGNAL_LIMITS = (0.28, 0.72), (0.20, 1.02)
WAYS = {"bare": ("without a positioner", 1.0), "helped": ("with a positioner", POSITIONER_GAIN)}
TRAVELS = np.linspace(0, 1, 41)
ALT = (
    f"Four charts of the flow loop of {TAG} over 240 seconds. Left without, right with a positioner; above set point "
    "and flow, below controller signal and travel. With friction and no positioner, signal and flow swing round the "
    "set point for ever; with a positioner only a small ripple is left."
)


def hunting(units: str = "si") -> MovingPicture:
    """Return the second live picture of lesson 09; sliders for friction at rest and controller gain."""
    sliders = (
        Slider("friction", "packing friction at rest", 0.0, 600.0, 25.0, 400.0, "N"),
        Slider("gain", "controller gain", 0.6, 1.2, 0.05, 0.8),
    )
    figure, axes = _draw()
    flow_axes = unit_axis(axes[0], "y", "flow", "m³/h", ticks=6)
    full = full_flow()

    def move(friction: float, gain: float, units: str) -> dict[str, Any]:
        moved: dict[str, Any] = dict(flow_axes(units))
        for name, (_, helped) in WAYS.items():
            run = run_loop(friction, gain, helped)
            for part, values in (("flow", run.flow * full), ("signal", run.output), ("travel", run.travel)):
                moved[f"{name}_{part}"] = np.column_stack([TIME, values])[::DRAWN]
            moved[f"{name}_says"] = hunting_words(run.flow, name)
        return moved

    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def full_flow() -> float:
    """Return the flow of the line with its valve wide open [m³/s]."""
    return to_base(line_of(TAG).full_flow)


@functools.cache
def installed_curve() -> Any:
    """Return flow over full flow at `TRAVELS`, in the line of the valve."""
    line, valve = line_of(TAG), VALVES[TAG]
    full, shutoff = full_flow(), to_base(line.pump_shutoff)
    pump = np.array([shutoff, 0.0, (to_base(line.pump_at_full) - shutoff) / full**2])
    kv = to_base(valve.rated_kv) * equal_percentage(TRAVELS, valve.rangeability)
    return line_flow(kv, pump, to_base(line.static), to_base(line.pipe_at_full) / full**2, WATER_DENSITY) / full


@functools.lru_cache(maxsize=400)
def run_loop(friction: float, gain: float, positioner_gain: float) -> LoopTrace:
    """Run the loop once; friction at rest [N]."""
    drive = drive_of(TAG)
    held = friction / (to_base(drive.area) * signal_span())
    return simulate_loop(
        TIME, SETPOINT, TRAVELS, installed_curve(), proportional_gain=gain, reset_time=3.0, lag=2.0, dead_time=0.5,
        fill_time=1.0, stick_band=held * (1 + SLIDING), slip_jump=held * (1 - SLIDING), positioner_gain=positioner_gain,
    )  # fmt: skip


def hunting_words(flow: Any, name: str) -> str:
    """Tell the swing in the second half of a trace, or that there is none."""
    size = float(np.ptp(flow[TIME.size // 2 :])) / 2
    if size < 0.0005:
        return "settles"
    cycle = limit_cycle(TIME, flow, 0.001)
    # The ripple left by a positioner has no period to tell: stem and air have no mass here, so it follows the samples.
    if name == "helped" or not cycle.cycling:
        return f"stays within ±{100 * size:.1f} %"
    return f"swings ±{100 * cycle.amplitude:.1f} %, once in {cycle.period:.0f} s"


def _draw() -> tuple[Figure, list[Axes]]:
    figure, axes, full = Figure(figsize=(7.2, 4.5)), [], full_flow()
    for k, (name, (title, _)) in enumerate(WAYS.items()):
        left = 0.105 + 0.455 * k
        flow, signal = figure.add_axes((left, 0.54, 0.41, 0.34)), figure.add_axes((left, 0.12, 0.41, 0.35))
        flow.set(xlim=(0, 240), ylim=(FLOW_LIMITS[0] * full, FLOW_LIMITS[1] * full))
        flow.set_title(title, fontsize=10, weight="bold", loc="left", pad=18)
        wanted = np.repeat([SETPOINT[0], SETPOINT[-1]], 2) * full
        flow.plot([0, 10, 10, 240], wanted, color=GREY, lw=1.2, ls=(0, (4, 2)))
        flow.plot(TIME, SETPOINT * full, color=BLUE, lw=1.6)[0].set_gid(f"{name}_flow")
        flow.text(0, 1.03, "", transform=flow.transAxes, fontsize=9.5, va="bottom").set_gid(f"{name}_says")
        flow.set_xticks([0, 60, 120, 180, 240], [])
        flow.grid(visible=True, axis="x", color="#dddddd", lw=0.6)
        _signal_chart(signal, name)
        axes.append(flow)
    axes[1].set_yticks([])
    corner_note(axes[0], "blue: flow · dashed: set point")
    return figure, axes


def _signal_chart(axes: Axes, name: str) -> None:
    axes.set(xlim=(0, 240), ylim=SIGNAL_LIMITS)
    axes.plot(TIME, SETPOINT, color=ORANGE, lw=1.4, ls=(0, (4, 1.5)))[0].set_gid(f"{name}_signal")
    axes.plot(TIME, SETPOINT, color=VERMILION, lw=1.6)[0].set_gid(f"{name}_travel")
    axes.set_xticks([0, 60, 120, 180, 240])
    axes.set_xlabel("time [s]")
    ticks = [0.25, 0.5, 0.75, 1.0]
    axes.set_yticks(ticks, [f"{100 * t:.0f}" for t in ticks] if name == "bare" else [])
    axes.grid(visible=True, color="#dddddd", lw=0.6)
    if name == "bare":
        axes.set_ylabel("signal, travel [%]")
        corner_note(axes, "dashed: signal · full: travel")


def corner_note(axes: Axes, words: str) -> None:
    """Write what the lines are in the lower left corner of a chart."""
    axes.text(0.02, 0.06, words, transform=axes.transAxes, fontsize=8.5, color="#444444")
