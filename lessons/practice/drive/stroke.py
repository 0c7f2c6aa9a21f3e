"""Lesson 10: positioner, stroke test and calibration."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from lessons.pictures.charts.five_points import SIGNALS, five_points
from lessons.pictures.cutaways import sheet
from lessons.pictures.cutaways.actuators.positioner import POSITIONER
from lessons.pictures.cutaways.words import WORDS
from lessons.practice.charts_asked import chart_of
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.measures import hysteresis, inaccuracy, measured_error, zero_and_span_error
from valvecalc.units import fraction_from_signal, signal_from_fraction, split_range

if TYPE_CHECKING:
    from matplotlib.figure import Figure

LESSON = "10_stroke_and_calibration"
TERMS: dict[str, str] = {
    "feedback linkage": "The lever between valve stem and positioner that tells it where the stem really is.",
    "live zero": "A signal range that does not start at zero: 4 mA means 0 %. A fault is then not taken for 0 %.",
    "split range": "One controller output shared by two valves, each moving on its own part of the signal.",
    "five-point test": "A stroke test that reads the travel at 0, 25, 50, 75 and 100 % signal, going up and coming down.",
    "as found": "What the instrument read before anybody touched it.",
    "as left": "What it read when the work was done.",
    "zero error": "How much the travel is off at the low end of the signal.",
    "span error": "How much too long or too short the travel from the low end to the high end is.",
    "hysteresis": "How far the readings going up and coming down differ at the same signal, without the dead band.",
    "linearity": "How far the readings are from a straight line.",
    "step test": "A test that steps the signal and records how the stem follows in time.",
    "dead time": "The time from the step of the signal until the stem first moves; Td.",
    "T63": "The time from the step until 63.2 % of the stem's change is done.",
    "T86": "The time from the step until 86.5 % of the stem's change is done; dead time included.",
}

TAGS = ("FV-1204", "LV-2112", "FV-6204")
BUTTERFLY = "TV-3301"

PREDICT = Question(
    id="stroke.predict",
    kind="predict",
    text="You test PV-5102 at five signals and turn its zero screw up by 2 %. Which readings move?",
    variants=({},),
    options=(
        Option("first", "Only the one at 0 %: it is the zero screw"),
        Option("all", "All five, by the same amount"),
        Option("more", "All five, the upper ones more"),
    ),
    why="Now turn the zero screw. Then bring all the readings into the band with both screws.",
)

PREDICT_STEP = Question(
    id="stroke.predict2",
    kind="predict",
    text="A step test with a 10 % step. Later the friction of its packing is twice as large. What grows?",
    variants=({},),
    options=(
        Option("dead", "The dead time before the stem moves; after that it rises as quickly as before"),
        Option("rise", "The rise; the stem starts at once, but moves more slowly"),
        Option("both", "Both, about alike"),
    ),
    why="Double the friction in the picture and compare: Td, and T86 less Td.",
)

_NUMBERS = {call.part.name: str(call.number) for call in sheet.callouts(POSITIONER)}
_ASKED = sorted(
    ("signal bellows", "beam", "nozzle", "pilot relay", "feedback lever", "cam", "feedback spring"),
    key=lambda name: int(_NUMBERS[name]),
)


def _positioner(n: SimpleNamespace, _units: str) -> Figure:
    """Draw the positioner with numbers at its parts."""
    from lessons.pictures.cutaways import paper

    return paper.draw(POSITIONER, n.travel, names=False)


PARTS = Question(
    id="stroke.parts",
    kind="match",
    text="A pneumatic positioner with its case open, at {travel} travel. Which part is which?",
    variants=tuple({"travel": Q(travel, "%")} for travel in (0, 10, 20, 30, 40, 50, 60, 70, 80, 90, 95, 100)),
    key=lambda _: {_NUMBERS[name]: name for name in _ASKED},
    places=tuple(Option(_NUMBERS[name], f"the part numbered {_NUMBERS[name]}") for name in _ASKED),
    options=tuple(
        Option(name, f"{name[0].upper()}{name[1:]}: {WORDS[name][0].lower()}{WORDS[name][1:]}") for name in _ASKED
    ),
    idea="Start at the stem and follow the movement: pin, lever, cam, roller, spring, beam. Then follow the air.",
    step="Number {lever} swings with the stem; number {beam} is the bar that everything pushes on.".format(
        lever=_NUMBERS["feedback lever"], beam=_NUMBERS["beam"]
    ),
    example="The bellows pushes the beam from above, number {b}; the spring pushes from below, number {s}.".format(
        b=_NUMBERS["signal bellows"], s=_NUMBERS["feedback spring"]
    ),
    why="Bellows against spring: the stem stops where the two are in balance.",
    source="names as in common practice, no source",
    figure=_positioner,
    alt="A positioner beside a valve stem, its case open; numbers stand beside the parts.",
)

CURRENT = Question(
    id="stroke.current",
    kind="number",
    text="{tag} works on 4 to 20 mA and opens with a rising signal. The loop shows {ma}. Where should its pointer stand?",
    variants=tuple(
        {"tag": TAGS[i % 3], "ma": Q(ma, "mA")}
        for i, ma in enumerate((5.6, 6.4, 7.2, 8.8, 9.2, 10.4, 11.2, 12.8, 13.6, 14.4, 16.8, 6.8))
    ),
    key=lambda n: float(fraction_from_signal(n.ma, "4-20 mA")),
    unit="%",
    mistakes=(
        Mistake(
            "of_20", lambda n: n.ma / 0.020, "You counted from 0 mA. The range starts at 4 mA: take those away first."
        ),
        Mistake(
            "span_20",
            lambda n: (n.ma - 0.004) / 0.020,
            "You took the 4 mA away above but not below: the span is 20 − 4 = 16 mA.",
        ),
        Mistake("over_16", lambda n: n.ma / 0.016, "You divided by the span, but the 4 mA still stand above it."),
    ),
    working=("(ma - zero) / span",),
    given=lambda _: {"zero": Q(4, "mA"), "span": Q(16, "mA")},
    idea="The signal stands for 0 % at 4 mA and for 100 % at 20 mA. So there are 16 mA for the whole travel.",
    step="Take 4 mA from {ma} and divide by 16 mA.",
    why="Down to 3.8 mA it still says shut. At 3.6 mA and less it says fault: a wire, the supply, a fuse, the output card, "
    "or a device that reports one.",
    plausible=(0.0, 100.0),
    source="IEC 60381-1, from memory: 4-20 mA; limits of value and fault: NAMUR NE 43, for transmitters, from memory",
)

PNEUMATIC = Question(
    id="stroke.psi",
    kind="number",
    text="Behind the converter the same signal is air, 3 to 15 psi. {tag} is to stand at {travel}. What should the gauge show?",
    variants=tuple(
        {"tag": TAGS[i % 3], "travel": Q(travel, "%")}
        for i, travel in enumerate((10, 20, 25, 30, 80, 40, 45, 55, 60, 65, 70, 75))
    ),
    key=lambda n: float(signal_from_fraction(n.travel, "3-15 psi")),
    unit="psi",
    mistakes=(
        Mistake(
            "no_live_zero",
            lambda n: float(signal_from_fraction(1.0, "3-15 psi")) * n.travel,
            "You took the share of 15 psi. The range starts at 3 psi and is 12 psi long.",
        ),
        Mistake(
            "zero_left_out",
            lambda n: float(signal_from_fraction(1.0, "3-15 psi")) * 0.8 * n.travel,
            "That share of 12 psi is right, but it counts from 3 psi: add them.",
        ),
    ),
    working=("zero + travel * span",),
    given=lambda _: {"zero": Q(3, "psi"), "span": Q(12, "psi")},
    idea="The range starts at 3 psi for 0 % and ends at 15 psi for 100 %. That is 12 psi for the whole travel.",
    step="{travel} of 12 psi, and 3 psi on top.",
    why="In other plants the range is 0.2 to 1 bar: nearly the same, but 9 psi is 0.62 bar and not 0.6.",
    plausible=(0.0, 20.0),
    source="3-15 psi: common practice, no source; 0.2-1.0 bar: IEC 60382, from memory",
)

SPLIT = Question(
    id="stroke.split",
    kind="number",
    text="The header's controller gives {ma}. PV-5102 has the upper half, 12 to 20 mA, and opens as the signal rises. How "
    "far should it be open?",
    variants=tuple(
        {"ma": Q(ma, "mA")} for ma in (12.8, 13.3, 13.6, 14.0, 14.4, 14.8, 15.2, 15.6, 16.2, 16.8, 17.6, 18.4)
    ),
    key=lambda n: float(split_range(fraction_from_signal(n.ma, "4-20 mA"), 0.5, 1.0)),
    unit="%",
    mistakes=(
        Mistake(
            "whole_range",
            lambda n: (n.ma - 0.004) / 0.016,
            "That would be a valve on the whole 4 to 20 mA. This one does not move below 12 mA.",
        ),
        Mistake(
            "over_16",
            lambda n: (n.ma - 0.012) / 0.016,
            "You counted from 12 mA, but its part of the signal is only 8 mA long.",
        ),
    ),
    working=("(ma - start) / part",),
    given=lambda _: {"start": Q(12, "mA"), "part": Q(8, "mA")},
    idea="Its part of the signal starts at 12 mA and is 8 mA long.",
    step="Take 12 mA from {ma} and divide by 8 mA.",
    why="Each valve of a split range gets its full travel from half of the signal.",
    plausible=(0.0, 100.0),
    source="4-20 mA: IEC 60381-1, from memory; the split at 12 mA is common practice, no source",
)

_ORDERS = (
    "zero span friction linkage",
    "span friction linkage zero",
    "friction linkage zero span",
    "linkage zero span friction",
    "span zero linkage friction",
    "zero linkage friction span",
    "linkage friction span zero",
    "friction span zero linkage",
    "zero friction span linkage",
    "friction zero linkage span",
    "span linkage zero friction",
    "linkage span friction zero",
)

FOUR = Question(
    id="stroke.faults",
    kind="match",
    text="Four swing-through butterfly valves came in, each with one fault. (Such a disc can also turn past its closed "
    "place, so a travel below 0 % can be read.) Which chart belongs to which fault?",
    variants=tuple({"order": order, "sign": (1, -1)[i % 2], "seed": 5 * i} for i, order in enumerate(_ORDERS)),
    key=lambda n: {str(k + 1): fault for k, fault in enumerate(n.order.split())},
    places=tuple(Option(str(k), f"the chart numbered {k}") for k in (1, 2, 3, 4)),
    options=(
        Option("zero", "Zero: off by the same amount everywhere"),
        Option("span", "Span: right at the low end, the more off the higher the signal"),
        Option("friction", "Friction: up and down far apart"),
        Option(
            "linkage", "Linkage: right at both ends, off in the middle; the lever is not square to the stem half way"
        ),
    ),
    idea="Look at three things: where the line starts, whether it tilts or bends, and how far up and down are apart.",
    step="First find the chart where up and down are far apart; then the one that bends.",
    example="A level line away from nothing is a zero error; a slanting one that starts near nothing is a span error.",
    why="Two of the four are cured with a screw. The other two are not.",
    source="worked by hand: zero adds to all readings, span grows with the signal, friction parts up and down",
    figure=chart_of("as_found.four_faults_figure"),
    alt="Four charts, numbered 1 to 4, of the error of travel against signal, up and down.",
)


def readings(n: SimpleNamespace) -> tuple[Any, Any]:
    """Return the readings of a question, as its table shows them."""
    return five_points(n.zero, n.span, n.gap, n.bow, n.seed)


def worst_average(n: SimpleNamespace) -> float:
    """Return the size of the largest error of the averages of up and down."""
    return abs(float(measured_error(SIGNALS, *readings(n))))


def worst_reading(n: SimpleNamespace) -> float:
    """Return the size of the largest error of any single reading."""
    return max(abs(float(error)) for error in inaccuracy(SIGNALS, *readings(n)))


def span_error(n: SimpleNamespace) -> float:
    """Return the span error of the averages of up and down."""
    up, down = readings(n)
    return float(zero_and_span_error(SIGNALS, (up + down) / 2)[1])


def widest_gap(n: SimpleNamespace) -> dict[str, Q]:
    """Return the readings up and down at the signal where they lie furthest apart."""
    up, down = max(zip(*readings(n), strict=True), key=lambda pair: abs(pair[1] - pair[0]))
    return {"going_up": Q(float(100 * up), "%"), "coming_down": Q(float(100 * down), "%")}


def end_readings(n: SimpleNamespace) -> dict[str, Q]:
    """Return the readings up and down at both ends."""
    up, down = readings(n)
    ends = {"up_0": up[0], "down_0": down[0], "up_100": up[-1], "down_100": down[-1]}
    return {name: Q(float(100 * reading), "%") for name, reading in ends.items()}


GAP = Question(
    id="stroke.gap",
    kind="number",
    text="As found, {tag}. How large is the largest gap between up and down at one signal, hysteresis and dead band "
    "together?",
    variants=tuple(
        {"tag": TAGS[i % 3], "zero": zero, "span": -zero, "gap": gap, "bow": 0.0, "seed": seed}
        for i, (zero, gap, seed) in enumerate(
            (
                (0.030, 0.012, 1),
                (0.035, 0.015, 2),
                (0.042, 0.018, 3),
                (0.040, 0.010, 4),
                (0.035, 0.020, 5),
                (0.045, 0.022, 6),
                (0.050, 0.025, 7),
                (0.028, 0.009, 8),
                (0.055, 0.028, 9),
                (0.050, 0.016, 10),
                (0.038, 0.013, 11),
                (0.032, 0.011, 12),
            )
        )
    ),
    key=lambda n: float(hysteresis(*readings(n))),
    unit="%",
    mistakes=(
        Mistake(
            "largest_error",
            worst_reading,
            "That is the largest error against the signal. The gap compares up with down, not with the signal.",
        ),
        Mistake(
            "average_error", worst_average, "That is the largest error of the averages. The gap compares up with down."
        ),
    ),
    working=("coming_down - going_up",),
    given=widest_gap,
    idea="Take up from down at every signal, and keep the largest.",
    step="Five differences down the table; the largest is the answer.",
    why="No screw on the positioner closes this gap: look for friction and play.",
    plausible=(0.0, 100.0),
    source="largest up/down gap at one input: IEC 61298-2, ISA-51.1, from memory",
    figure=chart_of("as_found.table_figure"),
    alt="A table of travel, up and down, at five signals from 4 to 20 mA.",
)

SPAN = Question(
    id="stroke.span",
    kind="number",
    text="As found, {tag}, a swing-through butterfly valve, which can also turn past its closed place. Average up and down "
    "at both ends. How large is the span error, with its sign?",
    variants=tuple(
        {"tag": BUTTERFLY, "zero": zero, "span": span, "gap": 0.004, "bow": 0.0, "seed": 20 + i}
        for i, (zero, span) in enumerate(
            (
                (0.020, -0.035),
                (-0.015, 0.030),
                (0.025, 0.040),
                (-0.020, -0.030),
                (0.030, -0.050),
                (-0.025, 0.045),
                (0.015, 0.025),
                (-0.030, -0.040),
                (0.018, -0.028),
                (-0.022, 0.036),
                (0.028, 0.034),
                (-0.018, -0.044),
            )
        )
    ),
    key=span_error,
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "end_error",
            lambda n: float(readings(n)[0][-1] + readings(n)[1][-1]) / 2 - 1,
            "That is the error at 100 %. The zero error is still in it: take it away.",
        ),
        Mistake(
            "whole_span",
            lambda n: 1 + span_error(n),
            "That is the whole way travelled. The error is how much it differs from 100 %.",
        ),
    ),
    working=(
        "low_average [%] = (up_0 + down_0) / 2",
        "high_average [%] = (up_100 + down_100) / 2",
        "high_average - low_average - 1",
    ),
    given=end_readings,
    idea="The span is the way from the low end to the high end. Compare it with 100 %.",
    step="Average at 100 % less average at 0 %; then take away 100 %.",
    why="The zero error cancels: that is why zero and span have a screw each.",
    plausible=(-20.0, 20.0),
    source="span error = travel span over signal span, less 1: common practice, no source",
    figure=chart_of("as_found.table_figure"),
    alt="A table of travel, up and down, at five signals from 4 to 20 mA.",
)

LINEAR = Question(
    id="stroke.linear",
    kind="number",
    text="{tag}, averages of up and down: {low} travel at 0 % signal, {middle} at 50 %, {high} at 100 %. How far does the "
    "middle reading lie from the straight line through the two ends?",
    variants=tuple(
        {"tag": TAGS[i % 3], "low": Q(low, "%"), "middle": Q(middle, "%"), "high": Q(high, "%")}
        for i, (low, middle, high) in enumerate(
            (
                (1.0, 53.0, 102.4),
                (2.0, 52.5, 97.0),
                (0.5, 54.0, 101.5),
                (1.5, 51.0, 96.5),
                (0.8, 52.6, 102.0),
                (2.4, 54.4, 100.0),
                (1.2, 53.8, 100.6),
                (3.0, 55.0, 102.0),
                (0.6, 51.8, 98.4),
                (1.8, 54.2, 99.0),
                (2.2, 53.0, 98.6),
                (1.4, 53.2, 97.0),
            )
        )
    ),
    key=lambda n: n.middle - (n.low + n.high) / 2,
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "from_signal",
            lambda n: n.middle - 0.5,
            "That is its error against the signal. The line you compare with goes through the two end readings.",
        ),
        Mistake(
            "from_zero",
            lambda n: n.middle - n.low - 0.5,
            "You took the zero error away but not the span error: half of that is in the middle reading too.",
        ),
    ),
    working=("straight [%] = (low + high) / 2", "middle - straight"),
    names={"low": "reading at 0 %", "middle": "reading at 50 %", "high": "reading at 100 %"},
    idea="Half way along a straight line stands the mean of its two ends.",
    step="The mean of {low} and {high}; take it from {middle}.",
    why="This is what zero and span cannot cure. Look at the linkage, or at the cam.",
    plausible=(-20.0, 20.0),
    source="terminal-based linearity as in IEC 61298-2, from memory",
)


def t86(n: SimpleNamespace) -> float:
    """Return the time from the step to 86.5 % of the change of a first-order answer after its dead time [s]."""
    return float(n.dead + n.constant * math.log(1 / 0.135))


TIMES = Question(
    id="stroke.t86",
    kind="number",
    text="In a step test the stem of {tag} waits {dead}, then rises with a time constant of {constant}. How large is T86?",
    variants=tuple(
        {"tag": TAGS[i % 3], "dead": Q(dead, "s"), "constant": Q(constant, "s")}
        for i, (dead, constant) in enumerate(
            (
                (0.4, 1.1),
                (0.6, 1.5),
                (0.8, 1.2),
                (0.5, 1.8),
                (1.0, 1.6),
                (1.2, 2.5),
                (0.7, 0.9),
                (0.9, 3.0),
                (1.5, 2.2),
                (0.6, 0.8),
                (1.4, 1.8),
                (2.0, 3.5),
            )
        )
    ),
    key=t86,
    unit="s",
    tolerance=0.03,
    mistakes=(
        Mistake("t63", lambda n: n.dead + n.constant, "That is T63. One time constant makes 63.2 %; 86.5 % takes two."),
        Mistake(
            "no_dead_time", lambda n: t86(n) - n.dead, "T86 counts from the step of the signal: the dead time is in it."
        ),
        Mistake("two_dead_times", lambda n: 2 * (n.dead + n.constant), "The dead time passes only once."),
    ),
    working=("dead + 2 * constant",),
    idea="After the dead time, one time constant makes 63.2 % of the change, two make 86.5 %.",
    step="{dead} and two times {constant}.",
    why="Td, T63 and T86 all count from the step.",
    plausible=(0.0, 60.0),
    source="first-order response, 1 − e⁻² = 0.8647, worked by hand; T86 as in ISA-75.25.01, from memory",
)

STEPS = (
    Option("permit", "Get the permit; find out what the process does when this valve moves or fails"),
    Option("manual", "Have the operator put the loop in manual, or bypass the valve, and stand by"),
    Option("as_found", "Run five points up and down and write them down, without touching a screw"),
    Option("zero", "Set zero at the low end"),
    Option("span", "Set span at the high end"),
    Option("again", "Go back to the low end: zero has shifted; repeat until both stand"),
    Option("as_left", "Run five points up and down again and write them down"),
    Option("back", "Sign the record and hand the valve back to the operator"),
)
_ORDER = tuple(step.name for step in STEPS)

ORDER = Question(
    id="stroke.order",
    kind="order",
    text="{tag} is to be {job}. Put the work in order.",
    variants=tuple(
        {"tag": tag, "job": job}
        for tag in TAGS
        for job in ("calibrated", "checked and set", "stroked and calibrated", "set anew after its repair")
    ),
    key=lambda _: _ORDER,
    options=STEPS,
    mistakes=(
        Mistake(
            "screws_first",
            lambda _: ("permit", "manual", "zero", "span", "again", "as_found", "as_left", "back"),
            "As found comes before any screw. Afterwards nobody can tell how far off the valve was, or since when.",
        ),
        Mistake(
            "span_first",
            lambda _: ("permit", "manual", "as_found", "span", "zero", "again", "as_left", "back"),
            "Zero first, then span: span is a way, and it counts from the zero.",
        ),
    ),
    idea="Safe state, as found, zero, span, zero again, as left, hand back.",
    step="First permit and operator. The first thing you do at the valve changes nothing.",
    example="For any instrument: as found before the screwdriver, as left after it.",
    why="As found tells how wrong the plant was; as left tells that it is right now.",
    source="common practice, no source, and the site's own procedure decides",
)

QUESTIONS = (
    PREDICT,
    PREDICT_STEP,
    PARTS,
    CURRENT,
    PNEUMATIC,
    SPLIT,
    FOUR,
    GAP,
    SPAN,
    LINEAR,
    TIMES,
    ORDER,
)
