"""Flow at this travel, inherent and installed."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.card import Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, curve
from lessons.pictures.verdicts import PLAIN
from lessons.refinery import VALVES, line_of
from lessons.safety import HANDS
from lessons.units.quantities import to_base
from lessons.units.readout import to_digits
from valvecalc.characteristic import (
    equal_percentage,
    equal_percentage_slope,
    linear,
    linear_slope,
    quick_opening,
    quick_opening_slope,
)
from valvecalc.installed import installed_flow, installed_gain

VALVE = VALVES["FV-2107"]
LINE = line_of(VALVE.tag)
_TOTAL = to_base(LINE.pump_shutoff) - to_base(LINE.static)
_AT_FULL = to_base(LINE.pump_at_full) - to_base(LINE.static) - to_base(LINE.pipe_at_full)
KINDS = {
    "equal percentage": "equal percentage",
    "linear": "linear",
    "quick opening": "quick opening (√ travel)",
}
TRAVELS = np.linspace(0, 1, 61)
FIELDS = (
    Field("kind", "inherent characteristic", default=VALVE.characteristic, choices=KINDS),
    Field("travel", "travel", "%", 0.5, high=1.0),
    Field("rangeability", "rangeability, on the data sheet", "", VALVE.rangeability, low=2.0, high=1000.0),
    Field("kv", "rated flow coefficient", "Kv", to_base(VALVE.rated_kv), high=2e4, above=True),
    Field(
        "share",
        "drop across the open valve over drop across it shut",
        "%",
        round(_AT_FULL / _TOTAL, 3),
        low=0.01,
        high=1.0,
    ),
    Field("full", "flow with the valve wide open", "m³/h", to_base(LINE.full_flow), high=10.0, above=True),
)


def phi_of(kind: str, travel: Any, rangeability: float) -> Any:
    """Return the relative flow coefficient; equal percentage as on the data sheet, not shut at travel 0."""
    if kind == "quick opening":
        return quick_opening(travel)
    return (equal_percentage if kind == "equal percentage" else linear)(travel, rangeability)


def _slope(n: SimpleNamespace) -> float:
    if n.kind == "quick opening":
        return float(quick_opening_slope(max(n.travel, 1e-3)))
    slope = equal_percentage_slope if n.kind == "equal percentage" else linear_slope
    return float(slope(n.travel, n.rangeability))


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return coefficient, flows and gain at the travel."""
    phi = float(phi_of(n.kind, n.travel, n.rangeability))
    ratio = float(installed_flow(phi, n.share))
    gain = float(installed_gain(phi, _slope(n), n.share)) if phi > 0 else float("nan")
    return SimpleNamespace(phi=phi, kv=phi * n.kv, ratio=ratio, flow=ratio * n.full, gain=gain)


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the flow in the line and the coefficient of the valve."""
    rows = (
        ("flow in the line, of the flow wide open", to_digits(r.ratio, "%")),
        ("flow coefficient at this travel", to_digits(r.kv, "Kv", units)),
        ("inherent: flow at a constant drop, of full", to_digits(r.phi, "%")),
        (
            "1 % more travel brings",
            "–" if np.isnan(r.gain) else f"{to_digits(r.gain / 100, '%')} of full flow more",
        ),
    )
    return CardAnswer(f"{to_digits(r.flow, 'm³/h', units)} in the line", PLAIN, rows, _formula(n, r, units))


def _formula(n: SimpleNamespace, r: SimpleNamespace, units: str) -> tuple[str, ...]:
    h, big = to_digits(n.travel), to_digits(n.rangeability)
    inherent = {
        "equal percentage": f"Φ = R^(h − 1) = {big}^({h} − 1)",
        "linear": f"Φ = 1/R + (1 − 1/R) · h = 1/{big} + (1 − 1/{big}) · {h}",
        "quick opening": f"Φ = √h = √{h}",
    }[n.kind]
    a, phi = to_digits(n.share), to_digits(r.phi, digits=4)
    ratio = f"q/q_full = 1/√((1 − a) + a/Φ²) = 1/√((1 − {a}) + {a}/{phi}²) = {to_digits(r.ratio, digits=4)}"
    coefficient = "Cv" if units == "us" else "Kv"
    return (
        f"{inherent} = {phi}; {coefficient} = {phi} · {to_digits(n.kv, 'Kv', units).split()[1]} = "
        f"{to_digits(r.kv, 'Kv', units).split()[1]}",
        ratio if r.phi > 0 else "the valve is shut: no flow",
        f"flow = {to_digits(r.ratio, digits=4)} · {to_digits(n.full, 'm³/h', units, 4)} = "
        f"{to_digits(r.flow, 'm³/h', units)}",
    )


def _picture() -> tuple[Any, Any]:
    """Draw both curves and the valve's place on them."""
    lines = {"installed": "in the line", "inherent": "at a constant drop"}
    figure, place = chart(("travel", "%"), ("flow, of full", "%"), lines, marks=("installed", "inherent"))

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        phi = phi_of(n.kind, TRAVELS, n.rangeability)
        paths = {"installed": curve(TRAVELS, installed_flow(phi, n.share)), "inherent": curve(TRAVELS, phi)}
        points = {"installed": (n.travel, r.ratio), "inherent": (n.travel, r.phi)}
        moved: dict[str, Any] = place(((0, 1), (0, 1.04)), units, paths, points, to_digits(r.flow, "m³/h", units))
        return moved

    return figure, move


CARD = Card(
    name="flow_at_travel",
    title="Flow at this travel",
    group="Too much or too little flow",
    symptom="You know the travel. What flow should there be in this line?",
    words=(
        "flow travel opening inherent installed characteristic equal percentage linear gain percent open Kv Cv "
        "capacity too much little not enough throughput oversized undersized"
    ),
    start=f"FV-2107, {VALVE.service}",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt=("Flow over travel, once in the line and once at a constant drop, with the present travel marked on both."),
    source=(
        "Linear and equal percentage: IEC 60534-2-4:2009; quick opening has no formula in the standards, "
        "√ travel is a textbook stand-in (from memory). In the line: constant total drop, pipe losses "
        "with flow squared, worked by hand."
    ),
    changes=(
        "A pump whose pressure falls with flow: take the drop across the shut valve with the pump running.",
        "Choking or flashing: then a larger drop brings no more flow (see that card).",
        "Worn trim: the real curve lies above the one on the data sheet at small travel.",
        "A bypass that is open.",
    ),
    cautions=(
        "Reading travel at the stem means being near a hot, loud or moving valve: hearing protection.",
        HANDS,
    ),
    lesson="05_installed_flow",
)
