"""Live picture: the shape of a cage window, and the characteristic it gives."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon
from numpy.typing import NDArray

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.live.flow.inherent_curves import share_axes
from lessons.pictures.style import CYCLE, GREY, LOOKS
from valvecalc.characteristic import equal_percentage, equal_percentage_slope
from valvecalc.trim import phi_from_area, width_for_slope, window_area

RANGEABILITY = 50.0
HEIGHTS = np.linspace(0, 1, 61)
WIDE_BELOW, RECTANGLE, V, EQUAL = -1.0, 0.0, 1.0, 2.0
NAMES = ((WIDE_BELOW, "triangle, wide below"), (RECTANGLE, "rectangle"), (V, "V"), (EQUAL, "trumpet"))
ALT = (
    "Left a cage seen from outside, with one window; the plug behind it rises and frees the window from "
    "below. Right the free area against travel: a straight line for a rectangular window, below it for one "
    "that widens upwards, above it for one that is widest below."
)


def cage_window(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 03; sliders for window shape and travel."""
    sliders = (
        Slider("shape", "window shape", WIDE_BELOW, EQUAL, 0.05, RECTANGLE),
        Slider("travel", "travel", 0.0, 1.0, 0.01, 0.5, "%"),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


def widths(shape: float) -> NDArray[np.float64]:
    """Return the width of the window at each height; whatever its shape, its whole area is 1."""
    if shape <= V:
        return np.asarray(1 + shape * (2 * HEIGHTS - 1))
    # Equal percentage without its foot, so that the window starts closed: (R^h − 1)/(R − 1).
    slope = equal_percentage_slope(HEIGHTS, RANGEABILITY) / (1 - 1 / RANGEABILITY)
    return np.asarray((EQUAL - shape) * widths(V) + (shape - V) * width_for_slope(slope, 1.0, 1.0))


def free_share(shape: float, travel: Any) -> NDArray[np.float64]:
    """Return the free part of the window's area at a travel."""
    wide = widths(shape)
    full = window_area(1.0, HEIGHTS, wide)
    return phi_from_area(np.minimum(window_area(travel, HEIGHTS, wide), full), full)


def window_name(shape: float) -> str:
    """Name a shape: one of the four, or between two of them."""
    near = [said for at, said in NAMES if abs(shape - at) < 0.01]
    if near:
        return near[0]
    below = max(i for i, (at, _) in enumerate(NAMES) if at < shape)
    return f"between {NAMES[below][1].partition(',')[0]} and {NAMES[below + 1][1]}"


def _outline(wide: NDArray[np.float64], top: float) -> NDArray[np.float64]:
    y = np.linspace(0, top, len(HEIGHTS))
    half = np.interp(y, HEIGHTS, wide) / 2
    return np.vstack([np.column_stack([half, y]), np.column_stack([-half, y])[::-1]])


def _move(shape: float, travel: float) -> dict[str, Any]:
    wide = widths(shape)
    free = float(free_share(shape, travel))
    return {
        "window": _outline(wide, 1.0),
        "open": _outline(wide, travel),
        "rod": [(-0.45, 1.5), (0.45, 1.5), (0.45, 1.62 + 0.55 * travel), (-0.45, 1.62 + 0.55 * travel)],
        "name": window_name(shape),
        "says": f"free: {100 * free:.0f} % of its area",
        "curve": np.column_stack([HEIGHTS, free_share(shape, HEIGHTS)]),
        "stem": [(travel, 0), (travel, free)],
        "dot": [(travel, free)],
    }


def _draw() -> Figure:
    figure = Figure(figsize=(7.2, 4.0))
    _cage(figure.add_axes((0.01, 0.13, 0.40, 0.83)))
    axes = figure.add_axes((0.50, 0.13, 0.48, 0.74))
    share_axes(axes, "travel [%]", "free area [% of the window]")
    (blue, solid), (red, dashed), *_ = CYCLE
    axes.plot([0, 1], [0, 1], color=GREY, lw=1.2, ls=(0, (1, 2)), label="linear")
    equal = equal_percentage(HEIGHTS, RANGEABILITY)
    axes.plot(HEIGHTS, equal, color=red, lw=1.2, ls=dashed, label="equal percentage 50:1")
    axes.plot(HEIGHTS, HEIGHTS, color=blue, lw=2.2, ls=solid, gid="curve", label="this window")
    axes.plot([0, 0], [0, 1], color=GREY, lw=0.8, gid="stem")
    axes.plot([0], [0], "o", color=blue, ms=8, mec="white", gid="dot")
    order = [2, 1, 0]
    handles, labels = axes.get_legend_handles_labels()
    axes.legend([handles[i] for i in order], [labels[i] for i in order], ncols=3, loc="lower center",
        frameon=False,
                bbox_to_anchor=(0.45, 1.0), fontsize=8.5, columnspacing=1.0, handlelength=2.2)  # fmt: skip
    return figure


def _cage(axes: Axes) -> None:
    """Draw the cage from outside: sleeve, flange, window with the plug behind it, and the lifting rod."""
    axes.set_axis_off()
    axes.set(xlim=(-2.75, 2.75), ylim=(-0.62, 2.25))
    cage, plug, fluid, ring = (LOOKS[name] for name in ("cage behind", "trim", "fluid low", "steel"))
    sleeve, flange, foot = (2.3, -0.15, 1.38), (2.6, 1.38, 1.5), (2.6, -0.27, -0.15)
    for (x, low, high), look in ((sleeve, cage), (flange, cage), (foot, ring)):
        corners = [(-x, low), (x, low), (x, high), (-x, high)]
        axes.add_patch(Polygon(corners, fc=look.fill, ec=look.edge, lw=0.9))
    corners = [(0, 0), (1, 0), (1, 1), (0, 1)]
    axes.add_patch(Polygon(corners, fc=plug.fill, ec=plug.edge, lw=0.9, gid="rod"))
    for look, name in ((plug, "window"), (fluid, "open")):
        whole = _outline(widths(RECTANGLE), 1.0)
        axes.add_patch(Polygon(whole, fc=look.fill, ec=look.edge, lw=0.9, gid=name))
    axes.text(0, -0.40, "", fontsize=9.5, ha="center", va="center", weight="bold").set_gid("name")
    axes.text(0, -0.56, "", fontsize=9.5, ha="center", va="center").set_gid("says")
