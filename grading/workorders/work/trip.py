"""Graded questions of lesson 20: a valve that must move once, and what gets out past its stem."""

from __future__ import annotations

from types import SimpleNamespace

from lessons.practice.work.trip import coverage_of
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.on_demand import failure_on_demand


def _missed(n: SimpleNamespace) -> float:
    return float(failure_on_demand(1 / n.mean, n.proof, coverage_of(n), n.stroke))


WHOLE = Question(
    id="trip.w1",
    kind="number",
    text="This is for the safety file of a trip valve. It has one hidden failure in {mean}, a proof test every {proof} and a partial stroke every {stroke}. Of the "
    "failures on record {stuck} were stuck stems and {vent} solenoids that did not vent. The partial stroke shows these. {seat} were seats "
    "and {late} stops half way. It does not show those. What share of its demands would the valve miss, on average?",
    variants=tuple(
        {
            "mean": Q(mean, "years"),
            "proof": Q(proof, "years"),
            "stroke": Q(stroke, "months"),
            "stuck": stuck,
            "vent": vent,
            "seat": seat,
            "late": late,
        }
        for mean, proof, stroke, stuck, vent, seat, late in (
            (60, 3, 3, 36, 12, 20, 12),
            (45, 2, 2, 24, 8, 24, 8),
            (90, 4, 6, 30, 15, 25, 10),
            (50, 4, 3, 40, 12, 20, 8),
            (75, 5, 4, 28, 14, 18, 10),
            (40, 2, 3, 20, 10, 26, 4),
            (55, 3, 6, 45, 11, 24, 20),
            (100, 5, 3, 32, 8, 30, 10),
            (65, 4, 2, 26, 13, 15, 6),
            (35, 2, 4, 18, 9, 30, 3),
            (80, 3, 4, 48, 12, 32, 8),
            (70, 5, 6, 22, 11, 14, 13),
        )
    ),
    key=_missed,
    unit="%",
    points=2.0,
    working=(
        "every [] = stuck + vent + seat + late",
        "found [] = (stuck + vent) / every",
        "seen [years] = found * stroke",
        "unseen [years] = (1 - found) * proof",
        "(seen + unseen) / mean / 2",
    ),
    names={
        "mean": "time from one failure to the next",
        "proof": "time from proof test to proof test",
        "stroke": "time from stroke to stroke",
        "found": "coverage",
        "seen": "share of the partial strokes",
        "unseen": "share of the proof test",
        "stuck": "stuck",
        "vent": "not vented",
        "seat": "not sealed",
        "late": "stopped half way",
        "every": "all",
    },
    mistakes=(
        Mistake("strokes_find_all", lambda n: n.stroke / n.mean / 2, "The partial stroke was taken for a proof test."),
        Mistake("strokes_ignored", lambda n: n.proof / n.mean / 2, "The partial strokes were left out.", credit=0.25),
        Mistake(
            "not_halved",
            lambda n: 2 * _missed(n),
            "That is the chance just before a proof test. The average is half of it.",
            credit=0.5,
        ),
    ),
    idea="First work out the coverage. What the strokes find waits for the next stroke, and the rest waits for the proof test.",
    step="The coverage is ({stuck} + {vent}) ÷ all. That share waits {stroke} at most, the rest up to {proof}. Work out half of λ × time for each, and add.",
    why="Work the coverage out from what has failed. Do not just wish for it.",
    plausible=(0.05, 10.0),
    source="as in Lundteigen and Rausand (2007), second-hand; the counts: own choice, no source",
)

_RIGHT = ("agree", "bypass", "trip", "look", "mend", "back", "tell")

TEST = Question(
    id="trip.w2",
    kind="order",
    text="XV-5104 has its proof test, {when}. Put the steps in order.",
    variants=tuple(
        {"when": when}
        for when in (
            "the first since it was new", "two years after the last", "before the furnace goes back on", "after a repair of its actuator",
            "in the autumn stop", "in the spring stop", "a month early", "on the last day the file allows", "after its solenoid was changed",
            "after a trip that came for nothing", "with a new hand on the job", "on a night shift",
        )
    ),
    key=lambda n: _RIGHT,  # noqa: ARG005 - the same for all
    options=(
        Option("agree", "Permit and written procedure; the board knows that the protection will be off, and for how long"),
        Option("bypass", "Make the plant ready as the procedure says: process down, or bypass open and watched"),
        Option("trip", "Trip it by the real signal from the sensor, and time it until it is fully shut; no stroke before that"),
        Option("look", "Look for what a stroke does not show: is it on its seat, does it leak? Write it down as found"),
        Option("mend", "Put right what was found, and test again"),
        Option("back", "Bypass shut and locked, force out of the logic, valve back in its place; a second person checks"),
        Option("tell", "Tell the board that the protection is back; sign"),
    ),
    mistakes=(
        Mistake("mend_first", lambda n: ("agree", "bypass", "mend", "trip", "look", "back", "tell"),  # noqa: ARG005
                "Free nothing, grease nothing and stroke nothing first. The test has to show what the plant would have met."),
        Mistake("tell_first", lambda n: ("agree", "bypass", "trip", "look", "mend", "tell", "back"),  # noqa: ARG005
                "The board is told that the protection is back when it is back, and not before."),
    ),
    idea="Test it as it stands. The protection is not back until the bypass is shut.",
    step="Agree, make ready, then trip before anybody has moved the valve. Look, put right, put back, tell.",
    example="Agree, bypass, trip, look, put right, put back, tell.",
    why="A valve that is stroked before its test always passes.",
    source="common practice, no source",
)  # fmt: skip

BLIND = Question(
    id="trip.w3",
    kind="several",
    text="XV-5104 passes its partial stroke to {travel}. Which of these can still be wrong with it?",
    variants=tuple({"travel": Q(5 + k, "%")} for k in range(1, 13)),
    key=lambda n: {"seat", "half", "slow", "sensor"},  # noqa: ARG005 - the same for all
    options=(
        Option("seat", "The seat is worn and no longer seals"),
        Option("half", "The plug jams half way down"),
        Option("slow", "It takes too long to shut fully"),
        Option("sensor", "The sensor that should trip it is dead"),
        Option(
            "stuck", "The stem is stuck where it stands", "The valve has just moved. The stroke would have shown that."
        ),
        Option(
            "coupling",
            "The stem connector between actuator and valve stem is broken, and the travel was read on the valve stem",
            "Then the valve stem would not have moved: the stroke would have shown that.",
        ),
    ),
    idea="A partial stroke shows the first bit of the travel, and no more.",
    step="Each time, ask whether it would have stopped the first {travel} of the travel. If not, the stroke has not shown it.",
    example="A stuck stem shows at once. A worn seat shows only when the valve is shut and tested.",
    why="A pass means that this part works. The rest waits for the proof test.",
    source="common practice, no source",
)

OFTEN = Question(
    id="trip.w4",
    kind="number",
    text="A trip valve may miss one demand in {demands}, on average. Valves like it have one hidden failure in {mean}. Without partial strokes, how "
    "far apart may its proof tests be at most?",
    variants=tuple(
        {"demands": demands, "mean": Q(mean, "years")}
        for demands, mean in (
            (100, 50),
            (50, 40),
            (200, 120),
            (80, 60),
            (100, 75),
            (40, 35),
            (150, 90),
            (60, 45),
            (120, 150),
            (30, 25),
            (90, 80),
            (70, 100),
        )
    ),
    key=lambda n: 2 * n.mean / n.demands,
    unit="years",
    working=("missed [] = 1 / demands", "2 * missed * mean"),
    names={"demands": "demands for one missed", "missed": "part missed", "mean": "time from one failure to the next"},
    mistakes=(
        Mistake(
            "not_doubled",
            lambda n: n.mean / n.demands,
            "With that the chance would reach the limit just before a test. The limit is for "
            "the average, which is half of that.",
            credit=0.5,
        ),
    ),
    idea="The average, λ × T ÷ 2, may reach the limit. Solve for T.",
    step="T = 2 × (1 ÷ {demands}) × {mean}.",
    why="The safety file counts sensor, logic and solenoid too, so the valve gets only part of the limit.",
    plausible=(0.1, 20.0),
    source="IEC 61508-6, one valve, from memory: λ T/2 solved for T",
)

QUESTIONS = (WHOLE, TEST, BLIND, OFTEN)
