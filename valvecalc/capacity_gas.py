"""Gas and steam through a valve: flow from its coefficient and the coefficient it takes, turbulent, with reducers.

Nothing iterates on FP or xTP: with the coefficient as an area Av the standard's equation becomes a cubic in the
expansion factor alone, solved by Newton's method to the last digit; choked, it can be solved outright.

Non-turbulent gas is left out: two public copies of the 2011 annex disagree on its expansion factor (equation A.5),
and no worked example was found to decide. `reynolds.valve_reynolds` tells where that begins.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.blocks import in_blocks
from valvecalc.checks import Floats, in_range, positive
from valvecalc.gas import choked_ratio
from valvecalc.reducers import N2, N5, given_sizes, reducer_terms
from valvecalc.units import av_from_kv

KV_PER_AV = 1 / float(av_from_kv(1.0))


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
        Density at the inlet, above 0, see `gas.gas_density` [kg/m³].
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
        Mass flow [kg/s]; `gas.standard_flow` turns it into standard volume.

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
        Mass flow, 0 or more; `gas.mass_flow_from_standard` makes it from standard volume [kg/s].
    p1, p2 : array_like
        Pressure before and after the valve and its reducers, p1 above p2 [Pa absolute].
    rho : array_like
        Density at the inlet, above 0, see `gas.gas_density` [kg/m³].
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
    return in_blocks(
        _gas_kv, mass_flow=mass_flow, p1=p1, p2=p2, rho=rho, gamma=gamma, xt=xt, **given_sizes(d, d1, d2)
    )


def _gas_flow(
    kv: Floats, p1: Floats, p2: Floats, rho: Floats, gamma: Floats, xt: Floats, **sizes: Floats
) -> Floats:
    drop = positive("p1 − p2", p1 - in_range("p2", p2, 0, np.inf, "Pa"), "Pa")
    choking = choked_ratio(gamma, xt)
    loss, inlet_loss = reducer_terms(**sizes)
    square = av_from_kv(kv) ** 2
    fittings = positive("1 + Σζ/N2 (C/d²)², which falls as kv grows,", 1 + loss * square, "-")
    choking = choking * fittings / (1 + xt * inlet_loss * N2 / N5 * square)
    sizing = np.minimum(drop / p1, choking)
    expansion = 1 - sizing / (3 * choking)
    return expansion * np.sqrt(square / fittings * sizing * p1 * positive("rho", rho, "kg/m³"))


def _gas_kv(
    mass_flow: Floats, p1: Floats, p2: Floats, rho: Floats, gamma: Floats, xt: Floats, **sizes: Floats
) -> Floats:
    drop = positive("p1 − p2", p1 - in_range("p2", p2, 0, np.inf, "Pa"), "Pa")
    choking = choked_ratio(gamma, xt)
    loss, inlet_loss = reducer_terms(**sizes)
    square = in_range("mass_flow", mass_flow, 0, np.inf, "kg/s") ** 2 / (drop * positive("rho", rho, "kg/m³"))
    taken = loss * square
    taken_choked = inlet_loss * (N2 / N5) * xt * square
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
        # Three steps bring home all but extreme valves. Steps square the error: after a small one there is none.
        if step >= 2 and np.max(np.abs(last - expansion), initial=0.0) < 1e-6:
            break
    return expansion
