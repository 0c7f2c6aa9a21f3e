"""What lies on the bench after a valve is opened: damage on a plug, blue on a seat, nuts. Schematic."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon, Wedge

from lessons.pictures.style import BLUE

METAL, SHADE, DARK = "#D9DCDF", "#B7BCC1", "#3A3A3A"
POST, SHOULDER, SEAT_TOP, SEAT_LOW = (0.34, 2.5), (0.62, 1.25), (0.80, 1.0), (0.66, 0.80)


def damage_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - no numbers in it
    """Draw a plug from the side with one kind of damage: wire, gall, pit or wash."""
    figure = Figure(figsize=(5.2, 4.2))
    axes = figure.add_axes((0.01, 0.01, 0.98, 0.98))
    axes.set_axis_off()
    axes.set(xlim=(-1.9, 1.9), ylim=(-0.6, 2.6), aspect="equal")
    rng = np.random.default_rng(n.seed)
    _plug(axes, n.right == "wash", rng)
    _DAMAGE[n.right](axes, n.size, rng)
    _names(axes)
    return figure


def _right_side() -> list[tuple[float, float]]:
    lower = [(SEAT_LOW[0] - 0.30 * t**2, SEAT_LOW[1] - 1.25 * t) for t in np.linspace(0, 1, 21)]
    return [POST, (POST[0], 1.45), SHOULDER, SEAT_TOP, *lower]


def _plug(axes: Axes, washed: bool, rng: Any) -> None:
    side = _right_side()
    outline = [*[(-x, y) for x, y in side], *side[::-1]]
    if washed:
        axes.add_patch(Polygon(outline, closed=True, fc="none", ec=DARK, lw=1.0, ls=(0, (4, 3))))
        deep = rng.uniform(0.16, 0.24)
        left = [(-_worn(x, y, 0.6 * deep), y) for x, y in side]
        outline = [*left, *[(_worn(x, y, deep), y) for x, y in side[::-1]]]
    axes.add_patch(Polygon(outline, closed=True, fc=METAL, ec="black", lw=1.2))
    if not washed:
        axes.plot([-SEAT_TOP[0], SEAT_TOP[0]], [SEAT_TOP[1]] * 2, color="black", lw=0.8)
        axes.plot([-SEAT_LOW[0], SEAT_LOW[0]], [SEAT_LOW[1]] * 2, color="black", lw=0.8)
    axes.plot([-POST[0], POST[0]], [1.45] * 2, color="black", lw=0.8)


def _worn(x: float, y: float, deep: float) -> float:
    """Return the half-width left where the flow has washed metal away, most just below the seating face."""
    return x - deep * float(np.exp(-(((y - 0.55) / 0.42) ** 2)))


def _wire(axes: Axes, size: float, rng: Any) -> None:
    """Draw fine straight cuts right across the seating face, the way the leak went."""
    for x in np.sort(rng.uniform(-0.62, 0.62, round(4 + 6 * size))):
        end = x * SEAT_LOW[0] / SEAT_TOP[0]
        axes.plot([x, end], [SEAT_TOP[1] + 0.03, SEAT_LOW[1] - 0.04], color=DARK, lw=rng.uniform(1.2, 2.6))


def _gall(axes: Axes, size: float, rng: Any) -> None:
    """Draw torn streaks and lumps along the guide post, the way the stem slides."""
    for x in rng.uniform(-0.28, 0.28, round(7 + 8 * size)):
        low, high = np.sort(rng.uniform(1.55, 2.4, 2))
        y = np.linspace(low, high + 0.1, 12)
        torn = x + 0.012 * rng.standard_normal(12)
        axes.plot(torn, y, color=DARK, lw=rng.uniform(0.9, 2.4), solid_capstyle="butt")
        axes.add_patch(Circle((x, high + 0.1), rng.uniform(0.02, 0.04), fc=SHADE, ec=DARK, lw=0.8))


def _pit(axes: Axes, size: float, rng: Any) -> None:
    """Draw a field of rough holes, like cinder, below the seating face."""
    for _ in range(round(90 + 120 * size)):
        x, y = rng.normal(0.12, 0.20), rng.normal(0.30, 0.20)
        if abs(x) < 0.48 and -0.35 < y < 0.74:
            angles = np.linspace(0, 2 * np.pi, 8)[:-1]
            radius = rng.uniform(0.015, 0.055) * rng.uniform(0.5, 1.3, 7)
            corners = np.column_stack([x + radius * np.cos(angles), y + radius * np.sin(angles)])
            axes.add_patch(Polygon(corners, fc=DARK, ec="black", lw=0.4))


def _wash(axes: Axes, size: float, rng: Any) -> None:  # noqa: ARG001 - the outline shows it
    """Draw the shine of a surface that is smooth all over, as if polished."""
    for x in np.linspace(-0.22, 0.22, 5):
        y = np.linspace(0.05, 0.95, 30)
        axes.plot(x * (0.9 + 0.35 * (y - 0.05)), y, color="white", lw=3.0, alpha=0.85, solid_capstyle="round")


_DAMAGE = {"wire": _wire, "gall": _gall, "pit": _pit, "wash": _wash}


def _names(axes: Axes) -> None:
    for words, at, end in (
        ("guide post", (-1.15, 2.05), (-0.34, 2.05)),
        ("seating face", (-1.15, 0.90), (-0.74, 0.90)),
        ("contour", (-1.15, -0.1), (-0.52, 0.0)),
    ):
        line = {"arrowstyle": "-", "lw": 0.6}
        axes.annotate(words, end, at, fontsize=9, ha="right", va="center", arrowprops=line)


def blue_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - no numbers in it
    """Draw a seat ring from above with the blue that the plug has left: good, gap, wide or cut."""
    figure = Figure(figsize=(5.0, 3.9))
    axes = figure.add_axes((0.01, 0.01, 0.98, 0.98))
    axes.set_axis_off()
    axes.set(xlim=(-1.75, 1.75), ylim=(-1.35, 1.35), aspect="equal")
    for radius, fill in ((1.28, SHADE), (1.0, METAL), (0.64, "white")):
        axes.add_patch(Circle((0, 0), radius, fc=fill, ec="black", lw=1.0))
    inner, width = (0.655, 0.33) if n.right == "wide" else (0.74, 0.12)
    gap = n.gap if n.right == "gap" else 0.0
    ends = (n.at + gap / 2, n.at + 360 - gap / 2)
    axes.add_patch(Wedge((0, 0), inner + width, *ends, width=width, fc=BLUE, ec="none"))
    if n.right == "cut":
        across = np.outer((0.66, 0.98), (np.cos(np.deg2rad(n.at)), np.sin(np.deg2rad(n.at)))).T
        axes.plot(*across, color="white", lw=4.5, solid_capstyle="butt")
        axes.plot(*across, color=DARK, lw=1.4, solid_capstyle="butt")
    pointed = (0.80 * np.cos(0.9), 0.80 * np.sin(0.9))
    face = ("seating\nface", (-1.5, 1.15), (-0.68, 0.68))
    for words, at, end in (("bore", (0, 0), None), face, ("blue", (1.5, 1.15), pointed)):
        arrow = None if end is None else {"arrowstyle": "-", "lw": 0.6}
        axes.annotate(words, end or at, at, fontsize=9, ha="center", va="center", arrowprops=arrow)
    return figure


def studs_figure(n: SimpleNamespace, units: str) -> Figure:  # noqa: ARG001 - no numbers in it
    """Draw a bonnet flange from above with its nuts numbered round the circle."""
    figure = Figure(figsize=(4.2, 3.6))
    axes = figure.add_axes((0.01, 0.01, 0.98, 0.98))
    axes.set_axis_off()
    axes.set(xlim=(-1.6, 1.6), ylim=(-1.4, 1.4), aspect="equal")
    for radius, fill in ((1.32, METAL), (0.42, SHADE), (0.12, "#F8D594")):
        axes.add_patch(Circle((0, 0), radius, fc=fill, ec="black", lw=1.0))
    for k in range(n.studs):
        angle = 2 * np.pi * k / n.studs
        x, y = 1.02 * np.sin(angle), 1.02 * np.cos(angle)
        axes.add_patch(Circle((x, y), 0.17, fc="#BDBDBD", ec="black", lw=0.9))
        axes.text(x, y, str(k + 1), fontsize=9.5, ha="center", va="center_baseline")
    return figure
