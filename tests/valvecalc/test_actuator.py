"""Actuator and stored energy, against hand arithmetic in US units."""

import numpy as np
import pytest
from hypothesis import given

from tests.valvecalc.in_pounds import ACTION, SIZE, si, sized, us, valve
from valvecalc.actuator import (
    spring_actuator,
    spring_energy,
    trapped_air_energy,
)


def test_spring_of_a_bench_set():
    """(15 - 3) psi · 100 in² / 1.5 in = 800 lbf/in; 3 · 100 = 300 lbf, 0.375 in; 15 · 100 = 1500 lbf, 1.875 in."""
    actuator = valve()
    assert us(actuator.spring_rate, "N/m", "lbf/in") == pytest.approx(800, rel=1e-9)
    assert actuator.spring_rate == pytest.approx(140.101e3, rel=1e-5)  # 800 lbf/in in N/m, by definition of the units
    assert us(actuator.preload, "N", "lbf") == pytest.approx(300, rel=1e-9)
    assert us(actuator.preload / actuator.spring_rate, "m", "in") == pytest.approx(0.375, rel=1e-9)
    assert us(actuator.preload + actuator.spring_rate * actuator.rated_travel, "N", "lbf") == pytest.approx(1500)


def test_stored_energy():
    """800 lbf/in at 1.875 in: 800 · 1.875² / 2 = 1406.25 in·lbf = 158.885 J; less 800 · 0.375² / 2 = 56.25."""
    rate, full, rest = si(800, "lbf/in"), si(1.875, "in"), si(0.375, "in")
    assert spring_energy(rate, full) == pytest.approx(158.885, rel=1e-5)
    assert spring_energy(rate, full, rest) == pytest.approx(152.530, rel=1e-5)
    # 10 L at 6 bar gauge: 701 325 · 0.01 · ln(701 325 / 101 325) = 13 569 J; less 6e5 · 0.01 = 6000 J.
    assert trapped_air_energy(6e5, 0.01) == pytest.approx(7.569e3, rel=1e-3)


@given(ACTION, SIZE)
def test_bench_set_comes_back(action, size):
    _, low, span, _, _ = size
    actuator = sized(action, size, si)
    again = spring_actuator(
        action, actuator.area, actuator.spring_rate, actuator.preload, actuator.rated_travel, actuator.area_end
    )
    starts = again.preload / again.area  # the spring's force over the area that meets it, at each end
    ends = (again.preload + again.spring_rate * again.rated_travel) / again.area_end
    np.testing.assert_allclose([starts, ends], [si(low, "psi"), si(low + span, "psi")], rtol=1e-12)


BAD = [
    (lambda: valve("sideways"), "action must be one of direct, reverse, but got 'sideways'"),
    (lambda: valve(low=15, high=3), "the high end of the bench set must push harder"),
    (lambda: valve(area=0), "effective area must be above 0 m², but got 0"),
    (lambda: spring_energy(1, -1), "compression must be at least 0 m, but got -1"),
    (lambda: trapped_air_energy(1, 0), "volume must be above 0 m³"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said.replace("(", r"\(")):
        call()
