"""What stands still in the picture of the pressure along a valve: axes, two pipes, the words beside them."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from lessons.live.axis_units import unit_axis
from lessons.pictures.style import CYCLE, SKY, VERMILION
from valvecalc.body_styles import BODY_STYLES
from valvecalc.units import BAR

FALL, JET, RISE = 0.30, 0.48, 0.74  # where the pressure begins to fall, is lowest, is steady again
STYLES = {  # name, FL, and the xFz that its maker states: invented, as there is no open table
    "butterfly": ("butterfly", BODY_STYLES["butterfly, centred disc, 70°"].fl, 0.18),
    "globe": ("globe", BODY_STYLES["globe, contoured plug, flow to open"].fl, 0.36),
}
TOP = 12.6 * BAR
# Where bubbles wait that are not to be seen: on the page, but outside the pipe's axes, which clip them. A
# marker that is nowhere at first is not drawn at all, and the page could not bring it back.
PARKED = (0.5, 2.0)
_WIDE, _NARROW = 0.42, 0.13  # half heights of the drawn pipe


def half_height(way: Any) -> Any:
    """Return half the height of the drawn way through the valve: narrowest a little before the jet is."""
    return _WIDE - (_WIDE - _NARROW) * np.exp(-(((way - JET + 0.03) / 0.08) ** 2))


def _scattered(count: int = 220) -> Any:
    """Places for bubbles, spread evenly without a pattern (steps of the golden ratio), inside the pipe."""
    k = np.arange(count)
    way = FALL + (0.985 - FALL) * (k + 0.5) / count
    across = 2 * ((k * 0.6180339887) % 1) - 1
    return np.column_stack([way, 0.78 * across * half_height(way)])


BUBBLES = _scattered()


def draw_pressures() -> tuple[Figure, Any]:
    """Return the figure, and what moves its pressure axis with the unit set."""
    figure = Figure(figsize=(7.2, 4.9))
    axes = figure.add_axes((0.10, 0.36, 0.56, 0.62))
    axes.set(xlim=(0, 1), ylim=(0, TOP), xticks=[])
    axes.add_patch(Polygon([(0, 0), (1, 0), (1, 1), (0, 1)], fc="#D6ECF8", ec=SKY, lw=0, hatch="..", gid="boils"))
    axes.plot([0, 1], [0, 0], color=SKY, lw=1.6)[0].set_gid("vapour")
    axes.text(0, 0, "", fontsize=8.5, va="bottom", color="#1F5E86").set_gid("vapour_says")
    for style, (colour, dashes) in zip(STYLES, CYCLE, strict=False):
        axes.plot([0, 1], [0, 0], color=colour, ls=dashes, lw=2.2)[0].set_gid(f"{style}_curve")
    axes.spines[["top", "right"]].set_visible(False)
    for bottom, style, (colour, _) in zip((0.205, 0.075), STYLES, CYCLE, strict=False):
        _pipe(figure.add_axes((0.10, bottom, 0.56, 0.115)), style, colour)
    for x, words in ((0.02, "inlet"), (JET, "narrowest, then the jet"), (0.98, "outlet")):
        side = {0.02: "left", 0.98: "right"}.get(x, "center")
        figure.text(0.10 + 0.56 * x, 0.045, words, fontsize=8.5, ha=side, va="center", color="#444444")
    _side(figure.add_axes((0.69, 0.04, 0.30, 0.94)))
    return figure, unit_axis(axes, "y", "pressure, absolute", "bar", 8)


def _pipe(axes: Axes, style: str, colour: str) -> None:
    way = np.linspace(0, 1, 201)
    half = half_height(way)
    axes.set(xlim=(0, 1), ylim=(-0.5, 0.5))
    axes.set_axis_off()
    axes.fill_between(way, -half, half, color="#EAF3FA", lw=0)
    axes.plot(way, half, color=colour, lw=1.6)
    axes.plot(way, -half, color=colour, lw=1.6)
    axes.text(0.02, 0, style, fontsize=8.5, va="center", color=colour, weight="bold")
    axes.plot([0.5], [0], "o", ms=3.8, mfc="white", mec="#1F5E86", mew=0.9)[0].set_gid(f"{style}_bubbles")
    axes.plot([0.5], [0], "*", ms=9, mfc=VERMILION, mec="black", mew=0.5)[0].set_gid(f"{style}_collapse")


def _side(axes: Axes) -> None:
    """Write the names, what happens in each valve, and what the signs mean."""
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    for (style, (says, fl, xfz)), (colour, dashes), y in zip(STYLES.items(), CYCLE, (0.97, 0.74), strict=False):
        axes.plot([0, 0.14], [y, y], color=colour, ls=dashes, lw=2.2)
        axes.text(0.18, y, says, fontsize=9.5, va="center", weight="bold")
        axes.text(0.18, y - 0.05, f"FL {fl:.2f}, xFz {xfz:.2f} (invented)", fontsize=8.5, va="center")
        axes.text(0.0, y - 0.105, "", fontsize=9.5, va="center").set_gid(f"{style}_verdict")
        axes.text(0.0, y - 0.155, "", fontsize=9, va="center", color="#444444").set_gid(f"{style}_jet")
    axes.text(0.0, 0.46, "Dotted band: below the vapour\npressure water boils.", fontsize=8.5, va="center")
    trust = (
        "Jet: its mean, worked out from\nFL. In its whirls it is lower, so\n"
        "it cavitates from xFz on. Curves\nand bubbles are only sketched."
    )
    axes.text(0.0, 0.16, trust, fontsize=8.5, va="center", color="#444444")
    axes.plot([0.03], [0.36], "o", ms=3.8, mfc="white", mec="#1F5E86", mew=0.9)
    axes.text(0.1, 0.36, "vapour bubbles", fontsize=8.5, va="center")
    axes.plot([0.03], [0.31], "*", ms=9, mfc=VERMILION, mec="black", mew=0.5)
    axes.text(0.1, 0.31, "bubbles collapse here", fontsize=8.5, va="center")
