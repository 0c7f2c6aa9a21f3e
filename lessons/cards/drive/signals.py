"""Travel, signal and split range."""

from __future__ import annotations

import re
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, curve
from lessons.pictures.verdicts import BAD, PLAIN, SHORT
from lessons.questions import read_number
from lessons.questions.read_number import Unreadable
from lessons.refinery import drive_of
from lessons.safety import HANDS
from lessons.units.quantities import Q, plain_number, rounded_to, to_base
from lessons.units.readout import to_digits
from valvecalc.units import fraction_from_signal, signal_from_fraction, signal_state, split_range

DRIVE = drive_of("FV-1204")
# Unit typed -> range it belongs to. 9 psi and 0.6 bar both mean 50 %, though they are not the same pressure.
RANGES = {"ma": ("4-20 mA", "mA"), "psi": ("3-15 psi", "psi"), "bar": ("0.2-1.0 bar", "bar"), "%": ("", "%")}
_FAR = 9.0  # a share that no field takes


def read_signal(text: str, _units: str) -> float | Unreadable:
    """Read a signal in mA, psi, bar or % as a fraction of its range; mA where no unit is typed."""
    typed = re.sub(r"[\d\s.,+−-]", "", text).lower().rstrip("g") or "ma"
    if typed not in RANGES:
        return Unreadable("Type the signal in mA, psi, bar or %, such as 12 mA.")
    name, unit = RANGES[typed]
    found = read_number.number(text, unit)
    if isinstance(found, Unreadable):
        return Unreadable(found.reason.replace("his question", "his field"))
    value = to_base(Q(found.value, unit)) if unit != "mA" else found.value / 1000
    try:
        fraction = float(fraction_from_signal(value, name)) if name else value
    except ValueError:
        fraction = _FAR
    if -0.25 <= fraction <= 1.25:
        return fraction
    return Unreadable(f"{found} is too far outside its range; this card takes −25 to 125 % of it, such as 0 to 24 mA.")


def write_signal(fraction: float, _units: str) -> str:
    """Write a signal in mA, the same in both unit sets."""
    return f"{plain_number(rounded_to(float(signal_from_fraction(fraction, '4-20 mA')) * 1000, 4))} mA"


def _as_share(name: str) -> Callable[[float, SimpleNamespace], float]:
    """Return what turns a signal of a range into a share of it; far outside the range it is far outside 0 to 1."""

    def share(value: float, _: SimpleNamespace) -> float:
        try:
            return round(float(fraction_from_signal(value, name)), 9)  # 15 psi is 100 %, to the last digit
        except ValueError:
            return _FAR

    return share


_BAR = _as_share("0.2-1.0 bar")
SPLIT: dict[str, Any] = {
    "unit": "%",
    "high": 1.0,
    "also": {"mA": _as_share("4-20 mA"), "psi": _as_share("3-15 psi"), "bar": _BAR, "kPa": _BAR},
}
FIELDS = (
    Field("signal", "signal, in mA, psi, bar or %", default=0.625, read=read_signal, write=write_signal),
    Field("stroke", "rated travel of the valves", "mm", to_base(DRIVE.travel), high=0.5, above=True),
    Field("a_start", "valve A starts to open at (% or mA, bar, psi)", default=0.0, **SPLIT),
    Field("a_end", "valve A is full open at (% or mA, bar, psi)", default=0.5, **SPLIT),
    Field("b_start", "valve B starts to open at (% or mA, bar, psi)", default=0.5, **SPLIT),
    Field("b_end", "valve B is full open at (% or mA, bar, psi)", default=1.0, **SPLIT),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the travels and the signal in every range."""
    for valve in "ab":
        if getattr(n, f"{valve}_start") == getattr(n, f"{valve}_end"):
            raise BadInputError(
                f"{valve}_end", "Start and full opening must differ. For a single valve type 0 and 100 %."
            )
    current = float(signal_from_fraction(n.signal, "4-20 mA"))
    return SimpleNamespace(
        state=str(signal_state(min(max(current, 0.0), 0.024))),
        a=_travel(n, "a"),
        b=_travel(n, "b"),
        ma=round(current * 1e3, 9),
        psi=float(signal_from_fraction(n.signal, "3-15 psi")),
        bar=float(signal_from_fraction(n.signal, "0.2-1.0 bar")),
    )


def _travel(n: SimpleNamespace, valve: str) -> float:
    """Return a travel without the last digits of a computer's numbers, which would read as 4e-14 %."""
    return round(float(split_range(n.signal, getattr(n, f"{valve}_start"), getattr(n, f"{valve}_end"))), 6)


TONES = {"in range": PLAIN, "doubtful low": SHORT, "doubtful high": SHORT, "fault low": BAD, "fault high": BAD}
VERDICTS = {SHORT: "Not certain", BAD: "No travel"}
STATES = {
    "in range": "a value: 3.8 to 20.5 mA",
    "doubtful low": "neither: above 3.6 mA, where faults end, and below 3.8, where values begin",
    "doubtful high": "neither: above 20.5 mA, where values end, and below 21, where faults begin",
    "fault low": "a fault: 3.6 mA or less",
    "fault high": "a fault: 21 mA or more",
}
LOOK = (
    "supply, fuse, output card, wiring and terminals, or a device that reports a fault this way; "
    "the manuals say which, and what the positioner does"
)


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say where both valves stand, or that the signal is none to go by."""
    tone = TONES[r.state]
    travels = f"valve A {to_digits(r.a, '%')} open, valve B {to_digits(r.b, '%')} open"
    outside = f"{to_digits(r.ma)} mA lies outside 3.8 to 20.5 mA"
    headline = f"V{travels[1:]}" if tone == PLAIN else f"{VERDICTS[tone]}: {outside}"
    rows = [
        ("as a 4 to 20 mA signal (NAMUR NE 43)", STATES[r.state]),
        (
            "signal",
            f"{_share(n.signal)} = {to_digits(r.ma)} mA = "
            f"{to_digits(r.psi, 'psi')} = {to_digits(r.bar, 'bar')} "
            f"(each of its own range)",
        ),
        ("stem of valve A", to_digits(r.a * n.stroke, "mm", units)),
        ("stem of valve B", to_digits(r.b * n.stroke, "mm", units)),
    ]
    if tone != PLAIN:
        rows[2:] = [("look at", LOOK)]
    formula = (
        f"signal = (mA − 4) / 16 = ({to_digits(r.ma)} − 4) / 16 = {_share(n.signal)}",
        *(_step(valve, n, getattr(r, valve)) for valve in "ab" if tone == PLAIN),
    )
    return CardAnswer(headline, tone, tuple(rows), formula)


def _share(value: float) -> str:
    return to_digits(round(value, 6), "%")


def _step(valve: str, n: SimpleNamespace, travel: float) -> str:
    span = (n.signal, getattr(n, f"{valve}_start"), getattr(n, f"{valve}_end"))
    signal, start, end = (_share(each) for each in span)
    numbers = f"({signal} − {start}) / ({end} − {start})"
    share = f"{valve.upper()} = (signal − start) / (end − start) = {numbers}"
    return f"{share}, held to 0 … 100 % = {to_digits(travel, '%')}"


def _picture() -> tuple[Any, Any]:
    """Draw both travels over the signal."""
    figure, place = chart(
        ("signal", "%"),
        ("travel", "%"),
        {"a": "valve A", "b": "valve B", "limit_now": "signal now"},
        marks=("a", "b"),
    )

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        x = np.array([0.0, *sorted((n.a_start, n.a_end, n.b_start, n.b_end)), 1.0])
        paths = {
            "a": curve(x, split_range(x, n.a_start, n.a_end)),
            "b": curve(x, split_range(x, n.b_start, n.b_end)),
            "limit_now": [(n.signal, 0), (n.signal, 1)],
        }
        moved: dict[str, Any] = place(
            ((0, 1), (0, 1.04)),
            units,
            paths,
            {valve: (n.signal, getattr(r, valve) if r.state == "in range" else np.nan) for valve in "ab"},
            f"{to_digits(r.ma)} mA",
        )
        return moved

    return figure, move


CARD = Card(
    name="signals",
    title="Travel, signal and split range",
    group="It does not go where it should",
    symptom=("You have a signal in mA, psi or bar. Where should the stem be, and which valve of a split range moves?"),
    words=(
        "signal travel percent mA psi bar 4-20 3-15 split range live zero loop check fault wire broken under "
        "over wont move solenoid converter I/P current transmitter no sluggish milliamp"
    ),
    start="a split range of 4 to 12 and 12 to 20 mA, travel of FV-1204",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Travel of valves A and B over the signal, with the present signal marked.",
    source=(
        "4 to 20 mA: IEC 60381-1, 0.2 to 1 bar: IEC 60382, both from memory. What is a value and what a fault: NAMUR "
        "NE 43, for transmitters, from memory. 3 to 15 psi and the split at 12 mA: common practice, no source."
    ),
    changes=(
        "A positioner that is characterised or reversed: type full opening below the start for a valve "
        "that closes on a rising signal.",
        "An overlap or a gap between the two valves.",
        "A signal just under or over its range: the positioner's manual says what it does then.",
        "3 to 15 psi is 0.207 to 1.034 bar: a psi gauge on a 0.2 to 1 bar loop reads wrong.",
    ),
    cautions=(
        "Break a loop or feed a signal only when operations agree: both valves of a split range can move.",
        "Know which way each valve fails before you disconnect a wire.",
        HANDS,
    ),
    lesson="10_stroke_and_calibration",
    verdicts=VERDICTS,
)
