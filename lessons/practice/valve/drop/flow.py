"""Lesson 01, the flow: what throttling does to a pumped line, and flow from drop and coefficient."""

from __future__ import annotations

import math
from types import SimpleNamespace

from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.units.quantities import Q
from valvecalc.line import valve_resistance
from valvecalc.units import WATER_DENSITY


def water_flow(n: SimpleNamespace) -> float:
    """Return what a coefficient passes of water at a drop: Kv · √Δp."""
    return float(math.sqrt(n.dp / valve_resistance(n.kv, WATER_DENSITY)))


PREDICT = Question(
    id="drop.predict",
    kind="predict",
    text="Maro closes FV-2107 a little, so that less flow passes. Nobody touches the pump. What does the "
    "pressure drop across the valve do: the pressure before it less the pressure after it?",
    variants=({},),
    options=(
        Option("falls", "It falls: less flow, less drop"),
        Option("stays", "It stays: the pump is the same"),
        Option("rises", "It rises"),
    ),
    why="Now close the valve with the slider and watch the black bar.",
)

ROOT = Question(
    id="drop.root",
    kind="number",
    text="A valve passes {q} at a drop of {dp1}. It stays at the same travel, but now the drop is {dp2}. What "
    "does it pass?",
    variants=tuple(
        {"q": Q(q, "m³/h"), "dp1": Q(dp1, "bar"), "dp2": Q(dp2, "bar")}
        for q, dp1, dp2 in (
            (50, 1.5, 6),
            (30, 1.2, 2.4),
            (240, 0.8, 2),
            (12, 1.5, 4.5),
            (80, 6, 1.5),
            (40, 2, 3.5),
            (300, 1.2, 3),
            (9, 6, 1.5),
            (24, 5.6, 2.8),
            (60, 0.9, 2.5),
            (150, 2.4, 0.6),
            (18, 3.6, 1.8),
        )
    ),
    key=lambda n: n.q * math.sqrt(n.dp2 / n.dp1),
    unit="m³/h",
    mistakes=(
        Mistake(
            "in_proportion",
            lambda n: n.q * n.dp2 / n.dp1,
            "You took the flow in proportion to the drop. It goes with "
            "the root of the drop: four times the drop, twice the flow.",
        ),
        Mistake(
            "upside_down",
            lambda n: n.q * math.sqrt(n.dp1 / n.dp2),
            "You took the root, but upside down: more drop pushes more through.",
        ),
        Mistake(
            "squared",
            lambda n: n.q * (n.dp2 / n.dp1) ** 2,
            "You squared. The drop goes with the square of the flow; the flow goes with the root of the drop.",
        ),
    ),
    working=("q * sqrt(dp2 / dp1)",),
    idea="Four times the drop gives twice the flow: the flow goes with the root of the drop.",
    step="Divide {dp2} by {dp1}, take the root, and multiply {q} by it.",
    why="To double the flow at one travel you need four times the drop.",
    plausible=(0.0, 2000.0),
    source="IEC 60534-2-1, liquid equation at one flow coefficient, not choked: Q in proportion to √Δp",
)

FLOW = Question(
    id="drop.flow",
    kind="number",
    text="At its present travel a valve has a flow coefficient of {kv}. The drop across it is {dp}. How much "
    "passes, of a liquid as heavy as water?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "dp": Q(dp, "bar")}
        for kv, dp in zip(
            (40, 16, 250, 10, 63, 25, 160, 6.3, 80, 32, 400, 12.5),
            (4, 2.5, 2, 6, 1.6, 5, 3, 8, 2.2, 3.6, 0.5, 7),
            strict=True,
        )
    ),
    key=water_flow,
    unit="m³/h",
    mistakes=(
        Mistake("no_root", by_family, "You multiplied by the drop itself. Multiply by its root."),
        Mistake(
            "left_out_sqrt_dp",
            by_family,
            "That is what passes at a drop of 1, which is what the coefficient says. Here the drop is {dp}.",
        ),
    ),
    working=("kv * sqrt(dp)",),
    idea="The coefficient tells the flow at a drop of one. At another drop, multiply by its root.",
    step="Take the root of {dp} and multiply it by the number in {kv}.",
    why="Flow is coefficient times the root of the drop. You will use this for the rest of your working life.",
    plausible=(0.0, 2000.0),
    source="IEC 60534-2-1, liquid equation, water, not choked: Q = Kv·√Δp",
)

NEED = Question(
    id="drop.need",
    kind="number",
    text="A valve has a flow coefficient of {kv} at its present travel, and {q} are wanted through it, of a "
    "liquid as heavy as water. What drop does that take?",
    variants=tuple(
        {"kv": Q(kv, "Kv"), "q": Q(q, "m³/h")}
        for kv, q in zip(
            (40, 16, 250, 10, 63, 25, 160, 6.3, 80, 32, 400, 12.5),
            (70, 24, 400, 22, 90, 55, 270, 15, 120, 60, 660, 30),
            strict=True,
        )
    ),
    key=lambda n: valve_resistance(n.kv, WATER_DENSITY) * n.q**2,
    unit="bar",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "not_squared", by_family, "You divided, but forgot to square. The drop goes with the square of the flow."
        ),
        Mistake(
            "upside_down", by_family, "You divided the wrong way round. Take flow over coefficient, then square it."
        ),
    ),
    working=("(q / kv)**2",),
    idea="Turn it round: the root of the drop is the flow over the coefficient.",
    step="Divide the {q} by the number in {kv}, and square what you get.",
    why="A flow that is twice as large costs four times the drop.",
    plausible=(0.0, 100.0),
    source="IEC 60534-2-1, liquid equation, water, not choked: Δp = (Q/Kv)²",
)

RISES = Question(
    id="drop.rises",
    kind="several",
    text="{tag} stands between its pump and the long pipe to the vessel. Its controller {does} it from {a} "
    "to {b} travel. Which of these rise?",
    variants=tuple(
        {"tag": tag, "does": "opens" if b > a else "closes", "a": Q(a, "%"), "b": Q(b, "%")}
        for tag in ("FV-2107", "LV-2112", "TV-3301", "FV-1204")
        for a, b in ((60, 40), (35, 55), (80, 65))
    ),
    key=lambda n: {"flow", "pipe", "after"} if n.b > n.a else {"drop", "before"},
    options=(
        Option("flow", "the flow", "A valve that closes lets less through."),
        Option(
            "drop",
            "the pressure drop across the valve",
            "With more flow the pump gives less pressure and the pipe takes more, so less is left for the valve.",
        ),
        Option(
            "before", "the pressure just before the valve", "More flow, less pressure from the pump: its curve falls."
        ),
        Option(
            "pipe",
            "the friction loss in the pipe",
            "Friction goes with the square of the flow, and the flow gets less.",
        ),
        Option(
            "after",
            "the pressure just after the valve",
            "Behind the valve only the vessel and the pipe's friction push back, and the friction gets less.",
        ),
        Option("static", "the static pressure", "It is there without any flow, and so no valve can change it."),
    ),
    idea="Find out first whether the flow rises or falls. The pump's curve and the pipe's tell the rest.",
    step="{tag} {does}: move the slider of the picture the same way and watch both ends of the black bar.",
    example="Flow down: the pump's pressure goes up its curve, the pipe's friction falls, the gap between them grows.",
    why="Gauges before and after a valve move apart when it closes.",
    source="pressure balance of a pumped line, worked by hand",
)
