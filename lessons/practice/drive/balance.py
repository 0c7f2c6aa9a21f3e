"""Lesson 08: the force balance on the stem. Will the valve shut, and where does it fail under line pressure."""

from __future__ import annotations

from types import SimpleNamespace

from lessons import safety
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.actuator import spring_actuator
from valvecalc.force_balance import stem_forces
from valvecalc.plug_forces import circle_area, seat_force

LESSON = "08_force_balance"
TERMS: dict[str, str] = {
    "force balance": "All forces on the stem added up, each with its direction. What is left over moves the stem or presses the plug on its seat.",
    "unbalance": "The force of the line pressure on a plug: the drop across it times the area it acts on.",
    "flow-to-open": "A body in which the fluid comes from under the plug, so that line pressure lifts it.",
    "flow-to-close": "A body in which the fluid comes from above the plug, so that line pressure presses it shut.",
    "seat load": "The force with which the plug presses on its seat, for each millimetre or inch of its rim.",
}

ASKED = "The seat load wanted is an input of this exercise: from memory, common practice, no source."


def fluid(n: SimpleNamespace) -> float:
    """Return the force of the drop across the shut plug."""
    return float(n.dp * circle_area(n.port))


def seat(n: SimpleNamespace) -> float:
    """Return the force wanted on the seat."""
    return float(seat_force(n.port, n.load))


def rim(n: SimpleNamespace) -> float:
    """Return the length of the seating line."""
    return float(seat_force(n.port, 1.0))


def towards_shut(n: SimpleNamespace) -> set[str]:
    """Return which forces push the stem towards shut at mid travel."""
    actuator = spring_actuator("reverse" if n.kind == "air-to-open" else "direct", 0.05, 100e3, 1000, 0.04)
    push = 500.0 if n.flow == "under" else -500.0
    forces = stem_forces(actuator, 0.5, 50e3, push, 100.0, n.moving)
    return {name for name in ("air", "spring", "fluid", "friction") if getattr(forces, name) < 0}


PREDICT = Question(
    id="balance.predict",
    kind="predict",
    text="FV-6204 has lost its air. Its spring presses the plug down with {spring}. From below, {dp} of naphtha press on a plug "
    "of {port} across. What does the valve do?",
    variants=({"spring": Q(960, "N"), "dp": Q(10, "bar"), "port": Q(46, "mm")},),
    options=(
        Option("tight", "It shuts tight"),
        Option("light", "It comes down on its seat, but too lightly, and leaks"),
        Option("open", "It does not shut at all"),
    ),
    why="Now take the line pressure up and watch where the chain of arrows ends.",
)

UNBALANCE = Question(
    id="balance.unbalance",
    kind="number",
    text="A valve is shut. {p1} stand under its plug and {p2} above it; the port is {port} across. With what force does the "
    "line lift the plug? (Leave the stem's own small area out.)",
    variants=tuple(
        {"p1": Q(p1, "bar"), "p2": Q(p2, "bar"), "port": Q(port, "mm")}
        for p1, p2, port in (
            (22, 12, 46),
            (12, 6.5, 40),
            (6, 1, 46),
            (18, 6, 50),
            (15, 9, 36),
            (30, 12, 32),
            (9, 2.5, 70),
            (16, 4, 60),
            (25, 10, 40),
            (14, 5, 52),
            (20, 14, 65),
            (11, 3, 80),
        )
    ),
    key=lambda n: (n.p1 - n.p2) * circle_area(n.port),
    unit="N",
    mistakes=(
        Mistake(
            "p1_only",
            lambda n: n.p1 * circle_area(n.port),
            "You took the pressure under the plug alone. The pressure above pushes back: take the difference.",
        ),
        Mistake(
            "radius",
            lambda n: 4 * (n.p1 - n.p2) * circle_area(n.port),
            "You took the diameter for the radius. That makes the area four times too large.",
        ),
        Mistake(
            "square",
            lambda n: (n.p1 - n.p2) * n.port**2,
            "You squared the diameter but left out π/4: a circle is smaller than the square around it.",
        ),
    ),
    working=("drop [bar] = p1 - p2", "drop * circle(port)"),
    idea="Force is pressure times area: the drop across the plug times the area of the port.",
    step="Take {p2} from {p1}. The port's area is π/4 times {port} squared. Multiply. (1 bar is 0.1 N/mm².)",
    why="This is the unbalance. A balanced plug has holes that let the pressure to both sides, and nearly nothing is left.",
    plausible=(0.0, 50000.0),
    source="worked by hand: F = Δp·π·d²/4",
)

DIRECTIONS = Question(
    id="balance.directions",
    kind="several",
    text="{who} shows you a valve that is {kind}. The fluid comes from {flow} the plug, and the stem is just {moving}. "
    "Which of these push the stem towards shut?",
    variants=tuple(
        {"who": who, "kind": kind, "flow": flow, "moving": moving}
        for who in ("Ilse", "Your instructor")
        for kind in ("air-to-open", "air-to-close")
        for flow in ("under", "above")
        for moving in ("opening", "closing")
    ),
    key=towards_shut,
    options=(
        Option(
            "air", "The air in the actuator", "More air opens an air-to-open valve and shuts an air-to-close valve."
        ),
        Option("spring", "The spring", "The spring always works against the air."),
        Option(
            "fluid",
            "The line pressure on the plug",
            "Fluid from under the plug lifts it; fluid from above presses it down. Down is shut here.",
        ),
        Option("friction", "The packing friction", "Friction works against the movement, whichever way that is."),
    ),
    idea="Go one by one: what does it do alone? Friction always works against the movement.",
    step="It is {kind}, the fluid comes from {flow} the plug, and the stem is {moving}. The plug shuts downwards.",
    example="Air-to-open, fluid from under, closing: only the spring pushes towards shut; the three others hold it open.",
    why="Directions first, numbers second: a force with the wrong sign is wrong twice over.",
    source="statics, worked by hand; sense of action: DOE-HDBK-1018/2-93, module 4, p. 47",
)

SEAT = Question(
    id="balance.seat",
    kind="number",
    text="A valve has lost its air and its spring has shut it. Bench set {low} to {high}, effective area {area}. The port is "
    "{port} across with {dp} under the plug, and the packing holds back {friction}. What seat load is left on each "
    "millimetre or inch of rim?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "area": Q(area, "cm²"), "port": Q(port, "mm"),
         "dp": Q(dp, "bar"), "friction": Q(friction, "N")}
        for low, high, area, port, dp, friction in (
            (0.8, 2.4, 480, 46, 10, 300), (0.6, 1.4, 320, 40, 5, 250), (0.7, 1.9, 320, 46, 4, 280),
            (0.8, 2.4, 480, 50, 8, 350), (0.5, 1.3, 350, 36, 6, 250), (0.6, 1.4, 480, 32, 12, 300),
            (0.9, 2.3, 640, 70, 6, 450), (0.8, 2.4, 600, 60, 7, 450), (0.8, 1.9, 480, 40, 10, 350),
            (0.8, 2.0, 500, 52, 8, 400), (0.9, 2.1, 640, 65, 7, 500), (0.8, 2.0, 700, 80, 4, 600),
        )
    ),
    key=lambda n: (n.low * n.area - fluid(n) - n.friction) / rim(n),
    unit="N/mm",
    tolerance=0.03,
    mistakes=(
        Mistake("no_friction", lambda n: (n.low * n.area - fluid(n)) / rim(n), "You left out the packing. The spring has to "
                "push the stem through it before anything reaches the seat."),
        Mistake("no_fluid", lambda n: (n.low * n.area - n.friction) / rim(n), "You left out the line pressure under the plug."),
        Mistake("high_end", lambda n: (n.high * n.area - fluid(n) - n.friction) / rim(n), "You took the high end of the bench "
                "set. Shut, the spring of this valve is at its longest: take the low end."),
        Mistake("over_diameter", lambda n: (n.low * n.area - fluid(n) - n.friction) / n.port, "You divided by the diameter. "
                "The rim goes all round: π times the diameter."),
    ),
    working=("spring [N] = low * area", "line [N] = dp * circle(port)", "left [N] = spring - line - friction", "left / rim(port)"),
    idea="Spring down, line and friction up. What is left over rests on the rim of the port.",
    step="Spring: {low} on {area}. Take off the {dp} on the port and the {friction}. Divide by π times {port}.",
    why="Whether that is enough depends on the seat. " + ASKED,
    plausible=(0.0, 200.0),
    source="worked by hand: force balance, (p_low·A − Δp·π·d²/4 − F)/(π·d)",
)  # fmt: skip

NEEDED = Question(
    id="balance.needed",
    kind="number",
    text="Spring alone must shut a valve: {dp} under a plug of {port}, packing friction {friction}, wanted seat load {load}, "
    "effective area {area}. At what pressure must its bench set start?",
    variants=tuple(
        {
            "dp": Q(dp, "bar"),
            "port": Q(port, "mm"),
            "friction": Q(friction, "N"),
            "load": Q(load, "N/mm"),
            "area": Q(area, "cm²"),
        }
        for dp, port, friction, load, area in (
            (10, 46, 250, 7, 480),
            (5.5, 40, 250, 7, 320),
            (5, 46, 200, 4, 320),
            (12, 50, 350, 7, 640),
            (6, 36, 200, 10, 350),
            (18, 32, 300, 7, 480),
            (6.5, 70, 400, 7, 640),
            (8, 60, 400, 5, 700),
            (15, 40, 300, 8, 500),
            (9, 52, 350, 6, 480),
            (7, 65, 400, 7, 700),
            (14, 36, 250, 14, 600),
        )
    ),
    key=lambda n: (fluid(n) + n.friction + seat(n)) / n.area,
    unit="bar",
    mistakes=(
        Mistake(
            "no_seat",
            lambda n: (fluid(n) + n.friction) / n.area,
            "That brings the plug down on its seat and no more. The seat load has to come from the spring too.",
        ),
        Mistake("no_friction", lambda n: (fluid(n) + seat(n)) / n.area, "You left out the packing friction."),
        Mistake(
            "no_fluid",
            lambda n: (n.friction + seat(n)) / n.area,
            "You left out the line pressure: on the bench that would do, in the line not.",
        ),
    ),
    working=("line [N] = dp * circle(port)", "seat [N] = load * rim(port)", "(line + friction + seat) / area"),
    idea="The spring's force at the shut end must carry three things: line pressure, friction and seat load.",
    step="{dp} on the port, plus {friction}, plus {load} times the rim of π times {port}. Divide the sum by {area}.",
    why="The high end goes up with it, so check the air supply next. " + ASKED,
    plausible=(0.0, 6.0),
    source="worked by hand: force balance, p_low = (Δp·π·d²/4 + F + π·d·load)/A",
)

SUPPLY = Question(
    id="balance.supply",
    kind="number",
    text="A valve is air-to-close; its bench set ends at {high}, effective area {area}. {dp} lift its plug of {port}, the "
    "packing holds {friction}, wanted seat load {load}. What air pressure shuts it?",
    variants=tuple(
        {
            "high": Q(high, "bar"),
            "area": Q(area, "cm²"),
            "dp": Q(dp, "bar"),
            "port": Q(port, "mm"),
            "friction": Q(friction, "N"),
            "load": Q(load, "N/mm"),
        }
        for high, area, dp, port, friction, load in (
            (1.0, 640, 6.5, 70, 300, 7),
            (1.0, 480, 8, 46, 300, 7),
            (1.2, 480, 10, 40, 250, 8),
            (1.0, 700, 5, 80, 500, 5),
            (1.1, 320, 6, 36, 200, 7),
            (1.4, 600, 9, 52, 450, 7),
            (1.0, 500, 12, 40, 400, 6),
            (1.2, 350, 5, 46, 250, 4),
            (1.0, 320, 7, 32, 200, 10),
            (1.5, 640, 7, 65, 500, 7),
            (1.1, 480, 11, 46, 400, 6),
            (1.0, 600, 8, 60, 400, 6),
        )
    ),
    key=lambda n: n.high + (fluid(n) + n.friction + seat(n)) / n.area,
    unit="bar",
    mistakes=(
        Mistake(
            "no_spring",
            lambda n: (fluid(n) + n.friction + seat(n)) / n.area,
            "You left out the spring. In this valve it "
            "opens, and shut it is compressed to the high end of the bench set.",
        ),
        Mistake(
            "bench_end",
            lambda n: n.high,
            "That only balances the spring. Line pressure, friction and seat load come on top.",
        ),
        Mistake(
            "no_seat",
            lambda n: n.high + (fluid(n) + n.friction) / n.area,
            "That brings the plug down on its seat, with no force left on it.",
        ),
    ),
    working=(
        "line [N] = dp * circle(port)",
        "seat [N] = load * rim(port)",
        "needed [bar] = (line + friction + seat) / area",
        "high + needed",
    ),
    idea="The air must carry the spring at its shortest, and the line, the friction and the seat load besides.",
    step="{dp} on the port, plus {friction}, plus {load} times the rim; divide by {area}, and add {high}.",
    why="A supply below this never shuts the valve, however long you wait. " + ASKED,
    plausible=(0.0, 10.0),
    source="worked by hand: force balance, p = p_high + (Δp·π·d²/4 + F + π·d·load)/A",
)

STEPS = (
    *safety.isolation_options(),
    Option("open", "Undo the casing bolts, in the order the maker gives, and renew the diaphragm"),
)

ORDER = Question(
    id="balance.order",
    kind="order",
    text="{who} sends you to renew the diaphragm of {tag}. Put the steps in order.",
    variants=tuple(
        {"who": who, "tag": tag}
        for who in ("Ilse", "The shift fitter", "Your instructor")
        for tag in ("FV-6204", "FV-1204", "LV-2112", "FV-2107")
    ),
    key=lambda _: tuple(step.name for step in STEPS),
    options=STEPS,
    mistakes=(
        Mistake(
            "bolts_first",
            lambda _: (*safety.ORDER[:4], "open", "release", "prove"),
            "You undid the casing while air and spring were still in it. The spring throws the casing off.",
        ),
        Mistake(
            "locked_late",
            lambda _: safety.swapped("lock", "release", "open"),
            "You emptied it before it was locked. Until the locks are on, anybody may open what you have shut.",
        ),
    ),
    idea="People and process first, then what comes from outside, then what is stored inside, and the proof last.",
    step="Nothing is let out before all of it is locked; nothing is unbolted before it is proved dead.",
    example="For the body the same six steps come first; only the seventh differs.",
    why="Cut off what comes in and lock it, then let out what is stored, then prove it. " + safety.ADJUSTER,
    source=f"{safety.SOURCE}; the bolts: common practice, no source, and the maker's instruction decides",
)

QUESTIONS = (PREDICT, UNBALANCE, DIRECTIONS, SEAT, NEEDED, SUPPLY, ORDER)
