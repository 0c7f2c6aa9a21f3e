"""Saturated liquid water from freezing to its critical point: vapour pressure and density."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range

WATER_CRITICAL_PRESSURE = 22.064e6  # Pa (IAPWS)
CRITICAL_TEMPERATURE = 647.096  # K (IAPWS)
CRITICAL_DENSITY = 322.0  # kg/m³ (IAPWS)
FREEZING = 273.15  # K; from here to the critical point the tests compare pressure and density with IAPWS-95


def vapour_pressure(temperature: ArrayLike) -> Floats:
    """Vapour pressure of water.

    Parameters
    ----------
    temperature : array_like
        Temperature, 273.15 to 647.096 (0 to 373.946 °C) [K].

    Returns
    -------
    numpy.ndarray
        Vapour pressure [Pa absolute].

    Raises
    ------
    ValueError
        If the temperature lies outside.

    Notes
    -----
    Equation: ln(Pv/Pc) = (Tc/T) Σ a_i (1 − T/Tc)^k_i.
    Source: IAPWS SR1-86(1992), saturation properties of ordinary water, coefficients from memory; the
    tests find it within 0.02 % of IAPWS-95.

    Examples
    --------
    >>> round(float(vapour_pressure(373.15)), -2)
    101400.0
    """
    kelvin = _liquid(temperature)
    x = 1 - kelvin / CRITICAL_TEMPERATURE
    terms = -7.85951783 * x + 1.84408259 * x**1.5 - 11.7866497 * x**3
    terms = terms + 22.6807411 * x**3.5 - 15.9618719 * x**4 + 1.80122502 * x**7.5
    return WATER_CRITICAL_PRESSURE * np.exp(terms * CRITICAL_TEMPERATURE / kelvin)


def water_density(temperature: ArrayLike) -> Floats:
    """Density of saturated liquid water.

    Parameters
    ----------
    temperature : array_like
        Temperature, 273.15 to 647.096 (0 to 373.946 °C) [K].

    Returns
    -------
    numpy.ndarray
        Density [kg/m³].

    Raises
    ------
    ValueError
        If the temperature lies outside.

    Notes
    -----
    Equation: ρ/ρc = 1 + Σ b_i (1 − T/Tc)^k_i.
    Source: IAPWS SR1-86(1992), saturation properties of ordinary water, coefficients from memory. The
    tests compare it with IAPWS-95: within 0.01 % up to 180 °C, 0.04 % up to 347 °C, 0.3 % from there.

    Examples
    --------
    >>> round(float(water_density(293.15)), 1)
    998.2
    """
    x = 1 - _liquid(temperature) / CRITICAL_TEMPERATURE
    terms = 1.99274064 * x ** (1 / 3) + 1.09965342 * x ** (2 / 3) - 0.510839303 * x ** (5 / 3)
    terms = terms - 1.75493479 * x ** (16 / 3) - 45.5170352 * x ** (43 / 3) - 6.74694450e5 * x ** (110 / 3)
    return CRITICAL_DENSITY * (1 + terms)


def _liquid(temperature: ArrayLike) -> Floats:
    return in_range("temperature", temperature, FREEZING, CRITICAL_TEMPERATURE, "K")
