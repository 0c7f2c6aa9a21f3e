"""How hot the packing gets at the end of a bonnet's neck, bare or wrapped.

A bonnet with a long neck keeps its packing cool by giving heat to the air. Under insulation it cannot. Worked out for a
straight neck, still air and steady heat. The maker's drawing says how far a real one may be insulated.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive


def fin_parameter(
    heat_transfer: ArrayLike, perimeter: ArrayLike, conductivity: ArrayLike, section_area: ArrayLike
) -> Floats:
    """How quickly a bare neck cools along its length.

    Parameters
    ----------
    heat_transfer : array_like
        Heat given to the air, for each area and degree [W/(m²·K)].
    perimeter : array_like
        Distance round the neck [m].
    conductivity : array_like
        Heat conductivity of its metal [W/(m·K)].
    section_area : array_like
        Area of metal across the neck, stem included [m²].

    Returns
    -------
    numpy.ndarray
        m of the fin equation, broadcast shape [1/m].

    Raises
    ------
    ValueError
        If an input is not above zero.

    Notes
    -----
    Equation: m = √(h·P/(λ·A)).
    Source: Fourier, heat through a fin, from memory.

    Examples
    --------
    >>> round(float(fin_parameter(12, 0.2, 45, 0.0025)), 3)
    4.619
    """
    gives = positive("heat_transfer", heat_transfer, "W/(m²·K)") * positive("perimeter", perimeter, "m")
    leads = positive("conductivity", conductivity, "W/(m·K)") * positive("section_area", section_area, "m²")
    return np.sqrt(gives / leads)


def neck_temperature(
    distance: ArrayLike,
    neck_length: float,
    covered: float,
    fin: float,
    body_temperature: float,
    air_temperature: float,
) -> Floats:
    """Temperature along a neck that is insulated from the body up to some height.

    Parameters
    ----------
    distance : array_like
        Heights above the body, 0 to `neck_length` [m].
    neck_length : float
        Height of the packing above the body [m].
    covered : float
        Height up to which the neck is wrapped, 0 to `neck_length` [m].
    fin : float
        What `fin_parameter` gives [1/m].
    body_temperature, air_temperature : float
        Temperatures of the body and of the air, body above air [K].

    Returns
    -------
    numpy.ndarray
        Temperature at each height [K].

    Raises
    ------
    ValueError
        If a height lies outside the neck, or the body is not hotter than the air.

    Notes
    -----
    Equation: bare: θ = θc·cosh(m(L−x))/cosh(m(L−c)); wrapped: a straight line from θ0 to
    θc = θ0/(1 + m·c·tanh(m(L−c))); θ is the temperature above that of the air, the top end loses nothing.
    Source: Fourier, heat through a fin, from memory; the wrapped part worked by hand.

    Examples
    --------
    >>> bare, wrapped = (float(neck_temperature(0.25, 0.25, c, 4.5, 553.15, 303.15)) - 273.15 for c in (0.0, 0.25))
    >>> round(bare), round(wrapped)
    (177, 280)
    """
    end = float(positive("neck_length", neck_length, "m"))
    x = in_range("distance", distance, 0, end, "m")
    c = float(in_range("covered", covered, 0, end, "m"))
    m = float(positive("fin", fin, "1/m"))
    hot = float(positive("body_temperature − air_temperature", body_temperature - air_temperature, "K"))
    at_edge = hot / (1 + m * c * np.tanh(m * (end - c)))
    wrapped = hot + (at_edge - hot) * np.minimum(x, c) / max(c, np.finfo(float).tiny)
    bare = at_edge * np.cosh(m * (end - x)) / np.cosh(m * (end - c))
    above_air: Floats = np.where(x < c, wrapped, bare)
    return np.float64(air_temperature) + above_air
