"""Graded questions of lesson 17: air."""

from __future__ import annotations

from lessons.practice.drive.air import CHOKED_SOURCE, OPEN_AIR, STIR_MISTAKES, STIR_WORKING, stir_time
from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.units.quantities import Q
from valvecalc.actuator import ATMOSPHERE
from valvecalc.air import pressure_after_strokes

STIR = Question(
    id="air.w1",
    kind="number",
    text="In a new actuator, room and tubing hold {room}. The air set gives {supply} (gauge). The narrowest place has "
    "an effective "
    "bore of {bore} and is choked all the while. The stem first moves at {low} (gauge). After what time? Speed 198.6 m/s "
    "(652 ft/s); atmosphere 1.013 bar (14.7 psi).",
    variants=tuple(
        {"room": Q(room, "L"), "bore": Q(bore, "mm"), "supply": Q(supply, "bar"), "low": Q(low, "bar")}
        for room, bore, supply, low in (
            (9.0, 1.9, 3.6, 0.9),
            (3.2, 1.3, 2.5, 0.4),
            (6.5, 2.4, 2.9, 0.6),
            (4.8, 1.4, 3.3, 0.8),
            (2.2, 0.9, 2.6, 0.5),
            (7.5, 2.1, 4.2, 1.1),
            (5.2, 1.6, 3.1, 0.6),
            (3.8, 1.2, 2.3, 0.4),
            (8.5, 2.3, 3.7, 0.9),
            (2.6, 1.0, 3.4, 0.7),
            (6.2, 1.8, 2.8, 0.5),
            (4.2, 1.5, 3.9, 1.0),
        )
    ),
    key=stir_time,
    unit="s",
    tolerance=0.03,
    mistakes=STIR_MISTAKES,
    **STIR_WORKING,
    idea="While the air is choked, the pressure rises at a steady rate.",
    step="The opening is π/4 times {bore} squared. The pressure before it is {supply} plus one atmosphere. The time is room times rise, "
    "divided by speed "
    "times opening times pressure.",
    why="No positioner can shorten this part of the stroke.",
    plausible=(0.0, 120.0),
    points=2.0,
    source=CHOKED_SOURCE,
)

BORE = Question(
    id="air.w2",
    kind="number",
    text="On a trip a valve opens in {time}, while its air leaves through an effective bore of {old}. It has to open in "
    "{wanted}. What "
    "effective bore does that take at least, if nothing else changes?",
    variants=tuple(
        {"time": Q(time, "s"), "wanted": Q(wanted, "s"), "old": Q(old, "mm")}
        for time, wanted, old in (
            (14, 4, 1.5),
            (20, 3, 1.2),
            (9, 2, 2.0),
            (12, 2.5, 1.6),
            (25, 5, 1.0),
            (16, 2, 2.0),
            (8, 1.5, 2.5),
            (18, 3, 1.5),
            (30, 4, 1.2),
            (11, 3, 1.8),
            (15, 2.5, 2.2),
            (22, 3.5, 1.4),
        )
    ),
    key=lambda n: n.old * (n.time / n.wanted) ** 0.5,
    unit="mm",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "no_root",
            lambda n: n.old * n.time / n.wanted,
            "That many times the area is needed. The bore goes with its root.",
            credit=0.5,
        ),
        Mistake(
            "upside_down",
            lambda n: n.old * (n.wanted / n.time) ** 0.5,
            "That is a smaller bore. Less time takes a wider opening.",
            credit=0.25,
        ),
    ),
    working=("old * sqrt(time / wanted)",),
    names={"old": "bore now", "wanted": "time wanted"},
    idea="Half the time takes twice the area, and the area goes with the square of the bore.",
    step="Divide {time} by {wanted}, take the root, and multiply by {old}.",
    why="The narrowest place counts. A wide quick exhaust behind a narrow elbow is no better than the elbow.",
    plausible=(0.0, 50.0),
    points=2.0,
    source=CHOKED_SOURCE,
)

QUALITY = Question(
    id="air.w3",
    kind="choice",
    text="The instrument air at {where} was tested. Coldest place {coldest}; pressure dew point {dew}; largest "
    "particle {um} µm; "
    "oil {ppm} ppm. Which of these breaks ISA-7.0.01 (10 °C or 18 °F below the coldest place and at most 4 °C or 39 °F; "
    "40 µm; "
    "1 ppm)?",
    variants=tuple(
        {"where": where, "coldest": Q(coldest, "°C"), "dew": Q(dew, "°C"), "um": um, "ppm": ppm, "right": right}
        for where, coldest, dew, um, ppm, right in (
            ("the desalter", -10, -16, 25, 0.3, "dew"),
            ("the cooler", 5, -2, 10, 0.6, "dew"),
            ("the flare", 22, 8, 30, 0.1, "dew"),
            ("the boiler house", -15, -30, 60, 0.4, "dust"),
            ("the tank farm", 8, -5, 85, 0.8, "dust"),
            ("the jetty", 3, -12, 50, 0.2, "dust"),
            ("the debutaniser", -5, -20, 35, 2.5, "oil"),
            ("the flash drum", 10, -2, 20, 1.6, "oil"),
            ("the loading bay", -20, -35, 5, 4.0, "oil"),
            ("the pump house", -12, -24, 38, 0.9, "none"),
            ("the cooling tower", 0, -14, 15, 0.5, "none"),
            ("the column", 16, 3, 40, 0.7, "none"),
        )
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "dew",
            "The dew point",
            "Take 10 °C (18 °F) from the coldest place. The dew point is at or below "
            "that, and at or "
            "below 4 °C (39 °F).",
        ),
        Option("dust", "The particles", "Up to 40 µm is accepted."),
        Option("oil", "The oil", "Up to 1 ppm is accepted."),
        Option("none", "Nothing: all of it is met", "One of the three is not met. Take them one by one."),
    ),
    idea="Check dew point, particles and oil one by one. The dew point has two limits.",
    step="Take 10 °C (18 °F) from {coldest} and compare it with {dew}. Compare {um} µm with 40 µm, and {ppm} ppm "
    "with 1 ppm.",
    example="Coldest place 0 °C (32 °F), dew point −5 °C (23 °F): the two are too near, so the dew point breaks it.",
    why="A device that needs finer air than this gets a finer filter of its own.",
    points=1.0,
    source="ISA-7.0.01-1996: dew point, 40 µm, 1 ppm, second-hand",
)

_LISTS = tuple(
    {"where": where, "shift": shift}
    for where in ("the column", "the boiler house", "the jetty", "the tank farm")
    for shift in ("early", "late", "night")
)
EACH = Question(
    id="air.w4",
    kind="match",
    text="Here are notes of the {shift} shift at {where}. Each valve is closed by a spring and opened by air. What has failed? One "
    "cause is left over.",
    variants=_LISTS,
    key=lambda _: {"holds": "lockup", "hiss": "quick", "sleeve": "water", "both": "tube", "half": "set"},
    places=(
        Option("holds", "The header is back, but the valve does not follow its signal; nothing leaks"),
        Option("hiss", "Air hisses all the time from the wide vent at the casing, and the valve never opens fully"),
        Option("sleeve", "After the first night of frost the air comes in gulps, and the converter sticks"),
        Option("both", "Slow both ways since the scaffolders were here; all gauges are right when it stands still"),
        Option("half", "It opens to 60 % and no further; the gauge behind the air set is too low, moving or still"),
    ),
    options=(
        Option("lockup", "The lock-up relay has not let go"),
        Option("quick", "Dirt holds the disc of the quick exhaust off its exhaust seat"),
        Option("water", "Water in the air: the dryer or a drain"),
        Option("tube", "The tube to the casing is squeezed"),
        Option("set", "The setting screw of the air set has been turned out"),
        Option("coil", "The solenoid coil has no current"),
    ),
    idea="A narrow place shows on a gauge only while air flows. A wrong setting or a leak shows at rest too.",
    step="Slow both ways with all gauges right at rest points to a narrow place. A gauge that is too low even at "
    "rest points to a setting or a leak.",
    example="Without current at the coil the valve would be shut, with full air before the solenoid valve.",
    why="Always note whether the valve stood still or moved when you read the gauge.",
    points=2.0,
    source="common practice, no source",
)

TANK = Question(
    id="air.w5",
    kind="number",
    text="A volume tank of {room} is at {tank} (gauge) when the header fails. Each stroke of the piston takes "
    "{swept} from "
    "it, and vents it afterwards. What does the tank's gauge show at the end of stroke number {strokes}? Atmosphere "
    "1.013 bar "
    "(14.7 psi).",
    variants=tuple(
        {"room": Q(room, "L"), "swept": Q(swept, "L"), "tank": Q(tank, "bar"), "strokes": strokes}
        for room, swept, tank, strokes in (
            (40, 10, 6.5, 3),
            (60, 12, 5.5, 3),
            (80, 16, 6.5, 4),
            (30, 6, 7.0, 3),
            (100, 25, 6.0, 3),
            (50, 10, 7.0, 4),
            (45, 9, 6.5, 3),
            (120, 24, 5.5, 3),
            (70, 14, 6.0, 3),
            (90, 18, 7.5, 4),
            (35, 7, 5.5, 3),
            (55, 11, 7.0, 3),
        )
    ),
    key=lambda n: float(pressure_after_strokes(n.tank + ATMOSPHERE, n.room, n.swept, n.strokes)) - ATMOSPHERE,
    unit="bar",
    tolerance=0.02,
    mistakes=(
        Mistake(
            "all_gauge",
            lambda n: n.tank * (n.room / (n.room + n.swept)) ** n.strokes,
            "You worked with gauge pressure. Boyle's law holds for absolute pressure.",
            credit=0.5,
        ),
        Mistake("stopped_at_left", by_family, "That is absolute. The gauge shows one atmosphere less.", credit=0.5),
        Mistake(
            "one_stroke",
            lambda n: float(pressure_after_strokes(n.tank + ATMOSPHERE, n.room, n.swept, 1)) - ATMOSPHERE,
            "That is after the first stroke. There is more than one.",
            credit=0.25,
        ),
    ),
    working=(
        "before [bar] = tank + open_air",
        "share [] = room / (room + swept)",
        "left [bar] = before * share ** strokes",
        "left - open_air",
    ),
    given=lambda _: {"open_air": OPEN_AIR},
    names={
        "before": "pressure before, absolute",
        "open_air": "atmosphere",
        "share": "part left by each stroke",
        "left": "pressure left, absolute",
        "tank": "tank",
        "room": "room of the tank",
        "swept": "room of a stroke",
        "strokes": "strokes",
    },
    idea="At each stroke the air of the tank spreads over tank and cylinder (Boyle's law).",
    step="Add an atmosphere to {tank}. At each stroke the pressure is multiplied by {room} ÷ ({room} + {swept}). Take "
    "the atmosphere "
    "off at the end.",
    why="Compare this with the pressure the piston needs where it works hardest. Then you know how many strokes the "
    "tank is good for.",
    plausible=(0.0, 10.0),
    points=2.0,
    source="Boyle's law, worked by hand",
)

QUESTIONS = (STIR, BORE, QUALITY, EACH, TANK)
