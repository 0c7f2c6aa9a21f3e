"""Lesson 05: installed flow, and why characteristics differ."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

from lessons.questions.question import Mistake, Option, Question
from lessons.refinery import line_of, pressures_at
from lessons.units.quantities import Q

LESSON = "05_installed_flow"
TERMS: dict[str, str] = {
    "installed characteristic": "How the flow changes with travel in a real line, where the pressure drop changes with the flow.",
    "pressure-drop ratio": "The drop across the open valve as a share of the whole drop in valve and pipework.",
}

# Pressure-drop ratio and relative flow coefficient, none of them close to where a wrong way gives the right answer.
PAIRS = (
    (50, 28),
    (50, 36),
    (40, 25),
    (40, 45),
    (30, 26),
    (30, 36),
    (25, 33),
    (25, 45),
    (20, 32),
    (20, 38),
    (15, 30),
    (10, 28),
)


def flow_share(n: SimpleNamespace) -> float:
    """Return installed flow over full flow: 1 / √(1 − a + a/Φ²)."""
    return float(1 / math.sqrt(1 - n.a + n.a / n.phi**2))


def at_share(tag: str, share: float) -> dict[str, Any]:
    """Return what pump, height and pipework of a valve's line take at a share of its full flow, to a tenth of a bar."""
    before, after = (round(pressure, 1) for pressure in pressures_at(tag, share))
    static = line_of(tag).static.value
    return {
        "tag": tag,
        "pump": Q(before, "bar"),
        "static": Q(static, "bar"),
        "pipe": Q(round(after - static, 1), "bar"),
    }


PREDICT = Question(
    id="installed.predict",
    kind="predict",
    text="LV-2112 has a linear trim. It was bought for a line in which it takes nearly all the pressure drop, and now "
    "it is fitted in a long, narrow line where the pipework takes most of it. What does its flow do as it opens?",
    variants=({},),
    options=(
        Option("same", "The same as before: the trim has not changed"),
        Option("early", "It comes early: most of the flow is there before half travel"),
        Option("late", "It comes late: most of the flow comes near full open"),
    ),
    why="Now take the pressure-drop ratio down with the slider and watch the linear curve.",
)

RATIO = Question(
    id="installed.ratio",
    kind="number",
    text="A valve is full open. At that flow {valve} are lost across the valve and {pipe} in the pipework and the cooler. "
    "What share of the total drop does the valve take (its pressure-drop ratio)?",
    variants=tuple(
        {"valve": Q(valve, "bar"), "pipe": Q(pipe, "bar")}
        for valve, pipe in zip(
            (0.5, 0.6, 0.8, 1.1, 1.2, 1.5, 0.4, 0.7, 0.9, 1.8, 2.0, 2.4),
            (1.5, 2.4, 1.2, 4.0, 1.8, 3.5, 3.6, 1.4, 2.1, 1.2, 3.0, 1.6),
            strict=True,
        )
    ),
    key=lambda n: n.valve / (n.valve + n.pipe),
    unit="%",
    mistakes=(
        Mistake(
            "over_pipe",
            lambda n: n.valve / n.pipe,
            "You divided by the pipework's drop. Divide by the total: valve and pipework together.",
        ),
        Mistake(
            "pipe_share",
            lambda n: n.pipe / (n.valve + n.pipe),
            "That is the share of the pipework. The question asks for the valve's.",
        ),
    ),
    working=("total [bar] = valve + pipe", "valve / total"),
    idea="A share is the part over the whole: the valve's drop over all of the drop.",
    step="Divide {valve} by the sum of {valve} and {pipe}.",
    why="The smaller this share is, the less the valve can change the flow when it is nearly open.",
    plausible=(0.0, 100.0),
    source="common practice, no source: drop across the open valve over the total dynamic drop",
)

QUARTER = Question(
    id="installed.quarter",
    kind="number",
    text="At full flow the pipework takes {pipe}. How much does it take at {q} of that flow?",
    variants=tuple(
        {"pipe": Q(pipe, "bar"), "q": Q(q, "%")}
        for pipe, q in zip(
            (2.0, 2.5, 3.0, 3.5, 4.0, 1.6, 1.2, 2.8, 3.2, 4.5, 5.0, 1.8),
            (50, 60, 40, 70, 30, 50, 80, 60, 25, 40, 20, 75),
            strict=True,
        )
    ),
    key=lambda n: n.pipe * n.q**2,
    unit="bar",
    mistakes=(
        Mistake(
            "in_proportion",
            lambda n: n.pipe * n.q,
            "You took it in proportion to the flow. Friction in a pipe goes with the square of the flow.",
        ),
        Mistake(
            "root",
            lambda n: n.pipe * math.sqrt(n.q),
            "You took the root. The flow goes with the root of the drop; the drop goes with the square of the flow.",
        ),
        Mistake(
            "lost", lambda n: n.pipe * (1 - n.q**2), "That is how much less it takes. The question asks what is left."
        ),
    ),
    working=("pipe * q**2",),
    names={"q": "share of full flow"},
    idea="Half the flow takes a quarter of the pressure: the drop goes with the square of the flow.",
    step="Square {q} as a fraction and multiply by {pipe}.",
    why="At low flow the pipe takes less pressure. The valve has to take the rest.",
    plausible=(0.0, 20.0),
    source="Darcy-Weisbach with a constant friction factor, from memory: turbulent friction loss goes with the square of the flow",
)

FLOW = Question(
    id="installed.flow",
    kind="number",
    text="A valve takes {a} of the total drop when it is full open. Now its flow coefficient is {phi} of the rated one. "
    "How much of the full flow passes?",
    variants=tuple({"a": Q(a, "%"), "phi": Q(phi, "%")} for a, phi in PAIRS),
    key=flow_share,
    unit="%",
    mistakes=(
        Mistake(
            "inherent",
            lambda n: n.phi,
            "That would be so at a constant drop across the valve. Here the valve "
            "gets more pressure when it throttles, so more passes.",
        ),
        Mistake(
            "no_root",
            lambda n: 1 / (1 - n.a + n.a / n.phi**2),
            "You forgot the root at the end: the flow goes with the root of the pressure.",
        ),
        Mistake(
            "not_squared",
            lambda n: 1 / math.sqrt(1 - n.a + n.a / n.phi),
            "You divided by the coefficient once. "
            "The drop goes with the square of the flow, so it is divided by the square.",
        ),
    ),
    working=("1 / sqrt(1 - a + a / phi**2)",),
    idea="The less it is open, the more of the total pressure the valve gets: more flow passes than its coefficient says.",
    step="Take a = {a} and Φ = {phi} as fractions, and work out 1 ÷ √(1 − a + a/Φ²).",
    why="Compare it with the coefficient: the installed flow is always the larger share.",
    plausible=(0.0, 100.0),
    source="worked by hand: constant total pressure, pipe loss with the square of the flow, q = 1/√(1 − a + a/Φ²)",
)

DROP = Question(
    id="installed.drop",
    kind="number",
    text="Full open, a valve takes {a} of the total drop, which is {total} and does not change. At {q} of full flow, "
    "what is the drop across the valve?",
    variants=tuple(
        {"a": Q(a, "%"), "q": Q(q, "%"), "total": Q(total, "bar")}
        for a, q, total in (
            (20, 50, 4.0),
            (25, 60, 4.0),
            (30, 50, 5.0),
            (10, 50, 3.0),
            (20, 70, 6.0),
            (40, 50, 2.5),
            (30, 60, 3.5),
            (10, 70, 4.5),
            (25, 40, 6.0),
            (15, 50, 5.0),
            (35, 70, 3.0),
            (20, 45, 2.0),
        )
    ),
    key=lambda n: n.total * (1 - (1 - n.a) * n.q**2),
    unit="bar",
    mistakes=(
        Mistake(
            "as_full_open",
            lambda n: n.total * n.a,
            "That is the drop full open. With less flow the pipework takes less, and the valve gets what it leaves.",
        ),
        Mistake(
            "valve_squared",
            lambda n: n.total * n.a * n.q**2,
            "You let the valve's own drop fall with the flow. "
            "The pipework's drop falls; the valve takes the rest of the total.",
        ),
        Mistake(
            "in_proportion",
            lambda n: n.total * (1 - (1 - n.a) * n.q),
            "You took the pipework's drop in proportion to the flow: it goes with the square.",
        ),
    ),
    working=("pipework [bar] = (1 - a) * total * q**2", "total - pipework"),
    names={"q": "share of full flow"},
    idea="Work out what the pipework takes at this flow; the valve takes all the rest.",
    step="The pipework takes (1 − {a}) of {total} at full flow; times the square of {q}. Take that from {total}.",
    why="A throttled valve has far more pressure across it than an open one. Its trim has to stand that.",
    plausible=(0.0, 20.0),
    source="worked by hand: constant total pressure, Δp = Δp_total·(1 − (1 − a)·q²)",
)

PUMP = Question(
    id="installed.pump",
    kind="number",
    text="The pump of {tag} gives {pump} at this flow. {static} go to lifting the liquid and to the pressure at the far "
    "end, {pipe} to the pipework. What is left for the valve?",
    variants=tuple(
        at_share(tag, share) for share in (0.95, 0.8, 0.65, 0.55) for tag in ("FV-6204", "TV-3301", "FV-1204")
    ),
    key=lambda n: n.pump - n.static - n.pipe,
    unit="bar",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "no_static",
            lambda n: n.pump - n.pipe,
            "You left out the static part: lifting the liquid takes its pressure at every flow.",
        ),
        Mistake("no_pipe", lambda n: n.pump - n.static, "You left out the pipework."),
        Mistake(
            "sum_of_losses",
            lambda n: n.static + n.pipe,
            "That is what the others take. The valve gets what is left of the pump's pressure.",
        ),
    ),
    working=("pump - static - pipe",),
    idea="The pump's pressure is spent in three places. What the first two do not take is left for the valve.",
    step="Take {static} and {pipe} from {pump}.",
    why="A valve has no pressure drop of its own. It gets what the line leaves it.",
    plausible=(0.0, 20.0),
    source="pressure balance of a line, worked by hand",
)

RANGE = Question(
    id="installed.range",
    kind="number",
    text="A trim has an inherent rangeability of {r} to 1. In its line the valve takes {a} of the drop when full open. "
    "Over what range, to 1, can it turn the flow down?",
    variants=tuple(
        {"r": r, "a": Q(a, "%")}
        for r, a in (
            (50, 10),
            (50, 20),
            (50, 25),
            (50, 40),
            (30, 10),
            (30, 20),
            (30, 30),
            (30, 50),
            (100, 5),
            (100, 10),
            (100, 20),
            (20, 25),
        )
    ),
    key=lambda n: math.sqrt(1 - n.a + n.a * n.r**2),
    tolerance=0.03,
    mistakes=(
        Mistake(
            "inherent",
            lambda n: n.r,
            "That is the trim's own range. In the line the smallest flow is pushed "
            "through with more pressure, so the range shrinks.",
        ),
        Mistake(
            "no_root",
            lambda n: n.r * n.a,
            "You multiplied by the share itself. The flow goes with the root of "
            "the pressure: take the root of the share.",
        ),
    ),
    working=("r * sqrt(a)",),
    idea="At the smallest opening the valve gets all the pressure, so more passes: the range shrinks by about √a.",
    step="Multiply {r} by the root of {a} taken as a fraction.",
    why="A trim of 50 to 1 does not turn the flow down 50 to 1 once it is in a line.",
    plausible=(1.0, 200.0),
    source="worked by hand: q at Φ = 1/R with q = 1/√(1 − a + a/Φ²), about R·√a",
)

CHOOSE = Question(
    id="installed.choose",
    kind="choice",
    text="{service}: full open the valve would take about {a} of the drop. Which trim gives the straighter flow in this "
    "line (both with a rangeability of 50)?",
    variants=tuple(
        {"service": service, "a": Q(a, "%")}
        for service, a in zip(
            (
                "A long line to the tank farm",
                "A short line between two drums",
                "Cooling water through a dirty cooler",
                "A header kept at constant pressure",
            ),
            (8, 85, 12, 95),
            strict=True,
        )
        for a in (a, a - 3, a + 4)
    ),
    key=lambda n: "linear" if n.a > 0.5 else "equal",
    options=(
        Option(
            "linear",
            "Linear",
            "With so small a share for the valve, a linear trim gives most of its flow in the "
            "first part of its travel: look at its curve at a small ratio.",
        ),
        Option(
            "equal",
            "Equal percentage",
            "The valve takes nearly all of the drop here, so its flow follows the trim "
            "itself, and an equal percentage trim stays bent.",
        ),
    ),
    idea="Set the slider to this ratio and look which of the two curves is closer to a straight line.",
    step="Set the ratio to {a} and compare both curves with the dotted straight line.",
    example="Where the valve takes most of the drop, linear is straighter; where the pipework does, equal percentage.",
    why="Where the valve takes most of the drop, linear is straighter. Where the pipework takes most, equal percentage is.",
    source="computed here: rms distance from a straight line is equal near a = 0.30 for R = 50",
)

QUESTIONS = (PREDICT, RATIO, QUARTER, FLOW, DROP, PUMP, RANGE, CHOOSE)
