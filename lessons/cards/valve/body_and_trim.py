"""Job card: Which body and trim for this service."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

from lessons.card_page.card import BadInputError, Card, CardAnswer, Field, absolute_pressures
from lessons.card_page.card_charts import bar_chart
from lessons.pictures.verdicts import BAD, PLAIN, WORDS
from lessons.refinery import VALVES, line_of, pressures_at
from lessons.units.quantities import Q, to_base
from lessons.units.readout import to_digits
from valvecalc.actuator import ATMOSPHERE
from valvecalc.body_styles import BODY_STYLES, typical_kv
from valvecalc.installed import straightest
from valvecalc.liquid import choked_drop, liquid_kv
from valvecalc.plug_forces import circle_area
from valvecalc.water import CRITICAL_TEMPERATURE, FREEZING, vapour_pressure, water_density

VALVE = VALVES["TV-3301"]
SHARE = 0.9  # of the full flow of its line
FLOW = SHARE * to_base(line_of(VALVE.tag).full_flow)
BEFORE, AFTER = pressures_at("TV-3301", SHARE)
WATER_PC = 22064e3
PTFE_TO = 273.15 + 200
LOADED = 0.8  # of the rated coefficient used at most: own choice, no source
SIZES = tuple(mm / 1000 for mm in (15, 20, 25, 40, 50, 80, 100, 150, 200, 250, 300, 400, 500, 600))
REDUCED = 0.3  # of the rated coefficient: below it a reduced trim is worth asking for. Own choice, no source
LEAST_USED = 0.04  # of the rated coefficient: two times what a trim of 50 to 1 can hold at all. Own choice, no source
NEAR = 0.8  # of the choked drop used at most: nearer to it a valve cavitates. Own choice, no source
LEAST_OF_LINE = 0.5  # of the line's size: a smaller body wants a stress check. Own choice, no source
# Cheapest first (common practice, no source): name on the card, style, smallest size made [m], what it takes.
STYLES = (
    ("butterfly", "butterfly, centred disc, 70°", 0.050, ("clean",)),
    ("segmented ball", "segmented ball", 0.025, ("clean", "solids", "grit")),
    ("eccentric plug", "eccentric spherical plug, flow to open", 0.025, ("clean", "solids", "grit")),
    ("globe, contoured plug", "globe, contoured plug, flow to open", 0.015, ("clean",)),
)
SOLIDS = {"clean": "clean liquid", "solids": "with soft solids or fibres", "grit": "with grit: sand, scale, catalyst"}
SPEEDS = {"clean": 8.0, "solids": 5.0, "grit": 3.0}  # m/s in the outlet at most: own choice, no source
FIELDS = (
    Field("solids", "the liquid, like water", default="clean", choices=SOLIDS),
    Field("flow", "largest flow", "m³/h", FLOW, high=10.0, above=True),
    Field(
        "p1",
        "pressure before the valve, at that flow",
        "bar",
        to_base(Q(round(BEFORE, 1), "bar")),
        high=400e5,
        above=True,
        pressure="gauge",
    ),
    Field(
        "p2",
        "pressure after the valve, at that flow",
        "bar",
        to_base(Q(round(AFTER, 1), "bar")),
        low=-ATMOSPHERE,
        high=400e5,
        above=True,
        pressure="gauge",
    ),
    Field("t", "temperature", "°C", 273.15 + 25, low=FREEZING, high=CRITICAL_TEMPERATURE),
    Field("pipe", "line size, inside diameter", "mm", to_base(VALVE.pipe), low=0.01, high=1.0),
    Field("share", "drop across the open valve over drop across it shut", "%", 0.15, low=0.01, high=1.0),
)


def _compute(n: SimpleNamespace) -> SimpleNamespace:
    """Return coefficient, size and choked drop of each style, the style to take, and the characteristic."""
    p1, p2 = absolute_pressures(n.p1, n.p2)
    pv = float(vapour_pressure(n.t))
    if pv >= p1:
        raise BadInputError("t", "At this temperature and pressure it boils before it reaches the valve.")
    styles = [_style(n, p1, p2, pv, *style) for style in STYLES]
    chosen = next((style for style in styles if style.fits), None)
    return SimpleNamespace(
        styles=styles,
        chosen=chosen,
        pv=pv,
        p1=p1,
        p2=p2,
        dp=p1 - p2,
        flashing=p2 < pv,
        characteristic=str(straightest(n.share, 50.0)),
    )


def _style(
    n: SimpleNamespace, p1: float, p2: float, pv: float, name: str, style: str, least: float, takes: tuple[str, ...]
) -> SimpleNamespace:
    fl = BODY_STYLES[style].fl
    kv = float(liquid_kv(n.flow, p1, p2, rho=float(water_density(n.t)), pv=pv, pc=WATER_PC, fl=fl))
    size = _size_for(n, style, least, kv)
    chokes = float(choked_drop(p1, pv, WATER_PC, fl))
    used = (p1 - p2) / chokes
    trouble = (
        "flashes: the outlet is below vapour pressure"
        if p2 < pv
        else "chokes at this drop"
        if used >= 1
        else f"{to_digits(used, '%', digits=2)} of the drop that chokes: it cavitates"
        if used > NEAR
        else "solids jam or cut it"
        if n.solids not in takes
        else "no size that the line takes is large enough"
        if size is None
        else "the smallest the line takes is far too large: it would work at its seat"
        if kv < LEAST_USED * float(typical_kv(style, size))
        else ""
    )
    found = SimpleNamespace(name=name, kv=kv, size=size, chokes=chokes, used=used, fl=fl, trouble=trouble)
    found.fits = not trouble
    found.speed = None if size is None else _speed(n.flow, size)
    found.share = None if size is None else kv / float(typical_kv(style, size))
    return found


def _size_for(n: SimpleNamespace, style: str, least: float, kv: float) -> float | None:
    """Return the smallest size with capacity enough, slow enough in its outlet, and neither too small for the line."""
    enough = (
        d
        for d in SIZES
        if d >= max(least, LEAST_OF_LINE * n.pipe * 0.99)
        and d <= n.pipe * 1.1  # nominal against inside diameter
        and float(typical_kv(style, d)) * LOADED >= kv
        and _speed(n.flow, d) <= SPEEDS[n.solids]
    )
    return next(enough, None)


def _speed(flow: float, d: float) -> float:
    return float(flow / circle_area(d))


def _answer(n: SimpleNamespace, r: SimpleNamespace, units: str) -> CardAnswer:
    """Say the first style that does not choke, its size and its trim."""
    rows = [
        (style.name, style.trouble or f"{_size(style, units)}, needs {to_digits(style.kv, 'Kv', units)}")
        for style in r.styles
    ]
    hot = "PTFE" if n.t < PTFE_TO else "graphite"
    rows += _limits(n, r, units)
    rows += [
        ("characteristic that comes out straightest", r.characteristic),
        ("packing at this temperature", hot),
    ]
    if r.flashing:
        rows.insert(0, ("it flashes", "hard trim, angle body, wide outlet: ask the maker"))
    if r.chosen is None:
        headline = f"{WORDS[BAD]}: every style has trouble"
        return CardAnswer(headline, BAD, tuple(rows), _formula(n, r, r.styles[-1], units))
    if n.solids == "grit":
        rows.append(("grit", "hard trim and seat, flow so that it leaves the seat behind it; look at it often"))
    rows.append(("cavitation", "can begin well below the choked drop: ask the maker for xFz"))
    headline = f"{r.chosen.name.capitalize()}, {_size(r.chosen, units)}, {r.characteristic}"
    return CardAnswer(headline, PLAIN, tuple(rows), _formula(n, r, r.chosen, units))


def _limits(n: SimpleNamespace, r: SimpleNamespace, units: str) -> list[tuple[str, str]]:
    """Say the speeds, and how much of the rated coefficient is used."""
    limit = to_digits(SPEEDS[n.solids], "m/s", units)
    line = to_digits(_speed(n.flow, n.pipe), "m/s", units)
    if r.chosen is None:
        return [("speed in the line / at most here", f"{line} / {limit}")]
    share = to_digits(r.chosen.share, "%", digits=2) + (
        ", little: ask for a reduced trim" if r.chosen.share < REDUCED else ""
    )
    return [
        ("speed in the outlet / at most here", f"{to_digits(r.chosen.speed, 'm/s', units)} / {limit}; line {line}"),
        (
            "drop now, of the one that chokes",
            f"{to_digits(r.chosen.used, '%', digits=2)}; {to_digits(NEAR, '%')} at most here",
        ),
        ("of its rated coefficient it uses", share),
    ]


def _size(style: SimpleNamespace, units: str) -> str:
    inches = {15: "½", 20: "¾", 25: "1", 40: "1½", 50: "2", 80: "3", 100: "4", 150: "6", 200: "8", 250: "10",
              300: "12", 400: "16", 500: "20", 600: "24"}  # fmt: skip
    return f"NPS {inches[round(style.size * 1000)]}" if units == "us" else f"DN {style.size * 1000:.0f}"


def _formula(n: SimpleNamespace, r: SimpleNamespace, style: SimpleNamespace, units: str) -> tuple[str, ...]:
    unit = "Cv" if units == "us" else "Kv"
    return (
        f"{style.name}: {unit} = flow / √(Δp / relative density) = {to_digits(n.flow, 'm³/h', units)} / "
        f"√({to_digits(min(r.dp, style.chokes), 'bar', units)} "
        f"/ {water_density(n.t) / 999.1:.3f}) = {to_digits(style.kv, 'Kv', units).split()[1]}; rated at "
        f"least 1/0.8 of it",
        f"chokes at FL² · (P1 − FF · Pv), FL = {style.fl:g}: {to_digits(style.chokes, 'bar', units)}; drop "
        f"now {to_digits(r.dp, 'bar', units)}",
    )


def _picture() -> tuple[Any, Any]:
    """Draw the drop at which each style chokes, and the drop now."""
    figure, place = bar_chart(len(STYLES), "pressure drop at which it chokes", "bar", limit=True)

    def move(n: SimpleNamespace, r: SimpleNamespace, units: str) -> dict[str, Any]:
        chosen = r.chosen.name if r.chosen else ""
        marks = ["► " if s.name == chosen else "" for s in r.styles]
        rows = [
            (mark + s.name, s.chokes, to_digits(s.chokes, "bar", units))
            for mark, s in zip(marks, r.styles, strict=True)
        ]
        moved: dict[str, Any] = place(units, rows, r.dp, f"drop now {to_digits(r.dp, 'bar', units)}")
        return moved

    return figure, move


CARD = Card(
    name="body_and_trim",
    title="Which body and trim for this service?",
    group="Before you choose or open one",
    symptom="A valve has to be chosen or replaced. Which body, which size, which characteristic?",
    words=(
        "choose select body trim butterfly ball globe eccentric size sizing characteristic replace new valve "
        "service slurry solids wrong undersized oversized pick type kind grit sand mud"
    ),
    start=f"TV-3301, {VALVE.service}, at {to_digits(SHARE, '%')} of the flow wide open",
    fields=FIELDS,
    compute=_compute,
    answer=_answer,
    picture=_picture,
    alt="Bars of the pressure drop at which four body styles choke, with the drop now across them.",
    source=(
        "Coefficient and choking: IEC 60534-2-1:2011 with its typical FL. Capacity by size: "
        "ISA-S75.01-1985, from memory. At most 80 % of rated and of the choked drop, outlet speeds of 8, 5 and 3 m/s "
        "(26, 16, 10 ft/s), half the line size and 4 % of rated at least: own choice, no source. Order by cost, "
        "least sizes, solids: common practice, no source. Characteristic: computed here, R = 50."
    ),
    changes=(
        "The maker's own FL and Kv: these are typical ones.",
        "Shut-off class, noise, temperature swings, corrosion, face-to-face length: this card does not ask for them.",
        "The smallest flow: check that the valve does not work close to its seat then.",
        "Another liquid, a gas or steam: this card is for liquids like water.",
    ),
    cautions=(
        "A first choice to talk about, not a specification: rating, material and code are for licensed "
        "practice to settle.",
        "Never put a valve of another rating or material in a line because its size fits.",
    ),
    lesson="02_bodies",
)
