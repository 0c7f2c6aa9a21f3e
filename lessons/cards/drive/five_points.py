"""Readings at five points, rising and falling, as found and as left: figures, verdict, record and picture.

The stroke test and the check of a positioner or I/P share them. Readings are shares of the output wanted, 0 to 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.card_charts import around, chart, curve
from lessons.pictures.verdicts import BAD, GOOD, SHORT, SIGNS, reaches, tone_of
from lessons.units.readout import to_digits
from valvecalc.measures import hysteresis, inaccuracy, linearity, measured_error, zero_and_span_error

SIGNAL = (0.0, 0.25, 0.5, 0.75, 1.0)
BOXES = ("at 0 %", "at 25 %", "at 50 %", "at 75 %", "at 100 %")
ROWS = ("found_up", "found_down", "left_up", "left_down")
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
_SIGNED = ("worst", "average", "zero", "span")
Row = tuple[float, ...]


def five_point_results(rows: Mapping[str, Row | None], limit: float, reading: float) -> SimpleNamespace:
    """Return the figures of both tables with their tones; those of as left only where both rows are there."""
    found = _figures(rows["found_up"] or (), rows["found_down"] or ())
    left_up, left_down = rows["left_up"], rows["left_down"]
    left = _figures(left_up, left_down) if left_up and left_down else None
    return SimpleNamespace(
        rows=dict(rows),
        limit=limit,
        reading=reading,
        found=found,
        left=left,
        found_tone=_tone(found, limit, reading),
        left_tone=_tone(left, limit, reading) if left else None,
        half=bool(left_up or left_down) and left is None,
    )


def _figures(up: Row, down: Row) -> dict[str, float]:
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


def _tone(figures: dict[str, float], limit: float, reading: float) -> str:
    """Judge every single reading: certain is only what stays within the limit however far the reading is off."""
    worst = max(figures["high"], -figures["low"])
    close_enough = reaches(limit, BETTER * reading)
    return tone_of(reaches(limit, worst), close_enough and reaches(limit, worst + reading))


def five_point_verdict(r: SimpleNamespace) -> tuple[str, str]:
    """Return tone and large line: of as left where there is one, else of as found."""
    counts, tone, name = (r.left, r.left_tone, "as left") if r.left else (r.found, r.found_tone, "as found")
    if r.half and tone == GOOD:
        tone = SHORT
    return tone, f"{VERDICTS[tone]}: {name} {_percent(counts['worst'])} at worst, ±{to_digits(r.limit, '%')} allowed"


def five_point_rows(r: SimpleNamespace) -> list[tuple[str, str]]:
    """Return the figures in words, led by what is to be known about as left or about the reading."""
    rows = [(words, _beside(r, key)) for key, words in FIGURES.items()]
    if r.left:
        return [("as found → as left", f"{_small(r.found_tone)} → {_small(r.left_tone)}"), *rows]
    if r.half:
        return [("as left", "fill in both rows, rising and falling"), *rows]
    return [("not certain", _why(r)), *rows] if r.found_tone == SHORT else rows


def _why(r: SimpleNamespace) -> str:
    if not reaches(r.limit, BETTER * r.reading):
        return f"it has to be read {BETTER} times better than the limit"
    return f"the reading itself can be off by ±{to_digits(r.reading, '%')}"


def five_point_formula(r: SimpleNamespace, error: str) -> tuple[str, ...]:
    """Return how the errors and the gap are worked out; `error` says what an error is."""
    names = ("left_up", "left_down") if r.left else ("found_up", "found_down")
    up, down = (r.rows[name] for name in names)
    errors = [row[k] - SIGNAL[k] for row in (up, down) for k in range(len(SIGNAL))]
    gaps = [abs(d - u) for u, d in zip(up, down, strict=True)]
    return (
        f"{error}; rising, then falling: " + "; ".join(_percent(e).removesuffix(" %") for e in errors) + " %",
        "up against down = largest |falling − rising| of "
        + "; ".join(to_digits(g, "%").removesuffix(" %") for g in gaps)
        + f" = {to_digits(max(gaps), '%')}",
    )


def _beside(r: SimpleNamespace, key: str) -> str:
    said = _percent if key in _SIGNED else (lambda value: to_digits(value, "%"))
    return said(r.found[key]) + (f" → {said(r.left[key])}" if r.left else "")


def _small(tone: str) -> str:
    """Return the words of a verdict in the middle of a sentence."""
    return VERDICTS[tone][0].lower() + VERDICTS[tone][1:]


def _percent(value: float) -> str:
    value = round(value, 9)
    return f"{'+' if value > 0 else ''}{to_digits(value, '%')}"


def five_point_record(r: SimpleNamespace, output: str) -> list[tuple[str, ...]]:
    """Return the rows of the calibration record; `output` names what was read."""

    def number(value: float) -> str:
        return f"{round(100 * value, 6):g}"

    rows: list[tuple[str, ...]] = [
        ("error allowed [% of span]", number(r.limit)),
        ("error of a reading [% of span]", number(r.reading)),
        ("signal [%]", *(number(s) for s in SIGNAL)),
    ]
    for name in ROWS:
        points = r.rows[name] or ()
        words = f"as {name.split('_')[0]}, {'rising' if name.endswith('up') else 'falling'}"
        rows.append((f"{words}: {output} [%]", *(number(p) for p in points)))
        rows.append((f"{words}: error [%]", *(number(p - s) for p, s in zip(points, SIGNAL, strict=False))))
    rows.append(("figure [% of span]", "as found", "as left"))
    rows += [(words, number(r.found[key]), number(r.left[key]) if r.left else "") for key, words in FIGURES.items()]
    tones = [tone for tone in (r.found_tone, r.left_tone) if tone]
    rows.append(("verdict", *(f"{SIGNS[tone]} {_small(tone)}" for tone in tones), *[""] * (2 - len(tones))))
    return rows


def five_point_chart(output: str) -> tuple[Any, Any]:
    """Draw the errors over the signal, with the band allowed; return the figure and what moves it."""
    lines = {name: name.replace("_up", ", rising").replace("_down", ", falling") for name in ROWS}
    figure, place = chart(("signal", "%"), (f"error of the {output}", "%"), {**lines, "limit_band": "allowed"})
    figure.axes[0].axhline(0.5, color="0.6", lw=0.8)

    def move(_: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        points = {name: np.array(r.rows[name] or (np.nan,) * len(SIGNAL)) for name in ROWS}
        paths: dict[str, Any] = {name: curve(SIGNAL, read - SIGNAL) for name, read in points.items()}
        worst = max(max(abs(m["high"]), abs(m["low"])) for m in (r.found, r.left) if m)
        band = [(0, r.limit), (1, r.limit), (np.nan, np.nan), (0, -r.limit), (1, -r.limit)]
        moved: dict[str, Any] = place(((0.0, 1.0), around(worst, r.limit)), units, {**paths, "limit_band": band}, {})
        return moved

    return figure, move
