"""Graded questions of lesson 08: the force balance on the stem."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

from lessons.practice.drive.balance import SUPPLY as PRACTICE_SUPPLY
from lessons.practice.drive.balance import fluid, rim, seat
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.force_balance import largest_shutoff_dp
from valvecalc.plug_forces import circle_area

INPUT = "seat load wanted: an input of the exercise, from memory, common practice, no source"


def what_it_does(n: SimpleNamespace) -> str:
    """Tell what a spring-to-close valve does without air: "off", "light" or "tight"."""
    left = n.low * n.area - fluid(n) - n.friction
    return "off" if left <= 0 else "tight" if left >= seat(n) else "light"


CLOSING_FLOW = Question(
    id="balance.w1",
    kind="number",
    text="A valve is flow-to-close and air-to-open. Without air: bench set starts at {low}, effective area {area}; {dp} press "
    "on a plug of {port} from above; the packing holds back {friction}. What seat load is there on each millimetre or "
    "inch of rim? (Leave the stem's area out.)",
    variants=tuple(
        {
            "low": Q(low, "bar"),
            "area": Q(area, "cm²"),
            "dp": Q(dp, "bar"),
            "port": Q(port, "mm"),
            "friction": Q(friction, "N"),
        }
        for low, area, dp, port, friction in (
            (0.2, 320, 5.5, 40, 250),
            (0.2, 480, 10, 46, 300),
            (0.3, 350, 8, 36, 250),
            (0.2, 480, 6, 50, 300),
            (0.4, 320, 7, 46, 350),
            (0.3, 320, 12, 32, 200),
            (0.2, 640, 5, 70, 450),
            (0.25, 600, 8, 60, 400),
            (0.35, 500, 9, 40, 350),
            (0.2, 350, 11, 36, 250),
            (0.3, 700, 4, 65, 450),
            (0.4, 480, 6, 52, 400),
        )
    ),
    key=lambda n: (n.low * n.area + fluid(n) - n.friction) / rim(n),
    unit="N/mm",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "lifts",
            lambda n: (n.low * n.area - fluid(n) - n.friction) / rim(n),
            "The line pressure was taken to lift the plug. Here it comes from above and presses it down.",
            credit=0.5,
        ),
        Mistake(
            "no_friction",
            lambda n: (n.low * n.area + fluid(n)) / rim(n),
            "The packing friction is missing.",
            credit=0.5,
        ),
        Mistake(
            "over_diameter",
            lambda n: (n.low * n.area + fluid(n) - n.friction) / n.port,
            "It was divided by the diameter and not by the rim, π times the diameter.",
            credit=0.5,
        ),
    ),
    working=(
        "spring [N] = low * area",
        "line [N] = dp * circle(port)",
        "left [N] = spring + line - friction",
        "left / rim(port)",
    ),
    idea="In this valve the spring and the line pressure push the same way.",
    step="{low} on {area}, plus {dp} on the port, less {friction}; divide by π times {port}.",
    why="The line pressure helps, but only as long as it is there.",
    plausible=(0.0, 200.0),
    points=2.0,
    source="worked by hand: force balance, (p_low·A + Δp·π·d²/4 − F)/(π·d)",
)

SHUTOFF = Question(
    id="balance.w2",
    kind="number",
    text="A valve fails shut, flow-to-open. Bench set starts at {low}, effective area {area}, port {port}, packing friction "
    "{friction}, wanted seat load {load}. Against what pressure drop can it still shut?",
    variants=tuple(
        {
            "low": Q(low, "bar"),
            "area": Q(area, "cm²"),
            "port": Q(port, "mm"),
            "friction": Q(friction, "N"),
            "load": Q(load, "N/mm"),
        }
        for low, area, port, friction, load in (
            (0.8, 480, 46, 250, 7),
            (0.6, 480, 40, 300, 7),
            (0.7, 320, 36, 250, 6),
            (0.8, 640, 60, 450, 7),
            (0.6, 700, 50, 400, 7),
            (0.9, 350, 32, 300, 8),
            (0.8, 600, 52, 400, 5),
            (0.6, 600, 40, 300, 10),
            (0.9, 480, 46, 350, 7),
            (0.7, 500, 36, 300, 14),
            (0.8, 700, 65, 500, 7),
            (0.95, 320, 40, 250, 4),
        )
    ),
    key=lambda n: float(largest_shutoff_dp(n.low * n.area, circle_area(n.port), n.friction, seat(n))),
    unit="bar",
    tolerance=0.025,
    mistakes=(
        Mistake(
            "no_seat",
            lambda n: (n.low * n.area - n.friction) / circle_area(n.port),
            "At that drop nothing is left for the seat.",
            credit=0.5,
        ),
        Mistake(
            "no_friction",
            lambda n: (n.low * n.area - seat(n)) / circle_area(n.port),
            "The packing friction is missing.",
            credit=0.5,
        ),
        Mistake(
            "spring_only",
            lambda n: n.low * n.area / circle_area(n.port),
            "Neither friction nor seat load was taken off.",
            credit=0.25,
        ),
    ),
    working=(
        "spring [N] = low * area",
        "seat [N] = load * rim(port)",
        "left [N] = spring - friction - seat",
        "left / circle(port)",
    ),
    idea="What the spring has left after friction and seat is free to work against the line.",
    step="{low} on {area}, less {friction}, less {load} times the rim; divide by the port's area.",
    why="Above that pressure drop the valve does not shut as it should.",
    plausible=(0.0, 100.0),
    points=2.0,
    source=f"worked by hand: force balance, Δp = (p_low·A − F − π·d·load)/(π·d²/4); {INPUT}",
)

VERDICT = Question(
    id="balance.w3",
    kind="choice",
    text="A valve has lost its air. Spring to shut, bench set starts at {low}, effective area {area}; {dp} under a plug of "
    "{port}; packing friction {friction}; wanted seat load {load}. What does it do?",
    variants=tuple(
        {
            "low": Q(low, "bar"),
            "area": Q(area, "cm²"),
            "dp": Q(dp, "bar"),
            "port": Q(port, "mm"),
            "friction": Q(friction, "N"),
            "load": Q(load, "N/mm"),
        }
        for low, area, dp, port, friction, load in (
            (0.2, 480, 8, 46, 250, 7),
            (0.3, 320, 7, 40, 300, 7),
            (0.2, 640, 5, 65, 350, 6),
            (0.4, 480, 12, 46, 300, 7),
            (0.5, 480, 7, 46, 250, 7),
            (0.4, 320, 5, 40, 250, 7),
            (0.4, 640, 5, 60, 400, 8),
            (0.6, 350, 12, 36, 300, 9),
            (0.8, 480, 7, 46, 250, 7),
            (0.6, 480, 6, 40, 250, 7),
            (0.7, 640, 5, 60, 400, 7),
            (0.8, 350, 6, 36, 300, 8),
        )
    ),
    key=what_it_does,
    options=(
        Option("tight", "It shuts with the seat load wanted, or more", "Work out what is left on the rim and compare."),
        Option(
            "light",
            "It comes down on its seat, but with too little load",
            "Work out what is left on the rim and compare.",
        ),
        Option(
            "off", "It stays off its seat", "Work out whether the spring is stronger than line and friction together."
        ),
    ),
    idea="Spring less line less friction: below zero, or up to the load wanted, or above it?",
    step="{low} on {area}; less {dp} on the port; less {friction}. Compare with {load} times π times {port}.",
    example="If the sum of line and friction is larger than the spring, it stays off its seat.",
    why="There are three outcomes, and only the numbers tell which one it is.",
    points=2.0,
    source=f"worked by hand: force balance; {INPUT}",
)

SUPPLY = replace(
    PRACTICE_SUPPLY,
    id="balance.w4",
    text="A valve is air-to-close, flow-to-open. Bench set {low} to {high}, effective area {area}; {dp} on a port of {port}; "
    "packing friction {friction}; wanted seat load {load}. To what pressure must its air regulator be set at least?",
    variants=tuple(
        {
            "low": Q(low, "bar"),
            "high": Q(high, "bar"),
            "area": Q(area, "cm²"),
            "dp": Q(dp, "bar"),
            "port": Q(port, "mm"),
            "friction": Q(friction, "N"),
            "load": Q(load, "N/mm"),
        }
        for low, high, area, dp, port, friction, load in (
            (0.2, 1.0, 480, 7, 50, 300, 7),
            (0.2, 1.0, 700, 6, 70, 450, 6),
            (0.4, 1.2, 350, 9, 36, 300, 7),
            (0.4, 1.2, 480, 8, 46, 300, 5),
            (0.3, 1.1, 600, 5, 65, 400, 7),
            (0.2, 1.0, 320, 10, 32, 250, 8),
            (0.4, 1.4, 640, 8, 60, 400, 7),
            (0.3, 1.2, 500, 11, 40, 350, 7),
            (0.2, 1.0, 320, 5, 40, 250, 6),
            (0.6, 1.4, 480, 6, 52, 350, 7),
            (0.3, 1.1, 700, 4, 80, 500, 6),
            (0.2, 1.1, 480, 12, 36, 300, 9),
        )
    ),
    mistakes=(
        Mistake(
            "low_end",
            lambda n: n.low + (fluid(n) + n.friction + seat(n)) / n.area,
            "Shut, the spring of this valve is at its high end and not at the low one.",
            credit=0.5,
        ),
        Mistake(
            "no_seat", lambda n: n.high + (fluid(n) + n.friction) / n.area, "The seat load is missing.", credit=0.5
        ),
        Mistake(
            "helps",
            lambda n: n.high + (n.friction + seat(n) - fluid(n)) / n.area,
            "The line pressure was taken to help. It lifts the plug.",
            credit=0.25,
        ),
    ),
    idea="Shut, the spring is at its high end. Line, friction and seat come on top.",
    step="{dp} on the port, plus {friction}, plus {load} times the rim; divide by {area}; add {high}.",
    why="Never set the regulator above what the casing's nameplate allows.",
    points=2.0,
    source=f"worked by hand: force balance, p = p_high + (Δp·π·d²/4 + F + π·d·load)/A; {INPUT}",
)

MEASURES = Question(
    id="balance.w5",
    kind="several",
    text="{who} has a valve that is {kind} and flow-to-open. It does not shut against the line. Which of these would "
    "give its seat more force?",
    variants=tuple(
        {"who": who, "kind": kind}
        for who in ("Maro", "Ilse", "The day foreman", "The shift fitter", "The next unit", "Your instructor")
        for kind in ("air-to-open", "air-to-close")
    ),
    key=lambda n: {"area", "turn", *(("start_up",) if n.kind == "air-to-open" else ("start_down", "supply"))},
    options=(
        Option(
            "start_up",
            "Press the spring together more, so that the bench set starts higher",
            "In this valve the spring opens: pressing it together more takes force off the seat.",
        ),
        Option(
            "start_down",
            "Let the spring out, so that the bench set starts lower",
            "In this valve the spring shuts: letting it out takes force off the seat.",
        ),
        Option(
            "supply",
            "Raise the air supply, within what the casing allows",
            "Shut, this valve has no air in its actuator: the supply does nothing for its seat.",
        ),
        Option(
            "area",
            "Fit an actuator with a larger diaphragm and the same bench set",
            "More area on the same pressures is more force.",
        ),
        Option(
            "turn",
            "Have the body turned round, so that the fluid comes from above, if its data sheet allows it",
            "From above, the line pressure presses the plug down.",
        ),
        Option("packing", "Tighten the packing", "Friction works against the movement: it takes force off the seat."),
    ),
    idea="Ask first what shuts this valve, the spring or the air.",
    step="It is {kind}. Find what makes the shutting force larger or the holding force smaller.",
    example="In an air-to-open valve the spring shuts, so a higher bench start helps and more supply does not.",
    why="Every change is worked out and approved before it is made: the other end of the stroke pays for it.",
    points=2.0,
    source="statics, worked by hand, and which change is allowed is for the data sheet and the site to say",
)

QUESTIONS = (CLOSING_FLOW, SHUTOFF, VERDICT, SUPPLY, MEASURES)
