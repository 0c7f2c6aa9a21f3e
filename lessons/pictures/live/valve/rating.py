"""Live picture of lesson 15: what a body may hold, by class and metal, the hotter the less."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import CYCLE, GREY, VERMILION
from lessons.units.readout import to_decimals
from valvecalc.rating import CLASSES, MATERIALS, rated_pressure
from valvecalc.units import BAR

ZERO = 273.15
COLD, HOT, MOST = ZERO - 20, ZERO + 400, 110 * BAR
TEMPERATURES = np.linspace(COLD, HOT, 141)
ROWS = {"150": 0.60, "300": 0.42, "600": 0.24}
ALT = (
    "Pressure a body may hold against its temperature, one falling curve for each of the classes 150, 300 and 600. A "
    "dot marks pressure and temperature of the service; beside the curves stands what each class may hold there and "
    "whether that is enough."
)


def rating(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 15; sliders for temperature, pressure and metal of the body."""
    figure = Figure(figsize=(7.2, 3.9))
    axes = figure.add_axes((0.10, 0.15, 0.53, 0.80))
    axes.set(xlim=(COLD, HOT), ylim=(0, MOST))
    axes.spines[["top", "right"]].set_visible(False)
    heat, pressure_axis = unit_axis(axes, "x", "temperature", "°C"), unit_axis(axes, "y", "pressure", "bar")
    _draw(axes)
    _side(figure.add_axes((0.66, 0.15, 0.33, 0.80)))

    def move(temperature: float, pressure: float, metal: float, units: str) -> dict[str, Any]:
        material = MATERIALS[round(metal)]
        moved: dict[str, Any] = {**heat(units), **pressure_axis(units), "metal": material}
        moved["dot"] = [(temperature, pressure)]
        moved["drop"] = [(temperature, 0), (temperature, MOST)]
        for name in CLASSES:
            moved[f"curve_{name}"] = np.column_stack([TEMPERATURES, rated_pressure(material, name, TEMPERATURES)])
            holds = float(rated_pressure(material, name, temperature))
            moved[f"holds_{name}"] = f"may hold {to_decimals(holds, 'bar', units, 1 if units == 'si' else 0)}"
            moved[f"says_{name}"] = "✓ enough" if holds >= pressure else "✗ not enough"
        return moved

    sliders = (
        Slider("temperature", "temperature", ZERO + 20, ZERO + 400, 5, ZERO + 20, "°C"),
        Slider("pressure", "highest pressure", 1 * BAR, 100 * BAR, 0.5 * BAR, 16 * BAR, "bar"),
        Slider("metal", "metal", 0.0, 1.0, 1.0, 0.0, words=MATERIALS),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def _draw(axes: Axes) -> None:
    axes.plot([COLD, COLD], [0, 1], color=GREY, lw=0.8, ls=(0, (1, 2)))[0].set_gid("drop")
    for name, (colour, dashes) in zip(CLASSES, CYCLE, strict=False):
        line = rated_pressure("carbon steel", name, TEMPERATURES)
        axes.plot(TEMPERATURES, line, color=colour, ls=dashes, lw=2)[0].set_gid(f"curve_{name}")
    axes.plot([COLD], [0], "D", color=VERMILION, ms=9, mec="white", zorder=5)[0].set_gid("dot")


def _side(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.text(0, 0.96, "Body of", fontsize=10, va="center")
    axes.text(0, 0.885, "", fontsize=10, weight="bold", va="center").set_gid("metal")
    axes.plot([0.06], [0.76], "D", color=VERMILION, ms=8, mec="white")
    axes.text(0.16, 0.76, "the service", fontsize=9.5, va="center")
    for name, (colour, dashes) in zip(CLASSES, CYCLE, strict=False):
        y = ROWS[name]
        axes.plot([0, 0.12], [y, y], color=colour, ls=dashes, lw=2)
        axes.text(0.16, y, f"class {name}", fontsize=9.5, va="center", weight="bold")
        axes.text(0.16, y - 0.065, "", fontsize=9.5, va="center").set_gid(f"holds_{name}")
        axes.text(1.0, y, "", fontsize=9.5, va="center", ha="right").set_gid(f"says_{name}")
    axes.text(
        0, 0.03, "gaskets, packing and seat\nmay allow less than the metal", fontsize=8.5, va="center", color="#444444"
    )
