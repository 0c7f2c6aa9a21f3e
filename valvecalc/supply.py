"""Air supply an actuator needs, and the bench set a valve needs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.actuator import ACTIONS, Actuator, BenchSet
from valvecalc.checks import Floats, in_range, numbers, one_of, positive
from valvecalc.force_balance import pressure_at


@dataclass(frozen=True)
class SupplyCheck:
    """Pressure needed for the full stroke [Pa gauge], what the supply has beyond it [Pa] and [N]."""

    needed_gauge: Floats
    margin: Floats
    force_margin: Floats


def supply_check(
    actuator: Actuator,
    supply_gauge: ArrayLike,
    fluid_closed: ArrayLike,
    fluid_open: ArrayLike,
    friction: ArrayLike,
    seat_force: ArrayLike = 0.0,
) -> SupplyCheck:
    """Whether the air supply can drive the valve over its whole stroke against spring, fluid and friction.

    Parameters
    ----------
    actuator : Actuator
        From `spring_actuator` [SI].
    supply_gauge : array_like
        Air supply pressure [Pa gauge].
    fluid_closed, fluid_open : array_like
        Fluid force on the plug when closed and when open, positive towards open [N].
    friction : array_like
        Size of the friction [N].
    seat_force : array_like
        Force wanted on the seat [N]; asked only where air closes the valve.

    Returns
    -------
    SupplyCheck
        Pressure needed [Pa gauge], margin [Pa] and the margin as a force [N]; below zero the supply is short.

    Raises
    ------
    ValueError
        If the supply is not above zero, or the friction or the seat force is negative.

    Notes
    -----
    Equation: p = larger of (F_spring ∓ F_fluid + F + F_seat) / A at the two ends of travel.
    Source: worked by hand, statics, spring and fluid force taken as straight lines between the ends.

    Examples
    --------
    >>> from valvecalc.actuator import spring_actuator
    >>> check = supply_check(spring_actuator("direct", 0.05, 100e3, 1000, 0.04), 140e3, 1000, 0, 200, 500)
    >>> float(check.needed_gauge), float(check.margin)
    (134000.0, 6000.0)
    """
    supply = positive("supply pressure", supply_gauge, "Pa gauge")
    seat = in_range("seat force", seat_force, 0, np.inf, "N")
    moving, on_seat = ("opening", 0.0) if actuator.action == "reverse" else ("closing", seat)
    load_closed = numbers("fluid force, closed", fluid_closed) + on_seat
    closed = pressure_at(actuator, 0.0, load_closed, friction, moving)
    opened = pressure_at(actuator, 1.0, fluid_open, friction, moving)
    area_closed, area_open = (
        (actuator.area, actuator.area_end) if actuator.action == "reverse" else (actuator.area_end,
        actuator.area)
    )
    needed = np.maximum(closed, opened)
    area = np.where(closed > opened, area_closed, area_open)
    return SupplyCheck(needed, supply - needed, (supply - needed) * area)


def required_bench_set(
    action: str,
    area: ArrayLike,
    spring_rate: ArrayLike,
    rated_travel: ArrayLike,
    closing_load: ArrayLike,
    supply_gauge: ArrayLike,
) -> BenchSet:
    """Bench set that lets a valve shut against its load.

    Parameters
    ----------
    action : str
        "direct" (the air shuts it) or "reverse" (the spring shuts it) [no unit].
    area : array_like
        Effective area [m²].
    spring_rate : array_like
        Spring rate [N/m].
    rated_travel : array_like
        Rated travel [m].
    closing_load : array_like
        Fluid force that holds it open, friction and seat force together, at the closed end [N].
    supply_gauge : array_like
        Air supply pressure [Pa gauge].

    Returns
    -------
    BenchSet
        Reverse: the lowest that shuts. Direct: the highest that shuts. [Pa gauge]; a low end below
        zero or a high end
        above the supply says that no bench set of this spring and area will do.

    Raises
    ------
    ValueError
        If a size is not above zero, the load is not finite, or the action is another word.

    Notes
    -----
    Equation: reverse p_low = L / A; direct p_high = p_supply - L / A; p_high - p_low = k X / A.
    Source: worked by hand, statics.

    Examples
    --------
    >>> b = required_bench_set("reverse", 0.05, 100e3, 0.04, 1500, 140e3)
    >>> float(b.low_gauge), float(b.high_gauge)
    (30000.0, 110000.0)
    """
    a = positive("effective area", area, "m²")
    span = positive("spring rate", spring_rate, "N/m") * positive("rated travel", rated_travel, "m") / a
    supply = positive("supply pressure", supply_gauge, "Pa gauge")
    load = numbers("closing load", closing_load) / a
    low = load if one_of("action", action, ACTIONS) == "reverse" else supply - load - span
    return BenchSet(low, low + span)
