"""Lesson 17: instrument air, how fast it moves a valve, and what each failure does."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.practice import drawn_parts
from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.units.quantities import Q
from valvecalc.actuator import ATMOSPHERE
from valvecalc.air import choked_below, filling_time, highest_dew_point
from valvecalc.plug_forces import circle_area

LESSON = "17_air_supply_speed_and_failure"
TERMS: dict[str, str] = {
    "instrument air": "Compressed air that is dry, clean and free of oil, for instruments and actuators only.",
    "pressure dew point": "The temperature at which water begins to fall out of the air at line pressure.",
    "air set": "Filter and regulator in one. It cleans the air once more and sets its pressure for one valve.",
    "critical pressure ratio": "0.528 for air. While the pressure behind an opening is below this part of the pressure before it, "
    "both absolute, the air is choked.",
    "effective bore": "The bore of an ideal opening that passes as much air as the real thing.",
    "free air": "Air as it is outdoors, at 1.013 bar (14.7 psi) absolute. It says how much the compressor has to take in.",
    "solenoid valve": "A small valve moved by a coil. In an air line it lets the air through or vents the actuator.",
    "quick exhaust": "Vents the casing on the spot through a wide opening when the pressure in the air line falls.",
    "volume booster": "Passes a lot of air, in and out, at the pressure of a small signal.",
    "lock-up relay": "Shuts the air in when the supply fails, so that the valve stays where it is, as long as "
    "nothing leaks.",
    "volume tank": "Keeps air for one or more strokes when the supply has failed.",
    "limit switch": "Tells the board that the stem has reached an end, whatever the signal says.",
}
SPEED = Q(198.6, "m/s")  # 0.6847 √(R T), air at 20 °C
OPEN_AIR = Q(1.013, "bar")
CHOKED_SOURCE = (
    "perfect gas in an ideal nozzle, NACA Report 1135, from memory; room at constant temperature, worked by hand"
)

PREDICT = Question(
    id="air.predict",
    kind="predict",
    text="Maro wants to turn the air set of PV-5102 up from 2 to 3 bar (29 to 44 psi), so that it opens sooner on a "
    "trip. "
    "The spring opens it, and all the air has to leave first. What will happen?",
    variants=({},),
    options=(
        Option("sooner", "It opens sooner"),
        Option("same", "It opens as late as before"),
        Option("later", "It opens later still"),
    ),
    why="Move the air set's pressure and watch both columns. Then look for a bore that opens it in time.",
)

PARTS = Question(
    id="air.parts",
    kind="match",
    text="An air set, cut. What are the numbered parts called?",
    variants=tuple(
        drawn_parts.variant("air_set", asked, spare, travel)
        for (asked, spare), travel in zip(
            drawn_parts.combinations_of(
                (
                    "setting spring, supply valve, filter element, drain, air outlet",
                    "regulator diaphragm, filter element, bowl, air inlet, setting screw",
                    "spring-side vent, supply valve, collected water, air inlet, setting spring",
                    "regulator diaphragm, supply valve, bowl, drain, air outlet",
                    "setting screw, spring-side vent, filter element, collected water, air inlet",
                    "setting spring, regulator diaphragm, filter element, drain, air inlet",
                    "setting screw, supply valve, bowl, collected water, air outlet",
                    "spring-side vent, regulator diaphragm, filter element, drain, setting screw",
                    "setting spring, air inlet, air outlet, filter element, collected water",
                    "regulator diaphragm, supply valve, filter element, bowl, setting screw",
                    "spring-side vent, supply valve, drain, air inlet, setting spring",
                    "setting screw, regulator diaphragm, collected water, bowl, air outlet",
                ),
                "regulator diaphragm, drain, setting screw, supply valve, filter element, bowl, spring-side vent",
            ),
            (0.5, 0.0, 1.0) * 4,
            strict=True,
        )
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(5),
    options=drawn_parts.part_options(5, 2),
    figure=drawn_parts.figure,
    alt="Cut through an air set with five numbers.",
    idea="The filter is below, the regulator above. In the middle the supply valve opens and closes.",
    step="Follow the air: in on the left, down into the bowl, inwards through the element, up past the supply valve, "
    "out.",
    example="The green cross-hatched sleeve that the air goes through is the filter element.",
    why="If you know the parts, you know where to look: for water in the bowl, for dirt on the element, for air at "
    "the vent.",
    source="names of parts: common practice, no source",
)


def _dew_variant(coldest: int, own: int) -> dict[str, Any]:
    """Return one case of the dew point; `own` °C is the pressure dew point that the dryer gives."""
    highest = float(highest_dew_point(coldest + 273.15)) - 273.15
    cold = "ok" if own <= highest else "cap" if own <= coldest - 10 else "margin" if own <= 4 else "both"
    return {"coldest": Q(coldest, "°C"), "own": Q(own, "°C"), "right": cold}


DEW = Question(
    id="air.dew",
    kind="choice",
    text="Behind the dryer the pressure dew point is {own}. The coldest place the tubing passes is {coldest}. Does "
    "that meet "
    "ISA-7.0.01: at least 10 °C (18 °F) below the coldest place, and never above 4 °C (39 °F)?",
    variants=tuple(
        _dew_variant(*case)
        for case in (
            (-10, -25),
            (-10, -15),
            (20, 7),
            (10, 6),
            (5, -8),
            (5, 0),
            (25, 9),
            (12, 8),
            (-25, -40),
            (-20, -24),
            (30, 12),
            (8, 5),
        )
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "ok",
            "Yes, both are met",
            "Take 10 °C (18 °F) from the coldest place: the dew point has to be at or "
            "below that. "
            "It also has to be at or below 4 °C (39 °F).",
        ),
        Option(
            "margin",
            "No: it is too near to the coldest place",
            "Take 10 °C (18 °F) from the coldest place. That "
            "limit is "
            "met here, or it is not the only one that is broken.",
        ),
        Option(
            "cap",
            "No: it is far enough below the coldest place, but above 4 °C (39 °F)",
            "Compare with 4 °C (39 °F) first, then with the coldest place less 10 °C (18 °F).",
        ),
        Option("both", "No: both are broken", "One of the two limits is met. Look at each by itself."),
    ),
    idea="There are two limits, and both count. One depends on the coldest place; the other is always the same.",
    step="Take 10 °C (18 °F) from {coldest} and compare {own} with that; then compare {own} with 4 °C (39 °F).",
    example="Coldest place 0 °C (32 °F): at most −10 °C (14 °F). A dew point of −12 °C (10 °F) meets both.",
    why="Water that falls out in the tubing freezes there or makes rust. Ice and rust both block a nozzle.",
    source="ISA-7.0.01-1996, pressure dew point, second-hand",
)

LIMIT = Question(
    id="air.limit",
    kind="number",
    text="An air set gives {supply}, by its gauge. Up to what pressure in the casing, by gauge, is the air choked in "
    "the small "
    "opening between them? Take the atmosphere as 1.013 bar (14.7 psi).",
    variants=tuple({"supply": Q(bar, "bar")} for bar in (1.8, 2.2, 2.4, 2.6, 2.8, 3.2, 3.4, 3.6, 3.8, 4.2, 4.5, 5.0)),
    key=lambda n: float(choked_below(n.supply + ATMOSPHERE)) - ATMOSPHERE,
    unit="bar",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "all_gauge",
            lambda n: 0.5283 * n.supply,
            "You took 0.528 of the gauge pressure. The ratio is one of "
            "absolute "
            "pressures: add the atmosphere first, take it off at the end.",
        ),
        Mistake("stopped_at_limit", by_family, "That is absolute. The gauge on the casing shows one atmosphere less."),
    ),
    working=("before [bar] = supply + open_air", "limit [bar] = ratio * before", "limit - open_air"),
    given=lambda _: {"open_air": OPEN_AIR, "ratio": 0.528},
    names={
        "before": "pressure before it, absolute",
        "limit": "limit, absolute",
        "open_air": "atmosphere",
        "ratio": "critical pressure ratio",
    },
    idea="Air is choked while the pressure after the opening is below 0.528 of the pressure before it. Both are "
    "absolute.",
    step="Add the atmosphere to {supply}, take 0.528 of it, and take the atmosphere off again.",
    why="Up to that pressure the casing fills at a steady rate. Above it the filling slows down.",
    plausible=(0.0, 10.0),
    source=CHOKED_SOURCE,
)


def stir_time(n: SimpleNamespace) -> float:
    """Return when the stem first moves [s]: the casing has filled to the pressure that starts it."""
    end = n.low + ATMOSPHERE
    return float(filling_time([ATMOSPHERE, end], n.room, circle_area(n.bore), n.supply + ATMOSPHERE)[-1])


STIR_MISTAKES = (
    Mistake(
        "left_out_open_air",
        by_family,
        "You took the air set's gauge pressure. How much air passes depends on "
        "the absolute "
        "pressure before the opening.",
    ),
    Mistake(
        "air_added_low",
        by_family,
        "You filled the casing from nothing. One atmosphere is in it from the start, so only the rise counts.",
    ),
)
STIR_WORKING: dict[str, Any] = {
    "working": (
        "opening [mm²] = circle(bore)",
        "before [bar] = supply + open_air",
        "room * low / (speed * opening * before)",
    ),
    "given": lambda _: {"open_air": OPEN_AIR, "speed": SPEED},
    "names": {
        "before": "pressure before it, absolute",
        "open_air": "atmosphere",
        "low": "rise",
        "room": "room",
        "bore": "bore",
        "speed": "speed",
        "opening": "opening",
    },
}

STIR = Question(
    id="air.stir",
    kind="number",
    text="The room over a diaphragm and its tubing hold {room}. An air set of {supply} (gauge) fills them through an "
    "effective "
    "bore of {bore}, choked all the while. The stem first moves at {low} (gauge). After what time? Speed 198.6 m/s "
    "(652 ft/s); atmosphere 1.013 bar (14.7 psi).",
    variants=tuple(
        {"room": Q(room, "L"), "bore": Q(bore, "mm"), "supply": Q(supply, "bar"), "low": Q(low, "bar")}
        for room, bore, supply, low in (
            (2.0, 1.2, 2.4, 0.4),
            (3.0, 1.5, 2.8, 0.5),
            (4.0, 1.5, 3.0, 0.6),
            (2.5, 1.0, 2.2, 0.3),
            (5.0, 2.0, 3.5, 0.8),
            (6.0, 1.8, 3.0, 0.7),
            (3.5, 1.4, 2.6, 0.4),
            (8.0, 2.0, 4.0, 1.0),
            (4.5, 1.6, 2.5, 0.5),
            (7.0, 2.2, 3.2, 0.6),
            (2.8, 1.1, 3.8, 0.9),
            (5.5, 1.7, 2.7, 0.6),
        )
    ),
    key=stir_time,
    unit="s",
    tolerance=0.03,
    mistakes=STIR_MISTAKES,
    **STIR_WORKING,
    idea="While it is choked, the opening passes the same amount of air every second. So the pressure rises at a "
    "steady rate.",
    step="The opening is π/4 times {bore} squared. The pressure before it is {supply} plus one atmosphere. The time is "
    "room times "
    "rise, divided by speed times opening times pressure.",
    why="Every stroke has dead time of this kind. It comes neither from the positioner nor from the packing.",
    plausible=(0.0, 120.0),
    source=CHOKED_SOURCE,
)

EXHAUST = Question(
    id="air.exhaust",
    kind="number",
    text="On a trip a valve takes {time} to open, while its air leaves through an effective bore of {old}. How long does it take with "
    "{new}, "
    "if nothing else changes?",
    variants=tuple(
        {"time": Q(time, "s"), "old": Q(old, "mm"), "new": Q(new, "mm")}
        for time, old, new in (
            (14, 1.5, 3.0),
            (20, 1.2, 3.0),
            (9, 2.0, 5.0),
            (12, 1.6, 4.0),
            (25, 1.0, 2.0),
            (16, 2.0, 6.0),
            (8, 2.5, 6.0),
            (18, 1.5, 5.0),
            (30, 1.2, 4.0),
            (11, 1.8, 3.5),
            (15, 2.2, 4.5),
            (22, 1.4, 4.2),
        )
    ),
    key=lambda n: n.time * (n.old / n.new) ** 2,
    unit="s",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "no_square",
            lambda n: n.time * n.old / n.new,
            "You went by the bore. Air passes through the area, and that goes with the bore squared.",
        ),
        Mistake(
            "upside_down",
            lambda n: n.time * (n.new / n.old) ** 2,
            "That is a longer time. A wider opening takes less time.",
        ),
    ),
    working=("time * (old / new) ** 2",),
    names={"old": "bore now", "new": "new bore"},
    idea="Twice the area takes half the time, and the area goes with the square of the bore.",
    step="Divide {old} by {new}, square it, and multiply by {time}.",
    why="Here a fitting one size larger does more than any setting.",
    plausible=(0.0, 120.0),
    source=CHOKED_SOURCE,
)

FREE = Question(
    id="air.free",
    kind="number",
    text="The room over a diaphragm holds {room}. At first it is open to the air; then it is filled to {p} (gauge). "
    "How much "
    "free air has come in? Take the atmosphere as 1.013 bar (14.7 psi).",
    variants=tuple(
        {"room": Q(room, "L"), "p": Q(p, "bar")}
        for room, p in (
            (3.0, 2.0),
            (3.6, 1.7),
            (5.0, 2.4),
            (8.0, 1.4),
            (2.4, 3.0),
            (4.0, 2.6),
            (6.0, 1.6),
            (10.0, 2.2),
            (7.0, 2.8),
            (2.0, 3.5),
            (12.0, 1.8),
            (9.0, 4.0),
        )
    ),
    key=lambda n: n.room * n.p / ATMOSPHERE,
    unit="L",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "absolute",
            lambda n: n.room * (n.p + ATMOSPHERE) / ATMOSPHERE,
            "That counts the air that was in it already. Only what is above one atmosphere has come in.",
        ),
        Mistake("room_itself", lambda n: n.room, "That is the room itself. Under pressure it holds more air."),
    ),
    working=("room * p / open_air",),
    given=lambda _: {"open_air": OPEN_AIR},
    names={"open_air": "atmosphere", "room": "room"},
    idea="At twice the absolute pressure the same room holds twice as much air (Boyle's law).",
    step="Work out how many atmospheres {p} is. That many times {room} has come in.",
    why="When the casing is vented all of this air is lost, and the compressor has to make it again.",
    plausible=(0.0, 500.0),
    source="Boyle's law, worked by hand",
)

DEVICES = (
    Option("solenoid", "A three-way solenoid valve next to the casing"),
    Option("booster", "A volume booster"),
    Option("quick", "A quick exhaust"),
    Option("lockup", "A lock-up relay"),
    Option("tank", "A volume tank with its trip valves"),
    Option("switch", "A limit switch"),
    Option("set", "An air set of its own"),
)
_PLACES = tuple(
    {"where": where, "day": day}
    for where in ("the desalter", "the cooler", "the flash drum", "the debutaniser")
    for day in ("first", "second", "third")
)

NEEDS = Question(
    id="air.needs",
    kind="match",
    text="Here are six wishes from {where}, {day} list. Which device meets each of them? One device is left over.",
    variants=_PLACES,
    key=lambda _: {
        "trip": "solenoid",
        "big": "booster",
        "fast": "quick",
        "stay": "lockup",
        "piston": "tank",
        "sure": "switch",
    },
    places=(
        Option("trip", "On a trip the casing has to be vented, whatever the positioner says"),
        Option("big", "A big casing has to follow large and small steps, quickly both ways"),
        Option("fast", "The spring has to move the valve to its end fast; filling may be slow"),
        Option("stay", "When the header fails, the valve has to stay where it is"),
        Option("piston", "A piston without a spring has to go to its safe end when the header has failed"),
        Option("sure", "The board wants to know that the stem has reached its end"),
    ),
    options=DEVICES,
    idea="Ask what each wish is about. More air, air let out, air kept in, air in store, or only a message?",
    step="Fast both ways and in small steps is a job for a booster. Fast out only is a job for a quick exhaust. A "
    "trip by losing the current is the solenoid valve's job.",
    example="“Clean air of the right pressure for one valve” would be the air set.",
    why="None of them can do another's job. A quick exhaust cannot hold the valve, and a lock-up relay cannot trip it.",
    source="common practice, no source",
)

FAILS = Question(
    id="air.fails",
    kind="match",
    text="Six notes on a valve at {where}, {day} shift: air closes it, a spring opens it, and a solenoid valve vents it on "
    "a trip. "
    "What failed each time? One cause is left over.",
    variants=_PLACES,
    key=lambda _: {
        "nothing": "supply",
        "after": "coil",
        "silent": "quick",
        "sinks": "filter",
        "blows": "diaphragm",
        "one_way": "restriction",
    },
    places=(
        Option("nothing", "It stands open, and the gauge before the air set shows nothing"),
        Option("after", "It stands open; there is air before the solenoid valve and none after it, at full signal"),
        Option("silent", "On a trip it opens late; the wide vent at the casing stays silent"),
        Option("sinks", "It closes slowly; while it moves, the gauge behind the air set falls"),
        Option("blows", "Air blows from the small hole in the spring housing of the air set"),
        Option("one_way", "It stands open; the converter gets its current and its air, but sends no air on"),
    ),
    options=(
        Option("supply", "The header, or the valve on it, gives no air"),
        Option("coil", "The coil has no current, or is burnt"),
        Option("quick", "The disc of the quick exhaust sticks"),
        Option("filter", "The filter element is full of dirt"),
        Option("diaphragm", "The regulator's diaphragm is torn"),
        Option("restriction", "A grain of dirt in the converter's fixed restriction"),
        Option("lockup", "The lock-up relay has shut"),
    ),
    idea="Follow the air and ask at each device: is there air before it, and is there air after it?",
    step="No air before the air set points to the header. Air before the solenoid valve and none after it points to "
    "its coil. A gauge that falls while air flows means that something before it lets too little through.",
    example="A valve that stays where it was when the header failed has a lock-up relay that has done its job.",
    why="Whenever the air is lost, the spring opens this valve. That is its fail position.",
    source="common practice, no source",
)

_WAY = ("header", "filter", "regulator", "positioner", "solenoid", "quick", "casing")
WHERE = Question(
    id="air.where",
    kind="order",
    text="This is a valve at {where}, {day} drawing. It is controlled by a positioner and has to trip within seconds. Follow "
    "the air "
    "from the header to the diaphragm.",
    variants=_PLACES,
    key=lambda _: _WAY,
    options=(
        Option("header", "Isolating valve at the header"),
        Option("filter", "Filter of the air set"),
        Option("regulator", "Regulator of the air set"),
        Option("positioner", "Positioner"),
        Option("solenoid", "Solenoid valve"),
        Option("quick", "Quick exhaust, screwed to the casing"),
        Option("casing", "Room at the diaphragm"),
    ),
    mistakes=(
        Mistake(
            "solenoid_first",
            lambda _: ("header", "filter", "regulator", "solenoid", "positioner", "quick", "casing"),
            "There the air from the casing would have to go back through the positioner. The solenoid valve belongs "
            "between "
            "positioner and casing.",
        ),
        Mistake(
            "regulator_first",
            lambda _: ("header", "regulator", "filter", "positioner", "solenoid", "quick", "casing"),
            "The dirt would reach the regulator's own seat. Clean the air first, then reduce it.",
        ),
    ),
    idea="The air is cleaned, reduced and controlled. After that come the devices that can take it away again.",
    step="The solenoid valve has to overrule the positioner, so it comes after it. The quick exhaust sits right at "
    "the casing, so that the air has the shortest way out.",
    example="On the way out the line is far shorter: casing, quick exhaust, open air.",
    why="If you know the way the air goes, you know between which two gauges to look.",
    source="common practice, no source",
)

QUESTIONS = (PREDICT, PARTS, DEW, LIMIT, STIR, EXHAUST, FREE, NEEDS, FAILS, WHERE)
