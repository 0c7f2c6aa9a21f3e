"""Saturated steam, 1.02 to 100 bar absolute: the temperature it boils at, its density."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range
from valvecalc.water import CRITICAL_DENSITY, CRITICAL_TEMPERATURE, vapour_pressure

LOWEST_PRESSURE, HIGHEST_PRESSURE = 1.02e5, 100.0e5  # Pa, where the tests compare these functions with IAPWS-95
_BOILING, _HOTTEST = 373.15, 585.0  # K, just outside the boiling points at the two ends (374 to 584.2 K)


def saturation_temperature(p1: ArrayLike) -> Floats:
    """Temperature at which water boils and steam condenses.

    Parameters
    ----------
    p1 : array_like
        Pressure, 1.02e5 to 100e5 [Pa absolute].

    Returns
    -------
    numpy.ndarray
        Saturation temperature [K].

    Raises
    ------
    ValueError
        If the pressure lies outside.

    Notes
    -----
    Equation: the temperature whose vapour pressure this is, found by the secant method in 1/T and ln p, in which
    the two lie nearly on a straight line.
    Source: IAPWS SR1-86(1992) by `water.vapour_pressure`; the tests find it within 0.01 K of IAPWS-95.

    Examples
    --------
    >>> round(float(saturation_temperature(9e5)) - 273.15, 1)
    175.4
    """
    wanted = np.log(in_range("p1", p1, LOWEST_PRESSURE, HIGHEST_PRESSURE, "Pa"))
    low, high = np.full_like(wanted, 1 / _BOILING), np.full_like(wanted, 1 / _HOTTEST)
    for _ in range(6):
        known = [np.log(vapour_pressure(1 / each)) - wanted for each in (low, high)]
        apart = known[1] - known[0]
        step = np.divide(known[1] * (high - low), apart, out=np.zeros_like(wanted), where=apart != 0)
        low, high = high, np.clip(high - step, 1 / _HOTTEST, 1 / _BOILING)
    return 1 / high


def steam_density(p1: ArrayLike) -> Floats:
    """Density of dry saturated steam.

    Parameters
    ----------
    p1 : array_like
        Pressure, 1.02e5 to 100e5 [Pa absolute].

    Returns
    -------
    numpy.ndarray
        Density [kg/m³].

    Raises
    ------
    ValueError
        If the pressure lies outside.

    Notes
    -----
    Equation: ln(ρ/ρc) = Σ c_i (1 − T/Tc)^k_i at the saturation temperature.
    Source: IAPWS SR1-86(1992), saturation properties of ordinary water, coefficients from memory; the
    tests find it within 0.1 % of IAPWS-95.

    Examples
    --------
    >>> round(float(steam_density(9e5)), 2)
    4.65
    """
    x = 1 - saturation_temperature(p1) / CRITICAL_TEMPERATURE
    terms = -2.03150240 * x ** (2 / 6) - 2.68302940 * x ** (4 / 6) - 5.38626492 * x ** (8 / 6)
    terms = terms - 17.2991605 * x ** (18 / 6) - 44.7586581 * x ** (37 / 6) - 63.9201063 * x ** (71 / 6)
    return CRITICAL_DENSITY * np.exp(terms)
