"""A pumped line whose pump is not a quadratic: a curve read off as points, or a longer polynomial."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers
from valvecalc.line import pump_dp, valve_resistance
from valvecalc.tabulated import monotone_cubic


def line_flow_points(
    kv: ArrayLike,
    pump_flow: ArrayLike,
    pump_points: ArrayLike,
    static_dp: ArrayLike,
    pipe_resistance: ArrayLike,
    rho: ArrayLike,
) -> Floats:
    """Flow at which a pump known by points balances static head, pipe and valve.

    Parameters
    ----------
    kv : array_like
        Flow coefficient of the valve at the travel it has, 0 or more [m³/h at 1 bar].
    pump_flow : array_like
        Flows of two or more points of the pump curve, from 0, rising, one dimension [m³/s].
    pump_points : array_like
        Pressure rise at those flows [Pa].
    static_dp : array_like
        Static pressure to overcome [Pa].
    pipe_resistance : array_like
        Pressure drop of pipe and fittings over flow squared, 0 or more [Pa/(m³/s)²].
    rho : array_like
        Density, above 0 [kg/m³].

    Returns
    -------
    numpy.ndarray
        Volumetric flow, broadcast shape; 0 where the pump cannot lift the static pressure. A humped curve
        may be crossed more than once: one crossing at which flow settles is returned [m³/s].

    Raises
    ------
    ValueError
        If an input is out of range, or the line would take more flow than the points cover.

    Notes
    -----
    Equation: Δp_pump(Q) = Δp_static + k_pipe Q² + k_valve Q², halved 60 times from 0 to the last point.
    Source: worked by hand, pressure balance, monotone cubic through the points, bisection.

    Examples
    --------
    >>> flow = line_flow_points(100, [0, 0.05], [400e3, 400e3], 0, 2.704e8, 999.103)
    >>> round(float(flow), 7)
    0.0316228
    """
    flows = in_range("pump_flow", pump_flow, 0, np.inf, "m³/s")
    rise = numbers("pump_points", pump_points)
    in_range("the first pump_flow", flows[0], 0, 0, "m³/s")
    last = float(flows[-1])
    return _balance(lambda q: monotone_cubic(q, flows, rise), last, kv, static_dp, pipe_resistance, rho)


def line_flow_polynomial(
    kv: ArrayLike,
    pump: ArrayLike,
    flow_end: float,
    static_dp: ArrayLike,
    pipe_resistance: ArrayLike,
    rho: ArrayLike,
) -> Floats:
    """Flow at which a pump known by a polynomial of any degree balances static head, pipe and valve.

    Parameters
    ----------
    kv : array_like
        Flow coefficient of the valve at the travel it has, 0 or more [m³/h at 1 bar].
    pump : array_like
        Coefficients, lowest power first, one dimension [Pa, Pa/(m³/s), Pa/(m³/s)², ...].
    flow_end : float
        Flow up to which the polynomial holds, above 0 [m³/s].
    static_dp : array_like
        Static pressure to overcome [Pa].
    pipe_resistance : array_like
        Pressure drop of pipe and fittings over flow squared, 0 or more [Pa/(m³/s)²].
    rho : array_like
        Density, above 0 [kg/m³].

    Returns
    -------
    numpy.ndarray
        Volumetric flow, as in `line_flow_points` [m³/s].

    Raises
    ------
    ValueError
        If an input is out of range, or the line would take more flow than `flow_end`.

    Notes
    -----
    Equation: as `line_flow_points`.
    Source: worked by hand, pressure balance, bisection.

    Examples
    --------
    >>> flow = line_flow_polynomial(100, [600e3, 0, -1e8], 0.05, 200e3, 1.704e8, 999.103)
    >>> round(float(flow), 7)
    0.0316228
    """
    last = float(in_range("flow_end", flow_end, 0, np.inf, "m³/s", above=True))
    return _balance(lambda q: pump_dp(q, pump), last, kv, static_dp, pipe_resistance, rho)


def _balance(
    rise: Callable[[Floats], Floats],
    last: float,
    kv: ArrayLike,
    static_dp: ArrayLike,
    pipe_resistance: ArrayLike,
    rho: ArrayLike,
) -> Floats:
    c, static = in_range("kv", kv, 0, np.inf, "m³/h at 1 bar"), numbers("static_dp", static_dp)
    pipe = in_range("pipe_resistance", pipe_resistance, 0, np.inf, "Pa/(m³/s)²")
    factor = valve_resistance(1.0, rho)

    def spare(flow: Floats) -> Floats:
        """Pressure to spare at a flow, times Kv², which keeps a closed valve finite."""
        return (rise(flow) - static - pipe * flow * flow) * c * c - factor * flow * flow

    end = np.asarray(spare(np.asarray(last)))
    too_short = end > 0
    left = end[too_short] / np.broadcast_to(c, end.shape)[too_short] ** 2
    in_range("pressure left at the end of the pump curve", left, -np.inf, 0, "Pa; give more of the curve")
    low, high = np.zeros(end.shape), np.full(end.shape, last)
    for _ in range(60):
        middle = (low + high) / 2
        more = spare(middle) > 0
        low, high = np.where(more, middle, low), np.where(more, high, middle)
    return low
