"""Graded questions of lesson 07: the actuator, its bench set and its fail action."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

from lessons import safety
from lessons.practice import drawn_parts
from lessons.practice.drive.actuator import PARTS as PRACTICE_PARTS
from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q

REVERSE_PARTS = (
    "diaphragm, diaphragm plate, vent, spring, spring adjuster, stem seal",
    "diaphragm plate, stem seal, actuator stem, stem connector, travel pointer, spring",
    "vent, diaphragm, air connection, casing bolts, spring adjuster, yoke",
    "stem seal, diaphragm, casing bolts, stem connector, spring adjuster, travel scale",
    "vent, diaphragm plate, spring, actuator stem, yoke, stem",
    "air connection, diaphragm, stem seal, spring, stem connector, travel scale",
)
SLACK = 0.05  # of the span: what counts as right on the bench in these exercises


def what_is_wrong(n: SimpleNamespace) -> str:
    """Tell from as-found and wanted bench set what to do: "span", "in", "out" or "nothing"."""
    span = n.high - n.low
    if abs((n.to - n.at) - span) > SLACK * span:
        return "span"
    if abs(n.at - n.low) <= SLACK * span:
        return "nothing"
    return "in" if n.at < n.low else "out"


PARTS = replace(
    PRACTICE_PARTS,
    id="actuator.w1",
    text="This actuator, air pushing the stem up, goes to overhaul. What does each numbered part do?",
    variants=tuple(
        drawn_parts.variant("actuator_reverse", asked, spare, travel, words=True)
        for travel in (0.3, 0.9)
        for asked, spare in drawn_parts.combinations_of(
            REVERSE_PARTS,
            "diaphragm plate, spring, vent, stem seal, spring adjuster, stem connector, casing bolts, yoke",
        )
    ),
    idea="Follow the air first. Then follow the force it makes.",
    step="Air from below, diaphragm, plate, spring, adjuster: from bottom to top.",
    example="The clamp between actuator stem and valve stem sets where the valve is shut.",
    why="A blocked vent, a torn diaphragm and a leaking stem seal are the three ways this actuator goes weak.",
    points=2.0,
    alt="Cut through a spring-and-diaphragm actuator with the spring on top and the air below; six parts carry numbers.",
)

BENCH_END = Question(
    id="actuator.w2",
    kind="number",
    text="A spring from the store is stamped {k}. In an actuator of effective area {area}, travel {travel}, the "
    "adjuster is set so that the stroke starts at {low}. At what pressure does it end on the bench?",
    variants=tuple(
        {"k": Q(k, "N/mm"), "area": Q(area, "cm²"), "travel": Q(travel, "mm"), "low": Q(low, "bar")}
        for k, area, travel, low in zip(
            (120, 130, 140, 180, 200, 110, 150, 160, 240, 125, 90, 210),
            (320, 480, 320, 480, 640, 350, 480, 320, 600, 480, 320, 500),
            (20, 30, 22, 38, 50, 20, 30, 20, 40, 30, 28, 38),
            (0.2, 0.3, 0.4, 0.4, 0.6, 0.25, 0.35, 0.3, 0.5, 0.2, 0.45, 0.4),
            strict=True,
        )
    ),
    key=lambda n: n.low + n.k * n.travel / n.area,
    unit="bar",
    mistakes=(
        Mistake(
            "span_only",
            lambda n: n.k * n.travel / n.area,
            "That is the span. The stroke starts from the low end, so add it.",
            credit=0.5,
        ),
        Mistake(
            "low_taken_off",
            lambda n: n.k * n.travel / n.area - n.low,
            "The low end was taken off instead of added.",
            credit=0.25,
        ),
        Mistake("twice_low", lambda n: 2 * n.low + n.k * n.travel / n.area, "The low end was added twice."),
    ),
    working=("span [bar] = k * travel / area", "low + span"),
    idea="The span is what the spring takes over the stroke, as a pressure.",
    step="Multiply {k} by {travel}, divide by {area}, and add {low}.",
    why="The adjuster makes the start; spring, area and travel make the span.",
    plausible=(0.0, 6.0),
    points=2.0,
    source="worked by hand: Hooke's law and F = p·A, p_high = p_low + k·X/A",
)

DIAGNOSE = Question(
    id="actuator.w3",
    kind="choice",
    text="The nameplate of an actuator says bench set {low} to {high}. As found on the bench it starts at {at} and is at full "
    "travel at {to}. What do you do?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "at": Q(at, "bar"), "to": Q(to, "bar")}
        for low, high, at, to in (
            (0.2, 1.0, 0.08, 0.88),
            (0.4, 1.2, 0.3, 1.1),
            (0.4, 2.0, 0.2, 1.8),
            (0.2, 1.0, 0.32, 1.12),
            (0.4, 1.2, 0.5, 1.3),
            (0.4, 2.0, 0.65, 2.25),
            (0.2, 1.0, 0.2, 1.3),
            (0.4, 1.2, 0.41, 0.95),
            (0.4, 2.0, 0.39, 1.6),
            (0.2, 1.0, 0.21, 1.0),
            (0.4, 1.2, 0.4, 1.19),
            (0.4, 2.0, 0.42, 2.03),
        )
    ),
    key=what_is_wrong,
    options=(
        Option(
            "in",
            "Press the spring together more with the adjuster",
            "The adjuster moves both ends the same way. Compare both ends, and the span between them.",
        ),
        Option(
            "out",
            "Let the spring out with the adjuster",
            "The adjuster moves both ends the same way. Compare both ends, and the span between them.",
        ),
        Option(
            "span",
            "Leave the adjuster alone, and find out why the span is off: travel, diaphragm or spring",
            "The span is as it should be, so travel, diaphragm and spring are right.",
        ),
        Option("nothing", "Nothing: it is as it should be", "Compare both ends with the nameplate once more."),
    ),
    idea="Both ends off by the same: adjuster. Span off: travel, diaphragm or spring, and no adjuster cures it.",
    step="Compare {at} with {low}, and the span {at} to {to} with {low} to {high}.",
    example="A start that is right and an end that is not: the span is off. Is the travel the rated one, the diaphragm the "
    "right one, the spring the right one and whole?",
    why="The adjuster sets the start; spring, area and travel set the span. " + safety.ADJUSTER,
    points=1.0,
    source="worked by hand: Hooke's law, the adjuster changes the preload, the spring rate the span; 5 % of span as slack: own choice, no source",
)

FULL_OPEN = Question(
    id="actuator.w4",
    kind="number",
    text="A valve, air-to-open: bench set {low} to {high}, effective area {area}. Nearly open, the fluid still presses the "
    "plug down with {load}, and the packing grips with {friction}. What air pressure holds it full open in the line, "
    "coming from below?",
    variants=tuple(
        {
            "low": Q(low, "bar"),
            "high": Q(high, "bar"),
            "area": Q(area, "cm²"),
            "load": Q(load, "N"),
            "friction": Q(friction, "N"),
        }
        for low, high, area, load, friction in zip(
            (0.2, 0.2, 0.4, 0.3, 0.2, 0.4, 0.2, 0.3, 0.2, 0.4, 0.3, 0.2),
            (1.0, 1.0, 1.2, 1.1, 1.0, 1.2, 1.0, 1.1, 1.0, 1.2, 1.1, 1.0),
            (320, 320, 350, 480, 480, 320, 350, 320, 480, 480, 320, 350),
            (250, 300, 400, 500, 450, 350, 420, 280, 520, 600, 260, 330),
            (200, 180, 300, 300, 320, 210, 280, 230, 350, 380, 220, 260),
            strict=True,
        )
    ),
    key=lambda n: n.high + (n.load + n.friction) / n.area,
    unit="bar",
    tolerance=0.015,
    mistakes=(
        Mistake("bench_end", lambda n: n.high, "That is the bench set: the line adds its load and its friction."),
        Mistake(
            "from_low",
            lambda n: n.low + (n.load + n.friction) / n.area,
            "That starts from the low end. Full open, the spring has its force of the high end.",
            credit=0.5,
        ),
        Mistake("no_friction", lambda n: n.high + n.load / n.area, "The packing friction is missing.", credit=0.5),
    ),
    working=("extra [bar] = (load + friction) / area", "high + extra"),
    names={"load": "push of the fluid"},
    idea="Full open the spring has its full force. The fluid and the friction come on top.",
    step="Add {load} and {friction}, divide by {area}, and add {high}.",
    why="The supply must be above this, not above the bench set.",
    plausible=(0.0, 6.0),
    points=2.0,
    source="worked by hand: force balance on the stem, p = p_high + (F_fluid + F_friction)/A",
)

CLOSING = Question(
    id="actuator.w5",
    kind="number",
    text="A valve is air-to-close: with no air it is open, and air shuts it. Bench set {low} to {high}. On the bench the "
    "gauge shows {p}. How far open is it?",
    variants=tuple(
        {"low": Q(low, "bar"), "high": Q(high, "bar"), "p": Q(p, "bar")}
        for low, high, p in zip(
            (0.2, 0.2, 0.4, 0.4, 0.8, 0.2, 0.3, 0.4, 0.6, 0.2, 0.4, 0.8),
            (1.0, 1.0, 1.2, 2.0, 2.4, 1.0, 1.1, 2.0, 1.4, 1.0, 1.2, 2.4),
            (0.45, 0.75, 0.7, 0.95, 1.3, 0.5, 0.6, 1.4, 1.15, 0.85, 0.95, 1.9),
            strict=True,
        )
    ),
    key=lambda n: (n.high - n.p) / (n.high - n.low),
    unit="%",
    tolerance=0.03,
    mistakes=(
        Mistake(
            "air_to_open",
            lambda n: (n.p - n.low) / (n.high - n.low),
            "That would be an air-to-open valve. Here more air means less open.",
            credit=0.5,
        ),
        Mistake(
            "from_zero", lambda n: 1 - n.p / n.high, "The stroke was counted from no air. It starts at the low end."
        ),
    ),
    working=("span [bar] = high - low", "(high - p) / span"),
    idea="It starts to shut at the low end and is shut at the high end.",
    step="Take {p} from {high}, and divide by the span from {low} to {high}.",
    why="Travel is counted from shut, whichever way the air pushes.",
    plausible=(0.0, 100.0),
    points=1.0,
    source="worked by hand: Hooke's law, 1 − (p − p_low)/(p_high − p_low)",
)

QUESTIONS = (PARTS, BENCH_END, DIAGNOSE, FULL_OPEN, CLOSING)
