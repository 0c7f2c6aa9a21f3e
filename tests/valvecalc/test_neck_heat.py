"""Temperature along a bonnet's neck, against a solver of its own and the textbook's ends."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.neck_heat import fin_parameter, neck_temperature

LENGTH, FIN, HOT, AIR = 0.25, 4.5, 553.15, 303.15


def solved(covered, cells=2000):
    """Solve θ'' = m²θ where bare, θ'' = 0 where wrapped, by differences: θ(0) given, no heat out of the top."""
    step = LENGTH / cells
    x = np.linspace(0, LENGTH, cells + 1)
    bare = np.where(x > covered + step / 4, (FIN * step) ** 2, 0.0)
    matrix = np.diag(-2 - bare) + np.diag(np.ones(cells), 1) + np.diag(np.ones(cells), -1)
    matrix[0], matrix[-1] = 0, 0
    matrix[0, 0], matrix[-1, -1], matrix[-1, -2] = 1, -(2 + bare[-1]) / 2, 1
    right = np.zeros(cells + 1)
    right[0] = HOT - AIR
    return x, AIR + np.linalg.solve(matrix, right)


@pytest.mark.parametrize("covered", [0.0, 0.05, 0.125, 0.2, 0.25])
def test_against_differences(covered):
    x, kelvin = solved(covered)
    assert neck_temperature(x, LENGTH, covered, FIN, HOT, AIR) == pytest.approx(kelvin, abs=0.15)


def test_bare_end_by_hand():
    """m·L = 1.125, cosh 1.125 = 1.7025: 250/1.7025 = 146.8 K above the air of 30 °C."""
    assert neck_temperature(LENGTH, LENGTH, 0, FIN, HOT, AIR) - AIR == pytest.approx(146.84, abs=0.05)


@given(st.floats(0, 0.25), st.floats(0, 0.25))
def test_the_more_is_wrapped_the_hotter(first, second):
    less, more = sorted((first, second))
    cool, hot = (float(neck_temperature(LENGTH, LENGTH, c, FIN, HOT, AIR)) for c in (less, more))
    assert AIR < cool <= hot + 1e-9
    assert hot <= HOT + 1e-9


def test_wrapped_to_the_top_it_is_as_hot_as_the_body():
    assert neck_temperature(LENGTH, LENGTH, LENGTH, FIN, HOT, AIR) == pytest.approx(HOT)


def test_fin_parameter_by_hand():
    """√(12 · 0.2/(45 · 0.0025)) = √21.333 = 4.6188."""
    assert fin_parameter(12, 0.2, 45, 0.0025) == pytest.approx(4.6188, rel=1e-5)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: neck_temperature(0.3, 0.25, 0, 4.5, 500, 300), "distance must be from 0 to 0.25 m, but got 0.3"),
        (lambda: neck_temperature(0.1, 0.25, 0.3, 4.5, 500, 300), "covered must be from 0 to 0.25 m"),
        (lambda: neck_temperature(0.1, 0.25, 0, 4.5, 290, 300), "body_temperature − air_temperature must be above 0 K"),
        (lambda: fin_parameter(0, 0.2, 45, 0.0025), "heat_transfer must be above 0"),
    ],
)
def test_refuses_in_a_sentence(call, sentence):
    with pytest.raises(ValueError, match=sentence):
        call()
