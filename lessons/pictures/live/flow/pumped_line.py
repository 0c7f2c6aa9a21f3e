"""Live picture: one pumped line of the refinery, with the pump's curve, the line's, and what is left for the valve."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import BLUE, CYCLE, GREY, VERMILION
from lessons.refinery import VALVES, line_of, liquid_of
from lessons.units.quantities import to_base
from lessons.units.readout import to_decimals
from valvecalc.characteristic import equal_percentage, linear
from valvecalc.line import line_flow, pump_dp

TAG = "FV-2107"
DIGITS = {"si": 1, "us": 0}  # decimals of a pressure
ALT = (
    f"Pressure against flow for the line of {TAG}: the pump's curve falls, the line's curve (static pressure and "
    "pipework) rises. The gap between them at the present flow is the drop across the valve."
)


def pumped_line(units: str = "si") -> MovingPicture:
    """Return the live picture of a pumped line; slider for travel."""
    line, valve = line_of(TAG), VALVES[TAG]
    density = to_base(liquid_of(TAG).density)
    top, full = to_base(line.full_flow) * 1.15, to_base(line.full_flow)
    pump = np.array(
        [to_base(line.pump_shutoff), 0.0, (to_base(line.pump_at_full) - to_base(line.pump_shutoff)) / full**2]
    )
    static, pipe = to_base(line.static), to_base(line.pipe_at_full) / full**2
    flows = np.linspace(0, top, 60)
    figure, flow_axis, pressure_axis = _draw(top, to_base(line.pump_shutoff) * 1.1, flows, pump, static, pipe)
    trim = equal_percentage if valve.characteristic == "equal percentage" else linear

    def move(travel: float, units: str) -> dict[str, Any]:
        kv = to_base(valve.rated_kv) * trim(travel, valve.rangeability)
        flow = float(line_flow(kv, pump, static, pipe, density))
        up, down = float(pump_dp(flow, pump)), static + pipe * flow**2
        # Left of the bar where there is no room on its right.
        words = flow + (0.012 if flow < 0.6 * top else -0.26) * top
        return {
            **flow_axis(units),
            **pressure_axis(units),
            "valve": [(flow, down), (flow, up)],
            "drop": (f"valve takes {to_decimals(up - down, 'bar', units, DIGITS[units])}", (words, (up + down) / 2)),
            "flow": (f"flow {to_decimals(flow, 'm³/h', units)}", (words, 0.05 * static)),
            "down": [(flow, 0), (flow, down)],
            "dots": [(flow, up), (flow, down)],
        }

    return MovingPicture(
        lambda: figure, move, [Slider("travel", "travel of FV-2107", 0, 1, 0.01, 0.6, "%")], alt=ALT, units=units
    )


def _draw(top: float, high: float, flows: Any, pump: Any, static: float, pipe: float) -> tuple[Figure, Any, Any]:
    figure = Figure(figsize=(7.2, 3.9))
    axes = figure.add_axes((0.11, 0.15, 0.86, 0.80))
    axes.set(xlim=(0, top), ylim=(0, high))
    (blue, solid), (red, dashed), *_ = CYCLE
    axes.plot(flows, pump_dp(flows, pump), color=blue, ls=solid, lw=2)
    axes.plot(flows, static + pipe * flows**2, color=red, ls=dashed, lw=2)
    axes.axhline(static, color=GREY, lw=0.8, ls=(0, (1, 2)))
    axes.text(0.02 * top, 1.012 * pump[0], "pump", color=BLUE, fontsize=9.5, va="bottom", weight="bold")
    axes.text(0.68 * top, static * 1.08, "static pressure\nand pipework", color=VERMILION, fontsize=9.5, va="bottom",
              weight="bold")  # fmt: skip
    axes.text(0.02 * top, static * 0.92, "static pressure alone", color="#555555", fontsize=8.5, va="top")
    axes.plot([0, 0], [0, 1], color="black", lw=4, solid_capstyle="butt")[0].set_gid("valve")
    axes.plot([0, 0], [0, 1], color=GREY, lw=0.8)[0].set_gid("down")
    axes.plot([0, 0], [0, 1], "o", color="black", ms=5)[0].set_gid("dots")
    axes.text(0, 0, "", fontsize=10, weight="bold", va="center").set_gid("drop")
    axes.text(0, 0, "", fontsize=9.5, va="bottom").set_gid("flow")
    axes.spines[["top", "right"]].set_visible(False)
    flow_axis = unit_axis(axes, "x", "flow", "m³/h")
    return figure, flow_axis, unit_axis(axes, "y", "pressure", "bar")
