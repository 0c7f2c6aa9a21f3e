"""Stroke test: as-found and as-left points, errors and verdict."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import around, chart, curve
from lessons.pictures.verdicts import BAD, GOOD, SHORT, SIGNS, reaches, tone_of
from lessons.safety import HANDS, STROKE
from lessons.units.readout import to_digits
from valvecalc.measures import hysteresis, inaccuracy, linearity, measured_error, zero_and_span_error

SIGNAL = (0.0, 0.25, 0.5, 0.75, 1.0)
BOXES = ("at 0 %", "at 25 %", "at 50 %", "at 75 %", "at 100 %")


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
VERDICTS = {GOOD: "Within its limit", SHORT: "Not proven within its limit", BAD: "Outside its limit"}
BETTER = 4  # times better than the limit the reference has to be: GB/T 4213, second-hand
FIGURES = {
    "worst": "largest error of one reading",
    "average": "largest error of the averages",
    "gap": "up against down: hysteresis and dead band together",
    "zero": "zero error",
    "span": "span error",
    "line": "linearity, independent, ±",
}


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the figures of both tables; those of as left only where both rows are there."""
    found = _measures(n.found_up, n.found_down)
    left = _measures(n.left_up, n.left_down) if n.left_up and n.left_down else None
    certain = {"limit": n.limit, "reading": n.reading}
    return SimpleNamespace(
        found=found,
        left=left,
        found_tone=_tone(found, **certain),
        left_tone=_tone(left, **certain) if left else None,
        half=bool(n.left_up or n.left_down) and left is None,
    )


def _measures(up: tuple[float, ...], down: tuple[float, ...]) -> dict[str, float]:
    average = (np.array(up) + np.array(down)) / 2
    high, low = (float(each) for each in inaccuracy(SIGNAL, up, down))
    zero, span = (float(each) for each in zero_and_span_error(SIGNAL, average))
    return {
        "worst": high if high >= -low else low,
        "high": high,
        "low": low,
        "average": float(measured_error(SIGNAL, up, down)),
        "gap": float(hysteresis(up, down)),
        "zero": zero,
        "span": span,
        "line": float(linearity(SIGNAL, average).deviation),
    }


def _tone(measures: dict[str, float], limit: float, reading: float) -> str:
    """Judge every single reading: certain is only what stays within the limit however far the reading is off."""
    worst = max(measures["high"], -measures["low"])
    close_enough = reaches(limit, BETTER * reading)
    return tone_of(reaches(limit, worst), close_enough and reaches(limit, worst + reading))


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say whether it was good as found and is good as left."""
    counts, tone, name = (r.left, r.left_tone, "as left") if r.left else (r.found, r.found_tone, "as found")
    if r.half and tone == GOOD:
        tone = SHORT
    rows = [(words, _beside(r, key)) for key, words in FIGURES.items()]
    if r.left:
        rows.insert(0, ("as found → as left", f"{_verdict(r.found_tone)} → {_verdict(r.left_tone)}"))
    elif r.half:
        rows.insert(0, ("as left", "fill in both rows, rising and falling"))
    elif tone == SHORT:
        rows.insert(0, ("not certain", _why(n)))
    error = f"{name} {_percent(counts['worst'])} at worst, ±{to_digits(n.limit, '%')} allowed"
    return CardAnswer(f"{VERDICTS[tone]}: {error}", tone, tuple(rows), _formula(n, r))


def _why(n: SimpleNamespace) -> str:
    if not reaches(n.limit, BETTER * n.reading):
        return f"the travel has to be read {BETTER} times better than the limit"
    return f"the reading itself can be off by ±{to_digits(n.reading, '%')}"


def _formula(n: SimpleNamespace, r: SimpleNamespace) -> tuple[str, ...]:
    up, down = (n.left_up, n.left_down) if r.left else (n.found_up, n.found_down)
    errors = [row[k] - SIGNAL[k] for row in (up, down) for k in range(5)]
    gaps = [abs(d - u) for u, d in zip(up, down, strict=True)]
    return (
        "error = travel − signal; rising, then falling: "
        + "; ".join(_percent(e).removesuffix(" %") for e in errors)
        + " %",
        "up against down = largest |falling − rising| of "
        + "; ".join(to_digits(g, "%").removesuffix(" %") for g in gaps)
        + f" = {to_digits(max(gaps), '%')}",
    )


def _beside(r: SimpleNamespace, key: str) -> str:
    signed = _percent if key in ("worst", "average", "zero", "span") else (lambda value: to_digits(value, "%"))
    return signed(r.found[key]) + (f" → {signed(r.left[key])}" if r.left else "")


def _verdict(tone: str) -> str:
    """Return the words of a verdict in the middle of a sentence."""
    return VERDICTS[tone][0].lower() + VERDICTS[tone][1:]


def _percent(value: float) -> str:
    value = round(value, 9)
    return f"{'+' if value > 0 else ''}{to_digits(value, '%')}"


def _record(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[str, ...]]:
    """Return the rows of the calibration record."""

    def number(value: float) -> str:
        return f"{round(100 * value, 6):g}"

    rows: list[tuple[str, ...]] = [
        ("error allowed [% of span]", number(n.limit)),
        ("error of a reading [% of span]", number(n.reading)),
        ("signal [%]", *(number(s) for s in SIGNAL)),
    ]
    for name in ("found_up", "found_down", "left_up", "left_down"):
        points = getattr(n, name)
        words = f"as {name.split('_')[0]}, {'rising' if name.endswith('up') else 'falling'}"
        rows.append((f"{words}: travel [%]", *(number(p) for p in points or ())))
        rows.append((f"{words}: error [%]", *(number(p - s) for p, s in zip(points or (), SIGNAL, strict=False))))
    rows.append(("figure [% of span]", "as found", "as left"))
    rows += [(words, number(r.found[key]), number(r.left[key]) if r.left else "") for key, words in FIGURES.items()]
    tones = [tone for tone in (r.found_tone, r.left_tone) if tone]
    rows.append(("verdict", *(f"{SIGNS[tone]} {_verdict(tone)}" for tone in tones), *[""] * (2 - len(tones))))
    return rows


def _picture() -> tuple[Any, Any]:
    """Draw the errors over the signal, with the band allowed."""
    lines = {
        "found_up": "found, rising",
        "found_down": "found, falling",
        "left_up": "left, rising",
        "left_down": "left, falling",
        "limit_band": "allowed",
    }
    figure, place = chart(("signal", "%"), ("error of the travel", "%"), lines)
    figure.axes[0].axhline(0.5, color="0.6", lw=0.8)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        paths: dict[str, Any] = {}
        for name in ("found_up", "found_down", "left_up", "left_down"):
            points = getattr(n, name) or (np.nan,) * 5
            paths[name] = curve(SIGNAL, np.array(points) - SIGNAL)
        worst = max(max(abs(m["high"]), abs(m["low"])) for m in (r.found, r.left) if m)
        paths["limit_band"] = [(0, n.limit), (1, n.limit), (np.nan, np.nan), (0, -n.limit), (1, -n.limit)]
        moved: dict[str, Any] = place(((0.0, 1.0), around(worst, n.limit)), units, paths, {})
        return moved

    return figure, move


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
        "linearity positioner record wont open fully calibrate recalibrate out of drift short feedback linkage"
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
