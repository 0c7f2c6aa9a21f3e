"""Live pictures for the browser tests and the benchmark; imported by their notebooks too."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch, Polygon
from matplotlib.path import Path

from lessons.axis_units import unit_axis
from lessons.live import Live
from lessons.sliders import Slider, say

X = np.linspace(0, 1, 201)
FULL_FLOW = 120 / 3600  # m³/s
ROUND = [1, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 4, 79]
K = 0.5523  # handle of a quarter circle
CIRCLE = np.array([(1, 0), (1, K), (K, 1), (0, 1), (-K, 1), (-1, K), (-1, 0), (-1, -K), (-K, -1), (0, -1), (K, -1),
                   (1, -K), (1, 0), (1, 0)])  # fmt: skip


def curve_picture(**options: object) -> Live:
    """A curve, its fill, its operating point and a number beside it, on axes that follow the units."""
    figure, move = curve_parts(Figure(figsize=(7, 4), layout="constrained"))
    sliders = [
        Slider("travel", "travel", 0, 1, 0.01, 0.5, "%"),
        Slider("rangeability", "rangeability", 20, 100, 5, 50),
    ]
    return Live(lambda: figure, move, sliders, alt="Flow against travel, with the valve's place on it", **options)


def curve_parts(figure: Figure) -> tuple[Figure, Callable[..., dict[str, object]]]:
    axes = figure.subplots()
    axes.set(xlim=(0, 1), ylim=(0, 130 / 3600))
    axes.plot(X, X, lw=2, gid="curve")
    axes.fill_between(X, X, alpha=0.15, gid="fill")
    axes.plot([], [], "o", ms=8, clip_on=False, gid="point")
    axes.text(0, 0, "", ha="right", va="bottom", gid="flow")
    across, up = unit_axis(axes, "x", "travel", "%"), unit_axis(axes, "y", "flow", "m³/h")

    def move(travel: float, rangeability: float, units: str) -> dict[str, object]:
        flow = FULL_FLOW * rangeability ** (np.append(X, travel) - 1)
        curve, point = np.column_stack([X, flow[:-1]]), (travel, flow[-1])
        under = np.vstack([curve, [[1, 0], [0, 0]]])
        moved = {"curve": curve, "fill": under, "point": point, "flow": (say(flow[-1], "m³/h", units, 1) + "  ", point)}
        return moved | across(units) | up(units)

    return figure, move


def busy_picture(**options: object) -> Live:
    """Busier than any lesson: 40 outlines, 30 circles, 12 curves of 200 points, 20 numbers, all moving."""
    figure = Figure(figsize=(7, 5))
    axes = figure.add_axes((0.05, 0.05, 0.9, 0.9), xlim=(0, 10), ylim=(0, 10))
    for k in range(40):
        axes.add_patch(Polygon(np.zeros((4, 2)), hatch="//" if k % 3 else None, fc=f"C{k % 10}", alpha=0.5, gid=f"box{k}"))
    for k in range(30):
        axes.add_patch(PathPatch(Path(CIRCLE, ROUND), fc="none", gid=f"circle{k}"))
    for k in range(12):
        axes.plot(X, X, gid=f"curve{k}")
    for k in range(20):
        axes.text(0, 0, "", size=8, gid=f"number{k}")

    def move(travel: float) -> dict[str, object]:
        box = np.array([[0, 0], [0.8, 0], [0.8, 0.5], [0, 0.5]])
        moved: dict[str, object] = {f"box{k}": box + (k % 8 * 1.2, k // 8 + travel * 4) for k in range(40)}
        moved |= {f"circle{k}": CIRCLE * 0.3 + (0.5 + k % 10, 8 - k // 10 * travel) for k in range(30)}
        moved |= {f"curve{k}": np.column_stack([10 * X, 5 + 4 * np.sin(6 * X + k + 3 * travel)]) for k in range(12)}
        return moved | {f"number{k}": (f"{travel * k:.2f}", (k % 10, 9 - k // 10 - travel)) for k in range(20)}

    slider = Slider("travel", "travel", 0, 1, 0.005, 0.5, "%")
    return Live(lambda: figure, move, [slider], alt="Many moving parts", **options)
