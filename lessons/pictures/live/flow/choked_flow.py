"""Live picture: flow against the root of the drop, straight at first, then flat: choked."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import CYCLE, GREY
from lessons.units.quantities import Q, to_base
from lessons.units.readout import to_decimals
from valvecalc.body_styles import BODY_STYLES
from valvecalc.liquid import choked_drop, liquid_flow
from valvecalc.units import BAR
from valvecalc.water import WATER_CRITICAL_PRESSURE, vapour_pressure, water_density

P1 = 10 * BAR  # absolute; a test stand, no line of the refinery can take its outlet down like this
KV = to_base(Q(25, "Kv"))
COLD = 293.15  # K
PV, RHO = float(vapour_pressure(COLD)), float(water_density(COLD))
DROPS = np.linspace(0.04, 9.6, 240) * BAR
STYLES = {
    "globe": ("globe", BODY_STYLES["globe, contoured plug, flow to open"].fl),
    "ball": ("segmented ball", BODY_STYLES["segmented ball"].fl),
}
DIGITS = {"si": 1, "us": 0}  # decimals of pressure and flow
ALT = (
    "Flow against pressure drop, the drop spaced by its root. At first every curve is one straight line; at "
    "its choked drop a curve bends and stays flat. With a low FL, as of a ball, it bends early; with a high "
    "one, as of a globe, late."
)


def choked_flow(units: str = "si") -> MovingPicture:
    """Return the live picture of choking; sliders for the drop and for FL."""
    figure, drop_axis, flow_axis = _draw()

    def move(drop: float, fl: float, units: str) -> dict[str, Any]:
        limit, flow = float(choked_drop(P1, PV, WATER_CRITICAL_PRESSURE, fl)), float(_flow(drop, fl))
        top = float(_flow(limit, fl))
        return {
            **drop_axis(units),
            **flow_axis(units),
            "curve": np.column_stack([DROPS, _flow(DROPS, fl)]),
            "here": [(drop, 0), (drop, flow)],
            "dot": [(drop, flow)],
            "knee": [(limit, 0), (limit, top)],
            "name": f"your valve, FL {fl:.2f}",
            "flow": f"flow {to_decimals(flow, 'm³/h', units, DIGITS[units])}",
            "root": f"by the root alone {to_decimals(float(_flow(drop, 1.0)), 'm³/h', units, DIGITS[units])}",
            "limit": f"chokes at a drop of {to_decimals(limit, 'bar', units, DIGITS[units])}",
            "verdict": "choked: it rises no more" if drop >= limit else "not choked: it rises with the root",
        }

    sliders = (
        Slider("drop", "pressure drop", 0.1 * BAR, 9.5 * BAR, 0.1 * BAR, 1.0 * BAR, "bar"),
        Slider("fl", "FL of your valve", 0.50, 0.95, 0.01, 0.75),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def _flow(drop: Any, fl: float) -> Any:
    return liquid_flow(KV, P1, P1 - drop, rho=RHO, pv=PV, pc=WATER_CRITICAL_PRESSURE, fl=fl)


def _draw() -> tuple[Figure, Any, Any]:
    figure = Figure(figsize=(7.2, 4.0))
    axes = figure.add_axes((0.10, 0.15, 0.53, 0.80))
    # Data stay pressures; only their places on the axis go with the root.
    axes.set_xscale("function", functions=(lambda p: np.sqrt(np.maximum(p, 0)), np.square))
    axes.set(xlim=(0, DROPS[-1]), ylim=(0, 82 / 3600))
    axes.minorticks_off()
    axes.plot(DROPS, _flow(DROPS, 1.0), color=GREY, lw=1.2, ls=(0, (1, 2)))
    for (_, fl), (colour, dashes) in zip(STYLES.values(), CYCLE[1:], strict=False):
        axes.plot(DROPS, _flow(DROPS, fl), color=colour, ls=dashes, lw=1.4)
    axes.plot([0, 0], [0, 1], color=GREY, lw=0.8)[0].set_gid("here")
    axes.plot([0, 0], [0, 1], color=GREY, lw=1.0, ls=(0, (5, 3)))[0].set_gid("knee")
    axes.plot(DROPS, DROPS, color=CYCLE[0][0], lw=2.6)[0].set_gid("curve")
    axes.plot([0], [0], "o", color="black", ms=8, mec="white", clip_on=False)[0].set_gid("dot")
    axes.spines[["top", "right"]].set_visible(False)
    _side(figure.add_axes((0.66, 0.15, 0.33, 0.80)))
    drop_axis = unit_axis(axes, "x", "pressure drop, spaced by its root", "bar")
    return figure, drop_axis, unit_axis(axes, "y", "flow", "m³/h")


def _side(axes: Axes) -> None:
    """Write which line is which, and the places for the numbers that move."""
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.plot([0, 0.13], [0.96, 0.96], color=CYCLE[0][0], lw=2.6)
    axes.text(0.17, 0.96, "", fontsize=9.5, va="center", weight="bold").set_gid("name")
    for place, y, weight in (
        ("flow", 0.88, "bold"),
        ("root", 0.81, "normal"),
        ("limit", 0.74, "normal"),
        ("verdict", 0.66, "bold"),
    ):
        axes.text(0.0, y, "", fontsize=9.2, va="center", weight=weight).set_gid(place)
    axes.text(0.0, 0.52, "To compare, with the same Kv", fontsize=9.5, weight="bold", va="center")
    for (says, fl), (colour, dashes), y in zip(STYLES.values(), CYCLE[1:], (0.44, 0.36), strict=False):
        axes.plot([0, 0.13], [y, y], color=colour, ls=dashes, lw=1.4)
        axes.text(0.17, y, f"{says}, FL {fl:.2f}", fontsize=9, va="center")
    axes.plot([0, 0.13], [0.28, 0.28], color=GREY, ls=(0, (1, 2)), lw=1.2)
    axes.text(0.17, 0.28, "if it never choked", fontsize=9, va="center")
    case = (
        f"On a test stand, Kv {KV:g}: water of\n20 °C, the inlet held at 10 bar\nabsolute (145 psi). Cavitation\n"
        "begins before choking; this\npicture does not show where."
    )
    axes.text(0.0, 0.10, case, fontsize=8.5, va="center", color="#444444")
