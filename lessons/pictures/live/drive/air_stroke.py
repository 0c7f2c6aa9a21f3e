"""Live picture: how fast a valve strokes, from the air that has to leave its casing or come into it."""

from __future__ import annotations

import functools
from typing import Any, NamedTuple

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from numpy.typing import NDArray

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import BLUE, GREEN, GREY, VERMILION
from lessons.refinery import drive_of
from lessons.units.quantities import to_base
from valvecalc.actuator import ATMOSPHERE, Actuator, actuator_from_bench_set
from valvecalc.air import choked_below, emptying_time, filling_time
from valvecalc.checks import Floats
from valvecalc.force_balance import free_travel, pressure_at
from valvecalc.plug_forces import circle_area

TAG = "PV-5102"
ROOM = 2.0e-3  # m³ on the air side, stem up, tubing counted; own choice, no source
WANTED = 4.0  # s, from trip to full open; own choice, no source
END, TOP = 16.0, 3.6e5  # of the axes: s, Pa gauge
POINTS = 240
ALT = (
    f"Four charts of {TAG} against time. Left, a trip: the air leaves the casing, at first choked, and the spring "
    "opens the valve. Right, the way back: air comes in and closes it. A smaller bore stretches all times; more supply "
    "makes filling quicker and venting slower."
)


class AirTrace(NamedTuple):
    """One way of the stroke: time [s], air in the casing [Pa gauge], travel [-], and where the air is choked."""

    time: Floats
    pressure_gauge: Floats
    travel: Floats
    choked: NDArray[np.bool_]


def air_stroke(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 17; sliders for the bores on the way out and in, and for the supply."""
    sliders = (
        Slider("bore_out", "bore on the way out", 1e-3, 8e-3, 0.25e-3, 1.5e-3, "mm"),
        Slider("bore_in", "bore on the way in", 1e-3, 8e-3, 0.25e-3, 2e-3, "mm"),
        Slider("supply", "air set's pressure", 1.2e5, 3.5e5, 0.1e5, 2.0e5, "bar"),
    )
    figure = Figure(figsize=(7.2, 4.6))
    columns = [(figure.add_axes((x, 0.58, 0.38, 0.33)), figure.add_axes((x, 0.19, 0.38, 0.33))) for x in (0.09, 0.60)]
    air = [_column(*axes, name) for axes, name in zip(columns, ("out", "in"), strict=True)]
    _words(figure, columns)

    def move(bore_out: float, bore_in: float, supply: float, units: str) -> dict[str, Any]:
        moved: dict[str, Any] = {}
        for axis, run, name in zip(
            air, (venting(bore_out, supply), filling(bore_in, supply)), ("out", "in"), strict=True
        ):
            moved |= {f"{name}_{part}": at for part, at in axis(units).items()} | _lines(run, name)
        return moved

    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


@functools.cache
def _valve() -> tuple[Actuator, float]:
    drive = drive_of(TAG)
    sizes = (to_base(q) for q in (drive.area, drive.bench_low, drive.bench_high, drive.travel))
    return actuator_from_bench_set("direct", *sizes), to_base(drive.friction)


@functools.lru_cache(maxsize=200)
def venting(bore: float, supply: float) -> AirTrace:
    """Let the air out of the full casing: the valve opens by its spring."""
    valve, friction = _valve()
    gauge = _pressures(supply, "opening")[::-1]
    travel = free_travel(valve, gauge, friction=friction, moving="opening").clip(0, 1)
    time = emptying_time(gauge + ATMOSPHERE, _room(travel), circle_area(bore), ATMOSPHERE)
    return AirTrace(time, gauge, travel, gauge + ATMOSPHERE > ATMOSPHERE**2 / choked_below(ATMOSPHERE))


@functools.lru_cache(maxsize=200)
def filling(bore: float, supply: float) -> AirTrace:
    """Fill the empty casing: the air closes the valve."""
    valve, friction = _valve()
    gauge = _pressures(supply, "closing")
    travel = free_travel(valve, gauge, friction=friction, moving="closing").clip(0, 1)
    time = filling_time(gauge + ATMOSPHERE, _room(travel), circle_area(bore), supply + ATMOSPHERE)
    return AirTrace(time, gauge, travel, gauge + ATMOSPHERE < choked_below(supply + ATMOSPHERE))


def _pressures(supply: float, moving: str) -> Floats:
    """Return pressures from none to the supply, with those between at which the stroke begins and ends."""
    valve, friction = _valve()
    ends = pressure_at(valve, [0, 1], friction=friction, moving=moving)
    return np.sort([*np.linspace(0, supply, POINTS), *ends[(ends > 0) & (ends < supply)]])


def _room(travel: Floats) -> Floats:
    valve, _ = _valve()
    return ROOM + float(valve.area) * float(valve.rated_travel) * (1 - travel)


def moves_and_arrives(run: AirTrace) -> tuple[float, float]:
    """Return when the stem first moves and when its stroke is done [s]; infinity where the air does not do it."""
    gone = np.abs(run.travel - run.travel[0])
    moving, done = np.flatnonzero(gone > 1e-9), np.flatnonzero(gone > 1 - 1e-9)
    first, last = (float(run.time[at[0]]) if at.size else float(np.inf) for at in (moving - 1, done))
    return first, last


def _lines(run: AirTrace, name: str) -> dict[str, Any]:
    first, last = moves_and_arrives(run)
    done = "open" if name == "out" else "closed"
    says = (
        f"moves after {first:.1f} s, {done} after {last:.1f} s"
        if last < np.inf
        else f"never fully {done}: too little air"
    )
    inside = run.time <= END
    time, gauge, travel = (np.where(inside, part, np.nan) for part in (run.time, run.pressure_gauge, run.travel))
    return {
        f"{name}_air": np.column_stack([time, gauge]),
        f"{name}_choked": np.column_stack([time, np.where(run.choked, gauge, np.nan)]),
        f"{name}_travel": np.column_stack([time, travel]),
        f"{name}_says": says,
    }


def _column(upper: Axes, lower: Axes, name: str) -> Any:
    upper.set(xlim=(0, END), ylim=(0, TOP))
    for axes in (upper, lower):
        axes.set_xticks(range(0, int(END) + 1, 4))
        axes.grid(visible=True, axis="x", color="#dddddd", lw=0.6)
    upper.set_xticklabels([])
    lower.set(xlim=(0, END), ylim=(-0.03, 1.03), xlabel="time [s]", ylabel="travel [%]")
    lower.set_yticks([0, 0.25, 0.5, 0.75, 1.0], ["0", "25", "50", "75", "100"])
    lower.grid(visible=True, color="#dddddd", lw=0.6)
    upper.plot([0, 1], [0, 1], color=BLUE, lw=1.8)[0].set_gid(f"{name}_air")
    upper.plot([0, 1], [0, 1], color=VERMILION, lw=3.2)[0].set_gid(f"{name}_choked")
    lower.plot([0, 1], [0, 1], color=BLUE, lw=1.8)[0].set_gid(f"{name}_travel")
    axis = unit_axis(upper, "y", "air in the casing", "bar", 4)
    for artist in upper.get_children():
        if str(artist.get_gid()).startswith("y_"):
            artist.set_gid(f"{name}_{artist.get_gid()}")
    upper.yaxis.label.set_gid(f"{name}_y_label")
    return axis


def _words(figure: Figure, columns: list[tuple[Axes, Axes]]) -> None:
    (left, below), (right, _) = columns
    left.set_title("Trip: air out, the spring opens", fontsize=10, loc="left")
    right.set_title("Back: air in, the air closes", fontsize=10, loc="left")
    below.plot([WANTED, WANTED], [0, 1], color=GREEN, lw=1.4, ls=(0, (2, 1.5)))
    below.text(WANTED + 0.3, 0.95, f"wanted: {WANTED:.0f} s", fontsize=8.5, color=GREEN, va="center")
    for x, name in ((0.09, "out"), (0.555, "in")):
        figure.text(x, 0.066, "", fontsize=9, weight="bold", va="center").set_gid(f"{name}_says")
    figure.text(0.09, 0.022, "thick: choked · thin: no longer choked", fontsize=8.5, color=GREY, va="center")
