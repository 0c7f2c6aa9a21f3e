"""Live picture: signal against travel, up and down, and the gap that packing friction opens between the two ways."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.flow.inherent_curves import share_axes
from lessons.pictures.style import BLUE, CYCLE, GREY, VERMILION
from lessons.refinery import drive_of
from lessons.units.quantities import to_base
from lessons.units.readout import to_decimals
from valvecalc.packing import dead_band_pressure, signal_dead_band
from valvecalc.stiction import backlash

TAG = "FV-1204"
POSITIONER_GAIN = 20.0  # own choice for the pictures, no source
LOW, HIGH = 0.2, 0.8  # the signal goes from one to the other and back
SAMPLES = 121
WAYS = {"bare": ("no positioner", 0.62), "helped": ("with positioner", 0.30)}
ALT = (
    f"Travel of {TAG} against its signal, which rises and falls again. Without friction both ways lie on one straight "
    "line; with friction they part and form a loop, as wide as the dead band. A second loop, with a positioner, is "
    "much narrower. A dot shows where signal and stem are now."
)


def dead_band_loop(units: str = "si") -> MovingPicture:
    """Return the first live picture of lesson 09; sliders for friction, effective area and the way through the test."""
    sliders = (
        Slider("friction", "packing friction", 0.0, 1000.0, 25.0, 400.0, "N"),
        Slider("area", "effective area of the diaphragm", 0.02, 0.07, 0.002, 0.032, "cm²"),
        Slider("through", "through the test: signal up, then down", 0.0, 1.0, 0.01, 0.6, "%"),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


def signal_span() -> float:
    """Return the pressure from one end of the valve's bench set to the other [Pa]."""
    drive = drive_of(TAG)
    return to_base(drive.bench_high) - to_base(drive.bench_low)


def loop(gap: float) -> Any:
    """Return signal and travel of one whole loop that has settled: as a play of that width makes it."""
    once = np.interp(np.linspace(0, 1, SAMPLES), [0, 0.5, 1], [LOW, HIGH, LOW])
    # The first time round starts in the middle of the gap; the second is the loop.
    return np.column_stack([once, backlash(np.concatenate([once, once]), gap)[SAMPLES:]])


def _move(friction: float, area: float, through: float, units: str) -> dict[str, Any]:
    gaps = {
        "bare": float(signal_dead_band(friction, area, signal_span())),
        "helped": float(signal_dead_band(friction, area, signal_span(), POSITIONER_GAIN)),
    }
    moved: dict[str, Any] = {}
    for name, gap in gaps.items():
        path = loop(gap)
        here = [float(np.interp(through, np.linspace(0, 1, SAMPLES), column)) for column in path.T]
        moved[f"{name}_loop"] = path
        moved[f"{name}_dot"] = [here]
        moved[f"{name}_gap"] = f"dead band {100 * gap:.1f} %"
        moved[f"{name}_stem"] = _says(gap, here)
    signal = moved["bare_dot"][0][0]
    wide = gaps["bare"] if gaps["bare"] < HIGH - LOW else np.nan
    pressure = float(dead_band_pressure(friction, area))
    return moved | {
        "now": [(signal, 0), (signal, 1)],
        "width": [(0.5 - wide / 2, 0.5), (0.5 + wide / 2, 0.5)],
        "sum": f"2 × {to_decimals(friction, 'N', units)} ÷ "
        f"{to_decimals(area, 'cm²', units, 1 if units == 'us' else 0)}",
        "pressure": f"= {to_decimals(pressure, 'bar', units, 1 if units == 'us' else 2)} of air",
    }


def _says(gap: float, here: list[float]) -> str:
    behind = here[0] - here[1]
    if gap >= HIGH - LOW:
        return "the stem does not move at all"
    if abs(abs(behind) - gap / 2) > 1e-6:
        return "now: the stem waits"
    return "now: the stem follows"


def _draw() -> Figure:
    figure = Figure(figsize=(7.2, 3.9))
    axes = figure.add_axes((0.09, 0.14, 0.52, 0.81))
    share_axes(axes, "signal [%]", "travel [%]")
    axes.plot([LOW, HIGH], [LOW, HIGH], color=GREY, lw=1, ls=(0, (1, 2)))
    axes.plot([0, 0], [0, 1], color=GREY, lw=0.8)[0].set_gid("now")
    for name, (colour, dashes), width in (("helped", CYCLE[0], 1.4), ("bare", CYCLE[1], 2)):
        axes.plot([0, 1], [0, 1], color=colour, ls=dashes, lw=width)[0].set_gid(f"{name}_loop")
    axes.plot([0, 1], [0, 0], "|-", color="black", lw=1.2, ms=12, mew=1.4)[0].set_gid("width")
    for name, colour, size in (("bare", VERMILION, 10), ("helped", BLUE, 6)):
        axes.plot([0], [0], "o", color=colour, ms=size, mec="white")[0].set_gid(f"{name}_dot")
    _side(figure.add_axes((0.65, 0.14, 0.34, 0.81)))
    return figure


def _side(axes: Axes) -> None:
    """Write the sum, and for either way its dead band and what the stem does now."""
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.text(0.0, 0.985, "Friction to turn round", fontsize=10, weight="bold", va="center")
    axes.text(0.0, 0.91, "", fontsize=9.5, va="center").set_gid("sum")
    axes.text(0.0, 0.84, "", fontsize=9.5, va="center").set_gid("pressure")
    for name, (colour, dashes) in zip(("helped", "bare"), CYCLE, strict=False):
        title, y = WAYS[name]
        axes.plot([0, 0.12], [y, y], color=colour, ls=dashes, lw=2)
        axes.text(0.16, y, title, fontsize=9.5, va="center", weight="bold")
        axes.text(0.16, y - 0.07, "", fontsize=9.5, va="center").set_gid(f"{name}_gap")
        axes.text(0.16, y - 0.14, "", fontsize=9.5, va="center").set_gid(f"{name}_stem")
    note = f"dead band in % of the signal,\nbench set 0.8 bar (11.6 psi) wide,\npositioner gain {POSITIONER_GAIN:g}"
    axes.text(0.0, 0.03, note, fontsize=8.5, va="center", color="#444444")
