"""Live picture of lesson 16: insulation creeps up the neck of an extended bonnet, and the packing gets hot."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import BLUE, LOOKS, ORANGE, VERMILION
from lessons.refinery.build import (
    CONDUCTIVITY,
    HEAT_TO_AIR,
    NECK_DIAMETER,
    NECK_LENGTH,
    NECK_METAL,
    PTFE_LIMIT,
    SHADE,
)
from lessons.units.quantities import to_base
from lessons.units.readout import to_decimals
from valvecalc.neck_heat import fin_parameter, neck_temperature

LENGTH, AIR, LIMIT = to_base(NECK_LENGTH), to_base(SHADE), to_base(PTFE_LIMIT)
FIN = float(fin_parameter(HEAT_TO_AIR, np.pi * to_base(NECK_DIAMETER), CONDUCTIVITY, to_base(NECK_METAL)))
HEIGHTS = np.linspace(0, LENGTH, 101)
ZERO = 273.15
HALF, BODY, BOX = 0.030, -0.075, 0.055  # m, on paper: half the neck, foot of the body, height of the packing box
THICK = 0.055  # m: insulation, on paper
ALT = (
    "An extended bonnet on a hot body, its packing on top, and beside it the temperature along its neck. Insulation "
    "covers body and neck up to a height. Bare, the neck cools on the way up and the packing stays below the limit of "
    "PTFE; the higher the insulation, the hotter the packing, up to the temperature of the body."
)


def insulation(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 16; sliders for how far the neck is wrapped and how hot the body is."""
    figure = Figure(figsize=(7.2, 4.4))
    neck = figure.add_axes((0.02, 0.14, 0.36, 0.84))
    axes = figure.add_axes((0.44, 0.14, 0.54, 0.84))
    for each in (neck, axes):
        each.set_ylim(BODY, LENGTH + BOX + 0.03)
    axes.set_xlim(ZERO, ZERO + 400)
    axes.spines[["top", "right"]].set_visible(False)
    axes.set_yticks([])
    heat = unit_axis(axes, "x", "temperature", "°C")
    _draw_neck(neck)
    _draw_curve(axes)

    def move(covered: float, body: float, units: str) -> dict[str, Any]:
        edge = covered * LENGTH
        along = neck_temperature(HEIGHTS, LENGTH, edge, FIN, body, AIR)
        packing = float(along[-1])
        said = "✓ below the limit" if packing < LIMIT else "✗ too hot for PTFE"
        return {
            **heat(units),
            **{f"wrap_{side}": _wrap(side, edge) for side in ("left", "right")},
            "curve": np.column_stack([along, HEIGHTS]),
            "dot": [(packing, LENGTH)],
            "body": [(body, BODY), (body, 0)],
            "packing": f"packing {to_decimals(packing, '°C', units)}",
            "verdict": said,
        }

    sliders = (
        Slider("covered", "neck wrapped up to", 0.0, 1.0, 0.01, 0.0, "%"),
        Slider("body", "temperature of the fluid", ZERO + 100, ZERO + 400, 5, ZERO + 280, "°C"),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def _wrap(side: str, edge: float) -> list[tuple[float, float]]:
    """Return the insulation on one side: thick round the body, and up the neck."""
    s = -1.0 if side == "left" else 1.0
    return [
        (s * (HALF + THICK * 1.3), BODY),
        (s * (HALF + THICK * 1.3), edge),
        (s * HALF, edge),
        (s * HALF, 0.0),
        (s * HALF * 1.9, 0.0),
        (s * HALF * 1.9, BODY),
    ]


def _draw_neck(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set_xlim(-0.165, 0.165)
    metal: dict[str, Any] = {"fc": LOOKS["casting"].fill, "ec": "black", "lw": 1.0}
    axes.add_patch(Polygon(_rect(HALF * 1.9, BODY, 0.0), **metal))
    axes.add_patch(Polygon(_rect(HALF, 0.0, LENGTH), **metal))
    axes.add_patch(Polygon(_rect(HALF * 1.25, LENGTH, LENGTH + BOX), **metal))
    for k in range(3):
        low = LENGTH + 0.006 + 0.015 * k
        axes.add_patch(
            Polygon(_rect(0.018, low, low + 0.013), fc=LOOKS["packing"].fill, ec="black", lw=0.7, hatch="xxx")
        )
    axes.add_patch(Polygon(_rect(0.007, BODY, LENGTH + BOX + 0.03), fc=LOOKS["trim"].fill, ec="black", lw=0.8))
    for side in ("left", "right"):
        wrap = Polygon(_wrap(side, 0.0), fc="#F3E3C3", ec="black", lw=0.8, hatch="..", gid=f"wrap_{side}")
        wrap.set(hatchcolor=ORANGE)
        axes.add_patch(wrap)
    for x, y, words in ((0.072, LENGTH + 0.027, "packing"), (-0.1, LENGTH + 0.027, "bonnet")):
        axes.text(x, y, words, fontsize=9, va="center", ha="center" if x < 0 else "left")
    axes.text(0.118, -0.04, "insu-\nlation", fontsize=9, va="center", linespacing=1.0)


def _rect(half: float, low: float, high: float) -> list[tuple[float, float]]:
    return [(-half, low), (half, low), (half, high), (-half, high)]


def _draw_curve(axes: Axes) -> None:
    top = LENGTH + BOX + 0.03
    axes.plot([LIMIT, LIMIT], [BODY, top - 0.03], color=VERMILION, lw=1.6, ls=(0, (6, 2)))
    axes.text(LIMIT + 6, LENGTH + 0.038, "limit of PTFE", fontsize=9, color=VERMILION, va="center")
    axes.axhline(LENGTH, color="#AAAAAA", lw=0.8)
    axes.axhline(0, color="#AAAAAA", lw=0.8)
    axes.plot([ZERO, ZERO], [BODY, 0], color=BLUE, lw=2)[0].set_gid("body")
    axes.plot(HEIGHTS, HEIGHTS, color=BLUE, lw=2.2)[0].set_gid("curve")
    axes.plot([ZERO], [0], "o", color=BLUE, ms=9, mec="white", zorder=5)[0].set_gid("dot")
    axes.text(ZERO + 6, LENGTH + 0.052, "", fontsize=10, weight="bold", va="center").set_gid("packing")
    axes.text(ZERO + 6, LENGTH + 0.024, "", fontsize=10, va="center").set_gid("verdict")
    axes.text(ZERO + 6, LENGTH - 0.012, "height of the packing", fontsize=8.5, va="center", color="#555555")
    axes.text(ZERO + 6, 0.012, "top of the body", fontsize=8.5, va="center", color="#555555")
