"""Choking in the line: the flow a valve cannot exceed, however low the pressure behind it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive
from valvecalc.line import line_flow


def choked_line_flow(
    kv: ArrayLike,
    pump: ArrayLike,
    p_source: ArrayLike,
    upstream_resistance: ArrayLike,
    rho: ArrayLike,
    fl: ArrayLike,
    pv: ArrayLike,
    pc: ArrayLike,
) -> Floats:
    """Liquid flow at which the valve chokes, its inlet pressure sinking with flow as pump and pipe let it.

    Parameters
    ----------
    kv : array_like
        Flow coefficient of the valve at the travel it has, 0 or more [m³/h at 1 bar].
    pump : array_like
        One to three coefficients, as in `line_flow` [Pa, Pa/(m³/s), Pa/(m³/s)²].
    p_source : array_like
        Pressure of the vessel the pump draws from, less the height from its level up to the valve,
        absolute, above 0 [Pa].
    upstream_resistance : array_like
        Pressure drop of the pipe up to the valve over flow squared, 0 or more [Pa/(m³/s)²].
    rho : array_like
        Density, above 0 [kg/m³].
    fl : array_like
        Liquid pressure recovery factor FL at that travel, above 0 to 1 [-].
    pv, pc : array_like
        Vapour pressure, 0 or more, and critical pressure, above it, absolute [Pa].

    Returns
    -------
    numpy.ndarray
        Choked flow, broadcast shape; the flow of the line is the smaller of this and `line_flow` [m³/s].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: k_valve Q² = FL² (p_source + Δp_pump(Q) - k_upstream Q² - FF pv), FF = 0.96 - 0.28 √(pv/pc);
    that is `line_flow` with Kv FL for Kv and FF pv - p_source for the static pressure.
    Source: IEC 60534-2-1:2011, equations 1 to 4, line-size valve.

    Examples
    --------
    >>> flow = choked_line_flow(50, [500e3], 1e5, 0, 999.103, 0.9, 0, 22.064e6)
    >>> round(float(flow * 3600), 4)  # 50 · 0.9 · √6
    110.227
    """
    vapour = in_range("pv", pv, 0, np.inf, "Pa absolute")
    critical = positive("pc", pc, "Pa absolute")
    ratio = in_range("pv over pc", vapour / critical, 0, 1, "-", below=True)
    bubble = (0.96 - 0.28 * np.sqrt(ratio)) * vapour
    recovery = in_range("fl", fl, 0, 1, "-", above=True)
    c = in_range("kv", kv, 0, np.inf, "m³/h at 1 bar")
    static = bubble - positive("p_source", p_source, "Pa absolute")
    return line_flow(c * recovery, pump, static, upstream_resistance, rho)
