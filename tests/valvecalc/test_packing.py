"""Packing friction and dead band, against hand arithmetic in US units."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.valvecalc.in_pounds import si
from valvecalc.packing import dead_band_pressure, load_left, packing_friction, signal_dead_band

# Rings of ¼ in on a ½ in stem at 2000 psi, Y 0.5: π · 0.5 · H · 2000 · μ · 0.5 lbf. Formula and Y: ASME/NRC paper
# PVS2017-3518, abstract; friction coefficients from memory, from general tables.
FRICTION = [
    (4, 0.10, 157.080),  # H 1 in: π · 50
    (4, 0.05, 78.5398),  # π · 25
    (2, 0.10, 78.5398),  # half the rings, half the friction
    (0, 0.10, 0.0),
]


@pytest.mark.parametrize(("rings", "mu", "pounds"), FRICTION)
def test_friction(rings, mu, pounds):
    newton = packing_friction(si(0.5, "in"), rings, si(0.25, "in"), si(2000, "psi"), mu)
    assert newton == pytest.approx(si(pounds, "lbf"), rel=1e-5)


def test_friction_in_si():
    """The first row in newtons: 157.080 · 4.44822 = 698.73 N."""
    newton = packing_friction(0.0127, 4, 0.00635, 13.7895e6, 0.10)
    assert newton == pytest.approx(698.725, rel=1e-5)


# Friction lbf, area in²: dead band 2 F / A in psi, as part of a 12 psi range.
DEAD_BAND = [(50, 100, 1.0, 0.0833), (100, 100, 2.0, 0.167), (150, 69, 4.348, 0.362)]


@pytest.mark.parametrize(("pounds", "area", "psi", "share"), DEAD_BAND)
def test_dead_band(pounds, area, psi, share):
    friction, surface = si(pounds, "lbf"), si(area, "in^2")
    assert dead_band_pressure(friction, surface) == pytest.approx(si(psi, "psi"), rel=2e-4)
    assert signal_dead_band(friction, surface, si(12, "psi")) == pytest.approx(share, rel=3e-3)
    # A positioner of gain 20 asks for a twentieth of the signal to build up the same pressure.
    with_positioner = signal_dead_band(friction, surface, si(12, "psi"), 20)
    assert with_positioner == pytest.approx(share / 20, rel=3e-3)


@given(st.floats(1, 5000), st.floats(0.005, 0.3), st.floats(1e4, 3e5), st.floats(1, 200))
def test_dead_band_grows_with_friction_and_shrinks_with_a_positioner(friction, area, span, gain):
    plain = signal_dead_band(friction, area, span)
    assert signal_dead_band(2 * friction, area, span) == pytest.approx(2 * plain, rel=1e-12)
    assert signal_dead_band(friction, area, span, gain) <= plain
    assert plain * span == pytest.approx(dead_band_pressure(friction, area), rel=1e-12)


def test_arrays_broadcast():
    assert packing_friction(0.0127, np.arange(5), 0.006, np.full((3, 1), 1e7), 0.1).shape == (3, 5)


BAD = [
    (lambda: packing_friction(0, 4, 0.006, 1e7, 0.1), "stem diameter must be above 0 m, but got 0"),
    (lambda: packing_friction(0.0127, -1, 0.006, 1e7, 0.1), "number of rings must be at least 0 rings"),
    (lambda: packing_friction(0.0127, 4, 0.006, 1e7, 0.1, 50), "radial ratio must be from 0 to 1"),
    (lambda: signal_dead_band(1, 1, 1, 0.5), "positioner gain must be at least 1"),
    (lambda: dead_band_pressure(-1, 1), "friction must be at least 0 N, but got -1"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said):
        call()


@pytest.mark.parametrize(
    ("rates", "settling", "left"),
    [
        # Statics, by hand: 6 kN; studs alone give 6 kN up after 6000/400e6 = 15 µm.
        ([400e6], 0.0, 6000.0),
        ([400e6], 5e-6, 4000.0),
        ([400e6], 15e-6, 0.0),
        ([400e6], 1e-3, 0.0),
        # Six disc springs of 12 kN/mm one above another give 2 kN/mm; with the studs 1/(1/2 + 1/400) = 1.99005.
        ([400e6, *[12e6] * 6], 0.5e-3, 6000 - 0.5 * 1990.05),
        ([1e12, 12e6, 12e6], 0.2e-3, 6000 - 0.2 * 6000),
    ],
)
def test_load_left_after_settling(rates, settling, left):
    assert load_left(6000, rates, settling) == pytest.approx(left, rel=1e-5, abs=1e-6)
