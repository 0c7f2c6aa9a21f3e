"""Lesson 20: a valve that must move once, and what gets out past its stem."""

from __future__ import annotations

from types import SimpleNamespace

from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.on_demand import failure_on_demand, stroke_coverage
from valvecalc.packing import load_left
from valvecalc.plug_forces import circle_area

LESSON = "20_a_valve_that_must_move_once"
TERMS: dict[str, str] = {
    "failure on demand": "Not moving when called on to move. It is given as the share of all demands that the valve would miss.",
    "hidden failure": "A failure that nobody sees until the valve has to move.",
    "proof test": "A test of everything from the sensor to the shut valve. It finds every hidden failure.",
    "partial stroke": "A test that moves a standing valve a little and back while the process runs.",
    "coverage": "The share of all hidden failures that a test finds.",
    "spurious trip": "A trip for nothing, for example because the coil of a solenoid failed.",
    "voting": "How many of several solenoids or sensors have to agree before the valve moves, such as two out of three.",
    "SIL": "Safety integrity level, 1 to 4. It says how far a protection has to lower a risk.",
    "fugitive emission": "What leaks out of the plant at stems, flanges and seals, unseen.",
    "tightness class": "A, B or C: the largest leak past a stem in a type test, for each metre round the stem.",
}

IDEAS = {
    "A valve that stands still fails unseen. Only tests tell.": "predict demand coverage partial bypass w1 w2 w3 w4",
    "The force that shuts a trip valve has to be large enough, and nothing may keep it from acting.": "spring vote bypass w2 w3 air.fails actuator.fail",
    "Soft springs keep the load on a packing. How tight it is has to be measured.": "settles load tight friction.material "
    "friction.weeps",
}

PREDICT = Question(
    id="trip.predict",
    kind="predict",
    text="XV-5104 is proof tested every two years. Now it is also moved a little, and back, every three months. What does that do "
    "to the chance that it fails when it has to shut?",
    variants=({},),
    options=(
        Option("gone", "Hardly any chance is left: it has just been seen to move"),
        Option("part", "It makes part of the chance smaller"),
        Option("nothing", "Nothing: only a full stroke proves anything"),
    ),
    why="Now add partial strokes in the picture, and change how much they find.",
)

DEMAND = Question(
    id="trip.demand",
    kind="number",
    text="Valves like this one have one hidden failure in {mean}. It is proof tested every {proof}. What share of its demands would it "
    "miss, on average?",
    variants=tuple(
        {"mean": Q(mean, "years"), "proof": Q(proof, "years")}
        for mean, proof in (
            (50, 1.5),
            (80, 2),
            (40, 4),
            (100, 3),
            (60, 5),
            (25, 1.5),
            (30, 2),
            (120, 4),
            (45, 3),
            (70, 2.5),
            (90, 5),
            (35, 2),
        )
    ),
    key=lambda n: float(failure_on_demand(1 / n.mean, n.proof)),
    unit="%",
    working=("proof / mean / 2",),
    names={"mean": "time from one failure to the next", "proof": "time from test to test"},
    mistakes=(
        Mistake(
            "not_halved",
            lambda n: n.proof / n.mean,
            "That is the chance just before a test. Just after a test it is nothing, so on average it is half.",
        ),
    ),
    idea="The chance climbs from nothing to λ × T and falls back at each test. On average it is half of that.",
    step="Here λ is 1 ÷ {mean} and T is {proof}. Multiply them and halve.",
    why="With twice as many tests the chance is half as large.",
    plausible=(0.05, 10.0),
    source="IEC 61508-6, one valve, from memory: λ T/2",
)


def coverage_of(n: SimpleNamespace) -> float:
    """Return what a partial stroke finds of the failures on record: those that stop the first bit of the way."""
    return float(stroke_coverage([n.stuck, n.vent, n.seat, n.late], [1, 1, 0, 0]))


COUNTS = (
    (34, 14, 20, 12),
    (40, 10, 15, 15),
    (27, 15, 23, 15),
    (48, 12, 18, 2),
    (30, 6, 20, 4),
    (22, 8, 14, 6),
    (55, 15, 20, 10),
    (18, 12, 16, 4),
    (40, 10, 24, 16),
    (32, 24, 24, 20),
    (44, 6, 24, 16),
    (20, 10, 12, 8),
)

COVERAGE = Question(
    id="trip.coverage",
    kind="number",
    text="The record for such valves says: the stem was stuck {stuck} times, the solenoid did not vent {vent} times, the seat no longer "
    "sealed {seat} times, and the valve stopped half way {late} times. A partial stroke of 10 % would have shown the first two. What is its coverage?",
    variants=tuple(dict(zip(("stuck", "vent", "seat", "late"), counts, strict=True)) for counts in COUNTS),
    key=coverage_of,
    unit="%",
    working=("shown [] = stuck + vent", "every [] = stuck + vent + seat + late", "shown / every"),
    names={
        "stuck": "stuck",
        "vent": "not vented",
        "seat": "not sealed",
        "late": "stopped half way",
        "shown": "those it shows",
        "every": "all",
    },
    mistakes=(
        Mistake("what_is_left", lambda n: 1 - coverage_of(n), "That is the share it does not find."),
        Mistake(
            "over_rest",
            lambda n: (n.stuck + n.vent) / (n.seat + n.late),
            "You divided by the other failures. Divide by all of them.",
        ),
    ),
    idea="Coverage = failures the test shows ÷ all hidden failures.",
    step="It shows {stuck} + {vent}. Divide by {stuck} + {vent} + {seat} + {late}.",
    why="What it does not show waits for the proof test.",
    plausible=(10.0, 95.0),
    source="as in HSE SPC/Technical/General/48, annex B, second-hand; the counts: own choice, no source",
)

PARTIAL = Question(
    id="trip.partial",
    kind="number",
    text="A valve has one hidden failure in {mean} and a proof test every {proof}. A partial stroke every {stroke} finds {found} of the failures. What share "
    "of its demands would the valve miss, on average?",
    variants=tuple(
        {"mean": Q(mean, "years"), "proof": Q(proof, "years"), "stroke": Q(stroke, "months"), "found": Q(found, "%")}
        for mean, proof, stroke, found in (
            (50, 2, 3, 60),
            (80, 4, 6, 55),
            (40, 3, 2, 65),
            (100, 5, 3, 50),
            (60, 4, 4, 70),
            (30, 2, 2, 60),
            (45, 3, 6, 45),
            (70, 5, 2, 65),
            (90, 4, 3, 40),
            (35, 2, 4, 50),
            (55, 3, 3, 75),
            (120, 5, 6, 60),
        )
    ),
    key=lambda n: float(failure_on_demand(1 / n.mean, n.proof, n.found, n.stroke)),
    unit="%",
    working=("seen [years] = found * stroke", "unseen [years] = (1 - found) * proof", "(seen + unseen) / mean / 2"),
    names={
        "mean": "time from one failure to the next",
        "proof": "time from proof test to proof test",
        "stroke": "time from stroke to stroke",
        "found": "coverage",
        "seen": "share of the partial strokes",
        "unseen": "share of the proof test",
    },
    mistakes=(
        Mistake(
            "strokes_find_all",
            lambda n: n.stroke / n.mean / 2,
            "You took the partial stroke for a proof test. The failures it does not find wait for the proof test.",
        ),
        Mistake("strokes_ignored", lambda n: n.proof / n.mean / 2, "That is the result without partial strokes."),
        Mistake(
            "only_unseen",
            lambda n: (1 - n.found) * n.proof / n.mean / 2,
            "You left out what fails between two partial strokes.",
        ),
    ),
    idea="Think of two saws, one on top of the other. What the strokes find has short teeth; the rest has long ones.",
    step="{found} of the failures wait {stroke} at most; the rest wait up to {proof}. Work out half of λ × time for each share, and add the two.",
    why="However often the valve is stroked, the rest stays until the proof test.",
    plausible=(0.01, 10.0),
    source="as in Lundteigen and Rausand (2007), second-hand",
)

SPRING = Question(
    id="trip.spring",
    kind="number",
    text="A trip valve is shut by its spring. Its bench set begins at {low}, and its effective area is {area}. The fluid pushes the plug open with {dp} on a port "
    "of {port}. How much friction may its packing have at most, so that the plug still reaches its seat?",
    variants=tuple(
        {"low": Q(low, "bar"), "area": Q(area, "cm²"), "dp": Q(dp, "bar"), "port": Q(port, "mm")}
        for low, area, dp, port in (
            (0.6, 640, 3.5, 70),
            (0.8, 480, 6.0, 50),
            (0.5, 640, 2.5, 70),
            (1.0, 320, 8.0, 40),
            (0.7, 960, 4.0, 90),
            (0.9, 640, 7.0, 60),
            (0.6, 480, 5.0, 46),
            (1.2, 320, 10.0, 40),
            (0.8, 960, 6.0, 80),
            (0.5, 320, 4.0, 40),
            (1.1, 640, 12.0, 50),
            (0.7, 480, 4.5, 60),
        )
    ),
    key=lambda n: n.low * n.area - n.dp * float(circle_area(n.port)),
    unit="N",
    tolerance=0.03,
    working=("spring [N] = low * area", "line [N] = dp * circle(port)", "spring - line"),
    mistakes=(
        Mistake(
            "sum",
            lambda n: n.low * n.area + n.dp * float(circle_area(n.port)),
            "Here the fluid pushes the plug open, so it takes away from the force of the spring.",
        ),
        Mistake("no_line", lambda n: n.low * n.area, "You left out the fluid. It pushes the plug off its seat."),
    ),
    idea="With the valve shut, the spring has its smallest force. What the fluid leaves of it can overcome friction.",
    step="The spring has {low} × {area}. The fluid has {dp} × the area of {port}. Take the second from the first.",
    why="A packing that has not moved for years grips harder than a new one. And the seat needs its load on top.",
    plausible=(50.0, 20000.0),
    source="statics, worked by hand",
)

NEEDED = {"one out of one": 1, "one out of two": 1, "two out of two": 2, "two out of three": 2}
_OF = {"one out of one": 1, "one out of two": 2, "two out of two": 2, "two out of three": 3}


def vote(n: SimpleNamespace) -> str:
    """Return whether the valve shuts: all solenoids but those stuck vent on a demand; without one, only those that died."""
    vented = _OF[n.how] - n.stuck if n.demand else n.dead
    return "shuts" if vented >= NEEDED[n.how] else "stays"


def _vote(how: str, stuck: int, dead: int) -> dict[str, object]:
    demand = dead == 0
    said = {1: "One of them", 2: "Two of them"}[stuck or dead]
    asked = f"{said} cannot vent any more, and then a trip comes"
    what = asked if demand else f"{said} burn{'s' * (dead == 1)} out; nothing is wrong in the plant"
    return {"how": how, "stuck": stuck, "dead": dead, "demand": demand, "what": what}


VOTE = Question(
    id="trip.vote",
    kind="choice",
    text="The solenoids of a trip valve vote {how}; each vents when it loses its current. {what}. What does the valve do?",
    variants=tuple(
        _vote(how, stuck, dead)
        for how, stuck, dead in (
            ("one out of one", 1, 0),
            ("one out of one", 0, 1),
            ("one out of two", 1, 0),
            ("one out of two", 0, 1),
            ("two out of two", 1, 0),
            ("two out of two", 0, 1),
            ("two out of three", 1, 0),
            ("two out of three", 0, 1),
            ("two out of three", 2, 0),
            ("two out of three", 0, 2),
            ("two out of two", 0, 2),
            ("one out of two", 2, 0),
        )
    ),
    key=vote,
    options=(
        Option("shuts", "It shuts", "Count the solenoids that have vented. They are too few for {how}."),
        Option("stays", "It stays open", "Count the solenoids that have vented. They are enough for {how}."),
    ),
    idea="“Two out of three” means that there are three, and two that vent are enough.",
    step="How many of them vent? Is that as many as {how} asks for?",
    example="Two out of two with one stuck: only one vents, so the valve stays open. That is a failure on demand.",
    why="One out of two shuts almost always, but also for nothing. Two out of two hardly ever shuts for nothing, but does not always shut when it has to.",
    source="worked by hand, by counting",
)

BYPASS = Question(
    id="trip.bypass",
    kind="number",
    text="A proof test of a trip valve takes {hours} with its bypass open. It is done every {proof}. For what share of the time is the plant "
    "without this protection because of the test?",
    variants=tuple(
        {"hours": Q(hours, "h"), "proof": Q(proof, "months")}
        for hours, proof in (
            (4, 12),
            (6, 24),
            (12, 12),
            (8, 6),
            (3, 3),
            (24, 24),
            (10, 12),
            (5, 6),
            (16, 12),
            (2, 3),
            (36, 48),
            (7, 6),
        )
    ),
    key=lambda n: n.hours / n.proof,
    unit="%",
    working=("whole [h] = proof", "hours / whole"),
    names={"hours": "time of a test", "proof": "time from test to test", "whole": "the same in hours"},
    mistakes=(
        Mistake(
            "halved",
            lambda n: n.hours / n.proof / 2,
            "Do not halve anything here. While the bypass is open there is no protection at all.",
        ),
    ),
    idea="Divide the time without protection by the time from test to test. A year has 8766 hours, a month on average 730.5.",
    step="Turn {proof} into hours, and divide {hours} by that.",
    why="If the bypass is forgotten open, there is no protection at all.",
    plausible=(0.001, 5.0),
    source="worked by hand",
)

PREDICT_LOAD = Question(
    id="trip.settles",
    kind="predict",
    text="A new packing gets its right load from nuts alone, without disc springs. Over the months it settles by a tenth of a millimetre "
    "(0.004 in). What is left of the load?",
    variants=({},),
    options=(
        Option("most", "Most of it: a tenth of a millimetre is nothing"),
        Option("half", "About half"),
        Option("none", "Nothing"),
    ),
    why="Now let the packing settle in the picture, then change the number of disc springs.",
)

SETTLED = Question(
    id="trip.load",
    kind="number",
    text="Each packing stud has a stack of {count} disc springs; the stiffness of one is {rate}. The load was {load}. The packing has settled by "
    "{settled}, and nobody has touched the nuts. What load is left on a stud? Take the stud itself as stiff.",
    variants=tuple(
        {"count": count, "rate": Q(rate, "N/mm"), "load": Q(load, "N"), "settled": Q(settled, "mm")}
        for count, rate, load, settled in (
            (6, 12000, 3000, 0.5),
            (8, 15000, 4000, 0.8),
            (4, 9000, 2500, 0.4),
            (10, 20000, 5000, 1.0),
            (6, 18000, 6000, 0.6),
            (5, 10000, 3500, 0.7),
            (12, 24000, 4500, 0.9),
            (8, 12000, 2800, 0.6),
            (4, 16000, 5200, 0.3),
            (10, 14000, 3200, 0.9),
            (6, 15000, 4200, 0.7),
            (9, 18000, 3600, 0.5),
        )
    ),
    key=lambda n: float(load_left(n.load, [n.rate] * n.count, n.settled)),
    unit="N",
    working=("stack [N/mm] = rate / count", "load - stack * settled"),
    names={
        "rate": "stiffness of a disc",
        "count": "number of discs",
        "stack": "stiffness of the stack",
        "load": "load",
        "settled": "settled",
    },
    mistakes=(Mistake("lost", lambda n: n.rate / n.count * n.settled, "That is what is lost. Take it from the load."),),
    idea="In a stack the springs share the travel. The stack is as many times softer as it has discs.",
    step="The stiffness of the stack is {rate} ÷ {count}. Multiply it by {settled} to get the load lost, and take that from {load}.",
    why="A soft stack loses little load when the packing sinks. That is live loading.",
    plausible=(10.0, 20000.0),
    source="statics, worked by hand",
)

LIMITS = {"AH": 10.0, "BH": 100.0, "CH": 10000.0}  # millionths of a milligram a second for each metre round the stem


def tightness(n: SimpleNamespace) -> str:
    """Return the tightest class a leak meets."""
    each = n.leak / n.rim
    return next((name for name, most in LIMITS.items() if each <= most), "none")


CLASS = Question(
    id="trip.tight",
    kind="choice",
    text="In a type test with helium, {leak} millionths of a milligram a second leak past a stem. The stem measures {rim} all the way round. For each "
    "metre (39.4 in) round a stem, class A allows 10 millionths, class B 100 and class C 10 000. Which is the tightest class that this stem meets?",
    variants=tuple(
        {"leak": leak, "rim": Q(rim, "mm")}
        for leak, rim in (
            (0.3, 40),
            (2.5, 40),
            (15, 40),
            (600, 40),
            (0.6, 80),
            (0.9, 80),
            (6, 80),
            (12, 80),
            (0.25, 30),
            (0.45, 30),
            (280, 30),
            (420, 30),
        )
    ),
    key=tightness,
    options=(
        Option("AH", "Class A", "Work out the leak for each metre: {leak} ÷ {rim} in metres. Class A ends at 10."),
        Option(
            "BH", "Class B", "Work out the leak for each metre: {leak} ÷ {rim} in metres. Class B goes from 10 to 100."
        ),
        Option(
            "CH",
            "Class C",
            "Work out the leak for each metre: {leak} ÷ {rim} in metres. Class C goes from 100 to 10 000.",
        ),
        Option(
            "none",
            "None of them",
            "Work out the leak for each metre: {leak} ÷ {rim} in metres. Class C goes up to 10 000.",
        ),
    ),
    idea="The classes count the leak for each metre round the stem, so that thick and thin stems can be compared.",
    step="Divide {leak} by {rim} in metres, and see in which class it falls.",
    example="A leak of 1.2 round a stem of 40 mm (1.57 in): 1.2 ÷ 0.040 = 30 for each metre. That is class B.",
    why="A class means nothing without its test gas, its number of cycles and its temperature.",
    source="ISO 15848-1:2015, second-hand",
)

QUESTIONS = (PREDICT, DEMAND, COVERAGE, PARTIAL, SPRING, VOTE, BYPASS, PREDICT_LOAD, SETTLED, CLASS)
