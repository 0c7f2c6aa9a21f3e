"""Lesson 18: the digital positioner."""

from __future__ import annotations

from typing import Any

from lessons.practice import drawn_parts
from lessons.questions.question import Mistake, Option, Question, by_family
from lessons.units.quantities import Q
from valvecalc.characteristic import equal_percentage
from valvecalc.positioner import real_travel, terminal_voltage
from valvecalc.units import signal_state

LESSON = "18_the_digital_positioner"
TERMS: dict[str, str] = {
    "digital positioner": "A positioner in which a small computer compares signal and travel. It measures travel and air, and "
    "can report them.",
    "HART": "An open protocol. It sends digital data as two tones on the same two wires that carry the 4 to 20 mA.",
    "auto-calibration": "The positioner drives the stem to both stops and calls what it finds there 0 and 100 %.",
    "characteriser": "A curve in the positioner that changes the travel asked for, so that trim and curve together "
    "give the characteristic that is wanted.",
    "travel deviation": "Travel asked for less travel measured. An alarm comes when it is too large for too long.",
    "tight shut-off": "Below a small signal the positioner lets all air out, so that the whole force of the spring is on the seat.",
    "loop check": "A test of the whole way, from the board to the stem and back, before a loop goes into service.",
    "terminal voltage": "The voltage left for the device in a current loop after cable and barrier have taken their share.",
}
TAGS = ("LV-6120", "FV-1204", "LV-2112")
DAYS = ("Monday", "Tuesday", "Thursday", "Friday")
EACH_DAY = tuple({"tag": tag, "day": day} for tag in TAGS for day in DAYS)
TAG_SOURCE = "worked by hand: a straight line through the two ends found"

PREDICT = Question(
    id="smart.predict",
    kind="predict",
    text="Scale on the seat of LV-6120 keeps its plug 8 % open. The travel alarm is on. Somebody starts an "
    "auto-calibration. "
    "What does the board show afterwards, at 0 % signal?",
    variants=({},),
    options=(
        Option("eight", "8 % travel, and the alarm stays"),
        Option("zero", "0 % travel, no alarm"),
        Option("refused", "The positioner refuses to calibrate with something on the seat"),
    ),
    why="Put scale on the seat first, then calibrate. Read chart A, then chart B.",
)

BLOCKS = Question(
    id="smart.blocks",
    kind="match",
    text="Here is a digital positioner drawn as blocks. What does each numbered block do?",
    variants=tuple(
        drawn_parts.variant("block_diagram", asked, spare, travel, words=True)
        for (asked, spare), travel in zip(
            drawn_parts.combinations_of(
                (
                    "modem, processor, pilot relay, travel sensor, pressure sensor",
                    "current meter, memory, converter stage, travel sensor, loop terminals",
                    "loop terminals, modem, processor, converter stage, pressure sensor",
                    "current meter, processor, pilot relay, travel sensor, memory",
                    "modem, memory, converter stage, pilot relay, pressure sensor",
                    "loop terminals, current meter, processor, travel sensor, pressure sensor",
                    "modem, current meter, pilot relay, converter stage, travel sensor",
                    "memory, processor, converter stage, pressure sensor, loop terminals",
                    "current meter, modem, travel sensor, pressure sensor, pilot relay",
                    "loop terminals, memory, pilot relay, travel sensor, converter stage",
                    "modem, processor, converter stage, travel sensor, current meter",
                    "loop terminals, processor, pilot relay, pressure sensor, memory",
                ),
                "memory, modem, pilot relay, pressure sensor, current meter, travel sensor, processor",
            ),
            (0.5, 0.2, 0.8) * 4,
            strict=True,
        )
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(5),
    options=drawn_parts.part_options(5, 2),
    figure=drawn_parts.figure,
    alt="Block diagram of a digital positioner with five numbers.",
    idea="Grey blocks are electric, yellow ones have air in them. Follow the signal from the left, then come back "
    "from the stem.",
    step="The line from the stem ends at the travel sensor. The line that branches off the actuator's air ends at "
    "the pressure "
    "sensor.",
    example="The block that all others lead to is the processor. It compares the travel asked for with the travel measured.",
    why="Most blocks give a number that you can read out. The fault finding of this lesson uses those numbers.",
    source="names of parts: common practice, no source",
)


def _state_variant(i: int, current: float) -> dict[str, Any]:
    state = str(signal_state(current / 1000))
    right = {"in range": "value" if 4 <= current <= 20 else "beyond", "fault low": "low", "fault high": "high"}
    return {"tag": TAGS[i % 3], "current": Q(current, "mA"), "right": right.get(state, "unsure")}


STATE = Question(
    id="smart.state",
    kind="choice",
    text="The positioner of {tag} sends its travel back as 4 to 20 mA. The board reads {current}. What does this mean "
    "by NE 43?",
    variants=tuple(
        _state_variant(i, current)
        for i, current in enumerate((3.5, 3.7, 3.9, 20.3, 21.2, 20.8, 12.4, 3.2, 3.85, 22.0, 20.7, 5.0))
    ),
    key=lambda n: n.right,
    options=(
        Option(
            "value",
            "A travel from 0 to 100 %",
            "It lies outside 4 to 20 mA. Compare with 3.8 and 20.5 mA, then with 3.6 and 21 mA.",
        ),
        Option(
            "beyond",
            "A travel a little beyond its ends, but still to be believed",
            "From 3.8 to 20.5 mA it is still "
            "a value; "
            "from 4 to 20 mA it is one inside the ends. Look where this one lies.",
        ),
        Option("low", "A fault, sent low", "A fault is sent at 3.6 mA or less. This current is higher."),
        Option("high", "A fault, sent high", "A fault is sent at 21 mA or more. This current is lower."),
        Option(
            "unsure",
            "Neither a value nor a fault: not to be believed",
            "Between 3.6 and 3.8 mA and between 20.5 and 21 mA nothing is agreed. This current lies elsewhere.",
        ),
    ),
    idea="There are four limits: 3.6 and 21 mA for faults, 3.8 and 20.5 mA for values.",
    step="Compare {current} with 3.6, 3.8, 20.5 and 21 mA, and see between which of them it lies.",
    example="3.4 mA lies below 3.6 mA, so it reports a fault.",
    why="NE 43 is about what a device sends. The manual says what a positioner does when it receives such a current.",
    source="NAMUR NE 43, for the signals of transmitters, from memory",
)

VOLTS = Question(
    id="smart.volts",
    kind="number",
    text="The output card gives {supply} V at most. The cable has {cable} Ω there and back, and the barrier {barrier} Ω. "
    "What voltage is "
    "left at the positioner's terminals at 20 mA?",
    variants=tuple(
        {"supply": supply, "cable": cable, "barrier": barrier}
        for supply, cable, barrier in (
            (24, 60, 250),
            (24, 45, 300),
            (22, 80, 250),
            (24, 120, 200),
            (23, 35, 320),
            (21, 50, 150),
            (24, 90, 280),
            (22, 30, 230),
            (23, 110, 250),
            (24, 25, 340),
            (21, 70, 200),
            (22, 95, 180),
        )
    ),
    key=lambda n: float(terminal_voltage(n.supply, 0.020, n.cable + n.barrier)),
    unit="V",
    tolerance=0.01,
    mistakes=(
        Mistake("left_out_barrier", by_family, "You left out the barrier. The same current goes through it too."),
        Mistake(
            "at_4",
            lambda n: float(terminal_voltage(n.supply, 0.004, n.cable + n.barrier)),
            "That is at 4 mA. Most is lost at the highest current.",
        ),
    ),
    working=("lost [V] = current * (cable + barrier)", "supply - lost"),
    given=lambda _: {"current": 0.020},
    names={
        "supply": "voltage of the card",
        "cable": "cable",
        "barrier": "barrier",
        "current": "current [A]",
        "lost": "voltage lost on the way",
    },
    idea="Everything in the loop takes some of the voltage: current times resistance.",
    step="Add {cable} and {barrier} Ω, multiply by 0.020 A, and take that from {supply} V.",
    why="Compare it with what the positioner's manual asks for. Too little voltage shows only at high signals: the "
    "positioner stops short or starts again.",
    plausible=(0.0, 40.0),
    source="Ohm's law, worked by hand",
)

WIRE = Question(
    id="smart.wire",
    kind="several",
    text="{tag}, {day}: a handheld is clipped to the two wires, and the digital data are read while the loop runs. "
    "What is "
    "true?",
    variants=EACH_DAY,
    key=lambda _: {"mean", "load", "write", "sensor"},
    options=(
        Option("mean", "The tones swing as much up as down, so the mean of the current stays what the controller gave"),
        Option("load", "The loop needs some resistance, or the tones cannot be heard"),
        Option("write", "Anybody who may also write can change a valve in service"),
        Option(
            "sensor", "The travel read there is what the travel sensor says, counted from the ends the positioner knows"
        ),
        Option(
            "replace",
            "While the data are read the valve stands still",
            "Data and current travel side by side. The valve goes on following its current.",
        ),
        Option(
            "plug",
            "The travel read there is where the plug really is",
            "The sensor feels the stem or the "
            "feedback arm. Play, "
            "a loose connector or wrongly found ends lie between that and the plug.",
        ),
    ),
    idea="The data are two tones on top of the current. They do not disturb it, and they can only say what the "
    "positioner itself knows.",
    step="For each sentence, ask whether it is about the wires or about what the positioner can know.",
    example="“Tag and range can be read without opening the case” would be true too.",
    why="Reading is harmless. Writing is work on the valve: only when operations agree, and with the permit.",
    source="HART protocol: two tones, mean of zero, resistance in the loop, second-hand; the rest: common practice, "
    "no source",
)

CURVE = Question(
    id="smart.curve",
    kind="number",
    text="A valve has a linear trim. Its characteriser is set to equal percentage with a rangeability of {r}. The "
    "signal is "
    "{signal}. To what travel does the positioner drive the stem?",
    variants=tuple(
        {"r": r, "signal": Q(signal, "%")}
        for r, signal in (
            (50, 40),
            (50, 60),
            (30, 45),
            (30, 70),
            (50, 75),
            (30, 40),
            (50, 80),
            (30, 60),
            (50, 55),
            (30, 80),
            (50, 70),
            (30, 65),
        )
    ),
    key=lambda n: float(equal_percentage(n.signal, n.r)),
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake("straight", lambda n: n.signal, "That is the travel without the characteriser. The curve changes it."),
        Mistake("from_shut", lambda n: n.r**-n.signal, "You counted from the shut end. The power is signal less 1."),
    ),
    working=("r ** (signal - 1)",),
    names={"signal": "signal as a fraction"},
    idea="With a linear trim the travel itself has to follow the curve: r to the power (signal less 1).",
    step="Write {signal} as a fraction, take 1 away, and raise {r} to that power.",
    why="At half signal such a valve is nearly shut, so plug and seat wear. A trim that is cut to the curve does not "
    "have to work so close to its seat.",
    plausible=(0.0, 100.0),
    source="IEC 60534-2-4, equal percentage curve, worked by hand",
)

REAL = Question(
    id="smart.real",
    kind="number",
    text="When the positioner was auto-calibrated, the plug stood on scale, {scale} of its travel open. The open end "
    "was found rightly. "
    "Now it reports {reported}. How far is the valve really open?",
    variants=tuple(
        {"scale": Q(scale, "%"), "reported": Q(reported, "%")}
        for scale, reported in (
            (8, 30),
            (10, 20),
            (12, 25),
            (6, 15),
            (15, 40),
            (9, 35),
            (14, 30),
            (20, 50),
            (7, 20),
            (18, 25),
            (11, 45),
            (16, 35),
        )
    ),
    key=lambda n: float(real_travel(n.reported, n.scale, 1.0)),
    unit="%",
    tolerance=0.02,
    mistakes=(
        Mistake(
            "added",
            lambda n: n.scale + n.reported,
            "You added them. What is reported is a share of the way that was left above the scale.",
        ),
        Mistake(
            "as_reported",
            lambda n: n.reported,
            "That is what is reported. It counts from the scale, not from the seat.",
        ),
    ),
    working=("left [%] = 1 - scale", "scale + reported * left"),
    names={"scale": "scale", "left": "way left above the scale", "reported": "travel reported"},
    idea="At 0 % reported the plug stands on the scale; at 100 % it is wide open. Between the two runs a straight line.",
    step="The way left above the scale is 100 % less {scale}. Take {reported} of it and add {scale}.",
    why="At 0 % reported the valve still lets flow through. The board does not show it, but the level does.",
    plausible=(0.0, 100.0),
    source=TAG_SOURCE,
)

SCALE = Question(
    id="smart.scale",
    kind="number",
    text="This is read from chart B of a valve, with the friction taken out. As left, the line went from {low} shut to {high} open. "
    "Today, after "
    "an auto-calibration, the positioner reports 0 % at {found} and still 100 % at {high}. The plug stands on scale. How much of the travel "
    "does the scale take up?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "found": Q(found, "bar")}
        for low, high, found in (
            (0.2, 1.0, 0.27),
            (0.4, 2.0, 0.52),
            (0.6, 1.4, 0.71),
            (0.8, 2.4, 1.04),
            (0.5, 1.3, 0.56),
            (0.2, 1.0, 0.30),
            (0.4, 2.0, 0.64),
            (0.6, 1.4, 0.68),
            (0.8, 2.4, 0.96),
            (0.5, 1.3, 0.64),
            (0.2, 1.0, 0.33),
            (0.4, 1.2, 0.47),
        )
    ),
    key=lambda n: (n.found - n.low) / (n.high - n.low),
    unit="%",
    tolerance=0.05,
    mistakes=(
        Mistake(
            "share_of_top",
            lambda n: (n.found - n.low) / n.high,
            "You divided by the pressure at the open end. "
            "Divide by the "
            "whole change of air pressure from shut to open.",
        ),
        Mistake(
            "way_left",
            lambda n: (n.high - n.found) / (n.high - n.low),
            "That is the travel that is left. The scale takes up the rest.",
        ),
    ),
    working=("span [bar] = high - low", "(found - low) / span"),
    idea="The spring has not changed. If it takes more air to leave the shut end, the plug starts higher up.",
    step="Take {low} from {found}, and divide by the difference between {low} and {high}.",
    why="An auto-calibration changes the ends, but it cannot change the spring. Compare with the bench set and with "
    "the last record.",
    plausible=(0.0, 100.0),
    source="worked by hand: Hooke's law, (found − low) ÷ (high − low)",
)

ALARM = Question(
    id="smart.alarm",
    kind="number",
    text="The stem of a valve is stuck where the signal had put it. Now the signal rises steadily, by {step} in {time}, "
    "and goes "
    "on rising. The travel alarm is set to {allowed} for {delay}. How long after the signal begins to rise does the alarm "
    "come?",
    variants=tuple(
        {"step": Q(step, "%"), "time": Q(time, "s"), "allowed": Q(allowed, "%"), "delay": Q(delay, "s")}
        for step, time, allowed, delay in (
            (20, 40, 5, 10),
            (30, 20, 6, 8),
            (10, 30, 4, 15),
            (40, 60, 5, 10),
            (25, 50, 3, 20),
            (15, 45, 5, 12),
            (30, 60, 4, 10),
            (20, 30, 8, 5),
            (50, 40, 10, 12),
            (12, 36, 3, 15),
            (24, 60, 6, 20),
            (36, 30, 9, 10),
        )
    ),
    key=lambda n: n.allowed / n.step * n.time + n.delay,
    unit="s",
    tolerance=0.02,
    mistakes=(
        Mistake(
            "left_out_delay",
            by_family,
            "That is when the deviation passes its limit. The alarm still waits for the delay.",
        ),
        Mistake(
            "delay_alone",
            lambda n: n.delay,
            "That is the delay. It only begins when the deviation has grown past its limit.",
        ),
    ),
    working=("grown [s] = allowed / step * time", "grown + delay"),
    names={
        "grown": "time until the limit is passed",
        "allowed": "deviation allowed",
        "step": "rise",
        "time": "time of the rise",
        "delay": "delay",
    },
    idea="First the deviation has to grow past its limit, then it has to stay there for the delay.",
    step="Work out how long the signal takes to rise by {allowed}. Then add {delay}.",
    why="With a wide limit and a long delay there are few alarms, but a stuck valve is noticed late.",
    plausible=(0.0, 600.0),
    source="a straight rise, worked by hand",
)


def loop_case(
    right: str, asked: int, current: float, seen: int, supply: float, p: float, travel: int
) -> dict[str, Any]:
    """Return one set of readings on the way from the board to the stem, and where the fault lies."""
    return {
        "asked": Q(asked, "%"),
        "current": Q(current, "mA"),
        "seen": Q(seen, "%"),
        "supply": Q(supply, "bar"),
        "p": Q(p, "bar"),
        "travel": Q(travel, "%"),
        "right": right,
    }


LOOP_TEXT = (
    "A valve with a digital positioner, bench set 0.6 to 1.4 bar (8.7 to 20.3 psi), air set 1.7 bar (24.7 psi) as "
    "left. The "
    "board asks for {asked}. A meter in the loop at the valve shows {current}. The positioner says that it was asked for {seen}, has a "
    "supply of "
    "{supply} and gives {p}. The stem stands at {travel}. Where is the fault?"
)
LOOP_OPTIONS = (
    Option(
        "wires",
        "Before the positioner: output card or wires",
        "The meter shows the current that belongs to what "
        "the board asks for: "
        "4 mA and 0.16 mA for each per cent. The wires have done their job.",
    ),
    Option("air", "The air supply", "The supply is as it was left. It is not the air that is missing."),
    Option(
        "positioner",
        "The positioner itself",
        "It was asked rightly and answered as it should, or it had too "
        "little air to answer "
        "with. Compare its output with the stem.",
    ),
    Option(
        "valve",
        "The valve: packing, stem or trim",
        "The stem stands where this air puts it, in the middle of "
        "its friction: 0.6 "
        "bar and 0.008 bar (8.7 psi and 0.116 psi) for each per cent. The valve does what it is told.",
    ),
)
LOOP = Question(
    id="smart.loop",
    kind="choice",
    text=LOOP_TEXT,
    variants=(
        loop_case("wires", 60, 9.6, 35, 1.7, 0.88, 35),
        loop_case("positioner", 60, 13.6, 60, 1.7, 0.76, 20),
        loop_case("air", 70, 15.2, 70, 0.95, 0.92, 40),
        loop_case("valve", 50, 12.0, 50, 1.7, 1.68, 30),
        loop_case("wires", 80, 12.8, 55, 1.7, 1.04, 55),
        loop_case("positioner", 40, 10.4, 40, 1.7, 1.24, 80),
        loop_case("air", 90, 18.4, 90, 1.15, 1.12, 65),
        loop_case("valve", 75, 16.0, 75, 1.7, 1.69, 55),
        loop_case("wires", 30, 6.4, 15, 1.7, 0.72, 15),
        loop_case("positioner", 85, 17.6, 85, 1.7, 0.84, 30),
        loop_case("air", 80, 16.8, 80, 0.85, 0.84, 30),
        loop_case("valve", 20, 7.2, 20, 1.7, 0.04, 45),
    ),
    key=lambda n: n.right,
    options=LOOP_OPTIONS,
    idea="Go from the board to the stem: asked, current, heard, supply, output, stem. The fault lies where two "
    "readings next to each other do not agree.",
    step="Work out 4 mA plus 0.16 mA for each per cent of {asked}. Is that {current}? Then look: is there supply, does the output "
    "push the right way, "
    "and does the stem follow?",
    example="Asked for 50 %: 12 mA at the valve, heard 50 %, output at full supply, stem at 20 %. The air pushes and the "
    "stem does not "
    "move, so it is the valve.",
    why="Six readings were enough, and nothing was taken apart.",
    source="worked by hand: 4 to 20 mA and Hooke's law",
)

_CHECK = ("word", "wires", "volts", "tag", "five", "dead", "back")
ORDER = Question(
    id="smart.order",
    kind="order",
    text="The loop of {tag} has been rewired; {day} is its loop check. In which order?",
    variants=EACH_DAY,
    key=lambda _: _CHECK,
    options=(
        Option("word", "Operations agree, loop in manual, valve bypassed, interlocks known; hands out of the yoke"),
        Option("wires", "Before the current is on, compare terminals, polarity and shield with the loop drawing"),
        Option("volts", "Current on: compare the terminal voltage at 20 mA with what the manual asks for"),
        Option("tag", "Read over the wires: is it this valve's tag, range and fail setting?"),
        Option(
            "five", "0, 25, 50, 75 and 100 % from the board and back: current, stem and travel sent back, in writing"
        ),
        Option("dead", "Take the current away: does the valve go to its fail position, and does the board see it?"),
        Option("back", "Put back what was changed, write the note, hand over"),
    ),
    mistakes=(
        Mistake(
            "five_first",
            lambda _: ("word", "wires", "volts", "five", "tag", "dead", "back"),
            "Five points of which valve? Read tag, range and fail setting first. Wires do get swapped.",
        ),
        Mistake(
            "no_word",
            lambda _: ("wires", "word", "volts", "tag", "five", "dead", "back"),
            "Even a look at the terminals is work on a loop. Operations have to agree first.",
        ),
    ),
    idea="Surprise nobody, look before you switch on, and try the failure before it is needed.",
    step="First people, then terminals, then power. After that come the tag, the five points, the failure, and "
    "handing over.",
    example="In lesson 10 the five points came between as found and as left. Here they come between the tag and the "
    "failure.",
    why="A loop check goes to the stem and back to the board. A current that arrives does not mean that the valve "
    "moves.",
    source="common practice, no source",
)

QUESTIONS = (PREDICT, BLOCKS, STATE, VOLTS, WIRE, CURVE, REAL, SCALE, ALARM, LOOP, ORDER)
