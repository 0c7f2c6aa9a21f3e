"""Reducers beside the valve: what they lose and recover, and what they make of its own factors (FP, FLP, xTP)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive
from valvecalc.units import av_from_kv

# The standard prints its constants N rounded to three figures, which moves answers by up to 0.4 %. With the
# coefficient as Av [m²] they follow from definitions, and that is what this library uses:
#   N2 is π²/8 (velocity head in the bore d), 0.02 % above the printed 1.60e-3;
#   N5 is 9/8 of N2: the printed 1.80e-3 is 1.125 times 1.60e-3 (choked Y is 2/3, so 1/2 (3/2)²).
N2 = np.pi**2 / 8
N5 = 9 / 8 * N2


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
    Source: IEC 60534-2-1:2011, equation 15, N2 from its definition, see above.

    Examples
    --------
    >>> round(float(piping_geometry_factor(50, 0.050, 0.100, 0.100)), 3)
    0.909
    """
    return 1 / np.sqrt(coefficient_divisor(fitting_resistance(d, d1, d2) / N2 * _bore_ratio(kv, d)))


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
    Source: IEC 60534-2-1:2011, equation 21, N2 from its definition, see above.

    Examples
    --------
    >>> round(float(combined_recovery_factor(36.6366, 0.9, 0.050, 0.080)), 4)
    0.8534
    """
    factor = in_range("fl", fl, 0, 1, "-", above=True)
    return factor / np.sqrt(1 + factor**2 * inlet_resistance(d, d1) / N2 * _bore_ratio(kv, d))


def combined_choking_ratio(kv: ArrayLike, xt: ArrayLike, d: ArrayLike, d1: ArrayLike, d2: ArrayLike) -> Floats:
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
    Source: IEC 60534-2-1:2011, equation 22, N5 from its definition, see above.

    Examples
    --------
    >>> round(float(combined_choking_ratio(70.889, 0.60, 0.050, 0.080, 0.100)), 3)
    0.625
    """
    ratio = in_range("xt", xt, 0, 0.84, "-", above=True)
    fp = piping_geometry_factor(kv, d, d1, d2)
    return ratio / fp**2 / (1 + ratio * inlet_resistance(d, d1) / N5 * _bore_ratio(kv, d))


def inlet_resistance(d: ArrayLike, d1: ArrayLike) -> Floats:
    """Loss and velocity coefficients of the reducer before the valve, ζ1 + ζB1.

    Parameters
    ----------
    d : array_like
        Valve size, above 0 [m].
    d1 : array_like
        Inside diameter of the pipe before the valve, d or more [m].

    Returns
    -------
    numpy.ndarray
        ζ1 + ζB1 in velocity heads of the bore d [-].

    Raises
    ------
    ValueError
        If a diameter is not above zero or the pipe is narrower than the valve.

    Notes
    -----
    Equation: ζ1 + ζB1 = ½ [1 − (d/D1)²]² + 1 − (d/D1)⁴.
    Source: IEC 60534-2-1:2011, equations 17 to 19, short concentric reducers.

    Examples
    --------
    >>> round(float(inlet_resistance(0.1016, 0.1541)), 4)
    0.9708
    """
    square = _area_ratio("d1", d, d1)
    return 1.5 - square - 0.5 * square * square  # the two terms multiplied out


def fitting_resistance(d: ArrayLike, d1: ArrayLike, d2: ArrayLike) -> Floats:
    """Sum of the loss and velocity coefficients of the reducers on both sides, Σζ.

    Parameters
    ----------
    d : array_like
        Valve size, above 0 [m].
    d1, d2 : array_like
        Inside diameters of the pipe before and after the valve, d or more [m].

    Returns
    -------
    numpy.ndarray
        ζ1 + ζ2 + ζB1 − ζB2 in velocity heads of the bore d [-]; negative where the outlet recovers most.

    Raises
    ------
    ValueError
        If a diameter is not above zero or a pipe is narrower than the valve.

    Notes
    -----
    Equation: Σζ = ζ1 + ζB1 + [1 − (d/D2)²]² − [1 − (d/D2)⁴].
    Source: IEC 60534-2-1:2011, equations 16 to 19, short concentric reducers.

    Examples
    --------
    >>> round(float(fitting_resistance(0.050, 0.080, 0.100)), 6)
    0.658081
    """
    return inlet_resistance(d, d1) + _outlet_resistance(d, d2)


def reducer_terms(
    d: ArrayLike | None = None, d1: ArrayLike | None = None, d2: ArrayLike | None = None
) -> tuple[Floats, Floats]:
    """Give what the reducers add to the resistance 1/Av² of the valve: both of them, and the one before it alone.

    Parameters
    ----------
    d : array_like, optional
        Valve size, above 0; without it there are no reducers [m].
    d1, d2 : array_like, optional
        Inside diameters of the pipe before and after the valve, d or more; d itself if left out [m].

    Returns
    -------
    tuple of numpy.ndarray
        Σζ/(N2 d⁴) and (ζ1 + ζB1)/(N2 d⁴) [1/m⁴].

    Raises
    ------
    ValueError
        If a diameter is not above zero, a pipe narrower than the valve, or a pipe is given without the valve.

    Notes
    -----
    Equation: 1/(Av FP)² = 1/Av² + Σζ/(N2 d⁴), N2 = π²/8.
    Source: IEC 60534-2-1:2011, equations 15 to 19, written with Av instead of C.

    Examples
    --------
    >>> [round(float(term)) for term in reducer_terms(0.050, 0.080, 0.100)]
    [85347, 133981]
    """
    if d is None:
        if d1 is not None or d2 is not None:
            raise ValueError("d is missing: reducers need the valve size d [m] beside the pipe diameters; give d.")
        return np.zeros(()), np.zeros(())
    square = positive("d", d, "m") ** 2
    inlet = inlet_resistance(d, d if d1 is None else d1)
    both = inlet + _outlet_resistance(d, d if d2 is None else d2)
    scale = 1 / (N2 * square * square)
    return both * scale, inlet * scale


def coefficient_divisor(term: ArrayLike) -> Floats:
    """Give 1/FP², by which reducers divide the square of the flow coefficient.

    Parameters
    ----------
    term : array_like
        Σζ/N2 (C/d²)², with Σζ/(N2 d⁴) of `reducer_terms` [-].

    Returns
    -------
    numpy.ndarray
        1/FP², same shape [-].

    Raises
    ------
    ValueError
        If the reducers would recover more than the valve loses.

    Notes
    -----
    Equation: 1/FP² = 1 + Σζ/N2 (C/d²)².
    Source: IEC 60534-2-1:2011, equation 15.

    Examples
    --------
    >>> float(coefficient_divisor(0.25))
    1.25
    """
    return positive("1 + Σζ/N2 (C/d²)², which falls as kv grows,", 1 + np.asarray(term), "-")


def given_sizes(d: ArrayLike | None, d1: ArrayLike | None, d2: ArrayLike | None) -> dict[str, ArrayLike]:
    """Those of the three diameters that were given, by name.

    Parameters
    ----------
    d, d1, d2 : array_like or None
        Valve size and inside diameters of the pipe before and after [m].

    Returns
    -------
    dict of str to array_like
        The given ones, as keywords for `reducer_terms` [m].

    Raises
    ------
    ValueError
        Never; `reducer_terms` is the one that checks.

    Notes
    -----
    Equation: none, bookkeeping.
    Source: none needed.

    Examples
    --------
    >>> given_sizes(0.05, None, 0.1)
    {'d': 0.05, 'd2': 0.1}
    """
    sizes = {"d": d, "d1": d1, "d2": d2}
    return {name: value for name, value in sizes.items() if value is not None}


def _bore_ratio(kv: ArrayLike, d: ArrayLike) -> Floats:
    """(Av/d²)²: the (C/d²)² of the standard with the coefficient as an area."""
    return (av_from_kv(kv) / positive("d", d, "m") ** 2) ** 2


def _outlet_resistance(d: ArrayLike, d2: ArrayLike) -> Floats:
    """ζ2 − ζB2, never positive: widening again recovers more than it loses."""
    square = _area_ratio("d2", d, d2)
    return 2 * square * (square - 1)


def _area_ratio(name: str, d: ArrayLike, pipe: ArrayLike) -> Floats:
    ratio = numbers("d", d) / positive(name, pipe, "m")
    ratio = in_range(f"d / {name}, valve size over pipe diameter,", ratio, 0, 1, "-", above=True)
    return ratio * ratio
