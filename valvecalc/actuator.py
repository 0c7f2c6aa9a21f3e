"""Actuators: spring and diaphragm with their bench set, energy held in spring and air.

Forces along the stem are positive towards open. `action` is the sense of the whole valve: in a "direct" valve more
air closes it and the spring opens it, in a "reverse" valve more air opens it and the spring closes it.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, one_of, positive

ACTIONS = ("direct", "reverse")
ATMOSPHERE = 101325.0  # Pa, the standard atmosphere


class Actuator(NamedTuple):
    """A diaphragm and its spring; make one with `spring_actuator` or `actuator_from_bench_set`.

    `area` [m²] is the effective area with the spring at its longest, `area_end` [m²] after the full stroke of air;
    `spring_rate` [N/m], `preload` [N] the spring's force at its longest, `rated_travel` [m].
    """

    action: str
    area: Floats
    area_end: Floats
    spring_rate: Floats
    preload: Floats
    rated_travel: Floats


class BenchSet(NamedTuple):
    """The air pressures [Pa gauge] that start and end the stroke with no process load and no friction."""

    low_gauge: Floats
    high_gauge: Floats


def spring_actuator(
    action: str,
    area: ArrayLike,
    spring_rate: ArrayLike,
    preload: ArrayLike,
    rated_travel: ArrayLike,
    area_end: ArrayLike | None = None,
) -> Actuator:
    """Describe an actuator by its spring.

    Parameters
    ----------
    action : str
        "direct" (air closes the valve) or "reverse" (air opens it) [no unit].
    area : array_like
        Effective area with the spring at its longest [m²].
    spring_rate, preload : array_like
        Spring rate [N/m] and force of the spring at its longest [N].
    rated_travel : array_like
        Rated travel [m].
    area_end : array_like, optional
        Effective area at the end of the stroke [m²]; the same as `area` if left out.

    Returns
    -------
    Actuator
        The checked values [SI].

    Raises
    ------
    ValueError
        If a size is not above zero, the preload is negative, or the action is neither of the two words.

    Notes
    -----
    Equation: none, it collects what the force balance needs.
    Source: sense of action as in DOE-HDBK-1018/2-93, module 4, p. 47.

    Examples
    --------
    >>> float(spring_actuator("reverse", 0.0645, 140e3, 1334, 0.0381).preload)
    1334.0
    """
    start = positive("effective area", area, "m²")
    return Actuator(
        action=one_of("action", action, ACTIONS),
        area=start,
        area_end=start if area_end is None else positive("effective area at the end", area_end, "m²"),
        spring_rate=positive("spring rate", spring_rate, "N/m"),
        preload=in_range("spring preload", preload, 0, np.inf, "N"),
        rated_travel=positive("rated travel", rated_travel, "m"),
    )


def actuator_from_bench_set(
    action: str,
    area: ArrayLike,
    bench_low_gauge: ArrayLike,
    bench_high_gauge: ArrayLike,
    rated_travel: ArrayLike,
    area_end: ArrayLike | None = None,
) -> Actuator:
    """Describe an actuator by its bench set: find spring rate and preload.

    Parameters
    ----------
    action : str
        "direct" (air closes the valve) or "reverse" (air opens it) [no unit].
    area : array_like
        Effective area with the spring at its longest [m²].
    bench_low_gauge, bench_high_gauge : array_like
        Pressures that start and end the stroke on the bench [Pa gauge].
    rated_travel : array_like
        Rated travel [m].
    area_end : array_like, optional
        Effective area at the end of the stroke [m²]; the same as `area` if left out.

    Returns
    -------
    Actuator
        With the spring rate and preload that give this bench set [SI].

    Raises
    ------
    ValueError
        If a size is not above zero, the low pressure is negative, or the force does not rise over the stroke.

    Notes
    -----
    Equation: F0 = p_low A, k = (p_high A_end - p_low A) / X.
    Source: worked by hand, statics, force = pressure times area and Hooke's law.

    Examples
    --------
    >>> a = actuator_from_bench_set("reverse", 0.064516, 20684.3, 103421, 0.0381)
    >>> round(float(a.preload), 1), round(float(a.spring_rate), -2)
    (1334.5, 140100.0)
    """
    start = positive("effective area", area, "m²")
    end = start if area_end is None else positive("effective area at the end", area_end, "m²")
    preload = in_range("low end of the bench set", bench_low_gauge, 0, np.inf, "Pa gauge") * start
    end_force = positive("high end of the bench set", bench_high_gauge, "Pa gauge") * end
    if np.any(end_force <= preload):
        raise ValueError(
            "the high end of the bench set must push harder than the low end, but it does not; "
            "check that the two pressures [Pa gauge] are not swapped and that the areas are right."
        )
    rate = (end_force - preload) / positive("rated travel", rated_travel, "m")
    return spring_actuator(action, start, rate, preload, rated_travel, end)


def spring_energy(spring_rate: ArrayLike, compression: ArrayLike, released_to: ArrayLike = 0.0) -> Floats:
    """Energy a spring gives back.

    Parameters
    ----------
    spring_rate : array_like
        Spring rate [N/m].
    compression : array_like
        How far it is compressed [m].
    released_to : array_like
        How far it is still compressed afterwards [m]; 0 if it is let out fully.

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
    """Energy that air can give to whatever it throws about, if it expands to the atmosphere at constant temperature.

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
