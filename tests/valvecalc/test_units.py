"""Conversions against values worked from the definitions of the units."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.valvecalc.in_pounds import UNITS
from valvecalc.units import (
    BAR,
    GALLON,
    PSI,
    SIGNALS,
    WATER_DENSITY,
    av_from_kv,
    cv_from_kv,
    fraction_from_signal,
    kv_from_cv,
    signal_from_fraction,
    split_range,
)

# Printed to six digits, so half a digit of the sixth is the honest tolerance.
COEFFICIENTS = [
    # got, expected, source
    (kv_from_cv(1), 0.864978, "3.785411784 L x 60 x sqrt(1e5 / 6894.757), worked by hand"),
    (cv_from_kv(1), 1.15610, "1 / 0.864978"),
    (av_from_kv(1), 2.77653e-5, "sqrt(999.103 / 1e5) / 3600; density of water at 15 degC from IAPWS-95"),
    (cv_from_kv(1) * 25.4**2, 745.869, "Cv/d^2 in inches from Kv/d^2 in mm: 1.15610 x 645.16"),
    (av_from_kv(kv_from_cv(1)), 2.40164e-5, "2.77653e-5 x 0.864978"),
]


@pytest.mark.parametrize(("got", "expected", "source"), COEFFICIENTS)
def test_flow_coefficients(got, expected, source):
    assert got == pytest.approx(expected, rel=2e-6), source


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [(PSI, UNITS("psi").to("Pa").m), (GALLON, UNITS("US_liquid_gallon").to("m^3").m), (BAR, UNITS("bar").to("Pa").m)],
)
def test_constants_agree_with_a_units_library(ours, theirs):
    assert ours == pytest.approx(theirs, rel=1e-9)


def test_density_agrees_with_a_water_library():
    coolprop = pytest.importorskip("CoolProp.CoolProp")
    ours = coolprop.PropsSI("D", "T", 288.15, "P", 101325, "Water")
    assert pytest.approx(ours, rel=1e-6) == WATER_DENSITY


# 0/25/50/75/100 % of each range: five equal steps (IEC 60381-1 and IEC 60382 from memory; psi common practice).
@pytest.mark.parametrize(
    ("signal_range", "unit", "values"),
    [
        ("4-20 mA", 1e-3, [4, 8, 12, 16, 20]),
        ("3-15 psi", 6894.757293, [3, 6, 9, 12, 15]),
        ("0.2-1.0 bar", 1e5, [0.2, 0.4, 0.6, 0.8, 1.0]),
    ],
)
def test_signals(signal_range, unit, values):
    steps = [0, 0.25, 0.5, 0.75, 1]
    expected = np.array(values) * unit
    np.testing.assert_allclose(signal_from_fraction(steps, signal_range), expected, rtol=1e-9)
    np.testing.assert_allclose(fraction_from_signal(expected, signal_range), steps, atol=1e-9)


def test_half_scale_of_the_two_pneumatic_ranges_differs():
    # 9 psi is 62.05 kPa and 0.6 bar 60 kPa: 9 x 6894.757 Pa, worked by hand.
    assert signal_from_fraction(0.5, "3-15 psi") == pytest.approx(62053, abs=1)
    assert signal_from_fraction(0.5, "0.2-1.0 bar") == pytest.approx(60000)


@pytest.mark.parametrize(("signal_range"), SIGNALS)
def test_a_dead_signal_shows_as_minus_a_quarter(signal_range):
    # Zero is a fifth of full scale in all three, so no signal is -1/4 of the span.
    assert fraction_from_signal(0, signal_range) == pytest.approx(-0.25)


# 4-12 / 12-20 mA; common practice, worked by hand: (mA - start) / 8, held between 0 and 1.
@pytest.mark.parametrize(
    ("milliamp", "valve_a", "valve_b"), [(8, 0.5, 0), (12, 1, 0), (14, 1, 0.25), (16, 1, 0.5), (3.8, 0, 0)]
)
def test_split_range(milliamp, valve_a, valve_b):
    x = fraction_from_signal(milliamp / 1000, "4-20 mA")
    assert split_range(x, 0, 0.5) == pytest.approx(valve_a, abs=1e-12)
    assert split_range(x, 0.5, 1) == pytest.approx(valve_b, abs=1e-12)
    assert split_range(x, 0.5, 0) == pytest.approx(1 - valve_a, abs=1e-12)  # the same part, closing


@given(st.floats(0, 1e6))
def test_coefficient_conversion_undoes_itself(kv):
    assert kv_from_cv(cv_from_kv(kv)) == pytest.approx(kv, rel=1e-14)


@given(st.floats(-0.25, 1.2), st.sampled_from(sorted(SIGNALS)))
def test_signal_conversion_undoes_itself(fraction, signal_range):
    back = fraction_from_signal(signal_from_fraction(fraction, signal_range), signal_range)
    assert back == pytest.approx(fraction, abs=1e-12)


REFUSED = [
    (lambda: kv_from_cv(-1), "cv must be at least 0 US gal/min at 1 psi, but got -1."),
    (
        lambda: signal_from_fraction(50, "4-20 mA"),
        "fraction must be from -0.25 to 1.25 (a fraction or ratio), but got 50.",
    ),
    (lambda: fraction_from_signal(12, "4-20 mA"), "signal must be from 0 to 0.024 A, but got 12."),
    (
        lambda: signal_from_fraction(0.5, "0-10 V"),
        "signal_range must be one of 4-20 mA, 3-15 psi, 0.2-1.0 bar, but got '0-10 V'.",
    ),
    (
        lambda: split_range(0.5, 0.5, 0.5),
        "the distance from start to end must be above 0 and at most 1 (a fraction or ratio), but got 0.",
    ),
]


@pytest.mark.parametrize(("call", "sentence"), REFUSED)
def test_refusals(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence
