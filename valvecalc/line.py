"""A pumped line: pump, static head, pipe and valve; the flow that balances them.

The pump is a quadratic, so the flow has a closed form.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive
from valvecalc.units import BAR, WATER_DENSITY


def pump_dp(flow: ArrayLike, pump: ArrayLike) -> Floats:
    """Pressure rise of a pump at a flow, from a polynomial.

    Parameters
    ----------
    flow : array_like
        Volumetric flow, 0 or more [m³/s].
    pump : array_like
        Coefficients, lowest power first, one dimension [Pa, Pa/(m³/s), Pa/(m³/s)², ...].

    Returns
    -------
    numpy.ndarray
        Pressure rise, shape of the flow; negative beyond the end of the curve [Pa].

    Raises
    ------
    ValueError
        If a flow is negative.

    Notes
    -----
    Equation: Δp = c0 + c1 Q + c2 Q² + ...
    Source: common practice, no source: pump curves are fitted so.

    Examples
    --------
    >>> pump_dp([0, 0.01], [600e3, 0, -1e9]).tolist()
    [600000.0, 500000.0]
    """
    q, rise = in_range("flow", flow, 0, np.inf, "m³/s"), np.zeros(())
    for coefficient in numbers("pump", pump)[::-1]:
        rise = rise * q + coefficient
    return rise + 0 * q


def valve_resistance(kv: ArrayLike, rho: ArrayLike) -> Floats:
    """Pressure drop of a valve divided by flow squared, to compare with that of the pipe.

    Parameters
    ----------
    kv : array_like
        Flow coefficient at the travel it has, 1e-9 or more [m³/h at 1 bar].
    rho : array_like
        Density, above 0 [kg/m³].

    Returns
    -------
    numpy.ndarray
        k_valve, broadcast shape [Pa/(m³/s)²].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: k_valve = 1 bar · (ρ/ρ0) (3600/Kv)², ρ0 = 999.103 kg/m³.
    Source: IEC 60534-2-1:2011, equation 1, turbulent flow, line-size valve, not choked.

    Examples
    --------
    >>> float(valve_resistance(100, 999.103))
    129600000.0
    """
    coefficient = in_range("kv", kv, 1e-9, np.inf, "m³/h at 1 bar")
    return BAR * 3600**2 * positive("rho", rho, "kg/m³") / WATER_DENSITY / coefficient**2


def line_flow(
    kv: ArrayLike, pump: ArrayLike, static_dp: ArrayLike, pipe_resistance: ArrayLike, rho: ArrayLike
) -> Floats:
    """Flow at which a quadratic pump balances static head, pipe and valve.

    Parameters
    ----------
    kv : array_like
        Flow coefficient of the valve at the travel it has, 0 or more [m³/h at 1 bar].
    pump : array_like
        One to three coefficients, lowest power first, the third 0 or less
        [Pa, Pa/(m³/s), Pa/(m³/s)²].
    static_dp : array_like
        Static pressure to overcome: height and pressure of the vessel at the end, less those at the start [Pa].
    pipe_resistance : array_like
        Pressure drop of pipe and fittings over flow squared, 0 or more [Pa/(m³/s)²].
    rho : array_like
        Density, above 0 [kg/m³].

    Returns
    -------
    numpy.ndarray
        Volumetric flow, broadcast shape; 0 where the pump cannot lift the static pressure, as a check
        valve is taken to hold [m³/s].

    Raises
    ------
    ValueError
        If an input is out of range, or the pump has more than three coefficients.

    Notes
    -----
    Equation: c0 + c1 Q + c2 Q² = Δp_static + k_pipe Q² + k_valve Q², solved for the positive root, with
    k_valve of `valve_resistance`.
    Source: worked by hand, pressure balance; valve by IEC 60534-2-1:2011, equation 1.

    Examples
    --------
    >>> line_flow([0, 100], [600e3, 0, -1e8], 200e3, 1.704e8, 999.103).round(7).tolist()
    [0.0, 0.0316228]
    """
    c0, c1, c2 = _quadratic(pump)
    c = in_range("kv", kv, 0, np.inf, "m³/h at 1 bar")
    resistance = in_range("pipe_resistance", pipe_resistance, 0, np.inf, "Pa/(m³/s)²") - c2
    drive = np.maximum(c0 - numbers("static_dp", static_dp), 0.0)
    # In u = Q / Kv the equation stays finite for a closed valve.
    square = resistance * c * c + valve_resistance(1.0, rho)
    flow: Floats = c * (np.sqrt((c1 * c) ** 2 + 4 * square * drive) + c1 * c) / (2 * square)
    return flow


def _quadratic(pump: ArrayLike) -> tuple[float, float, float]:
    coefficients = numbers("pump", pump)
    in_range("the number of pump coefficients", coefficients.size, 1, 3, "numbers")
    c0, c1, c2 = [*coefficients.ravel().tolist(), 0.0, 0.0][:3]
    in_range("the third pump coefficient", c2, -np.inf, 0, "Pa/(m³/s)²")
    return c0, c1, c2
