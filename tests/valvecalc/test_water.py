"""The water the lessons count with, against IAPWS-95."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from valvecalc.water import WATER_CRITICAL_PRESSURE, vapour_pressure, water_density

# The library's table and equations of saturated water against CoolProp (IAPWS-95), which is in the tests only.
WATER = [
    (vapour_pressure, lambda t: PropsSI("P", "T", t, "Q", 0, "Water"), 2e-4),
    (water_density, lambda t: PropsSI("D", "T", t, "Q", 0, "Water"), 1e-4),
]


@pytest.mark.parametrize(("ours", "theirs", "tolerance"), WATER)
def test_water_against_iapws(ours, theirs, tolerance):
    kelvin = np.linspace(288.15, 453.15, 120)
    assert ours(kelvin) == pytest.approx([theirs(t) for t in kelvin], rel=tolerance)


@pytest.mark.parametrize(
    ("low", "high", "pressure", "density"),
    [
        (273.16, 453.15, 2e-4, 1e-4),
        (453.15, 620.0, 2e-4, 4e-4),
        (620.0, 647.0, 2e-4, 3e-3),
    ],
)
def test_from_the_triple_point_to_the_critical_one(low, high, pressure, density):
    kelvin = np.linspace(low, high, 80)
    assert vapour_pressure(kelvin) == pytest.approx(
        [PropsSI("P", "T", t, "Q", 0, "Water") for t in kelvin], rel=pressure
    )
    assert water_density(kelvin) == pytest.approx([PropsSI("D", "T", t, "Q", 0, "Water") for t in kelvin], rel=density)


def test_ice_point_and_critical_point_are_taken():
    assert float(vapour_pressure(273.15)) == pytest.approx(611.2, rel=5e-4)  # ice point, 611.213 Pa: IAPWS, from memory
    assert float(vapour_pressure(647.096)) == pytest.approx(22.064e6, rel=1e-9)
    assert float(water_density(647.096)) == pytest.approx(322.0, rel=1e-9)


def test_critical_pressure_of_water():
    assert PropsSI("PCRIT", "Water") == pytest.approx(WATER_CRITICAL_PRESSURE, rel=1e-6)
    assert WATER_CRITICAL_PRESSURE == 22.064e6


@pytest.mark.parametrize("of_water", [vapour_pressure, water_density])
def test_refusal_is_a_sentence(of_water):
    with pytest.raises(ValueError, match=r"^temperature must be from 273\.15 to 647\.096 K, but got 20\.$"):
        of_water(20)
