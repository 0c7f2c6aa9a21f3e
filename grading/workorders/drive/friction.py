"""Graded questions of lesson 09: packing, friction, dead band and hunting."""

from __future__ import annotations

from dataclasses import replace

from lessons.practice.charts_asked import chart_of
from lessons.practice.drive.friction import FLOWS, friction_of, loop_at_half
from lessons.practice.drive.friction import FORCE as PRACTICE_FORCE
from lessons.practice.drive.friction import TRACE as PRACTICE_TRACE
from lessons.questions.question import Mistake, Question
from lessons.units.quantities import Q
from valvecalc.packing import signal_dead_band

FORCE = replace(
    PRACTICE_FORCE,
    id="friction.w1",
    text="Repacking a valve: stem {stem}, {rings} rings of {height}, gland stress {stress}, friction coefficient {mu}, and "
    "half of the stress acts on the stem (Y = 0.5). What packing friction is to be expected?",
    variants=tuple(
        {"stem": Q(stem, "mm"), "rings": rings, "height": Q(height, "mm"), "stress": Q(stress, "bar"), "mu": mu}
        for stem, rings, height, stress, mu in (
            (10, 5, 6, 90, 0.09),
            (12, 6, 5, 110, 0.07),
            (12, 5, 8, 70, 0.06),
            (14, 5, 8, 90, 0.05),
            (14, 6, 8, 75, 0.09),
            (18, 5, 8, 65, 0.07),
            (10, 5, 6, 130, 0.09),
            (14, 5, 6, 85, 0.10),
            (18, 5, 9, 75, 0.06),
            (20, 6, 9, 45, 0.06),
            (22, 6, 10, 50, 0.05),
            (14, 6, 6, 125, 0.05),
        )
    ),
    mistakes=(
        Mistake(
            "all_of_it",
            lambda n: 2 * friction_of(n),
            "All of the gland stress was let act on the stem; half of it does.",
            credit=0.5,
        ),
        Mistake("one_ring", lambda n: friction_of(n) / n.rings, "That is one ring only.", credit=0.25),
    ),
    idea="Multiply three things: the area the rings touch, the pressure on it, and the friction coefficient.",
    step="π × {stem} × {rings} × {height} × {stress} × 0.5 × {mu}.",
    why="Known before the job, it tells you whether the actuator is strong enough.",
    points=1.0,
)

HELPED = Question(
    id="friction.w2",
    kind="number",
    text="A valve has packing friction {friction}, effective area {area}, bench set {low} to {high}. It gets a positioner that "
    "turns a signal change into {gain} times as much air while the stem rests. How large is the dead band then, as a share "
    "of the signal?",
    variants=tuple(
        {
            "friction": Q(friction, "N"),
            "area": Q(area, "cm²"),
            "low": Q(low, "bar"),
            "high": Q(high, "bar"),
            "gain": gain,
        }
        for friction, area, low, high, gain in (
            (300, 320, 0.2, 1.0, 10),
            (350, 480, 0.4, 2.0, 8),
            (280, 320, 0.2, 1.0, 15),
            (420, 480, 0.2, 1.0, 20),
            (480, 640, 0.4, 1.2, 12),
            (240, 200, 0.8, 2.4, 10),
            (520, 480, 0.4, 2.0, 16),
            (640, 640, 0.2, 1.0, 25),
            (380, 320, 0.4, 1.2, 18),
            (260, 200, 0.4, 2.0, 14),
            (560, 480, 0.8, 2.4, 10),
            (330, 320, 0.4, 1.2, 20),
        )
    ),
    key=lambda n: float(signal_dead_band(n.friction, n.area, n.high - n.low, n.gain)),
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "no_positioner",
            lambda n: float(signal_dead_band(n.friction, n.area, n.high - n.low)),
            "That is the dead band without the positioner.",
            credit=0.5,
        ),
        Mistake(
            "once",
            lambda n: n.friction / n.area / (n.high - n.low) / n.gain,
            "The friction was counted once; to turn round takes it twice.",
            credit=0.5,
        ),
        Mistake(
            "of_the_top",
            lambda n: 2 * n.friction / n.area / n.high / n.gain,
            "It was divided by the top of the bench set and not by its span.",
            credit=0.5,
        ),
    ),
    working=("band [bar] = 2 * friction / area", "span [bar] = high - low", "band / span / gain"),
    idea="Work out the dead band without the positioner, then divide by the gain.",
    step="Work out 2 × {friction} ÷ {area}. Divide it by the difference of {high} and {low}, then by {gain}.",
    why="The positioner does not take friction away; it needs less signal to overcome it.",
    plausible=(0.0, 100.0),
    points=2.0,
    source="worked by hand: 2F/(A·span·gain), proportional positioner with the stem held",
)

AS_FOUND = Question(
    id="friction.w3",
    kind="number",
    text="As-found stroke of a valve, no positioner, second round of a slow ramp from 10 to 90 % and back. Effective area "
    "{area}, bench set {bottom} to {top}. How large is the packing friction?",
    variants=tuple(
        {
            "friction": Q(friction, "N"),
            "area": Q(area, "cm²"),
            "low": 0.2e5,
            "high": 1.0e5,
            "bottom": Q(0.2, "bar"),
            "top": Q(1.0, "bar"),
            "seed": 51 + i,
        }
        for i, (friction, area) in enumerate(
            (
                (154, 320),
                (205, 320),
                (256, 320),
                (307, 320),
                (230, 480),
                (307, 480),
                (384, 480),
                (461, 480),
                (358, 640),
                (461, 640),
                (563, 640),
                (666, 640),
            )
        )
    ),
    key=lambda n: n.friction,
    unit="N",
    tolerance=0.12,
    mistakes=(
        Mistake("twice", lambda n: 2 * n.friction, "The whole width of the loop is twice the friction.", credit=0.5),
        Mistake(
            "half",
            lambda n: n.friction / 2,
            "It was halved twice: half the width of the loop is the friction, once.",
            credit=0.5,
        ),
    ),
    working=("width [%] = going_up - coming_down", "span [bar] = top - bottom", "width * span * area / 2"),
    given=loop_at_half,
    idea="The width of the loop is 2F over area and span: turn that round.",
    step="Width of the loop as a fraction, times the span of the bench set, times {area}, divided by 2.",
    why="A pencil and the as-found stroke are enough to measure the friction. You need no spring balance.",
    plausible=(0.0, 5000.0),
    points=2.0,
    source="computed here: a stroke simulated with Coulomb friction; F = width·span·A/2, worked by hand",
    figure=chart_of("traces.stroke_figure"),
    alt="Travel against signal, up and down: a loop with slanting sides and level ends, on a fine grid.",
)

CAUSE = replace(
    PRACTICE_TRACE,
    id="friction.w4",
    text="{tag} swings. It has no travel recorder; flow, set point and signal are all there is. What makes it swing?",
    variants=tuple(
        {"tag": FLOWS[(i + k) % 2], "right": cause, "size": size, "seed": 90 + 7 * i + k, "recorder": False}
        for k, (cause, sizes) in enumerate(
            (
                ("sticky", (0.07, 0.10, 0.14, 0.18)),
                ("tuned", (0.98, 0.9925, 0.9975, 1.003)),
                ("setpoint", (0.022, 0.028, 0.038, 0.05)),
            )
        )
        for i, size in enumerate(sizes)
    ),
    idea="Does the set point stand still? Is the signal a saw or a wave?",
    step="Look at the set point first, then at the shape of the signal.",
    example="A saw with a flow in steps: stiction. Waves: tuning. A moving set point: look upstream.",
    why="A saw with steps in the flow points to the valve. Waves round a still set point point to the tuning.",
    points=1.0,
    alt="Two charts against time: set point and flow above, the controller's signal below.",
)

QUESTIONS = (FORCE, HELPED, AS_FOUND, CAUSE)
