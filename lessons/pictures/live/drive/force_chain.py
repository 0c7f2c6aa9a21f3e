"""Forces on a stem drawn as a chain of arrows, beside a sketch of the valve: what two live pictures share."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from lessons.live.axis_units import unit_axis
from lessons.pictures.cutaways.parts import coil, rect
from lessons.pictures.style import BLUE, GREEN, LOOKS, ORANGE, PURPLE, VERMILION
from lessons.pictures.verdicts import BAD, GOOD, SHORT, SIGNS, reaches, tone_of
from lessons.units.readout import to_decimals

COLOURS = {"air": ORANGE, "spring": GREEN, "fluid": BLUE, "friction": PURPLE, "total": VERMILION}
NAMES = {
    "air": "air",
    "spring": "spring",
    "fluid": "line\npressure",
    "friction": "packing\nfriction",
    "total": "left\nover",
}
ZONES = ("#FBE3D6", "#FDF7CC", "#DDF1E6")  # off the seat, too light, tight
LIFT = 14.0  # rise of the plug in the sketch, closed to open
BELOW = ((-64, 4), (44, 4), (44, 28), (-44, 28), (-44, 24), (-64, 24))
ABOVE = ((-44, 34), (44, 34), (44, 38), (64, 38), (64, 56), (-44, 56))
PLUG = np.array([(-20, 46), (20, 46), (20, 37), (16, 34), (9, 24), (-9, 24), (-16, 34), (-20, 37)], dtype=float)
GONE = [(np.nan, np.nan)]


def draw_chain(forces: tuple[str, ...], reach: tuple[float, float], wanted: float, action: str) -> tuple[Figure, Any]:
    """Draw sketch and chain on an axis that reaches so far [N]; return the figure and its moving axis."""
    figure = Figure(figsize=(7.2, 4.7))
    _sketch(figure.add_axes((-0.01, 0.10, 0.30, 0.90)), action)
    figure.text(0.015, 0.045, "", fontsize=10.5, weight="bold", va="center", gid="verdict")
    axes = figure.add_axes((0.41, 0.10, 0.585, 0.74))
    axes.set(xlim=(0.4, len(forces) + 2.3), ylim=reach)
    _zones(axes, reach, wanted, len(forces))
    for k, name in enumerate((*forces, "total"), start=1):
        _column(axes, k, name)
    axes.set_xticks([])
    axes.spines[["top", "right", "bottom"]].set_visible(False)
    return figure, unit_axis(axes, "y", "force on the stem (up: opens)", "N")


def chain(forces: Mapping[str, float], reach: tuple[float, float], units: str) -> dict[str, Any]:
    """Return where the arrows are: each starts where the last one ended, what is left over at zero."""
    head = 0.045 * (reach[1] - reach[0])
    moved: dict[str, Any] = {}
    start = 0.0
    for k, (name, force) in enumerate(forces.items(), start=1):
        moved |= _arrow(name, k, start, start + force, head)
        moved[f"{name}_says"] = _says(force, units)
        start += force
    moved |= _arrow("total", len(forces) + 1, 0.0, start, head)
    moved["total_says"] = _says(start, units)
    del moved["total_level"]
    return moved


def sketch(travel: float, dp: float, action: str) -> dict[str, Any]:
    """Return the parts of the sketch at a travel; the side with the higher pressure is the darker one."""
    lift = LIFT * travel
    plate = 134 - LIFT / 2 + lift
    low, high = (plate + 4, 176.0) if action == "reverse" else (110.0, plate - 4)
    edge = 106.0 if action == "reverse" else 162.0
    return {
        "plug": PLUG + (0, lift),
        "stem": rect(-3, 46 + lift, 3, plate),
        "plate": rect(-34, plate - 3, 34, plate + 3),
        "rubber": [(-52, 134), (-44, 134), (-34, plate), (34, plate), (44, 134), (52, 134)],
        "spring": coil(-16, 16, low, high, 5),
        "air_room": [
            (-50, edge),
            (-52, 134),
            (-44, 134),
            (-34, plate),
            (34, plate),
            (44, 134),
            (52, 134),
            (50, edge),
        ],
        "below_high": BELOW if dp > 0 else GONE,
        "above_high": ABOVE if dp < 0 else GONE,
    }


def verdict(total: float, wanted: float, rim: float, hangs: float, units: str) -> str:
    """Say whether it shuts, from the force left over and the one wanted on the seat [N], and the rim [m].

    Judged as on the job card: enough is only what reaches the seat load wanted with friction taken off.
    """
    digits = 1 if units == "si" else 0
    tone = tone_of(total < 0, reaches(-total, wanted))
    load, asked = (to_decimals(force / rim, "N/mm", units, digits) for force in (-total, wanted))
    if tone == SHORT and load == asked:
        load = f"just under {load}"
    rests = f"it hangs {100 * hangs:.0f} % open" if hangs >= 0.005 else "it rests without force"
    words = {
        GOOD: f"Enough: {load} of rim, {asked} wanted.",
        SHORT: f"Short of the seat load wanted: {load} of rim, {asked} wanted.",
        BAD: f"It does not shut: {rests}.",
    }
    return f"{SIGNS[tone]} {words[tone]}"


def _says(force: float, units: str) -> str:
    return to_decimals(abs(force), "N", units) + (" ↑" if force > 0 else " ↓" if force < 0 else "")


def _arrow(name: str, k: int, start: float, end: float, head: float) -> dict[str, Any]:
    way = np.sign(end - start)
    neck = end - way * min(head, abs(end - start))
    right = [(k + 0.13, start), (k + 0.13, neck), (k + 0.27, neck)]
    left = [(2 * k - x, y) for x, y in right]
    points = [*left, (k, end), *right[::-1]]
    return {f"{name}_arrow": points, f"{name}_level": [(k, end), (k + 1, end)]}


def _column(axes: Axes, k: int, name: str) -> None:
    above = axes.get_xaxis_transform()
    axes.add_patch(Polygon([(k, 0)] * 7, fc=COLOURS[name], ec="black", lw=0.6, zorder=4, gid=f"{name}_arrow"))
    axes.text(k, 1.145, NAMES[name], fontsize=8.5, weight="bold", ha="center", va="center", transform=above)
    axes.text(k, 1.045, "", fontsize=8.5, ha="center", va="center", transform=above, gid=f"{name}_says")
    if name != "total":
        axes.plot([k, k + 1], [0, 0], color="#444444", lw=0.8, ls=(0, (3, 2)), zorder=3)[0].set_gid(f"{name}_level")


def _zones(axes: Axes, reach: tuple[float, float], wanted: float, count: int) -> None:
    edges = ((0.0, reach[1]), (-wanted, 0.0), (reach[0], -wanted))
    at = (reach[1] / 2, -wanted / 2, (reach[0] - wanted) / 2)
    for (low, high), y, colour, words in zip(
        edges, at, ZONES, ("stays off\nits seat", "too light", "pressed\nhard\nenough"), strict=True
    ):
        axes.axhspan(low, high, color=colour, lw=0, zorder=0)
        axes.text(count + 1.42, y, words, fontsize=8.5, va="center", zorder=2)
    axes.axhline(0, color="black", lw=1, zorder=2)


def _sketch(axes: Axes, action: str) -> None:
    axes.set_axis_off()
    axes.set(xlim=(-70, 70), ylim=(-4, 200), aspect="equal")
    for side, room in (("below", BELOW), ("above", ABOVE)):
        axes.add_patch(Polygon(room, fc=LOOKS["low"].fill, lw=0))
        axes.add_patch(Polygon(room, fc=LOOKS["high"].fill, lw=0, gid=f"{side}_high"))
    casing = [(-50, 106), (-58, 134), (-50, 162), (50, 162), (58, 134), (50, 106)]
    axes.add_patch(Polygon(casing, fc="white", ec="black", lw=1.2))
    pressed = LOOKS["air"].fill if action == "direct" else "white"  # the reverse one has lost its air
    axes.add_patch(Polygon(casing, fc=pressed, ec="black", lw=0.6, gid="air_room"))
    if action == "reverse":
        axes.add_patch(Polygon(rect(-20, 162, 20, 178), fc="white", ec="black", lw=1.2))
    _body(axes)
    for gid, look in (("plug", "trim"), ("stem", "steel"), ("plate", "steel")):
        axes.add_patch(Polygon([(0, 0), (1, 0), (1, 1)], gid=gid, zorder=4, **_look(look)))
    for gid, width, colour, z in (("spring", 2.5, "#666666", 3), ("rubber", 2.2, "#222222", 3.5)):
        axes.plot([0, 1], [0, 1], color=colour, lw=width, zorder=z)[0].set_gid(gid)
    names = {"packing": (28, 72), "plug": (-42, 45), "line": (-62, 14)}
    if action == "reverse":
        names |= {"no air": (-41, 115), "spring": (24, 170)}
    else:
        names |= {"air": (-41, 153), "spring": (-48, 110)}
    for words, (x, y) in names.items():
        axes.text(x, y, words, fontsize=8.5, va="center", zorder=6)


def _body(axes: Axes) -> None:
    """Draw what stands still: seat, packing box, bonnet, yoke legs and the walls of the body."""
    for side in (-1, 1):
        for look, room in (
            ("seat", (16, 28, 44, 34)),
            ("packing", (3, 58, 12, 84)),
            ("body", (12, 58, 20, 84)),
            ("body", (20, 56, 48, 62)),
        ):
            axes.add_patch(Polygon(rect(*room) * (side, 1), **_look(look)))
        axes.plot([26 * side, 26 * side], [62, 106], color="#555555", lw=2)
    walls = (
        [(-64, 4), (44, 4), (44, 34)],
        [(-64, 24), (-44, 24), (-44, 56)],
        [(44, 34), (44, 38), (64, 38)],
        [(48, 56), (64, 56)],
    )
    for wall in walls:
        axes.plot(*np.transpose(wall), color="black", lw=1.2)


def _look(name: str) -> dict[str, Any]:
    look = LOOKS[name]
    return {"fc": look.fill, "ec": look.edge, "lw": look.width, "hatch": look.hatch or None}
