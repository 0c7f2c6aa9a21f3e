"""Live picture: a valve with a digital positioner, scale on its seat, before and after an auto-calibration."""

from __future__ import annotations

import functools
from typing import Any, NamedTuple

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.flow.inherent_curves import share_axes
from lessons.pictures.style import BLUE, GREY, VERMILION
from lessons.refinery import drive_of
from lessons.units.quantities import to_base
from lessons.units.readout import to_decimals
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.checks import Floats
from valvecalc.measures import loop_width
from valvecalc.positioner import reported_travel
from valvecalc.stroke import Faults, ramp_signal, simulate_stroke

TAG = "LV-6120"
TOP = 1.8e5  # Pa gauge; end of the air axis
GAIN = 15.0  # of the positioner; own choice, no source
STEP = 0.4  # s between samples
_CUT_OFF = np.linspace(0, 0.2, 25)  # at signal 0 all air is let out, so that the whole spring is on the seat
ALLOWED = 0.05  # travel deviation before the alarm; own choice, no source
ALT = (
    f"Two charts of {TAG} with a digital positioner, up and down. Chart A: the travel it reports against signal. "
    "Chart B: the same travel against the air in the actuator; dotted, how it was left. Scale on the seat shows as a "
    "level end in A until an auto-calibration hides it; chart B then starts at more air. Friction opens a loop in B."
)


class ReportedStroke(NamedTuple):
    """A slow stroke as the positioner reports it: signal [-], air [Pa gauge], travel reported and real [-]."""

    signal: Floats
    pressure_gauge: Floats
    reported: Floats
    travel: Floats


def auto_calibration(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 18; sliders for friction, scale on the seat, and calibrated since or not."""
    sliders = (
        Slider("friction", "packing friction", 0.0, 1500.0, 50.0, 250.0, "N"),
        Slider("scale", "scale on the seat, as travel", 0.0, 0.15, 0.01, 0.0, "%"),
        Slider("calibrated", "auto-calibrated since", 0.0, 1.0, 1.0, 0.0, words=("no", "yes")),
    )
    figure = Figure(figsize=(7.2, 4.1))
    left, right = figure.add_axes((0.08, 0.31, 0.39, 0.62)), figure.add_axes((0.58, 0.31, 0.39, 0.62))
    air = _charts(left, right)
    for x, name, y in ((0.08, "real", 0.14), (0.08, "alarm", 0.085), (0.08, "told", 0.03), (0.58, "rubs", 0.14),
                       (0.58, "lands", 0.085)):  # fmt: skip
        figure.text(x, y, "", fontsize=9, va="center").set_gid(name)

    def move(friction: float, scale: float, calibrated: float, units: str) -> dict[str, Any]:
        run = digital_stroke(friction, scale, calibrated > 0.5)
        return {
            **air(units),
            "by_signal": np.column_stack([run.signal, run.reported]),
            "by_air": np.column_stack([run.pressure_gauge, run.reported]),
            **_says(run, calibrated > 0.5, units),
        }

    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def _left_as() -> tuple[float, float]:
    drive = drive_of(TAG)
    return to_base(drive.bench_low), to_base(drive.bench_high)


LEFT_AS = _left_as()  # Pa gauge: the bench set on the sheet of the last time


@functools.cache
def _sizes() -> tuple[float, float, float, float, float]:
    drive = drive_of(TAG)
    area, travel, supply = (to_base(q) for q in (drive.area, drive.travel, drive.supply))
    return *LEFT_AS, area, travel, supply


@functools.lru_cache(maxsize=400)
def digital_stroke(
    friction: float, scale: float, calibrated: bool, *, bench_shift: float = 0.0, supply: float | None = None
) -> ReportedStroke:
    """Stroke the valve slowly up and down; the positioner counts from the ends it found last.

    `bench_shift` [Pa] is how far the bench set has moved, `supply` [Pa gauge] what the air set gives if not its own.
    """
    low, high, area, travel, own_supply = _sizes()
    ends = (scale if calibrated else 0.0, 1.0)
    _, once = ramp_signal(200, STEP)
    signal, cut_off = (
        np.concatenate([way[once.size // 2 :], rest, way, rest])
        for way, rest in ((once, 0 * _CUT_OFF), (0 * once, _CUT_OFF))
    )
    asked = ends[0] + (ends[1] - ends[0]) * signal
    run = simulate_stroke(
        np.arange(signal.size) * STEP,
        asked - cut_off,
        actuator_from_bench_set("reverse", area, low + bench_shift, high + bench_shift, travel),
        low,
        high,
        Faults(friction=friction, seat_travel=scale),
        supply_gauge=supply or own_supply,
        positioner_gain=GAIN,
        fill_time=0.4,
    )
    keep = slice(-(once.size + 2 * _CUT_OFF.size), None)
    real = run.travel[keep]
    return ReportedStroke(signal[keep], run.pressure_gauge[keep], reported_travel(real, *ends), real)


def landing(run: ReportedStroke) -> float:
    """Return the air at which the middle line of chart B meets the reported closed end [Pa gauge]."""
    top = int(np.argmax(run.signal))
    points = np.array([0.3, 0.5, 0.7])
    up = np.interp(points, run.reported[: top + 1], run.pressure_gauge[: top + 1])
    down = np.interp(points, run.reported[top:][::-1], run.pressure_gauge[top:][::-1])
    slope, start = np.polyfit(points, (up + down) / 2, 1)
    return float(start + slope * max(float(run.reported.min()), 0.0))


def rubbing(run: ReportedStroke) -> float:
    """Return the friction that the loop of chart B holds [N]."""
    middle = (run.reported > 0.15) & (run.reported < 0.9)
    return float(loop_width(run.pressure_gauge[middle], run.reported[middle])) * _sizes()[2] / 2


def _says(run: ReportedStroke, calibrated: bool, units: str) -> dict[str, str]:
    low, digits = _sizes()[0], 1 if units == "us" else 2
    off = float(np.max(np.abs(run.reported - run.signal)))
    alarm = f"alarm: {100 * off:.0f} % off" if off > ALLOWED else f"no alarm: at most {100 * off:.0f} % off"
    return {
        "real": f"shut end: really at {100 * run.travel.min():.0f} %",
        "alarm": alarm,
        "told": "reported travel counts from the ends found " + ("today" if calibrated else "last year"),
        "rubs": f"friction ± {to_decimals(rubbing(run), 'N', units)}",
        "lands": f"lands at {to_decimals(landing(run), 'bar', units, digits)}, "
        f"as left {to_decimals(low, 'bar', units, digits)}",
    }


def _charts(left: Axes, right: Axes) -> Any:
    low, high, _, _, _ = _sizes()
    share_axes(left, "signal [%]", "travel reported [%]")
    share_axes(right, "", "travel reported [%]")
    right.set_xlim(0, TOP)
    for axes, ends, name, colour, title in (
        (left, [0, 1], "by_signal", VERMILION, "A  travel against signal"),
        (right, [low, high], "by_air", BLUE, "B  travel against air"),
    ):
        axes.plot(ends, [0, 1], color=GREY, lw=1.3, ls=(0, (1, 1.5)))
        axes.plot([0, 1], [0, 1], color=colour, lw=1.8)[0].set_gid(name)
        axes.set_title(title, fontsize=10, loc="left")
    right.grid(visible=False, axis="x")
    return unit_axis(right, "x", "air in the actuator", "bar")
