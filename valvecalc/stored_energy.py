"""Energy held in a spring or in trapped air: the reason for the caution before an actuator is opened."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive

ATMOSPHERE = 101325.0  # Pa, the standard atmosphere


def spring_energy(spring_rate: ArrayLike, compression: ArrayLike, released_to: ArrayLike = 0.0) -> Floats:
    """Energy a spring gives back.

    Parameters
    ----------
    spring_rate : array_like
        Spring rate [N/m].
    compression : array_like
        How far it is pressed together [m].
    released_to : array_like
        How far it is still pressed together afterwards [m]; 0 for all of it.

    Returns
    -------
    numpy.ndarray
        Energy [J].

    Raises
    ------
    ValueError
        If the rate is not above zero or a compression is negative.

    Notes
    -----
    Equation: E = k (x² - x_end²) / 2.
    Source: worked by hand, Hooke's law.

    Examples
    --------
    >>> round(float(spring_energy(140101, 0.047625)), 1)
    158.9
    """
    before = in_range("compression", compression, 0, np.inf, "m")
    after = in_range("compression afterwards", released_to, 0, np.inf, "m")
    return 0.5 * positive("spring rate", spring_rate, "N/m") * (before**2 - after**2)


def trapped_air_energy(pressure_gauge: ArrayLike, volume: ArrayLike) -> Floats:
    """Energy that air can give to what it throws about, as it expands to the atmosphere at constant temperature.

    Parameters
    ----------
    pressure_gauge : array_like
        Pressure of the air [Pa gauge].
    volume : array_like
        Volume it fills [m³].

    Returns
    -------
    numpy.ndarray
        Energy [J], the most it can give; a sudden release gives less.

    Raises
    ------
    ValueError
        If the pressure is negative or the volume not above zero.

    Notes
    -----
    Equation: E = P V ln(P / P_atm) - (P - P_atm) V, P absolute: the work of the expansion, less the part of it that
    only pushes the atmosphere away, P_atm (V_end - V).
    Source: worked by hand, isothermal work of an ideal gas.

    Examples
    --------
    >>> round(float(trapped_air_energy(6e5, 0.010)), -2)
    7600.0
    """
    absolute = in_range("air pressure", pressure_gauge, 0, np.inf, "Pa gauge") + ATMOSPHERE
    room = positive("volume", volume, "m³")
    return room * (absolute * np.log(absolute / ATMOSPHERE) - (absolute - ATMOSPHERE))
