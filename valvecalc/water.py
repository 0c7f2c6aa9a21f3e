"""Saturated liquid water, freezing to its critical point: vapour pressure, density; viscosity from 15 to 180 °C."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range

WATER_CRITICAL_PRESSURE = 22.064e6  # Pa (IAPWS)
CRITICAL_TEMPERATURE = 647.096  # K (IAPWS)
CRITICAL_DENSITY = 322.0  # kg/m³ (IAPWS)
FREEZING = 273.15  # K; from here to the critical point the tests hold pressure and density to IAPWS-95
LOWEST, HIGHEST = 288.15, 453.15  # K, where they hold the viscosity to it

# Dynamic viscosity of saturated liquid [Pa s] at [°C], IAPWS-95 with the IAPWS viscosity of 2008.
VISCOSITY_AT = np.array([15, 20, 25, 30, 40, 50, 60, 70, 80, 90, 100, 110, 120, 130, 140, 150, 180.0])
VISCOSITY = 1e-3 * np.array([
    1.13762, 1.00163, 0.890036, 0.797224, 0.652717, 0.546498, 0.466016, 0.403530, 0.354036, 0.314167, 0.281582,
    0.254611, 0.232034, 0.212941, 0.196643, 0.182611, 0.150381,
])  # fmt: skip


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
    Source: IAPWS SR1-86(1992), saturation properties of ordinary water, coefficients from memory and held to
    IAPWS-95 within 0.02 % by the tests.

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
    Source: IAPWS SR1-86(1992), saturation properties of ordinary water, coefficients from memory and held to
    IAPWS-95 by the tests: within 0.01 % up to 180 °C, 0.04 % up to 347 °C, 0.3 % from there.

    Examples
    --------
    >>> round(float(water_density(293.15)), 1)
    998.2
    """
    x = 1 - _liquid(temperature) / CRITICAL_TEMPERATURE
    terms = 1.99274064 * x ** (1 / 3) + 1.09965342 * x ** (2 / 3) - 0.510839303 * x ** (5 / 3)
    terms = terms - 1.75493479 * x ** (16 / 3) - 45.5170352 * x ** (43 / 3) - 6.74694450e5 * x ** (110 / 3)
    return CRITICAL_DENSITY * (1 + terms)


def water_viscosity(temperature: ArrayLike) -> Floats:
    """Kinematic viscosity of saturated liquid water.

    Parameters
    ----------
    temperature : array_like
        Temperature, 288.15 to 453.15 (15 to 180 °C) [K].

    Returns
    -------
    numpy.ndarray
        Kinematic viscosity [m²/s].

    Raises
    ------
    ValueError
        If the temperature lies outside.

    Notes
    -----
    Equation: ν = μ/ρ, ln μ interpolated in 1/(T − 140 K), in which it is nearly a straight line.
    Source: table of IAPWS-95 values (μ by the IAPWS formulation of 2008); the 140 K is Vogel's form, from memory.

    Examples
    --------
    >>> round(float(water_viscosity(293.15)) * 1e6, 3)
    1.003
    """
    kelvin = in_range("temperature", temperature, LOWEST, HIGHEST, "K")
    nodes = 1 / (VISCOSITY_AT + 273.15 - 140)
    dynamic = np.exp(np.interp(-1 / (kelvin - 140), -nodes, np.log(VISCOSITY)))
    return dynamic / water_density(kelvin)


def _liquid(temperature: ArrayLike) -> Floats:
    return in_range("temperature", temperature, FREEZING, CRITICAL_TEMPERATURE, "K")
