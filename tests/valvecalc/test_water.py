"""The water the lessons count with, against IAPWS-95."""

import numpy as np
import pytest
from CoolProp.CoolProp import PropsSI

from valvecalc.water import WATER_CRITICAL_PRESSURE, vapour_pressure, water_density, water_viscosity

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
    assert WATER_CRITICAL_PRESSURE == 22.064e6


@pytest.mark.parametrize("of_water", [vapour_pressure, water_density, water_viscosity])
def test_refusal_is_a_sentence(of_water):
    with pytest.raises(ValueError, match=r"^temperature must be from 288\.15 to 453\.15 K, but got 20\.$"):
        of_water(20)
