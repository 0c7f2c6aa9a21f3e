"""Shell test and seat test after a repair."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.card_page.card import Card, CardAnswer, Field
from lessons.card_page.card_charts import bar_chart
from lessons.pictures.verdicts import BAD, GOOD, SHORT, reaches, tone_of
from lessons.safety import DECIDE, LEAK_TEST
from lessons.units.readout import counted, to_digits
from valvecalc.rating import CLASSES, shell_test_pressure

METALS = {"carbon steel": "carbon steel (WCB, A105)", "316 stainless steel": "316 stainless steel (CF8M, F316)"}
# Size up to [m] and how long the shell test takes at least [s]: ASME B16.34, from memory.
HOLD = ((0.050, 15.0), (0.200, 60.0), (0.300, 120.0), (1.5, 180.0))
SEEN = {"dry": "no drop, no wet place", "wet": "a drop or a wet place", "packing": "the packing weeps, all else is dry"}
FIELDS = (
    Field("material", "metal of the body", default="carbon steel", choices=METALS),
    Field("form", "class", default="300", choices={each: f"class {each}" for each in CLASSES}),
    Field("size", "size of the valve (DN)", "mm", 0.080, low=0.010, high=1.5),
    Field("p", "pressure on the gauge during the test", "bar", 78e5, high=400e5, pressure="gauge"),
    Field("error", "how far that gauge can be off, ±", "bar", 0.5e5, high=20e5, above=True),
    Field("time", "how long it was held", "min", 120.0, high=36000.0),
    Field("seen", "what was seen", default="dry", choices=SEEN),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the pressure and the time it takes, and whether it was reached for certain."""
    wanted = float(shell_test_pressure(n.material, n.form))
    hold = next(seconds for size, seconds in HOLD if n.size <= size * (1 + 1e-9))
    held = reaches(n.p, wanted) and reaches(n.time, hold)
    over = n.p + n.error > wanted * MOST
    certain = reaches(n.p - n.error, wanted) and n.seen == "dry" and not over
    return SimpleNamespace(wanted=wanted, hold=hold, over=over, tone=tone_of(held and n.seen != "wet", certain))


MOST = 1.1  # of the test pressure, for a gauge and a hand on a pump: own choice, no source
VERDICTS = {GOOD: "Passed", SHORT: "Not proven", BAD: "Not passed"}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say whether the shell test counts."""
    wanted = to_digits(r.wanted, "bar", units)
    rows = (
        ("shell, with water, valve part open: at least", wanted),
        ("shell: hold it for at least", _time(r.hold)),
        ("surely reached", to_digits(max(n.p - n.error, 0.0), "bar", units)),
        ("so", _so(n, r)),
        ("then the seat", "by its leakage class, with a card of its own, after the shell is sound"),
    )
    formula = (
        f"1.5 · rating at 38 °C (100 °F), rounded up to a whole bar: {wanted}",
        f"surely reached = {to_digits(n.p, 'bar', units)} − {to_digits(n.error, 'bar', units)} = "
        f"{to_digits(n.p - n.error, 'bar', units)}",
    )
    said = f"{to_digits(n.p, 'bar', units)} for {_time(n.time)}, {SEEN[n.seen]}"
    return CardAnswer(f"{VERDICTS[r.tone]}: {said}", r.tone, rows, formula)


def _time(seconds: float) -> str:
    return counted(round(seconds, 1), "second") if seconds < 60 else f"{to_digits(seconds, 'min')}"


def _so(n: SimpleNamespace, r: SimpleNamespace) -> str:
    if n.seen == "wet":
        return "let the pressure off, prove it gone, find the place; test again after the repair"
    if r.tone == BAD:
        return "it was too low or too short: this test says nothing"
    if r.over:
        return "far above the test pressure: stop, and ask whether body and bolts were strained"
    if n.seen == "packing":
        return "packing may be allowed to weep in this test: the site's procedure says so or not"
    return (
        "the shell is sound at this pressure" if r.tone == GOOD else "the gauge is too coarse, or the pressure too low"
    )


def _picture() -> tuple[Any, Any]:
    """Draw the pressure read and the one surely reached, with the one wanted across."""
    figure, place = bar_chart(2, "pressure", "bar", limit=True)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        rows = (("on the gauge", n.p), ("surely reached", max(n.p - n.error, 0.0)))
        bars = [(words, value, to_digits(value, "bar", units)) for words, value in rows]
        moved: dict[str, Any] = place(units, bars, r.wanted, f"wanted {to_digits(r.wanted, 'bar', units)}")
        return moved

    return figure, move


CARD = Card(
    name="shell_pressure",
    title="Shell test after a repair",
    group="It leaks through",
    symptom="The body was opened or welded. At what pressure and for how long is it tested, and did it pass?",
    words="hydro hydrotest shell test body seat test pressure test after repair water hold time bench rig bonnet weeps",
    start="an invented body after a repair",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Bars of the pressure on the gauge and of the one surely reached, with the test pressure across.",
    source=(
        "Test pressure of 1.5 times the rating at 38 °C: ASME B16.34, second-hand; rounding and times: ASME B16.34, "
        "from memory. At most a tenth above it: own choice, no source."
    ),
    changes=(
        "The code the site works to: some repairs need another pressure or time, or an inspector beside the rig.",
        "Another metal or class: this card knows two metals and classes 150 to 600.",
        "A soft seat, a bellows, a gauge line: they may have to come off before the shell test.",
        "The seat is tested with its own, lower pressure: never put the shell pressure on a shut plug.",
    ),
    cautions=(
        LEAK_TEST,
        "Water only, and all air out first: compressed air breaks out like a shot.",
        f"A weld on a pressure part is for licensed practice. {DECIDE}",
    ),
    lesson="15_body_rating_ends_gaskets",
    verdicts=VERDICTS,
)
