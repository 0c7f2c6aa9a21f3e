"""Live picture of lesson 15: where the torque on a nut goes, and what load it leaves in the bolt."""

from __future__ import annotations

from typing import Any

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import BLUE, ORANGE, SKY, VERMILION, YELLOW
from lessons.units.readout import to_digits
from valvecalc.bolting import bolt_load, nut_factor, stress_area, torque_parts

SIZE, PITCH, FACE = 0.016, 0.002, 0.020  # m: an M16 bolt, its pitch, the mean diameter its nut rubs on
WANTED, WITHIN = 50e3, 0.1  # N: what this joint is invented to want, and how near is near
YIELD = 720e6 * float(stress_area(SIZE, PITCH))  # N: bolt steel B7 of ASTM A193, 105 ksi, from memory
MOST = 140e3  # N, end of the axis
PARTS = (("stretching", BLUE, ""), ("thread", YELLOW, "///"), ("nut face", ORANGE, "\\\\\\"))
ALT = (
    "Above, a bar shows where the torque on a nut goes: a small part stretches the bolt, the rest is friction in the "
    "thread and under the nut. Below, a bar shows the load in the bolt against the load wanted and the load that "
    "stretches it for good. With less friction the same torque gives a larger load."
)


def bolt_up(units: str = "si") -> MovingPicture:
    """Return the second live picture of lesson 15; sliders for torque and friction."""
    figure = Figure(figsize=(7.2, 3.7))
    shares = figure.add_axes((0.05, 0.66, 0.90, 0.20))
    axes = figure.add_axes((0.05, 0.17, 0.90, 0.20))
    axes.set(xlim=(0, MOST), ylim=(0, 1))
    axes.set_yticks([])
    axes.spines[["top", "right", "left"]].set_visible(False)
    load_axis = unit_axis(axes, "x", "load in the bolt", "kN")
    _draw_shares(shares)
    _draw_load(axes)

    def move(torque: float, friction: float, units: str) -> dict[str, Any]:
        parts = torque_parts(SIZE, PITCH, FACE, friction, friction)
        k = float(nut_factor(SIZE, PITCH, FACE, friction, friction))
        load = float(bolt_load(torque, SIZE, k))
        moved: dict[str, Any] = {**load_axis(units), **_shares([float(part) / (k * SIZE) for part in parts])}
        moved["load"] = [(0, 0.12), (min(load, MOST), 0.12), (min(load, MOST), 0.62), (0, 0.62)]
        said = f"nut factor K {k:.3f}:  load {to_digits(load, 'kN', units)}"
        return moved | {"said": f"{said},  {_verdict(load)}"}

    sliders = (
        Slider("torque", "torque on the nut", 20.0, 250.0, 5.0, 160.0, "N·m"),
        Slider("friction", "friction: greased 0.06 … 0.12, dry about 0.16, rusty more", 0.06, 0.24, 0.01, 0.16),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def _verdict(load: float) -> str:
    if load >= YIELD:
        return "stretched for good!"
    if abs(load / WANTED - 1) <= WITHIN:
        return "near what is wanted"
    return "too little" if load < WANTED else "too much"


def _shares(fractions: list[float]) -> dict[str, Any]:
    moved: dict[str, Any] = {}
    start = 0.0
    for (name, *_), share in zip(PARTS, fractions, strict=True):
        end = start + share
        moved[name] = [(start, 0.1), (end, 0.1), (end, 0.62), (start, 0.62)]
        moved[f"{name} says"] = f"{name} {100 * share:.0f} %"
        start = end
    return moved


def _draw_shares(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.text(0, 1.45, "Where the torque goes", fontsize=10.5, weight="bold", va="center")
    for k, (name, colour, hatch) in enumerate(PARTS):
        axes.add_patch(Polygon([(0, 0), (1, 0), (1, 1), (0, 1)], fc=colour, ec="black", lw=0.8, hatch=hatch, gid=name))
        x = 0.34 * k
        axes.add_patch(
            Polygon(
                [(x, 0.78), (x + 0.03, 0.78), (x + 0.03, 1.0), (x, 1.0)], fc=colour, ec="black", lw=0.7, hatch=hatch
            )
        )
        axes.text(x + 0.04, 0.89, "", fontsize=9.5, va="center").set_gid(f"{name} says")


def _draw_load(axes: Axes) -> None:
    axes.text(0, 1.5, "", fontsize=10.5, weight="bold", va="center").set_gid("said")
    axes.add_patch(Polygon([(0, 0), (1, 0), (1, 1), (0, 1)], fc=SKY, ec="black", lw=0.8, gid="load"))
    for place, words, colour, dashes in (
        (WANTED, "wanted", VERMILION, (0, (6, 2))),
        (YIELD, "stretches for good", "black", (0, (1, 1.5))),
    ):
        axes.plot([place, place], [0, 0.95], color=colour, lw=2, ls=dashes)
        axes.text(place, 1.1, words, fontsize=9, ha="center", va="center", color=colour)
