"""Instrument air: how dry it has to be, flow through a small opening, filling and emptying a room, air kept in a tank.

Air is a perfect gas with γ = 1.4. An opening is given by its effective area: that of the ideal nozzle that passes the
same flow; a drilled hole of that size passes less. A room is taken to fill and empty so slowly that its air keeps the
temperature of its walls. If heat had no time to come or go, it would fill in 1/γ of that time. So the truth lies
between 71 and 100 % of it.
"""

from __future__ import annotations

from math import sqrt

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive
from valvecalc.gas import GAS_CONSTANT

GAMMA = 1.4  # perfect gas of two-atom molecules
GAS_CONSTANT_OF_AIR = GAS_CONSTANT / 0.02897  # J/(kg K)
CRITICAL_RATIO: float = (2 / (GAMMA + 1)) ** (GAMMA / (GAMMA - 1))  # 0.5283
CHOKED = sqrt(GAMMA) * (2 / (GAMMA + 1)) ** ((GAMMA + 1) / (2 * (GAMMA - 1)))  # 0.6847, largest flow function
_SUBSONIC = sqrt(2 * GAMMA / (GAMMA - 1))
ROOM_TEMPERATURE = 293.15  # K

HIGHEST_DEW_POINT = 277.15  # K at line pressure; this and the next from ISA-7.0.01
DEW_POINT_MARGIN = 10.0  # K below the coldest place


def highest_dew_point(coldest: ArrayLike) -> Floats:
    """Highest pressure dew point that instrument air may have, from the coldest place its tubing reaches.

    Parameters
    ----------
    coldest : array_like
        Lowest temperature any part of the air system sees, 200 to 340 [K].

    Returns
    -------
    numpy.ndarray
        Dew point at line pressure, as measured behind the dryer, same shape [K].

    Raises
    ------
    ValueError
        If the temperature is outside the limits.

    Notes
    -----
    Equation: the lower of 4 °C and the coldest temperature less 10 K.
    Source: ISA-7.0.01-1996, pressure dew point, second-hand.

    Examples
    --------
    >>> (highest_dew_point([263.15, 300.0]) - 273.15).round(2).tolist()
    [-20.0, 4.0]
    """
    place = in_range("coldest temperature", coldest, 200, 340, "K")
    return np.minimum(HIGHEST_DEW_POINT, place - DEW_POINT_MARGIN)


def choked_below(p1: ArrayLike) -> Floats:
    """Highest pressure after an opening at which the air in it is still choked.

    Parameters
    ----------
    p1 : array_like
        Pressure before the opening, above 0 [Pa absolute].

    Returns
    -------
    numpy.ndarray
        Pressure after it, same shape [Pa absolute].

    Raises
    ------
    ValueError
        If the pressure is zero or less.

    Notes
    -----
    Equation: P2 = P1 (2/(γ + 1))^(γ/(γ − 1)) = 0.5283 P1.
    Source: NACA Report 1135, isentropic flow at M = 1, from memory.

    Examples
    --------
    >>> round(float(choked_below(100e3)))
    52828
    """
    return CRITICAL_RATIO * positive("p1", p1, "Pa absolute")


def filling_time(
    pressure: ArrayLike, volume: ArrayLike, opening: ArrayLike, p1: ArrayLike, temperature: ArrayLike = ROOM_TEMPERATURE
) -> Floats:
    """Time at which a room that is filled through a small opening reaches each of some pressures.

    Parameters
    ----------
    pressure : array_like
        Pressures in the room along the last axis, rising, above 0, at most p1 [Pa absolute].
    volume : array_like
        The room at each of them, above 0; a single number if it stays the same [m³].
    opening : array_like
        Effective area, above 0 [m²].
    p1 : array_like
        Pressure before the opening, above 0 [Pa absolute].
    temperature : array_like
        Temperature of the air, above 0 [K].

    Returns
    -------
    numpy.ndarray
        Time from the first pressure, which counts as 0, along the last axis [s].

    Raises
    ------
    ValueError
        If pressures fall or pass p1, or an input is outside the limits.

    Notes
    -----
    Equation: d(P V) = R T W dt with the flow W of an ideal nozzle. For a room that stays the same: while choked
    t = V ΔP/(0.6847 A P1 √(R T)), then V/(A √(R T)) √7 times the fall of √(1 − (P/P1)^(2/7)). For one that grows,
    the mean of d(P V)/dP over each step.
    Source: worked by hand, perfect gas at constant temperature; flow as in NACA Report 1135, from memory.

    Examples
    --------
    >>> filling_time([1e5, 2e5, 5e5], 1e-3, 1e-6, 5e5).round(3).tolist()
    [0.0, 1.007, 5.377]
    """
    before = positive("p1", p1, "Pa absolute")
    inside = _in_order("pressure", pressure, 1)
    ratio = in_range("pressure over p1", inside / before, 0, 1, "-", above=True)
    choked = np.minimum(ratio, CRITICAL_RATIO) / CHOKED
    rest = np.sqrt(1 - np.maximum(ratio, CRITICAL_RATIO) ** ((GAMMA - 1) / GAMMA))
    each = np.diff(choked - _SUBSONIC * rest, axis=-1)
    return _times(each, before * np.diff(ratio, axis=-1), inside, volume, opening, temperature)


def emptying_time(
    pressure: ArrayLike, volume: ArrayLike, opening: ArrayLike, p2: ArrayLike, temperature: ArrayLike = ROOM_TEMPERATURE
) -> Floats:
    """Time at which a room that is emptied through a small opening has fallen to each of some pressures.

    Parameters
    ----------
    pressure : array_like
        Pressures in the room along the last axis, falling, at least p2 [Pa absolute].
    volume : array_like
        The room at each of them, above 0; a single number if it stays the same [m³].
    opening : array_like
        Effective area, above 0 [m²].
    p2 : array_like
        Pressure after the opening, above 0 [Pa absolute].
    temperature : array_like
        Temperature of the air, above 0 [K].

    Returns
    -------
    numpy.ndarray
        Time from the first pressure, which counts as 0, along the last axis [s].

    Raises
    ------
    ValueError
        If pressures rise or fall below p2, or an input is outside the limits.

    Notes
    -----
    Equation: d(P V) = −R T W dt with the flow W of an ideal nozzle. For a room that stays the same: while choked
    V/(0.6847 A √(R T)) times the fall of ln P, then V/(A √(R T)) √7 times the fall of x + 2/3 x³ + x⁵/5, where
    x = √((P/P2)^(2/7) − 1). For one that shrinks, the mean of d(P V)/dP over each step.
    Source: worked by hand, perfect gas at constant temperature; flow as in NACA Report 1135, from memory.

    Examples
    --------
    >>> emptying_time([5e5, 2e5, 1e5], 1e-3, 1e-6, 1e5).round(3).tolist()
    [0.0, 4.613, 9.546]
    """
    after = positive("p2", p2, "Pa absolute")
    inside = _in_order("pressure", pressure, -1)
    over = in_range("pressure over p2", inside / after, 1, np.inf, "-")
    choked = np.log(np.maximum(over, 1 / CRITICAL_RATIO)) / CHOKED
    x = np.sqrt(np.minimum(over, 1 / CRITICAL_RATIO) ** ((GAMMA - 1) / GAMMA) - 1)
    rest = _SUBSONIC * (x + 2 / 3 * x**3 + x**5 / 5)  # the powers are those of γ = 1.4
    return _times(-np.diff(choked + rest, axis=-1), np.diff(inside, axis=-1), inside, volume, opening, temperature)


def pressure_after_strokes(p1: ArrayLike, volume: ArrayLike, swept: ArrayLike, strokes: ArrayLike) -> Floats:
    """Pressure left in a volume tank after it has stroked an actuator without any supply.

    Parameters
    ----------
    p1 : array_like
        Pressure in the tank before, above 0 [Pa absolute].
    volume : array_like
        Room of the tank, above 0 [m³].
    swept : array_like
        Room that is filled from it at each stroke and vented afterwards, 0 or more [m³].
    strokes : array_like
        How many, 0 or more [-].

    Returns
    -------
    numpy.ndarray
        Pressure in tank and actuator at the end of the last stroke, broadcast shape [Pa absolute].

    Raises
    ------
    ValueError
        If an input is outside the limits.

    Notes
    -----
    Equation: P = P1 (V/(V + v))^n. The room filled is counted as empty before each stroke, so the result is a little
    too low.
    Source: Boyle's law, worked by hand.

    Examples
    --------
    >>> float(pressure_after_strokes(6e5, 0.010, 0.010, 2))
    150000.0
    """
    room, each = positive("volume", volume, "m³"), in_range("swept", swept, 0, np.inf, "m³")
    left: Floats = room / (room + each)
    return positive("p1", p1, "Pa absolute") * left ** in_range("strokes", strokes, 0, np.inf, "-")


def _in_order(name: str, value: ArrayLike, sense: int) -> Floats:
    inside = np.atleast_1d(positive(name, value, "Pa absolute"))
    if np.any(sense * np.diff(inside, axis=-1) < 0):
        way = "rise" if sense > 0 else "fall"
        raise ValueError(f"{name} [Pa absolute] must {way} from each to the next, but it does not; sort the values.")
    return inside


def _times(
    each: Floats, step: Floats, inside: Floats, volume: ArrayLike, opening: ArrayLike, temperature: ArrayLike
) -> Floats:
    """Add up the steps: `each` is how long one takes for a unit room, `step` by how much the pressure changes [Pa]."""
    room = np.broadcast_to(positive("volume", volume, "m³"), inside.shape)
    moved = np.diff(inside * room, axis=-1)
    still = (room[..., 1:] + room[..., :-1]) / 2
    mean = np.where(step == 0, still, moved / np.where(step == 0, 1, step))
    speed = np.sqrt(GAS_CONSTANT_OF_AIR * positive("temperature", temperature, "K"))
    taken = each * mean / (positive("opening", opening, "m²") * speed)
    return np.concatenate([np.zeros((*taken.shape[:-1], 1)), np.cumsum(taken, axis=-1)], axis=-1)
