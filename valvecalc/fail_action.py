"""Where a valve goes when its air fails, and whether the spring alone can take it there."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.actuator import ACTIONS, Actuator
from valvecalc.checks import Floats, in_range, one_of, positive
from valvecalc.force_balance import stem_forces

BODIES = ("push_down_to_close", "push_down_to_open")


@dataclass(frozen=True)
class FailCheck:
    """What the spring alone does.

    `position` it drives to, net force towards there [N] at the two ends of travel, force on the seat
    beyond the one
    wanted [N] (0 for a valve that fails open and needs none), and whether all of it is enough.
    """

    position: str
    net_closed: Floats
    net_open: Floats
    seat_margin: Floats
    enough: NDArray[np.bool_]


def valve_action(actuator_action: str, body: str) -> str:
    """Tell the action of the whole valve from that of its actuator and the way its body closes.

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
        If a word is another.

    Notes
    -----
    Equation: none; a push-down-to-open body turns the action round.
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
    """Position the spring drives the valve to when the air is lost.

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
        If the action is another word.

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


def fail_check(
    actuator: Actuator,
    fluid_closed: ArrayLike,
    fluid_open: ArrayLike,
    friction: ArrayLike,
    seat_force: ArrayLike = 0.0,
) -> FailCheck:
    """Whether the spring alone drives the valve to its fail position under line pressure.

    Parameters
    ----------
    actuator : Actuator
        From `spring_actuator` [SI].
    fluid_closed, fluid_open : array_like
        Fluid force on the plug when closed and when open, positive towards open [N].
    friction : array_like
        Size of the friction [N].
    seat_force : array_like
        Force wanted on the seat [N]; asked only of a valve that fails closed.

    Returns
    -------
    FailCheck
        Net forces towards the fail position, margin on the seat [N], and the verdict.

    Raises
    ------
    ValueError
        If a force is not finite, or the friction or the seat force is negative.

    Notes
    -----
    Equation: net = F_spring ± F_fluid - F, + where the spring opens; it must be above zero at both ends.
    Source: worked by hand, statics, spring and fluid force taken as straight lines between the ends.

    Examples
    --------
    >>> from valvecalc.actuator import spring_actuator
    >>> check = fail_check(spring_actuator("reverse", 0.06, 140e3, 2224, 0.038), 1397, 0, 222, 500)
    >>> float(check.seat_margin), bool(check.enough)
    (105.0, True)
    """
    wanted = in_range("seat force", seat_force, 0, np.inf, "N")
    position = fail_position(actuator.action)
    moving, sense = ("closing", -1) if position == "closed" else ("opening", 1)
    net_closed = sense * stem_forces(actuator, 0.0, 0.0, fluid_closed, friction, moving).total
    net_open = sense * stem_forces(actuator, 1.0, 0.0, fluid_open, friction, moving).total
    margin = net_closed - wanted if position == "closed" else np.zeros(np.shape(net_closed))
    enough = (net_closed > 0) & (net_open > 0) & (margin >= 0)
    return FailCheck(position, net_closed, net_open, margin, enough)


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
