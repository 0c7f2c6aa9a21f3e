"""Live picture: eight bonnet nuts tightened one after another; what each does to the others."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Circle, Polygon

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.charts.bolted_cover import GASKET_POINTS, STUDS, Turn, tightened
from lessons.pictures.style import BLUE, ORANGE, VERMILION

STUD_CIRCLE, GASKET, REACH = 1.0, 0.30, 0.40  # in the plan: radius of studs and gasket, length of a full load
AROUND = 2 * np.pi * np.arange(GASKET_POINTS) / GASKET_POINTS
NOTE = "dashed: load wanted · schematic, with a stiff cover"
ALT = (
    "A bonnet seen from above: eight numbered nuts round a ring gasket, whose load is drawn as a band, "
    "thicker where it is pressed harder. Beside it a bar for the load of each stud against the load wanted. "
    "Nut by nut the bars change: each nut turned takes load from its neighbours."
)


def bolting(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 12; sliders for how far the job is, the order and the rounds."""
    sliders = (
        Slider("done", "nuts turned, share of the job", 0.0, 1.0, 1 / 32, 0.25, "%"),
        Slider("crosswise", "order", 0.0, 1.0, 1.0, 0.0, words=("round the circle", "crosswise")),
        Slider("rounds", "rounds (the fourth: once more, round the circle)", 1.0, 4.0, 1.0, 1.0),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


def _move(done: float, crosswise: float, rounds: float) -> dict[str, Any]:
    turns = tightened(crosswise > 0.5, round(rounds))
    last = round(done * (len(turns) - 1))
    now = turns[last]
    tilt = max(float(np.ptp(turn.gasket)) for turn in turns[: last + 1])
    place = _around(2 * np.pi * now.stud / STUDS, STUD_CIRCLE) if now.stud >= 0 else [(np.nan, np.nan)]
    moved: dict[str, Any] = {
        "gasket": _band(now.gasket),
        "nut": place,
        "round": _round(now, round(rounds)),
        "studs": f"studs now: {100 * now.studs.min():.0f} to {100 * now.studs.max():.0f} %",
        "tilt": f"gasket uneven by up to {100 * tilt:.0f} % so far",
    }
    for k, load in enumerate(now.studs):
        moved[f"bar_{k}"] = [(k + 0.65, 0), (k + 1.35, 0), (k + 1.35, load), (k + 0.65, load)]
    return moved


def _round(now: Turn, rounds: int) -> str:
    if now.stud < 0:
        return "all nuts snug, by hand"
    return f"round {now.round} of {rounds}: nut {now.stud + 1} to {100 * now.level:.0f} %"


def _around(angle: Any, radius: Any) -> Any:
    return np.column_stack([np.sin(angle) * radius, np.cos(angle) * radius])


def _band(load: Any) -> Any:
    """Return the band between the gasket's circle and its load, drawn outwards."""
    angles = np.append(AROUND, 2 * np.pi)
    outer = GASKET + REACH * np.append(load, load[0])
    return np.concatenate([_around(angles, outer), _around(angles[::-1], GASKET)])


def _draw() -> Figure:
    figure = Figure(figsize=(7.2, 3.9))
    _plan(figure.add_axes((0.01, 0.02, 0.49, 0.96)))
    axes = figure.add_axes((0.58, 0.33, 0.41, 0.63))
    axes.set(xlim=(0.3, STUDS + 0.7), ylim=(0, 1.25), xlabel="stud")
    axes.set_ylabel("load, share of the load wanted [%]")
    axes.set_xticks(range(1, STUDS + 1))
    axes.set_yticks(np.arange(0, 1.25, 0.2), [f"{100 * t:.0f}" for t in np.arange(0, 1.25, 0.2)])
    axes.spines[["top", "right"]].set_visible(False)
    axes.axhline(1, color=VERMILION, lw=1.4, ls=(0, (6, 2)))
    for k in range(STUDS):
        axes.add_patch(Polygon([(0, 0), (1, 0), (1, 1), (0, 1)], fc=BLUE, ec="black", lw=0.6, gid=f"bar_{k}"))
    _words(figure.add_axes((0.58, 0.02, 0.41, 0.16)))
    return figure


def _plan(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(-1.36, 1.36), ylim=(-1.62, 1.32), aspect="equal")
    axes.add_patch(Circle((0, 0), 1.3, fc="#ECEBE7", ec="black", lw=0.9))
    axes.add_patch(Polygon(_band(np.ones(GASKET_POINTS)), fc=ORANGE, lw=0, gid="gasket"))
    circle = np.linspace(0, 2 * np.pi, 145)
    axes.plot(*_around(circle, GASKET + REACH).T, color=VERMILION, lw=1.2, ls=(0, (6, 2)))
    axes.text(0, 0.06, "gasket\nload", fontsize=8.5, ha="center", va="center", color="#444444")
    for k in range(STUDS):
        x, y = _around(2 * np.pi * k / STUDS, STUD_CIRCLE)[0]
        axes.add_patch(Circle((x, y), 0.15, fc="#BDBDBD", ec="black", lw=0.8))
        axes.text(x, y, str(k + 1), fontsize=9.5, ha="center", va="center_baseline")
    axes.plot([0], [STUD_CIRCLE], "o", ms=31, mfc="none", mec=BLUE, mew=2.4)[0].set_gid("nut")
    axes.text(-1.36, -1.60, NOTE, fontsize=8, va="bottom", color="#444444")


def _words(axes: Axes) -> None:
    axes.set_axis_off()
    axes.set(xlim=(0, 1), ylim=(0, 1))
    axes.text(0, 0.86, "", fontsize=9.5, weight="bold", va="center").set_gid("round")
    axes.text(0, 0.52, "", fontsize=9, va="center").set_gid("studs")
    axes.text(0, 0.20, "", fontsize=9, va="center").set_gid("tilt")
