"""The few conversions that the trade needs, from exact definitions, and its signals. All else is in SI already."""

from __future__ import annotations

from math import sqrt

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, in_range, one_of

INCH = 0.0254  # m, exact (international yard and pound agreement, 1959)
GALLON = 231 * INCH**3  # m³, exact: the US gallon is 231 cubic inches
PSI = 0.45359237 * 9.80665 / INCH**2  # Pa, exact: pound, standard gravity and inch are
BAR = 1e5  # Pa, exact
WATER_DENSITY = 999.103  # kg/m³, water at 15 °C and 1 atm (IAPWS-95), the ρ0 of IEC 60534-2-1

# Kv is m³/h at 1 bar and Cv US gal/min at 1 psi, both with water, so only definitions enter.
KV_PER_CV = GALLON * 60 * sqrt(BAR / PSI)
KV_PER_AV = 1 / (1 / 3600 * sqrt(WATER_DENSITY / BAR))  # the way back from `av_from_kv`

# Live zero and full scale [A], or [Pa] gauge for the pneumatic ones.
SIGNALS = {
    "4-20 mA": (0.004, 0.020),
    "3-15 psi": (3 * PSI, 15 * PSI),
    "0.2-1.0 bar": (0.2 * BAR, 1.0 * BAR),
}

SIGNAL_STATES = ("fault low", "doubtful low", "in range", "doubtful high", "fault high")
FAULT_LOW, LOWEST, HIGHEST, FAULT_HIGH = 0.0036, 0.0038, 0.0205, 0.021  # A, NAMUR NE 43
_ROUNDING = 1e-9  # A: a current worked out from a fraction is off by the last digit


def kv_from_cv(cv: ArrayLike) -> Floats:
    """Flow coefficient Kv of a valve whose Cv is known.

    Parameters
    ----------
    cv : array_like
        Flow coefficient Cv, 0 or more [US gal/min at 1 psi].

    Returns
    -------
    numpy.ndarray
        Kv, same shape [m³/h at 1 bar].

    Raises
    ------
    ValueError
        If a coefficient is negative.

    Notes
    -----
    Equation: Kv = Cv · (gallon · 60 min/h) · √(1 bar / 1 psi) = 0.864978 Cv.
    Source: worked by hand, exact definitions of gallon, inch, pound, standard gravity and bar.

    Examples
    --------
    >>> round(float(kv_from_cv(100)), 4)
    86.4978
    """
    return in_range("cv", cv, 0, np.inf, "US gal/min at 1 psi") * KV_PER_CV


def cv_from_kv(kv: ArrayLike) -> Floats:
    """Flow coefficient Cv of a valve whose Kv is known.

    Parameters
    ----------
    kv : array_like
        Flow coefficient Kv, 0 or more [m³/h at 1 bar].

    Returns
    -------
    numpy.ndarray
        Cv, same shape [US gal/min at 1 psi].

    Raises
    ------
    ValueError
        If a coefficient is negative.

    Notes
    -----
    Equation: Cv = Kv / 0.864978 = 1.15610 Kv.
    Source: worked by hand, exact definitions of gallon, inch, pound, standard gravity and bar.

    Examples
    --------
    >>> round(float(cv_from_kv(100)), 3)
    115.61
    """
    return in_range("kv", kv, 0, np.inf, "m³/h at 1 bar") / KV_PER_CV


def av_from_kv(kv: ArrayLike) -> Floats:
    """Flow coefficient Av, the area-like one of SI, of a valve whose Kv is known.

    Parameters
    ----------
    kv : array_like
        Flow coefficient Kv, 0 or more [m³/h at 1 bar].

    Returns
    -------
    numpy.ndarray
        Av, same shape [m²].

    Raises
    ------
    ValueError
        If a coefficient is negative.

    Notes
    -----
    Equation: Av = Q √(ρ/Δp) with Q = Kv / 3600, ρ = 999.103 kg/m³, Δp = 1 bar.
    Source: definitions of Av and Kv as in IEC 60534-1 (from memory); ρ of water at 15 °C from IAPWS-95.

    Examples
    --------
    >>> round(float(av_from_kv(1)) * 1e5, 5)
    2.77653
    """
    return in_range("kv", kv, 0, np.inf, "m³/h at 1 bar") / 3600 * sqrt(WATER_DENSITY / BAR)


def signal_from_fraction(fraction: ArrayLike, signal_range: str) -> Floats:
    """Instrument signal that stands for a fraction of full scale.

    Parameters
    ----------
    fraction : array_like
        Fraction of full scale, -0.25 (dead signal) to 1.25 [-].
    signal_range : str
        "4-20 mA", "3-15 psi" or "0.2-1.0 bar" [no unit].

    Returns
    -------
    numpy.ndarray
        Current [A], or gauge pressure for the pneumatic ranges [Pa].

    Raises
    ------
    ValueError
        If the fraction is outside the limits or the range is not known.

    Notes
    -----
    Equation: signal = zero + fraction · span; all three ranges have zero = span / 4, so no signal is -25 %.
    Source: IEC 60381-1 (4-20 mA), IEC 60382 (0.2-1.0 bar), from memory; 3-15 psi: common practice, no source.

    Examples
    --------
    >>> signal_from_fraction([0, 0.5, 1], "4-20 mA").round(6).tolist()
    [0.004, 0.012, 0.02]
    """
    zero, full = SIGNALS[one_of("signal_range", signal_range, tuple(SIGNALS))]
    return zero + in_range("fraction", fraction, -0.25, 1.25, "-") * (full - zero)


def fraction_from_signal(signal: ArrayLike, signal_range: str) -> Floats:
    """Fraction of full scale that an instrument signal stands for; not clipped, so faults stay visible.

    Parameters
    ----------
    signal : array_like
        Current [A], or gauge pressure for the pneumatic ranges [Pa]; 0 to 1.2 times full scale.
    signal_range : str
        "4-20 mA", "3-15 psi" or "0.2-1.0 bar" [no unit].

    Returns
    -------
    numpy.ndarray
        Fraction of full scale, -0.25 to 1.25, same shape [-].

    Raises
    ------
    ValueError
        If the signal is outside the limits or the range is not known.

    Notes
    -----
    Equation: fraction = (signal - zero) / span.
    Source: as `signal_from_fraction`.

    Examples
    --------
    >>> round(float(fraction_from_signal(0.008, "4-20 mA")), 6)
    0.25
    """
    zero, full = SIGNALS[one_of("signal_range", signal_range, tuple(SIGNALS))]
    unit = "A" if signal_range == "4-20 mA" else "Pa gauge"
    return (in_range("signal", signal, 0, 1.2 * full, unit) - zero) / (full - zero)


def split_range(fraction: ArrayLike, start: float, end: float) -> Floats:
    """Travel asked of one valve of a split range, from the part of the signal it answers to.

    Parameters
    ----------
    fraction : array_like
        Controller output as a fraction of full scale, -0.25 to 1.25 [-].
    start, end : float
        Fractions of full scale at which this valve starts to open and is full open, 0 to 1;
        `end` below `start` for a valve that closes on a rising signal [-].

    Returns
    -------
    numpy.ndarray
        Relative travel asked for, 0 to 1, same shape [-].

    Raises
    ------
    ValueError
        If an input is outside the limits, or `end` equals `start`.

    Notes
    -----
    Equation: travel = (fraction - start) / (end - start), held between 0 and 1.
    Source: common practice, no source.

    Examples
    --------
    >>> split_range([0.25, 0.625], 0.0, 0.5).tolist(), split_range([0.25, 0.625], 0.5, 1.0).tolist()
    ([0.5, 1.0], [0.0, 0.25])
    """
    x, x0, x1 = (
        in_range("fraction", fraction, -0.25, 1.25, "-"),
        in_range("start", start, 0, 1, "-"),
        in_range("end", end, 0, 1, "-"),
    )
    in_range("the distance from start to end", abs(x1 - x0), 0, 1, "-", above=True)
    with np.errstate(over="ignore"):  # ends that nearly meet: beyond all numbers is still no more than open
        return np.clip((x - x0) / (x1 - x0), 0.0, 1.0)


def signal_state(signal: ArrayLike) -> NDArray[np.str_]:
    """Say whether a current of a 4 to 20 mA loop stands for a value or for a fault.

    Parameters
    ----------
    signal : array_like
        Current, 0 to 0.024 [A].

    Returns
    -------
    numpy.ndarray of str
        "in range": from 3.8 to 20.5 mA, a value, if outside 4 to 20 mA one a little under or over the range;
        "fault low" up to 3.6 mA and "fault high" from 21 mA on; "doubtful low" and "doubtful high" between [no unit].

    Raises
    ------
    ValueError
        If the current is outside the limits.

    Notes
    -----
    Equation: limits 3.6, 3.8, 20.5 and 21 mA, each of them belonging to the state further out or, of 3.8 and 20.5,
    to the range.
    Source: NAMUR NE 43, for the signals of transmitters, from memory. Its own manual says
    what a positioner does with such a current.

    Examples
    --------
    >>> signal_state([0.0, 0.0038, 0.012, 0.0207]).tolist()
    ['fault low', 'in range', 'in range', 'doubtful high']
    """
    current = in_range("signal", signal, 0, 0.024, "A")
    inside = (current >= LOWEST - _ROUNDING) & (current <= HIGHEST + _ROUNDING)
    low, high = current <= FAULT_LOW + _ROUNDING, current >= FAULT_HIGH - _ROUNDING
    kinds = ["in range", "fault low", "fault high", "doubtful low"]
    return np.select([inside, low, high, current < LOWEST], kinds, "doubtful high")
