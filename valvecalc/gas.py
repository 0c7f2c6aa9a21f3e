"""What a gas brings to the valve: density, standard volume, the drop that chokes, the expansion factor."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive

# With these exact (SI 2019) the constants of the standard's gas equations come out as N8 = 1.09620 (printed 1.10,
# 0.35 % more) and N9 at 0 °C = 24.5701 (printed 24.6, 0.12 % more): expect such differences from printed answers.
GAS_CONSTANT = 8.314462618  # J/(mol K)
NORMAL_TEMPERATURE = 273.15  # K, the 0 °C state of IEC 60534-2-1; its other one is 15 °C
NORMAL_PRESSURE = 101325.0  # Pa


def gas_density(
    p1: ArrayLike, temperature: ArrayLike, molar_mass: ArrayLike, z: ArrayLike = 1.0
) -> Floats:
    """Density of a gas from its state.

    Parameters
    ----------
    p1 : array_like
        Pressure, above 0 [Pa absolute].
    temperature : array_like
        Temperature, above 0 [K].
    molar_mass : array_like
        Molar mass, above 0; air is 0.02897 [kg/mol].
    z : array_like
        Compressibility factor, above 0; 1 for an ideal gas [-].

    Returns
    -------
    numpy.ndarray
        Density [kg/m³].

    Raises
    ------
    ValueError
        If an input is not above zero.

    Notes
    -----
    Equation: ρ = p M / (Z R T), R = 8.314462618 J/(mol K).
    Source: gas law, worked by hand, R exact since the SI of 2019; molar mass of air from IEC 60534-2-1:2011, table D.1.

    Examples
    --------
    >>> round(float(gas_density(101325, 273.15, 0.02897)), 4)
    1.2925
    """
    gas = positive("z", z, "-") * GAS_CONSTANT * positive("temperature", temperature, "K")
    return positive("p1", p1, "Pa") * positive("molar_mass", molar_mass, "kg/mol") / gas


def standard_flow(mass_flow: ArrayLike, molar_mass: ArrayLike) -> Floats:
    """Volume flow of a gas at 0 °C and 101325 Pa from its mass flow.

    Parameters
    ----------
    mass_flow : array_like
        Mass flow, 0 or more [kg/s].
    molar_mass : array_like
        Molar mass, above 0 [kg/mol].

    Returns
    -------
    numpy.ndarray
        Standard volume flow at 0 °C and 101325 Pa, ideal gas [m³/s].

    Raises
    ------
    ValueError
        If the mass flow is negative or the molar mass not above zero.

    Notes
    -----
    Equation: Qs = W R 273.15 K / (M 101325 Pa).
    Source: gas law at the 0 °C state that IEC 60534-2-1:2011 offers for Qs.

    Examples
    --------
    >>> round(float(standard_flow(0.02897, 0.02897)) * 1000, 3)
    22.414
    """
    mass = in_range("mass_flow", mass_flow, 0, np.inf, "kg/s")
    return mass / gas_density(NORMAL_PRESSURE, NORMAL_TEMPERATURE, molar_mass)


def mass_flow_from_standard(flow: ArrayLike, molar_mass: ArrayLike) -> Floats:
    """Mass flow of a gas from its volume flow at 0 °C and 101325 Pa.

    Parameters
    ----------
    flow : array_like
        Standard volume flow at 0 °C and 101325 Pa, 0 or more [m³/s].
    molar_mass : array_like
        Molar mass, above 0 [kg/mol].

    Returns
    -------
    numpy.ndarray
        Mass flow [kg/s].

    Raises
    ------
    ValueError
        If the flow is negative or the molar mass not above zero.

    Notes
    -----
    Equation: W = Qs M 101325 Pa / (R 273.15 K).
    Source: gas law at the 0 °C state that IEC 60534-2-1:2011 offers for Qs.

    Examples
    --------
    >>> round(float(mass_flow_from_standard(1, 0.02897)), 4)
    1.2925
    """
    volume = in_range("flow", flow, 0, np.inf, "m³/s")
    return volume * gas_density(NORMAL_PRESSURE, NORMAL_TEMPERATURE, molar_mass)


def choked_ratio(gamma: ArrayLike, xt: ArrayLike) -> Floats:
    """Ratio of pressure drop to inlet pressure from which a gas is choked.

    Parameters
    ----------
    gamma : array_like
        Ratio of specific heats, above 1.08 and below 1.65 [-].
    xt : array_like
        Pressure differential ratio factor xT, above 0, at most 0.84; with reducers xTP [-].

    Returns
    -------
    numpy.ndarray
        x_choked [-].

    Raises
    ------
    ValueError
        If an input is outside the limits the equations are stated for.

    Notes
    -----
    Equation: x_choked = Fγ xT, Fγ = γ/1.4.
    Source: IEC 60534-2-1:2011, equations 9 and 10, limits of γ and xT from its scope.

    Examples
    --------
    >>> round(float(choked_ratio(1.30, 0.60)), 6)
    0.557143
    """
    heats = in_range("gamma", gamma, 1.08, 1.65, "-", above=True, below=True)
    return heats / 1.4 * in_range("xt", xt, 0, 0.84, "-", above=True)


def expansion_factor(p1: ArrayLike, p2: ArrayLike, gamma: ArrayLike, xt: ArrayLike) -> Floats:
    """Expansion factor Y: how much less a gas flows than a liquid of its inlet density would.

    Parameters
    ----------
    p1, p2 : array_like
        Pressure before and after the valve, p2 0 or more and below p1 [Pa absolute].
    gamma : array_like
        Ratio of specific heats, above 1.08 and below 1.65 [-].
    xt : array_like
        Pressure differential ratio factor xT, above 0, at most 0.84; with reducers xTP [-].

    Returns
    -------
    numpy.ndarray
        Y, from 1 at no drop down to 2/3 at choked flow and beyond [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: Y = 1 − x/(3 Fγ xT), x = (P1 − P2)/P1, no lower than 2/3.
    Source: IEC 60534-2-1:2011, equations 8 to 12.

    Examples
    --------
    >>> round(float(expansion_factor(680e3, 450e3, 1.30, 0.60)), 4)
    0.7976
    """
    pressure = positive("p1", p1, "Pa")
    drop = positive("p1 − p2", pressure - in_range("p2", p2, 0, np.inf, "Pa"), "Pa")
    return 1 - np.minimum(drop / (3 * pressure * choked_ratio(gamma, xt)), 1 / 3)
