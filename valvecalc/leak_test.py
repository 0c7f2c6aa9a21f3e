"""Around a seat leak test: the rated flow its limit is a share of, bubbles, verdict and margin."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.capacity_gas import gas_flow
from valvecalc.checks import Floats, in_range, positive
from valvecalc.gas import NORMAL_PRESSURE, gas_density, standard_flow
from valvecalc.units import BAR

BUBBLE = 0.15e-6  # m³, GB/T 4213-92 and FCI 70-2 (second-hand): tube of 6 mm outside, 4 mm inside diameter
AIR_MOLAR_MASS, AIR_GAMMA = 0.02897, 1.40  # kg/mol, -; IEC 60534-2-1:2011, table D.1
ROOM = 293.15  # K, inside the 10 to 52 °C of procedure 1


def water_test_capacity(kv: ArrayLike, dp: ArrayLike) -> Floats:
    """Rated flow of water at the test drop, of which classes II to IV allow a share.

    Parameters
    ----------
    kv : array_like
        Rated flow coefficient, 0 or more [m³/h at 1 bar].
    dp : array_like
        Test pressure drop, above 0 [Pa].

    Returns
    -------
    numpy.ndarray
        Flow of water [m³/s].

    Raises
    ------
    ValueError
        If the coefficient is negative or the drop not above zero.

    Notes
    -----
    Equation: Q = Kv √(Δp / 1 bar), per hour; relative density 1, choking left out.
    Source: definition of Kv, worked by hand; that the test uses it so is from memory (IEC 60534-4).

    Examples
    --------
    >>> round(float(water_test_capacity(86.4978, 3.5e5)) * 3600, 3)
    161.823
    """
    coefficient = in_range("kv", kv, 0, np.inf, "m³/h at 1 bar")
    return coefficient / 3600 * np.sqrt(positive("dp", dp, "Pa") / BAR)


def air_test_capacity(kv: ArrayLike, dp: ArrayLike, xt: ArrayLike) -> Floats:
    """Rated flow of air at the test drop into the open, of which classes II to IV allow a share.

    Parameters
    ----------
    kv : array_like
        Rated flow coefficient, 0 or more [m³/h at 1 bar].
    dp : array_like
        Test pressure drop, above 0 [Pa].
    xt : array_like
        Pressure differential ratio factor of the valve, above 0, at most 0.84 [-].

    Returns
    -------
    numpy.ndarray
        Standard volume flow of air, 0 °C and 101325 Pa [m³/s].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: that of `gas_flow`, air of 20 °C, P2 = 101325 Pa. GB/T 4213 uses a simpler one that switches over at
    Δp = P1/2 and gives up to 12 % more when choked (its constants from memory): say which was used.
    Source: IEC 60534-2-1:2011.

    Examples
    --------
    >>> round(float(air_test_capacity(86.4978, 3.5e5, 0.72)) * 3600, -2)
    5900.0
    """
    p1 = NORMAL_PRESSURE + positive("dp", dp, "Pa")
    rho = gas_density(p1, ROOM, AIR_MOLAR_MASS)
    return standard_flow(
        gas_flow(kv, p1, NORMAL_PRESSURE, rho=rho, gamma=AIR_GAMMA, xt=xt), AIR_MOLAR_MASS
    )


def bubbles_per_min(leak: ArrayLike) -> Floats:
    """Bubbles a gas leak makes at the tube of the class VI test.

    Parameters
    ----------
    leak : array_like
        Leak of air or nitrogen, 0 or more [m³/s].

    Returns
    -------
    numpy.ndarray
        Bubbles, not rounded [1/min].

    Raises
    ------
    ValueError
        If a leak is negative.

    Notes
    -----
    Equation: leak per minute / 0.15 mL. A convenience: the limit is the volume.
    Source: GB/T 4213-92 and FCI 70-2 (second-hand), whose table means 0.148 to 0.155 mL a bubble.

    Examples
    --------
    >>> round(float(bubbles_per_min(0.45e-6 / 60)), 6)
    3.0
    """
    return in_range("leak", leak, 0, np.inf, "m³/s") * 60 / BUBBLE


def leak_margin(measured: ArrayLike, allowed: ArrayLike) -> Floats:
    """Share of the allowed leak that is left.

    Parameters
    ----------
    measured : array_like
        Measured leak, 0 or more [m³/s].
    allowed : array_like
        Allowed leak, above 0 [m³/s].

    Returns
    -------
    numpy.ndarray
        1 for no leak, 0 at the limit, negative beyond [-].

    Raises
    ------
    ValueError
        If the measured leak is negative or the allowed one not above zero.

    Notes
    -----
    Equation: 1 − measured / allowed.
    Source: common practice, no source.

    Examples
    --------
    >>> leak_margin(0.25, [1.0, 0.2]).tolist()
    [0.75, -0.25]
    """
    return 1 - in_range("measured", measured, 0, np.inf, "m³/s") / positive("allowed", allowed, "m³/s")


def leak_verdict(measured: ArrayLike, allowed: ArrayLike) -> NDArray[np.str_]:
    """Say whether a measured leak passes.

    Parameters
    ----------
    measured : array_like
        Measured leak, 0 or more [m³/s].
    allowed : array_like
        Allowed leak, above 0 and not rounded [m³/s].

    Returns
    -------
    numpy.ndarray of str
        "pass" up to and at the limit, "fail" above it [no unit].

    Raises
    ------
    ValueError
        If the measured leak is negative or the allowed one not above zero.

    Notes
    -----
    Equation: measured ≤ allowed.
    Source: common practice, no source.

    Examples
    --------
    >>> leak_verdict([0.1, 0.2, 0.3], 0.2).tolist()
    ['pass', 'pass', 'fail']
    """
    return np.where(leak_margin(measured, allowed) >= 0, "pass", "fail")
