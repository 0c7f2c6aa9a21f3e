"""Live picture: how much each seat leakage class allows this valve, and what was collected from it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import UNIT_SETS, Slider
from lessons.pictures.style import CYCLE, SKY, VERMILION
from lessons.units.quantities import plain_number, rounded_to, shown_unit
from lessons.units.readout import in_trade_unit, to_decimals
from valvecalc.seat_leakage import LEAKAGE_TESTS, ML_PER_MIN, allowed_leakage, leak_verdict, water_test_capacity
from valvecalc.units import BAR

COLLECTED = 90 * ML_PER_MIN
SHARES, SEATS = ("II", "III", "IV"), ("V", "VI")
ROWS = {"II": 4, "III": 3, "IV": 2, "V": 1, "VI": 0}
NAMES = {
    "II": "class II: 0.5 %",
    "III": "class III: 0.1 %",
    "IV": "class IV: 0.01 %",
    "V": "class V: by seat\nand full drop",
    "VI": "class VI: by seat,\nin bubbles",
}
LOW, HIGH = 0.01 * ML_PER_MIN, 4e5 * ML_PER_MIN
USUAL_TEST = 3.5 * BAR
ALT = (
    "A bar for each seat leakage class, on an axis where each step is a hundred times the last: class II "
    "allows most, classes V and VI far less. A line marks the leak collected from the valve; beside each bar "
    "stand its limit, how it is tested, and whether the valve passes."
)


def leakage_limits(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 11; sliders for rated Kv, largest drop and seat diameter."""
    figure = Figure(figsize=(7.2, 3.8))
    axes = figure.add_axes((0.20, 0.13, 0.38, 0.76))
    leak_axis = _draw(axes)
    _columns(figure.add_axes((0.59, 0.13, 0.40, 0.87)))

    def move(kv: float, dp: float, port: float, units: str) -> dict[str, Any]:
        tests = drops_of_tests(dp)
        flow = float(water_test_capacity(kv, tests["IV"]))
        limits = limits_of(flow, tests, port)
        moved: dict[str, Any] = {**leak_axis(units), "head_limit": f"[{shown_unit('mL/min', units)}]"}
        moved["collected"] = f"collected: {_number(COLLECTED, units)} {shown_unit('mL/min', units)}"
        for name, limit in limits.items():
            moved[f"{name}_bar"] = _bar(LOW, limit, ROWS[name])
            moved[f"{name}_limit"] = _number(limit, units)
            moved[f"{name}_test"] = _test(name, tests, units)
        for name in SHARES:
            moved[f"{name}_says"] = {"pass": "✓ passes", "fail": "✗ fails"}[str(leak_verdict(COLLECTED, limits[name]))]
        return moved

    sliders = (
        Slider("kv", "flow coefficient", 5, 205, 5, 25, "Kv"),
        Slider("dp", "drop in service", 1 * BAR, 20 * BAR, 0.5 * BAR, 12 * BAR, "bar"),
        Slider("port", "seat diameter", 0.020, 0.200, 0.005, 0.040, "mm"),
    )
    return MovingPicture(lambda: figure, move, sliders, alt=ALT, units=units)


def drops_of_tests(dp: float) -> dict[str, float]:
    """Return the test drop of each class [Pa]: 3.5 bar, or the drop in service if less; V the full one."""
    usual = min(dp, USUAL_TEST)
    return {**dict.fromkeys((*SHARES, "VI"), usual), "V": max(dp, LEAKAGE_TESTS["V"].lowest)}


def limits_of(flow: float, tests: dict[str, float], port: float) -> dict[str, float]:
    """Return what each class allows [m³/s]."""
    shares = {name: float(allowed_leakage(name, capacity=flow)) for name in SHARES}
    seats = {name: float(allowed_leakage(name, dp=tests[name], port=port)) for name in SEATS}
    return {**shares, **seats}


def _bar(low: float, high: float, row: float) -> list[tuple[float, float]]:
    return [(low, row - 0.28), (high, row - 0.28), (high, row + 0.28), (low, row + 0.28)]


def _number(leak: float, units: str) -> str:
    return plain_number(rounded_to(float(in_trade_unit(leak, shown_unit("mL/min", units)))))


def _test(name: str, tests: dict[str, float], units: str) -> str:
    return f"{'air' if name == 'VI' else 'water'}, {to_decimals(tests[name], 'bar', units, {'si': 1, 'us': 0}[units])}"


def _draw(axes: Axes) -> Callable[[str], dict[str, Any]]:
    axes.set_xscale("log")
    axes.set(xlim=(LOW, HIGH), ylim=(-0.6, 4.6))
    axes.set_xticks([])
    axes.minorticks_off()
    axes.set_yticks(list(ROWS.values()), [NAMES[name] for name in ROWS], fontsize=8.5)
    axes.spines[["top", "right"]].set_visible(False)
    for name, row in ROWS.items():
        axes.add_patch(Polygon(_bar(LOW, HIGH, row), lw=1.0, gid=f"{name}_bar", fc=SKY, ec=CYCLE[0][0]))
    axes.plot([COLLECTED, COLLECTED], [1.55, 4.5], color=VERMILION, lw=2, ls=(0, (5, 2)))
    axes.plot([COLLECTED] * 3, [4, 3, 2], "o", color=VERMILION, ms=7, mec="white")
    axes.text(COLLECTED, 4.72, "", fontsize=9, color=VERMILION, ha="center", weight="bold", gid="collected")
    return _decades(axes)


def _decades(axes: Axes) -> Callable[[str], dict[str, Any]]:
    """Put every second power of ten on the axis, round in the unit shown."""
    places = {units: _powers(shown_unit("mL/min", units)) for units in UNIT_SETS}
    most = max(len(at) for at, _ in places.values())
    along = axes.get_xaxis_transform()
    axes.plot([LOW], [0], transform=along, color="0.88", lw=0.7, zorder=0.5, gid="grid")
    for k in range(most):
        axes.text(LOW, -0.025, "", transform=along, fontsize=8.5, ha="center", va="top", gid=f"tick_{k}")
    axes.text(0.5, -0.12, "", transform=axes.transAxes, fontsize=9.5, ha="center", va="top", gid="leak_label")

    def moved(units: str) -> dict[str, Any]:
        at, said = places[units]
        here = list(zip(said, at, strict=True)) + [("", at[-1])] * (most - len(at))
        lines = [point for x in at for point in ((x, 0.0), (x, 1.0), (np.nan, np.nan))]
        ticks = {f"tick_{k}": (words, (x, -0.025)) for k, (words, x) in enumerate(here)}
        return {
            **ticks,
            "grid": lines,
            "leak_label": f"leak [{shown_unit('mL/min', units)}], each step times 100",
        }

    return moved


def _powers(unit: str) -> tuple[list[float], list[str]]:
    one = float(in_trade_unit(1.0, unit))
    powers = [p for p in range(-6, 9, 2) if LOW * 0.99 <= 10.0**p / one <= HIGH * 1.01]
    return [10.0**p / one for p in powers], [plain_number(10.0**p) for p in powers]


def _columns(axes: Axes) -> None:
    """Write the heads of the columns beside the bars, and the places for what they say."""
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(-0.6, 5.5))
    for x, words, side in (
        (0.27, "may leak", "right"),
        (0.33, "tested with", "left"),
        (0.99, "this valve", "right"),
    ):
        axes.text(x, 5.15, words, fontsize=9, weight="bold", ha=side)
    axes.text(0.27, 4.75, "", fontsize=8.5, ha="right", gid="head_limit")
    for name, row in ROWS.items():
        axes.text(0.27, row, "", fontsize=9, ha="right", va="center", gid=f"{name}_limit")
        axes.text(0.33, row, "", fontsize=8.5, ha="left", va="center", gid=f"{name}_test")
        if name in SHARES:
            axes.text(0.99, row, "", fontsize=9, ha="right", va="center", weight="bold", gid=f"{name}_says")
        elif name in SEATS:
            axes.text(0.99, row, "other test", fontsize=8.5, ha="right", va="center", color="#555555")
