"""Lesson 03, shape and force: which window gives which characteristic, and what a pressure drop does to a plug."""

from __future__ import annotations

import math
from itertools import permutations
from types import SimpleNamespace
from typing import TYPE_CHECKING

from lessons.practice import drawn_parts
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.plug_forces import circle_area, unbalanced_force
from valvecalc.trim import phi_from_area, window_area

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def v_share(travel: float) -> float:
    """Return the free share of a V window at a travel."""
    return float(phi_from_area(window_area(travel, [0, 1], [0, 2]), 1.0))


def row(n: SimpleNamespace, _units: str) -> Figure:
    """Draw three windows or plugs in the order of the variant."""
    from lessons.pictures.cutaways.trim.trim_row import trim_row

    return trim_row(n.what, n.order.split(", "))


PREDICT = Question(
    id="trim.predict",
    kind="predict",
    text="The window in a cage is a V, point down. The plug behind it rises to half of its travel. How much "
    "of the window's area is free now?",
    variants=({},),
    options=(
        Option("half", "Half of it"),
        Option("quarter", "A quarter of it"),
        Option("three_quarters", "Three quarters of it"),
    ),
    why="Now set the window shape to 1, the V, and the travel to 50 %.",
)

KINDS = {"quick opening": "quick", "linear": "linear", "equal percentage": "equal"}
SHAPES = Question(
    id="trim.shapes",
    kind="match",
    text="Three {what}s, all half open. Which gives which characteristic?",
    variants=tuple(
        {"what": what, "order": ", ".join(order)} for order in permutations(KINDS) for what in ("window", "plug")
    ),
    key=lambda n: {str(place): KINDS[kind] for place, kind in enumerate(n.order.split(", "), start=1)},
    places=drawn_parts.part_numbers(3),
    options=(
        Option("quick", "Quick opening: most of the area comes early"),
        Option("linear", "Linear: equal steps of travel free equal steps of area"),
        Option("equal", "Equal percentage: little at first, more and more towards the end"),
    ),
    figure=row,
    alt="Three trims side by side, half open, with the numbers 1 to 3.",
    idea="Ask how much area the next step of travel frees: at the bottom, in the middle, at the top.",
    step="A {what} wide open at once is quick opening; one that gives the same at each step is linear.",
    example="The trumpet window is narrow below and wide above: equal percentage. The flat disc is quick opening.",
    why="The shape of the window or plug makes the shape of the curve.",
    source="worked by hand: flow coefficient in proportion to free area, for windows and plugs; linear and equal percentage: "
    "IEC 60534-2-4; a flat disc for quick opening: common practice, no source",
)

PORT = Question(
    id="trim.port",
    kind="number",
    text="A cage has V windows, point down. The plug stands at {travel} travel. What share of the window area is free?",
    variants=tuple({"travel": Q(travel, "%")} for travel in (15, 20, 25, 30, 50, 55, 60, 65, 70, 75, 80, 85)),
    key=lambda n: v_share(n.travel),
    unit="%",
    mistakes=(
        Mistake(
            "rectangle",
            lambda n: n.travel,
            "That is right for a rectangle. A V is narrow where the plug frees it first.",
        ),
        Mistake(
            "root",
            lambda n: math.sqrt(n.travel),
            "You took the root. Both width and height of the free V grow with the travel: multiply, so square.",
        ),
        Mistake(
            "upside_down",
            lambda n: 1 - (1 - n.travel) ** 2,
            "That is a V standing on its head, wide below. Here the point is below.",
        ),
    ),
    working=("travel**2",),
    idea="The free part is a small V, as wide and as high as the travel says: width times height.",
    step="Take {travel} as a fraction and multiply it by itself.",
    why="At half travel a V window has a quarter of its area free.",
    plausible=(0.0, 100.0),
    source="worked by hand: similar triangles",
)

WINDOW = Question(
    id="trim.window",
    kind="number",
    text="A cage has {count} rectangular windows, each {width} wide and {height} high. The plug is raised by "
    "{lift}. How large is the free area of all of them?",
    variants=tuple(
        {"count": count, "width": Q(width, "mm"), "height": Q(height, "mm"), "lift": Q(lift, "mm")}
        for count, width, height, lift in (
            (4, 20, 38, 10),
            (4, 28, 38, 15),
            (6, 15, 30, 12),
            (3, 30, 40, 16),
            (4, 18, 20, 8),
            (5, 24, 50, 20),
            (6, 20, 40, 22),
            (3, 22, 30, 9),
            (4, 40, 60, 24),
            (5, 16, 25, 10),
            (6, 28, 50, 30),
            (3, 36, 45, 18),
        )
    ),
    key=lambda n: n.count * window_area(n.lift, [0, n.height], [n.width, n.width]),
    unit="mm²",
    mistakes=(
        Mistake("one_window", lambda n: n.width * n.lift, "That is one window. There are {count} of them."),
        Mistake(
            "whole_window",
            lambda n: n.count * n.width * n.height,
            "You took the whole height. Only what the plug has uncovered is free: {lift}.",
        ),
        Mistake("covered", lambda n: n.count * n.width * (n.height - n.lift), "That is what the plug still covers."),
    ),
    working=("count * width * lift",),
    idea="Free area of one window is width times lift; then count the windows.",
    step="Multiply {width} by {lift} and by {count}.",
    why="The same step of lift always frees the same area: that is a linear trim.",
    plausible=(0.0, 100000.0),
    source="worked by hand: area of a rectangle",
)

CAGE_ASKED = (
    "plug seal, balance hole, plug, cage, seat ring",
    "balance hole, cage window, plug, web, stem",
    "plug seal, cage, cage window, body, bonnet",
    "plug, cage, seat ring, stem bushing, web",
    "plug seal, plug, cage window, gasket, stem",
    "balance hole, cage, seat ring, packing rings, body",
    "plug seal, balance hole, cage window, seat ring, bonnet",
    "balance hole, plug, cage, stem bushing, body",
    "plug seal, cage, seat ring, web, stem",
    "balance hole, plug, cage window, gasket, bonnet",
    "plug seal, plug, cage, packing rings, web",
    "plug seal, balance hole, plug, seat ring, stem bushing",
)
PARTS = Question(
    id="trim.parts",
    kind="match",
    text="What are the numbered parts called?",
    variants=tuple(
        drawn_parts.variant("cage_balanced", asked, spare, travel)
        for (asked, spare), travel in zip(
            drawn_parts.combinations_of(CAGE_ASKED, "cage, cage window, balance hole, plug seal, seat ring, plug, web"),
            (0.6, 0.4, 0.8) * 4,
            strict=True,
        )
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(5),
    options=drawn_parts.part_options(5, 2),
    figure=drawn_parts.figure,
    alt="Cut through a cage-guided valve with a balanced plug and five numbers.",
    idea="The plug moves, the cage stands still round it. Holes go through the plug, windows through the cage.",
    step="Compare with the named drawing, and see what moves with the slider.",
    example="The ring in the plug's upper edge is the plug seal; the opening in the sleeve is the cage window.",
    why="A balance hole is in the plug, a window in the cage: mix them up and you order the wrong part.",
    source="names of parts: common practice, no source",
)

FORCE = Question(
    id="trim.force",
    kind="number",
    text="An unbalanced plug shuts a port of {port}. The drop across it is {dp}. With what force does the "
    "fluid push on the plug? (Leave the stem out.)",
    variants=tuple(
        {"port": Q(port, "mm"), "dp": Q(dp, "bar")}
        for port, dp in (
            (70, 6.5),
            (50, 5),
            (46, 12),
            (40, 9),
            (80, 8),
            (60, 4.5),
            (50, 15),
            (38, 7),
            (90, 10),
            (65, 5.5),
            (55, 20),
            (42, 11),
        )
    ),
    key=lambda n: unbalanced_force(n.dp, 0.0, circle_area(n.port)),
    unit="N",
    mistakes=(
        Mistake(
            "no_quarter",
            lambda n: math.pi * n.port**2 * n.dp,
            "You took the diameter for the radius: the area of a circle is π/4 times the diameter squared.",
        ),
        Mistake(
            "square", lambda n: n.port**2 * n.dp, "That is the area of a square. The port is round: take π/4 of it."
        ),
    ),
    working=("dp * circle(port)",),
    names={"dp": "drop"},
    idea="Pressure times area is force.",
    step="Area: π/4 times {port} squared. Times {dp}.",
    why="About 10 N are the weight of 1 kg: see what a small plug has to carry.",
    plausible=(0.0, 100000.0),
    source="statics: pressure times area, worked by hand",
)
