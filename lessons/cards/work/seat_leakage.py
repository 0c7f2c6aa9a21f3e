"""Job card: Is this leakage acceptable."""

from __future__ import annotations

import math
from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import bar_chart
from lessons.pictures.verdicts import BAD, GOOD, SHORT, reaches, tone_of
from lessons.refinery import VALVES, drive_of, line_of
from lessons.safety import ENTRY, LEAK_TEST
from lessons.units.quantities import shown_unit, to_base
from lessons.units.readout import to_digits
from valvecalc.seat_leakage import (
    BUBBLE,
    LEAKAGE_TESTS,
    air_test_capacity,
    allowed_leakage,
    bubbles_per_min,
    leak_verdict,
    water_test_capacity,
)
from valvecalc.units import BAR, PSI

VALVE = VALVES["FV-1204"]
DRIVE, LINE = drive_of(VALVE.tag), line_of(VALVE.tag)
XT = VALVE.xt  # flow to close: the lower one of contoured globes (IEC 60534-2-1:2011, table D.2), the stricter limit
# Name -> class, medium, words.
TESTS = {
    "II water": "class II, tested with water",
    "III water": "class III, tested with water",
    "IV water": "class IV, tested with water",
    "II air": "class II, tested with air",
    "III air": "class III, tested with air",
    "IV air": "class IV, tested with air",
    "V water": "class V, tested with water",
    "VI air": "class VI (soft seat), tested with air",
}
VERDICTS = {GOOD: "Within its class", SHORT: "Not proven within its class", BAD: "Not within its class"}
DROP = 0.05e-6  # m³ of water: 20 drops to a mL, from memory; a tip of its own makes its own drops


def _counted(size: float, medium: str, things: str) -> Callable[[float, SimpleNamespace], float]:
    """Return what turns a count a second into a leak, if the test is with what can be counted so."""

    def leak(rate: float, before: SimpleNamespace) -> float:
        if not getattr(before, "test", medium).endswith(medium):
            raise BadInputError("leak", f"{things} are counted in a test with {medium}; this one is none.")
        return rate * size

    return leak


COUNTED = {
    "bubbles/min": _counted(BUBBLE, "air", "Bubbles"),
    "drops/min": _counted(DROP, "water", "Drops"),
}
_LEAK: dict[str, Any] = {"unit": "mL/min", "us_unit": "mL/min", "high": 0.1, "also": COUNTED}
FIELDS = (
    Field("test", "class the valve has to meet", default="IV water", choices=TESTS),
    Field("leak", "leak you measured (also bubbles or drops a minute)", default=40e-6 / 60, **_LEAK),
    Field("error", "how far that reading can be off, ±", default=4e-6 / 60, above=True, **_LEAK),
    Field("dp", "pressure drop at the test", "bar", 3.5 * BAR, high=400 * BAR, above=True),
    Field(
        "service",
        "largest drop in service, shut",
        "bar",
        to_base(LINE.pump_shutoff) - to_base(LINE.static),
        high=400 * BAR,
        above=True,
    ),
    Field("port", "seat (port) diameter", "mm", to_base(DRIVE.port), high=0.402, above=True),
    Field("kv", "rated flow coefficient", "Kv", to_base(VALVE.rated_kv), high=2e4, above=True),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the limit, what it is a share of, margin and verdict."""
    form, medium = n.test.split()
    if form == "V" and n.dp < 100 * PSI:
        raise BadInputError("dp", "Class V is tested at the full service drop, at least 100 psi (6.9 bar).")
    if form == "VI" and n.dp > 3.5 * BAR:
        raise BadInputError("dp", "Class VI is tested at 3.5 bar (50 psi), or the service drop if that is less.")
    capacity = float(water_test_capacity(n.kv, n.dp) if medium == "water" else air_test_capacity(n.kv, n.dp, XT))
    allowed = float(allowed_leakage(form, dp=n.dp, port=n.port, capacity=capacity))
    passes = str(leak_verdict(n.leak, allowed)) == "pass"
    doubt = _doubt(form, n.dp, n.service)
    certain = reaches(allowed, n.leak + n.error) and not doubt
    return SimpleNamespace(
        form=form,
        medium=medium,
        capacity=capacity,
        allowed=allowed,
        doubt=doubt,
        tone=tone_of(passes, certain),
        bubbles=float(bubbles_per_min(allowed)),
    )


def _doubt(form: str, dp: float, service: float) -> str:
    """Say why a leak measured at this drop is no test of its class: "" where it is one."""
    test = LEAKAGE_TESTS[form]
    if form == "V":
        return "" if reaches(dp, service) else "class V is tested at the full drop in service, and this was less"
    if not reaches(min(test.highest, service), dp):
        return "this drop is above the one of the test: the class says nothing about it"
    if not reaches(dp, min(test.lowest, service)):
        return "this drop is below the one of the test: the class says nothing about it"
    return ""


STATES = {
    True: "as it is collected: at 1.013 bar (14.7 psi) and the temperature of the room",
    False: "at 0 °C and 1.013 bar (32 °F, 14.7 psi); collected at 20 °C (68 °F) the same gas fills 7 % more",
}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say whether it passes, and by how much."""
    measured = f"{_ml(n.leak)} measured, ±{_ml(n.error)}; class {r.form} allows {_ml(r.allowed)}"
    used, error = to_digits(n.leak / r.allowed, "%"), to_digits(n.error / r.allowed, "%")
    rows = [("share of the limit used", f"{used}, ±{error}")]
    if r.doubt:
        rows.insert(0, ("not certain", r.doubt))
    elif r.tone == SHORT:
        rows.insert(0, ("not certain", "the limit lies within the error of the reading: measure more closely"))
    if LEAKAGE_TESTS[r.form].needs == ("capacity",):
        rows.append((f"rated flow of {r.medium} at the test drop", to_digits(r.capacity, "m³/h", units)))
    if r.form == "VI":
        rows.append(("limit in bubbles at the test tube", f"{r.bubbles:.1f} a minute"))
    if r.medium == "air":
        rows.append(("a volume of gas counts", STATES[r.form == "VI"]))
    rows.append(("drop of the test", _drops(r.form, units)))
    return CardAnswer(f"{VERDICTS[r.tone]}: {measured}", r.tone, tuple(rows), _formula(n, r, units))


def _drops(form: str, units: str) -> str:
    low, high = LEAKAGE_TESTS[form].lowest, LEAKAGE_TESTS[form].highest
    least = to_digits(low, "bar", units)
    if form == "V":
        return f"the full drop in service, at least {least}"
    return f"{least} to {to_digits(high, 'bar', units)}, or the drop in service if that is less"


def _formula(n: SimpleNamespace, r: SimpleNamespace, units: str) -> tuple[str, ...]:
    dp, port = to_digits(n.dp, "bar", units), to_digits(n.port, "mm", units)
    if r.form == "V":
        return (
            f"limit = 1.8e-7 L/h · Δp [kPa] · D [mm] = 1.8e-7 · {n.dp / 1e3:.4g} · {n.port * 1e3:.4g} "
            f"L/h = {_ml(r.allowed)}",
        )
    if r.form == "VI":
        return (
            f"limit = 0.3 · Δp [bar] · table value for D = {port}",
            f"= 0.3 · {n.dp / BAR:.3g} · {r.allowed * 6e7 / (0.3 * n.dp / BAR):.3g} mL/min = {_ml(r.allowed)}",
        )
    share = LEAKAGE_TESTS[r.form].factor
    flow = to_digits(r.capacity, "m³/h", units, 4)
    water = f"flow of water = {shown_unit('Kv', units)} · √(Δp in {shown_unit('bar', units)})"
    how = water if r.medium == "water" else "flow of air by IEC 60534-2-1, outlet open to air"
    return (f"{how}, at {dp}: {flow}", f"limit = {share:g} · {flow} = {_ml(r.allowed)}")


def _ml(leak: float) -> str:
    return to_digits(leak * 6e7) + " mL/min"


def _picture() -> tuple[Any, Any]:
    """Draw the limit of each class at this drop, on a scale of tens, and the measured leak across."""
    names = ("II", "III", "IV", "V", "VI")
    figure, place = bar_chart(len(names), "leak [mL/min], scale in powers of ten", "", limit=True)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        rows = []
        for name in names:
            limit = r.allowed if name == r.form else _other(name, n, r)
            here = " ◄" if name == r.form else ""
            rows.append((f"class {name}{here}", _tens(limit), _ml(limit) if limit else "needs 7 bar (100 psi)"))
        moved: dict[str, Any] = place(units, rows, _tens(n.leak), f"measured {_ml(n.leak)}")
        ticks = {f"x_tick_{k}": (_ten(words[0]), words[1]) for k in range(8) if (words := moved[f"x_tick_{k}"])[0]}
        return moved | ticks

    return figure, move


def _other(form: str, n: SimpleNamespace, r: SimpleNamespace) -> float:
    dp = min(n.dp, 3.5 * BAR) if form == "VI" else n.dp
    if form == "V" and dp < 100 * PSI:
        return 0.0
    return float(allowed_leakage(form, dp=dp, port=n.port, capacity=r.capacity))


def _tens(leak: float) -> float:
    """Return tens above 0.001 mL/min."""
    return max(math.log10(max(leak * 6e7, 1e-3)) + 3, 0.0)


_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")


def _ten(tick: str) -> str:
    tens = float(tick) - 3
    if tens != int(tens):
        return ""
    return f"{10**tens:g}" if tens < 5 else f"10{f'{tens:.0f}'.translate(_RAISED)}"


CARD = Card(
    name="seat_leakage",
    title="Is this leakage acceptable?",
    group="It leaks through",
    symptom="It drips or passes gas although it is shut. Is that within its class?",
    words=(
        "leak leakage seat class tight shut bubble drip passing soft metal FCI test rig leaks leaking by wont hold "
        "drips dripping bubbles weeps through blow"
    ),
    start="FV-1204, wash water to the desalter",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt=(
        "Bars of the leak that classes II to VI allow at this test, on a scale of tens, with the measured leak across."
    ),
    source=(
        "Classes II to IV and VI: FCI 70-2 and GB/T 4213-92, class V: GB/T 4213-92, all second-hand: "
        "check against the standard your site names. Rated flow: IEC 60534-2-1:2011. Class VI in the form "
        "0.3 · Δp · table value: GB/T 4213-92, second-hand. A bubble of 0.15 mL: GB/T 4213-92, "
        "second-hand. 20 drops to a mL: from memory."
    ),
    changes=(
        "The class on the data sheet, and the medium and drop it is tested with.",
        "Classes II to IV go with the rated flow coefficient, classes V and VI with the seat diameter.",
        f"Air: the rated flow is taken with xT {XT:g}, as of a globe with flow to close; a higher xT: a higher limit.",
        "The closing force of the test: full normal thrust and no more.",
        "A leak at other conditions than the test's, 10 to 52 °C (50 to 125 °F) among them: the class does not "
        "predict it.",
    ),
    cautions=(
        LEAK_TEST,
        "Never feel for a leak with your hand.",
        ENTRY,
    ),
    lesson="11_seat_leakage",
    verdicts=VERDICTS,
)
