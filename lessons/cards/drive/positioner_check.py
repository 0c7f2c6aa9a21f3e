"""Check of a positioner or an I/P: current in, travel or air out, up and down, as found and as left."""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.ranges import Range, read_range, write_range
from lessons.cards.drive.five_points import (
    BOXES,
    ROWS,
    SIGNAL,
    VERDICTS,
    five_point_chart,
    five_point_formula,
    five_point_record,
    five_point_results,
    five_point_rows,
    five_point_verdict,
)
from lessons.safety import HANDS, STROKE
from lessons.units.quantities import convert, from_base, plain_number, rounded_to
from lessons.units.readout import to_digits

UNITS = ("%", "mm", "cm", "in", "bar", "mbar", "kPa", "psi", "kg/cm²", "inH2O")
_SUCH_AS = "Type its range with the unit, such as 3 to 15 psi, 0 to 100 % or, for one that falls, 100 to 0 %."
_FAR = 0.2  # of the span beyond its ends: more is another unit or a slip


def _as_output(typed: str) -> Callable[[float, SimpleNamespace], float]:
    """Return what turns a reading with a unit into a number of the output's own unit."""

    def number(value: float, before: SimpleNamespace) -> float:
        if not hasattr(before, "output"):
            raise BadInputError("", "Correct the range of the output first; the readings are counted with it.")
        low, high, unit = before.output
        if typed == "%" != unit:
            return float(low + value * (high - low))
        try:
            return convert(from_base(value, typed), unit).value
        except ValueError:
            raise BadInputError("", f"The output is read in {unit}. A reading in {typed} is none of it.") from None

    return number


_READ: dict[str, Any] = {
    "low": -1e6,
    "high": 1e6,
    "boxes": BOXES,
    "also": {unit: _as_output(unit) for unit in UNITS},
}
FIELDS = (
    Field("signal", "signal range it answers to", "mA", (0.004, 0.020), high=0.024, boxes=("from", "to")),
    Field(
        "output",
        "output over that range (100 to 0 % if it falls)",
        default=(0.2, 1.0, "bar"),
        read=lambda text, _: read_range(text, UNITS, _SUCH_AS),
        write=lambda value, _: write_range(value),
    ),
    Field("found_up", "as found, signal rising: output", default=(0.202, 0.405, 0.607, 0.806, 1.004), **_READ),
    Field("found_down", "as found, signal falling: output", default=(0.206, 0.411, 0.612, 0.809, 1.004), **_READ),
    Field("left_up", "as left, signal rising: output", optional=True, **_READ),
    Field("left_down", "as left, signal falling: output", optional=True, **_READ),
    Field(
        "limits",
        "of the output's span",
        "%",
        (0.01, 0.002),
        high=0.2,
        above=True,
        boxes=("error allowed, ±", "a reading can be off, ±"),
    ),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the currents to give, the output wanted at each, and the figures of both tables."""
    start, end = n.signal
    if start >= end:
        raise BadInputError("signal", "The second current has to be above the first. A falling output is typed below.")
    shares = {name: _shares(name, getattr(n, name), n.output) for name in ROWS}
    r = five_point_results(shares, *n.limits)
    low, high, _ = n.output
    r.currents = [start + s * (end - start) for s in SIGNAL]
    r.wanted = [low + s * (high - low) for s in SIGNAL]
    return r


def _shares(name: str, readings: tuple[float, ...] | None, output: Range) -> tuple[float, ...] | None:
    """Return the readings as shares of the span, which falls where the output does."""
    if readings is None:
        return None
    low, high, unit = output
    shares = tuple((each - low) / (high - low) for each in readings)
    for box, share, each in zip(BOXES, shares, readings, strict=True):
        if not -_FAR <= share <= 1 + _FAR:
            ends = write_range(output)
            raise BadInputError(name, f"{box}: {to_digits(each)} {unit} lies far outside {ends}. Look at the unit.")
    return shares


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say whether it was right as found and is right as left."""
    tone, headline = five_point_verdict(r)
    rows = [
        ("give these currents, up and down", f"{_list([1000 * each for each in r.currents])} mA"),
        ("output wanted at each", f"{_list(r.wanted)} {n.output[2]}"),
        *five_point_rows(r),
        ("next", _next(r)),
    ]
    low, high, unit = n.output
    error = f"error = (reading − wanted) / ({plain_number(high)} − {plain_number(low)}) {unit}"
    wanted = (
        f"wanted = {plain_number(low)} + (mA − {to_digits(1000 * n.signal[0])}) / "
        f"({to_digits(1000 * n.signal[1])} − {to_digits(1000 * n.signal[0])}) · "
        f"({plain_number(high)} − {plain_number(low)}) {unit}"
    )
    return CardAnswer(headline, tone, tuple(rows), (wanted, *five_point_formula(r, error)))


def _next(r: SimpleNamespace) -> str:
    """Say what helps against the largest of the figures that now stand over the limit."""
    figures = r.left or r.found
    if figures["gap"] > r.limit:
        return "up and down differ by more than the error allowed: friction, play or a worn relay. No screw mends that"
    if max(abs(figures["zero"]), abs(figures["span"])) > r.limit:
        return "set zero, then span, then zero again; then all points once more"
    if max(figures["high"], -figures["low"]) > r.limit:
        return "the ends are within it, the middle is not: linkage or cam of a positioner; an I/P goes to the workshop"
    return "write it down and put everything back as it was"


def _list(numbers: list[float]) -> str:
    return "; ".join(plain_number(rounded_to(round(each, 9), 4)).replace("-", "−") for each in numbers)


def _record(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[str, ...]]:
    """Return the rows of the record: the readings as they were read, then errors and verdict."""
    unit = n.output[2]
    rows: list[tuple[str, ...]] = [
        ("current [mA]", *(f"{1000 * each:g}" for each in r.currents)),
        (f"output wanted [{unit}]", *(f"{round(each, 9):g}" for each in r.wanted)),
    ]
    for name in ROWS:
        words = f"as {name.split('_')[0]}, {'rising' if name.endswith('up') else 'falling'}"
        rows.append((f"{words}: read [{unit}]", *(f"{each:g}" for each in getattr(n, name) or ())))
    return [*rows, *five_point_record(r, "output")]


def _picture() -> tuple[Any, Any]:
    """Draw the errors over the signal, with the band allowed."""
    return five_point_chart("output")


CARD = Card(
    name="positioner_check",
    title="Is this positioner or I/P right?",
    group="It does not go where it should",
    symptom="You feed 4 to 20 mA and read travel or air at five points up and down: as found, as left, and a record.",
    words=(
        "positioner I/P IP converter transducer current to pressure 4-20 mA calibrator calibration calibrate check as "
        "found as left record sheet split range direct reverse acting zero span hysteresis dead band tolerance loop "
        "output off drift feedback wrong position offset overshoots recalibrate milliamp"
    ),
    start="an invented check of an I/P",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Error of the output over the signal, rising and falling, as found and as left, with the band allowed.",
    source=(
        "Inaccuracy as in IEC 61298-2 (second-hand); averages, hysteresis with its dead band, and linearity as there "
        "(from memory). Five points up and down, reading four times better: GB/T 4213 (second-hand). 4 to 20 mA: "
        "IEC 60381-1, from memory. The limit is yours: ISA-75.25.01, by its scope, sets none."
    ),
    changes=(
        "Split range: type the part of the signal this one answers to, such as 4 to 12 mA.",
        "Reverse: type the output as it falls, 100 to 0 % or 15 to 3 psi.",
        "A characterised positioner: its travel is not the signal. Take the wanted travel from its own curve.",
        "Approach each point from one side and wait until the reading stands; one step back and the gap is hidden.",
        "An I/P is read at its outlet with a test gauge; 3 to 15 psi is 0.207 to 1.034 bar, not 0.2 to 1.",
        "Air supply: too low, and the top of the range cannot be reached.",
    ),
    cautions=(
        STROKE,
        HANDS,
        "Breaking the loop moves the valve: know its fail position and tell the board before a wire comes off.",
    ),
    lesson="10_stroke_and_calibration",
    record=_record,
    verdicts=VERDICTS,
)
