"""Live picture: actuator pressure against travel, on the bench and in the line, for an air-to-open valve."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import CYCLE, GREY
from lessons.pictures.verdicts import BAD, GOOD, SHORT, SIGNS, reaches, tone_of
from lessons.refinery import drive_of, line_of
from lessons.units.quantities import to_base
from lessons.units.readout import to_decimals
from valvecalc.actuator import Actuator, spring_actuator
from valvecalc.force_balance import pressure_at, travel_at

TAG = "FV-1204"
TRAVELS = np.linspace(0, 1, 41)
TOP = 2.4e5  # Pa gauge, above every line the sliders can make
LINES = {"bench": "on the bench", "opening": "in the line, opening", "closing": "in the line, closing"}
# What happens at the shut and at the open end of each line, and what to say where even no air is too much.
EVENTS = {
    "bench": (("starts", ""), ("full open", "")),
    "opening": (("starts", "starts without air"), ("full open", "opens without air")),
    "closing": (("shuts", "does not shut"), ("leaves full open", "stays full open")),
}
ROWS = {"bench": 0.93, "opening": 0.70, "closing": 0.47}
DIGITS = {"si": 2, "us": 1}  # decimals of an air pressure
ALT = (
    f"Air pressure in the actuator of {TAG}, an air-to-open valve, against travel. The bench line rises "
    "straight from the pressure that starts the stroke to the one that ends it. Two more lines show "
    "opening and closing in the line: process load moves their closed end up or down most, and friction "
    "keeps them apart."
)


def bench_set_ends(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 07; sliders for bench start, spring rate and process load."""
    drive = drive_of(TAG)
    area, stroke, supply = to_base(drive.area), to_base(drive.travel), to_base(drive.supply)
    figure, pressure_axis = _draw(supply)

    def move(start: float, spring_rate: float, load: float, units: str) -> dict[str, Any]:
        actuator = spring_actuator("reverse", area, spring_rate, start * area, stroke)
        lines = _lines(actuator, load, to_base(drive.friction))
        moved: dict[str, Any] = {**pressure_axis(units), **_verdict(actuator, load, supply, units)}
        for name, pressure in lines.items():
            (first, without), (last, without_last) = EVENTS[name]
            moved[f"{name}_line"] = np.column_stack([TRAVELS, np.where(pressure < 0, np.nan, pressure)])
            moved[f"{name}_from"] = _says(first, float(pressure[0]), without, units)
            moved[f"{name}_to"] = _says(last, float(pressure[-1]), without_last, units)
        moved["ends"] = [(0, lines["bench"][0]), (1, lines["bench"][-1])]
        moved["spring_says"] = f"preload {to_decimals(float(actuator.preload), 'N', units)}"
        return moved

    return MovingPicture(lambda: figure, move, _sliders(), alt=ALT, units=units)


def drop_when_open(tag: str) -> float:
    """Return the drop across the open valve as a share of that across the shut one, from its line."""
    line = line_of(tag)
    left = to_base(line.pump_at_full) - to_base(line.static) - to_base(line.pipe_at_full)
    return left / (to_base(line.pump_shutoff) - to_base(line.static))


def _sliders() -> tuple[Slider, ...]:
    return (
        Slider("start", "bench start, set by the adjuster", 0.0, 0.8e5, 0.02e5, 0.2e5, "bar"),
        Slider("spring_rate", "spring rate", 64e3, 192e3, 8e3, 128e3, "N/mm"),
        Slider("load", "fluid holds the shut plug down (below 0: lifts it)", -700.0, 700.0, 50.0, 0.0, "N"),
    )


def _lines(actuator: Actuator, load: float, friction: float) -> dict[str, Any]:
    """Return the pressures along the travel; the load fades as the valve opens and its drop falls."""
    fluid = -load * (1 + (drop_when_open(TAG) - 1) * TRAVELS)
    return {
        "bench": pressure_at(actuator, TRAVELS),
        "opening": pressure_at(actuator, TRAVELS, fluid, friction, "opening"),
        "closing": pressure_at(actuator, TRAVELS, fluid, friction, "closing"),
    }


def _says(event: str, pressure: float, without_air: str, units: str) -> str:
    return without_air if pressure < 0 else f"{event}: {to_decimals(pressure, 'bar', units, DIGITS[units])}"


def _verdict(actuator: Actuator, load: float, supply: float, units: str) -> dict[str, str]:
    """Say what the spring alone leaves for the seat, and whether the supply opens it against friction and load."""
    friction = to_base(drive_of(TAG).friction)
    ends = (-load, -load * drop_when_open(TAG), friction)
    seat = float(actuator.preload) + load - friction
    reached = float(travel_at(actuator, supply, *ends, "opening"))
    tone = tone_of(supply >= float(pressure_at(actuator, 1.0)), reaches(reached, 1.0))
    share = int(100 * reached)  # never rounded up: 100 % would be enough
    opens = {
        GOOD: "enough to open it fully",
        SHORT: f"short: opens it to {share} %",
        BAD: f"opens it to {share} % only",
    }
    without = f"air lost: {to_decimals(seat, 'N', units)} for the seat"
    return {
        "seat_says": without if seat > 0 else f"{SIGNS[BAD]} air lost: does not shut!",
        "supply_says": f"air supply (thin line) {to_decimals(supply, 'bar', units, 1)}:",
        "verdict": f"{SIGNS[tone]} {opens[tone]}",
    }


def _draw(supply: float) -> tuple[Figure, Any]:
    figure = Figure(figsize=(7.2, 4.0))
    axes = figure.add_axes((0.10, 0.13, 0.55, 0.83))
    axes.set(xlim=(0, 1), ylim=(0, TOP))
    axes.axhline(supply, color=GREY, lw=1, ls=(0, (1, 2)))
    for name, (colour, dashes) in zip(LINES, CYCLE, strict=False):
        axes.plot(TRAVELS, TRAVELS, color=colour, ls=dashes, lw=2)[0].set_gid(f"{name}_line")
    axes.plot([0, 1], [0, 1], "o", color=CYCLE[0][0], ms=7, mec="white", clip_on=False)[0].set_gid("ends")
    axes.set_xticks([0, 0.25, 0.5, 0.75, 1], ["0\nshut", "25", "50", "75", "100\nopen"])
    axes.set_xlabel("travel [%]", labelpad=-6)
    axes.spines[["top", "right"]].set_visible(False)
    _side(figure.add_axes((0.69, 0.13, 0.30, 0.83)))
    return figure, unit_axis(axes, "y", "air pressure in the actuator", "bar")


def _side(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    for name, (colour, dashes) in zip(LINES, CYCLE, strict=False):
        y = ROWS[name]
        axes.plot([0, 0.13], [y, y], color=colour, ls=dashes, lw=2)
        axes.text(0.17, y, LINES[name], fontsize=9.5, weight="bold", va="center")
        axes.text(0.17, y - 0.065, "", fontsize=9.5, va="center").set_gid(f"{name}_from")
        axes.text(0.17, y - 0.125, "", fontsize=9.5, va="center").set_gid(f"{name}_to")
    axes.text(0.0, 0.27, "spring at the shut end:", fontsize=9.5, va="center")
    axes.text(0.0, 0.21, "", fontsize=9.5, weight="bold", va="center").set_gid("spring_says")
    axes.text(0.0, 0.15, "", fontsize=9.5, va="center").set_gid("seat_says")
    axes.text(0.0, 0.09, "", fontsize=9.5, va="center").set_gid("supply_says")
    axes.text(0.0, 0.03, "", fontsize=9.5, weight="bold", va="center").set_gid("verdict")
