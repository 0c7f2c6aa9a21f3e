"""Graded questions of lesson 18: the digital positioner."""

from __future__ import annotations

from dataclasses import replace

from lessons.practice.charts_asked import chart_of
from lessons.practice.drive.smart import LOOP, TAG_SOURCE, loop_case
from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.units.quantities import Q
from valvecalc.characteristic import equal_percentage
from valvecalc.positioner import real_travel

LONGEST = Question(
    id="smart.w1",
    kind="number",
    text="A positioner needs {need} V at its terminals. The output card gives {supply} V at most, the barrier has "
    "{barrier} Ω. How "
    "many ohms may the cable have, there and back, at 20 mA?",
    variants=tuple(
        {"supply": supply, "need": need, "barrier": barrier}
        for supply, need, barrier in (
            (24, 10, 300),
            (24, 12, 250),
            (23, 9.5, 320),
            (22, 11, 280),
            (24, 9, 340),
            (23, 12, 230),
            (22, 8.5, 330),
            (24, 11.5, 280),
            (21, 9, 260),
            (23, 10, 290),
            (22, 9.5, 310),
            (24, 13, 240),
        )
    ),
    key=lambda n: (n.supply - n.need) / 0.020 - n.barrier,
    unit="Ω",
    tolerance=0.02,
    mistakes=(
        Mistake("left_out_barrier", by_family, "That is the resistance of cable and barrier together.", credit=0.5),
        Mistake(
            "at_4",
            lambda n: (n.supply - n.need) / 0.004 - n.barrier,
            "That is at 4 mA. Most is lost at 20 mA.",
            credit=0.25,
        ),
    ),
    working=("may_go [V] = supply - need", "may_go / current - barrier"),
    given=lambda _: {"current": 0.020},
    names={
        "supply": "voltage of the card",
        "need": "voltage needed",
        "barrier": "barrier",
        "current": "current [A]",
        "may_go": "voltage that may be lost",
    },
    idea="Whatever the card gives and the positioner does not need may be lost on the way. Most is lost "
    "at the highest current.",
    step="Take {need} V from {supply} V, divide by 0.020 A, and take off {barrier} Ω.",
    why="A check at 4 mA proves nothing. The voltage runs short at 20 mA.",
    plausible=(0.0, 5000.0),
    points=2.0,
    source="Ohm's law, worked by hand",
)

ENDS = Question(
    id="smart.w2",
    kind="number",
    text="An auto-calibration found the shut end at {closed} of the real travel, because of scale, and the open end "
    "at {open}, "
    "because the supply was low that day. Now it reports {reported}. How far is the valve really open?",
    variants=tuple(
        {"closed": Q(closed, "%"), "open": Q(opened, "%"), "reported": Q(reported, "%")}
        for closed, opened, reported in (
            (8, 80, 50),
            (10, 85, 40),
            (12, 90, 60),
            (6, 75, 30),
            (15, 88, 25),
            (9, 70, 70),
            (14, 82, 45),
            (7, 92, 35),
            (11, 78, 65),
            (5, 86, 55),
            (13, 84, 20),
            (16, 94, 75),
        )
    ),
    key=lambda n: float(real_travel(n.reported, n.closed, n.open)),
    unit="%",
    tolerance=0.02,
    mistakes=(
        Mistake(
            "open_end_own",
            lambda n: float(real_travel(n.reported, n.closed, 1.0)),
            "You took the open end as correct. It was found too early.",
            credit=0.5,
        ),
        Mistake(
            "from_seat",
            lambda n: n.reported * n.open,
            "You counted from the seat. The positioner counts from where the plug stood on the scale.",
            credit=0.25,
        ),
    ),
    working=("way [%] = open - closed", "closed + reported * way"),
    names={
        "way": "way between the ends found",
        "open": "open end found",
        "closed": "shut end found",
        "reported": "travel reported",
    },
    idea="The positioner calls what it found 0 and 100 %. Between the two runs a straight line.",
    step="Take {reported} of the way between {closed} and {open}, and add it to {closed}.",
    why="Before an auto-calibration, check that the supply is right and that the plug reaches its seat.",
    plausible=(0.0, 100.0),
    points=2.0,
    source=TAG_SOURCE,
)

_TRACES: dict[str, tuple[float, ...]] = {
    "friction": (900.0, 1100.0, 1300.0),
    "scale": (0.08, 0.11, 0.14),
    "supply": (1.02e5, 1.10e5, 1.18e5),
    "bench": (0.12e5, -0.14e5, 0.16e5),
}
TRACE = Question(
    id="smart.w3",
    kind="choice",
    text="LV-6120 has a digital positioner. It was auto-calibrated last week. The charts show a slow stroke, opening and closing; "
    "the dotted line is how it "
    "was left at the last overhaul. What do the two charts tell you?",
    variants=tuple({"fault": fault, "size": sizes[k]} for k in range(3) for fault, sizes in _TRACES.items()),
    key=lambda n: n.fault,
    options=(
        Option(
            "friction",
            "The packing rubs too hard",
            "Friction opens a wide loop in B, while A hardly shows it. Here B is narrow.",
        ),
        Option(
            "scale",
            "Something lies on the seat, and the calibration has hidden it",
            "Then A would lie on its "
            "line. B would "
            "begin at more air than the dotted line, and the two would meet at the top.",
        ),
        Option(
            "supply",
            "The air supply is too low",
            "Then A would bend off level at the top, and B would stop on its line.",
        ),
        Option(
            "bench",
            "The bench set has moved",
            "Then B would lie beside its dotted line, by the same distance all the way up.",
        ),
    ),
    idea="Chart A shows what the positioner was able to correct. Chart B shows how much air it took.",
    step="Look whether B is wide, and whether it is off its dotted line at both ends or at the lower end only. Then "
    "see whether A reaches the top.",
    example="B is narrow and on its line, and A is level at the top. So the air ran out.",
    why="In three of the four faults the board shows nothing.",
    points=2.0,
    source="computed here: strokes simulated with one fault each",
    figure=chart_of("digital_traces.digital_figure"),
    alt="Two charts, A travel reported against signal, B travel reported against air, opening and closing; dotted, "
    "as left.",
)

TWICE = Question(
    id="smart.w4",
    kind="number",
    text="A valve's trim is equal percentage, rangeability {r}. By mistake its characteriser is set to equal "
    "percentage too, with the "
    "same rangeability. The signal is {signal}. What relative flow coefficient does that give?",
    variants=tuple(
        {"r": r, "signal": Q(signal, "%")}
        for r, signal in (
            (50, 70),
            (50, 80),
            (30, 60),
            (30, 75),
            (50, 90),
            (30, 85),
            (50, 75),
            (30, 70),
            (50, 85),
            (30, 80),
            (30, 90),
            (30, 55),
        )
    ),
    key=lambda n: float(equal_percentage(equal_percentage(n.signal, n.r), n.r)),
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake("stopped_at_travel", by_family, "That is the travel. The trim bends it once more.", credit=0.5),
        Mistake(
            "squared",
            lambda n: float(equal_percentage(n.signal, n.r)) ** 2,
            "You squared it. Put the travel into the trim's own curve.",
            credit=0.25,
        ),
    ),
    working=("travel [%] = r ** (signal - 1)", "r ** (travel - 1)"),
    names={"signal": "signal as a fraction", "travel": "travel as a fraction"},
    idea="It is bent twice: the characteriser turns the signal into travel, and the trim turns the travel into flow.",
    step="The travel is {r} to the power (signal less 1). The flow coefficient is {r} to the power (travel less 1).",
    why="Such a valve does almost nothing in the first half of its signal and far too much at the end. One curve is "
    "enough.",
    plausible=(0.0, 100.0),
    points=2.0,
    source="IEC 60534-2-4, equal percentage curve, worked by hand",
)

WHERE_OFF = replace(
    LOOP,
    id="smart.w5",
    variants=(
        loop_case("wires", 70, 8.8, 30, 1.7, 0.84, 30),
        loop_case("positioner", 50, 12.0, 50, 1.7, 1.32, 90),
        loop_case("air", 85, 17.6, 85, 1.02, 1.0, 50),
        loop_case("valve", 65, 14.4, 65, 1.7, 1.67, 40),
        loop_case("wires", 25, 14.4, 65, 1.7, 1.12, 65),
        loop_case("positioner", 75, 16.0, 75, 1.7, 0.68, 10),
        loop_case("air", 95, 19.2, 95, 1.25, 1.24, 80),
        loop_case("valve", 35, 9.6, 35, 1.7, 0.05, 60),
        loop_case("wires", 90, 11.2, 45, 1.7, 0.96, 45),
        loop_case("positioner", 30, 8.8, 30, 1.7, 1.0, 50),
        loop_case("air", 60, 13.6, 60, 0.78, 0.76, 20),
        loop_case("valve", 80, 16.8, 80, 1.7, 1.69, 70),
    ),
    points=1.0,
)

QUESTIONS = (LONGEST, ENDS, TRACE, TWICE, WHERE_OFF)
