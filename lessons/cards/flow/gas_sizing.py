"""Flow coefficient for a gas or steam."""

from __future__ import annotations

from collections.abc import Callable
from types import SimpleNamespace
from typing import Any

import numpy as np

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field, absolute_pressures
from lessons.card_page.card_charts import chart, curve, upto
from lessons.pictures.verdicts import BAD, GOOD, SHORT, reaches, tone_of
from lessons.safety import LOUD, STEAM
from lessons.units.readout import to_digits
from valvecalc.actuator import ATMOSPHERE
from valvecalc.gas import choked_ratio, gas_density, gas_flow, gas_kv, standard_flow
from valvecalc.steam import HIGHEST_PRESSURE, LOWEST_PRESSURE, saturation_temperature, steam_density

# Molar mass [kg/mol] and ratio of specific heats near room temperature, from memory.
GASES = {
    "air": ("air", 0.02897, 1.40),
    "nitrogen": ("nitrogen", 0.02801, 1.40),
    "methane": ("methane (natural gas is near it)", 0.01604, 1.31),
    "hydrogen": ("hydrogen", 0.002016, 1.41),
    "carbon dioxide": ("carbon dioxide", 0.04401, 1.29),
    "steam": ("steam, dry and saturated", 0.01802, 1.30),
}
LOADED = 0.8  # of the rated coefficient used at most: own choice, no source
AT_60_F = 1.05695  # 288.706 K / 273.15 K: a gas at 60 °F over the same at 0 °C, both at 1.013 bar


def _from_volume(warmer: float) -> Callable[[float, SimpleNamespace], float]:
    """Return what turns a flow by volume into one by mass; `warmer`: its volume over that at 0 °C."""
    return lambda volume, before: volume / warmer / float(standard_flow(1.0, GASES[before.gas][1]))


BY_VOLUME = {  # m³ and litres of 0 °C, cubic feet of 60 °F, as the trade counts gas
    **dict.fromkeys(("m³/h", "m³/min", "L/min", "L/h", "L/s"), _from_volume(1.0)),
    **dict.fromkeys(("ft³/h", "ft³/min"), _from_volume(AT_60_F)),
}
FIELDS = (
    Field("gas", "gas", default="air", choices={name: words for name, (words, *_) in GASES.items()}),
    Field("flow", "largest flow", "kg/h", 1000 / 3600, high=1e4, above=True, also=BY_VOLUME),
    Field("p1", "pressure before the valve", "bar", 6e5, high=100e5, above=True, pressure="gauge"),
    Field("p2", "pressure after the valve", "bar", 4e5, low=-ATMOSPHERE, high=100e5, above=True, pressure="gauge"),
    Field("t", "temperature before it (not used for steam)", "°C", 293.15, low=200.0, high=700.0),
    Field("xt", "choking ratio xT of the valve, at this travel", "", 0.72, low=0.1, high=0.84),
    Field("kv", "rated flow coefficient of the valve", "Kv", 16.0, high=2e4, above=True),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return the coefficient it takes, and how near to choking it works."""
    p1, p2 = absolute_pressures(n.p1, n.p2)
    _, molar, gamma = GASES[n.gas]
    rho = inlet_density(n.gas, p1, n.t, molar)
    kv = float(gas_kv(n.flow, p1, p2, rho=rho, gamma=gamma, xt=n.xt))
    x, chokes = (p1 - p2) / p1, float(choked_ratio(gamma, n.xt))
    return SimpleNamespace(
        p1=p1,
        p2=p2,
        rho=rho,
        gamma=gamma,
        kv=kv,
        x=x,
        chokes=chokes,
        choked=x >= chokes,
        normal=float(standard_flow(n.flow, molar)),
        boils=float(saturation_temperature(p1)) if n.gas == "steam" else None,
        tone=tone_of(reaches(n.kv, kv), reaches(LOADED * n.kv, kv)),
    )


def inlet_density(gas: str, p1: float, t: float, molar: float, name: str = "p1") -> float:
    """Return the density before the valve, of steam saturated; `name` is the field of the pressure."""
    if gas != "steam":
        return float(gas_density(p1, t, molar))
    if not LOWEST_PRESSURE <= p1 <= HIGHEST_PRESSURE:
        raise BadInputError(name, "For steam this card takes 0.007 to 98.9 bar (0.1 to 1435 psi), gauge.")
    return float(steam_density(p1))


VERDICTS = {GOOD: "Large enough", SHORT: "Little to spare", BAD: "Too small"}


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the coefficient it takes, of the one it has."""
    needs, has = to_digits(r.kv, "Kv", units), to_digits(n.kv, "Kv", units)
    choked = "choked: a lower pressure behind it brings no more flow" if r.choked else "not choked"
    rows = [
        ("share of its rated coefficient", f"{to_digits(r.kv / n.kv, '%')}; wanted {to_digits(LOADED, '%')} at most"),
        ("x = Δp/P1 now / where it chokes", f"{to_digits(r.x)} / {to_digits(r.chokes)}; {choked}"),
        ("density before the valve", to_digits(r.rho, "kg/m³", units)),
    ]
    if r.boils is not None:
        rows.append(("temperature of this steam", to_digits(r.boils, "°C", units)))
    else:
        in_feet = to_digits(r.normal * AT_60_F, "ft³/h")
        rows.append(("the flow as volume", f"{to_digits(r.normal, 'm³/h')} at 0 °C; {in_feet} at 60 °F; 1.013 bar"))
    headline = f"{VERDICTS[r.tone]}: it takes {needs}, the valve has {has}"
    return CardAnswer(headline, r.tone, tuple(rows), _formula(n, r, units))


def _formula(n: SimpleNamespace, r: SimpleNamespace, units: str) -> tuple[str, ...]:
    used = min(r.x, r.chokes)
    y = 1 - used / (3 * r.chokes)
    return (
        f"chokes at x = γ/1.40 · xT = {r.gamma:g}/1.40 · {to_digits(n.xt)} = {to_digits(r.chokes)}; "
        f"Y = 1 − x / (3 · {to_digits(r.chokes)}) = {to_digits(y)}",
        f"Kv = W / (31.6 · Y · √(x · P1 · ρ1)) = {to_digits(n.flow, 'kg/h')} / (31.6 · {to_digits(y)} · "
        f"√({to_digits(used)} · {to_digits(r.p1, 'bar', digits=4)} · {to_digits(r.rho, 'kg/m³')})) = "
        f"{to_digits(r.kv, 'Kv')}{' = ' + to_digits(r.kv, 'Kv', units) if units == 'us' else ''}",
    )


def _picture() -> tuple[Any, Any]:
    """Draw what the valve would pass wide open over the drop, with the flow now."""
    figure, place = chart(("pressure drop", "bar"), ("flow", "kg/h"), {"open": "valve wide open"}, marks=("now",))
    shares = np.linspace(0.001, 0.999, 40)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        drops = shares * (r.p1 - min(r.p2, 0.9 * ATMOSPHERE) * 0.9)
        drops = np.clip(drops, 0, 0.999 * r.p1)
        flow = gas_flow(n.kv, r.p1, r.p1 - drops, rho=r.rho, gamma=r.gamma, xt=n.xt)
        spans = upto(float(drops[-1])), upto(float(flow.max()), n.flow)
        moved: dict[str, Any] = place(spans, units, {"open": curve(drops, flow)}, {"now": (r.p1 - r.p2, n.flow)})
        return moved

    return figure, move


CARD = Card(
    name="gas_sizing",
    title="Is the valve large enough for this gas or steam?",
    group="Too much or too little flow",
    symptom="A gas or steam valve passes too little, or has to be replaced. What coefficient does the flow take?",
    words=(
        "gas steam air nitrogen size sizing Kv Cv xT choked "
        "compressible kg/h lb/h scfh capacity undersized oversized vapour"
    ),
    start="invented",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Flow of the open valve over the pressure drop, which stays level where it chokes, with the flow now marked.",
    source=(
        "Coefficient: IEC 60534-2-1:2011. Steam: IAPWS SR1-86(1992). Molar masses and γ: from memory. At most 80 % of "
        "rated: own choice, no source."
    ),
    changes=(
        "Wet or superheated steam, a gas at high pressure or in a mixture: its own density and γ count.",
        "Reducers beside the valve: xT becomes xTP, and the capacity falls.",
        "xT changes with travel: take it where the valve works.",
        "Flow by volume: m³/h (0 °C) and scfh (60 °F), both at 1.013 bar, are taken too; type the unit.",
        "Speed in the outlet and noise: this card does not look at them.",
    ),
    cautions=(LOUD, STEAM, "This is only a first choice. Rating, material and the relief of what lies behind decide."),
    lesson="19_gas_steam_noise",
    verdicts=VERDICTS,
)
