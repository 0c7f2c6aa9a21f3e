"""Live picture: how much steam passes, and how fast it leaves, as the pressure behind the valve falls."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import CYCLE, GREY, VERMILION
from lessons.refinery import VALVES, gas_of
from lessons.units.quantities import to_base
from lessons.units.readout import to_decimals
from valvecalc.gas import choked_ratio, expansion_factor, gas_density, gas_flow, gas_velocity, sound_speed
from valvecalc.noise import MOST_MACH
from valvecalc.units import BAR

VALVE, STEAM = VALVES["PV-7110"], gas_of("PV-7110")
P1 = 9 * BAR  # absolute: its header
KV = 52.0  # where it stands on a quiet day
BODY = to_base(VALVE.size)
RHO = float(gas_density(P1, to_base(STEAM.temperature), STEAM.molar_mass, STEAM.z))
SOUND = float(sound_speed(P1, RHO, STEAM.gamma))
OUTLETS = np.linspace(1.0, 8.98, 200) * BAR
DIGITS = {"si": 1, "us": 0}
ALT = (
    "Two curves, one above the other, against the pressure behind a steam valve, which falls to the right. Above, the "
    "flow: it rises ever more slowly and is level once it chokes. Below, the speed at which the steam leaves the "
    "valve: it goes on rising, ever more steeply, after the flow has become level. A dashed line marks Mach 0.3."
)


def gas_outlet(units: str = "si") -> MovingPicture:
    """Return the live picture of choked steam; sliders for the outlet pressure and for xT."""
    figure = Figure(figsize=(7.2, 4.9))
    above, below = figure.add_axes((0.11, 0.53, 0.53, 0.44)), figure.add_axes((0.11, 0.12, 0.53, 0.34))
    flow_axis = _flow_axes(above)
    pressure_axis = _speed_axes(below)
    _side(figure.add_axes((0.67, 0.12, 0.32, 0.85)))

    def move(p2: float, xt: float, units: str) -> dict[str, Any]:
        limit = P1 * (1 - float(choked_ratio(STEAM.gamma, xt)))
        flow, mach = float(flow_at(p2, xt)), float(mach_at(p2, xt))
        return {
            **flow_axis(units),
            **pressure_axis(units),
            "flow_curve": np.column_stack([OUTLETS, flow_at(OUTLETS, xt)]),
            "mach_curve": np.column_stack([OUTLETS, mach_at(OUTLETS, xt)]),
            "flow_dot": [(p2, flow)],
            "mach_dot": [(p2, mach)],
            "knee": [(limit, 0), (limit, float(flow_at(limit, xt)))],
            "name": f"your valve, xT {xt:.2f}",
            "flow": f"flow {to_decimals(flow, 'kg/h', units)}",
            "x": f"x = {(P1 - p2) / P1:.2f}, Y = {float(expansion_factor(P1, p2, STEAM.gamma, xt)):.2f}",
            "limit": f"chokes at {to_decimals(limit, 'bar', units, DIGITS[units])} and below",
            "verdict": "choked: the flow rises no more" if p2 <= limit else "not choked yet",
            "speed": f"leaves at {to_decimals(mach * SOUND, 'm/s', units)}",
            "mach": f"Mach {mach:.2f}" + (": above 0.3" if mach > MOST_MACH else ""),
        }

    sliders = (
        Slider("p2", "pressure behind it, absolute", 1.0 * BAR, 8.8 * BAR, 0.1 * BAR, 7.0 * BAR, "bar"),
        Slider("xt", "xT of your valve", 0.30, 0.84, 0.01, 0.75),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def flow_at(p2: Any, xt: float) -> Any:
    """Return the mass flow at an outlet pressure [kg/s]."""
    return gas_flow(KV, P1, p2, rho=RHO, gamma=STEAM.gamma, xt=xt)


def mach_at(p2: Any, xt: float) -> Any:
    """Return the Mach number at which the steam leaves the valve."""
    return gas_velocity(flow_at(p2, xt), P1, p2, RHO, BODY) / SOUND


def _flow_axes(axes: Axes) -> Any:
    axes.set(xlim=(9 * BAR, 0.9 * BAR), ylim=(0, 6600 / 3600), xticks=[])
    axes.plot(OUTLETS, KV / 3600 * np.sqrt((P1 - OUTLETS) / BAR * RHO * 999.1), color=GREY, lw=1.2, ls=(0, (1, 2)))
    axes.plot([0, 0], [0, 1], color=GREY, lw=1.0, ls=(0, (5, 3)))[0].set_gid("knee")
    axes.plot(OUTLETS, OUTLETS, color=CYCLE[0][0], lw=2.6)[0].set_gid("flow_curve")
    axes.plot([0], [0], "o", color="black", ms=8, mec="white", clip_on=False)[0].set_gid("flow_dot")
    axes.spines[["top", "right"]].set_visible(False)
    return unit_axis(axes, "y", "flow", "kg/h")


def _speed_axes(axes: Axes) -> Any:
    axes.set(xlim=(9 * BAR, 0.9 * BAR), ylim=(0, 1.0), yticks=np.linspace(0, 1, 6))
    axes.set_ylabel("Mach at outlet", fontsize=9.5)
    axes.tick_params(labelsize=8.5, color="0.4")
    axes.grid(axis="y", color="0.88", lw=0.7)
    axes.set_axisbelow(True)
    axes.axhline(MOST_MACH, color=VERMILION, lw=1.2, ls=(0, (6, 2)))
    axes.plot(OUTLETS, OUTLETS, color=CYCLE[2][0], lw=2.4)[0].set_gid("mach_curve")
    axes.plot([0], [0], "o", color="black", ms=8, mec="white", clip_on=False)[0].set_gid("mach_dot")
    axes.spines[["top", "right"]].set_visible(False)
    return unit_axis(axes, "x", "pressure behind the valve, absolute", "bar")


def _side(axes: Axes) -> None:
    """Write which line is which, and the places for the numbers that move."""
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.plot([0, 0.13], [0.965, 0.965], color=CYCLE[0][0], lw=2.6)
    axes.text(0.17, 0.965, "", fontsize=9.5, va="center", weight="bold").set_gid("name")
    for place, y, weight in (
        ("flow", 0.895, "bold"),
        ("x", 0.835, "normal"),
        ("limit", 0.775, "normal"),
        ("verdict", 0.715, "bold"),
    ):
        axes.text(0.0, y, "", fontsize=9.2, va="center", weight=weight).set_gid(place)
    axes.plot([0, 0.13], [0.635, 0.635], color=GREY, ls=(0, (1, 2)), lw=1.2)
    axes.text(0.17, 0.635, "a liquid of its density", fontsize=9, va="center")
    axes.plot([0, 0.13], [0.44, 0.44], color=CYCLE[2][0], lw=2.4)
    axes.text(0.17, 0.44, "speed at the outlet", fontsize=9.5, va="center", weight="bold")
    axes.text(0.0, 0.37, "", fontsize=9.2, va="center").set_gid("speed")
    axes.text(0.0, 0.31, "", fontsize=9.2, va="center", weight="bold").set_gid("mach")
    axes.plot([0, 0.13], [0.23, 0.23], color=VERMILION, lw=1.2, ls=(0, (6, 2)))
    axes.text(0.17, 0.23, "Mach 0.3", fontsize=9, va="center")
    case = f"PV-7110, {VALVE.size}, at Kv {KV:g}: steam\nof 190 °C (374 °F), 9 bar (131 psi)\nabsolute before it."
    axes.text(0.0, 0.075, case, fontsize=8.5, va="center", color="#444444")
