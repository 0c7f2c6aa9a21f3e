"""Graded questions of lesson 02: valve bodies."""

from __future__ import annotations

from dataclasses import replace

from lessons.practice import drawn_parts
from lessons.practice.valve.bodies.choosing import service_question
from lessons.practice.valve.bodies.styles import DOUBLE as PRACTICE_DOUBLE
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q

PARTS = replace(
    PRACTICE_DOUBLE,
    id="bodies.w1",
    text="Label the drawing for the store. What are the numbered parts called?",
    variants=tuple(
        drawn_parts.variant(picture, asked, spare, travel)
        for picture, lists, spare in (
            (
                "globe_double",
                (
                    "upper plug, lower seat ring, lower guide bushing, stem, bonnet",
                    "lower plug, upper seat ring, guide bushing, bottom flange, body",
                    "upper plug, lower plug, lower seat ring, packing rings, bottom flange",
                ),
                "weir, disc",
            ),
            (
                "angle",
                (
                    "inlet flange, outlet flange, plug, seat ring, bonnet",
                    "inlet flange, seat ring, guide bushing, stem, body",
                    "outlet flange, plug, packing rings, guide bushing, yoke",
                ),
                "web, bottom flange",
            ),
            (
                "weir_diaphragm",
                (
                    "weir, valve diaphragm, compressor, stem, body",
                    "compressor, weir, bonnet, stem bushing, yoke",
                    "valve diaphragm, weir, compressor, body studs, bonnet",
                ),
                "seat ring, plug",
            ),
            (
                "eccentric_plug",
                (
                    "plug, plug arm, seat ring, shaft, body",
                    "plug arm, seat retainer, shaft bearing, packing rings, flange",
                    "plug, seat ring, seat retainer, mounting flange, shaft",
                ),
                "disc, V-notch",
            ),
        )
        for asked, travel in zip(lists, (0.4, 0.6, 0.8), strict=True)
    ),
    alt="A valve body, cut open, with five numbers.",
    idea="See first which body it is; then what moves and what stands still.",
    step="Compare with the named drawing of this body in the lesson.",
    example="In a weir diaphragm valve the block on the stem is the compressor.",
    why="With these names you can order a part of each of these bodies.",
    points=2.0,
)

SERVICE = service_question(
    "bodies.w2",
    {
        "cool air from the blower to the aeration basin, the widest pipe on site, hardly any drop to spend": "butterfly",
        "sea water to the condensers in a very wide pipe, at a low drop": "butterfly",
        "cold hypochlorite solution that eats metal, at low pressure": "weir",
        "cool lime slurry at low pressure that must not get at the packing": "weir",
        "paper stock with long fibres": "ball",
        "sludge with rags in it, to be controlled over a very wide range": "ball",
        "condensate with grit that flashes and must blast straight down into the flash drum": "angle",
        "heavy bottoms that coke, let down into the drum right below": "angle",
        "two streams of kerosene, hot and cold, to be blended": "three",
        "hot oil, to be shared between a heater and the line round it": "three",
        "clean chemical dosing in a small line that must shut tight": "single",
        "clean gas oil in a middle-sized line, high drop, weak actuator, shut-off done by another valve": "double",
    },
)

TRUE_OF = {
    "double-seated globe": "lifts rings grain line",
    "single-seated globe": "lifts line",
    "angle body": "lifts",
    "three-way body": "lifts rings",
    "lined butterfly": "turns rubber line",
    "weir diaphragm valve": "lifts rubber away line",
}
TRUE = Question(
    id="bodies.w3",
    kind="several",
    text="Crate {crate} holds a {body}. Which of these are true of it?",
    variants=tuple(
        {"body": body, "crate": crate, "right": right}
        for crates, (body, right) in zip(
            ("A1 D4", "B2 E5", "C3 F6", "A4 D1", "B5 E2", "C6 F3"), TRUE_OF.items(), strict=True
        )
        for crate in crates.split()
    ),
    key=lambda n: set(n.right.split()),
    options=(
        Option("lifts", "Its stem moves up and down", "It has a shaft that turns."),
        Option("turns", "Its closing part turns", "Its stem moves up and down."),
        Option("rings", "It has two seat rings", "Count the seat rings in its drawing again."),
        Option(
            "rubber", "It closes on or with rubber, so ask before it gets hot", "It closes metal on metal as drawn."
        ),
        Option(
            "grain",
            "A grain on one of its seats keeps the other open too",
            "That takes two plugs on one stem that close at the same moment.",
        ),
        Option("away", "The fluid never touches its stem", "Only a rubber sheet across the whole body does that."),
        Option("line", "It has two pipe ends in one straight line", "Count its ends, and see how they stand."),
    ),
    idea="Picture its drawing, and ask each sentence of it.",
    step="Go through the sentences for the {body} one by one.",
    example="Of a segmented ball only two are true: it turns, and its ends are in line.",
    why="Six bodies, six short lists.",
    points=2.0,
    source="own choice, no source: read off the drawings of this lesson",
)

MIXED = Question(
    id="bodies.w4",
    kind="number",
    text="TV-3318 mixes {a} of hot kerosene at {hot} with {b} of cold at {cold}. What temperature leaves it?",
    variants=tuple(
        {"a": Q(a, "m³/h"), "hot": Q(hot, "°C"), "b": Q(b, "m³/h"), "cold": Q(cold, "°C")}
        for a, hot, b, cold in (
            (10, 90, 30, 30),
            (40, 120, 10, 20),
            (15, 150, 45, 50),
            (30, 80, 10, 20),
            (20, 100, 60, 20),
            (50, 110, 10, 40),
            (12, 140, 36, 40),
            (45, 95, 15, 25),
            (16, 130, 24, 50),
            (36, 160, 12, 60),
            (14, 85, 42, 25),
            (60, 75, 20, 15),
        )
    ),
    key=lambda n: (n.a * n.hot + n.b * n.cold) / (n.a + n.b),
    unit="°C",
    tolerance=0.004,
    mistakes=(
        Mistake(
            "plain_mean",
            lambda n: (n.hot + n.cold) / 2,
            "The two temperatures were averaged as if both flows were the same.",
            credit=0.25,
        ),
        Mistake(
            "swapped",
            lambda n: (n.b * n.hot + n.a * n.cold) / (n.a + n.b),
            "The flows were swapped: the hot flow belongs to the hot temperature.",
            credit=0.5,
        ),
    ),
    working=("(a * hot + b * cold) / (a + b)",),
    names={"a": "hot flow", "b": "cold flow"},
    idea="The larger flow pulls the mixture to its own temperature.",
    step="{a} of {a} and {b} together are hot: go that part of the way from {cold} to {hot}.",
    why="The controller moves the plug until this comes out right.",
    plausible=(-20.0, 300.0),
    points=2.0,
    source="worked by hand: heat balance of two streams of the same liquid, losses and change of heat capacity left out",
)

QUESTIONS = (PARTS, SERVICE, TRUE, MIXED)
