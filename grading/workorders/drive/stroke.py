"""Graded questions of lesson 10: positioner, stroke test and calibration."""

from __future__ import annotations

from dataclasses import replace

from lessons.practice.charts_asked import chart_of
from lessons.practice.drive.stroke import BUTTERFLY, TAGS, readings, span_error, t86
from lessons.practice.drive.stroke import SPAN as PRACTICE_SPAN
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.units import fraction_from_signal, split_range

SPLIT = Question(
    id="stroke.w1",
    kind="number",
    text="The other half of the split range: PV-4015 is wide open at 4 mA and shut at 12 mA. The header's controller gives "
    "{ma}. How far should PV-4015 be open?",
    variants=tuple({"ma": Q(ma, "mA")} for ma in (5.4, 5.8, 5.6, 6.0, 6.4, 6.8, 7.2, 8.8, 9.0, 9.6, 10.0, 10.4)),
    key=lambda n: 1 - float(split_range(fraction_from_signal(n.ma, "4-20 mA"), 0.0, 0.5)),
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "not_turned",
            lambda n: (n.ma - 0.004) / 0.008,
            "That is how far it has closed: this valve is wide open at 4 mA.",
            credit=0.5,
        ),
        Mistake(
            "whole_range",
            lambda n: 1 - (n.ma - 0.004) / 0.016,
            "That would be a valve on the whole 4 to 20 mA.",
            credit=0.25,
        ),
    ),
    working=("1 - (ma - start) / part",),
    given=lambda _: {"start": Q(4, "mA"), "part": Q(8, "mA")},
    idea="It goes from open to shut between 4 and 12 mA. That is 8 mA.",
    step="Take 4 mA from {ma}, divide by 8 mA; that much it has closed.",
    why="At 12 mA both valves of this pair should be shut.",
    plausible=(0.0, 100.0),
    points=1.0,
    source="4-20 mA: IEC 60381-1, from memory; the split at 12 mA is common practice, no source",
)

SPAN = replace(
    PRACTICE_SPAN,
    id="stroke.w2",
    text="As found, {tag}, a swing-through butterfly valve. From the averages of up and down at both ends: how large is the span error, with its sign?",
    variants=tuple(
        {"tag": BUTTERFLY, "zero": zero, "span": span, "gap": 0.006, "bow": 0.003, "seed": 60 + i}
        for i, (zero, span) in enumerate(
            (
                (0.024, -0.042),
                (-0.018, 0.033),
                (0.021, 0.046),
                (-0.026, -0.035),
                (0.032, -0.054),
                (-0.028, 0.048),
                (0.017, 0.029),
                (-0.033, -0.044),
                (0.019, -0.031),
                (-0.024, 0.039),
                (0.029, 0.037),
                (-0.021, -0.047),
            )
        )
    ),
    mistakes=(
        Mistake(
            "end_error",
            lambda n: float(readings(n)[0][-1] + readings(n)[1][-1]) / 2 - 1,
            "That is the error at 100 %, with the zero error still in it.",
            credit=0.25,
        ),
        Mistake(
            "whole_span",
            lambda n: 1 + span_error(n),
            "That is the whole way travelled, not how far it is off.",
        ),
    ),
    idea="Take the way travelled from end to end, less 100 %.",
    why="The zero error is in both readings, so it cancels in the difference.",
    points=2.0,
)

CURE = Question(
    id="stroke.w3",
    kind="choice",
    text="As found, {tag}, a swing-through butterfly valve. What brings it back into its band of ±1 %?",
    variants=tuple(
        {"tag": BUTTERFLY, "right": fault, "size": size, "seed": 80 + 5 * i + k}
        for k, fault in enumerate(("zero", "span", "friction", "linkage"))
        for i, size in enumerate((0.026, -0.032, 0.038))
    ),
    key=lambda n: n.right,
    options=(
        Option("zero", "The zero screw alone", "A zero screw moves all readings by the same amount. Here that would cure some "
               "and spoil others."),
        Option("span", "The span screw alone", "A span screw tilts the line about its low end. This line is not tilted, or "
               "not only."),
        Option("friction", "No screw: look for friction and play", "Friction and play show as a gap between up and down. "
               "Here the two lie close together."),
        Option("linkage", "No screw: set the feedback lever square to the stem at half travel", "A crooked lever bends the "
               "line: right at both ends, off in the middle. This one is straight."),
    ),
    idea="Level, tilted, bent, or torn apart: each has its own cure.",
    step="Compare the errors at 0, 50 and 100 %, and up with down.",
    example="Level: zero. Tilted: span. Apart: friction. Bent: linkage.",
    why="Find out which fault it is before you take a screwdriver.",
    points=2.0,
    source="worked by hand: zero adds to all readings, span grows with the signal, friction parts up and down",
    figure=chart_of("as_found.fault_figure"),
    alt="Error of travel against signal at five points, up and down, over a band of 1 % either way.",
)  # fmt: skip

READ = Question(
    id="stroke.w4",
    kind="number",
    text="A step test of {tag}, as found. Read T86 off the trace.",
    variants=tuple(
        {"tag": TAGS[i % 3], "dead": dead, "constant": constant, "base": base, "step": step, "seed": 40 + i}
        for i, (dead, constant, base, step) in enumerate(
            (
                (0.5, 1.0, 0.40, 0.10),
                (0.8, 1.5, 0.30, 0.20),
                (0.6, 1.2, 0.50, 0.10),
                (0.9, 1.8, 0.40, 0.20),
                (1.1, 2.2, 0.30, 0.10),
                (0.8, 1.6, 0.60, 0.20),
                (0.7, 1.4, 0.50, 0.20),
                (1.3, 2.5, 0.40, 0.10),
                (1.0, 2.0, 0.30, 0.20),
                (0.6, 1.3, 0.60, 0.10),
                (1.5, 3.0, 0.50, 0.10),
                (0.9, 1.7, 0.40, 0.10),
            )
        )
    ),
    key=t86,
    unit="s",
    tolerance=0.07,
    mistakes=(
        Mistake("t63", lambda n: n.dead + n.constant, "That is T63.", credit=0.25),
        Mistake(
            "no_dead_time",
            lambda n: t86(n) - n.dead,
            "That is counted from the first movement. T86 counts from the step.",
            credit=0.5,
        ),
    ),
    working=("moment",),
    given=lambda n: {"moment": Q(round(t86(n), 2), "s")},
    idea="Count 86.5 % of the change on the travel. Count the time from the step of the signal.",
    step="Find the travel at which 86.5 % of the change is done, go across to the trace, and down to the time.",
    why="T86 is one number that says how quickly the valve gets there.",
    plausible=(0.0, 60.0),
    points=2.0,
    source="worked by hand: first-order response after a dead time, Td + τ·ln(1/0.135); T86 as in ISA-75.25.01, from memory",
    figure=chart_of("as_found.step_figure"),
    alt="Signal and travel against time on a grid: the signal steps, the travel waits and then rises to its new place.",
)

QUESTIONS = (SPLIT, SPAN, CURE, READ)
