"""Sayings of the trade (common practice, no source): what each implies, against the formulas.

They stand here and nowhere else. What readers see is a published or a computed figure; the second half of this file
holds their text to that.
"""

import re
from typing import Any

import numpy as np
import pytest

from lessons.units.quantities import Q, convert
from tests.plant.reader_text import reader_text
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.body_styles import BODY_STYLES
from valvecalc.characteristic import equal_percentage, quick_opening
from valvecalc.force_balance import pressure_at
from valvecalc.packing import signal_dead_band
from valvecalc.plug_forces import seat_force
from valvecalc.seat_leakage import allowed_leakage, water_test_capacity

SIXTY = 1.6**10  # the rangeability of a trim that gives 60 % more for each tenth of its travel
BUTTERFLY = {60: 285 / 4**2, 70: 365 / 4**2, 90: 521 / 4**2}  # Cv/d² of example 5, ISA-75.01.01-2012: 4 in
DOUBLE = BODY_STYLES["globe, double seated, ported plug"].capacity  # ISA-S75.01-1985, from memory
SPRING = actuator_from_bench_set("reverse", 0.032, 0.2e5, 1.0e5, 0.020)
FLOW = water_test_capacity(25, 3.5e5)


def step(rangeability: float) -> float:
    return float(equal_percentage(0.6, rangeability) / equal_percentage(0.5, rangeability))


def steepness(rangeability: float) -> float:
    """Return the slope of the 60 % trim over that of a stated one, half way up."""
    made, stated = (np.diff(np.log10(equal_percentage([0.4, 0.5], r))) for r in (SIXTY, rangeability))
    return float((made / stated).squeeze())


def within_deviation(made: Any, stated: Any) -> Any:
    """Tell whether a made Φ lies in the band about the stated one: 0.10 (1/Φ)^0.2 of it, IEC 60534-2-4, from memory."""
    return np.abs(made / stated - 1) <= 0.1 * stated**-0.2


# saying, what is computed, what it gives by hand (shown), relative tolerance. All: common practice, no source.
RULES = [
    ("60 % more per 10 % of travel", lambda: SIXTY, 109.951, 1e-5, "ten steps: 1.6^10"),
    ("60 % more per 10 % of travel", lambda: step(SIXTY), 1.6, 1e-9, "so it belongs to a trim of 110 to 1"),
    ("60 % more per 10 % of travel", lambda: step(50), 1.47876, 1e-5, "50 to 1 gives 48 %: 50^0.1"),
    ("60 % more per 10 % of travel", lambda: step(30), 1.40512, 1e-5, "30 to 1 gives 41 %: 30^0.1"),
    ("62.5 % at 90 % of travel", lambda: equal_percentage(0.9, SIXTY), 0.625, 1e-9, "1/1.6"),
    ("62.5 % at 90 % of travel", lambda: equal_percentage(0.9, 50), 0.676243, 1e-5, "50^-0.1"),
    ("60 % more, as a slope", lambda: steepness(100), 1.0206, 1e-4, "lg 1.6 = 0.204120 over 0.2"),
    ("60 % more, as a slope", lambda: steepness(50), 1.20141, 1e-4, "0.204120 over lg 50 / 10 = 0.169897"),
    ("60 % more, as a slope", lambda: steepness(30), 1.38187, 1e-4, "0.204120 over lg 30 / 10 = 0.147712"),
    ("30 % lift, 60 % flow", lambda: quick_opening(0.3, 1 / 0.424283), 0.6, 1e-5, "ln 0.6 / ln 0.3 = 0.424283"),
    ("30 % lift, 60 % flow", lambda: quick_opening(0.3, 2), 0.547723, 1e-5, "the root stand-in gives less: √0.3"),
    ("30 % lift, 60 % flow", lambda: quick_opening(0.3, 3), 0.669433, 1e-5, "the cube root more: 0.3^(1/3)"),
    (
        "5 % leak, double-seated",
        lambda: 0.05 * FLOW / allowed_leakage("II", capacity=FLOW),
        10.0,
        1e-9,
        "class II is 0.5 % (FCI 70-2, second-hand): 5/0.5",
    ),
    ("butterfly twice a double-seated", lambda: BUTTERFLY[60] / DOUBLE, 1.425, 1e-3, "17.8125/12.5, at 60°"),
    ("butterfly twice a double-seated", lambda: BUTTERFLY[70] / DOUBLE, 1.825, 1e-3, "22.8125/12.5, at 70°"),
    ("butterfly twice a double-seated", lambda: BUTTERFLY[90] / DOUBLE, 2.605, 1e-3, "32.5625/12.5, at 90°"),
    ("weir diaphragm up to 200 °F", lambda: convert(Q(200, "°F"), "°C").value, 93.333, 1e-4, "(200 − 32)/1.8"),
    (
        "weir diaphragm up to 200 °F",
        lambda: convert(Q(150, "°F"), "°C").value,
        65.556,
        1e-4,
        "DOE-HDBK-1018/2-93: best below 150 °F",
    ),
    (
        "5 % dead band without a positioner",
        lambda: signal_dead_band(64, 0.032, 0.8e5),
        0.05,
        1e-9,
        "64 N on 320 cm²: 2 · 64/0.032 = 4000 Pa of 80 000",
    ),
    (
        "a 0.2 to 1.0 bar spring needs 1.0 bar",
        lambda: pressure_at(SPRING, 1.0, -126, 250, "opening"),
        1.1175e5,
        1e-4,
        "1e5 + (250 + 126)/0.032: friction, and a fluid that pushes shut",
    ),
    (
        "flow to close shuts with any spring",
        lambda: (960 - 200) / seat_force(0.046, 7e3),
        0.7513,
        1e-3,
        "pump off: 960 N of spring less 200 N of friction, over 7 N/mm · π · 46 mm = 1011.6 N",
    ),
]


@pytest.mark.parametrize(("saying", "computed", "by_hand", "within", "working"), RULES)
def test_what_a_saying_implies(saying, computed, by_hand, within, working):
    assert float(computed()) == pytest.approx(by_hand, rel=within), (saying, working)


@pytest.mark.parametrize(("rangeability", "allowed"), [(100, True), (50, True), (30, False)])
def test_the_slope_of_60_percent_a_tenth_against_the_band(rangeability, allowed):
    """Band of GB/T 4213-92 (second-hand), ±30 % from 20 to 80 % travel; the saying: common practice, no source."""
    assert (0.7 <= steepness(rangeability) <= 1.3) == allowed


def test_the_values_of_60_percent_a_tenth_against_the_band():
    """Worked: (1.6^10 / R)^(h - 1) - 1; -8.2 % at h 0.1 and -4.6 % at 0.5 from R = 100, -32.6 % at 0.5 from R = 50."""
    travel = [0.1, 0.3, 0.5, 0.7, 0.9]
    made, stated = equal_percentage(travel, SIXTY), equal_percentage(travel, 100)
    np.testing.assert_allclose(100 * (made / stated - 1), [-8.2, -6.4, -4.6, -2.8, -0.9], atol=0.06)
    assert within_deviation(made, stated).all()
    assert 100 * (made[2] / equal_percentage(0.5, 50) - 1) == pytest.approx(-32.6, abs=0.06)
    assert not within_deviation(made[2], equal_percentage(0.5, 50))


# How each saying is worded, and a sentence that says it: the search has to find that one.
SAYINGS = {
    "60 % per 10 %": (
        r"\b60 ?(%|per cent) (more|extra)|(each|every|per) 10 ?% [^.]*\b60 ?%|\b1\.6 to the power|\b1[01]\d (to|:) ?1\b",
        (
            "each 10 % more travel gives 60 % more flow",
            "Ten such steps multiply to 1.6 to the power 10 = 110",
            "Ten steps of 60 % more would imply about 110 to 1.",
        ),
    ),
    "62.5 % at 90 %": (r"\b62[.,]5 ?%|\b0\.625 of", ("At 90 % lift it passes 62.5 % of its flow",)),
    "30 % lift, 60 % flow": (
        r"\b30 ?% (of (its|the) )?(travel|lift)[^.]{0,60}\b60 ?%|first third of (its|the) (travel|lift)",
        ("30 % of the lift gives about 60 % of the flow", "most of it comes in the first third of the travel"),
    ),
    "5 % double-seated": (
        r"double-\W{0,3}seated[^.]{0,80}(?<![\d.,])5 ?%|(?<![\d.,])5 ?% [^.]{0,60}double-seated|\b2 to 5 ?%",
        ("A double-seated valve leaks up to 5 % of its full flow.", "old saying, double-\nseated: 2 to 5 %"),
    ),
    "butterfly twice a double-seated": (
        r"butterfly[^.]*\b(twice|double|two times)\b(?!-)[^.]*double-seated|\btwice [^.]*double-seated",
        ("A butterfly passes about twice as much as a double-seated valve of its size.",),
    ),
    "weir diaphragm 200 °F": (
        r"\b200 ?°F|\b93(\.3)? ?°C|\b366\.5\b",
        ("Good up to 200 °F (93 °C), says the trade", "93 °C at most"),
    ),
    "5 % dead band": (
        r"(?<![\d.,])5 ?% (of )?(dead band|and more)|dead band[^.]{0,30}(?<![\d.,])5 ?% ",
        ("Tight packing without a positioner: 5 % dead band and more",),
    ),
    "1 to 2 % of travel": (r"1 to ±?2 ?%", ("±1 to ±2 % is common practice with a positioner.",)),
    "any saying": (
        r"rules? of thumb|old (saying|hand|rule)\b",
        ("> **A rule of thumb, checked.** You may hear", "old saying", "An old hand says"),
    ),
}


@pytest.mark.parametrize("saying", SAYINGS)
def test_no_reader_meets_a_saying(saying):
    pattern, _ = SAYINGS[saying]
    found = [(where, words) for where, words in reader_text() if re.search(pattern, words, re.IGNORECASE)]
    assert not found, found


@pytest.mark.parametrize("saying", SAYINGS)
def test_the_search_finds_the_saying(saying):
    pattern, sentences = SAYINGS[saying]
    for sentence in sentences:
        assert re.search(pattern, sentence, re.IGNORECASE), sentence


# What stands in their place, and where.
INSTEAD = {
    "02_bodies": ("class II", "0.5 %", "150 °F (65.6 °C)", "17.8", "22.8", "32.6", "12.5"),
    "04_inherent": ("adds 48 % with 50 to 1",),
    "06_capacity": ("17.8", "22.8", "32.6", "12.5"),
    "11_seat_leakage": ("class II: 0.5 %",),
}


@pytest.mark.parametrize("notebook", INSTEAD)
def test_published_or_computed_figures_stand_in_their_place(notebook):
    words = "\n".join(said for where, said in reader_text() if where.startswith(f"lessons/{notebook}"))
    assert not [figure for figure in INSTEAD[notebook] if figure not in words]
