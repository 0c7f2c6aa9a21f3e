"""Graded questions of lesson 16: building a valve into its line, and bringing it into service."""

from __future__ import annotations

import math
from dataclasses import replace

from lessons.practice import drawn_parts
from lessons.practice.cases import in_turn
from lessons.practice.work.installing import PARTS as PRACTICE_PARTS
from lessons.practice.work.installing import TAGS
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q

_LISTS = (
    "strainer, flow arrow, bypass valve, downstream block valve, pipe support",
    "reducer, drain valve, upstream block valve, actuator, strainer",
    "bypass valve, upstream block valve, pipe support, flow arrow, drain valve",
    "downstream block valve, reducer, strainer, drain valve, upstream block valve",
    "actuator, pipe support, reducer, bypass valve, downstream block valve",
    "flow arrow, strainer, drain valve, actuator, upstream block valve",
    "pipe support, downstream block valve, bypass valve, strainer, drain valve",
    "upstream block valve, bypass valve, actuator, downstream block valve, flow arrow",
    "drain valve, pipe support, flow arrow, reducer, strainer",
    "strainer, upstream block valve, downstream block valve, bypass valve, reducer",
    "flow arrow, actuator, drain valve, pipe support, bypass valve",
    "reducer, flow arrow, downstream block valve, strainer, actuator",
)

PARTS = replace(
    PRACTICE_PARTS,
    id="installing.w1",
    text="Here is a valve in its line. What is at each number?",
    variants=tuple(
        drawn_parts.variant("installation", asked, spare)
        for asked, spare in drawn_parts.combinations_of(_LISTS, "gasket, yoke")
    ),
    idea="Follow the flow from the left. The pipe that leads over the valve is the bypass.",
    example="The cones on either side of the valve are reducers.",
    why="If you can name them, you can say over the radio which one to shut.",
    points=1.0,
)

TOGETHER = Question(
    id="installing.w2",
    kind="number",
    text="A valve with a flow coefficient of {kv} stands behind a strainer with one of {strainer}. What is the flow coefficient of the two together?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "strainer": Q(strainer, "Kv")}
        for kv, strainer in (
            (40, 60),
            (80, 100),
            (25, 50),
            (32, 40),
            (100, 90),
            (63, 80),
            (36, 30),
            (90, 150),
            (50, 50),
            (20, 35),
            (125, 160),
            (40, 25),
        )
    ),
    key=lambda n: 1 / math.sqrt(1 / n.kv**2 + 1 / n.strainer**2),
    unit="Kv",
    mistakes=(
        Mistake(
            "added",
            lambda n: n.kv + n.strainer,
            "You added them. One behind the other, the two pass less than the smaller one alone.",
        ),
        Mistake(
            "smaller",
            lambda n: min(n.kv, n.strainer),
            "You took the smaller one. The other takes some of the pressure too.",
        ),
    ),
    working=("1 / sqrt(1 / kv**2 + 1 / strainer**2)",),
    names={"kv": "flow coefficient of the valve", "strainer": "flow coefficient of the strainer"},
    idea="The same flow goes through both, and the drops add up. The drop goes with 1 ÷ Kv².",
    step="Add 1 over {kv} squared and 1 over {strainer} squared. Take the root, and divide 1 by it.",
    why="A clogged strainer makes a good valve look too small.",
    plausible=(0.1, 2000.0),
    points=2.0,
    source="IEC 60534-2-1, equation 1 for each; the sum of the drops: worked by hand",
)

_FOUND = {
    "seat": (
        "the line was flushed through the valve with the trim in",
        "the spool was not to be found, so the valve was in when the line was flushed",
        "weld beads lie in the strainer that was left without its basket",
    ),
    "packing": (
        "the insulators wrapped the long neck of a hot valve up to the packing",
        "a hot valve got a box of insulation round body and bonnet",
        "somebody filled the yoke of a hot valve with mineral wool",
    ),
    "force": (
        "the arrow on the body points against the flow",
        "the body was turned round so that the plate can be read",
        "a valve was lifted in with inlet and outlet changed over",
    ),
    "bend": (
        "the pipe was pulled to the valve with the flange bolts",
        "the supports beside the valve were left out",
        "the flanges stood a finger apart, and the bolts closed the gap",
    ),
}

FOUND = Question(
    id="installing.w3",
    kind="choice",
    text="On the first walk round you find this: {found}. What will happen first?",
    variants=in_turn("found", _FOUND),
    key=lambda n: n.right,
    options=(
        Option("seat", "Dirt in the seat: it is cut and leaks", "Nothing here brings dirt into the seat."),
        Option("packing", "Packing too hot: it hardens and leaks", "Nothing here keeps the heat in at the packing."),
        Option(
            "force",
            "The fluid pushes the plug the wrong way: it slams, or does not shut tight",
            "The flow comes from the right side here.",
        ),
        Option("bend", "The body is strained: joints weep, the stem may bind", "Nothing here bends the body."),
    ),
    idea="Ask what it changes: dirt, heat, the side the flow comes from, or the forces from the pipe.",
    step="Read it once more: {found}. Which of the four is it?",
    example="A wrapped neck cannot give its heat to the air, so the packing gets as hot as the oil.",
    why="All four are cheap to put right before the pressure is in.",
    points=1.0,
    source="common practice, no source; heat: computed here; forces: worked by hand",
)

_BACK = (
    Option("manual", "Loop in manual, the valve shut; the bypass carries the flow, watched by somebody with a radio"),
    Option("plugs", "Shut and plug the drains and vents on both sides of the valve"),
    Option("crack", "Crack the upstream block valve; fill slowly, and look at every joint"),
    Option("wide", "Open the upstream block valve wide, then the downstream one"),
    Option("swap", "The board opens the valve a little, you shut the bypass a little, taking turns"),
    Option("auto", "Bypass shut, flow steady: the board takes the loop back to automatic"),
)
_KEY = tuple(step.name for step in _BACK)

BACK = Question(
    id="installing.w4",
    kind="order",
    text="{tag} is installed and has been stroked dry. The process runs through the bypass. In which order does the valve take over?",
    variants=tuple({"tag": tag} for tag in TAGS),
    key=lambda _: _KEY,
    options=_BACK,
    mistakes=(
        Mistake(
            "wide_first",
            lambda _: ("manual", "plugs", "wide", "crack", "swap", "auto"),
            "You opened wide before the piece between the block valves was full. Pressure and heat came all at once.",
        ),
        Mistake(
            "auto_first",
            lambda _: ("manual", "plugs", "crack", "wide", "auto", "swap"),
            "The loop was in automatic while the bypass still moved. Two of you then steer one flow.",
        ),
    ),
    idea="Fill slowly, look, open, and hand the flow over bit by bit. The loop comes last.",
    step="Open nothing wide before the piece between the block valves is full and the joints are dry.",
    example="Two people pass a load. One lets go only as the other takes hold.",
    why="Shut the bypass too fast and the process is starved; too slowly and it is flooded.",
    points=2.0,
    source="common practice, no source, and the site's procedure decides",
)

PLACE = Question(
    id="installing.w5",
    kind="several",
    text="Somebody is looking for a place for {tag} in its line. What makes a place good?",
    variants=tuple({"tag": tag} for tag in TAGS),
    key=lambda _: {"upright", "room", "straight", "near"},
    options=(
        Option("upright", "The actuator can stand upright above the pipe"),
        Option("room", "There is room above to lift the actuator off, and a floor to stand on"),
        Option("straight", "There is straight pipe before and behind it"),
        Option("near", "There are supports on both sides, near the valve"),
        Option(
            "high",
            "It is high up, where nobody can touch it",
            "Then nobody can read its scale, hear it or repair it either.",
        ),
        Option(
            "elbow",
            "It is right behind an elbow, which saves pipe",
            "The flow comes in askew. Then flow and noise are not those of the maker's figures.",
        ),
    ),
    idea="Ask for straight pipe, an upright stem, support, and a place that can be reached.",
    step="Four of the six help. Each time, ask whom it helps.",
    example="The maker measured with taps two diameters before and six behind in straight pipe (IEC 60534-2-1).",
    why="What is saved in pipe is paid for at every repair.",
    points=2.0,
    source="IEC 60534-2-1 for the straight pipe; the rest: common practice, no source",
)

QUESTIONS = (PARTS, TOGETHER, FOUND, BACK, PLACE)
