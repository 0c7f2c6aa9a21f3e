"""Bench set and spring for this valve."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.card import BAD, GOOD, Answer, Card, Field, show
from lessons.card_charts import chart, upto
from lessons.quantities import Q, to_base
from lessons.refinery import VALVES
from valvecalc.supply import required_bench_set

VALVE = VALVES["FV-6204"]
DRIVE = VALVE.drive
assert DRIVE is not None  # noqa: S101 - this tag has one; tells mypy
SPAN = to_base(DRIVE.bench_high) - to_base(DRIVE.bench_low)
ACTIONS = {"reverse": "the spring shuts it (air opens)", "direct": "the air shuts it (spring opens)"}
FIELDS = (
    Field("action", "what shuts it", default="reverse", choices=ACTIONS),
    Field("area", "effective area of the actuator", "cm²", to_base(DRIVE.area), high=2.0, above=True),
    Field(
        "rate",
        "spring rate",
        "N/mm",
        SPAN * to_base(DRIVE.area) / to_base(DRIVE.travel),
        high=5e6,
        above=True,
    ),
    Field("travel", "rated travel", "mm", to_base(DRIVE.travel), high=0.5, above=True),
    Field("load", "load to shut against: fluid + friction + seat", "N", to_base(Q(1600, "N")), high=5e5),
    Field("supply", "air supply", "bar", to_base(DRIVE.supply), high=10e5, above=True, pressure="gauge"),
)


def compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the ends of the bench set."""
    bench = required_bench_set(n.action, n.area, n.rate, n.travel, n.load, n.supply)
    low, high = float(bench.low_gauge), float(bench.high_gauge)
    return SimpleNamespace(low=low, high=high, fits=low >= 0 and high <= n.supply)


def answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> Answer:
    """Say from where to where to set the spring, and whether spring and supply allow it."""
    ends = f"{_bar(r.low, units)} to {_bar(r.high, units)}"
    least = "at least" if n.action == "reverse" else "at most"
    headline = f"Bench set {ends}" if r.fits else f"It cannot be done: it would take {ends}"
    why = (
        "none"
        if r.fits
        else (
            "the open end lies above the air supply: stronger supply, weaker spring or larger actuator"
            if r.high > n.supply
            else "the spring is too strong: even without preload the air cannot shut it"
        )
    )
    rows = (
        (f"the start ({least})", _bar(r.low, units)),
        ("the end, one spring span above", _bar(r.high, units)),
        (
            "air supply left over at the open end"
            if n.action == "reverse"
            else "air left to shut it at the end",
            _bar(n.supply - r.high, units),
        ),
        ("trouble", why),
    )
    return Answer(headline, GOOD if r.fits else BAD, rows, _formula(n, r, units))


def _formula(n: SimpleNamespace, r: SimpleNamespace, units: str) -> tuple[str, ...]:
    load, area = show(n.load, "N", units, 4), show(n.area, "cm²", units, 4)
    span = (
        f"span = spring rate · travel / area = {show(n.rate, 'N/mm', units, 4)} · "
        f"{show(n.travel, 'mm', units)} / {area} = "
        f"{_bar(r.high - r.low, units)}"
    )
    if n.action == "reverse":
        return (
            f"start = load / area = {load} / {area} = {_bar(r.low, units)}",
            span,
            f"end = start + span = {_bar(r.high, units)}",
        )
    return (
        f"end = supply − load / area = {_bar(n.supply, units)} − {load} / {area} = {_bar(r.high, units)}",
        span,
        f"start = end − span = {_bar(r.low, units)}",
    )


def _bar(pressure: float, units: str) -> str:
    return show(pressure, "bar", units)


def picture() -> tuple[Any, Any]:
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
        "A spring or diaphragm was changed, or it does not use its whole travel: how must the spring be set?"
    ),
    words="bench set spring rate range preload adjuster actuator diaphragm stroke air pressure start end",
    start=f"FV-6204, {VALVE.service}",
    fields=FIELDS,
    compute=compute,
    answer=answer,
    picture=picture,
    alt=(
        "Air pressure on the bench over the travel, a straight line from start to end, with the air supply as a limit."
    ),
    source=(
        "Worked by hand: pressure times effective area against spring and load, the effective area taken as "
        "constant over the stroke."
    ),
    changes=(
        "The load at the shut end: drop, port, packing friction and seat load (see the card on shutting off).",
        "A diaphragm whose effective area changes with the stroke.",
        "Friction: in the line the valve starts and stops at other pressures than on the bench.",
        "Another spring: the rate fixes the span, the adjuster only moves both ends together.",
    ),
    cautions=(
        "The spring is loaded even without air: casing bolts only in the maker's order, long ones last and "
        "evenly; never undo an "
        "adjuster under load.",
        "Set the bench set with no pressure in the body and hands out of the yoke.",
    ),
    lesson="07_actuator_and_bench_set",
)
