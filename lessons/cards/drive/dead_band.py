"""Dead band and friction from a trace."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.actuator_fields import area_field, travel_field
from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, curve, upto
from lessons.pictures.verdicts import PLAIN
from lessons.refinery import VALVES, drive_of
from lessons.safety import HANDS, PACKING, STROKE
from lessons.units.quantities import to_base
from lessons.units.readout import to_digits
from valvecalc.measures import friction_and_spring
from valvecalc.packing import dead_band_pressure, signal_dead_band

VALVE = VALVES["FV-1204"]
DRIVE = drive_of(VALVE.tag)
TRAVELS = np.array([0.1, 0.3, 0.5, 0.7, 0.9])
BOXES = tuple(f"at {100 * travel:.0f} %" for travel in TRAVELS)
_HALF = to_base(DRIVE.friction) / to_base(DRIVE.area)
_MIDDLE = [
    round(float(p)) for p in to_base(DRIVE.bench_low) + TRAVELS * (to_base(DRIVE.bench_high) - to_base(DRIVE.bench_low))
]
_ROW: dict[str, Any] = {"unit": "bar", "high": 10e5, "boxes": BOXES, "pressure": "gauge"}
FIELDS = (
    Field(
        "up",
        "air pressure while it opens, at travel",
        default=tuple(round(p + _HALF, -1) for p in _MIDDLE),
        **_ROW,
    ),
    Field(
        "down",
        "air pressure while it shuts, at travel",
        default=tuple(round(p - _HALF, -1) for p in _MIDDLE),
        **_ROW,
    ),
    area_field(DRIVE),
    travel_field(DRIVE),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return friction, dead band, spring rate and bench set."""
    pressure, travel = _loop(n.up, n.down)
    trace = friction_and_spring(pressure, travel, n.area, n.travel)
    low, high = float(trace.bench_low_gauge), float(trace.bench_high_gauge)
    friction = float(trace.friction)
    return SimpleNamespace(
        friction=friction,
        band=float(dead_band_pressure(friction, n.area)),
        rate=float(trace.spring_rate),
        low=low,
        high=high,
        share=float(signal_dead_band(friction, n.area, high - low)),
    )


def _loop(up: tuple[float, ...], down: tuple[float, ...]) -> tuple[Any, Any]:
    """Return the loop through the points, drawn on to both stops: pressures and travels in order of time."""
    rise, fall = np.array(up), np.array(down)
    falls_with_air = rise[-1] < rise[0]
    if np.any(np.diff(-rise if falls_with_air else rise) <= 0) or np.any(
        np.diff(-fall if falls_with_air else fall) <= 0
    ):
        raise BadInputError("up", "Along the travel the pressures must rise (or fall) from box to box, in both rows.")
    if np.any((rise < fall) if not falls_with_air else (rise > fall)):
        raise BadInputError(
            "down",
            "Friction makes opening and shutting differ at each travel. Here they differ the wrong way: the two rows "
            "seem to be swapped.",
        )
    ends = [np.concatenate([[2 * p[0] - p[1]], p, [2 * p[-1] - p[-2]]]) for p in (rise, fall)]
    travels = np.concatenate([[0.0], TRAVELS, [1.0]])
    if falls_with_air:  # the stroke that shuts is the one with rising air: it comes first
        ends, travels = [ends[1][::-1], ends[0][::-1]], travels[::-1]
    return np.concatenate([ends[0], ends[1][::-1]]), np.concatenate([travels, travels[::-1]])


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the friction and the dead band it makes."""
    rows = (
        ("dead band, as air pressure", to_digits(r.band, "bar", units)),
        ("dead band without a positioner, of the spring's span", to_digits(r.share, "%")),
        ("spring rate", to_digits(r.rate, "N/mm", units)),
        ("bench set, middle of the loop", f"{to_digits(r.low, 'bar', units)} to {to_digits(r.high, 'bar', units)}"),
    )
    gap, area = to_digits(r.band, "bar", units, 4), to_digits(n.area, "cm²", units, 4)
    formula = (
        f"friction = width of the loop · area / 2 = {gap} · {area} / 2 = {to_digits(r.friction, 'N', units)}",
        f"dead band = 2 · friction / area = {gap}; of the span {to_digits(r.high - r.low, 'bar', units)}: "
        f"{to_digits(r.share, '%')}",
    )
    headline = f"Friction {to_digits(r.friction, 'N', units)}, dead band {to_digits(r.share, '%')}"
    return CardAnswer(headline, PLAIN, rows, formula)


def _picture() -> tuple[Any, Any]:
    """Draw the loop as lesson 13 draws it: air across, travel up, one colour, dashed on the way back."""
    lines = {"up": "opens", "back": "shuts", "limit_middle": "spring alone"}
    figure, place = chart(("air in the actuator", "bar"), ("travel", "%"), lines)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        ends = (r.low, r.high) if n.up[-1] > n.up[0] else (r.high, r.low)
        paths = {
            "up": curve(n.up, TRAVELS),
            "back": curve(n.down, TRAVELS),
            "limit_middle": [(ends[0], 0), (ends[1], 1)],
        }
        moved: dict[str, Any] = place(
            (upto(*n.up, *n.down, r.high), (0, 1)), units, paths, {}, f"width {to_digits(r.band, 'bar', units)}"
        )
        return moved

    return figure, move


CARD = Card(
    name="dead_band",
    title="Dead band and friction from a trace",
    group="It sticks, jumps or hunts",
    symptom=(
        "You have a slow trace of air pressure against travel, up and down. How much friction and dead band is there?"
    ),
    words=(
        "dead band friction trace packing sticking stiction loop width spring rate pressure travel chart "
        "hysteresis sticky sticks stuck jerky lumpy jumps slip seized frozen deadband tight slow"
    ),
    start=f"FV-1204, {VALVE.service}",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt=(
        "Travel against the air in the actuator: a full line while it opens, a dashed one while it shuts. Half the "
        "width between the lines, times the effective area, is the friction."
    ),
    source=(
        "Worked by hand: F = A · width / 2, straight lines through the points. Dead band as in ISA-75.25.01 and "
        "IEC 61298-2 (second-hand). The 2 to 10 % of MIL-HDBK-1003/7 for a valve without a positioner are "
        "hysteresis, not dead band."
    ),
    changes=(
        "A positioner: it makes the dead band smaller, but never the friction.",
        "Another pressure: it must be the one in the actuator, not the output of the controller.",
        "A fast stroke: the air lags, and the loop gets wider. Take ten times as long as the valve's own stroke.",
        "A loop wider at one place: galled stem, bent stem or packing that binds there.",
    ),
    cautions=(
        STROKE,
        HANDS,
        PACKING,
    ),
    lesson="09_packing_friction_hunting",
)
