"""Choked drop, cavitation index, verdicts, and the water they are computed for."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.cavitation import (
    VERDICTS,
    cavitation_index,
    choked_drop,
    critical_pressure_factor,
    differential_pressure_ratio,
    liquid_verdict,
)
from valvecalc.water import WATER_CRITICAL_PRESSURE, vapour_pressure, water_density, water_viscosity


@pytest.mark.parametrize(
    ("p1", "p2", "pv", "sigma"),
    [
        (10, 8, 2, 4.0),  # `fluids` test citing ISA-RP75.23
        (10, 5, 0.023392, 1.99532),  # by hand: 9.976608 / 5
        (6.8, 2.2, 0.701, 1.32587),  # examples 1 and 2 of ISA-75.01.01-2012, by hand: 6.099 / 4.6
    ],
)
def test_cavitation_index(p1, p2, pv, sigma):
    assert cavitation_index(p1, p2, pv) == pytest.approx(sigma, rel=5e-6)
    assert differential_pressure_ratio(p1, p2, pv) == pytest.approx(1 / sigma, rel=5e-6)
    # The downstream definition, (P2 − Pv)/(P1 − P2), is one less.
    assert cavitation_index(p1, p2, pv) - 1 == pytest.approx((p2 - pv) / (p1 - p2))


@pytest.mark.parametrize(
    ("pv", "pc", "expected", "tolerance"),
    [
        (70.1e3, 22120e3, 0.944, 5e-4),  # ISA-75.01.01-2012, example 1, printed
        (4e3, 22120e3, 0.956, 5e-4),  # same, example 5, printed
        (0, 22064e3, 0.96, 1e-12),  # by hand
        (22064e3, 22064e3, 0.68, 1e-12),  # by hand
        (2.33932e3, 22064e3, 0.957117, 1e-6),  # by hand, water of 20 °C
        (19.9464e3, 22064e3, 0.951581, 1e-6),  # by hand, 60 °C
        (101.418e3, 22064e3, 0.941017, 1e-6),  # by hand, 100 °C
        (476.165e3, 22064e3, 0.918867, 1e-6),  # by hand, 150 °C
        (1002.81e3, 22064e3, 0.900307, 1e-6),  # by hand, water of 180 °C
    ],
)
def test_critical_pressure_factor(pv, pc, expected, tolerance):
    assert critical_pressure_factor(pv, pc) == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize(
    ("p1", "pv", "pc", "fl", "expected", "tolerance"),
    [
        (680e3, 70.1e3, 22120e3, 0.90, 497e3, 2e-3),  # ISA-75.01.01-2012, example 1, printed
        (680e3, 70.1e3, 22120e3, 0.60, 221e3, 2e-3),  # same, example 2, printed
        # Water of 20 °C at 10 bar, by hand: FL² (10 − 0.957117·0.0233932) bar.
        (10e5, 2.33932e3, 22064e3, 0.95, 9.00479e5, 1e-6),
        (10e5, 2.33932e3, 22064e3, 0.90, 8.08186e5, 1e-6),
        (10e5, 2.33932e3, 22064e3, 0.85, 7.20882e5, 1e-6),
        (10e5, 2.33932e3, 22064e3, 0.80, 6.38567e5, 1e-6),
        (10e5, 2.33932e3, 22064e3, 0.70, 4.88903e5, 1e-6),
        (10e5, 2.33932e3, 22064e3, 0.62, 3.83539e5, 1e-6),
        (10e5, 2.33932e3, 22064e3, 0.50, 2.49440e5, 2e-6),
        (10e5, 2.33932e3, 22064e3, 0.60, 3.59194e5, 1e-6),
        # `fluids`' choke pressure: P2 458.888 kPa (FL 0.6).
        (680e3, 69682.9, 22048320.0, 0.60, 680e3 - 458887.5, 1e-5),
    ],
)
def test_choked_drop(p1, pv, pc, fl, expected, tolerance):
    assert choked_drop(p1, pv, pc, fl) == pytest.approx(expected, rel=tolerance)


def test_choked_drop_with_reducers():
    # Independent solver: FLP 0.802985, FP 0.929998 give 457.599 kPa for example 1's water.
    assert choked_drop(680e3, 70.1e3, 22120e3, 0.802985, 0.929998) == pytest.approx(457.599e3, rel=1e-5)


@pytest.mark.parametrize(
    ("p2", "options", "verdict"),
    # Water of 20 °C from 10 bar, FL 0.9: choked from a drop of 8.08186 bar (by hand, above), jet at Pv from
    # 0.81 (10 − 0.0233932) = 8.08105 bar, flashing below 0.0233932 bar.
    [
        (3.0e5, {}, "none"),
        (1.9190e5, {}, "none"),
        (1.9186e5, {}, "cavitation"),
        (1.9182e5, {}, "cavitation"),
        (1.9181e5, {}, "choked"),
        (2.4e3, {}, "choked"),
        (2.3e3, {}, "flashing"),
        (5.0e5, {"xfz": 0.4}, "cavitation"),
        (7.0e5, {"xfz": 0.4}, "none"),
    ],
)
def test_verdict(p2, options, verdict):
    told = liquid_verdict(10e5, p2, 2.33932e3, 22064e3, 0.9, **options)
    assert told == verdict
    assert told in VERDICTS


@given(st.floats(0.3, 1.0), st.floats(1e2, 9e5))
def test_verdicts_come_in_order_as_the_outlet_falls(fl, pv):
    told = liquid_verdict(10e5, np.linspace(9.99e5, 0, 300), pv, 22064e3, fl)
    ranks = [VERDICTS.index(word) for word in told]
    assert ranks == sorted(ranks)
    assert ranks[-1] == VERDICTS.index("flashing")


# The library's table and equations of saturated water against CoolProp (IAPWS-95), which is in the tests only.
WATER = [
    (vapour_pressure, lambda t: PropsSI("P", "T", t, "Q", 0, "Water"), 2e-4),
    (water_density, lambda t: PropsSI("D", "T", t, "Q", 0, "Water"), 1e-4),
    (water_viscosity, lambda t: PropsSI("V", "T", t, "Q", 0, "Water") / PropsSI("D", "T", t, "Q", 0, "Water"), 5e-4),
]


@pytest.mark.parametrize(("ours", "theirs", "tolerance"), WATER)
def test_water_against_iapws(ours, theirs, tolerance):
    kelvin = np.linspace(288.15, 453.15, 120)
    assert ours(kelvin) == pytest.approx([theirs(t) for t in kelvin], rel=tolerance)


def test_critical_pressure_of_water():
    assert PropsSI("PCRIT", "Water") == pytest.approx(WATER_CRITICAL_PRESSURE, rel=1e-6)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: choked_drop(1e5, 2e5, 22e6, 0.9), "p1 − pv must be above 0 Pa"),
        (lambda: choked_drop(1e6, 2e5, 22e6, 1.2), "fl must be above 0 and at most 1"),
        (lambda: critical_pressure_factor(23e6, 22e6), "pv / pc must be from 0 to 1"),
        (lambda: cavitation_index(1e6, 1e6, 1e3), "p1 − p2 must be above 0 Pa"),
        (lambda: liquid_verdict(1e6, 5e5, 1e3, 22e6, 0.9, xfz=0), "xfz must be above 0"),
        (lambda: vapour_pressure(20), "temperature must be from 288.15 to 453.15 K, but got 20."),
    ],
)
def test_refusals_are_sentences(call, words):
    with pytest.raises(ValueError, match=r"\.$") as refusal:
        call()
    assert words in str(refusal.value)
