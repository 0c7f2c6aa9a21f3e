"""Live picture of lesson 14: follow a loop round its P&ID; the tag says what is measured, the symbol how it fails."""

from __future__ import annotations

from typing import Any

import numpy as np
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from lessons.live.moving_picture import MovingPicture
from lessons.live.sliders import Slider
from lessons.pictures.charts.flow_sheet import PLACES, PLATE, paper, tags, write_tag
from lessons.pictures.style import BLUE, VERMILION

LETTERS = "FLPT"
NUMBER = "2107"
MEASURED = {"F": "flow", "L": "level", "P": "pressure", "T": "temperature"}
# Where the loop goes, round which place the ring lies, and how large it is.
STEPS = (
    ("transmitter", PLACES["transmitter"], 0.55),
    ("signal", PLACES["electric signal"], 0.40),
    ("controller", PLACES["controller"], 0.64),
    ("converter", PLACES["converter"], 0.55),
    ("air", PLACES["air signal"], 0.42),
    ("valve", (7.6, 2.1), 0.88),
)
FAILS = (("opens", 1.0), ("shuts", -1.0))
ALT = (
    "One line of a P&ID. A transmitter on the pipe sends an electric signal, drawn dashed, to a controller in the "
    "control room; from there it goes to a converter, which makes air of it, drawn with pairs of strokes, for the "
    "actuator of the control valve. A ring goes round the loop and a line of words says what is in it; an arrow on the "
    "valve's stem shows where it goes without air."
)


def papers(units: str = "si") -> MovingPicture:
    """Return the live picture of lesson 14; sliders for the place in the loop, what is measured, and how it fails."""
    sliders = (
        Slider("step", "follow the loop, place 1 to 6", 1.0, 6.0, 1.0, 1.0),
        Slider("measured", "measured", 1.0, 4.0, 1.0, 1.0, words=tuple(MEASURED.values())),
        Slider("fails", "without air the valve", 1.0, 2.0, 1.0, 1.0, words=tuple(way for way, _ in FAILS)),
    )
    return MovingPicture(_draw, _move, sliders, alt=ALT, units=units)


def _said(name: str, letter: str, without_air: str) -> tuple[str, str]:
    """Return what a place is called on the sheet, and what its letters or lines say."""
    measured = f"{letter} {MEASURED[letter]}, T transmitter; an empty circle stands in the plant"
    return {
        "transmitter": (f"{letter}T-{NUMBER}", measured),
        "signal": ("dashes", "an electric signal, 4 to 20 mA"),
        "controller": (
            f"{letter}IC-{NUMBER}",
            "I shows, C controls; square, line: a screen in the control room",
        ),
        "converter": (f"{letter}Y-{NUMBER}", "Y turns one signal into another: here current into air pressure"),
        "air": ("strokes", "pairs of strokes across a line: air"),
        "valve": (f"{letter}V-{NUMBER}", f"V valve with a diaphragm; arrow on the stem: without air it {without_air}"),
    }[name]


def _move(step: float, measured: float, fails: float) -> dict[str, Any]:
    name, (x, y), size = STEPS[round(step) - 1]
    letter = LETTERS[round(measured) - 1]
    without_air, way = FAILS[round(fails) - 1]
    title, words = _said(name, letter, without_air)
    angle = np.linspace(0, 2 * np.pi, 49)
    moved: dict[str, Any] = {
        "ring": np.column_stack([x + size * np.cos(angle), y + size * np.sin(angle)]),
        "arrow": _arrow(way),
        "title": f"{round(step)}  {title}",
        "words": words,
    }
    gone = [(np.nan, np.nan)] * 2
    moved |= {plate: places if letter == "F" else gone for plate, places in PLATE.items()}
    return moved | {f"tag_{each}": letters for each, letters in tags(f"{letter}-{NUMBER}").items()}


def _arrow(way: float) -> Any:
    """Return the arrow on the stem: its tip up where the valve opens, down where it shuts."""
    return [(7.3, 2.0 + 0.16 * way), (7.19, 2.0 - 0.1 * way), (7.41, 2.0 - 0.1 * way)]


def _draw() -> Figure:
    figure, axes = paper((7.2, 4.25))
    axes.set_ylim(-0.85, 10.4 * 4.25 / 7.2 - 0.85)
    for name, letters in tags(f"F-{NUMBER}").items():
        write_tag(axes, name, letters, NUMBER, f"tag_{name}")
    axes.add_patch(Polygon(np.zeros((49, 2)), fc="none", ec=VERMILION, lw=2.6, zorder=8, gid="ring"))
    axes.add_patch(Polygon(_arrow(1.0), fc=BLUE, ec="black", lw=0.6, zorder=7, gid="arrow"))
    axes.text(0.3, -0.25, "", fontsize=10, weight="bold", color=VERMILION, va="center").set_gid("title")
    axes.text(0.3, -0.62, "", fontsize=9.5, va="center").set_gid("words")
    return figure
