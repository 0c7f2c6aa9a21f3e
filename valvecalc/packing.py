"""Friction of the packing on the stem and the dead band it makes."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive


def packing_friction(
    stem_diameter: ArrayLike,
    ring_count: ArrayLike,
    ring_height: ArrayLike,
    gland_stress: ArrayLike,
    friction_coefficient: ArrayLike,
    radial_ratio: ArrayLike = 0.5,
) -> Floats:
    """Friction of a set of packing rings on the stem.

    Parameters
    ----------
    stem_diameter : array_like
        Diameter of the stem [m].
    ring_count : array_like
        Number of rings [-].
    ring_height : array_like
        Height of one pressed ring [m].
    gland_stress : array_like
        Stress that the follower puts on the packing, along the stem [Pa].
    friction_coefficient : array_like
        Packing on stem [-]: about 0.04 to 0.10 for PTFE, about 0.1 and more at break-out for graphite
        (from memory).
    radial_ratio : array_like
        Part of that stress that presses on the stem [-].

    Returns
    -------
    numpy.ndarray
        Friction [N], the same in both directions.

    Raises
    ------
    ValueError
        If a size is not above zero, a stress, count or coefficient is negative, or the ratio is
        outside 0 to 1.

    Notes
    -----
    Equation: F = π d H σ μ Y, H = ring count times ring height; the stress is taken as equal in every ring.
    Source: ASME/NRC Pump and Valve Symposium paper PVS2017-3518, abstract, with Y about 0.5.

    Examples
    --------
    >>> round(float(packing_friction(0.0127, 4, 0.00635, 13.79e6, 0.10)))
    699
    """
    rings = in_range("number of rings", ring_count, 0, np.inf, "rings")
    height = rings * positive("ring height", ring_height, "m")
    stress = in_range("gland stress", gland_stress, 0, np.inf, "Pa")
    mu = in_range("friction coefficient", friction_coefficient, 0, np.inf, "-")
    ratio = in_range("radial ratio", radial_ratio, 0, 1, "-")
    return np.float64(np.pi) * positive("stem diameter", stem_diameter, "m") * height * stress * mu * ratio


def dead_band_pressure(friction: ArrayLike, area: ArrayLike) -> Floats:
    """Change of actuator pressure on reversal that does not move the stem.

    Parameters
    ----------
    friction : array_like
        Size of the friction [N].
    area : array_like
        Effective area [m²].

    Returns
    -------
    numpy.ndarray
        Dead band [Pa].

    Raises
    ------
    ValueError
        If the friction is negative or the area not above zero.

    Notes
    -----
    Equation: Δp = 2 F / A. The friction has to be let go one way and taken up the other way.
    Source: worked by hand, statics.

    Examples
    --------
    >>> float(dead_band_pressure(250, 0.05))
    10000.0
    """
    return 2 * in_range("friction", friction, 0, np.inf, "N") / positive("effective area", area, "m²")


def signal_dead_band(friction: ArrayLike, area: ArrayLike, span: ArrayLike, positioner_gain: ArrayLike = 1.0) -> Floats:
    """Dead band as a fraction of the signal, with or without a positioner.

    Parameters
    ----------
    friction : array_like
        Size of the friction [N].
    area : array_like
        Effective area [m²].
    span : array_like
        Actuator pressure from one end of the signal to the other [Pa].
    positioner_gain : array_like
        How many times a positioner enlarges a travel error [-]; 1 for no positioner.

    Returns
    -------
    numpy.ndarray
        Dead band [-]; above 1 the full signal does not reverse the valve.

    Raises
    ------
    ValueError
        If the friction is negative, area or span not above zero, or the gain below 1.

    Notes
    -----
    Equation: 2 F / (A span gain).
    Source: worked by hand, statics. With the stem held, a positioner moves its output by gain times the signal.

    Examples
    --------
    >>> float(signal_dead_band(250, 0.05, 80e3)), float(signal_dead_band(250, 0.05, 80e3, 25))
    (0.125, 0.005)
    """
    gain = in_range("positioner gain", positioner_gain, 1, np.inf, "-")
    return dead_band_pressure(friction, area) / (positive("pressure span", span, "Pa") * gain)


def load_left(load: ArrayLike, spring_rates: ArrayLike, settling: ArrayLike) -> Floats:
    """Load left on a packing after it has settled, if nobody has touched the nuts.

    Parameters
    ----------
    load : array_like
        Load when the nuts were tightened, 0 or more [N].
    spring_rates : array_like
        Stiffness of each part of the stack on the packing studs, along the last axis: the studs themselves,
        and each disc spring [N/m].
    settling : array_like
        How much lower the packing has become, 0 or more [m].

    Returns
    -------
    numpy.ndarray
        Load, never below 0 [N].

    Raises
    ------
    ValueError
        If a stiffness is not above zero, or the load or the settling is negative.

    Notes
    -----
    Equation: F = F0 − s/Σ(1/k), springs one above another; straight, though disc springs are a little softer near flat.
    Source: statics, worked by hand.

    Examples
    --------
    >>> load_left(6000, [[100e6, 1e12], [100e6, 10e6]], 40e-6).round().tolist()
    [2000.0, 5636.0]
    """
    give = np.sum(1 / positive("stiffness", spring_rates, "N/m"), axis=-1)
    lost = in_range("settling", settling, 0, np.inf, "m") / give
    left: Floats = np.maximum(in_range("load", load, 0, np.inf, "N") - lost, 0.0)
    return left
