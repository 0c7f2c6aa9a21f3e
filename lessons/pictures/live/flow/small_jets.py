"""Live picture: the same opening as a few windows or as many holes, and what is heard of it beside the pipe."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon
from matplotlib.ticker import FixedLocator, NullLocator
from numpy.typing import NDArray

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.flow.gas_outlet import BODY, KV, P1, RHO, STEAM, VALVE, flow_at
from lessons.pictures.style import CYCLE, LOOKS, VERMILION
from lessons.units.quantities import to_base
from lessons.units.readout import to_digits
from valvecalc.noise import BANDS, Noise, gas_noise, style_modifier
from valvecalc.trim import drilled_area
from valvecalc.units import BAR

AROUND, HIGH = 0.251, 0.034  # m: once round the cage, height of what is open
WINDOW = 0.027  # m: diameter of each of the four holes of one row
WALL = 0.008  # m
EFFICIENCY, STROUHAL = -3.8, 0.2  # of a cage with windows: IEC 60534-8-3:2010, table 4, second-hand
ALT = (
    "Above, the wall of a cage rolled out flat, with its holes: few and large or many and small, their open area "
    "always the same. Below, the sound by its frequency: one curve for inside the pipe, whose top moves to the right "
    "as the holes get smaller, and one for one metre beside the pipe, which falls."
)


def small_jets(units: str = "si") -> MovingPicture:
    """Return the live picture of a drilled cage; sliders for its rows of holes and the pressure behind it."""
    figure = Figure(figsize=(7.2, 5.0))
    _wall(figure.add_axes((0.03, 0.765, 0.94, 0.225)))
    _spectrum(figure.add_axes((0.09, 0.125, 0.54, 0.57)))
    _side(figure.add_axes((0.66, 0.08, 0.33, 0.64)))

    def move(rows: float, p2: float, units: str) -> dict[str, Any]:
        k = round(rows)
        noise = noise_of(k, p2)
        peak, drilled = float(noise.jet.frequency), float(noise.level) - 10.0
        inside = float(10 * np.log10(np.sum(10 ** (noise.inside / 10))))
        return {
            "holes": outline(k),
            "inside": np.column_stack([BANDS, noise.inside]),
            "outside": np.column_stack([BANDS, noise.bands]),
            "count": f"{4 * k * k} holes of {to_digits(WINDOW / k, 'mm', units, 2)}",
            "area": f"open area {to_digits(open_area(k), 'mm²', units)}",
            "peak": f"jets loudest at {peak / 1000:.1f} kHz",
            "heard": "too high to be heard" if peak > 20e3 else "",
            "pipe": f"inside, up to 20 kHz {inside:.0f} dB",
            "level": f"1 m beside it {float(noise.level):.0f} dB(A)",
            "drilled": f"drilled cage: {drilled:.0f} dB(A)" if k > 3 else "",
        }

    sliders = (
        Slider("rows", "rows of holes", 1, 10, 1, 1),
        Slider("p2", "pressure behind it, absolute", 3.0 * BAR, 8.0 * BAR, 0.5 * BAR, 4.5 * BAR, "bar"),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


@cache
def noise_of(rows: int, p2: float) -> Noise:
    """Return the noise with so many rows of four times as many holes."""
    hole = WINDOW / rows
    fd = style_modifier(np.pi * hole**2 / 4, np.pi * hole, 4 * rows * rows)
    return gas_noise(
        flow_at(p2, VALVE.xt), P1, p2, rho=RHO, gamma=STEAM.gamma, kv=KV, fl=VALVE.fl, fd=fd, efficiency=EFFICIENCY,
        strouhal=STROUHAL, d=BODY, d2=to_base(VALVE.pipe), wall=WALL,
    )  # fmt: skip


def open_area(rows: int) -> float:
    """Return the open area of all holes [m²]: the same for every number of rows."""
    heights = (np.arange(rows) + 0.5) * HIGH / rows
    return float(drilled_area(HIGH, heights, WINDOW / rows, 4 * rows))


def outline(rows: int) -> NDArray[np.float64]:
    """Return all holes of the rolled-out cage as one line with gaps [mm]."""
    angle = np.linspace(0, 2 * np.pi, 25 if rows < 4 else 13)
    ring = np.column_stack([np.cos(angle), np.sin(angle)]) * WINDOW / rows / 2
    ring = np.vstack([ring, [(np.nan, np.nan)]])
    x = (np.arange(4 * rows) + 0.5) * AROUND / (4 * rows)
    y = (np.arange(rows) + 0.5) * HIGH / rows
    centres = np.array([(a, b) for a in x for b in y])
    return 1000 * (centres[:, None, :] + ring[None, :, :]).reshape(-1, 2)


def _wall(axes: Axes) -> None:
    look = LOOKS["cage behind"]
    axes.set(xlim=(-1, 252), ylim=(-10, 42), aspect="equal")
    axes.set_axis_off()
    axes.add_patch(Polygon([(0, -4), (251, -4), (251, 38), (0, 38)], fc=look.fill, ec=look.edge, lw=0.9))
    axes.plot([0], [0], color="black", lw=0.9)[0].set_gid("holes")
    axes.text(125, -9.5, "the wall of the cage, rolled out", fontsize=8.5, ha="center", va="center", color="#444444")


def _spectrum(axes: Axes) -> None:
    axes.set_xscale("log")
    axes.set(xlim=(100, 20e3), ylim=(0, 165), xlabel="frequency [kHz]", ylabel="level by third octaves [dB]")
    axes.xaxis.set_major_locator(FixedLocator([100, 1000, 10000]))
    axes.xaxis.set_minor_locator(NullLocator())
    axes.set_xticklabels(["0.1", "1", "10"])
    axes.tick_params(labelsize=8.5)
    axes.grid(color="0.88", lw=0.7)
    axes.spines[["top", "right"]].set_visible(False)
    axes.plot(BANDS, BANDS, color=CYCLE[0][0], lw=2.4)[0].set_gid("inside")
    axes.plot(BANDS, BANDS, color=VERMILION, lw=2.4, ls=CYCLE[1][1])[0].set_gid("outside")


def _side(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    for place, y, weight in (
        ("count", 0.95, "bold"),
        ("area", 0.875, "normal"),
        ("peak", 0.76, "bold"),
        ("heard", 0.69, "normal"),
        ("pipe", 0.58, "normal"),
        ("level", 0.475, "bold"),
        ("drilled", 0.295, "normal"),
    ):
        axes.text(0.16 if place in ("pipe", "level") else 0.0, y, "", fontsize=9.5, va="center", weight=weight).set_gid(
            place
        )
    axes.plot([0, 0.12], [0.58, 0.58], color=CYCLE[0][0], lw=2.4)
    axes.plot([0, 0.12], [0.475, 0.475], color=VERMILION, lw=2.4, ls=CYCLE[1][1])
    trust = (
        "Sound power as with windows;\nwith the value printed for drilled\ncages it is 10 dB less. Steel pipe of\n"
        "200 mm, wall 8 mm (0.31 in)."
    )
    axes.text(0.0, 0.11, trust, fontsize=8.5, va="center", color="#444444")
