"""Bench set and spring for this valve."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.card_page.actuator_fields import area_field, friction_field, travel_field
from lessons.card_page.card import Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, upto
from lessons.pictures.verdicts import BAD, GOOD, SHORT, WORDS, reaches, tone_of
from lessons.refinery import VALVES, drive_of, line_of
from lessons.safety import ADJUSTER, CASING, DONE, HANDS, TEST_AIR
from lessons.units.quantities import to_base
from lessons.units.readout import to_digits
from valvecalc.force_balance import required_bench_set
from valvecalc.plug_forces import circle_area, seat_force

VALVE = VALVES["FV-6204"]
DRIVE, LINE = drive_of(VALVE.tag), line_of(VALVE.tag)
PORT, DROP = to_base(DRIVE.port), to_base(LINE.pump_shutoff) - to_base(LINE.static)
LOAD = float(DROP * circle_area(PORT) + seat_force(PORT, to_base(DRIVE.seat_load)))
SPAN = to_base(DRIVE.bench_high) - to_base(DRIVE.bench_low)
ACTIONS = {"reverse": "the spring shuts it (air opens)", "direct": "the air shuts it (spring opens)"}
FIELDS = (
    Field("action", "what shuts it", default="reverse", choices=ACTIONS),
    area_field(DRIVE),
    Field(
        "rate",
        "spring rate",
        "N/mm",
        SPAN * to_base(DRIVE.area) / to_base(DRIVE.travel),
        high=5e6,
        above=True,
    ),
    travel_field(DRIVE),
    Field("load", "load to shut against: fluid under the plug + seat load wanted", "N", round(LOAD), high=5e5),
    friction_field(DRIVE),
    Field("supply", "air supply", "bar", to_base(DRIVE.supply), high=10e5, above=True, pressure="gauge"),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the ends of the bench set, what the stroke to the open end has, and what friction takes of it."""
    bench = required_bench_set(n.action, n.area, n.rate, n.travel, n.load + n.friction, n.supply)
    low, high = float(bench.low_gauge), float(bench.high_gauge)
    # Air opens it against the spring at its strongest, or the spring opens it with what its preload is worth.
    opens = n.supply - high if n.action == "reverse" else low
    rub = n.friction / n.area
    return SimpleNamespace(
        low=low,
        high=high,
        opens=opens,
        rub=rub,
        tone=tone_of(opens >= -1e-9 * n.supply, reaches(opens, rub)),
    )


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say from where to where to set the spring, and whether spring and supply allow it."""
    ends = f"{_bar(r.low, units)} to {_bar(r.high, units)}"
    short = _bar(r.rub - r.opens, units)
    said = {
        GOOD: f"bench set {ends}",
        SHORT: f"bench set {ends}, but to open fully against friction it lacks {short}",
        BAD: f"it would take {ends}",
    }
    air_opens = n.action == "reverse"
    rows = (
        (f"the start ({'at least' if air_opens else 'at most'}); friction and seat are in it", _bar(r.low, units)),
        ("the end, one spring span above", _bar(r.high, units)),
        (
            "air supply above the open end" if air_opens else "preload that opens it, as air pressure",
            _bar(r.opens, units),
        ),
        ("of that, friction takes", _bar(r.rub, units)),
        ("trouble", _trouble(n, r)),
    )
    return CardAnswer(f"{WORDS[r.tone]}: {said[r.tone]}", r.tone, rows, _formula(n, r, units))


def _trouble(n: SimpleNamespace, r: SimpleNamespace) -> str:
    if r.tone == GOOD:
        return "none"
    if n.action == "reverse":
        above = "lies above the air supply" if r.tone == BAD else "leaves too little air for the friction"
        return f"the open end {above}: stronger supply, weaker spring or larger actuator"
    if r.tone == BAD:
        return "the spring is too strong: even without preload the air cannot shut it"
    return "too little preload is left to open it against the friction: more supply or a larger actuator"


def _formula(n: SimpleNamespace, r: SimpleNamespace, units: str) -> tuple[str, ...]:
    load = f"({to_digits(n.load, 'N', units, 4)} + {to_digits(n.friction, 'N', units, 4)})"
    area = to_digits(n.area, "cm²", units, 4)
    span = (
        f"span = spring rate · travel / area = {to_digits(n.rate, 'N/mm', units, 4)} · "
        f"{to_digits(n.travel, 'mm', units)} / {area} = {_bar(r.high - r.low, units)}"
    )
    rub = f"friction / area = {_bar(r.rub, units)}"
    if n.action == "reverse":
        return (
            f"start = (load + friction) / area = {load} / {area} = {_bar(r.low, units)}",
            span,
            f"end = start + span = {_bar(r.high, units)}; opens fully from end + {rub}: {_bar(r.high + r.rub, units)}; "
            f"supply {_bar(n.supply, units)}",
        )
    return (
        f"end = supply − (load + friction) / area = {_bar(n.supply, units)} − {load} / {area} = {_bar(r.high, units)}",
        span,
        f"start = end − span = {_bar(r.low, units)}; to open fully it has to be at least {rub}",
    )


def _bar(pressure: float, units: str) -> str:
    return to_digits(pressure, "bar", units)


def _picture() -> tuple[Any, Any]:
    """Draw the air pressure over the travel on the bench, and the supply."""
    lines = {"bench": "on the bench", "limit_supply": "air supply"}
    figure, place = chart(
        ("stem travel from the end where the spring starts", "mm"),
        ("air pressure", "bar"),
        lines,
        marks=("start", "end"),
    )

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        spans = (0.0, n.travel), upto(n.supply, r.high)
        ends = {"start": (0.0, r.low), "end": (n.travel, r.high)}
        moved: dict[str, Any] = place(
            spans,
            units,
            {"bench": [*ends.values()], "limit_supply": [(0, n.supply), (n.travel, n.supply)]},
            ends,
        )
        return moved

    return figure, move


CARD = Card(
    name="bench_set",
    title="Bench set and spring for this valve",
    group="It does not go where it should",
    symptom=(
        "A spring or diaphragm was changed, or the valve does not make its full travel. How must the spring be set?"
    ),
    words=(
        "bench set spring rate range preload adjuster actuator diaphragm stroke air pressure start end wont "
        "open fully short stem too weak"
    ),
    start=f"FV-6204, {VALVE.service}",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt=(
        "Air pressure on the bench over the travel, a straight line from start to end, with the air supply as a limit."
    ),
    source=(
        "Worked by hand: pressure times effective area against spring and load, the effective area taken as "
        "constant over the stroke."
    ),
    changes=(
        "The load at the shut end: drop, port and seat load (see the card on shutting off).",
        "Flow over the plug: the fluid presses the open plug down too, and the supply has to carry that as well.",
        "A diaphragm whose effective area changes with the stroke.",
        "In the line the valve starts and stops at other pressures than on the bench: load and friction move them.",
        "Another spring, another travel or another diaphragm: each changes the span. The adjuster only moves both "
        "ends together.",
    ),
    cautions=(
        f"The spring is loaded even without air. {CASING}",
        ADJUSTER,
        f"Check the bench set on a valve that is {DONE}.",
        TEST_AIR,
        HANDS,
    ),
    lesson="07_actuator_and_bench_set",
)
