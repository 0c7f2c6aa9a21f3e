"""Graded questions of lesson 03: trim."""

from __future__ import annotations

import math
from dataclasses import replace

from lessons.practice import drawn_parts
from lessons.practice.valve.trim.care import pick_question
from lessons.practice.valve.trim.shape import PARTS as PRACTICE_PARTS
from lessons.practice.valve.trim.shape import v_share
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.plug_forces import balanced_force, circle_area

PARTS = replace(
    PRACTICE_PARTS,
    id="trim.w1",
    text="Mark the spare parts to be ordered. What are the numbered parts called?",
    variants=tuple(
        drawn_parts.variant(picture, asked, spare, travel)
        for picture, lists, spare in (
            (
                "cage_unbalanced",
                (
                    "cage, cage window, plug, seat ring, gasket",
                    "plug, cage, stem bushing, packing rings, web",
                    "cage window, seat ring, stem, bonnet, body",
                    "plug, seat ring, stem bushing, gasket, stem",
                    "cage, cage window, packing rings, body studs, web",
                    "plug, cage window, seat ring, bonnet, yoke",
                ),
                "balance hole, plug seal",
            ),
            (
                "cage_balanced",
                (
                    "plug seal, plug, cage, gasket, body",
                    "balance hole, cage window, seat ring, stem bushing, stem",
                    "plug seal, balance hole, cage, packing rings, web",
                    "plug seal, cage window, seat ring, gasket, bonnet",
                    "balance hole, plug, cage, seat ring, yoke",
                    "plug seal, plug, stem bushing, cage window, stem",
                ),
                "lower plug, travel scale",
            ),
        )
        for asked, travel in zip(lists, (0.5, 0.7, 0.9, 0.4, 0.6, 0.8), strict=True)
    ),
    alt="Cut through a cage-guided valve with five numbers.",
    idea="The plug moves, the cage stands still. See whether there are holes in the plug.",
    step="Compare with the named drawing in the lesson.",
    example="The opening in the sleeve is the cage window.",
    why="With the right name you get the right spare part.",
    points=2.0,
)

LEFT = Question(
    id="trim.w2",
    kind="number",
    text="A balanced plug shuts a port of {port}; its seal runs in a cage of {seal} bore. The drop is {dp}. "
    "Only the ring between the two circles is not balanced. What force is left on it?",
    variants=tuple(
        {"port": Q(port, "mm"), "seal": Q(seal, "mm"), "dp": Q(dp, "bar")}
        for port, seal, dp in (
            (50.8, 53.34, 25),
            (63.5, 66.04, 22),
            (76.2, 81.28, 16),
            (88.9, 93.98, 18),
            (101.6, 106.68, 12),
            (114.3, 121.92, 14),
            (127, 132.08, 9),
            (63.5, 68.58, 20),
            (76.2, 78.74, 30),
            (88.9, 96.52, 15),
            (101.6, 109.22, 11),
            (127, 137.16, 8),
        )
    ),
    key=lambda n: -balanced_force(n.dp, 0.0, circle_area(n.port), circle_area(n.seal)),
    unit="N",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "whole_port",
            lambda n: circle_area(n.port) * n.dp,
            "That is the push on an unbalanced plug: the whole port was taken.",
            credit=0.25,
        ),
        Mistake(
            "whole_seal",
            lambda n: circle_area(n.seal) * n.dp,
            "The whole circle of the seal was taken. The port balances most of it.",
            credit=0.25,
        ),
        Mistake(
            "difference_squared",
            lambda n: circle_area(n.seal - n.port) * n.dp,
            "The diameters were subtracted first. Subtract the areas.",
            credit=0.5,
        ),
    ),
    working=("ring [mm²] = circle(seal) - circle(port)", "ring * dp"),
    idea="The area of the ring is the large circle less the small one.",
    step="π/4 times ({seal} squared less {port} squared), times {dp}.",
    why="About a tenth of the push is left. That is what the holes are for.",
    plausible=(0.0, 100000.0),
    points=2.0,
    source="worked by hand: pressure times ring area, stem left out",
)

TRAVEL = Question(
    id="trim.w3",
    kind="number",
    text="A cage has V windows, point down, as high as the travel is long. At what travel is {share} of the "
    "window area free?",
    variants=tuple({"share": Q(share, "%")} for share in (10, 15, 20, 30, 35, 40, 45, 50, 55, 70, 75, 80)),
    key=lambda n: math.sqrt(n.share),
    unit="%",
    mistakes=(
        Mistake("rectangle", lambda n: n.share, "That would be so for a rectangle.", credit=0.25),
        Mistake(
            "squared",
            lambda n: v_share(n.share),
            "It was squared. From travel to area square, from area to travel take the root.",
            credit=0.5,
        ),
        Mistake(
            "upside_down",
            lambda n: 1 - math.sqrt(1 - n.share),
            "That is a V standing on its head, wide below.",
            credit=0.25,
        ),
    ),
    working=("sqrt(share)",),
    idea="The area goes with the square of the travel, so the travel with the root of the area.",
    step="Take {share} as a fraction, and its root.",
    why="A V window needs a good part of its travel before much area is free.",
    plausible=(0.0, 100.0),
    points=2.0,
    source="worked by hand: similar triangles",
)

PICK = pick_question(
    "trim.w4",
    {
        "clean hydrogen, very large port, high drop, small actuator": "balanced",
        "clean water injection, big port, and no room for a large actuator": "balanced",
        "clean steam condensate pump recycle, large and at a high drop, weak actuator": "balanced",
        "slurry oil with coke particles; the cage trim hung twice": "top",
        "brine with salt crystals that fill every gap": "top",
        "oil with fine catalyst that scores and jams what slides": "top",
        "start-up steam valve, cracked open for hours; grooves across the seat": "hard",
        "let-down of flashing feed; the plain seat was cut in a season": "hard",
        "wet gas in a jet past a nearly shut plug; seating face grooved": "hard",
        "clean instrument nitrogen, cool, bubble-tight": "soft",
        "clean cold propane, tightest leakage class": "soft",
        "clean cool air in a small line, tightest class": "soft",
    },
)

HELPS = {
    "galling between plug and cage": "hardface metals",
    "grains that jam the plug": "strainer room",
    "wire drawing of the seat": "hardface smaller",
}
HELP = Question(
    id="trim.w5",
    kind="several",
    text="{tag} came in with {trouble}. Which of these help against just that?",
    variants=tuple(
        {"tag": tag, "trouble": trouble, "right": right}
        for trouble, right in HELPS.items()
        for tag in ("FV-2107", "LV-2112", "FV-1204", "FV-6204")
    ),
    key=lambda n: set(n.right.split()),
    options=(
        Option("hardface", "Hard facing where it wears", "A hard face does not keep grains out of a gap."),
        Option(
            "metals",
            "Two metals of different kind and hardness where parts slide",
            "That helps where metal slides on metal; this is about something else.",
        ),
        Option("strainer", "A strainer before the valve", "There are no grains at work here."),
        Option(
            "room", "A plug with more room round it, guided away from the dirt", "There are no grains at work here."
        ),
        Option(
            "smaller",
            "A smaller port, so that the plug stands further open",
            "That helps where a valve stands nearly shut.",
        ),
        Option("tighter", "Narrower gaps round the plug", "Narrow gaps make it jam and rub the more."),
        Option("same", "The same soft stainless steel for plug and cage", "Like metals that slide are what galls."),
    ),
    idea="Name what does the damage: metal on metal, grains, or a jet. Then ask each answer whether it stops that.",
    step="Take {trouble}: what rubs, jams or cuts here?",
    example="Against a rattling plug a new bushing would help, a strainer would not.",
    why="Remove the cause. Mending the scratch alone does not help.",
    points=2.0,
    source="common practice, no source",
)

QUESTIONS = (PARTS, LEFT, TRAVEL, PICK, HELP)
