"""Live picture: the load left on a packing that has settled, with nuts alone and with disc springs under them."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon
from numpy.typing import NDArray

from lessons.live.axis_units import unit_axis
from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.style import CYCLE, LOOKS, VERMILION
from lessons.units.readout import counted, to_decimals, to_digits
from valvecalc.packing import load_left

LOAD = 3000.0  # N on each stud when the nuts were tightened; own choice, no source
STUD = 205e9 * 58e-6 / 0.080  # N/m: M10, 58 mm², 80 mm long, steel of 205 GPa (from memory)
DISC = 12e6  # N/m, each disc spring; own choice, no source
MOST = 12
SETTLED = np.linspace(0, 1.5e-3, 151)
THICK = 1.4  # height of one disc spring pressed flat, as drawn [mm]
DIGITS = {"si": 2, "us": 3}
ALT = (
    "Left, the load on a packing stud against how much the packing has settled. With nuts alone the line falls to zero "
    "at once; with disc springs it slopes gently, the more gently the more springs. Right, the stud with its stack of "
    "disc springs, which grows as the packing sinks."
)


def live_loading(units: str = "si") -> MovingPicture:
    """Return the live picture of live loading; sliders for what has settled and for the disc springs of a stud."""
    figure = Figure(figsize=(7.2, 4.2))
    axes = figure.add_axes((0.11, 0.13, 0.47, 0.83))
    axes.set(xlim=(0, SETTLED[-1]), ylim=(-90, 3300))
    axes.plot(SETTLED, load_on_stud(0, SETTLED), color=VERMILION, lw=2.2, ls=CYCLE[1][1])
    axes.plot(SETTLED, SETTLED, color=CYCLE[0][0], lw=2.6)[0].set_gid("line")
    axes.plot([0], [0], "o", color="black", ms=8, mec="white", clip_on=False)[0].set_gid("dot")
    axes.plot([0], [0], "s", color=VERMILION, ms=7, mec="white", clip_on=False)[0].set_gid("bare_dot")
    axes.spines[["top", "right"]].set_visible(False)
    settled_axis = unit_axis(axes, "x", "packing settled", "mm", 4)
    load_axis = unit_axis(axes, "y", "load on each stud", "N")
    _stud(figure.add_axes((0.60, 0.40, 0.39, 0.58)))
    _side(figure.add_axes((0.62, 0.04, 0.37, 0.34)))

    def move(settled: float, discs: float, units: str) -> dict[str, Any]:
        left, bare = float(load_on_stud(round(discs), settled)), float(load_on_stud(0, settled))
        return {
            **settled_axis(units),
            **load_axis(units),
            **_stack(round(discs), left, settled),
            "line": np.column_stack([SETTLED, load_on_stud(round(discs), SETTLED)]),
            "dot": [(settled, left)],
            "bare_dot": [(settled, bare)],
            "says": f"{counted(round(discs), 'disc')}: {left / LOAD:.0%} of the load left".replace("%", " %"),
            "force": f"{to_decimals(left, 'N', units)} on each stud",
            "bare": f"nuts alone: {bare / LOAD:.0%} left".replace("%", " %"),
            "gone": f"their load is gone after {to_digits(LOAD / STUD, 'mm', units, 2)}",
        }

    sliders = (
        Slider("settled", "packing settled", 0.0, 1.5e-3, 0.01e-3, 0.0, "mm"),
        Slider("discs", "disc springs on each stud", 2, MOST, 1, 6),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def load_on_stud(discs: int, settled: Any) -> Any:
    """Return the load left on a stud with so many disc springs one above another [N]."""
    return load_left(LOAD, [STUD] + [DISC] * discs, settled)


def _stack(discs: int, left: float, settled: float) -> dict[str, Any]:
    """Return the stack as drawn: each disc higher by what it has been let go, the flange lower; spare discs hide."""
    flange = 8.0 - 2000 * settled  # drawn larger than life, so that it can be seen
    rise = 2000 * (LOAD - left) / DISC
    parts: dict[str, Any] = {"flange": _box(-16, flange - 5, 16, flange)}
    for k in range(MOST):
        low = flange + k * (THICK + rise)
        high = low + THICK + rise
        wide, narrow = (low, high) if k % 2 == 0 else (high, low)
        cup = [(-8, wide), (8, wide), (4.5, narrow), (-4.5, narrow)]
        parts[f"disc_{k}"] = np.array(cup) if k < discs else np.full((4, 2), np.nan)
    top = flange + discs * (THICK + rise)
    parts["nut"] = _box(-6, top, 6, top + 5)
    return parts


def _box(x0: float, y0: float, x1: float, y1: float) -> NDArray[np.float64]:
    return np.array([(x0, y0), (x1, y0), (x1, y1), (x0, y1)])


def _stud(axes: Axes) -> None:
    """Draw the stud, its nut, the packing flange and twelve discs, most of them out of sight."""
    axes.set(xlim=(-44, 17), ylim=(-2, 42), aspect="equal")
    axes.set_axis_off()
    axes.add_patch(Polygon(_box(-3, -2, 3, 41), fc=LOOKS["bolt"].fill, ec="black", lw=0.7))
    for gid, look in [("flange", "ring"), ("nut", "bolt"), *((f"disc_{k}", "steel") for k in range(MOST))]:
        axes.add_patch(Polygon(_box(0, 0, 1, 1), fc=LOOKS[look].fill, ec="black", lw=0.8, gid=gid, zorder=3))
    for words, y in (("packing nut", 30), ("disc springs", 18), ("packing flange", 4)):
        axes.text(-43, y, words, fontsize=8.5, va="center")


def _side(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.plot([0, 0.1], [0.93, 0.93], color=CYCLE[0][0], lw=2.6)
    axes.plot([0, 0.1], [0.58, 0.58], color=VERMILION, lw=2.2, ls=CYCLE[1][1])
    for place, x, y, weight in (
        ("says", 0.13, 0.93, "bold"),
        ("force", 0.13, 0.78, "normal"),
        ("bare", 0.13, 0.58, "bold"),
        ("gone", 0.13, 0.43, "normal"),
    ):
        axes.text(x, y, "", fontsize=9, va="center", weight=weight).set_gid(place)
    case = "Invented: 3000 N (674 lbf) on an M10\nstud; a disc gives 12 kN/mm."
    axes.text(0.0, 0.13, case, fontsize=8.5, va="center", color="#444444")
