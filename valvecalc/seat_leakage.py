"""Seat leakage: the classes, how each is tested and how much it may leak, and whether this valve passes.

A leak test puts pressure behind a shut valve. Site permit, isolation procedure and local codes decide how and by whom;
whatever its class, a control valve is not an isolation device.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, in_range, one_of, positive
from valvecalc.gas import NORMAL_PRESSURE, gas_density, gas_flow, standard_flow
from valvecalc.units import BAR, INCH, PSI

ML_PER_MIN = 1e-6 / 60  # m³/s
LITRE_PER_HOUR = 1e-3 / 3600  # m³/s
BUBBLE = 0.15e-6  # m³, GB/T 4213-92 and FCI 70-2 (second-hand): tube of 6 mm outside, 4 mm inside diameter
AIR_MOLAR_MASS, AIR_GAMMA = 0.02897, 1.40  # kg/mol, -; IEC 60534-2-1:2011, table D.1
ROOM = 293.15  # K, inside the 10 to 52 °C of procedure 1


class LeakageTest(NamedTuple):
    """How a class, in one of its forms, is tested."""

    medium: str  # test fluid
    lowest: float  # test pressure drop [Pa]; less where the valve's own service drop is less, except class V
    highest: float  # [Pa]
    needs: tuple[str, ...]  # which of capacity, dp, port the limit is computed from
    factor: float  # the number of the rule, in SI
    source: str


_A = "IEC 60534-4 and FCI 70-2, procedure 1 (A), second-hand"
_GB = "GB/T 4213-92, second-hand"
_FCI = "FCI 70-2, second-hand"
_A_LOW, _A_HIGH = 45 * PSI, 60 * PSI  # FCI 70-2: 45 to 60 psi, about 3 to 4 bar
_FULL = float("inf")  # full service drop
# What the classes need and allow. Several standards write the same class in different forms: each has a name here.
LEAKAGE_TESTS = {
    "I": LeakageTest("none", 0.0, 0.0, (), 0.0, "no test, by agreement: FCI 70-2 and GB/T 4213-92, second-hand"),
    "II": LeakageTest("water, air or nitrogen", _A_LOW, _A_HIGH, ("capacity",), 5e-3, _A),
    "III": LeakageTest("water, air or nitrogen", _A_LOW, _A_HIGH, ("capacity",), 1e-3, _A),
    "IV": LeakageTest("water, air or nitrogen", _A_LOW, _A_HIGH, ("capacity",), 1e-4, _A),
    "IV-S1": LeakageTest("water, air or nitrogen", _A_LOW, _A_HIGH, ("capacity",), 5e-6, "IEC 60534-4, from memory"),
    "IV-S2": LeakageTest(
        "air or nitrogen", _A_LOW, _A_HIGH, ("dp", "port"), 2e-4 * LITRE_PER_HOUR, f"{_GB}, not in later IEC"
    ),
    "V": LeakageTest("water", 100 * PSI, _FULL, ("dp", "port"), 1.8e-7 * LITRE_PER_HOUR, _GB),
    "V inch": LeakageTest(
        "water", 100 * PSI, _FULL, ("dp", "port"), 5e-4 * ML_PER_MIN / (INCH * PSI), _FCI + ", 5 % below V"
    ),
    "V air": LeakageTest("air or nitrogen", 50 * PSI, 50 * PSI, ("port",), 4.7 * ML_PER_MIN / INCH, _FCI),
    "VI": LeakageTest("air or nitrogen", 50 * PSI, 3.5 * BAR, ("dp", "port"), 3e-6, _GB),
    "VI table": LeakageTest("air or nitrogen", 50 * PSI, 3.5 * BAR, ("port",), 1.0, _FCI),
}
# Class VI: port [mm] and leak [mL/min], GB/T 4213-92 and FCI 70-2 (second-hand, two copies agree).
PORT_MM = np.array([25, 40, 50, 65, 80, 100, 150, 200, 250, 300, 350, 400.0])
PORT_LEAK = np.array([0.15, 0.30, 0.45, 0.60, 0.90, 1.70, 4.00, 6.75, 11.1, 16.0, 21.6, 28.4])


def allowed_leakage(
    form: str,
    *,
    dp: ArrayLike | None = None,
    port: ArrayLike | None = None,
    capacity: ArrayLike | None = None,
) -> Floats:
    """Leak that a class allows, in one of its forms.

    Parameters
    ----------
    form : str
        A name in `LEAKAGE_TESTS`: "II", "III", "IV", "IV-S1" (shares of capacity), "IV-S2", "V" (SI form),
        "V inch" (inch form), "V air", "VI" (IEC form with dp), "VI table" (FCI form) [no unit].
    dp : array_like, optional
        Test pressure drop, for IV-S2, V, V inch, VI; within the limits of the test [Pa].
    port : array_like, optional
        Seat (port) diameter, for IV-S2, V and VI; class VI at most 0.402 [m].
    capacity : array_like, optional
        Rated flow at the test drop and medium, 0 or more, for II to IV-S1 [m³/s].

    Returns
    -------
    numpy.ndarray
        Allowed leak [m³/s]; of a gas at atmospheric pressure, as it is collected.

    Raises
    ------
    ValueError
        If the form is not known, is class I, lacks an input, or an input is out of range.

    Notes
    -----
    Equation: share · capacity; or factor · Δp · D; or factor · D; class VI 3e-3 mL/min per kPa · table(D), or
    table(D) itself.
    Source: named with each form in `LEAKAGE_TESTS`, all second-hand or from memory. Check against the standard.
    The classes do not predict the leak at other conditions than the test's.

    Examples
    --------
    >>> leak = allowed_leakage("V", dp=20e5, port=0.050)
    >>> round(float(leak / ML_PER_MIN), 3)
    0.3
    """
    test = LEAKAGE_TESTS[one_of("form", form, tuple(LEAKAGE_TESTS))]
    if form == "I":
        raise ValueError("Class I has no leak test and no limit; it is by agreement. Take a class from II to VI.")
    inputs = {"dp": dp, "port": port, "capacity": capacity}
    given = {name: value for name, value in inputs.items() if value is not None}
    missing = [name for name in test.needs if name not in given]
    if missing:
        raise ValueError(f"Class {form} needs {' and '.join(test.needs)}, but {' and '.join(missing)} is missing.")
    limit: Floats = np.full((), test.factor)
    for name in test.needs:
        limit = limit * _checked(form, name, given[name])
    return limit


def class_vi_leak(port: ArrayLike) -> Floats:
    """Leak in the class VI table for a port.

    Parameters
    ----------
    port : array_like
        Seat (port) diameter, above 0, at most 0.402 [m].

    Returns
    -------
    numpy.ndarray
        Leak of air or nitrogen [m³/s].

    Raises
    ------
    ValueError
        If the port is not above zero or too large for the table (then the leak is by agreement).

    Notes
    -----
    Equation: the row within 2 mm; otherwise between its neighbours in proportion to diameter squared; the first
    row for anything smaller.
    Source: GB/T 4213-92 and FCI 70-2, second-hand. Rows are nominal ports in mm; inch sizes have their own.

    Examples
    --------
    >>> (class_vi_leak([0.025, 0.100]) / ML_PER_MIN).round(2).tolist()
    [0.15, 1.7]
    """
    mm = in_range("port", port, 0, 0.402, "m", above=True) * 1000
    distance = np.abs(mm[..., None] - PORT_MM)
    between = np.interp(mm**2, PORT_MM**2, PORT_LEAK)
    leak: Floats = np.where(distance.min(axis=-1) <= 2, PORT_LEAK[distance.argmin(axis=-1)], between) * ML_PER_MIN
    return leak


def water_test_capacity(kv: ArrayLike, dp: ArrayLike) -> Floats:
    """Rated flow of water at the test drop. Classes II to IV allow a share of it.

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
    """Rated flow of air at the test drop into the open. Classes II to IV allow a share of it.

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
    return standard_flow(gas_flow(kv, p1, NORMAL_PRESSURE, rho=rho, gamma=AIR_GAMMA, xt=xt), AIR_MOLAR_MASS)


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
    Equation: leak per minute / 0.15 mL. The count is a convenience; the limit is the volume.
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


def _checked(form: str, name: str, value: ArrayLike) -> Floats:
    if name == "capacity":
        return in_range("capacity", value, 0, np.inf, "m³/s")
    if name == "port":
        return class_vi_leak(value) if form.startswith("VI") else positive("port", value, "m")
    test = LEAKAGE_TESTS[form]
    # A service drop below that of the test takes its place, except in class V, which has a smallest drop.
    lowest = test.lowest if form.startswith("V ") or form == "V" else 0.0
    return in_range(f"dp of a class {form} test", value, lowest, test.highest, "Pa", above=lowest == 0)
