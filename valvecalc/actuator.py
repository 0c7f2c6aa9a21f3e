"""Spring-and-diaphragm actuator: effective area, spring, bench set.

Forces along the stem are positive towards open. `action` is the sense of the whole valve: in a "direct" valve
more air
closes it and the spring opens it, in a "reverse" valve more air opens it and the spring closes it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, one_of, positive

ACTIONS = ("direct", "reverse")


@dataclass(frozen=True)
class Actuator:
    """A diaphragm and its spring; make one with `spring_actuator` or `actuator_from_bench_set`.

    `area` [m²] is the effective area with the spring at its longest, `area_end` [m²] after the full
    stroke of air;
    `spring_rate` [N/m], `preload` [N] the spring's force at its longest, `rated_travel` [m].
    """

    action: str
    area: Floats
    area_end: Floats
    spring_rate: Floats
    preload: Floats
    rated_travel: Floats


@dataclass(frozen=True)
class BenchSet:
    """The air pressures [Pa gauge] that start and end the stroke with no process load and no friction."""

    low_gauge: Floats
    high_gauge: Floats


def plate_area(casing_diameter: ArrayLike, plate_diameter: ArrayLike) -> Floats:
    """Effective area of a diaphragm that hangs between the casing and a flat plate.

    Parameters
    ----------
    casing_diameter : array_like
        Inside diameter of the casing [m].
    plate_diameter : array_like
        Diameter of the plate [m], no larger than the casing.

    Returns
    -------
    numpy.ndarray
        Effective area [m²]; the real one changes with the stroke and is on the maker's sheet.

    Raises
    ------
    ValueError
        If a diameter is not above zero, or the plate is larger than the casing.

    Notes
    -----
    Equation: A = (π/12) (D² + D d + d²), the mean area of the cone between casing and plate.
    Source: geometric estimate, from memory.

    Examples
    --------
    >>> round(float(plate_area(0.3048, 0.2413)), 5)
    0.05882
    """
    casing = positive("casing diameter", casing_diameter, "m")
    plate = positive("plate diameter", plate_diameter, "m")
    if np.any(plate > casing):
        raise ValueError("plate diameter must be no larger than the casing; check that they are not swapped.")
    return np.float64(np.pi / 12) * (casing**2 + casing * plate + plate**2)


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
        If a size is not above zero, the preload is negative, or the action is another word.

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
        If a size is not above zero, the low pressure is negative, or the force does not grow over the stroke.

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


def bench_set(actuator: Actuator) -> BenchSet:
    """Pressures that start and end the stroke on the bench.

    Parameters
    ----------
    actuator : Actuator
        From `spring_actuator` [SI].

    Returns
    -------
    BenchSet
        Low and high pressure [Pa gauge].

    Raises
    ------
    ValueError
        Never for an actuator made by this module.

    Notes
    -----
    Equation: p_low = F0 / A, p_high = (F0 + k X) / A_end.
    Source: worked by hand, statics, force = pressure times area and Hooke's law.

    Examples
    --------
    >>> b = bench_set(spring_actuator("reverse", 0.05, 100e3, 1000, 0.04))
    >>> float(b.low_gauge), float(b.high_gauge)
    (20000.0, 100000.0)
    """
    end_force = actuator.preload + actuator.spring_rate * actuator.rated_travel
    return BenchSet(actuator.preload / actuator.area, end_force / actuator.area_end)
