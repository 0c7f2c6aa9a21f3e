"""When the flow in the valve is no longer turbulent: valve Reynolds number and the factor it costs."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive
from valvecalc.reducers import N2
from valvecalc.scope import FULL_SIZE_LIMIT, relative_capacity
from valvecalc.units import av_from_kv

TURBULENT = 1e4  # valve Reynolds number from which the turbulent equations hold (IEC 60534-2-1:2011)
LAMINAR = 10.0  # below it only the laminar form of FR is left (same, annex A)
# With C as Av, N4 is √(4√2/π): the jet area is Av FL/√2 by the definition of FL. For Kv, m³/h and mm this makes
# 0.07074 (printed 7.07e-2). N32 is fitted to tests and cannot be derived; 140 is the printed value for Kv and mm.
N4 = float(np.sqrt(4 * np.sqrt(2) / np.pi))
N32 = 140.0


def valve_reynolds(
    flow: ArrayLike, kv: ArrayLike, nu: ArrayLike, fl: ArrayLike, fd: ArrayLike, d: ArrayLike
) -> Floats:
    """Reynolds number of the flow in a valve.

    Parameters
    ----------
    flow : array_like
        Actual volumetric flow, 0 or more; for a gas mass flow over inlet density, never standard volume [m³/s].
    kv : array_like
        Flow coefficient, above 0 [m³/h at 1 bar].
    nu : array_like
        Kinematic viscosity at the inlet, above 0 [m²/s].
    fl, fd : array_like
        Liquid pressure recovery factor and valve style modifier, above 0, at most 1 [-].
    d : array_like
        Valve size, above 0 [m].

    Returns
    -------
    numpy.ndarray
        Re_v; 10 000 and more is turbulent [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: Re_v = N4 Fd Q / (ν √(C FL)) (FL² C²/(N2 d⁴) + 1)^¼.
    Source: IEC 60534-2-1:2011, equation 23.

    Examples
    --------
    >>> re = valve_reynolds(360 / 3600, 164.996, 3.26e-7, fl=0.90, fd=0.46, d=0.150)
    >>> round(float(re), -4)
    2970000.0
    """
    area = av_from_kv(positive("kv", kv, "m³/h at 1 bar"))
    recovery = in_range("fl", fl, 0, 1, "-", above=True)
    jet = N4 * in_range("fd", fd, 0, 1, "-", above=True) / (positive("nu", nu, "m²/s") * np.sqrt(area * recovery))
    approach = (recovery * area / positive("d", d, "m") ** 2) ** 2 / N2 + 1
    return in_range("flow", flow, 0, np.inf, "m³/s") * jet * approach**0.25


def trim_number(kv: ArrayLike, d: ArrayLike, kv_rated: ArrayLike) -> Floats:
    """Tell the number n of the annex on non-turbulent flow, for full-size or reduced trim.

    Parameters
    ----------
    kv : array_like
        Flow coefficient at this opening, above 0 [m³/h at 1 bar].
    d : array_like
        Valve size, above 0 [m].
    kv_rated : array_like
        Flow coefficient of the valve fully open, above 0; it decides which form holds [m³/h at 1 bar].

    Returns
    -------
    numpy.ndarray
        n [-].

    Raises
    ------
    ValueError
        If an input is not above zero.

    Notes
    -----
    Equation: full size, C_rated/(N18 d²) ≥ 0.016: n = N2/(C/d²)²; reduced, below: n = 1 + N32 (C/d²)^(2/3).
    Source: IEC 60534-2-1:2011, equations A.8a and A.8b.

    Examples
    --------
    >>> trim_number([1.0, 1.0], 0.025, [10.0, 1.0]).round(3).tolist()
    [625.122, 2.915]
    """
    coefficient = positive("kv", kv, "m³/h at 1 bar")
    full_size = N2 * (positive("d", d, "m") ** 2 / av_from_kv(coefficient)) ** 2
    reduced = 1 + N32 * (coefficient / (np.asarray(d) * 1000) ** 2) ** (2 / 3)
    is_full_size = relative_capacity(positive("kv_rated", kv_rated, "m³/h at 1 bar"), d) >= FULL_SIZE_LIMIT
    return np.where(is_full_size, full_size, reduced)[()]


def reynolds_factor(
    re: ArrayLike, kv: ArrayLike, fl: ArrayLike, d: ArrayLike, kv_rated: ArrayLike
) -> Floats:
    """Reynolds number factor FR: flow at this Reynolds number over turbulent flow, same valve and drop.

    Parameters
    ----------
    re : array_like
        Valve Reynolds number, 0 or more [-].
    kv : array_like
        Flow coefficient at this opening, above 0 [m³/h at 1 bar].
    fl : array_like
        Liquid pressure recovery factor, above 0, at most 1 [-].
    d : array_like
        Valve size, above 0 [m].
    kv_rated : array_like
        Flow coefficient of the valve fully open, above 0; it decides full-size or reduced [m³/h at 1 bar].

    Returns
    -------
    numpy.ndarray
        FR, at most 1 [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: Re < 10: FR = min(0.026/FL √(n Re), 1); Re ≥ 10: the smallest of that and
    1 + 0.33 √FL/n^¼ lg(Re/10⁴); 1 from Re = 10⁴. The two forms need not meet at Re = 10:
    FR may step up there as the flow slows, by a fifth with a full-size trim. Do not teach a curve across that step.
    Source: IEC 60534-2-1:2011, equations A.6 and A.7.

    Examples
    --------
    >>> round(float(reynolds_factor(1202, 0.015483, 0.98, 0.015, 0.015483)), 4)
    0.7149
    """
    number = in_range("re", re, 0, np.inf, "-")
    n = trim_number(kv, d, kv_rated)
    recovery = in_range("fl", fl, 0, 1, "-", above=True)
    laminar = np.minimum(0.026 / recovery * np.sqrt(n * number), 1)
    decades = np.log10(np.clip(number, LAMINAR, TURBULENT) / TURBULENT)
    transitional = np.minimum(laminar, 1 + 0.33 * np.sqrt(recovery) / n**0.25 * decades)
    factor = np.where(number < LAMINAR, laminar, transitional)
    return np.where(number < TURBULENT, factor, 1.0)[()]
