"""Letting the spring of an actuator down safely."""

from __future__ import annotations

import math
from types import SimpleNamespace
from typing import Any

from lessons import safety
from lessons.card_page.actuator_fields import area_field, bench_set_field, travel_field
from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, upto
from lessons.pictures.verdicts import BAD, GOOD, SHORT, reaches, tone_of
from lessons.refinery import drive_of
from lessons.units.readout import to_digits
from valvecalc.actuator import actuator_from_bench_set, spring_energy

DRIVE = drive_of("FV-6204")
FIELDS = (
    area_field(DRIVE),
    bench_set_field(DRIVE),
    travel_field(DRIVE),
    Field("reach", "how far the adjuster or the long bolts can let it out", "mm", 0.06, high=1.0, above=True),
    Field("pitch", "pitch of their thread", "mm", 0.002, low=0.0005, high=0.012),
    Field("error", "how far an end of the bench set can be off, ±", "bar", 0.02e5, high=2e5),
    Field("margin", "thread that must stay in the nut at the end", "mm", 0.02, high=0.3, above=True),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return what the spring holds at rest and how far it must be let out."""
    low, high = n.bench
    if low >= high:
        raise BadInputError("bench", "The bench set has to end above its start.")
    actuator = actuator_from_bench_set("reverse", n.area, low, high, n.travel)
    rate, preload = float(actuator.spring_rate), float(actuator.preload)
    out = preload / rate
    span = high - low - 2 * n.error
    most = (low + n.error) * n.travel / span if span > 0 else 1e3  # both ends off the wrong way; 1 km: nobody knows
    return SimpleNamespace(
        rate=rate,
        preload=preload,
        out=out,
        most=most,
        turns=out / n.pitch,
        energy=float(spring_energy(rate, out)),
        tone=tone_of(reaches(n.reach, out), reaches(n.reach, most + n.margin)),
    )


VERDICTS = {GOOD: "They reach far enough", SHORT: "Not certain", BAD: "Too short: do not loosen it"}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say how far the spring must be let out, and what pushes until then."""
    out = to_digits(r.out, "mm", units)
    rows = (
        ("force of the spring at rest, without air", to_digits(r.preload, "N", units)),
        ("energy held at rest", to_digits(r.energy, "J", units)),
        ("turns until it is free", f"{math.ceil(round(r.turns, 6)):d}"),
        ("length to let out, at most", to_digits(r.most, "mm", units)),
        ("reach needed: that, plus the thread that stays in", to_digits(r.most + n.margin, "mm", units)),
    )
    formula = (
        f"spring rate = area · span / travel = {to_digits(n.area, 'cm²', units)} · "
        f"{to_digits(n.bench[1] - n.bench[0], 'bar', units)} / {to_digits(n.travel, 'mm', units)} = "
        f"{to_digits(r.rate, 'N/mm', units)}",
        f"still compressed by = start · area / rate = {to_digits(n.bench[0], 'bar', units)} · "
        f"{to_digits(n.area, 'cm²', units)} / {to_digits(r.rate, 'N/mm', units)} = {out}",
        f"turns = {out} / {to_digits(n.pitch, 'mm', units)} = {to_digits(r.turns)}",
    )
    headline = f"{VERDICTS[r.tone]}: {out} to let out, {to_digits(n.reach, 'mm', units)} available"
    return CardAnswer(headline, r.tone, rows, formula, STEPS)


STEPS = (
    *(f"{step.text}." for step in safety.ISOLATION),
    "Look at the plate and the manual: does this actuator let its spring down by an adjuster, or by long bolts?",
    safety.ADJUSTER,
    "Count the turns. Stop if the force does not fall as the count says: something is stuck or broken.",
    safety.CASING,
    f"Prove it free: the plate moves by hand. {safety.RELEASES_NOTHING}",
)


def _picture() -> tuple[Any, Any]:
    """Draw the force of the spring while it is let out."""
    figure, place = chart(
        ("let out", "mm"), ("force of the spring", "N"), {"force": "spring", "limit_reach": "end of the thread"}
    )

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        spans = upto(r.out, n.reach, 1e-4), upto(r.preload, 1.0)
        top = spans[1][1]
        paths = {"force": [(0, r.preload), (r.out, 0)], "limit_reach": [(n.reach, 0), (n.reach, top)]}
        moved: dict[str, Any] = place(spans, units, paths, {})
        return moved

    return figure, move


CARD = Card(
    name="spring_down",
    title="Letting an actuator spring down safely",
    group="Before you choose or open one",
    symptom="The casing has to be opened. How hard does the spring push, and how far must it be let out first?",
    words=(
        "spring let down release relax casing diaphragm change long bolts "
        "adjuster actuator open dismantle energy loaded compressed jack"
    ),
    start="the actuator of FV-6204; reach and thread invented",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Force of the spring over how far it is let out, falling to nothing, with the end of the thread marked.",
    source=(
        f"Worked by hand: a straight spring from its bench set. Order of isolation: {safety.SOURCE}; further steps: "
        "common practice, no source."
    ),
    changes=(
        "The bench set as found: a screwed-in adjuster holds more than the plate says.",
        "Several springs, a stuck plate, corroded bolts: the count no longer holds.",
        "A spring can or cartridge that is held by itself: it is never opened on site.",
        "A piston with air on both sides, or a tank: the maker's manual has the order.",
    ),
    cautions=(
        safety.TRAPPED,
        safety.HANDS,
        "Nobody stands over the casing or in line with the adjuster while the spring is let down.",
        "The maker's manual comes first. Where it is missing, the actuator stays shut.",
    ),
    lesson="12_take_down_and_put_back",
    verdicts=VERDICTS,
)
