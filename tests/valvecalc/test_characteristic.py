"""Inherent curves, their inverse and slope, against the formulas of the standards worked out by hand."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc import characteristic
from valvecalc.characteristic import (
    equal_percentage,
    equal_percentage_slope,
    equal_percentage_travel,
    linear,
    linear_slope,
    phi_closed,
    quick_opening,
    quick_opening_slope,
)

TENTHS = np.arange(11) / 10

# Phi in percent at 0, 10, ... 100 % travel. IEC 60534-2-4 ideal equal percentage, 100 R^(h - 1) worked to six
# digits: R = 50 at half travel is 100 / sqrt(50) = 14.1421.
EQUAL_PERCENTAGE = {
    20: [5, 6.74641, 9.10282, 12.2823, 16.5723, 22.3607, 30.1709, 40.7091, 54.9280, 74.1134, 100],
    30: [3.33333, 4.68372, 6.58117, 9.24730, 12.9935, 18.2574, 25.6538, 36.0465, 50.6496, 71.1685, 100],
    50: [2, 2.95752, 4.37345, 6.46727, 9.56352, 14.1421, 20.9128, 30.9249, 45.7305, 67.6243, 100],
    100: [1, 1.58489, 2.51189, 3.98107, 6.30957, 10, 15.8489, 25.1189, 39.8107, 63.0957, 100],
    1.6**10: [0.909495, 1.45519, 2.32831, 3.72529, 5.96046, 9.53674, 15.2588, 24.4141, 39.0625, 62.5, 100],
}
# Worked by hand: 100 (1/R + (1 - 1/R) h), steps of 9.8 and 9.66667.
LINEAR = {
    50: [2, 11.8, 21.6, 31.4, 41.2, 51, 60.8, 70.6, 80.4, 90.2, 100],
    30: [3.33333, 13, 22.6667, 32.3333, 42, 51.6667, 61.3333, 71, 80.6667, 90.3333, 100],
}
# Worked by hand: 100 h^(1/root); standards give no equation. The third passes 30 % travel, 60 % capacity.
QUICK_OPENING = {
    2: [31.6228, 44.7214, 54.7723, 63.2456, 70.7107, 83.6660, 94.8683],
    3: [46.4159, 58.4804, 66.9433, 73.6806, 79.3701, 88.7904, 96.5489],
    1 / 0.424283: [37.6458, 50.5171, 60, 67.7892, 74.5209, 85.9563, 95.6282],
}


@pytest.mark.parametrize(("rangeability", "percent"), EQUAL_PERCENTAGE.items())
def test_equal_percentage(rangeability, percent):
    np.testing.assert_allclose(100 * equal_percentage(TENTHS, rangeability), percent, rtol=1e-5)


@pytest.mark.parametrize(("rangeability", "percent"), LINEAR.items())
def test_linear(rangeability, percent):
    np.testing.assert_allclose(100 * linear(TENTHS, rangeability), percent, rtol=1e-5)


@pytest.mark.parametrize(("root", "percent"), QUICK_OPENING.items())
def test_quick_opening(root, percent):
    travel = [0.1, 0.2, 0.3, 0.4, 0.5, 0.7, 0.9]
    np.testing.assert_allclose(100 * quick_opening(travel, root), percent, rtol=1e-5)


# Slope: ln R = 3.91202 (R = 50) and 3.40120 (R = 30) at full travel, over R at travel 0; worked by hand.
@pytest.mark.parametrize(("rangeability", "top", "bottom"), [(50, 3.91202, 0.0782405), (30, 3.40120, 0.113373)])
def test_equal_percentage_slope(rangeability, top, bottom):
    np.testing.assert_allclose(equal_percentage_slope([1, 0], rangeability), [top, bottom], rtol=1e-5)


@pytest.mark.parametrize(("travel", "percent"), [(0, 0), (0.005, 2.57604), (0.01, 5.15208), (0.5, 22.3607)])
def test_toe_closes_the_curve(travel, percent):
    # Modelica Standard Library: R = 20, toe 0.01; 100 x 20^-0.99 = 5.15208 at the corner, half of it half way.
    assert 100 * equal_percentage(travel, 20, toe=0.01) == pytest.approx(percent, rel=1e-5)


CURVES = {
    # curve with its slope, further inputs
    "linear": {"rangeability": 50},
    "equal_percentage": {"rangeability": 30, "toe": 0.02},
    "quick_opening": {"root": 2.5},
}


def curve_and_slope(name):
    return getattr(characteristic, name), getattr(characteristic, f"{name}_slope")


@given(st.floats(0, 1), st.floats(1.001, 1e4), st.floats(0, 0.9))
def test_inverse_holds_for_any_rangeability_and_toe(travel, rangeability, toe):
    phi = equal_percentage(travel, rangeability, toe)
    assert equal_percentage_travel(phi, rangeability, toe) == pytest.approx(travel, abs=1e-9)


@pytest.mark.parametrize("name", CURVES)
@given(a=st.floats(0, 1), b=st.floats(0, 1))
def test_curves_rise_from_closed_to_one(name, a, b):
    curve, _ = curve_and_slope(name)
    low, high = curve(sorted([a, b]), **CURVES[name])
    assert 0 <= low <= high <= 1
    assert curve(1, **CURVES[name]) == pytest.approx(1, rel=1e-15)


@pytest.mark.parametrize("name", CURVES)
@given(travel=st.floats(0.03, 0.999))
def test_slope_is_the_derivative(name, travel):
    curve, slope = curve_and_slope(name)
    step = 1e-6  # central difference: error near 1e-10 of the slope plus rounding
    rise = curve(travel + step, **CURVES[name]) - curve(travel - step, **CURVES[name])
    assert slope(travel, **CURVES[name]) == pytest.approx(rise / (2 * step), rel=1e-6)


def test_slope_inside_the_toe_is_that_of_its_straight_line():
    # 20^-0.99 / 0.01 = 5.15208, worked by hand.
    assert equal_percentage_slope(0.004, 20, toe=0.01) == pytest.approx(5.15208, rel=1e-5)


def test_everything_broadcasts():
    travel, rangeability = np.linspace(0, 1, 5)[:, None], [20.0, 50.0, 100.0]
    for curve in (linear, equal_percentage, linear_slope, equal_percentage_slope):
        assert curve(travel, rangeability).shape == (5, 3)
    phi = equal_percentage(travel, rangeability)
    np.testing.assert_allclose(equal_percentage_travel(phi, rangeability), travel + np.zeros(3), atol=1e-12)
    assert equal_percentage(0.5, 50, toe=[0.0, 0.1]).shape == (2,)
    assert phi_closed(None) == 0


REFUSED = [
    (lambda: linear(50), "travel must be from 0 to 1 (a fraction or ratio), but got 50."),
    (lambda: equal_percentage(0.5, 1), "rangeability must be above 1 (a fraction or ratio), but got 1."),
    (lambda: equal_percentage(0.5, 50, toe=1), "toe must be at least 0 and below 1 (a fraction or ratio), but got 1."),
    (lambda: quick_opening(0.5, 0.5), "root must be from 1 to 10 (a fraction or ratio), but got 0.5."),
    (lambda: quick_opening(-0.1), "travel must be from 0 to 1 (a fraction or ratio), but got -0.1."),
    (
        lambda: equal_percentage_travel([0.5, 0.01], 50),
        "phi must be from 0.02 to 1 (a fraction or ratio), but got 0.01.",
    ),
    (
        lambda: equal_percentage_travel([0.03, 0.03], [50, 20]),
        "phi must be from 0.05 to 1 (a fraction or ratio), but got 0.03.",
    ),
    (
        lambda: quick_opening_slope(0),
        "travel must be above 0 and at most 1 (a fraction or ratio), but got 0.",
    ),
]


@pytest.mark.parametrize(("call", "sentence"), REFUSED)
def test_refusals(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence
