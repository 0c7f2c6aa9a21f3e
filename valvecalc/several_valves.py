"""Several valves or fittings in one line, one after another or side by side, as one flow coefficient."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range
from valvecalc.line import valve_resistance


def kv_in_series(kv: ArrayLike) -> Floats:
    """Flow coefficient of valves one after another.

    Parameters
    ----------
    kv : array_like
        Flow coefficients, 0 or more, the valves along the first axis [m³/h at 1 bar].

    Returns
    -------
    numpy.ndarray
        Flow coefficient of all of them, shape without the first axis [m³/h at 1 bar].

    Raises
    ------
    ValueError
        If a coefficient is negative.

    Notes
    -----
    Far enough apart that the pressure recovers between them; not for choked flow.
    Equation: 1/Kv² = Σ 1/Kv_i².
    Source: pressure drops add at the same flow, Kv by IEC 60534-2-1:2011, equation 1.

    Examples
    --------
    >>> round(float(kv_in_series([30, 40])), 6), float(kv_in_series([30, 0]))
    (24.0, 0.0)
    """
    c = in_range("kv", kv, 0, np.inf, "m³/h at 1 bar")
    # In ratios to the smallest, which may be closed, nothing overflows.
    smallest = np.min(c, axis=0)
    share = np.where(c > 0, smallest / np.where(c > 0, c, 1.0), 1.0)
    return np.asarray(smallest / np.sqrt(np.sum(share * share, axis=0)))


def kv_in_parallel(kv: ArrayLike) -> Floats:
    """Flow coefficient of valves side by side, such as a control valve and its bypass.

    Parameters
    ----------
    kv : array_like
        Flow coefficients, 0 or more, the valves along the first axis [m³/h at 1 bar].

    Returns
    -------
    numpy.ndarray
        Flow coefficient of all of them, shape without the first axis [m³/h at 1 bar].

    Raises
    ------
    ValueError
        If a coefficient is negative.

    Notes
    -----
    Equation: Kv = Σ Kv_i.
    Source: flows add at the same pressure drop, Kv by IEC 60534-2-1:2011, equation 1.

    Examples
    --------
    >>> float(kv_in_parallel([30, 40]))
    70.0
    """
    return np.asarray(np.sum(in_range("kv", kv, 0, np.inf, "m³/h at 1 bar"), axis=0))


def resistance_of_valves(kv: ArrayLike, rho: ArrayLike) -> Floats:
    """Resistance of valves one after another, to add to that of the pipe.

    Parameters
    ----------
    kv : array_like
        Flow coefficients, 1e-9 or more, the valves along the first axis [m³/h at 1 bar].
    rho : array_like
        Density, above 0 [kg/m³].

    Returns
    -------
    numpy.ndarray
        Pressure drop over flow squared, shape without the first axis [Pa/(m³/s)²].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: k = Σ 1 bar · (ρ/ρ0) (3600/Kv_i)².
    Source: IEC 60534-2-1:2011, equation 1.

    Examples
    --------
    >>> float(resistance_of_valves([100, 100], 999.103))
    259200000.0
    """
    return np.asarray(np.sum(valve_resistance(kv, rho), axis=0))
