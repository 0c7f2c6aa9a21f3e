"""Seat leakage classes: how each is tested, how much it may leak, and whether this valve passes.

A leak test puts pressure behind a shut valve. Site permit, isolation procedure and local codes decide how and by whom;
whatever its class, a control valve is not an isolation device.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, one_of, positive
from valvecalc.units import BAR, INCH, PSI

ML_PER_MIN = 1e-6 / 60  # m³/s
LITRE_PER_HOUR = 1e-3 / 3600  # m³/s


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
    "IV-S1": LeakageTest(
        "water, air or nitrogen", _A_LOW, _A_HIGH, ("capacity",), 5e-6, "IEC 60534-4, from memory"
    ),
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
    >>> round(float(ml_per_min(leak)), 3)
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
    >>> ml_per_min(class_vi_leak([0.025, 0.100])).round(2).tolist()
    [0.15, 1.7]
    """
    mm = in_range("port", port, 0, 0.402, "m", above=True) * 1000
    distance = np.abs(mm[..., None] - PORT_MM)
    between = np.interp(mm**2, PORT_MM**2, PORT_LEAK)
    leak: Floats = np.where(distance.min(axis=-1) <= 2, PORT_LEAK[distance.argmin(axis=-1)], between) * ML_PER_MIN
    return leak


def ml_per_min(leak: ArrayLike) -> Floats:
    """Leak in the unit it is read in.

    Parameters
    ----------
    leak : array_like
        Leak, 0 or more [m³/s].

    Returns
    -------
    numpy.ndarray
        The same [mL/min].

    Raises
    ------
    ValueError
        If a leak is negative.

    Notes
    -----
    Equation: 1 m³/s = 6e7 mL/min.
    Source: worked by hand, definitions.

    Examples
    --------
    >>> round(float(ml_per_min(1e-6)), 6)
    60.0
    """
    return in_range("leak", leak, 0, np.inf, "m³/s") / ML_PER_MIN


def _checked(form: str, name: str, value: ArrayLike) -> Floats:
    if name == "capacity":
        return in_range("capacity", value, 0, np.inf, "m³/s")
    if name == "port":
        return class_vi_leak(value) if form.startswith("VI") else positive("port", value, "m")
    test = LEAKAGE_TESTS[form]
    # A service drop below the test's stands in for it, except in class V, which has a least drop.
    lowest = test.lowest if form.startswith("V ") or form == "V" else 0.0
    return in_range(f"dp of a class {form} test", value, lowest, test.highest, "Pa", above=lowest == 0)
