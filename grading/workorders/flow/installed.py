"""Graded questions of lesson 05: installed flow, and why characteristics differ."""

from __future__ import annotations

import math
from dataclasses import replace

from lessons.practice.flow.installed import DROP as PRACTICE_DROP
from lessons.practice.flow.installed import FLOW as PRACTICE_FLOW
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q

SHARE = Question(
    id="installed.w1",
    kind="number",
    text="A valve, full open: {before} before it, {after} after it. The whole line, pump to far end, has {total} to "
    "spend at that flow. What is the pressure-drop ratio?",
    variants=tuple(
        {"before": Q(before, "bar"), "after": Q(after, "bar"), "total": Q(total, "bar")}
        for before, after, total in zip(
            (5.2, 3.6, 2.8, 8.4, 6.1, 4.0, 3.6, 9.2, 5.8, 4.4, 2.6, 7.5),
            (4.0, 1.2, 1.9, 6.9, 4.6, 2.2, 2.7, 7.2, 4.9, 2.0, 1.4, 6.1),
            (4.4, 3.2, 3.4, 4.0, 4.1, 2.4, 4.8, 5.0, 6.4, 3.0, 2.0, 4.0),
            strict=True,
        )
    ),
    key=lambda n: (n.before - n.after) / n.total,
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "before_over_total",
            lambda n: n.before / n.total,
            "The pressure before the valve was taken for the drop across it.",
            credit=0.25,
        ),
        Mistake(
            "over_before",
            lambda n: (n.before - n.after) / n.before,
            "The drop was divided by the pressure before the valve and not by the line's total.",
            credit=0.25,
        ),
        Mistake(
            "pipe_share", lambda n: 1 - (n.before - n.after) / n.total, "That is the share of the pipework.", credit=0.5
        ),
    ),
    working=("drop [bar] = before - after", "drop / total"),
    idea="The ratio is the valve's drop divided by the whole drop.",
    step="Take {after} from {before}, and divide by {total}.",
    why="Two gauges and the total of the line are all you need for the ratio.",
    plausible=(0.0, 100.0),
    points=1.0,
    source="common practice, no source: drop across the open valve over the total dynamic drop",
)

FLOW = replace(
    PRACTICE_FLOW,
    id="installed.w2",
    text="Full open, the valve takes {a} of the drop. The controller has it at an opening where its flow coefficient is "
    "{phi} of the rated one. How much of the full flow passes?",
    variants=tuple(
        {"a": Q(a, "%"), "phi": Q(phi, "%")}
        for a, phi in (
            (45, 26),
            (45, 33),
            (35, 24),
            (35, 33),
            (28, 27),
            (28, 22),
            (22, 30),
            (22, 36),
            (18, 34),
            (15, 26),
            (12, 31),
            (32, 40),
        )
    ),
    mistakes=(
        Mistake("inherent", lambda n: n.phi, "That would be so at a constant drop across the valve."),
        Mistake("no_root", lambda n: 1 / (1 - n.a + n.a / n.phi**2), "The root at the end was forgotten.", credit=0.5),
        Mistake(
            "not_squared",
            lambda n: 1 / math.sqrt(1 - n.a + n.a / n.phi),
            "The coefficient was not squared.",
            credit=0.5,
        ),
    ),
    idea="When the valve throttles, it gets more of the pressure. So more passes than its coefficient says.",
    step="With a = {a} and Φ = {phi} as fractions: 1 ÷ √(1 − a + a/Φ²).",
    why="The installed flow is always a larger share than the coefficient.",
    points=2.0,
)

CHOOSE = Question(
    id="installed.w3",
    kind="choice",
    text="Order a trim, rangeability 50: {service}. Full open the valve takes {a} of the drop. Which trim keeps the "
    "flow closest to a straight line?",
    variants=tuple(
        {"service": service, "a": Q(a, "%")}
        for service, shares in (
            ("kerosene rundown through a long line", (6, 11, 14)),
            ("bypass straight from drum to drum", (82, 88, 93)),
            ("cooling water behind a dirty cooler", (9, 13, 16)),
            ("make-up from a constant pressure header", (80, 90, 96)),
        )
        for a in shares
    ),
    key=lambda n: "linear" if n.a > 0.5 else "equal",
    options=(
        Option("linear", "Linear", "With so small a share, a linear trim gives most of its flow early."),
        Option("equal", "Equal percentage", "With so large a share the flow follows the trim itself, which is bent."),
        Option("quick", "Quick opening", "A quick opening trim gives most of its flow early in any line."),
    ),
    idea="Set this ratio in the picture and see which curve is straighter.",
    step="Set the ratio to {a} and compare the curves with the straight line.",
    example="Where the valve takes most of the drop, linear is straighter. Where the pipework takes most, equal percentage is.",
    why="Where the valve takes most of the drop, linear is straighter. Where the pipework takes most, equal percentage is.",
    points=1.0,
    source="computed here: rms distance from a straight line is equal near a = 0.30 for R = 50",
)

THROTTLED = replace(
    PRACTICE_DROP,
    id="installed.w4",
    text="A line has {total} to spend at every flow. Full open, its valve takes {a} of it. At {q} of full flow, what "
    "drop does the trim work against?",
    variants=tuple(
        {"a": Q(a, "%"), "q": Q(q, "%"), "total": Q(total, "bar")}
        for a, q, total in (
            (18, 55, 4.2),
            (22, 65, 4.8),
            (28, 45, 5.4),
            (12, 52, 3.2),
            (24, 72, 6.4),
            (38, 55, 2.8),
            (32, 62, 3.8),
            (14, 68, 4.6),
            (26, 42, 6.2),
            (16, 48, 5.2),
            (34, 66, 3.4),
            (20, 35, 2.2),
        )
    ),
    mistakes=(
        Mistake("as_full_open", lambda n: n.total * n.a, "That is the drop full open."),
        Mistake("valve_squared", lambda n: n.total * n.a * n.q**2, "The valve's own drop was let fall with the flow."),
        Mistake(
            "in_proportion",
            lambda n: n.total * (1 - (1 - n.a) * n.q),
            "The pipework's drop was taken in proportion to the flow: it goes with the square.",
            credit=0.5,
        ),
    ),
    idea="Work out what the pipework takes. The valve takes the rest.",
    step="The pipework takes (1 − {a}) of {total} at full flow. Multiply that by the square of {q}, and take it from {total}.",
    why="A throttled valve has far more pressure across it than an open one. Its trim has to stand that.",
    points=2.0,
)

QUESTIONS = (SHARE, FLOW, CHOOSE, THROTTLED)
