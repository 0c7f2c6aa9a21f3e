"""Gas and steam through a valve: density and standard volume, and flow from the coefficient and back, with reducers.

Nothing iterates on FP or xTP: with the coefficient as an area Av the standard's equation becomes a cubic in the
expansion factor alone, solved by Newton's method to the last digit; choked, it can be solved outright.

Non-turbulent gas is left out: two public copies of the 2011 annex disagree on its expansion factor (equation A.5),
and no worked example was found to decide. Nothing here tells where that begins: it takes a viscosity.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.blocks import in_blocks
from valvecalc.checks import Floats, in_range, positive, pressure_drop
from valvecalc.fittings import GAS_SHARE, given_sizes, reducer_factors, reducer_terms
from valvecalc.units import KV_PER_AV, av_from_kv

# With these exact (SI 2019) the constants of the standard's gas equations come out as N8 = 1.09620 (printed 1.10,
# 0.35 % more) and N9 at 0 °C = 24.5701 (printed 24.6, 0.12 % more): expect such differences from printed answers.
GAS_CONSTANT = 8.314462618  # J/(mol K)
NORMAL_TEMPERATURE = 273.15  # K, the 0 °C state of IEC 60534-2-1; its other one is 15 °C
NORMAL_PRESSURE = 101325.0  # Pa


def gas_flow(
    kv: ArrayLike,
    p1: ArrayLike,
    p2: ArrayLike,
    *,
    rho: ArrayLike,
    gamma: ArrayLike,
    xt: ArrayLike,
    d: ArrayLike | None = None,
    d1: ArrayLike | None = None,
    d2: ArrayLike | None = None,
) -> Floats:
    """Mass flow of a gas or steam through a valve, turbulent, choked or not, with or without reducers.

    Parameters
    ----------
    kv : array_like
        Flow coefficient, 0 or more [m³/h at 1 bar].
    p1, p2 : array_like
        Pressure before and after the valve and its reducers, p1 above p2 [Pa absolute].
    rho : array_like
        Density at the inlet, above 0, see `gas_density` [kg/m³].
    gamma : array_like
        Ratio of specific heats, above 1.08 and below 1.65 [-].
    xt : array_like
        Pressure differential ratio factor, above 0, at most 0.84 [-].
    d, d1, d2 : array_like, optional
        Valve size and inside diameters of the pipe before and after, d or more; without d no reducers, without
        d1 or d2 none on that side [m].

    Returns
    -------
    numpy.ndarray
        Mass flow [kg/s]; `standard_flow` turns it into standard volume.

    Raises
    ------
    ValueError
        If an input is out of range, or the reducers would recover more than the valve loses.

    Notes
    -----
    Equation: W = Av FP Y √(x_s P1 ρ1), x_s the smaller of Δp/P1 and Fγ xTP, Y = 1 − x_s/(3 Fγ xTP).
    Source: IEC 60534-2-1:2011, equations 5, 8 to 12, 15, 22, limits of γ and xT from its scope.

    Examples
    --------
    >>> w = gas_flow(8.71343, 10e5, 6e5, rho=5.14504, gamma=1.30, xt=0.72)
    >>> round(float(w) * 3600)
    1000
    """
    return in_blocks(_gas_flow, kv=kv, p1=p1, p2=p2, rho=rho, gamma=gamma, xt=xt, **given_sizes(d, d1, d2))


def gas_kv(
    mass_flow: ArrayLike,
    p1: ArrayLike,
    p2: ArrayLike,
    *,
    rho: ArrayLike,
    gamma: ArrayLike,
    xt: ArrayLike,
    d: ArrayLike | None = None,
    d1: ArrayLike | None = None,
    d2: ArrayLike | None = None,
) -> Floats:
    """Flow coefficient that passes a mass flow of gas or steam, choked or not, with or without reducers.

    Parameters
    ----------
    mass_flow : array_like
        Mass flow, 0 or more; `mass_flow_from_standard` makes it from standard volume [kg/s].
    p1, p2 : array_like
        Pressure before and after the valve and its reducers, p1 above p2 [Pa absolute].
    rho : array_like
        Density at the inlet, above 0, see `gas_density` [kg/m³].
    gamma : array_like
        Ratio of specific heats, above 1.08 and below 1.65 [-].
    xt : array_like
        Pressure differential ratio factor, above 0, at most 0.84 [-].
    d, d1, d2 : array_like, optional
        Valve size and inside diameters of the pipe before and after, d or more; without d no reducers, without
        d1 or d2 none on that side [m].

    Returns
    -------
    numpy.ndarray
        Flow coefficient Kv [m³/h at 1 bar].

    Raises
    ------
    ValueError
        If an input is out of range, or the reducers alone would take the whole drop at this flow.

    Notes
    -----
    Equation: with m² = W²/(Δp ρ1), s = Σζ/(N2 d⁴), j = xT (ζ1 + ζB1)/(N5 d⁴), a = x/(3 Fγ xT):
    Y³ − (1 − a) Y² = a (s − j) m² gives Y, then 1/Av² = Y²/m² − s. Choked: 1/Av² = Fγ xT (4/9) P1 ρ1/W² − j.
    Source: IEC 60534-2-1:2011, equations 5, 8 to 12, 15, 22, solved for the coefficient.

    Examples
    --------
    >>> kv = gas_kv(1000 / 3600, 10e5, 6e5, rho=5.14504, gamma=1.30, xt=0.72)
    >>> round(float(kv), 2)
    8.71
    """
    return in_blocks(_gas_kv, mass_flow=mass_flow, p1=p1, p2=p2, rho=rho, gamma=gamma, xt=xt, **given_sizes(d, d1, d2))


def gas_density(p1: ArrayLike, temperature: ArrayLike, molar_mass: ArrayLike, z: ArrayLike = 1.0) -> Floats:
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


def sound_speed(p1: ArrayLike, rho: ArrayLike, gamma: ArrayLike) -> Floats:
    """Speed of sound in a gas.

    Parameters
    ----------
    p1 : array_like
        Pressure, above 0 [Pa absolute].
    rho : array_like
        Density there, above 0, see `gas_density` [kg/m³].
    gamma : array_like
        Ratio of specific heats, above 1.08 and below 1.65 [-].

    Returns
    -------
    numpy.ndarray
        Speed of sound [m/s].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: c = √(γ p/ρ). As the gas law keeps p/ρ at one temperature, it does not depend on the pressure.
    Source: worked by hand, ideal gas; used so in IEC 60534-8-3:2010, second-hand.

    Examples
    --------
    >>> round(float(sound_speed(101325, gas_density(101325, 293.15, 0.02897), 1.40)))
    343
    """
    heats = in_range("gamma", gamma, 1.08, 1.65, "-", above=True, below=True)
    return np.sqrt(heats * positive("p1", p1, "Pa") / positive("rho", rho, "kg/m³"))


def gas_velocity(mass_flow: ArrayLike, p1: ArrayLike, p2: ArrayLike, rho: ArrayLike, diameter: ArrayLike) -> Floats:
    """Mean speed of a gas behind a valve, in the valve's outlet or in the pipe.

    Parameters
    ----------
    mass_flow : array_like
        Mass flow, 0 or more [kg/s].
    p1, p2 : array_like
        Pressure before and after the valve, above 0 [Pa absolute].
    rho : array_like
        Density before the valve, above 0 [kg/m³].
    diameter : array_like
        Inside diameter of the outlet or of the pipe [m].

    Returns
    -------
    numpy.ndarray
        Speed [m/s].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: u = 4 W/(π d² ρ2), ρ2 = ρ1 P2/P1: behind the valve the gas is as warm as before it.
    Source: worked by hand, continuity; the density behind as in IEC 60534-8-3:2010, second-hand.

    Examples
    --------
    >>> round(float(gas_velocity(2.22, 1e6, 7.2e5, 5.3, 0.1)), 1)
    74.1
    """
    mass = in_range("mass_flow", mass_flow, 0, np.inf, "kg/s")
    behind = positive("rho", rho, "kg/m³") * positive("p2", p2, "Pa") / positive("p1", p1, "Pa")
    return 4 * mass / (np.pi * positive("diameter", diameter, "m") ** 2 * behind)


def choked_ratio(gamma: ArrayLike, xt: ArrayLike) -> Floats:
    """Ratio of pressure drop to inlet pressure at which a gas begins to choke.

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
    return 1 - np.minimum(pressure_drop(pressure, p2) / (3 * pressure * choked_ratio(gamma, xt)), 1 / 3)


def _gas_flow(kv: Floats, p1: Floats, p2: Floats, rho: Floats, gamma: Floats, xt: Floats, **sizes: Floats) -> Floats:
    drop = pressure_drop(p1, p2)
    choking = choked_ratio(gamma, xt)
    square = av_from_kv(kv) ** 2
    fittings, behind = reducer_factors(square, GAS_SHARE * xt, **sizes)
    choking = choking * fittings / behind
    sizing = np.minimum(drop / p1, choking)
    expansion = 1 - sizing / (3 * choking)
    return expansion * np.sqrt(square / fittings * sizing * p1 * positive("rho", rho, "kg/m³"))


def _gas_kv(
    mass_flow: Floats, p1: Floats, p2: Floats, rho: Floats, gamma: Floats, xt: Floats, **sizes: Floats
) -> Floats:
    drop = pressure_drop(p1, p2)
    choking = choked_ratio(gamma, xt)
    loss, inlet_loss = reducer_terms(**sizes)
    square = in_range("mass_flow", mass_flow, 0, np.inf, "kg/s") ** 2 / (drop * positive("rho", rho, "kg/m³"))
    taken = loss * square
    taken_choked = inlet_loss * GAS_SHARE * xt * square
    slope = drop / (3 * p1 * choking)
    expansion = _expansion_root(1 - slope, slope * (taken - taken_choked))
    # The smaller of the two is the one that holds: they meet at Y = 2/3, and the root is held there when choked.
    left = np.minimum(expansion * expansion - taken, 4 / 27 / slope - taken_choked)
    left = positive("share of p1 − p2 left for the valve after its reducers at this flow", left, "-")
    return np.sqrt(square / left) * KV_PER_AV


def _expansion_root(straight: Floats, lift: Floats) -> Floats:
    """Largest root of Y³ − (1 − a) Y² − a b, held at 2/3: convex and rising there, so Newton's steps cannot miss."""
    expansion: Floats = np.maximum(straight + lift, 2 / 3)
    expansion = np.maximum(straight + lift / (expansion * expansion), 2 / 3)  # a close start saves a step
    twice = 2 * straight
    for step in range(50):
        # In place, because fresh arrays cost more here than the arithmetic: Y (3 Y − 2 (1 − a)) ...
        rise = 3 * expansion
        rise -= twice
        rise *= expansion
        # ... and (Y² (2 Y − (1 − a)) + a b) over it is Newton's next Y.
        new = 2 * expansion
        new -= straight
        new *= expansion
        new *= expansion
        new += lift
        new /= rise
        np.maximum(new, 2 / 3, out=new)
        last, expansion = expansion, new
        # Three steps are enough for all but extreme valves. Each squares the error: after a small one there is none.
        if step >= 2 and np.max(np.abs(last - expansion), initial=0.0) < 1e-6:
            break
    return expansion
