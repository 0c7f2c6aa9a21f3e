"""Graded questions of lesson 04: inherent characteristic and rangeability."""

from __future__ import annotations

import math
from dataclasses import replace

from lessons.practice.flow.inherent import COEFFICIENT as PRACTICE_COEFFICIENT
from lessons.practice.flow.inherent import PICK as PRACTICE_PICK
from lessons.practice.flow.inherent import TABLES
from lessons.questions.question import Mistake, Question
from lessons.units.quantities import Q

FROM_STEP = Question(
    id="inherent.w1",
    kind="number",
    text="The data sheet of a valve says: equal percentage, each 10 % of travel adds {g} to what passed before. If that "
    "holds over the whole travel, what inherent rangeability, to 1, does it imply?",
    variants=tuple({"g": Q(g, "%")} for g in (31, 33, 36, 38, 42, 45, 47, 50, 52, 55, 58, 62)),
    key=lambda n: (1 + n.g) ** 10,
    tolerance=0.03,
    mistakes=(
        Mistake(
            "added",
            lambda n: 1 + 10 * n.g,
            "The steps were added up. They multiply: each counts from what was there before.",
            credit=0.25,
        ),
        Mistake(
            "nine_steps", lambda n: (1 + n.g) ** 9, "One step is missing: from 0 to 100 % there are ten.", credit=0.5
        ),
        Mistake("without_one", lambda n: 10 * n.g, "The steps were added up, and what was there before was left out."),
    ),
    working=("factor [] = 1 + g", "factor**10"),
    names={"g": "growth in a step"},
    idea="Ten steps of 10 % travel make the whole travel. They multiply, they do not add.",
    step="Multiply (1 + {g} as a fraction) by itself, ten times in all.",
    why="Ten steps of 47.9 % more make 50 to 1, for 1.479 to the power 10 is 50.",
    plausible=(1.0, 1000.0),
    points=2.0,
    source="IEC 60534-2-4: equal percentage, Φ = R^(h−1), so R is the factor for 10 % travel to the tenth power",
)

MIDDLE = replace(
    PRACTICE_COEFFICIENT,
    id="inherent.w2",
    text="A valve has a rated flow coefficient of {kv}, an equal percentage trim and a rangeability of {r} to 1. The "
    "board man reads {travel} travel. What is its flow coefficient now?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "r": r, "travel": Q(travel, "%")}
        for kv, r, travel in (
            (110, 50, 65),
            (90, 40, 55),
            (75, 50, 45),
            (130, 30, 35),
            (48, 40, 70),
            (36, 50, 62),
            (28, 30, 48),
            (180, 50, 38),
            (220, 40, 52),
            (140, 30, 58),
            (95, 50, 72),
            (60, 40, 42),
        )
    ),
    mistakes=(
        Mistake("linear", lambda n: n.kv * n.travel, "This was worked as a linear trim."),
        Mistake(
            "from_open", lambda n: n.kv * n.r ** (-n.travel), "The travel was counted from the open end.", credit=0.5
        ),
    ),
    idea="Start from the rated coefficient and go down.",
    step="Take {r} to the power of (travel − 1), with {travel} as a fraction, and multiply by {kv}.",
    points=2.0,
)

STAND = replace(
    PRACTICE_PICK,
    id="inherent.w3",
    text="Work order: identify the trim in the crate beside PV-5102. Test stand, constant drop: {a} of its full flow at "
    "25 % travel, {b} at 50 %, {c} at 75 %. What is it?",
    variants=tuple(
        {"right": kind, "a": Q(a, "%"), "b": Q(b, "%"), "c": Q(c, "%")} for kind, a, b, c in reversed(TABLES)
    ),
    idea="Look first at what passes at half travel.",
    step="At half travel it passes {b}: about half, far less, or far more?",
    example="At half travel the three curves are furthest apart. One look there is enough.",
    points=1.0,
)

TRAVEL = Question(
    id="inherent.w4",
    kind="number",
    text="The wash water needs a flow coefficient of {need}. FV-1204 has {kv} rated, equal percentage, {r} to 1. At "
    "what travel will it stand?",
    variants=tuple(
        {"need": Q(need, "Kv"), "kv": Q(25, "Kv"), "r": 50} for need in (3, 4, 5, 6, 7, 8, 9.5, 10, 11, 12, 14, 16)
    ),
    key=lambda n: 1 + math.log(n.need / n.kv) / math.log(n.r),
    unit="%",
    tolerance=0.015,
    mistakes=(
        Mistake("linear", lambda n: n.need / n.kv, "This was worked as a linear trim."),
        Mistake(
            "from_open",
            lambda n: -math.log(n.need / n.kv) / math.log(n.r),
            "This is the distance from full open.",
            credit=0.5,
        ),
    ),
    working=("phi [%] = need / kv", "1 + ln(phi) / ln(r)"),
    idea="Read the curve from the coefficient back to the travel.",
    step="Divide {need} by {kv}; travel = 1 + ln(that) ÷ ln({r}).",
    why="Even small flows use a good part of the travel. That is what this trim is good for.",
    plausible=(0.0, 100.0),
    points=2.0,
    source="IEC 60534-2-4: equal percentage solved for the travel, h = 1 + ln Φ / ln R",
)

QUESTIONS = (FROM_STEP, MIDDLE, STAND, TRAVEL)
