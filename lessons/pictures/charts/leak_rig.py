"""Still picture for a question: a seat leak test with water, its parts numbered in the order asked."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Arc, Circle, Polygon, Rectangle

from lessons.pictures.style import BLACK, SKY

PARTS = ("supply", "gauge", "plug", "outlet", "cylinder")
# Where the number of each part stands, and where its line ends.
CALLS = {
    "supply": ((0.5, 3.55), (0.9, 2.75)),
    "gauge": ((3.3, 3.75), (3.05, 3.25)),
    "plug": ((6.4, 2.6), (5.08, 1.63)),
    "outlet": ((8.1, 2.3), (7.43, 1.45)),
    "cylinder": ((8.6, 0.75), (7.75, 0.45)),
}


def leak_rig(order: Sequence[str]) -> Figure:
    """Draw the test; `order` names the parts in the order of their numbers."""
    figure = Figure(figsize=(7.2, 3.2))
    axes = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    axes.set(xlim=(0, 9.4), ylim=(-0.35, 4.18))
    axes.set_aspect("equal")
    axes.set_axis_off()
    _supply(axes)
    _valve(axes)
    _cylinder(axes)
    for number, part in enumerate(order, start=1):
        _call(axes, number, *CALLS[part])
    return figure


def _supply(axes: Axes) -> None:
    """Draw the water tank with its pump, the pipe and the gauge."""
    axes.add_patch(Rectangle((0.35, 1.1), 1.1, 1.6, fc=SKY, ec=BLACK, lw=1.2))
    axes.text(0.9, 1.9, "water", fontsize=9, ha="center", va="center")
    axes.plot([1.45, 4.5], [1.6, 1.6], color=BLACK, lw=3)
    axes.add_patch(Circle((2.15, 1.6), 0.27, fc="white", ec=BLACK, lw=1.2))
    axes.add_patch(Polygon([(2.02, 1.42), (2.02, 1.78), (2.36, 1.6)], fc=BLACK))
    axes.text(2.15, 1.12, "pump", fontsize=8.5, ha="center", va="center")
    axes.plot([3.0, 3.0], [1.6, 2.55], color=BLACK, lw=1.6)
    axes.add_patch(Circle((3.0, 2.9), 0.36, fc="white", ec=BLACK, lw=1.2))
    axes.plot([3.0, 3.2], [2.9, 3.12], color=BLACK, lw=1.4)


def _valve(axes: Axes) -> None:
    """Draw a control valve as its flow sheet sign: two cones, stem and diaphragm actuator."""
    for side in (-1, 1):
        cone = [(5.0, 1.6), (5.0 + 0.5 * side, 1.92), (5.0 + 0.5 * side, 1.28)]
        axes.add_patch(Polygon(cone, fc="#D5D3CE", ec=BLACK, lw=1.2))
    axes.plot([5.0, 5.0], [1.6, 2.6], color=BLACK, lw=1.6)
    axes.add_patch(Arc((5.0, 2.6), 1.1, 0.9, theta1=0, theta2=180, lw=1.4))
    axes.plot([4.45, 5.55], [2.6, 2.6], color=BLACK, lw=1.4)
    axes.text(5.0, 0.95, "shut", fontsize=9, ha="center", va="center")
    axes.plot([5.5, 7.4], [1.6, 1.6], color=BLACK, lw=3)
    axes.plot([7.4, 7.4], [1.63, 1.3], color=BLACK, lw=3)


def _cylinder(axes: Axes) -> None:
    """Draw the measuring cylinder under the open end, with drops."""
    axes.add_patch(Rectangle((7.05, -0.2), 0.7, 0.42, fc=SKY, lw=0))
    axes.plot([7.05, 7.05, 7.75, 7.75], [0.85, -0.2, -0.2, 0.85], color=BLACK, lw=1.4)
    for y in (0.0, 0.2, 0.4, 0.6):
        axes.plot([7.05, 7.2], [y, y], color=BLACK, lw=0.8)
    axes.plot([7.4, 7.4], [1.12, 0.9], "o", color="#0072B2", ms=3.5)


def _call(axes: Axes, number: int, place: tuple[float, float], end: tuple[float, float]) -> None:
    axes.plot([place[0], end[0]], [place[1], end[1]], color="#222222", lw=0.8)
    axes.plot([end[0]], [end[1]], "o", color="#222222", ms=3)
    ring = {"boxstyle": "circle,pad=0.25", "fc": "white", "ec": "black", "lw": 1.0}
    axes.text(*place, str(number), fontsize=10, weight="bold", ha="center", va="center", bbox=ring)
