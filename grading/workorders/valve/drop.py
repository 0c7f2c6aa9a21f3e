"""Graded questions of lesson 01: what a control valve does."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from lessons.practice import drawn_parts
from lessons.practice.valve.drop.parts_and_tags import PARTS as PRACTICE_PARTS
from lessons.practice.valve.drop.parts_and_tags import TAGS as PRACTICE_TAGS
from lessons.practice.valve.drop.parts_and_tags import tag_variants
from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.refinery import VALVES, pressures_at
from lessons.units.quantities import Q, rounded_to
from valvecalc.line import valve_resistance
from valvecalc.units import BAR, WATER_DENSITY

WATER_VALVES = ("TV-3301", "FV-1204", "LV-3340")
SHARES = tuple(round(0.36 + 0.03 * step, 2) for step in range(20))  # of the full flow


def _reading(tag: str, share: float) -> dict[str, Any]:
    """Return what gauges and flow meter read at a valve of a water line at a share of its full flow, rounded."""
    valve, pressures = VALVES[tag], [round(pressure, 1) for pressure in pressures_at(tag, share)]
    # Divided here, as both are in m³/h: turning units into others would load their library for every command.
    flow, drop = valve.line.full_flow.value / 3600 * share if valve.line else 0.0, pressures[0] - pressures[1]
    kv = math.sqrt(valve_resistance(1.0, WATER_DENSITY) / (drop * BAR)) * flow
    return {
        "tag": tag,
        "what": valve.service,
        "q": Q(rounded_to(flow * 3600, 2), "m³/h"),
        "dp": Q(round(drop, 1), "bar"),
        "p1": Q(pressures[0], "bar"),
        "p2": Q(pressures[1], "bar"),
        "kv": Q(rounded_to(kv, 2), "Kv"),
    }


PARTS = replace(
    PRACTICE_PARTS,
    id="drop.w1",
    text="The fitters' list goes by numbers on this drawing. What is each part called?",
    variants=tuple(
        drawn_parts.variant("control_valve", asked, spare, travel)
        for (asked, spare), travel in zip(
            drawn_parts.combinations_of(
                (
                    "spring, packing flange, bonnet, plug, body",
                    "diaphragm, air connection, yoke, stem, seat ring",
                    "vent, actuator stem, stem connector, bonnet, plug",
                    "spring adjuster, diaphragm plate, yoke, stem, body",
                    "spring, diaphragm, stem connector, bonnet, seat ring",
                    "air connection, yoke, packing flange, plug, body",
                    "spring, travel pointer, stem, bonnet, plug",
                    "diaphragm, actuator stem, packing flange, yoke, seat ring",
                    "vent, air connection, travel scale, stem, body",
                    "diaphragm, spring, yoke, bonnet, plug",
                    "diaphragm plate, stem connector, stem, body, seat ring",
                    "spring, actuator stem, yoke, bonnet, plug",
                ),
                "stem connector, packing flange, body, seat ring, yoke",
            ),
            (0.4, 0.7, 1.0) * 4,
            strict=True,
        )
    ),
    idea="Top down: air and spring, the stem that carries their force, and in the body plug and seat ring.",
    example="The coil is the spring, the frame is the yoke.",
    why="With the right name the storeman finds the right part at once.",
    points=2.0,
)

GAUGES = Question(
    id="drop.w2",
    kind="number",
    text="{tag}, {what}: {p1} on the gauge before it, {p2} on the gauge after it. At its present travel its flow "
    "coefficient is {kv}. How much passes?",
    variants=tuple(_reading(tag, share) for share in SHARES for tag in WATER_VALVES),
    key=lambda n: math.sqrt((n.p1 - n.p2) / valve_resistance(n.kv, WATER_DENSITY)),
    unit="m³/h",
    tolerance=0.0244,
    mistakes=(
        Mistake("no_root", by_family, "The root of the drop was left out.", credit=0.5),
        Mistake(
            "left_out_p2", by_family, "The pressure before the valve was taken for the drop across it.", credit=0.25
        ),
        Mistake("wrong_sign_p2", by_family, "The two pressures were added. The drop is their difference."),
    ),
    working=("drop [bar] = p1 - p2", "kv * sqrt(drop)"),
    idea="Work out the drop first. Then multiply the coefficient by its root.",
    step="Take {p2} from {p1}, take the root, and multiply by the number in {kv}.",
    why="Two gauges and a coefficient make a rough flow meter.",
    plausible=(0.0, 2000.0),
    points=2.0,
    source="IEC 60534-2-1, liquid equation, water, not choked: Q = Kv·√Δp",
)

COEFFICIENT = Question(
    id="drop.w3",
    kind="number",
    text="The flow meter reads {q} through {tag}, {what}, and the drop across it is {dp}. What is its flow "
    "coefficient at this travel?",
    variants=tuple(_reading(tag, share) for share in SHARES for tag in WATER_VALVES),
    key=lambda n: n.q * math.sqrt(valve_resistance(1.0, WATER_DENSITY) / n.dp),
    unit="Kv",
    tolerance=0.02,
    mistakes=(
        Mistake("no_root", by_family, "The flow was divided by the drop, not by its root.", credit=0.5),
        Mistake(
            "wrong_way_sqrt_dp", by_family, "The flow was multiplied by the root of the drop. Divide.", credit=0.25
        ),
    ),
    working=("q / sqrt(dp)",),
    idea="The flow is the coefficient times the root of the drop. So divide the flow by the root.",
    step="Divide the {q} by the root of {dp}.",
    why="In this way you learn what coefficient a valve in the line really has.",
    plausible=(0.0, 5000.0),
    points=2.0,
    source="IEC 60534-2-1, liquid equation, water, not choked: Kv = Q/√Δp",
)

CHANGES = Question(
    id="drop.w4",
    kind="several",
    text="{tag} {does} from {a} to {b} travel; its pump runs on as before and the vessel at the far end "
    "keeps its pressure. Which of these fall?",
    variants=tuple(
        {"tag": tag, "does": "opens" if b > a else "closes", "a": Q(a, "%"), "b": Q(b, "%")}
        for tag in ("FV-2107", "LV-2112", "TV-3301", "FV-1204")
        for a, b in ((70, 50), (45, 65), (55, 25))
    ),
    key=lambda n: {"drop", "before"} if n.b > n.a else {"flow", "pipe", "after"},
    options=(
        Option("flow", "the flow", "A valve that opens lets more through."),
        Option("drop", "the pressure drop across the valve", "With less flow more pressure is left for the valve."),
        Option("before", "the pressure just before the valve", "With less flow the pump gives more pressure."),
        Option("pipe", "the friction loss in the pipe behind the valve", "With more flow there is more friction."),
        Option("after", "the pressure just after the valve", "With more flow the pipe behind it pushes back more."),
        Option("static", "the static pressure", "No valve changes it."),
    ),
    idea="Find out first what the flow does. Then look at the pump's curve and the pipe's.",
    step="{tag} {does}: think of the black bar and its two ends.",
    example="Less flow: more pressure from the pump, less friction, a larger gap.",
    why="One movement of the valve changes every pressure in the line.",
    source="pressure balance of a pumped line, worked by hand",
)

TAGS = replace(
    PRACTICE_TAGS,
    id="drop.w5",
    text="A work order names {tag1}, {tag2}, {tag3} and {tag4}. Which does what?",
    variants=tag_variants(
        "PT-4015 PIC-4015 LV-2112 TI-3301 PI-4015 LT-2112",
        "FV-1204 FT-1204 TIC-3301 LI-2112 FIC-1204 TV-3301",
        "TT-3301 TV-3301 FIC-6204 PI-5102 TI-3301 FT-6204",
        "LIC-2112 PV-4015 FI-2107 TT-3301 LV-2112 PT-4015",
        "FIC-2107 LT-2112 PV-5102 TI-3301 FT-2107 LI-2112",
        "PI-4015 TIC-3301 FV-6204 LT-2112 PV-4015 LIC-2112",
        "LV-2112 LIC-2112 FT-1204 PI-5102 LI-2112 FV-1204",
        "TV-3301 PT-5102 FI-6204 LIC-2112 TIC-3301 PIC-5102",
        "FT-6204 FIC-6204 TI-3301 PV-4015 FV-6204 PT-4015",
        "PIC-5102 PV-5102 LT-2112 FI-1204 PT-5102 LV-2112",
        "LI-2112 FV-2107 PT-4015 TIC-3301 LT-2112 FI-2107",
        "TIC-3301 TT-3301 PI-4015 FV-1204 TV-3301 FT-1204",
    ),
    example="LIC: level, indicates, controls.",
    why="The tag tells you which instrument you have to walk to.",
)

QUESTIONS = (PARTS, GAUGES, COEFFICIENT, CHANGES, TAGS)
