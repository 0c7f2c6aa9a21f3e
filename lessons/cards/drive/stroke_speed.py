"""How fast it can stroke through its solenoid valve, and the air a stroke takes."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.actuator_fields import area_field, travel_field
from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, curve, upto
from lessons.pictures.verdicts import BAD, SHORT, reaches
from lessons.refinery import drive_of
from lessons.safety import HANDS, STROKE
from lessons.units.quantities import to_base
from lessons.units.readout import to_digits
from valvecalc.actuator import ATMOSPHERE
from valvecalc.air import GAMMA, emptying_time, filling_time

AREA_OF_KV = 1.9642e-5  # m² for Kv 1: 1 m³/h of water at 1 bar through A √(2 Δp/ρ), worked by hand
DRIVE = drive_of("FV-6204")
POINTS = 40
DEAD = 0.2  # of the swept room: casing, tubing and fittings at the start. Own choice, no source
WAYS = {"fill": "air comes in", "vent": "air goes out"}
FIELDS = (
    Field("way", "which stroke", default="fill", choices=WAYS),
    area_field(DRIVE),
    travel_field(DRIVE),
    Field(
        "bench",
        "air pressure at the start and the end of travel, in service",
        "bar",
        (to_base(DRIVE.bench_low), to_base(DRIVE.bench_high)),
        high=10e5,
        boxes=("where it starts", "where it ends"),
        pressure="gauge",
    ),
    Field("supply", "air supply", "bar", to_base(DRIVE.supply), high=15e5, above=True, pressure="gauge"),
    Field("kv", "flow coefficient of solenoid valve and tubing together", "Kv", 0.1, high=50.0, above=True),
    Field("wanted", "longest time allowed", "s", 10.0, high=3600.0, above=True),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the time of the stroke through an ideal opening, and the free air it takes."""
    low, high = n.bench
    if low >= high:
        raise BadInputError("bench", "The pressure at the end has to be above that at the start.")
    if high >= n.supply:
        raise BadInputError("supply", "The air supply has to be above the pressure at the end of travel.")
    share = np.linspace(0, 1, POINTS)
    air = ATMOSPHERE + low + share * (high - low)
    room = n.area * n.travel * (share + DEAD)
    opening = AREA_OF_KV * n.kv
    filled = n.way == "fill"
    run = (
        filling_time(air, room, opening, n.supply + ATMOSPHERE)
        if filled
        else emptying_time(air[::-1], room[::-1], opening, ATMOSPHERE)
    )
    free = (air[-1] * room[-1] - ATMOSPHERE * room[0]) / ATMOSPHERE
    return SimpleNamespace(
        run=run,
        share=share if filled else share[::-1],
        time=float(run[-1]),
        free=float(free),
        opening=opening,
        tone=SHORT if reaches(n.wanted, float(run[-1]) / GAMMA) else BAD,
    )


# Never good: the opening is ideal, and a real stroke takes longer. Air that has no time to warm or cool fills and
# empties quicker, by at most γ: too slow is what is too slow even then.
VERDICTS = {SHORT: "Not certain", BAD: "Too slow"}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the least time it takes, and the air."""
    swept = n.area * n.travel
    time, wanted = to_digits(r.time, "s"), to_digits(n.wanted, "s")
    rows = (
        ("allowed / worked out", f"{wanted} / {time}"),
        ("free air for one stroke", to_digits(r.free, "L", units)),
        ("opening this Kv stands for", to_digits(r.opening, "mm²", units)),
        ("next", NEXT[r.tone]),
    )
    formula = (
        f"opening = Kv · 19.6 mm² = {to_digits(r.opening, 'mm²')}; air through it, choked or not, "
        f"room {to_digits(DEAD * swept, 'L', units)} growing by {to_digits(swept, 'L', units)}: "
        f"{time}",
        f"free air = (P · V at the end − at the start) / atmosphere = {to_digits(r.free, 'L', units)}",
    )
    return CardAnswer(f"{VERDICTS[r.tone]}: about {time}, {wanted} allowed", r.tone, rows, formula)


NEXT = {
    SHORT: "time the real stroke: tubing, filters, positioner and friction make it longer",
    BAD: "a solenoid valve and tubing with a larger Kv, a volume booster, or a quick exhaust for the way out",
}


def _picture() -> tuple[Any, Any]:
    """Draw the travel over the time."""
    figure, place = chart(("time", "s"), ("travel", "%"), {"stroke": "travel", "limit_wanted": "longest time allowed"})

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        paths = {"stroke": curve(r.run, r.share), "limit_wanted": [(n.wanted, 0), (n.wanted, 1)]}
        moved: dict[str, Any] = place((upto(r.time, n.wanted), (0, 1.04)), units, paths, {})
        return moved

    return figure, move


CARD = Card(
    name="stroke_speed",
    title="How fast can it stroke, and how much air does it take?",
    group="It does not go where it should",
    symptom="It trips or strokes too slowly. Is the solenoid valve or the tubing too small?",
    words=(
        "stroke speed slow time fast solenoid trip quick exhaust booster tubing air consumption use vent fill "
        "seconds closing opening sluggish"
    ),
    start="the actuator of FV-6204; opening and time invented",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Travel over time for this stroke, with the longest time allowed marked.",
    source=(
        "Flow of air through an opening, at constant temperature: NACA Report 1135, from memory. Kv as an opening: "
        "worked by hand. A fifth of the swept room as dead room: own choice, no source."
    ),
    changes=(
        "Long or thin tubing, a filter, a speed regulator, silencers: type the Kv of all of them together.",
        "The dead time before the stem moves: the air first has to reach the start of travel.",
        "Friction and fluid force shift the pressures at which it moves: take those in service.",
        "A supply that sags while it fills: look at its gauge during the stroke.",
    ),
    cautions=(
        STROKE,
        HANDS,
        "A trip valve is timed by its own procedure. Nothing here says that it can be relied on.",
    ),
    lesson="17_air_supply_speed_and_failure",
    verdicts=VERDICTS,
)
