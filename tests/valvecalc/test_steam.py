"""Saturated steam against IAPWS-95 (by CoolProp)."""

import numpy as np
import pytest
from CoolProp import CoolProp

from valvecalc.steam import saturation_temperature, steam_density
from valvecalc.water import vapour_pressure

PRESSURES = np.array([1.02, 1.5, 2, 3, 4.5, 6, 8, 9, 10, 20, 42, 70, 100]) * 1e5


def test_temperature():
    theirs = CoolProp.PropsSI("T", "P", PRESSURES, "Q", 1, "Water")
    np.testing.assert_allclose(saturation_temperature(PRESSURES), theirs, atol=0.01)


def test_density():
    np.testing.assert_allclose(
        steam_density(PRESSURES), CoolProp.PropsSI("D", "P", PRESSURES, "Q", 1, "Water"), rtol=1e-3
    )


def test_temperature_undoes_vapour_pressure():
    np.testing.assert_allclose(vapour_pressure(saturation_temperature(PRESSURES)), PRESSURES, rtol=1e-9)


@pytest.mark.parametrize("function", [saturation_temperature, steam_density])
def test_outside_it_says_so(function):
    with pytest.raises(ValueError, match="p1 must be from 102000 to 1e\\+07 Pa, but got 2e\\+07"):
        function(200e5)
