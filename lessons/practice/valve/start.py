"""Lesson 00: two questions that teach how to answer."""

from __future__ import annotations

from lessons.questions.question import Mistake, Option, Question
from lessons.units.quantities import Q
from valvecalc.actuator import ATMOSPHERE

LESSON = "00_start_here"
TERMS: dict[str, str] = {}

FIRST = Question(
    id="start.first",
    kind="predict",
    text="Before any lesson: what do you think a control valve mostly does all day?",
    variants=({},),
    options=(
        Option("shut", "It stands shut and opens only in an emergency"),
        Option("throttle", "It stands somewhere between open and shut, and moves a little all the time"),
        Option("open", "It stands wide open and shuts only for repairs"),
    ),
    why="Any answer was fine here. Keep it in mind: lesson 05 shows where a valve really stands, and why.",
)

READ = Question(
    id="start.read",
    kind="number",
    text="The gauge before {tag} at Ostrel Point stands at {p}. Type what it shows, number and unit.",
    variants=tuple(
        {"p": Q(value, "bar"), "tag": tag}
        for value, tag in zip(
            (2.5, 3.2, 4.8, 5.5, 6.4, 7.2, 8.5, 9.1, 10.5, 11.2, 12.5, 13.6),
            ("FV-2107", "LV-2112", "TV-3301", "FV-1204") * 3,
            strict=True,
        )
    ),
    key=lambda n: n.p,
    unit="bar",
    tolerance=0.01,
    mistakes=(
        Mistake(
            "psi_for_bar",
            lambda n: n.p * 14.5038,
            "That is the number of psi with bar behind it: number and unit belong together.",
        ),
        Mistake(
            "bar_for_psi",
            lambda n: n.p / 14.5038,
            "That is the number of bar with psi behind it: number and unit belong together.",
        ),
        Mistake(
            "absolute",
            lambda n: n.p + ATMOSPHERE,
            "That is the absolute pressure. The question asks for what the gauge shows.",
        ),
        Mistake(
            "air_off",
            lambda n: n.p - ATMOSPHERE,
            "You took the pressure of the atmosphere off. A gauge shows nothing at atmospheric pressure, so there is nothing to take off.",
        ),
    ),
    idea="Nothing to work out here: type the number you see and its unit.",
    step="Type {p} just as it stands there.",
    example="If the gauge stood at {p}, you would type {answer}.",
    why="Number and unit: that is all. A decimal point and a decimal comma are both fine.",
    plausible=(0.0, 100.0),
    source="worked by hand: the reading itself",
)

QUESTIONS = (FIRST, READ)
