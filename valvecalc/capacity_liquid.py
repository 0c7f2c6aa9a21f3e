"""Liquid through a valve: flow from its coefficient and the coefficient it takes, turbulent, with reducers.

Nothing iterates on FP or FLP: with the coefficient as an area Av the standard's equation can be solved for Av, so the
coefficient is exact and a million valves take one pass. For laminar and transitional flow see `reynolds.py`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.blocks import in_blocks
from valvecalc.cavitation import critical_pressure_factor
from valvecalc.checks import Floats, in_range, positive
from valvecalc.reducers import given_sizes, reducer_terms
from valvecalc.units import av_from_kv

KV_PER_AV = 1 / float(av_from_kv(1.0))


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
    `scope.relative_capacity` below 0.047, which is not refused here but the caller's to tell.

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


def _liquid_flow(
    kv: Floats, p1: Floats, p2: Floats, rho: Floats, pv: Floats, pc: Floats, fl: Floats, **sizes: Floats
) -> Floats:
    drop, head = _driving_pressures(p1, p2, pv, pc)
    loss, inlet_loss = reducer_terms(**sizes)
    square = av_from_kv(kv) ** 2
    fl2 = in_range("fl", fl, 0, 1, "-", above=True) ** 2
    unchoked = drop / positive("1 + Σζ/N2 (C/d²)², which falls as kv grows,", 1 + loss * square, "-")
    choked = fl2 * head / (1 + fl2 * inlet_loss * square)
    return np.sqrt(square * np.minimum(unchoked, choked) / positive("rho", rho, "kg/m³"))


def _liquid_kv(
    flow: Floats, p1: Floats, p2: Floats, rho: Floats, pv: Floats, pc: Floats, fl: Floats, **sizes: Floats
) -> Floats:
    drop, head = _driving_pressures(p1, p2, pv, pc)
    loss, inlet_loss = reducer_terms(**sizes)
    flow = in_range("flow", flow, 0, np.inf, "m³/s")
    momentum = flow * flow * positive("rho", rho, "kg/m³")
    left = positive("p1 − p2 left for the valve after its reducers at this flow", drop - loss * momentum, "Pa")
    choked = positive("p1 left above boiling after the reducer at this flow", head - inlet_loss * momentum, "Pa")
    fl = in_range("fl", fl, 0, 1, "-", above=True)
    return np.sqrt(momentum / np.minimum(left, fl * fl * choked)) * KV_PER_AV


def _driving_pressures(p1: Floats, p2: Floats, pv: Floats, pc: Floats) -> tuple[Floats, Floats]:
    """Pressure drop, and inlet pressure above that in a choked jet."""
    drop = positive("p1 − p2", p1 - in_range("p2", p2, 0, np.inf, "Pa"), "Pa")
    positive("p1 − pv", p1 - pv, "Pa")  # else the liquid boils before the valve
    return drop, p1 - critical_pressure_factor(pv, pc) * pv
