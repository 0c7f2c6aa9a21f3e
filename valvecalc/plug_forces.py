"""Force of the fluid on the plug, positive towards open, and the force a seat needs.

Gauge pressures: the stem end outside the packing stands in the atmosphere. The formulas hold for a plug on its seat;
with the plug open and the drop across it smaller they are an upper estimate.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, one_of, positive

FLOW_TO = ("open", "close")


def circle_area(diameter: ArrayLike) -> Floats:
    """Area of a port, stem or seal from its diameter.

    Parameters
    ----------
    diameter : array_like
        Diameter [m].

    Returns
    -------
    numpy.ndarray
        Area [m²].

    Raises
    ------
    ValueError
        If a diameter is not above zero.

    Notes
    -----
    Equation: A = π d² / 4.
    Source: worked by hand, geometry.

    Examples
    --------
    >>> round(float(circle_area(0.0508)), 6)
    0.002027
    """
    return np.float64(np.pi / 4) * positive("diameter", diameter, "m") ** 2


def seat_force(port_diameter: ArrayLike, seat_load: ArrayLike) -> Floats:
    """Force that presses the plug hard enough on its seat.

    Parameters
    ----------
    port_diameter : array_like
        Diameter of the seating line [m].
    seat_load : array_like
        Force wanted for each length of seating line [N/m]; an input from the valve's data, no open
        standard fixes it.

    Returns
    -------
    numpy.ndarray
        Force along the stem [N].

    Raises
    ------
    ValueError
        If the diameter is not above zero or the load is negative.

    Notes
    -----
    Equation: F = π d times load per length.
    Source: geometry, worked by hand; which load suits which leakage class is common practice, no source.

    Examples
    --------
    >>> round(float(seat_force(0.046, 7000)), 2)
    1011.59
    """
    load = in_range("seat load", seat_load, 0, np.inf, "N/m")
    return np.float64(np.pi) * positive("port diameter", port_diameter, "m") * load


def unbalanced_force(
    p1_gauge: ArrayLike,
    p2_gauge: ArrayLike,
    port_area: ArrayLike,
    stem_area: ArrayLike = 0.0,
    flow_to: str = "open",
) -> Floats:
    """Force of the fluid on a single-seated plug without balance holes.

    Parameters
    ----------
    p1_gauge, p2_gauge : array_like
        Pressure before and after the valve [Pa gauge].
    port_area, stem_area : array_like
        Area of the port and of the stem [m²]; the stem comes in above the plug.
    flow_to : str
        "open" where the inlet pressure is under the plug, "close" where it is above [no unit].

    Returns
    -------
    numpy.ndarray
        Force [N], positive towards open.

    Raises
    ------
    ValueError
        If a pressure is below vacuum, an area out of range, or `flow_to` is neither word.

    Notes
    -----
    Equation: F = p_under A_port - p_over (A_port - A_stem).
    Source: worked by hand, statics, pressure times area on each face.

    Examples
    --------
    >>> round(float(unbalanced_force(10e5, 0, 0.00166190)), 1)
    1661.9
    """
    under, over = _under_over(p1_gauge, p2_gauge, flow_to)
    port = positive("port area", port_area, "m²")
    return under * port - over * (port - _stem(stem_area, port))


def balanced_force(
    p1_gauge: ArrayLike,
    p2_gauge: ArrayLike,
    port_area: ArrayLike,
    seal_area: ArrayLike,
    stem_area: ArrayLike = 0.0,
    flow_to: str = "open",
) -> Floats:
    """Force of the fluid on a plug with balance holes and a seal in its cage.

    Parameters
    ----------
    p1_gauge, p2_gauge : array_like
        Pressure before and after the valve [Pa gauge].
    port_area, seal_area, stem_area : array_like
        Area inside the seating line, inside the seal, and of the stem [m²].
    flow_to : str
        "open" where the inlet pressure is under the plug, "close" where it is around the cage [no unit].

    Returns
    -------
    numpy.ndarray
        Force [N], positive towards open.

    Raises
    ------
    ValueError
        If a pressure is below vacuum, an area out of range, or `flow_to` is neither word.

    Notes
    -----
    Equation: F = p_under A_port + p_cage (A_seal - A_port) - p_under (A_seal - A_stem), p_under above too.
    Source: worked by hand, statics, pressure times area on each face.

    Examples
    --------
    >>> round(float(balanced_force(7e5, 0, 0.002027, 0.002129, flow_to="close")), 1)
    71.4
    """
    under, cage = _under_over(p1_gauge, p2_gauge, flow_to)
    port = positive("port area", port_area, "m²")
    ring = positive("seal area", seal_area, "m²") - port
    return (cage - under) * ring + under * _stem(stem_area, port)


def _under_over(p1_gauge: ArrayLike, p2_gauge: ArrayLike, flow_to: str) -> tuple[Floats, Floats]:
    # A full vacuum is the least that a gauge pressure can be.
    inlet = in_range("inlet pressure", p1_gauge, -101325.0, np.inf, "Pa gauge")
    outlet = in_range("outlet pressure", p2_gauge, -101325.0, np.inf, "Pa gauge")
    return (inlet, outlet) if one_of("flow direction", flow_to, FLOW_TO) == "open" else (outlet, inlet)


def _stem(stem_area: ArrayLike, port: Floats) -> Floats:
    stem = in_range("stem area", stem_area, 0, np.inf, "m²")
    if np.any(stem > port):
        raise ValueError("stem area must be no larger than the port area [m²]; check for a swap.")
    return stem
