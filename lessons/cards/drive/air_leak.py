"""How much air leaks: pressure that falls in a shut-in actuator."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, upto
from lessons.pictures.verdicts import BAD, GOOD, SHORT, reaches, tone_of
from lessons.safety import HANDS, STROKE
from lessons.units.readout import to_digits
from valvecalc.actuator import ATMOSPHERE

WARM = 293.15  # K
FIELDS = (
    Field("volume", "room shut in: actuator, tubing, tank", "L", 0.006, high=10.0, above=True),
    Field("p1", "pressure at the start", "bar", 2.0e5, high=16e5, above=True, pressure="gauge"),
    Field("p2", "pressure at the end", "bar", 1.8e5, high=16e5, pressure="gauge"),
    Field("time", "how long it was watched", "min", 600.0, low=1.0, high=1e6),
    Field("error", "how far one reading of the gauge can be off, ±", "bar", 0.02e5, high=5e5),
    Field("warmer", "how far its temperature may have changed, ±", "K", 1.0, high=50.0, us_unit="K"),
    Field("allowed", "leak allowed, as free air", "L/h", 10e-3 / 3600, us_unit="L/h", high=0.1, above=True),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the leak as free air, and how far it can be off."""
    if n.p2 > n.p1:
        raise BadInputError("p2", "The pressure at the end cannot be above that at the start: nothing leaks inwards.")
    free = n.volume / (ATMOSPHERE * n.time)  # m³/s of free air for each Pa of fall
    leak = (n.p1 - n.p2) * free
    gauge, heat = 2 * n.error * free, (n.p1 + ATMOSPHERE) * n.warmer / WARM * free
    error = gauge + heat
    return SimpleNamespace(
        leak=leak,
        gauge=gauge,
        heat=heat,
        error=error,
        tone=tone_of(reaches(n.allowed, leak), reaches(n.allowed, leak + error)),
    )


VERDICTS = {GOOD: "Within what is allowed", SHORT: "Not proven", BAD: "Leaks too much"}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the leak, its error and the verdict."""
    rows = (
        ("leak as free air (1.013 bar, as warm as the room)", f"{_lh(r.leak)} ± {_lh(r.error)}"),
        ("allowed", _lh(n.allowed)),
        ("error from the two readings of the gauge", _lh(r.gauge)),
        ("error from the temperature", _lh(r.heat)),
        ("next", NEXT[r.tone]),
    )
    fall = to_digits(n.p1 - n.p2, "bar", units)
    formula = (
        f"leak = room · fall / (atmosphere · time) = {to_digits(n.volume, 'L', units)} · {fall} / "
        f"({to_digits(ATMOSPHERE, 'bar', units, 4)} · {to_digits(n.time, 'min')}) = {_lh(r.leak)}",
        f"error = (2 · {to_digits(n.error, 'bar', units)} + {to_digits(n.p1 + ATMOSPHERE, 'bar', units)} · "
        f"{to_digits(n.warmer)} K / 293 K) in place of the fall: {_lh(r.error)}",
    )
    return CardAnswer(f"{VERDICTS[r.tone]}: {_lh(r.leak)} of free air", r.tone, rows, formula)


NEXT = {
    GOOD: "write down pressure and time, and compare at the next test",
    SHORT: "watch it longer, or with a finer gauge, at a steady temperature",
    BAD: "try soap water on fittings, tubing, casing rim, stem seal and vent; a torn diaphragm blows from the vent",
}


def _lh(leak: float) -> str:
    return to_digits(leak, "L/h")


def _picture() -> tuple[Any, Any]:
    """Draw the fall of the pressure, and the one that the leak allowed would make."""
    lines = {"fall": "pressure read", "limit_fall": "with the leak allowed"}
    figure, place = chart(("time", "min"), ("air pressure", "bar"), lines)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        least = n.p1 - n.allowed * n.time * ATMOSPHERE / n.volume
        ends = {"fall": [(0, n.p1), (n.time, n.p2)], "limit_fall": [(0, n.p1), (n.time, max(least, 0.0))]}
        moved: dict[str, Any] = place(((0.0, n.time), upto(n.p1)), units, ends, {})
        return moved

    return figure, move


CARD = Card(
    name="air_leak",
    title="Does the actuator or its tubing leak air?",
    group="It does not go where it should",
    symptom="The supply is shut off and the pressure falls, or it hisses. How much air leaks, and is it too much?",
    words=(
        "air leak diaphragm pressure decay hiss hisses torn tubing fitting "
        "instrument actuator casing drops falls bleed tank lock-up"
    ),
    start="an invented actuator with its tubing",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Air pressure over time as read, and as it would fall with the leak allowed.",
    source="Worked by hand: Boyle's law, free air at 1.013 bar. The limit is yours: own choice, no source.",
    changes=(
        "A stem that moved meanwhile: the room changed, and the pressure with it. Hold it, or test at a stop.",
        "Temperature: a change of 1 °C (1.8 °F) changes the absolute pressure by 0.3 %.",
        "A positioner or a booster that bleeds by design: shut in only what is to be tested.",
        "The room: measure it, or take it from the maker. Tubing of 6 mm bore holds 28 mL a metre.",
    ),
    cautions=(
        STROKE,
        HANDS,
        "When the shut-in air is gone, the valve goes to its fail position. Nobody may rely on it during the test.",
    ),
    lesson="17_air_supply_speed_and_failure",
    verdicts=VERDICTS,
)
