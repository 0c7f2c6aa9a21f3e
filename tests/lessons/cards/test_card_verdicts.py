"""Verdicts of the job cards: good only with everything asked for, on both sides of each limit; told by sign and words."""

from __future__ import annotations

import csv
import math
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from lessons.card_page import boxes, page_files, pdf_page
from lessons.card_page.card import BadInputError, CardAnswer, Field
from lessons.card_page.page import CardPage
from lessons.cards import NAMES, card_named
from lessons.pictures.verdicts import BAD, GOOD, PLAIN, SHORT, SIGNS
from lessons.units.quantities import Q, to_base
from tests.lessons.cards.test_job_cards import AIR, LOUD_AIR, NOW, QUICK, SPRUNG, TEST, answered, bar_abs, type_in

ORDER = {GOOD: 2, SHORT: 1, BAD: 0}
JUDGE = ("seat_leakage", "shutoff", "bench_set", "stroke_errors", "cavitation",
         "shell_pressure", "air_leak", "gas_sizing", "body_rating", "bolt_torque", "spring_down", "positioner_check",
         "nameplate")  # fmt: skip  # the cards that can say good


def said(name: str, **given_: Any) -> CardAnswer:
    inputs, results = answered(name, **given_)
    answer: CardAnswer = card_named(name).answer(inputs, results, "si")
    return answer


# 46 mm port: 1661.90 N at 10 bar, rim 144.513 mm, so 7 N/mm are 1011.59 N. With 200 N of friction: 2873.49 N on 450 cm².
SHUT = {"area": Q(450, "cm²"), "port": Q(46, "mm"), "dp": Q(10, "bar"), "friction": Q(200, "N"), "wanted": Q(7, "N/mm")}
# 800 lbf/in · 1.5 in on 100 in² span 12 psi; 250 lbf of load and 50 of friction take 3 psi, friction alone 0.5 psi.
BENCH = {
    "area": Q(100, "in²"),
    "rate": Q(800, "lbf/in"),
    "travel": Q(1.5, "in"),
    "load": Q(250, "lbf"),
    "friction": Q(50, "lbf"),
}
# 120 N/mm · 30 mm on 450 cm² span 0.8 bar.
PLATE = {"action": "reverse", "area": Q(450, "cm²"), "rate": Q(120, "N/mm"), "travel": Q(30, "mm")}
# Cv 100 at 3.5 bar: class IV allows 269.704 mL/min of water.
LEAK = {"test": "IV water", "kv": Q(100, "Cv"), "dp": Q(3.5, "bar"), "service": Q(10, "bar"), "error": Q(5, "mL/min")}
# Class V, 50 mm and 20 bar: 0.3 mL/min.
FIVE = {"test": "V water", "port": Q(50, "mm"), "dp": Q(20, "bar"), "service": Q(20, "bar"), "error": Q(0.05, "mL/min")}
# Class VI, 50 mm and 3.5 bar: 0.4725 mL/min.
SIX = {"test": "VI air", "port": Q(50, "mm"), "dp": Q(3.5, "bar"), "service": Q(10, "bar"), "error": Q(0.05, "mL/min")}
# Water of 20 °C from 10 bar absolute: P1 − Pv = 9.976608 bar. xFz 0.45 counts 0.45 · 0.6^0.125 = 0.422164, less 10 %: 0.379948.
WATER = {"p1": bar_abs(10), "t": Q(20, "°C"), "fl": 0.9, "xfz": 0.45, "margin": Q(10, "%")}
HALF = {
    "found_up": tuple(Q(x, "%") for x in (0, 25, 50.5, 75, 100)),
    "found_down": tuple(Q(x, "%") for x in (0, 25, 50, 75, 100)),
}
# An I/P whose span is one bar, 0.5 % off in the middle.
RIGHT = {"output": (0.0, 1.0, "bar"), "found_up": (0, 0.25, 0.505, 0.75, 1), "found_down": (0, 0.25, 0.5, 0.75, 1)}
SAME = {
    "size": ("DN 80", "3 in"),
    "rating": ("class 150", "150#"),
    "metal": ("A216 WCB", "wcb"),
    "trim": ("63 mm", "63mm"),
    "kv": ("Kv 80", "Cv 92.5"),
    "kind": ("equal percentage", "EQ %"),
    "action": ("air to open", "fail closed"),
    "bench": ("0.2 to 1 bar", "20-100 kPa"),
    "supply": ("1.4 bar", "20.3 psi"),
}
OTHER = {
    "size": "NPS 4",
    "rating": "PN 150",
    "metal": "CF8M",
    "trim": "50 mm",
    "kv": "Kv 50",
    "kind": "linear",
    "action": "FO",
    "bench": "3 to 15 psi",
    "supply": "2 bar",
}
LIMIT = {"limit": Q(1, "%"), "reading": Q(0.2, "%")}

TABLE: list[tuple[str, dict[str, Any], str, str]] = [
    ("shutoff", {**SHUT, "closing": Q(0.639, "bar")}, GOOD, "2875.5 N: 1013.6 left of 1011.59 wanted"),
    ("shutoff", {**SHUT, "closing": Q(0.638, "bar")}, SHORT, "2871 N: 1009.1 left"),
    ("shutoff", {**SHUT, "closing": Q(0.6, "bar")}, SHORT, "2700 N: 838.1 left, 5.8 N/mm where 7 are wanted"),
    ("shutoff", {**SHUT, "closing": Q(0.414, "bar")}, SHORT, "1863 N: 1.1 N left"),
    ("shutoff", {**SHUT, "closing": Q(0.413, "bar")}, BAD, "1858.5 N: 3.4 N short of its seat"),
    ("shutoff", {**SHUT, "closing": Q(0.639, "bar"), "friction": Q(203, "N")}, SHORT, "1010.6 N left"),
    ("shutoff", {**SHUT, "closing": Q(0.639, "bar"), "dp": Q(10.1, "bar")}, SHORT, "1678.5 N of fluid: 997 N left"),
    ("shutoff", {**SHUT, "closing": Q(0.639, "bar"), "wanted": Q(7.1, "N/mm")}, SHORT, "1026.0 N wanted"),
    ("shutoff", {**SHUT, "closing": 1e4, "area": 0.1, "dp": 0.0, "friction": 500.0, "port": 0.05, "wanted": 500 / (math.pi * 0.05)}, GOOD, "on the limit: 1000 − 500 = 500 N"),
    ("bench_set", {**BENCH, "action": "reverse", "supply": Q(15.5, "psi")}, GOOD, "3 to 15 psi, and 0.5 for the friction: on the limit"),
    ("bench_set", {**BENCH, "action": "reverse", "supply": Q(15.4, "psi")}, SHORT, "15.4 psi is over 15, but not 15.5"),
    ("bench_set", {**BENCH, "action": "reverse", "supply": Q(15.0, "psi")}, SHORT, "just what the bench takes"),
    ("bench_set", {**BENCH, "action": "reverse", "supply": Q(14.9, "psi")}, BAD, "under 15 psi"),
    ("bench_set", {**BENCH, "action": "reverse", "supply": Q(15.5, "psi"), "friction": Q(51, "lbf")}, SHORT, "3.01 + 12 + 0.51 = 15.52"),
    ("bench_set", {**BENCH, "action": "direct", "supply": Q(15.5, "psi")}, GOOD, "15.5 − 3 − 12 = 0.5 psi of preload: on the limit"),
    ("bench_set", {**BENCH, "action": "direct", "supply": Q(15.4, "psi")}, SHORT, "0.4 psi of preload against 0.5 of friction"),
    ("bench_set", {**BENCH, "action": "direct", "supply": Q(14.9, "psi")}, BAD, "no preload is left: −0.1 psi"),
    # 0.2 to 1.0 bar on its plate: 1600 + 200 N on 450 cm² start at 0.4 bar, end at 1.2; friction takes 0.0444 more.
    ("bench_set", {**PLATE, "load": Q(1600, "N"), "friction": Q(200, "N"), "supply": Q(1.25, "bar")}, GOOD, "1.2 + 0.0444 = 1.2444"),
    ("bench_set", {**PLATE, "load": Q(1600, "N"), "friction": Q(200, "N"), "supply": Q(1.24, "bar")}, SHORT, "0.0044 bar short"),
    ("seat_leakage", {**LEAK, "leak": Q(264, "mL/min")}, GOOD, "264 + 5 = 269 of 269.704"),
    ("seat_leakage", {**LEAK, "leak": Q(265, "mL/min")}, SHORT, "265 + 5 = 270 is over it"),
    ("seat_leakage", {**LEAK, "leak": Q(269.7, "mL/min")}, SHORT, "within, by less than the error"),
    ("seat_leakage", {**LEAK, "leak": Q(269.8, "mL/min")}, BAD, "over 269.704"),
    ("seat_leakage", {**LEAK, "leak": Q(1, "mL/min"), "dp": Q(3.0, "bar")}, SHORT, "43.5 psi, the test is from 45 (FCI 70-2)"),
    ("seat_leakage", {**LEAK, "leak": Q(1, "mL/min"), "dp": Q(3.0, "bar"), "service": Q(3.0, "bar")}, GOOD, "the drop in service is less"),
    ("seat_leakage", {**LEAK, "leak": Q(1, "mL/min"), "dp": Q(45, "psi")}, GOOD, "the lower end"),
    ("seat_leakage", {**LEAK, "leak": Q(1, "mL/min"), "dp": Q(60, "psi")}, GOOD, "the upper end"),
    ("seat_leakage", {**LEAK, "leak": Q(1, "mL/min"), "dp": Q(61, "psi")}, SHORT, "above the test"),
    ("seat_leakage", {**LEAK, "leak": Q(1, "mL/min"), "dp": Q(3.5, "bar"), "service": Q(3.2, "bar")}, SHORT, "above the drop in service"),
    ("seat_leakage", {**LEAK, "leak": Q(900, "mL/min"), "dp": Q(61, "psi")}, BAD, "over its limit at any drop"),
    ("seat_leakage", {**FIVE, "leak": Q(0.24, "mL/min")}, GOOD, "0.29 of 0.3"),
    ("seat_leakage", {**FIVE, "leak": Q(0.24, "mL/min"), "service": Q(21, "bar")}, SHORT, "class V: full drop in service"),
    ("seat_leakage", {**SIX, "leak": Q(0.42, "mL/min")}, GOOD, "0.47 of 0.4725"),
    ("seat_leakage", {**SIX, "leak": Q(0.1, "mL/min"), "dp": Q(3.0, "bar")}, SHORT, "under 50 psi"),
    ("cavitation", {**WATER, "p2": bar_abs(6.22)}, GOOD, "xF 3.78 / 9.976608 = 0.378886"),
    ("cavitation", {**WATER, "p2": bar_abs(6.20)}, SHORT, "xF 0.380891, over 0.379948"),
    ("cavitation", {**WATER, "p2": bar_abs(5.80)}, SHORT, "xF 0.420985, under 0.422164"),
    ("cavitation", {**WATER, "p2": bar_abs(5.78)}, BAD, "xF 0.422990"),
    ("cavitation", {**WATER, "p2": bar_abs(1.9)}, BAD, "choked from 8.08186 bar"),
    ("cavitation", {**WATER, "p2": bar_abs(0.02)}, BAD, "below Pv 0.0234 bar: flashing"),
    ("cavitation", {**WATER, "p2": bar_abs(9.9), "xfz": None}, SHORT, "1 % of the drop: not choked, but without xFz nobody knows"),
    ("cavitation", {**WATER, "p2": bar_abs(2.6), "xfz": 0.9}, SHORT, "an xFz beyond choking, 8.08186 / 9.976608 = 0.810081; xF 0.741735 is over 0.9 · that"),
    ("cavitation", {**WATER, "p2": bar_abs(3.6), "xfz": None}, SHORT, "6.4 of 8.08186 bar is 79.2 %: likely"),
    ("cavitation", {**WATER, "p2": bar_abs(3.5), "xfz": None}, BAD, "6.5 of 8.08186 bar is 80.4 %: for sure"),
    ("stroke_errors", {**HALF, **LIMIT, "limit": Q(0.8, "%")}, GOOD, "0.5 + 0.2 of 0.8, read 4 times better: on the limit"),
    ("stroke_errors", {**HALF, **LIMIT, "limit": Q(0.79, "%")}, SHORT, "0.79 / 4 = 0.1975 is less than 0.2"),
    ("stroke_errors", {**HALF, **LIMIT, "limit": Q(0.6, "%"), "reading": Q(0.1, "%")}, GOOD, "0.5 + 0.1 = 0.6: on the limit"),
    ("stroke_errors", {**HALF, **LIMIT, "limit": Q(0.59, "%"), "reading": Q(0.1, "%")}, SHORT, "0.6 is over it"),
    ("stroke_errors", {**HALF, **LIMIT, "limit": Q(0.5, "%"), "reading": Q(0.1, "%")}, SHORT, "on the limit but for the reading"),
    ("stroke_errors", {**HALF, **LIMIT, "limit": Q(0.49, "%"), "reading": Q(0.1, "%")}, BAD, "0.5 is over 0.49"),
    ("stroke_errors", {**HALF, **LIMIT, "left_up": HALF["found_down"]}, SHORT, "as left half filled in"),
    ("stroke_errors", {**HALF, **LIMIT, "left_up": TEST["found_up"], "left_down": TEST["found_down"]}, BAD, "good as found, 1.3 % as left"),
    ("stroke_errors", {**TEST, **LIMIT, "left_up": HALF["found_up"], "left_down": HALF["found_down"]}, GOOD, "1.3 % as found, 0.5 % as left"),
    ("shell_pressure", {"p": Q(77.6, "bar")}, GOOD, "77.6 − 0.5 is over 77"),
    ("shell_pressure", {"p": Q(77.4, "bar")}, SHORT, "76.9 at the least"),
    ("shell_pressure", {"p": Q(76.9, "bar")}, BAD, "under 77"),
    ("shell_pressure", {"time": Q(59, "s")}, BAD, "DN 80: a minute"),
    ("shell_pressure", {"seen": "wet"}, BAD, "a drop"),
    ("shell_pressure", {"seen": "packing"}, SHORT, "the site says whether packing may weep"),
    ("shell_pressure", {"p": Q(85, "bar")}, SHORT, "85.5 is over 1.1 · 77 = 84.7"),
    ("air_leak", {"allowed": Q(8.90, "L/h")}, GOOD, "7.106 + 1.786 = 8.892"),
    ("air_leak", {"allowed": Q(8.88, "L/h")}, SHORT, "less than 8.892"),
    ("air_leak", {"allowed": Q(7.10, "L/h")}, BAD, "less than 7.106"),
    ("gas_sizing", {**AIR, "kv": Q(11.18, "Kv")}, GOOD, "80 % is 8.944, 8.9295 taken"),
    ("gas_sizing", {**AIR, "kv": Q(11.14, "Kv")}, SHORT, "80 % is 8.912"),
    ("gas_sizing", {**AIR, "kv": Q(8.91, "Kv")}, BAD, "less than it takes"),
    ("body_rating", {"p": Q(40.9, "bar")}, GOOD, "at 205 °C 43.61 bar, less 5 % 41.43; 40.9 + 0.5"),
    ("body_rating", {"p": Q(41.0, "bar")}, SHORT, "41.5 is over 41.43"),
    ("body_rating", {"p": Q(43.9, "bar")}, BAD, "over 43.8"),
    ("body_rating", {"p": Q(10, "bar"), "t": Q(398, "°C")}, SHORT, "5 K hotter is beyond the table"),
    ("bolt_torque", {"stress": Q(166.1, "MPa")}, GOOD, "127.66 · 1.3 = 165.96"),
    ("bolt_torque", {"stress": Q(165.8, "MPa")}, SHORT, "less than that"),
    ("bolt_torque", {"stress": Q(127.5, "MPa")}, BAD, "less than 127.66"),
    ("stroke_speed", {**QUICK, "wanted": Q(0.75, "s")}, SHORT, "1.0117 / 1.4 = 0.723 s at the quickest"),
    ("stroke_speed", {**QUICK, "wanted": Q(0.7, "s")}, BAD, "less than that"),
    ("spring_down", {**SPRUNG, "reach": Q(31.6, "mm")}, GOOD, "11.579 + 20"),
    ("spring_down", {**SPRUNG, "reach": Q(31.5, "mm")}, SHORT, "less than 31.579"),
    ("spring_down", {**SPRUNG, "reach": Q(9.9, "mm")}, BAD, "10 mm to let out"),
    ("positioner_check", {**RIGHT, "limits": (Q(0.8, "%"), Q(0.2, "%"))}, GOOD, "0.5 + 0.2 of 0.8, read 4 times better"),
    ("positioner_check", {**RIGHT, "limits": (Q(0.6, "%"), Q(0.15, "%"))}, SHORT, "0.65 is over it"),
    ("positioner_check", {**RIGHT, "limits": (Q(0.49, "%"), Q(0.1, "%"))}, BAD, "0.5 is over 0.49"),
    ("positioner_check", {**RIGHT, "limits": (Q(0.8, "%"), Q(0.2, "%")), "left_up": RIGHT["found_up"]}, SHORT, "as left half filled in"),
    ("nameplate", SAME, GOOD, "all nine lines, each spelled in two ways"),
    *(("nameplate", {**SAME, line: (SAME[line][0], "")}, SHORT, "one line is not on the plate") for line in SAME),
    *(("nameplate", {**SAME, line: None}, SHORT, "one line is on neither") for line in SAME),
    *(("nameplate", {**SAME, line: (SAME[line][0], other)}, BAD, f"{line} differs") for line, other in OTHER.items()),
    ("nameplate", {**SAME, "metal": ("316 stainless steel", "CF8M")}, SHORT, "CF8M is one kind of 316"),
    ("nameplate", {**SAME, "action": ("air to open", "reverse")}, SHORT, "of the actuator; the body decides"),
    ("nameplate", {**SAME, "action": ("reverse acting", "REVERSE")}, GOOD, "both say it of the actuator"),
    ("nameplate", {**SAME, "kv": ("Kv 40", "Cv 46.6")}, GOOD, "Kv 40.31, 0.8 % more"),
    ("nameplate", {**SAME, "kv": ("Kv 40", "Cv 46.8")}, BAD, "Kv 40.48, 1.2 % more"),
    ("noise_estimate", {**LOUD_AIR, "limit": 75.0}, BAD, "80.08 − 5 dB is over 75"),
    ("noise_estimate", {**LOUD_AIR, "limit": 75.1}, SHORT, "less than that"),
    ("noise_estimate", {**LOUD_AIR, "limit": 140.0}, SHORT, "never good: what is left out makes it louder"),
    ("signals", {"signal": 0.0}, PLAIN, "4 mA"),
    ("signals", {"signal": -0.2 / 16}, PLAIN, "3.8 mA is still a value: NAMUR NE 43"),
    ("signals", {"signal": -0.3 / 16}, SHORT, "3.7 mA is neither"),
    ("signals", {"signal": -0.4 / 16}, BAD, "3.6 mA is a fault"),
    ("signals", {"signal": -0.25}, BAD, "0 mA"),
    ("signals", {"signal": 16.5 / 16}, PLAIN, "20.5 mA is still a value"),
    ("signals", {"signal": 16.7 / 16}, SHORT, "20.7 mA is neither"),
    ("signals", {"signal": 17 / 16}, BAD, "21 mA is a fault"),
    ("hunting", {"band": 0.0, "gain": 0.3}, SHORT, "it settles, but lag and filling time are guessed"),
    ("hunting", {"band": 0.2, "reset": 3600.0, "gain": 0.01}, BAD, "the flow is not yet at its set point when one stops looking"),
    ("hunting", {"band": 0.2, "gain": 0.1, "reset": 20.0, "process": 0.5}, BAD, "a large dead band, slowly"),
    ("hunting", {"gain": 8.0}, BAD, "tuning"),
    ("hunting", {"band": 0.01, "seen": 0.02}, SHORT, "1 % of dead band makes about half a per cent of swing, not two"),
    ("body_and_trim", {"p1": bar_abs(1.2), "p2": bar_abs(0.98), "t": Q(100, "°C")}, BAD, "below Pv 1.014 bar: flashing, whatever the style"),
]  # fmt: skip


@pytest.mark.parametrize(("name", "given_", "tone", "source"), TABLE)
def test_verdict(name: str, given_: dict[str, Any], tone: str, source: str) -> None:
    assert said(name, **given_).tone == tone, source


def test_every_judging_card_is_tried_on_both_sides_of_its_limits() -> None:
    tried = {name: {tone for each, _, tone, _ in TABLE if each == name} for name in JUDGE}
    assert tried == {name: {GOOD, SHORT, BAD} for name in JUDGE}


# ---- properties ---------------------------------------------------------------------------------------------------


def numbers(field: Field) -> st.SearchStrategy[float]:
    high = min(field.high, 3 * field.default if isinstance(field.default, float) and field.default else field.high)
    low = max(field.low, -0.9 * 101325.0)
    return st.floats(low, high, exclude_min=field.above).filter(lambda x: not field.above or x > 1e-9 * high)


def inputs_of(field: Field) -> st.SearchStrategy[Any]:
    if field.choices:
        return st.sampled_from(sorted(field.choices))
    if field.name == "studs":
        return st.tuples(st.integers(1, 16), st.floats(0.004, 0.06))
    if field.name == "output":
        return st.just((0.0, 1.0, "bar"))
    if field.name in SAME and field.read:
        texts = st.sampled_from((*SAME[field.name] * 12, OTHER[field.name]))
        return st.tuples(texts, texts)
    if field.write:
        return st.floats(-0.25, 1.25)
    if field.name.startswith(("found", "left")):  # readings near where they should be
        row = st.tuples(*(st.floats(-0.006, 0.006).map(lambda e, k=k: k / 4 + e) for k in range(5)))
        return st.none() | row if field.optional else row
    if field.boxes:
        return st.just(field.default)
    return st.none() | numbers(field) if field.optional else numbers(field)


@cache
def filled(name: str) -> st.SearchStrategy[SimpleNamespace]:
    boxes = {field.name: inputs_of(field) for field in card_named(name).fields}
    return st.fixed_dictionaries(boxes).map(lambda values: SimpleNamespace(**values))


def judged(name: str, inputs: SimpleNamespace) -> tuple[SimpleNamespace, CardAnswer]:
    """Fill a card, or give the example up if the card refuses it."""
    try:
        results = card_named(name).compute(inputs)
    except BadInputError:
        assume(False)
    return results, card_named(name).answer(inputs, results, "si")


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=40, deadline=None)
@given(data=st.data())
def test_a_verdict_has_words_of_its_own(name: str, data: st.DataObject) -> None:
    _, answer = judged(name, data.draw(filled(name)))
    words = card_named(name).verdicts
    assert answer.tone in SIGNS
    if answer.tone != PLAIN:
        assert answer.headline.startswith(f"{words[answer.tone]}: ")
    assert not any(answer.headline.startswith(other) for tone, other in words.items() if tone != answer.tone)
    assert name in JUDGE or answer.tone != GOOD


@pytest.mark.parametrize(
    ("name", "field", "worse"),
    [
        ("shutoff", "friction", 1),
        ("shutoff", "dp", 1),
        ("shutoff", "wanted", 1),
        ("shutoff", "closing", -1),
        ("shutoff", "area", -1),
        ("bench_set", "friction", 1),
        ("bench_set", "load", 1),
        ("bench_set", "rate", 1),
        ("bench_set", "supply", -1),
        ("seat_leakage", "leak", 1),
        ("seat_leakage", "error", 1),
        ("seat_leakage", "kv", -1),
        ("cavitation", "margin", 1),
        ("cavitation", "p2", -1),
        ("cavitation", "xfz", -1),
        ("cavitation", "fl", -1),
        ("stroke_errors", "reading", 1),
        ("stroke_errors", "limit", -1),
    ],
)
@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.filter_too_much])  # a card refuses many
@given(data=st.data())
def test_what_makes_it_harder_never_makes_it_greener(name: str, field: str, worse: int, data: st.DataObject) -> None:
    inputs = data.draw(filled(name))
    spec = next(each for each in card_named(name).fields if each.name == field)
    low, high = sorted(data.draw(st.tuples(numbers(spec), numbers(spec))))
    easy, hard = (low, high) if worse > 0 else (high, low)
    tones = [judged(name, SimpleNamespace(**{**vars(inputs), field: value}))[1].tone for value in (easy, hard)]
    assert ORDER[tones[1]] <= ORDER[tones[0]]


@settings(max_examples=50, deadline=None)
@given(data=st.data())
def test_a_dead_band_never_makes_hunting_look_better(data: st.DataObject) -> None:
    inputs = data.draw(filled("hunting"))
    tones = [
        judged("hunting", SimpleNamespace(**{**vars(inputs), "band": band}))[1].tone for band in (0.0, inputs.band)
    ]
    assert ORDER[tones[1]] <= ORDER[tones[0]]


def wants_of_shutoff(n: SimpleNamespace, _: SimpleNamespace) -> list[tuple[float, float]]:
    fluid = n.dp * math.pi / 4 * n.port**2
    return [(n.area * n.closing, fluid + n.friction + n.wanted * math.pi * n.port)]


def wants_of_bench_set(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[float, float]]:
    shut = n.load + n.friction
    assert (r.high - r.low) * n.area == pytest.approx(n.rate * n.travel, rel=1e-6, abs=1e-9 * n.supply * n.area)
    if n.action == "reverse":  # the spring shuts it, the air opens it
        return [(r.low * n.area, shut), (n.supply * n.area, r.high * n.area + n.friction)]
    return [(n.supply * n.area, r.high * n.area + shut), (r.low * n.area, n.friction)]


def wants_of_seat_leakage(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[float, float]]:
    form, medium = n.test.split()
    wants = [(r.allowed, n.leak + n.error)]
    share = {"II": 5e-3, "III": 1e-3, "IV": 1e-4}.get(form)
    if share and medium == "water":
        wants.append((share * n.kv / 3600 * math.sqrt(n.dp / 1e5), n.leak + n.error))
    psi = 6894.757
    if form == "V":
        return [
            *wants,
            (1.8e-7 * n.dp / 1e3 * n.port * 1e3 / 3.6e6, n.leak + n.error),
            (n.dp, n.service),
            (n.dp, 100 * psi),
        ]
    low, high = (50 * psi, 3.5e5) if form == "VI" else (45 * psi, 60 * psi)
    return [*wants, (n.dp, min(low, n.service)), (high, n.dp), (n.service, n.dp)]


def wants_of_cavitation(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[float, float]]:
    assert n.xfz is not None
    ratio = (n.p1 - n.p2) / (n.p1 + 101325 - r.pv)
    ff = 0.96 - 0.28 * math.sqrt(r.pv / r.pc)
    return [
        (n.xfz * (1 - n.margin), ratio),
        (n.fl**2 * (n.p1 + 101325 - ff * r.pv), n.p1 - n.p2),
        (n.p2 + 101325, r.pv),
    ]


def wants_of_stroke_errors(n: SimpleNamespace, _: SimpleNamespace) -> list[tuple[float, float]]:
    assert bool(n.left_up) == bool(n.left_down)
    rows = (n.left_up, n.left_down) if n.left_up else (n.found_up, n.found_down)
    errors = np.array(rows) - np.array([0, 0.25, 0.5, 0.75, 1])
    return [(n.limit, float(np.abs(errors).max()) + n.reading), (n.limit, 4 * n.reading)]


def wants_of_shell_pressure(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[float, float]]:
    assert n.seen == "dry"
    return [(n.p - n.error, r.wanted), (n.time, 15 if n.size <= 0.05 else 60 if n.size <= 0.2 else 120)]


def wants_of_air_leak(n: SimpleNamespace, _: SimpleNamespace) -> list[tuple[float, float]]:
    worst = n.p1 - n.p2 + 2 * n.error + (n.p1 + 101325) * n.warmer / 293.15
    return [(n.allowed * n.time * 101325, n.volume * worst)]


def wants_of_gas_sizing(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[float, float]]:
    x = min(r.x, r.chokes)
    passed = 31.6 * 0.8 * n.kv * 3600**-1 * (1 - x / (3 * r.chokes)) * math.sqrt(x * r.p1 / 1e5 * r.rho)
    return [(passed * 1.0015, n.flow)]  # 31.6 is rounded


def wants_of_body_rating(n: SimpleNamespace, r: SimpleNamespace) -> list[tuple[float, float]]:
    return [(r.rated * (1 - n.margin), n.p + n.dp), (273.15 + 400, n.t + n.dt)]


def wants_of_bolt_torque(n: SimpleNamespace, _: SimpleNamespace) -> list[tuple[float, float]]:
    area = math.pi / 4 * (n.diameter - 0.9382 * n.pitch) ** 2
    return [(n.stress * area * n.count, n.load * (1 + n.scatter))]


def wants_of_spring_down(n: SimpleNamespace, _: SimpleNamespace) -> list[tuple[float, float]]:
    low, high = n.bench
    return [((n.reach - n.margin) * (high - low - 2 * n.error), (low + n.error) * n.travel)]


def wants_of_positioner_check(n: SimpleNamespace, _: SimpleNamespace) -> list[tuple[float, float]]:
    limit, reading = n.limits
    return wants_of_stroke_errors(SimpleNamespace(**vars(n), limit=limit, reading=reading), _)


def wants_of_nameplate(n: SimpleNamespace, _: SimpleNamespace) -> list[tuple[float, float]]:
    wrong = [line for line, other in OTHER.items() if (getattr(n, line)[0] == other) != (getattr(n, line)[1] == other)]
    assert wrong == []
    return []


@pytest.mark.parametrize("name", JUDGE)
@settings(max_examples=200, deadline=None)
@given(data=st.data())
def test_good_means_that_every_want_is_met(name: str, data: st.DataObject) -> None:
    """Each want worked out anew, as (what there is, what is wanted)."""
    inputs = data.draw(filled(name))
    results, answer = judged(name, inputs)
    if answer.tone == GOOD:
        for there, wanted in globals()[f"wants_of_{name}"](inputs, results):
            assert there >= wanted * (1 - 1e-6)


# Absolute, both are the same number: 101325.1 has no digit left for what they differ by.
@pytest.mark.parametrize("name", ["gas_sizing", "cavitation", "body_and_trim"])
def test_pressures_that_hardly_differ_are_refused_by_the_card(name: str) -> None:
    inputs = SimpleNamespace(**{field.name: field.default for field in card_named(name).fields})
    inputs.p1, inputs.p2 = 0.10000000000000002, 0.1
    with pytest.raises(BadInputError, match="below that before it"):
        card_named(name).compute(inputs)


# ---- where it is shown --------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("tone", "closing"), [(GOOD, "0.639"), (SHORT, "0.6"), (BAD, "0.4")])
def test_page_print_and_paper_say_the_verdict_with_its_sign(tone: str, closing: str, tmp_path: Path) -> None:
    page = CardPage(card_named("shutoff"), "si", tmp_path)
    shown = type_in(page, closing=closing, dp="10", port="46", area="450", friction="200")
    assert (shown["answer"]["tone"], page._page["signs"][tone]) == (tone, SIGNS[tone])
    expected = f"{SIGNS[tone]} {card_named('shutoff').verdicts[tone]}: "
    assert f"{page._page['signs'][tone]} {shown['answer']['headline']}".startswith(expected)
    about = (("valve tag or job", "FV-6204"),)
    printed = page_files.printed_html(page.filled, about, "A4")
    paper = " ".join(text.get_text() for text in pdf_page.sheet(page.filled, about, (8.27, 11.69)).figure.texts)
    assert expected in printed
    assert expected in paper
    assert len(set(SIGNS.values())) == len(SIGNS)


@pytest.mark.parametrize(("reading", "verdict"), [(0.2, "✓ within its limit"), (0.3, "△ not proven within its limit")])
def test_the_record_says_it_too(reading: float, verdict: str, tmp_path: Path) -> None:
    page = CardPage(card_named("stroke_errors"), "si", tmp_path)
    texts = {f"{row}.{k}": f"{25 * k}" for row in ("left_up", "left_down") for k in range(5)}
    type_in(page, **texts, reading=f"{reading}")
    *_, record = page_files.take_along(page.filled, tmp_path, "A4", NOW)
    rows = {row[0]: row[1:] for row in csv.reader(record.read_text("utf-8").splitlines())}
    assert rows["verdict"] == ["✗ outside its limit", verdict]
    assert rows["error of a reading [% of span]"] == [f"{reading:g}"]


def test_the_seat_load_wanted_is_read_in_either_unit() -> None:
    field = next(each for each in card_named("shutoff").fields if each.name == "wanted")
    values, problems = boxes.read_boxes(
        card_named("shutoff"),
        {**{k: "1" for f in card_named("shutoff").fields for k in f.keys}, "action": "reverse", "wanted": "40"},
        "us",
    )
    assert problems == {}
    assert values.wanted == pytest.approx(to_base(Q(40, "lbf/in")))
    assert field.above, "a want of nothing would be met by anything"
