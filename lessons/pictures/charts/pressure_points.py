"""Still picture for a question: pressure along a valve with its points numbered, in the order asked."""

from __future__ import annotations

from collections.abc import Sequence

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from lessons.pictures.live.flow.pressure_drawing import FALL, JET, RISE
from lessons.pictures.live.flow.pressure_profile import WAY, profile
from lessons.pictures.style import BLUE, SKY

POINTS = ("inlet", "vena", "outlet", "vapour", "recovery")


def pressure_points(order: Sequence[str], inlet: float, jet: float, outlet: float, vapour: float) -> Figure:
    """Draw the pressures, as shares of the scale; `order` names the points in the order of their numbers."""
    figure = Figure(figsize=(7.2, 3.2))
    axes = figure.add_axes((0.06, 0.10, 0.92, 0.87))
    axes.set(xlim=(0, 1), ylim=(0, 1), xticks=[], yticks=[])
    axes.set_xlabel("way through the valve", fontsize=9)
    axes.set_ylabel("pressure", fontsize=9)
    axes.spines[["top", "right"]].set_visible(False)
    axes.plot(WAY, profile(WAY, inlet, jet, outlet), color=BLUE, lw=2.4)
    axes.plot([0, 1], [vapour, vapour], color=SKY, lw=1.8, ls=(0, (6, 2)))
    arrow = {"arrowstyle": "->", "lw": 1.4, "shrinkA": 0, "shrinkB": 0}
    axes.annotate("", (0.90, outlet), (0.90, jet), arrowprops=arrow)
    axes.plot([JET, 0.93], [jet, jet], color="#777777", lw=0.7)
    places = {
        "inlet": (FALL - 0.16, inlet),
        "vena": (JET, jet),
        "outlet": (RISE + 0.05, outlet),
        "vapour": (0.10, vapour),
        "recovery": (0.90, (jet + outlet) / 2),
    }
    for number, point in enumerate(order, start=1):
        _numbered(axes, number, places[point])
    return figure


def _numbered(axes: Axes, number: int, place: tuple[float, float]) -> None:
    ring = {"boxstyle": "circle,pad=0.25", "fc": "white", "ec": "black", "lw": 1.0}
    axes.text(*place, str(number), fontsize=10, weight="bold", ha="center", va="center", bbox=ring)
