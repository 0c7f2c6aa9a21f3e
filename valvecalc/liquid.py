"""Liquid through a valve: flow from its coefficient and back, turbulent, choked or not, with or without reducers.

Nothing iterates on FP or FLP: with the coefficient as an area Av the standard's equation can be solved for Av, so the
coefficient is exact and a million valves take one pass.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.blocks import in_blocks
from valvecalc.checks import Floats, above_boiling, in_range, numbers, positive, pressure_drop
from valvecalc.fittings import given_sizes, reducer_factors, reducer_terms
from valvecalc.units import KV_PER_AV, av_from_kv


def liquid_flow(
    kv: ArrayLike,
    p1: ArrayLike,
    p2: ArrayLike,
    *,
    rho: ArrayLike,
    pv: ArrayLike,
    pc: ArrayLike,
    fl: ArrayLike,
    d: ArrayLike | None = None,
    d1: ArrayLike | None = None,
    d2: ArrayLike | None = None,
) -> Floats:
    """Flow of a liquid through a valve, turbulent, choked or not, with or without reducers.

    Parameters
    ----------
    kv : array_like
        Flow coefficient, 0 or more [m³/h at 1 bar].
    p1, p2 : array_like
        Pressure before and after the valve and its reducers, p1 above p2 and pv [Pa absolute].
    rho : array_like
        Density at the inlet, above 0 [kg/m³].
    pv, pc : array_like
        Vapour pressure, 0 to pc, and critical pressure [Pa absolute].
    fl : array_like
        Liquid pressure recovery factor, above 0, at most 1; may vary with opening as kv does [-].
    d, d1, d2 : array_like, optional
        Valve size and inside diameters of the pipe before and after, d or more; without d no reducers, without
        d1 or d2 none on that side [m].

    Returns
    -------
    numpy.ndarray
        Volumetric flow [m³/s].

    Raises
    ------
    ValueError
        If an input is out of range, or the reducers would recover more than the valve loses.

    Notes
    -----
    Equation: Q = Av FP √(Δp_sizing/ρ), Δp_sizing the smaller of Δp and (FLP/FP)² (P1 − FF Pv).
    Source: IEC 60534-2-1:2011, equations 1 to 4, 15, 21. Single-phase Newtonian liquid; stated for
    C/(N18 d²) below 0.047, which is not refused here: the standard's own example 5 goes beyond.

    Examples
    --------
    >>> q = liquid_flow(164.996, 680e3, 220e3, rho=965.4, pv=70.1e3, pc=22120e3, fl=0.9)
    >>> round(float(q) * 3600, 2)
    360.0
    """
    return in_blocks(_liquid_flow, kv=kv, p1=p1, p2=p2, rho=rho, pv=pv, pc=pc, fl=fl, **given_sizes(d, d1, d2))


def liquid_kv(
    flow: ArrayLike,
    p1: ArrayLike,
    p2: ArrayLike,
    *,
    rho: ArrayLike,
    pv: ArrayLike,
    pc: ArrayLike,
    fl: ArrayLike,
    d: ArrayLike | None = None,
    d1: ArrayLike | None = None,
    d2: ArrayLike | None = None,
) -> Floats:
    """Flow coefficient that passes a flow of liquid, turbulent, choked or not, with or without reducers.

    Parameters
    ----------
    flow : array_like
        Volumetric flow, 0 or more [m³/s].
    p1, p2 : array_like
        Pressure before and after the valve and its reducers, p1 above p2 and pv [Pa absolute].
    rho : array_like
        Density at the inlet, above 0 [kg/m³].
    pv, pc : array_like
        Vapour pressure, 0 to pc, and critical pressure [Pa absolute].
    fl : array_like
        Liquid pressure recovery factor, above 0, at most 1 [-].
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
    Equation: 1/Av² = Δp/(ρ Q²) − Σζ/(N2 d⁴), and 1/Av² = FL² [(P1 − FF Pv)/(ρ Q²) − (ζ1 + ζB1)/(N2 d⁴)] when
    choked; the larger Av rules, because the flow is the smaller of the two.
    Source: IEC 60534-2-1:2011, equations 1 to 4, 15, 21, solved for the coefficient.

    Examples
    --------
    >>> kv = liquid_kv(360 / 3600, 680e3, 220e3, rho=965.4, pv=70.1e3, pc=22120e3, fl=0.9)
    >>> round(float(kv), 1)
    165.0
    """
    return in_blocks(_liquid_kv, flow=flow, p1=p1, p2=p2, rho=rho, pv=pv, pc=pc, fl=fl, **given_sizes(d, d1, d2))


def critical_pressure_factor(pv: ArrayLike, pc: ArrayLike) -> Floats:
    """Liquid critical pressure ratio factor FF: pressure in the choked jet over vapour pressure.

    Parameters
    ----------
    pv : array_like
        Vapour pressure of the liquid at the inlet temperature, 0 to pc [Pa absolute].
    pc : array_like
        Critical pressure of the liquid, above 0 [Pa absolute].

    Returns
    -------
    numpy.ndarray
        FF, 0.96 far below the critical pressure and 0.68 at it [-].

    Raises
    ------
    ValueError
        If pc is not above zero or pv lies outside 0 to pc.

    Notes
    -----
    Equation: FF = 0.96 − 0.28 √(Pv/Pc).
    Source: IEC 60534-2-1:2011, equation 4.

    Examples
    --------
    >>> round(float(critical_pressure_factor(70.1e3, 22120e3)), 4)
    0.9442
    """
    ratio = in_range("pv / pc", numbers("pv", pv) / positive("pc", pc, "Pa"), 0, 1, "-")
    return 0.96 - 0.28 * np.sqrt(ratio)


def choked_drop(p1: ArrayLike, pv: ArrayLike, pc: ArrayLike, fl: ArrayLike, fp: ArrayLike = 1.0) -> Floats:
    """Pressure drop above which more drop brings no more liquid.

    Parameters
    ----------
    p1 : array_like
        Pressure before the valve, above pv [Pa absolute].
    pv, pc : array_like
        Vapour pressure and critical pressure of the liquid [Pa absolute].
    fl : array_like
        Liquid pressure recovery factor FL, above 0, at most 1; with reducers FLP [-].
    fp : array_like
        Piping geometry factor FP, above 0; 1 without reducers [-].

    Returns
    -------
    numpy.ndarray
        Δp_choked; it can exceed p1, then this valve cannot choke [Pa].

    Raises
    ------
    ValueError
        If an input is out of range, or p1 is not above pv (the liquid would boil before the valve).

    Notes
    -----
    Equation: Δp_choked = (FLP/FP)² (P1 − FF Pv).
    Source: IEC 60534-2-1:2011, equation 3.

    Examples
    --------
    >>> round(float(choked_drop(680e3, 70.1e3, 22120e3, 0.9)))
    497185
    """
    ratio = in_range("fl", fl, 0, 1, "-", above=True) / positive("fp", fp, "-")
    return ratio**2 * _above_choked_jet(p1, pv, pc)


def _liquid_flow(
    kv: Floats, p1: Floats, p2: Floats, rho: Floats, pv: Floats, pc: Floats, fl: Floats, **sizes: Floats
) -> Floats:
    drop, head = pressure_drop(p1, p2), _above_choked_jet(p1, pv, pc)
    square = av_from_kv(kv) ** 2
    fl2 = in_range("fl", fl, 0, 1, "-", above=True) ** 2
    fittings, behind = reducer_factors(square, fl2, **sizes)
    return np.sqrt(square * np.minimum(drop / fittings, fl2 * head / behind) / positive("rho", rho, "kg/m³"))


def _liquid_kv(
    flow: Floats, p1: Floats, p2: Floats, rho: Floats, pv: Floats, pc: Floats, fl: Floats, **sizes: Floats
) -> Floats:
    drop, head = pressure_drop(p1, p2), _above_choked_jet(p1, pv, pc)
    loss, inlet_loss = reducer_terms(**sizes)
    flow = in_range("flow", flow, 0, np.inf, "m³/s")
    momentum = flow * flow * positive("rho", rho, "kg/m³")
    left = positive("p1 − p2 left for the valve after its reducers at this flow", drop - loss * momentum, "Pa")
    choked = positive("p1 left above boiling after the reducer at this flow", head - inlet_loss * momentum, "Pa")
    fl = in_range("fl", fl, 0, 1, "-", above=True)
    return np.sqrt(momentum / np.minimum(left, fl * fl * choked)) * KV_PER_AV


def _above_choked_jet(p1: ArrayLike, pv: ArrayLike, pc: ArrayLike) -> Floats:
    """Inlet pressure above that in a choked jet; refused where the liquid boils before the valve."""
    above_boiling(p1, pv)
    return numbers("p1", p1) - critical_pressure_factor(pv, pc) * numbers("pv", pv)
