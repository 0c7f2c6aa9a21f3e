"""Force balance on the stem: each force, travel from pressure and back, fail position, bench set and drop for shut-off.

Every force is positive where it pushes the plug towards open. Friction acts against the motion.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.actuator import ACTIONS, Actuator, BenchSet
from valvecalc.checks import Floats, in_range, numbers, one_of, positive

MOVING = {"opening": 1.0, "closing": -1.0, "still": 0.0}
BODIES = ("push_down_to_close", "push_down_to_open")


class StemForces(NamedTuple):
    """Forces on the stem [N], positive towards open; on the seat, minus `total` is what it carries."""

    air: Floats
    spring: Floats
    fluid: Floats
    friction: Floats
    total: Floats


def stem_forces(
    actuator: Actuator,
    travel: ArrayLike,
    pressure_gauge: ArrayLike,
    fluid_force: ArrayLike = 0.0,
    friction: ArrayLike = 0.0,
    moving: str = "still",
) -> StemForces:
    """Each force on the stem and their sum.

    Parameters
    ----------
    actuator : Actuator
        From `spring_actuator` [SI].
    travel : array_like
        Relative travel [-], 0 closed to 1 open.
    pressure_gauge : array_like
        Air pressure in the actuator [Pa gauge].
    fluid_force : array_like
        Force of the fluid on the plug at this travel, positive towards open [N].
    friction : array_like
        Size of the friction of packing, guides and seal [N].
    moving : str
        "opening", "closing" or "still": at rest friction takes up what it can of the other forces [no unit].

    Returns
    -------
    StemForces
        Air, spring, fluid, friction and total, positive towards open [N], of one shape.

    Raises
    ------
    ValueError
        If travel is outside 0 to 1, a pressure or friction is negative, or `moving` is none of the three words.

    Notes
    -----
    Equation: sum = ±p A(s) ∓ (F0 + k s X) + F_fluid + F_friction, upper signs for reverse, s the air stroke.
    Source: statics, worked by hand; sense of action as in DOE-HDBK-1018/2-93, module 4, p. 47.

    Examples
    --------
    >>> from valvecalc.actuator import spring_actuator
    >>> f = stem_forces(spring_actuator("reverse", 0.05, 100e3, 1000, 0.04), 0.5, 70e3)
    >>> float(f.air), float(f.spring), float(f.total)
    (3500.0, -3000.0, 500.0)
    """
    h = in_range("travel", travel, 0, 1, "-")
    pressure = in_range("actuator pressure", pressure_gauge, 0, np.inf, "Pa gauge")
    fluid = numbers("fluid force", fluid_force)
    limit = in_range("friction", friction, 0, np.inf, "N")
    sense = _air_sense(actuator)
    stroke = h if sense > 0 else 1 - h
    air = sense * pressure * _area(actuator, stroke)
    spring = -sense * (actuator.preload + actuator.spring_rate * stroke * actuator.rated_travel)
    driving = air + spring + fluid
    held = {"opening": -limit, "closing": limit, "still": -np.clip(driving, -limit, limit)}
    rub = held[one_of("moving", moving, tuple(MOVING))]
    return StemForces(*np.broadcast_arrays(air, spring, fluid, rub, driving + rub))


def travel_at(
    actuator: Actuator,
    pressure_gauge: ArrayLike,
    fluid_closed: ArrayLike = 0.0,
    fluid_open: ArrayLike | None = None,
    friction: ArrayLike = 0.0,
    moving: str = "still",
) -> Floats:
    """Travel that an actuator pressure gives, between the stops.

    Parameters
    ----------
    actuator : Actuator
        From `spring_actuator` [SI].
    pressure_gauge : array_like
        Air pressure in the actuator [Pa gauge].
    fluid_closed, fluid_open : array_like
        Fluid force on the plug when closed and when open, positive towards open, a straight line between [N];
        the second is the same as the first if left out.
    friction : array_like
        Size of the friction [N].
    moving : str
        "opening", "closing", or "still" for the middle of the friction band [no unit].

    Returns
    -------
    numpy.ndarray
        Relative travel [-], 0 to 1.

    Raises
    ------
    ValueError
        If a pressure or friction is negative, or `moving` is none of the three words.

    Notes
    -----
    Equation: s = (p A - F0 - L0 ∓ F) / (k X - p (A_end - A) + L1 - L0), travel s, or 1 - s if direct.
    Source: worked by hand, statics. Where the lower line is not above zero the plug snaps from stop to stop.

    Examples
    --------
    >>> from valvecalc.actuator import spring_actuator
    >>> float(travel_at(spring_actuator("reverse", 0.05, 100e3, 1000, 0.04), 60e3))
    0.5
    """
    return free_travel(actuator, pressure_gauge, fluid_closed, fluid_open, friction, moving).clip(0.0, 1.0)


def free_travel(
    actuator: Actuator,
    pressure_gauge: ArrayLike,
    fluid_closed: ArrayLike = 0.0,
    fluid_open: ArrayLike | None = None,
    friction: ArrayLike = 0.0,
    moving: str = "still",
) -> Floats:
    """Travel that an actuator pressure would give if there were no stops.

    Parameters
    ----------
    actuator, pressure_gauge, fluid_closed, fluid_open, friction, moving
        As for `travel_at` [SI].

    Returns
    -------
    numpy.ndarray
        Relative travel [-], below 0 where the plug is held on the seat, above 1 on the upper stop.

    Raises
    ------
    ValueError
        As for `travel_at`.

    Notes
    -----
    Equation: as for `travel_at`.
    Source: worked by hand, statics.

    Examples
    --------
    >>> from valvecalc.actuator import spring_actuator
    >>> float(free_travel(spring_actuator("reverse", 0.05, 100e3, 1000, 0.04), 0))
    -0.25
    """
    pressure = in_range("actuator pressure", pressure_gauge, 0, np.inf, "Pa gauge")
    closed = numbers("fluid force, closed", fluid_closed)
    opened = closed if fluid_open is None else numbers("fluid force, open", fluid_open)
    limit = in_range("friction", friction, 0, np.inf, "N")
    sense = _air_sense(actuator)
    way = sense * MOVING[one_of("moving", moving, tuple(MOVING))]
    load_start, load_end = (-closed, -opened) if sense > 0 else (opened, closed)
    surplus = pressure * actuator.area - actuator.preload - load_start - way * limit
    stiffness = actuator.spring_rate * actuator.rated_travel + load_end - load_start
    stiffness = stiffness - pressure * (actuator.area_end - actuator.area)
    # Not stiff enough to stop part way: it leaves the stop it rests on as soon as the force there changes sign.
    snapped = np.where(surplus - (stiffness if way < 0 else 0.0) > 0, 1.0, 0.0)
    stiff = stiffness > 0
    stroke = np.where(stiff, surplus / np.where(stiff, stiffness, 1.0), snapped)
    return stroke if sense > 0 else 1 - stroke


def pressure_at(
    actuator: Actuator,
    travel: ArrayLike,
    fluid_force: ArrayLike = 0.0,
    friction: ArrayLike = 0.0,
    moving: str = "still",
) -> Floats:
    """Actuator pressure that balances the stem at a travel.

    Parameters
    ----------
    actuator : Actuator
        From `spring_actuator` [SI].
    travel : array_like
        Relative travel [-].
    fluid_force : array_like
        Force of the fluid on the plug at this travel, positive towards open [N].
    friction : array_like
        Size of the friction [N].
    moving : str
        "opening", "closing", or "still" for the middle of the friction band [no unit].

    Returns
    -------
    numpy.ndarray
        Pressure [Pa gauge]; below zero means that air alone on this side cannot do it.

    Raises
    ------
    ValueError
        If travel is outside 0 to 1, the friction is negative, or `moving` is none of the three words.

    Notes
    -----
    Equation: p = (F0 + k s X ∓ F_fluid ± F) / A(s).
    Source: worked by hand, statics.

    Examples
    --------
    >>> from valvecalc.actuator import spring_actuator
    >>> float(pressure_at(spring_actuator("reverse", 0.05, 100e3, 1000, 0.04), 0.5))
    60000.0
    """
    h = in_range("travel", travel, 0, 1, "-")
    limit = in_range("friction", friction, 0, np.inf, "N")
    sense = _air_sense(actuator)
    way = sense * MOVING[one_of("moving", moving, tuple(MOVING))]
    stroke = h if sense > 0 else 1 - h
    spring = actuator.preload + actuator.spring_rate * stroke * actuator.rated_travel
    return (spring - sense * numbers("fluid force", fluid_force) + way * limit) / _area(actuator, stroke)


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
        If a size is not above zero, the load is not finite, or the action is neither of the two words.

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


def valve_action(actuator_action: str, body: str) -> str:
    """Find the action of the whole valve from that of its actuator and the way its body closes.

    Parameters
    ----------
    actuator_action : str
        "direct" if more air pushes the stem out of the actuator, "reverse" if it draws it in [no unit].
    body : str
        "push_down_to_close" or "push_down_to_open" [no unit].

    Returns
    -------
    str
        "direct" (air closes) or "reverse" (air opens) [no unit].

    Raises
    ------
    ValueError
        If a word is not one of these.

    Notes
    -----
    Equation: none; a push-down-to-open body reverses the action.
    Source: DOE-HDBK-1018/2-93, module 4, p. 47; for the actuator alone, common practice, no source.

    Examples
    --------
    >>> valve_action("direct", "push_down_to_open")
    'reverse'
    """
    same = one_of("body", body, BODIES) == "push_down_to_close"
    own = one_of("action of the actuator", actuator_action, ACTIONS)
    return own if same else ACTIONS[1 - ACTIONS.index(own)]


def fail_position(action: str) -> str:
    """Position to which the spring drives the valve when the air is lost.

    Parameters
    ----------
    action : str
        Action of the whole valve, "direct" or "reverse" [no unit].

    Returns
    -------
    str
        "open" or "closed" [no unit].

    Raises
    ------
    ValueError
        If the action is neither of the two words.

    Notes
    -----
    Equation: none; the spring undoes what the air does.
    Source: DOE-HDBK-1018/2-93, module 4, p. 47.

    Examples
    --------
    >>> fail_position("reverse")
    'closed'
    """
    return "closed" if one_of("action", action, ACTIONS) == "reverse" else "open"


def largest_shutoff_dp(
    closing_force: ArrayLike,
    unbalanced_area: ArrayLike,
    friction: ArrayLike = 0.0,
    seat_force: ArrayLike = 0.0,
) -> Floats:
    """Largest pressure drop against which a closing force still seats a plug that the fluid pushes open.

    Parameters
    ----------
    closing_force : array_like
        Force of the spring or of the air that closes, at the closed end [N].
    unbalanced_area : array_like
        Area the pressure drop acts on [m²].
    friction, seat_force : array_like
        Size of the friction and force wanted on the seat [N].

    Returns
    -------
    numpy.ndarray
        Pressure drop [Pa]; 0 where the force is not enough even without one.

    Raises
    ------
    ValueError
        If the area is not above zero or a force is negative.

    Notes
    -----
    Equation: Δp = (F_closing - F - F_seat) / A, not below 0.
    Source: worked by hand, statics.

    Examples
    --------
    >>> float(largest_shutoff_dp(2224, 0.002, 224, 1000))
    500000.0
    """
    spare = in_range("closing force", closing_force, 0, np.inf, "N")
    spare = spare - in_range("friction", friction, 0, np.inf, "N")
    spare = spare - in_range("seat force", seat_force, 0, np.inf, "N")
    return np.maximum(spare, 0.0) / positive("unbalanced area", unbalanced_area, "m²")


def _air_sense(actuator: Actuator) -> float:
    return 1.0 if actuator.action == "reverse" else -1.0


def _area(actuator: Actuator, stroke: Floats) -> Floats:
    return actuator.area + (actuator.area_end - actuator.area) * stroke
