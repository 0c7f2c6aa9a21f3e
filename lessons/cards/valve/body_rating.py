"""May this body hold this pressure at this temperature."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.card import Card, CardAnswer, Field
from lessons.card_page.card_charts import chart, curve, upto
from lessons.pictures.verdicts import BAD, GOOD, SHORT, reaches, tone_of
from lessons.units.readout import to_digits
from valvecalc.rating import (
    CLASSES,
    COLDEST,
    TEMPERATURES,
    lightest_class,
    rated_pressure,
    shell_test_pressure,
)

GROUPS = {"carbon steel": "carbon steel (WCB, A105)", "316 stainless steel": "316 stainless steel (CF8M, F316)"}
HOTTEST = float(TEMPERATURES[-1]) + 273.15
FIELDS = (
    Field("material", "metal of the body, on its plate", default="carbon steel", choices=GROUPS),
    Field("form", "class on its plate", default="300", choices={each: f"class {each}" for each in CLASSES}),
    Field("p", "highest pressure it can see", "bar", 30e5, high=200e5, above=True, pressure="gauge"),
    Field("t", "highest temperature at that pressure", "°C", 473.15, low=COLDEST, high=HOTTEST),
    Field("dp", "how far that pressure can be off, ±", "bar", 0.5e5, high=50e5),
    Field("dt", "how far that temperature can be off, ±", "K", 5.0, high=100.0, us_unit="K"),
    Field("margin", "margin wanted below the rating", "%", 0.05, high=0.5),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the rating, and what is left of it when both readings are off the wrong way."""
    hottest = min(n.t + n.dt, HOTTEST)
    rated = float(rated_pressure(n.material, n.form, n.t))
    worst = float(rated_pressure(n.material, n.form, hottest)) * (1 - n.margin)
    known = n.t + n.dt <= HOTTEST
    return SimpleNamespace(
        rated=rated,
        worst=worst,
        lightest=lightest_class(n.material, n.p, n.t),
        test=float(shell_test_pressure(n.material, n.form)),
        tone=tone_of(reaches(rated, n.p), known and reaches(worst, n.p + n.dp)),
    )


VERDICTS = {GOOD: "Within the rating of its metal", SHORT: "Not certain", BAD: "Over its rating"}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say what the body may hold, and by how much."""
    rows = (
        ("rating of the body at this temperature", to_digits(r.rated, "bar", units)),
        ("with margin, and hotter by the error", to_digits(r.worst, "bar", units)),
        ("pressure, with its error", to_digits(n.p + n.dp, "bar", units)),
        ("lightest class that holds it, without margin", f"class {r.lightest}" if r.lightest else "none up to 600"),
        ("shell test of this body, cold water", to_digits(r.test, "bar", units)),
    )
    formula = (
        f"rating of {n.material}, class {n.form}, at {to_digits(n.t, '°C', units)}: {to_digits(r.rated, 'bar', units)}",
        f"wanted: {to_digits(n.p, 'bar', units)} + {to_digits(n.dp, 'bar', units)} ≤ rating at the higher temperature "
        f"· (1 − {to_digits(n.margin, '%')}) = {to_digits(r.worst, 'bar', units)}",
    )
    said = f"{to_digits(n.p, 'bar', units)} of {to_digits(r.rated, 'bar', units)} at {to_digits(n.t, '°C', units)}"
    return CardAnswer(f"{VERDICTS[r.tone]}: {said}", r.tone, rows, formula)


def _picture() -> tuple[Any, Any]:
    """Draw the rating over the temperature, with the pressure now."""
    figure, place = chart(("temperature", "°C"), ("pressure", "bar"), {"rating": "rating of the body"}, marks=("now",))
    kelvin = np.array([COLDEST, *(TEMPERATURES + 273.15)])

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        rated = rated_pressure(n.material, n.form, kelvin)
        spans = (COLDEST, HOTTEST), upto(float(rated.max()), n.p)
        moved: dict[str, Any] = place(spans, units, {"rating": curve(kelvin, rated)}, {"now": (n.t, n.p)})
        return moved

    return figure, move


CARD = Card(
    name="body_rating",
    title="May this body hold this pressure?",
    group="Before you choose or open one",
    symptom="The line gets hotter, or its pressure gets higher. Is the body still within its rating?",
    words="rating class 150 300 600 pressure temperature body flange nameplate hydro WCB CF8M design hot PN burst",
    start="invented",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Rating of the body over the temperature, falling, with the pressure and temperature now marked.",
    source=(
        "Ratings: ASME B16.34, standard class, groups 1.1 and 2.2, second-hand. Shell test: ASME B16.34, second-hand. "
        "The margin to start with: own choice, no source."
    ),
    changes=(
        "Between two temperatures of the table the rating is read off a straight line.",
        "Another metal, a special class or a PN body: this card does not know them.",
        "Bonnet gasket, bolts, packing, soft seat, bellows: any of them may allow less than the body.",
        "Corrosion: a wall that has become thin holds less than its plate says.",
        "Below −29 °C (−20 °F) and above 400 °C (750 °F) other rules apply.",
    ),
    cautions=(
        "The plate on the valve, the site's piping class and the code decide what a body may hold.",
        "Never raise the pressure or temperature of a line because of this card.",
    ),
    lesson="15_body_rating_ends_gaskets",
    verdicts=VERDICTS,
)
