"""Whether liquid boils in the valve: the cavitation index, where cavitation begins, and what happens at this drop."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, above_boiling, in_range, numbers, positive, pressure_drop
from valvecalc.liquid import choked_drop

VERDICTS = ("none", "cavitation", "choked", "flashing")


def cavitation_index(p1: ArrayLike, p2: ArrayLike, pv: ArrayLike) -> Floats:
    """Cavitation index σ, upstream definition: a large one is quiet, one near 1 means trouble.

    Parameters
    ----------
    p1 : array_like
        Pressure before the valve, above pv [Pa absolute].
    p2 : array_like
        Pressure after the valve, 0 or more and below p1 [Pa absolute].
    pv : array_like
        Vapour pressure of the liquid, 0 or more [Pa absolute].

    Returns
    -------
    numpy.ndarray
        σ; below 1 the liquid flashes [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: σ = (P1 − Pv) / (P1 − P2). Others write (P2 − Pv) / (P1 − P2), which is σ − 1: always say which.
    Source: worked by hand, definition of ISA-RP75.23, second-hand: as the tests of `fluids` cite it.

    Examples
    --------
    >>> round(float(cavitation_index(10e5, 8e5, 2e5)), 6)
    4.0
    """
    return 1 / differential_pressure_ratio(p1, p2, pv)


def differential_pressure_ratio(p1: ArrayLike, p2: ArrayLike, pv: ArrayLike) -> Floats:
    """Differential pressure ratio xF of a liquid, the inverse of σ.

    Parameters
    ----------
    p1 : array_like
        Pressure before the valve, above pv [Pa absolute].
    p2 : array_like
        Pressure after the valve, 0 or more and below p1 [Pa absolute].
    pv : array_like
        Vapour pressure of the liquid, 0 or more [Pa absolute].

    Returns
    -------
    numpy.ndarray
        xF; above 1 the liquid flashes [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: xF = (P1 − P2) / (P1 − Pv).
    Source: IEC 60534-8-4, symbol xF (by title, from memory).

    Examples
    --------
    >>> round(float(differential_pressure_ratio(10e5, 8e5, 2e5)), 6)
    0.25
    """
    return pressure_drop(p1, p2) / above_boiling(p1, pv)


def incipient_ratio(xfz: ArrayLike, p1: ArrayLike) -> Floats:
    """Ratio xF at which cavitation begins at this inlet pressure, taken as no higher than in the maker's test.

    Parameters
    ----------
    xfz : array_like
        Ratio xF at which cavitation begins with 6 bar before the valve, above 0, at most 1 [-].
    p1 : array_like
        Pressure before the valve, above 0 [Pa absolute].

    Returns
    -------
    numpy.ndarray
        xF at which cavitation begins [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: xFzp1 = xFz (6 bar / P1)^0.125, not above xFz.
    Source: IEC 60534-8-4, from memory. There xFz is where the noise of cavitation begins, before it does damage. That a
    lower P1 is given no benefit is our own caution.

    Examples
    --------
    >>> incipient_ratio(0.4, [3e5, 6e5, 24e5]).round(4).tolist()
    [0.4, 0.4, 0.3364]
    """
    begins = in_range("xfz", xfz, 0, 1, "-", above=True)
    return begins * np.minimum((6e5 / positive("p1", p1, "Pa")) ** 0.125, 1.0)


def liquid_verdict(
    p1: ArrayLike,
    p2: ArrayLike,
    pv: ArrayLike,
    pc: ArrayLike,
    fl: ArrayLike,
    fp: ArrayLike = 1.0,
    xfz: ArrayLike | None = None,
) -> NDArray[np.str_]:
    """Say what the liquid does in the valve: none, cavitation, choked or flashing.

    Parameters
    ----------
    p1 : array_like
        Pressure before the valve, above pv [Pa absolute].
    p2 : array_like
        Pressure after the valve, 0 or more and below p1 [Pa absolute].
    pv, pc : array_like
        Vapour pressure and critical pressure of the liquid [Pa absolute].
    fl : array_like
        Liquid pressure recovery factor FL, above 0, at most 1; with reducers FLP [-].
    fp : array_like
        Piping geometry factor FP, above 0; 1 without reducers [-].
    xfz : array_like, optional
        Ratio xF at which this valve begins to cavitate, above 0, at most 1, from its maker's data [-].

    Returns
    -------
    numpy.ndarray of str
        "none": not yet any of the others, as far as xfz tells; "cavitation": bubbles form and collapse, flow
        still rises with drop; "choked": the same, and the flow no longer rises; "flashing": the outlet is below
        vapour pressure, the vapour stays [no unit].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: flashing P2 < Pv; else choked Δp ≥ Δp_choked; else cavitation xF ≥ xFz; else none. Without xFz,
    (FL/FP)² stands in: the drop at which the mean pressure of the jet meets Pv, by the definition of FL. Noise
    and damage start at less, often far less: "none" without the maker's xFz is no promise.
    Source: choking IEC 60534-2-1:2011, equation 3; P2 against Pv is common practice, no source.

    Examples
    --------
    >>> [str(liquid_verdict(10e5, p2, 2.3e3, 22.064e6, 0.9)) for p2 in (6e5, 1e5, 1e3)]
    ['none', 'choked', 'flashing']
    """
    ratio = differential_pressure_ratio(p1, p2, pv)
    chokes = pressure_drop(p1, p2) >= choked_drop(p1, pv, pc, fl, fp)
    start = (numbers("fl", fl) / numbers("fp", fp)) ** 2
    if xfz is not None:
        start = in_range("xfz", xfz, 0, 1, "-", above=True)
    flashes = numbers("p2", p2) < numbers("pv", pv)
    return np.select([flashes, chokes, ratio >= start], ["flashing", "choked", "cavitation"], "none")
