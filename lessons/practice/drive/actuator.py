"""Lesson 07: the actuator, its bench set and its fail action."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons import safety
from lessons.practice import drawn_parts
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.actuator import ATMOSPHERE
from valvecalc.force_balance import fail_position, valve_action

LESSON = "07_actuator_and_bench_set"
TERMS: dict[str, str] = {
    "effective area": "Multiply it by the air pressure and you have the force of a diaphragm.",
    "spring rate": "How much more force a spring takes for each further millimetre or inch of compression.",
    "preload": "The force of the spring when it is at its longest in the actuator: at the start of the stroke.",
    "rated travel": "How far the stem moves from shut to full open.",
    "bench set": "The two air pressures that start and end the stroke on the bench, with no process load and no friction.",
    "operative range": "The two air pressures that start and end the stroke in the line, with process load and friction.",
    "process load": "The force of the fluid on the plug, which the stem has to carry.",
    "air-to-open": "More air opens the valve and the spring shuts it; also called reverse-acting.",
    "air-to-close": "More air shuts the valve and the spring opens it; also called direct-acting.",
    "fail position": "Where the valve goes when its air is lost.",
    "piston actuator": "A cylinder with a piston; air on one side or on both moves the stem.",
}


def fails(n: SimpleNamespace) -> str:
    """Return where a valve goes without air: "open", "closed", or "drifts" without a spring."""
    return "drifts" if n.acts == "piston" else fail_position(valve_action(n.acts, n.body))


DIRECT_PARTS = (
    "diaphragm, diaphragm plate, vent, spring, spring adjuster, air connection",
    "diaphragm plate, spring, spring seat, actuator stem, stem connector, travel pointer",
    "air connection, diaphragm, casing bolts, spring seat, spring adjuster, yoke",
    "upper casing, diaphragm, vent, spring barrel, spring adjuster, travel scale",
    "air connection, diaphragm plate, spring, spring seat, stem connector, stem",
    "casing bolts, diaphragm, vent, spring, actuator stem, travel scale",
)

ACTS = {
    "direct": "an actuator in which air pushes the stem out (down)",
    "reverse": "an actuator in which air draws the stem in (up)",
    "piston": "a double-acting piston actuator without a spring",
}
BODIES = {
    "push_down_to_close": "a body in which pushing the plug down shuts it",
    "push_down_to_open": "a body in which pushing the plug down opens it",
}


def fail_variants(places: tuple[str, str]) -> tuple[dict[str, Any], ...]:
    """Return each actuator on each body, once for each place."""
    return tuple(
        {"where": where, "acts": acts, "body": body, "actuator": actuator, "trim": trim}
        for acts, actuator in ACTS.items()
        for body, trim in BODIES.items()
        for where in places
    )


PREDICT = Question(
    id="actuator.predict",
    kind="predict",
    text="On the bench FV-1204 starts to open at {low} and is full open at {high}. In the line {dp} of water press the "
    "shut plug down, and the packing grips the stem. Which air pressures will start and end its stroke there?",
    variants=({"low": Q(0.2, "bar"), "high": Q(1.0, "bar"), "dp": Q(5.5, "bar")},),
    options=(
        Option("same", "The same two: the actuator is the same"),
        Option("both", "Both higher by the same amount"),
        Option("start", "The start much higher, the end only a little"),
        Option("end", "The start a little higher, the end much higher"),
    ),
    why="Now move the process load and compare the two ends of the lines.",
)

PARTS = Question(
    id="actuator.parts",
    kind="match",
    text="This actuator is the other way round: air pushes the stem down. Which number is which part?",
    variants=tuple(
        drawn_parts.variant("actuator_direct", asked, spare, travel)
        for travel in (0.2, 0.8)
        for asked, spare in drawn_parts.combinations_of(
            DIRECT_PARTS, "spring barrel, spring seat, vent, spring adjuster, diaphragm plate, air connection, yoke"
        )
    ),
    key=drawn_parts.key,
    places=drawn_parts.part_numbers(6),
    options=drawn_parts.part_options(6, 2),
    idea="Follow the air first: where it comes in, what it presses on, what carries the force down.",
    step="Air comes in on top and presses on the black rubber sheet. The stiff disc below it carries the force to the stem. "
    "The spring pushes that disc up; it rests on a disc that a big screw ring lifts or lowers.",
    example="The side without air is open to the atmosphere through a small hole, the vent, so that no pressure builds up.",
    why="The same parts as in the other actuator, in another order.",
    source="names of parts, in a drawing of our own: common practice, no source",
    figure=drawn_parts.figure,
    alt="Cut through a spring-and-diaphragm actuator with the air on top and the spring below; six parts carry numbers.",
)

FORCE = Question(
    id="actuator.force",
    kind="number",
    text="The air supply of an actuator stands at {supply}. Of that, {p} reaches the diaphragm, which has an effective area of "
    "{area}. With what force does the air push?",
    variants=tuple(
        {"area": Q(area, "cm²"), "p": Q(p, "bar"), "supply": Q(supply, "bar")}
        for area, p, supply in zip(
            (320, 480, 640, 320, 480, 640, 320, 480, 700, 350, 500, 600),
            (0.5, 0.7, 0.9, 0.8, 0.6, 1.1, 0.4, 1.2, 0.5, 0.95, 0.9, 0.7),
            (1.4, 1.4, 2.4, 1.4, 1.4, 2.4, 1.2, 2.4, 1.4, 1.4, 1.4, 2.0),
            strict=True,
        )
    ),
    key=lambda n: n.p * n.area,
    unit="N",
    mistakes=(
        Mistake(
            "supply",
            lambda n: n.supply * n.area,
            "You took the supply. What pushes is the pressure that reaches the diaphragm.",
        ),
        Mistake(
            "absolute",
            lambda n: (n.p + ATMOSPHERE) * n.area,
            "You added the atmosphere. It presses on the other side "
            "of the diaphragm too, through the vent, so only the gauge pressure counts.",
        ),
        Mistake(
            "divided",
            lambda n: n.area / n.p * 1e6,
            "You divided the area by the pressure. More pressure must give more force: multiply.",
        ),
    ),
    working=("p * area",),
    idea="Force is pressure times area. Only the air on the diaphragm counts.",
    step="Multiply {p} by {area}. A pressure of 1 bar pushes with 10 N on each cm²; 1 psi with 1 lbf on each in².",
    why="On a plate as large as a dinner plate, a few tenths of a bar are enough to lift a man.",
    plausible=(0.0, 20000.0),
    source="worked by hand: F = p·A, gauge pressure because the other side is vented",
)

SPRING = Question(
    id="actuator.spring",
    kind="number",
    text="The nameplate of an actuator says: bench set {low} to {high}, effective area {area}, travel {travel}. What is its "
    "spring rate?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "area": Q(area, "cm²"), "travel": Q(travel, "mm")}
        for low, high, area, travel in zip(
            (0.2, 0.2, 0.4, 0.4, 0.8, 0.2, 0.3, 0.4, 0.6, 0.5, 0.2, 0.8),
            (1.0, 1.0, 1.2, 2.0, 2.4, 1.0, 1.1, 2.0, 1.4, 1.9, 1.0, 2.4),
            (320, 480, 320, 480, 640, 700, 350, 600, 500, 320, 250, 480),
            (20, 30, 28, 38, 50, 45, 20, 40, 30, 20, 15, 30),
            strict=True,
        )
    ),
    key=lambda n: (n.high - n.low) * n.area / n.travel,
    unit="N/mm",
    mistakes=(
        Mistake(
            "from_zero",
            lambda n: n.high * n.area / n.travel,
            "You took the whole high end. Over the stroke the spring "
            "force grows only from the low end to the high end.",
        ),
        Mistake(
            "low_only",
            lambda n: n.low * n.area / n.travel,
            "You took the low end. That gives the preload, not how the force grows.",
        ),
        Mistake(
            "no_travel",
            lambda n: (n.high - n.low) * n.area * 1e3,
            "You left out the travel: a rate is force for each millimetre or inch.",
        ),
    ),
    working=("span [bar] = high - low", "span * area / travel"),
    idea="The spring rate is how much the force grows over the stroke, divided by the travel.",
    step="Take {low} from {high}, multiply by {area}, and divide by {travel}.",
    why="On this area and over this travel the spring makes the span of the bench set. The adjuster cannot change it.",
    plausible=(0.0, 1000.0),
    source="worked by hand: Hooke's law and F = p·A, k = (p_high − p_low)·A/X",
)

POSITION = Question(
    id="actuator.position",
    kind="number",
    text="A valve is air-to-open, bench set {low} to {high}. On the bench the gauge shows {p}. Where does the stem stand, "
    "in per cent of travel?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "p": Q(p, "bar")}
        for low, high, p in zip(
            (0.2, 0.2, 0.4, 0.4, 0.8, 0.2, 0.3, 0.4, 0.6, 0.2, 0.4, 0.8),
            (1.0, 1.0, 1.2, 2.0, 2.4, 1.0, 1.1, 2.0, 1.4, 1.0, 1.2, 2.4),
            (0.4, 0.7, 0.65, 0.9, 1.3, 0.45, 0.6, 1.5, 1.2, 0.8, 1.0, 2.0),
            strict=True,
        )
    ),
    key=lambda n: (n.p - n.low) / (n.high - n.low),
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "over_high",
            lambda n: n.p / n.high,
            "You counted from no air. The stroke starts only at the low end of the bench set.",
        ),
        Mistake("over_span", lambda n: n.p / (n.high - n.low), "You forgot to take the low end off the gauge reading."),
        Mistake(
            "from_open",
            lambda n: (n.high - n.p) / (n.high - n.low),
            "You counted from the open end. Travel counts from shut.",
        ),
    ),
    working=("span [bar] = high - low", "(p - low) / span"),
    idea="The travel is the part of the span that the pressure has come, counted from the low end.",
    step="Take {low} from {p}, and divide by the span from {low} to {high}.",
    why="On the bench the travel follows the air in a straight line.",
    plausible=(0.0, 100.0),
    source="worked by hand: Hooke's law, travel = (p − p_low)/(p_high − p_low)",
)

SHIFT = Question(
    id="actuator.shift",
    kind="number",
    text="A valve is air-to-open; its bench set starts at {low}, its effective area is {area}. In the line the fluid presses "
    "the shut plug down with {load}, and the packing grips with {friction}. At what air pressure does it start to open?",
    variants=tuple(
        {"low": Q(low, "bar"), "area": Q(area, "cm²"), "load": Q(load, "N"), "friction": Q(friction, "N")}
        for low, area, load, friction in zip(
            (0.2, 0.2, 0.4, 0.3, 0.2, 0.4, 0.2, 0.3, 0.2, 0.4, 0.3, 0.2),
            (320, 320, 350, 480, 480, 320, 350, 320, 480, 480, 320, 350),
            (700, 500, 800, 1200, 900, 900, 1000, 650, 1500, 1400, 750, 850),
            (250, 200, 300, 350, 300, 200, 300, 250, 400, 400, 200, 250),
            strict=True,
        )
    ),
    key=lambda n: n.low + (n.load + n.friction) / n.area,
    unit="bar",
    mistakes=(
        Mistake(
            "no_friction",
            lambda n: n.low + n.load / n.area,
            "You left out the packing. It holds the stem too, against the way it wants to go.",
        ),
        Mistake(
            "friction_helps",
            lambda n: n.low + (n.load - n.friction) / n.area,
            "You let the packing help. Friction always holds against the way the stem wants to go.",
        ),
        Mistake(
            "no_spring",
            lambda n: (n.load + n.friction) / n.area,
            "You left out the spring: the bench set starts at {low} even without load.",
        ),
    ),
    working=("extra [bar] = (load + friction) / area", "low + extra"),
    names={"load": "push of the fluid"},
    idea="Before the stem moves, the air must carry the preload, the fluid's push and the friction.",
    step="Add {load} and {friction}, divide by {area}, and add that pressure to {low}.",
    why="That is the start of the operative range. The bench set is not wrong: the line adds its load.",
    plausible=(0.0, 6.0),
    source="worked by hand: force balance on the stem, p = p_low + (F_fluid + F_friction)/A",
)

FAIL = Question(
    id="actuator.fail",
    kind="choice",
    text="{where} stands a valve that has {actuator} on {trim}. Its air tube breaks. What does the valve do?",
    variants=fail_variants(("In the tank farm", "At the loading dock")),
    key=fails,
    options=(
        Option(
            "closed",
            "It goes shut",
            "Go step by step: which way does the stem go without air, and does that way shut or open this body?",
        ),
        Option(
            "open",
            "It goes open",
            "Go step by step: which way does the stem go without air, and does that way shut or open this body?",
        ),
        Option(
            "drifts",
            "It stays or drifts: nothing drives it",
            "There is a spring in this actuator, and a spring needs no air to push.",
        ),
    ),
    idea="Without air only the spring is left. It moves the stem against the way the air moved it.",
    step="It has {actuator}. Turn that round for the spring, then see what it does to {trim}.",
    example="Air pushes the stem out, pushing down shuts: without air the spring draws the stem up, and the valve opens.",
    why="Actuator and body together decide. Neither word alone tells the fail position.",
    source="DOE-HDBK-1018/2-93, module 4, p. 47; push-down-to-open bodies turn it round: common practice, no source",
)

SERVICE = Question(
    id="actuator.service",
    kind="several",
    text="{who} goes through the list of valves at Ostrel Point. Which of these would you expect to fail {position}?",
    variants=tuple(
        {"who": who, "position": position}
        for who in ("Maro", "Ilse", "The day foreman", "The safety engineer", "The auditor", "Your instructor")
        for position in ("shut", "open")
    ),
    key=lambda n: {"fuel", "steam", "feed"} if n.position == "shut" else {"cooling", "reflux", "flare"},
    options=(
        Option(
            "fuel", "Fuel gas to the heater's burners", "Without air, the fire should go out and not go on unwatched."
        ),
        Option("steam", "Steam to a reboiler", "Without air, the heat should stop."),
        Option("feed", "Feed to a tank that can overflow", "Without air, the tank should not go on filling."),
        Option("cooling", "Cooling water to the kerosene cooler", "Without air, the cooling should go on."),
        Option("reflux", "Reflux to the naphtha column", "Without air, the cooling reflux should go on."),
        Option(
            "flare",
            "The spill from the fuel gas header to the flare",
            "Without air, the header should go on spilling. (The "
            "relief valves beside it need no air; they protect in any case.)",
        ),
    ),
    idea="If nobody can steer the valve any more, which end is safer, flow or no flow?",
    step="What brings heat or fills something should stop. What cools or lets pressure out should go on.",
    example="Hot oil to a heat exchanger brings heat: it should fail shut.",
    why="These are the usual choices. For a real valve the site's hazard review decides, and its data sheet says so.",
    source="common practice, no source, and the site's hazard review decides",
)

BENCH_STEPS = (
    Option("isolate", f"Isolation first: {safety.IN_SHORT}"),
    Option(
        "gauge",
        "Test air, if the permit allows it: your own regulator and gauge on the actuator, the locked supply "
        "stays locked; free the actuator of the plug as its maker says; hands out of the yoke",
    ),
    Option("low", "Raise the air slowly until the stem just moves; write down the low end"),
    Option("high", "Raise the air on to rated travel; write down the high end"),
    Option(
        "adjust", "If the low end is off: vent the air first, then turn the adjuster, only where and how its maker says"
    ),
    Option("again", "Take both readings again, write them down as left; vent and take off the test air, prove it dead"),
)

ORDER = Question(
    id="actuator.order",
    kind="order",
    text="{who} asks you to check the bench set of {tag}. Put the steps in order.",
    variants=tuple(
        {"who": who, "tag": tag}
        for who in ("Ilse", "The shift fitter", "Your instructor")
        for tag in ("FV-1204", "FV-6204", "LV-2112", "FV-2107")
    ),
    key=lambda _: tuple(step.name for step in BENCH_STEPS),
    options=BENCH_STEPS,
    mistakes=(
        Mistake(
            "adjust_first",
            lambda _: ("isolate", "gauge", "adjust", "low", "high", "again"),
            "You turned the adjuster before you knew the as-found values. Read first, then change.",
        ),
        Mistake(
            "air_first",
            lambda _: ("gauge", "isolate", "low", "high", "adjust", "again"),
            "You connected air before the valve was isolated and proved. Isolation comes before everything.",
        ),
    ),
    idea="Safe first, then read as found, then change, then read as left.",
    step="Nothing is connected before the permit and the isolation; nothing is turned before both ends are read.",
    example="Isolate and free it, connect, low end, high end, adjust if needed, read both again.",
    why="As found before as left: without the first reading nobody knows what was wrong. " + safety.ADJUSTER,
    source=f"isolation: {safety.SOURCE}; the readings: common practice, no source, and the maker's instruction decides",
)

QUESTIONS = (PREDICT, PARTS, FORCE, SPRING, POSITION, SHIFT, FAIL, SERVICE, ORDER)
