"""Reducers beside the valve: what they lose and recover, and how they change its own factors (FP, FLP, xTP)."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive

# The standard prints its constants N rounded to three figures, which moves answers by up to 0.4 %. With the
# coefficient as Av [m²] they follow from definitions, and that is what this library uses:
#   N2 is π²/8 (velocity head in the bore d), 0.02 % above the printed 1.60e-3;
#   N5 is 9/8 of N2: the printed 1.80e-3 is 1.125 times 1.60e-3 (choked Y is 2/3, so 1/2 (3/2)²).
N2 = np.pi**2 / 8
N5 = 9 / 8 * N2
GAS_SHARE = N2 / N5  # so the resistance before a choked gas counts 8/9 of what it does before a liquid


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


def reducer_factors(
    square: ArrayLike,
    share: ArrayLike,
    d: ArrayLike | None = None,
    d1: ArrayLike | None = None,
    d2: ArrayLike | None = None,
) -> tuple[Floats, Floats]:
    """Give by how much reducers divide the flow squared: of an unchoked flow, and of a choked one.

    Parameters
    ----------
    square : array_like
        Flow coefficient as an area, squared: Av² [m⁴].
    share : array_like
        FL² of a liquid; 8/9 xT of a gas [-].
    d : array_like, optional
        Valve size, above 0; without it there are no reducers [m].
    d1, d2 : array_like, optional
        Inside diameters of the pipe before and after the valve, d or more; d itself if left out [m].

    Returns
    -------
    tuple of numpy.ndarray
        1/FP², and what divides FL² to make FLP², or xT/FP² to make xTP [-].

    Raises
    ------
    ValueError
        If a diameter is out of range, or the reducers would recover more than the valve loses.

    Notes
    -----
    Equation: 1/FP² = 1 + Σζ/N2 (C/d²)², FL²/FLP² = 1 + FL² (ζ1 + ζB1)/N2 (C/d²)², xT/(FP² xTP) = 1 +
    xT (ζ1 + ζB1)/N5 (C/d²)²; N5 is 9/8 of N2.
    Source: IEC 60534-2-1:2011, equations 15, 21, 22, written with Av instead of C.

    Examples
    --------
    >>> [round(float(factor), 4) for factor in reducer_factors(1e-6, 0.81, 0.050, 0.080, 0.100)]
    [1.0853, 1.1085]
    """
    loss, inlet_loss = reducer_terms(d, d1, d2)
    unchoked = positive("1 + Σζ/N2 (C/d²)², which falls as kv grows,", 1 + loss * np.asarray(square, float), "-")
    return unchoked, 1 + np.asarray(share, float) * inlet_loss * np.asarray(square, float)


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


def _outlet_resistance(d: ArrayLike, d2: ArrayLike) -> Floats:
    """ζ2 − ζB2, never positive: widening again recovers more than it loses."""
    square = _area_ratio("d2", d, d2)
    return 2 * square * (square - 1)


def _area_ratio(name: str, d: ArrayLike, pipe: ArrayLike) -> Floats:
    ratio = numbers("d", d) / positive(name, pipe, "m")
    ratio = in_range(f"d / {name}, valve size over pipe diameter,", ratio, 0, 1, "-", above=True)
    return ratio * ratio
