"""Liquid through a valve in laminar, transitional or turbulent flow: no reducers, no boiling."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.blocks import in_blocks
from valvecalc.checks import Floats, positive
from valvecalc.reynolds import LAMINAR, TURBULENT, reynolds_factor, trim_number, valve_reynolds
from valvecalc.scope import SCOPE_LIMIT
from valvecalc.units import KV_PER_CV, av_from_kv

STEPS = 100  # of the search for the first crossing
HALVINGS = 60  # enough to use up the digits of a float


def viscous_flow(
    kv: ArrayLike,
    dp: ArrayLike,
    *,
    rho: ArrayLike,
    nu: ArrayLike,
    fl: ArrayLike,
    fd: ArrayLike,
    d: ArrayLike,
    kv_rated: ArrayLike,
) -> Floats:
    """Flow of a viscous liquid through a valve, whatever the regime.

    Parameters
    ----------
    kv : array_like
        Flow coefficient at this opening, above 0 [m³/h at 1 bar].
    dp : array_like
        Pressure drop across the valve, above 0 [Pa].
    rho : array_like
        Density, above 0 [kg/m³].
    nu : array_like
        Kinematic viscosity, above 0 [m²/s].
    fl, fd : array_like
        Liquid pressure recovery factor and valve style modifier, above 0, at most 1 [-].
    d : array_like
        Valve and pipe size, above 0 [m].
    kv_rated : array_like
        Flow coefficient of the valve fully open, above 0 [m³/h at 1 bar].

    Returns
    -------
    numpy.ndarray
        Volumetric flow [m³/s].

    Raises
    ------
    ValueError
        If an input is not above zero, or a factor above 1.

    Notes
    -----
    Equation: Q = Av FR √(Δp/ρ) with FR at the Reynolds number of that Q; of several solutions near the step
    of FR at Re = 10 the largest.
    Source: IEC 60534-2-1:2011, equation A.2. Not for vaporising liquids or attached fittings.

    Examples
    --------
    >>> q = viscous_flow(1.04823, 1e5, rho=900, nu=1e-4, fl=0.9, fd=0.46, d=0.025, kv_rated=10)
    >>> round(float(q) * 3600, 3)
    1.0
    """
    valve = {"fl": fl, "fd": fd, "d": d, "kv_rated": kv_rated}
    return in_blocks(_viscous_flow, kv=kv, dp=dp, rho=rho, nu=nu, **valve)


def viscous_kv(
    flow: ArrayLike,
    dp: ArrayLike,
    *,
    rho: ArrayLike,
    nu: ArrayLike,
    fl: ArrayLike,
    fd: ArrayLike,
    d: ArrayLike,
    kv_rated: ArrayLike,
) -> Floats:
    """Flow coefficient that passes a flow of viscous liquid, whatever the regime.

    Parameters
    ----------
    flow : array_like
        Volumetric flow, above 0 [m³/s].
    dp : array_like
        Pressure drop across the valve, above 0 [Pa].
    rho : array_like
        Density, above 0 [kg/m³].
    nu : array_like
        Kinematic viscosity, above 0 [m²/s].
    fl, fd : array_like
        Liquid pressure recovery factor and valve style modifier, above 0, at most 1 [-].
    d : array_like
        Valve and pipe size, above 0 [m].
    kv_rated : array_like
        Flow coefficient of the valve fully open, above 0; it decides full-size or reduced [m³/h at 1 bar].

    Returns
    -------
    numpy.ndarray
        Flow coefficient Kv [m³/h at 1 bar].

    Raises
    ------
    ValueError
        If an input is not above zero, a factor above 1, or no valve of that size within the scope of the
        equations passes the flow.

    Notes
    -----
    Equation: Q = Av FR √(Δp/ρ) with FR at Q and this Av; the smallest solution, found by search and bisection,
    because with the full-size n the flow stops rising with the coefficient once it is laminar.
    Source: IEC 60534-2-1:2011, equation A.2. Not for vaporising liquids or attached fittings.

    Examples
    --------
    >>> kv = viscous_kv(1 / 3600, 1e5, rho=900, nu=1e-4, fl=0.9, fd=0.46, d=0.025, kv_rated=10)
    >>> round(float(kv), 3)
    1.048
    """
    valve = {"fl": fl, "fd": fd, "d": d, "kv_rated": kv_rated}
    return in_blocks(_viscous_kv, flow=flow, dp=dp, rho=rho, nu=nu, **valve)


def _viscous_flow(
    kv: Floats, dp: Floats, rho: Floats, nu: Floats, fl: Floats, fd: Floats, d: Floats, kv_rated: Floats
) -> Floats:
    turbulent = av_from_kv(kv) * np.sqrt(positive("dp", dp, "Pa") / positive("rho", rho, "kg/m³"))
    re = valve_reynolds(turbulent, kv, nu, fl, fd, d)
    # Below this share of the turbulent flow the laminar FR cannot be the smaller: there the search ends.
    least = np.minimum((0.026 / fl) ** 2 * trim_number(kv, d, kv_rated) * re, LAMINAR / re)
    share = _first_crossing(
        lambda q: reynolds_factor(re * q, kv, fl, d, kv_rated) - q, np.ones_like(re), np.minimum(0.5 * least, 0.5)
    )
    return turbulent * share


def _viscous_kv(
    flow: Floats, dp: Floats, rho: Floats, nu: Floats, fl: Floats, fd: Floats, d: Floats, kv_rated: Floats
) -> Floats:
    speed = np.sqrt(positive("dp", dp, "Pa") / positive("rho", rho, "kg/m³"))
    turbulent = positive("flow", flow, "m³/s") / speed / av_from_kv(1.0)
    limit = np.maximum(SCOPE_LIMIT * KV_PER_CV * (d * 1000) ** 2, turbulent)

    def excess(kv: Floats) -> Floats:
        re = valve_reynolds(flow, kv, nu, fl, fd, d)
        return kv * reynolds_factor(re, kv, fl, d, kv_rated) - turbulent

    return _first_crossing(excess, turbulent, limit)


def _first_crossing(excess: Callable[[Floats], Floats], start: Floats, stop: Floats) -> Floats:
    """First place from start to stop where the excess is no longer negative."""
    start, stop = np.broadcast_arrays(start + 0 * excess(start), stop)
    ratio = (stop / start) ** (1 / STEPS)
    low = high = start
    found = excess(start) >= 0
    for _ in range(STEPS):
        low, high = np.where(found, low, high), np.where(found, high, high * ratio)
        found |= excess(high) >= 0
    if not np.all(found):
        raise ValueError(
            f"flow is too viscous for this valve: no flow coefficient up to {stop[~found][0]:.3g} m³/h at 1 bar "
            f"(C/(N18 d²) = {SCOPE_LIMIT}, the limit of the equations) passes it; take a larger size d or drop dp, "
            f"the Reynolds number must come nearer {TURBULENT:g}."
        )
    for _ in range(HALVINGS):
        middle = np.sqrt(low * high)
        reached = excess(middle) >= 0
        low, high = np.where(reached, low, middle), np.where(reached, middle, high)
    return high
