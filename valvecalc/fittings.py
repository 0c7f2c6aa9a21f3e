"""What reducers make of the valve's own factors: FP of its coefficient, FLP of FL, xTP of xT."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive
from valvecalc.reducers import N2, N5, fitting_resistance, inlet_resistance
from valvecalc.units import av_from_kv


def piping_geometry_factor(kv: ArrayLike, d: ArrayLike, d1: ArrayLike, d2: ArrayLike) -> Floats:
    """Piping geometry factor FP: capacity with reducers over capacity without.

    Parameters
    ----------
    kv : array_like
        Flow coefficient, 0 or more [m³/h at 1 bar].
    d : array_like
        Valve size, above 0 [m].
    d1, d2 : array_like
        Inside diameters of the pipe before and after the valve, d or more [m].

    Returns
    -------
    numpy.ndarray
        FP, below 1 unless the outlet recovers more than the inlet loses [-].

    Raises
    ------
    ValueError
        If an input is out of range, or the reducers would recover more than the valve loses.

    Notes
    -----
    Equation: FP = 1 / √(1 + Σζ/N2 (C/d²)²).
    Source: IEC 60534-2-1:2011, equation 15, N2 from its definition, see `reducers.py`.

    Examples
    --------
    >>> round(float(piping_geometry_factor(50, 0.050, 0.100, 0.100)), 3)
    0.909
    """
    term = 1 + fitting_resistance(d, d1, d2) / N2 * _bore_ratio(kv, d)
    return 1 / np.sqrt(positive("1 + Σζ/N2 (C/d²)², which falls as kv grows,", term, "-"))


def combined_recovery_factor(kv: ArrayLike, fl: ArrayLike, d: ArrayLike, d1: ArrayLike) -> Floats:
    """Liquid pressure recovery and piping geometry factor FLP of a valve with reducers.

    Parameters
    ----------
    kv : array_like
        Flow coefficient, 0 or more [m³/h at 1 bar].
    fl : array_like
        Liquid pressure recovery factor of the valve alone, above 0, at most 1 [-].
    d : array_like
        Valve size, above 0 [m].
    d1 : array_like
        Inside diameter of the pipe before the valve, d or more [m].

    Returns
    -------
    numpy.ndarray
        FLP [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: FLP = FL / √(1 + FL² (ζ1 + ζB1)/N2 (C/d²)²).
    Source: IEC 60534-2-1:2011, equation 21, N2 from its definition, see `reducers.py`.

    Examples
    --------
    >>> round(float(combined_recovery_factor(36.6366, 0.9, 0.050, 0.080)), 4)
    0.8534
    """
    factor = in_range("fl", fl, 0, 1, "-", above=True)
    return factor / np.sqrt(1 + factor**2 * inlet_resistance(d, d1) / N2 * _bore_ratio(kv, d))


def combined_choking_ratio(
    kv: ArrayLike, xt: ArrayLike, d: ArrayLike, d1: ArrayLike, d2: ArrayLike
) -> Floats:
    """Pressure differential ratio factor xTP of a valve with reducers at choked gas flow.

    Parameters
    ----------
    kv : array_like
        Flow coefficient, 0 or more [m³/h at 1 bar].
    xt : array_like
        Pressure differential ratio factor of the valve alone, above 0, at most 0.84 [-].
    d : array_like
        Valve size, above 0 [m].
    d1, d2 : array_like
        Inside diameters of the pipe before and after the valve, d or more [m].

    Returns
    -------
    numpy.ndarray
        xTP [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: xTP = xT/FP² / (1 + xT (ζ1 + ζB1)/N5 (C/d²)²).
    Source: IEC 60534-2-1:2011, equation 22, N5 from its definition, see `reducers.py`.

    Examples
    --------
    >>> round(float(combined_choking_ratio(70.889, 0.60, 0.050, 0.080, 0.100)), 3)
    0.625
    """
    ratio = in_range("xt", xt, 0, 0.84, "-", above=True)
    fp = piping_geometry_factor(kv, d, d1, d2)
    return ratio / fp**2 / (1 + ratio * inlet_resistance(d, d1) / N5 * _bore_ratio(kv, d))


def _bore_ratio(kv: ArrayLike, d: ArrayLike) -> Floats:
    """(Av/d²)²: the (C/d²)² of the standard with the coefficient as an area."""
    return (av_from_kv(kv) / positive("d", d, "m") ** 2) ** 2
