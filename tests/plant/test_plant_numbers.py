"""No question holds a number that cannot be, or one that its valve of the refinery contradicts: every variant is walked.

Each rule is physics or the refinery's own data. The table of old variants at the end shows that each rule can fail.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from types import SimpleNamespace
from typing import Any

import pytest

from lessons.notebook import bank
from lessons.questions.question import pose_variant
from lessons.refinery import VALVES
from lessons.refinery.kinds import Liquid, Valve
from lessons.units.quantities import Q, to_base
from tests.plant.reader_text import reader_text
from valvecalc.body_styles import BODY_STYLES
from valvecalc.water import vapour_pressure

AIR = 101325.0
TAG = re.compile(r"\b[FLPTX]V-\d{4}\b")
QUESTIONS = {**bank.practice_questions(), **bank.graded_questions()}
TOPICS = sorted({name.partition(".")[0] for name in QUESTIONS})
# Pairs of names, the first of which is the larger: before and after, hot and cold, and so on.
DESCENDING = (
    ("p1", "p2"),
    ("g1", "g2"),
    ("before", "after"),
    ("hot", "t"),
    ("t", "cold"),
    ("high", "low"),
    ("to", "at"),
    ("supply", "p"),
    ("high", "found"),
    ("pump", "static"),
    ("box", "stem"),
    ("t2", "t"),
    ("t", "t1"),
    ("cooler", "hotter"),
)
# Every name that stands for a pressure, so that a new one has to be thought about.
PRESSURES = {
    "p", "p0", "p1", "p2", "pv", "dp", "dp1", "dp2", "limit", "valve", "pipe", "total", "pump", "static", "low", "high",
    "supply", "stress", "found", "at", "to", "g1", "g2", "air", "bottom", "top", "before", "after", "air_a", "air_b",
    "air_c", "sent", "arrived", "tank", "cooler", "hotter",
}  # fmt: skip
RANGES = {
    "fl": (0.4, 1.0),
    "xt": (0.2, 0.84),
    "gamma": (1.08, 1.65),
    "ff": (0.68, 0.96),
    "ma": (0.004, 0.020),
}


def is_pressure(value: Any) -> bool:
    return isinstance(value, Q) and value.unit in ("bar", "kPa", "psi")


def impossible(text: str, n: SimpleNamespace) -> Iterator[str]:
    """Yield what cannot be in the numbers of a variant [SI], whatever the valve."""
    has = vars(n)
    for first, second in DESCENDING:
        if same_kind(has.get(first), has.get(second)) and not has[first] > has[second]:
            yield f"{first} is not above {second}"
    for name, (low, high) in RANGES.items():
        if isinstance(has.get(name), float) and not low <= has[name] <= high:
            yield f"{name} out of range"
    if "pv" in has and "t" in has and abs(has["pv"] / float(vapour_pressure(has["t"])) - 1) > 0.02:
        yield "vapour pressure is not that of the temperature"
    yield from vacuum_faults(text, has)
    yield from limit_faults(text, has)
    yield from balance_faults(has)


def vacuum_faults(text: str, has: dict[str, Any]) -> Iterator[str]:
    """Yield what lies below absolute zero, or boils before it reaches the valve."""
    inlet = has.get("p1", has.get("g1"))
    if inlet is None:
        return
    shift = 0.0 if "absolute" in text and "p1" in has else AIR
    if min(inlet, has.get("p2", has.get("g2", 0.0))) + shift < 0:
        yield "below vacuum"
    if isinstance(has.get("dp"), float) and has["dp"] >= inlet + shift:
        yield "the drop takes the outlet below vacuum"
    if has.get("pv", 0.0) >= inlet + shift:
        yield "it boils before the valve"


def same_kind(first: Any, second: Any) -> bool:
    return isinstance(first, float) and isinstance(second, float)


def limit_faults(text: str, has: dict[str, Any]) -> Iterator[str]:
    """Yield what is wrong with a choked drop: it is FL² of the inlet pressure, and no drop takes the outlet below 0."""
    if "limit" not in has:
        return
    tag = TAG.search(text)
    inlet = has.get("p1", has["limit"] / VALVES[tag.group()].fl ** 2 if tag else 0.0)
    if has["dp"] >= inlet:
        yield "the drop takes the outlet below vacuum"
    if not 0.45**2 <= has["limit"] / inlet <= 0.95**2 if inlet else True:
        yield "no valve chokes at that share of its inlet pressure"


def balance_faults(has: dict[str, Any]) -> Iterator[str]:
    """Yield what does not add up: flow, coefficient and drop; the pressures of a line."""
    if {"kv", "q", "dp"} <= has.keys() and abs(has["kv"] / 3600 * (has["dp"] / 1e5) ** 0.5 / has["q"] - 1) > 0.05:
        yield "flow, coefficient and drop do not go together"
    if {"pump", "static", "pipe"} <= has.keys() and has["pump"] <= has["static"] + has["pipe"]:
        yield "nothing is left for the valve"
    if {"before", "after", "total"} <= has.keys() and has["before"] - has["after"] >= has["total"]:
        yield "the valve takes more than there is"


def contradicts(valve: Valve, text: str, n: SimpleNamespace, variant: dict[str, Any]) -> Iterator[str]:
    """Yield what a variant [SI] says of a valve against its data in the refinery."""
    has = vars(n)
    yield from pressure_faults(valve, text, has)
    if has.get("kv", 0.0) > 1.01 * to_base(valve.rated_kv):
        yield "more than its rated coefficient"
    if "flow" in has and not 1.2e5 <= (has["flow"] * 3600 / to_base(valve.rated_kv)) ** 2 * 1e5 <= 4.2e5:
        yield "not its flow wide open at a leak test of 2 to 4 bar"
    if "q" in has and valve.line and has["q"] > 1.03 * to_base(valve.line.full_flow):
        yield "more flow than its line lets pass"
    if "r" in has and has["r"] != valve.rangeability:
        yield "another rangeability"
    if "xfz" in has and has["xfz"] != valve.xfz:
        yield "another xFz"
    if "fl" in has and not valve.fl - 0.005 <= has["fl"] <= 0.97:
        yield "FL below that of the open valve"
    yield from drive_faults(valve, has, variant)


def pressure_faults(valve: Valve, text: str, has: dict[str, Any]) -> Iterator[str]:
    inlet, outlet = has.get("p1", has.get("g1")), has.get("p2", has.get("g2"))
    shift = AIR if "absolute" in text and "p1" in has else 0.0
    slack = 0.11e5  # rounding of both, and an atmosphere taken as 1.0 bar
    worst = to_base(valve.ends.shut_dp) if valve.ends else 0.0
    if valve.line:
        line = valve.line
        low, high = to_base(line.pump_at_full), to_base(line.pump_shutoff)
        rest, most = to_base(line.static), to_base(line.static) + to_base(line.pipe_at_full)
        worst = high - rest
    else:
        assert valve.ends
        low, high = to_base(valve.ends.before) / 2, to_base(valve.ends.before)
        rest = most = to_base(valve.ends.after)
    if inlet is not None and not low - slack <= inlet - shift <= high + slack:
        yield "its pump or header does not give that inlet pressure"
    if outlet is not None and not rest - slack <= outlet - shift <= most + slack:
        yield "its line does not have that outlet pressure"
    if isinstance(has.get("dp"), float) and "leak" not in has and "form" not in has and has["dp"] > worst + 1e3:
        yield "a larger drop than it can meet"
    own = to_base(valve.fluid.vapour_pressure) if isinstance(valve.fluid, Liquid) else 0.0
    if "pv" in has and valve.tag != "LV-6120" and abs(has["pv"] - own) > 0.01e5:  # condensate comes hot or less hot
        yield "another vapour pressure than its liquid"


def drive_faults(valve: Valve, has: dict[str, Any], variant: dict[str, Any]) -> Iterator[str]:
    drives = [drive for drive in (valve.drive, valve.found) if drive]
    names: dict[str, tuple[str, Callable[[Any], float]]] = {
        "area": ("area", to_base),
        "port": ("port", to_base),
        "supply": ("supply", to_base),
        "low": ("bench_low", to_base),
        "high": ("bench_high", to_base),
        "bottom": ("bench_low", to_base),
        "top": ("bench_high", to_base),
    }
    for name, (field, base) in names.items():
        told = variant.get(name)
        asked = isinstance(told, float) or (isinstance(told, Q) and told.unit in ("bar", "cm²", "mm"))
        if asked and not any(abs(has[name] / base(getattr(drive, field)) - 1) < 1e-6 for drive in drives):
            yield f"another {name} than its own"
    travel = variant.get("travel")
    if isinstance(travel, Q) and travel.unit == "mm" and not any(has["travel"] == to_base(d.travel) for d in drives):
        yield "another travel than its own"
    if "spring" in has and not any(
        abs(has["spring"] / (to_base(d.bench_low) * to_base(d.area)) - 1) < 1e-3 for d in drives
    ):
        yield "another spring than its own"


def faults(text: str, variant: dict[str, Any]) -> list[str]:
    """Return all that is wrong with a variant: its text filled in, and its numbers as they stand."""
    n = SimpleNamespace(**{k: to_base(v) if isinstance(v, Q) else v for k, v in variant.items()})
    found = [f"{name}: what is it?" for name, value in variant.items() if is_pressure(value) and name not in PRESSURES]
    found += impossible(text, n)
    tags = set(TAG.findall(text))
    found += [f"{tag} is not in the refinery" for tag in tags - VALVES.keys()]
    if len(tags & VALVES.keys()) == 1:
        found += contradicts(VALVES[tags.pop()], text, n, variant)
    return found


@pytest.mark.parametrize("topic", TOPICS)
def test_every_number_can_be_and_is_that_of_its_valve(topic: str) -> None:
    for question in (each for name, each in QUESTIONS.items() if name.partition(".")[0] == topic):
        for index, variant in enumerate(question.variants):
            text = pose_variant(question, index, "si").sheet.text
            assert faults(text, dict(variant)) == [], (question.id, text, variant)


def bar(**pressures: float) -> dict[str, Any]:
    return {name: Q(value, "bar") for name, value in pressures.items()}


# What stood in the questions once, or could; each has to be refused.
@pytest.mark.parametrize(
    ("text", "variant", "why"),
    [
        ("FV-1204, in cold water.", bar(limit=5.4, dp=8.6), "below vacuum"),  # 5.4/0.80² = 8.4 bar
        ("TV-3301, in cold water.", bar(limit=1.6, dp=4.2), "below vacuum"),  # 1.6/0.3844 = 4.16 bar
        ("FV-1204 cavitates (absolute).", bar(p1=9.5, p2=1.2), "its line does not have that outlet pressure"),
        ("FV-1204 (both absolute).", bar(p1=10.0, p2=4.0) | {"fl": 0.9}, "that outlet pressure"),
        ("FV-1204, FL.", {"fl": 0.62}, "FL below"),
        ("FV-6204 is shut.", bar(p1=12.0, p2=6.5), "does not give that inlet pressure"),
        ("A valve, gauges.", bar(p1=3.0, p2=4.0), "p1 is not above p2"),
        ("A valve (absolute).", bar(p1=3.0, p2=-0.2), "below vacuum"),
        ("A valve, gauges.", bar(g1=3.0, g2=-1.2), "below vacuum"),
        ("Condensate (absolute).", bar(p1=6.0, pv=2.7) | {"t": Q(140, "°C")}, "not that of the temperature"),
        ("Condensate (absolute).", bar(p1=2.0, pv=2.7), "boils before the valve"),
        ("The nameplate of FV-1204.", bar(low=0.4, high=2.0), "another low than its own"),
        ("The nameplate of FV-1204.", {"area": Q(350, "cm²")}, "another area"),
        ("The nameplate of FV-1204.", {"travel": Q(25, "mm")}, "another travel"),
        ("FV-1204, equal percentage.", {"r": 30}, "another rangeability"),
        ("FV-2107 stands where it has.", {"kv": Q(110, "Kv")}, "more than its rated"),
        ("FV-2107 on the bench.", {"flow": Q(180, "m³/h")}, "leak test"),
        ("FV-9999 drips.", {}, "not in the refinery"),
        ("A line.", bar(pump=3.0, static=2.0, pipe=1.5), "nothing is left"),
        ("A valve.", {"kv": Q(40, "Kv"), "q": Q(100, "m³/h"), **bar(dp=4.0)}, "do not go together"),
        ("A valve.", bar(draught=1.0), "what is it?"),
    ],
)
def test_a_number_that_cannot_be_is_refused(text: str, variant: dict[str, Any], why: str) -> None:
    assert any(why in fault for fault in faults(text, variant)), faults(text, variant)


def test_every_tag_a_reader_meets_is_in_the_refinery() -> None:
    for where, words in reader_text():
        assert set(TAG.findall(words)) <= VALVES.keys(), (where, words)


def test_styles_of_the_refinery_are_known() -> None:
    assert {valve.style for valve in VALVES.values()} <= BODY_STYLES.keys()
