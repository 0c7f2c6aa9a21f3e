"""Lesson 04: inherent characteristic and rangeability."""

from __future__ import annotations

import math

from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.characteristic import equal_percentage_travel

LESSON = "04_inherent_characteristic"
TERMS: dict[str, str] = {
    "relative flow coefficient": "The flow coefficient at a travel, as a share of the rated one, wide open.",
    "inherent characteristic": "How the flow coefficient changes with travel at a constant pressure drop.",
    "linear": "A trim that adds the same amount of flow coefficient for each step of travel.",
    "equal percentage": "A trim that adds the same percentage of what it already passes for each step of travel.",
    "quick opening": "A trim that gives most of its flow early in its travel; for valves that open or shut.",
    "rangeability": "The largest flow coefficient over the smallest at which a trim still keeps to its curve.",
}

CURVES = (
    Option(
        "linear",
        "Linear",
        "A linear trim adds the same amount for each equal piece of travel: at half travel it passes about half.",
    ),
    Option(
        "equal",
        "Equal percentage",
        "An equal percentage trim adds the same share of what it already passes: it "
        "starts slowly, and most of it comes near the open end.",
    ),
    Option("quick", "Quick opening", "A quick opening trim gives most of its flow early in its travel."),
)

# Relative flow coefficient at 25, 50 and 75 % travel [%]; a test works each row out again from the equations.
TABLES = (
    ("linear", 26.5, 51.0, 75.5),
    ("linear", 27.5, 51.7, 75.8),
    ("linear", 25.0, 50.0, 75.0),
    ("linear", 28.8, 52.5, 76.3),
    ("equal", 5.3, 14.1, 37.6),
    ("equal", 7.8, 18.3, 42.7),
    ("equal", 10.6, 22.4, 47.3),
    ("equal", 3.2, 10.0, 31.6),
    ("quick", 50.0, 70.7, 86.6),
    ("quick", 63.0, 79.4, 90.9),
    ("quick", 57.4, 75.8, 89.1),
    ("quick", 53.6, 73.2, 87.9),
)

PREDICT = Question(
    id="inherent.predict",
    kind="predict",
    text="FV-2107 has an equal percentage trim. Its stem stands at half travel, and the pressure drop across it is "
    "kept the same. How much of its full flow does it pass?",
    variants=({},),
    options=(
        Option("half", "About half"),
        Option("more", "Clearly more than half"),
        Option("less", "Clearly less than half"),
    ),
    why="Now move the slider to half travel and read the three curves.",
)

LINEAR = Question(
    id="inherent.linear",
    kind="number",
    text="A valve with linear trim has a rated flow coefficient of {kv}. What is its flow coefficient at {travel} "
    "travel? (Leave the small clearance flow out.)",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "travel": Q(travel, "%")}
        for kv, travel in zip(
            (25, 40, 63, 100, 160, 250, 25, 40, 63, 100, 160, 250),
            (20, 30, 35, 40, 45, 60, 65, 75, 78, 80, 15, 30),
            strict=True,
        )
    ),
    key=lambda n: n.kv * n.travel,
    unit="Kv",
    mistakes=(
        Mistake(
            "from_open",
            lambda n: n.kv * (1 - n.travel),
            "You measured the travel from the open end. Travel counts from closed: 0 % is shut, 100 % is full open.",
        ),
        Mistake(
            "root",
            lambda n: n.kv * math.sqrt(n.travel),
            "You took a square root. That belongs to quick opening; a linear trim goes up in a straight line.",
        ),
        Mistake(
            "equal_percentage",
            lambda n: n.kv * 50 ** (n.travel - 1),
            "You worked it out for an equal percentage trim. This one is linear.",
        ),
    ),
    working=("kv * travel",),
    idea="A linear trim passes the same share of its rated coefficient as the share of its travel.",
    step="Multiply the rated coefficient {kv} by the travel, {travel}.",
    why="A linear trim gives the same share of its rating as the share of its travel.",
    plausible=(0.0, 1000.0),
    source="IEC 60534-2-4: linear characteristic, with the clearance flow left out",
)

STEP = Question(
    id="inherent.step",
    kind="number",
    text="A valve has an equal percentage trim with an inherent rangeability of {r} to 1. By how many per cent does its "
    "flow coefficient grow with each 10 % of travel?",
    variants=tuple({"r": r} for r in (20, 24, 30, 35, 40, 42, 50, 55, 60, 70, 80, 85)),
    key=lambda n: n.r**0.1 - 1,
    unit="%",
    tolerance=0.01,
    mistakes=(
        Mistake(
            "whole_factor",
            lambda n: n.r**0.1,
            "That is what the coefficient becomes, counted from 100 %. The question asks how much is added.",
        ),
        Mistake(
            "linear_share",
            lambda n: (1 - 1 / n.r) / 10,
            "You shared the range out evenly. That is what a linear trim does; here each step multiplies.",
        ),
        Mistake(
            "divided",
            lambda n: n.r / 10 / 100,
            "You divided the rangeability by ten. Ten equal steps multiply up to it: take its tenth root.",
        ),
    ),
    working=("factor [] = r**0.1", "factor - 1"),
    idea="Ten equal steps must multiply the smallest coefficient up to the largest, which is {r} times as much.",
    step="Find the factor which, multiplied ten times, gives {r}: that is {r} to the power 0.1. Then take 1 away.",
    why="Each 10 % of travel multiplies the coefficient by the same factor: that is what the name means.",
    plausible=(0.0, 100.0),
    source="IEC 60534-2-4: equal percentage, Φ = R^(h−1), so the factor for 10 % travel is R^0.1",
)

COEFFICIENT = Question(
    id="inherent.coefficient",
    kind="number",
    text="A valve: rated flow coefficient {kv}, equal percentage, rangeability {r} to 1. The stem stands at {travel} "
    "travel. What is its flow coefficient there?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "r": r, "travel": Q(travel, "%")}
        for kv, r, travel in (
            (100, 50, 40),
            (100, 30, 55),
            (63, 50, 60),
            (63, 30, 35),
            (40, 50, 70),
            (40, 30, 60),
            (25, 50, 56),
            (25, 30, 40),
            (160, 50, 55),
            (160, 30, 65),
            (250, 50, 45),
            (250, 30, 70),
        )
    ),
    key=lambda n: n.kv * n.r ** (n.travel - 1),
    unit="Kv",
    mistakes=(
        Mistake(
            "linear",
            lambda n: n.kv * n.travel,
            "That would be a linear trim. An equal percentage trim passes much less in the middle of its travel.",
        ),
        Mistake(
            "from_open",
            lambda n: n.kv * n.r ** (-n.travel),
            "You counted the travel from the open end. At "
            "100 % travel the answer must come out as the rated coefficient.",
        ),
        Mistake(
            "clearance_only",
            lambda n: n.kv / n.r * (1 + n.travel),
            "You started from the smallest coefficient, which is right, but then added instead of multiplying.",
        ),
    ),
    working=("kv * r**(travel - 1)",),
    idea="Start from the rated coefficient and go down: each 10 % less travel divides by the same factor.",
    step="Take {r} to the power of (travel − 1), with travel {travel} as a fraction, and multiply by {kv}.",
    why="In the middle of its travel an equal percentage trim passes far less than half.",
    plausible=(0.0, 1000.0),
    source="IEC 60534-2-4: equal percentage, Φ = R^(h−1)",
)

TRAVEL = Question(
    id="inherent.travel",
    kind="number",
    text="The reflux needs {phi} of the rated flow coefficient of FV-2107, an equal percentage valve with a "
    "rangeability of {r} to 1. At what travel will the stem stand?",
    variants=tuple({"phi": Q(phi, "%"), "r": 50} for phi in (10, 12, 15, 20, 25, 33, 35, 40, 45, 55, 60, 65)),
    key=lambda n: float(equal_percentage_travel(n.phi, n.r)),
    unit="%",
    tolerance=0.015,
    mistakes=(
        Mistake(
            "linear", lambda n: n.phi, "That would be a linear trim: there, travel and coefficient are the same share."
        ),
        Mistake(
            "from_open",
            lambda n: -math.log(n.phi) / math.log(n.r),
            "That is how far the stem is from full open. The travel counts from closed.",
        ),
    ),
    working=("1 + ln(phi) / ln(r)",),
    idea="Read the curve backwards. Go from the coefficient on the left across to the curve, then down to the travel.",
    step="Travel = 1 + ln({phi} as a fraction) ÷ ln({r}). The logarithm is negative, so the travel is below 100 %.",
    why="Small flows use a good part of the travel. That is what an equal percentage trim is good for.",
    plausible=(0.0, 100.0),
    source="IEC 60534-2-4: equal percentage solved for the travel, h = 1 + ln Φ / ln R",
)

RANGEABILITY = Question(
    id="inherent.rangeability",
    kind="number",
    text="A trim was measured on the test stand. Its curve keeps within the permitted deviation from {low} up to "
    "{high}; below that it bends away, and shut it still passes {shut}. What is its inherent rangeability, to 1?",
    variants=tuple(
        {"low": Q(low, "Kv"), "high": Q(high, "Kv"), "shut": Q(shut, "Kv")}
        for low, high, shut in (
            (2.0, 100, 0.5),
            (3.0, 100, 0.6),
            (1.2, 63, 0.3),
            (2.1, 63, 0.4),
            (0.8, 40, 0.1),
            (1.3, 40, 0.25),
            (0.5, 25, 0.09),
            (0.8, 25, 0.2),
            (3.2, 160, 0.7),
            (5.0, 160, 1.1),
            (5.0, 250, 0.9),
            (8.0, 250, 1.5),
        )
    ),
    key=lambda n: n.high / n.low,
    mistakes=(
        Mistake(
            "leak",
            lambda n: n.high / n.shut,
            "You divided by what it passes when shut. Rangeability counts only "
            "the range in which the trim keeps to its curve.",
        ),
        Mistake(
            "difference",
            lambda n: n.high - n.low,
            "You took the difference. Rangeability is a ratio: largest divided by smallest.",
        ),
        Mistake("upside_down", lambda n: n.low / n.high, "You divided the smallest by the largest: turn it over."),
    ),
    working=("high / low",),
    names={"low": "smallest coefficient", "high": "largest coefficient"},
    idea="Rangeability is the largest coefficient divided by the smallest at which the trim still keeps to its curve.",
    step="Divide {high} by {low}. What it passes when shut does not come into it.",
    why="It is a ratio of coefficients within the permitted deviation, not of flows, and not over the leakage.",
    plausible=(1.0, 300.0),
    source="IEC 60534-2-4 and ISA-75.11.01 (second-hand): a ratio of flow coefficients; that it ends at the permitted "
    "deviation: from memory",
)

PICK = Question(
    id="inherent.pick",
    kind="choice",
    text="A trim came out of the store without a tag. On the test stand, at a constant pressure drop, it passed "
    "{a} of its full flow at 25 % travel, {b} at 50 % and {c} at 75 %. Which trim is it?",
    variants=tuple({"right": t, "a": Q(a, "%"), "b": Q(b, "%"), "c": Q(c, "%")} for t, a, b, c in TABLES),
    key=lambda n: n.right,
    options=CURVES,
    idea="Look at half travel first: about half, far less, or far more?",
    step="At half travel it passes {b}. Compare that with the three curves in the picture.",
    example="A trim that passes {b} at half travel: read it off the picture at 50 %.",
    why="At half travel the three curves are furthest apart. One look there is enough.",
    source="IEC 60534-2-4 for linear and equal percentage; a root of the travel for quick opening: from memory, no standard has one",
)

QUESTIONS = (PREDICT, LINEAR, STEP, COEFFICIENT, TRAVEL, RANGEABILITY, PICK)
