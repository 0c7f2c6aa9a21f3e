"""Double-acting piston: air on both sides, no spring. Forces are positive towards open."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, numbers, positive


def piston_force(
    opening_gauge: ArrayLike,
    closing_gauge: ArrayLike,
    piston_area: ArrayLike,
    rod_area: ArrayLike = 0.0,
) -> Floats:
    """Force of a double-acting piston on the stem.

    Parameters
    ----------
    opening_gauge, closing_gauge : array_like
        Air pressure on the side that opens and on the side that closes the valve [Pa gauge].
    piston_area, rod_area : array_like
        Area of the piston and of the rod [m²]; the rod is on the side that opens (push down to close).

    Returns
    -------
    numpy.ndarray
        Force [N], positive towards open.

    Raises
    ------
    ValueError
        If a pressure is negative, the piston not above zero, or the rod larger than the piston.

    Notes
    -----
    Equation: F = p_opening (A - A_rod) - p_closing A.
    Source: worked by hand, statics, pressure times area on each face.

    Examples
    --------
    >>> float(piston_force(4e5, 1e5, 0.02, 0.001))
    5600.0
    """
    opening = in_range("pressure on the opening side", opening_gauge, 0, np.inf, "Pa gauge")
    closing = in_range("pressure on the closing side", closing_gauge, 0, np.inf, "Pa gauge")
    area, rod = _areas(piston_area, rod_area)
    return opening * (area - rod) - closing * area


def piston_supply_needed(
    fluid_force: ArrayLike,
    friction: ArrayLike,
    seat_force: ArrayLike,
    piston_area: ArrayLike,
    rod_area: ArrayLike = 0.0,
) -> Floats:
    """Supply pressure with which a piston shuts the valve and lifts it off its seat, the other side vented.

    Parameters
    ----------
    fluid_force : array_like
        Force of the fluid on the closed plug, positive towards open [N].
    friction, seat_force : array_like
        Size of the friction and force wanted on the seat [N].
    piston_area, rod_area : array_like
        Area of the piston and of the rod [m²]; the rod is on the side that opens.

    Returns
    -------
    numpy.ndarray
        Pressure [Pa gauge]; 0 where fluid force alone does both.

    Raises
    ------
    ValueError
        If the fluid force is not finite, friction or seat force negative, or an area out of range.

    Notes
    -----
    Equation: p = larger of (F_fluid + F + F_seat) / A, (F - F_fluid) / (A - A_rod), 0.
    Source: worked by hand, statics.

    Examples
    --------
    >>> float(piston_supply_needed(5000, 400, 2600, 0.02, 0.001))
    400000.0
    """
    fluid = numbers("fluid force", fluid_force)
    rub = in_range("friction", friction, 0, np.inf, "N")
    seat = in_range("seat force", seat_force, 0, np.inf, "N")
    area, rod = _areas(piston_area, rod_area)
    return np.maximum(np.maximum((fluid + rub + seat) / area, (rub - fluid) / (area - rod)), 0.0)


def drift_without_air(fluid_force: ArrayLike, friction: ArrayLike) -> Floats:
    """Way a piston valve without a spring drifts when both sides lose their air.

    Parameters
    ----------
    fluid_force : array_like
        Force of the fluid on the plug, positive towards open [N].
    friction : array_like
        Size of the friction [N].

    Returns
    -------
    numpy.ndarray
        +1 it drifts open, -1 it drifts closed, 0 friction holds it [-]; a hold by friction is no fail
        position.

    Raises
    ------
    ValueError
        If the fluid force is not finite or the friction negative.

    Notes
    -----
    Equation: sign of F_fluid where it is larger than F, else 0.
    Source: worked by hand, statics.

    Examples
    --------
    >>> drift_without_air([900, -900, 300], 500).tolist()
    [1.0, -1.0, 0.0]
    """
    fluid = numbers("fluid force", fluid_force)
    return np.where(np.abs(fluid) > in_range("friction", friction, 0, np.inf, "N"), np.sign(fluid), 0.0)


def _areas(piston_area: ArrayLike, rod_area: ArrayLike) -> tuple[Floats, Floats]:
    area = positive("piston area", piston_area, "m²")
    rod = in_range("rod area", rod_area, 0, np.inf, "m²")
    if np.any(rod >= area):
        raise ValueError("rod area must be smaller than the piston area [m²]; check for a swap.")
    return area, rod
