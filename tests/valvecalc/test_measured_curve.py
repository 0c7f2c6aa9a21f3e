"""Curves through measured points, against scipy's monotone cubic and invariants."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.interpolate import PchipInterpolator

from valvecalc.measured_curve import tabulated, tabulated_slope, tabulated_travel

TRAVEL = np.array([0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0])


@st.composite
def tables(draw):
    """Travel and coefficient of a table that rises, with steps from tiny to large and flat stretches."""
    count = draw(st.integers(2, 12))
    steps = draw(st.lists(st.floats(0.01, 1), min_size=count, max_size=count))
    rises = draw(st.lists(st.sampled_from([0.0, 1e-4, 0.1, 0.5, 1.0]), min_size=count, max_size=count))
    x = np.cumsum(steps)
    return x / x[-1], np.cumsum(rises)


@given(tables())
def test_agrees_with_the_reference_library(table):
    x, y = table
    at = np.linspace(x[0], x[-1], 97)
    oracle = PchipInterpolator(x, y)
    np.testing.assert_allclose(tabulated(at, x, y), oracle(at), rtol=1e-10, atol=1e-12)
    np.testing.assert_allclose(tabulated_slope(at, x, y), oracle(at, 1), rtol=1e-8, atol=1e-8)


@given(tables())
def test_passes_the_points_and_never_falls(table):
    x, y = table
    np.testing.assert_allclose(tabulated(x, x, y), y, atol=1e-12)
    assert (np.diff(tabulated(np.linspace(x[0], x[-1], 301), x, y)) >= -1e-12).all()


@given(tables(), st.floats(0, 1))
def test_inverse_gives_back_the_coefficient(table, part):
    x, y = table
    phi = min(y[0] + part * (y[-1] - y[0]), y[-1])
    # A rise of 1e-4 beside one of 1: the last bit of travel is worth 1e-15 x slope 1e3.
    assert tabulated(tabulated_travel(phi, x, y), x, y) == pytest.approx(phi, abs=1e-11)


@given(st.floats(0.05, 1))
def test_inverse_returns_the_travel_of_a_rising_table(travel):
    phi = 50 ** (TRAVEL - 1)
    assert tabulated_travel(tabulated(travel, TRAVEL, phi), TRAVEL, phi) == pytest.approx(travel, abs=1e-12)


def test_a_flat_table_gives_its_smallest_travel():
    assert tabulated_travel(0.2, [0, 0.4, 0.6, 1], [0, 0.2, 0.2, 1]) == pytest.approx(0.4)
    assert tabulated_travel(0.0, [0, 0.4, 1], [0, 0, 1]) == 0


def test_the_ideal_curve_is_met_between_the_tabulated_travels():
    # GB/T 4213-92 travels: 5, 10, 20 ... 100 %. A cubic of step 0.1 follows exp(3.9 h) well inside 0.5 %.
    at = np.linspace(0.1, 0.95, 60)
    np.testing.assert_allclose(tabulated(at, TRAVEL, 50 ** (TRAVEL - 1)), 50 ** (at - 1), rtol=5e-3)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: tabulated(0.02, TRAVEL, TRAVEL),
            "travel must be from 0.05 to 1 (a fraction or ratio), but got 0.02.",
        ),
        (
            lambda: tabulated(0.5, [0, 1], [0.2, 0.1]),
            "the step from one table_phi to the next must be at least 0 (a fraction or ratio), but got -0.1.",
        ),
        (
            lambda: tabulated_slope(0.5, [0, 0.5, 0.5, 1], [0, 1, 2, 3]),
            "the step from one table_travel to the next must be above 0 and at most 1 (a fraction or ratio), but got 0.",
        ),
        (lambda: tabulated(0.5, [0.5], [1]), "the number of table points must be at least 2 points, but got 1."),
        (
            lambda: tabulated_travel(2, [0, 1], [0, 1]),
            "phi must be from 0 to 1 (a fraction or ratio), but got 2.",
        ),
    ],
)
def test_refusals(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence
