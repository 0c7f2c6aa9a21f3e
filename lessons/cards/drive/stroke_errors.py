"""Stroke test: as-found and as-left points, errors and verdict."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.cards.drive.five_points import (
    BOXES,
    ROWS,
    VERDICTS,
    five_point_chart,
    five_point_formula,
    five_point_record,
    five_point_results,
    five_point_rows,
    five_point_verdict,
)
from lessons.safety import HANDS, STROKE


def _of_stroke(length: float, before: SimpleNamespace) -> float:
    """Return a travel read as a length as a share of the rated travel."""
    stroke = getattr(before, "stroke", None)
    if stroke is None:
        raise BadInputError("stroke", "To take mm or inches this card needs the rated travel: fill in its box first.")
    return float(length / stroke)


AS_LENGTH = dict.fromkeys(("mm", "cm", "in"), _of_stroke)
_TRAVEL: dict[str, Any] = {"unit": "%", "low": -0.25, "high": 1.25, "boxes": BOXES, "also": AS_LENGTH}
FIELDS = (
    Field("stroke", "rated travel, if you read mm or inches", "mm", high=0.5, above=True, optional=True),
    Field("found_up", "as found, signal rising: travel", default=(0.0, 0.242, 0.491, 0.743, 0.996), **_TRAVEL),
    Field("found_down", "as found, signal falling: travel", default=(0.008, 0.26, 0.513, 0.759, 1.0), **_TRAVEL),
    Field("left_up", "as left, signal rising: travel", optional=True, **_TRAVEL),
    Field("left_down", "as left, signal falling: travel", optional=True, **_TRAVEL),
    Field("limit", "error allowed, of span", "%", 0.01, high=0.2, above=True, also=AS_LENGTH),
    Field(
        "reading",
        "how far a reading of the travel can be off, ±, of span",
        "%",
        0.002,
        high=0.2,
        above=True,
        also=AS_LENGTH,
    ),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the figures of both tables."""
    return five_point_results({name: getattr(n, name) for name in ROWS}, n.limit, n.reading)


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say whether it was good as found and is good as left."""
    tone, headline = five_point_verdict(r)
    return CardAnswer(headline, tone, tuple(five_point_rows(r)), five_point_formula(r, "error = travel − signal"))


def _record(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[str, ...]]:
    """Return the rows of the calibration record."""
    return five_point_record(r, "travel")


def _picture() -> tuple[Any, Any]:
    """Draw the errors over the signal, with the band allowed."""
    return five_point_chart("travel")


CARD = Card(
    name="stroke_errors",
    title="Stroke test: as found, as left",
    group="It does not go where it should",
    symptom=(
        "You have read the travel at five signals up and down: is it within its limit, and what is left "
        "when you are done?"
    ),
    words=(
        "stroke test calibration five point travel error as found as left zero span hysteresis dead band "
        "linearity positioner record wont open fully calibrate recalibrate out of drift short feedback linkage "
        "limit switch"
    ),
    start="an invented test of LV-2112",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt=("Error of the travel over the signal, rising and falling, as found and as left, with the band allowed."),
    source=(
        "Inaccuracy as in IEC 61298-2 (second-hand), averages and linearity as there (from memory). Hysteresis there "
        "is what is left of up against down when the dead band, found by small steps, is taken off: from memory. "
        "Five points up and down, reading four times better: GB/T 4213 (second-hand). The limit is yours: "
        "ISA-75.25.01, by its scope, sets none."
    ),
    changes=(
        "Overshoot: approach every point from one side and wait until the stem is at rest.",
        "Read in mm or inches: type the unit with each number, 7.5 mm or 5/16 in, and the rated travel.",
        "How the travel is read: a scale by eye is too rough for a tight limit. The reading has to be at least four "
        "times better than the limit.",
        "On the bench or in the line: flow and pressure move the plug too.",
    ),
    cautions=(
        STROKE,
        HANDS,
    ),
    lesson="10_stroke_and_calibration",
    record=_record,
    verdicts=VERDICTS,
)
