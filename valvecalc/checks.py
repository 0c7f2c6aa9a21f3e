"""The one way to refuse an input: a sentence with name, allowed range, unit and the value received."""

from __future__ import annotations

from typing import TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats: TypeAlias = NDArray[np.float64]


def numbers(name: str, value: ArrayLike) -> Floats:
    """Return the input as an array of finite floats.

    Parameters
    ----------
    name : str
        What the reader calls this input [no unit].
    value : array_like
        A number or numbers of any shape [any unit].

    Returns
    -------
    numpy.ndarray
        The same numbers as float64, same shape [same unit].

    Raises
    ------
    ValueError
        If anything in it is not a number, or not finite.

    Notes
    -----
    Equation: none, a check.
    Source: none needed.

    Examples
    --------
    >>> numbers("travel", [0, 1]).tolist()
    [0.0, 1.0]
    """
    if isinstance(value, float) and -np.inf < value < np.inf:
        return np.asarray(value)
    try:
        array = np.asarray(value, dtype=np.float64)
    except (TypeError, ValueError):
        raise ValueError(f"{name} must be a number or an array of numbers, but got {value!r}.") from None
    if not np.all(np.isfinite(array)):
        bad = array[~np.isfinite(array)].flat[0]
        raise ValueError(f"{name} must be finite, but got {bad}; leave such points out.")
    return array


def in_range(
    name: str,
    value: ArrayLike,
    low: float,
    high: float,
    unit: str,
    *,
    above: bool = False,
    below: bool = False,
) -> Floats:
    """Return the input as floats if all of it lies between two limits.

    Parameters
    ----------
    name : str
        What the reader calls this input [no unit].
    value : array_like
        A number or numbers of any shape [`unit`].
    low, high : float
        The limits, allowed themselves [`unit`]; infinite for none.
    unit : str
        The unit as text; "-" for a fraction or ratio [no unit].
    above, below : bool
        True where the low or the high limit itself is not allowed [no unit].

    Returns
    -------
    numpy.ndarray
        The same numbers as float64, same shape [same unit].

    Raises
    ------
    ValueError
        If any value lies outside, naming the limits, the unit and the first such value.

    Notes
    -----
    Equation: none, a check.
    Source: none needed.

    Examples
    --------
    >>> in_range("travel", 0.5, 0, 1, "-").tolist()
    0.5
    >>> in_range("travel", 50, 0, 1, "-")
    Traceback (most recent call last):
    ...
    ValueError: travel must be from 0 to 1 (a fraction or ratio), but got 50.
    """
    # Where all is well a short look is enough, for one valve on every frame of a picture as for a million at once.
    # Nothing that is not a number compares true.
    if isinstance(value, float | int):
        least = most = float(value)
    elif isinstance(value, np.ndarray) and value.dtype == np.float64 and value.size > 0:
        least, most = float(value.min()), float(value.max())
    else:
        least = most = np.nan
    from_low = low < least or (low == least and not above)
    up_to_high = most < high or (most == high and not below)
    if from_low and up_to_high and -np.inf < least and most < np.inf:
        return np.asarray(value, dtype=np.float64)
    array = numbers(name, value)
    bad = ((array <= low) if above else (array < low)) | ((array >= high) if below else (array > high))
    if np.any(bad):
        limits = _limits(low, high, unit, above=above, below=below)
        raise ValueError(f"{name} must be {limits}, but got {array[bad].flat[0]:g}.")
    return array


def positive(name: str, value: ArrayLike, unit: str) -> Floats:
    """Return the input as floats if all of it is above zero.

    Parameters
    ----------
    name : str
        What the reader calls this input [no unit].
    value : array_like
        A number or numbers of any shape [`unit`].
    unit : str
        The unit as text; "-" for a fraction or ratio [no unit].

    Returns
    -------
    numpy.ndarray
        The same numbers as float64, same shape [same unit].

    Raises
    ------
    ValueError
        If any value is zero or less.

    Notes
    -----
    Equation: none, a check.
    Source: none needed.

    Examples
    --------
    >>> positive("density", 998, "kg/m³").tolist()
    998.0
    """
    return in_range(name, value, 0.0, np.inf, unit, above=True)


def pressure_drop(p1: ArrayLike, p2: ArrayLike) -> Floats:
    """Return the pressure drop of a valve if it is one: above zero, to an outlet no lower than a vacuum.

    Parameters
    ----------
    p1 : array_like
        Pressure before the valve [Pa absolute].
    p2 : array_like
        Pressure after the valve, 0 or more and below p1 [Pa absolute].

    Returns
    -------
    numpy.ndarray
        Δp, broadcast shape [Pa].

    Raises
    ------
    ValueError
        If p2 is negative or not below p1.

    Notes
    -----
    Equation: Δp = P1 − P2.
    Source: none needed.

    Examples
    --------
    >>> float(pressure_drop(680e3, 220e3))
    460000.0
    """
    return positive("p1 − p2", numbers("p1", p1) - in_range("p2", p2, 0, np.inf, "Pa"), "Pa")


def above_boiling(p1: ArrayLike, pv: ArrayLike) -> Floats:
    """Return how far a liquid before the valve is from boiling, if it is not boiling already.

    Parameters
    ----------
    p1 : array_like
        Pressure before the valve, above pv [Pa absolute].
    pv : array_like
        Vapour pressure of the liquid, 0 or more [Pa absolute].

    Returns
    -------
    numpy.ndarray
        Inlet pressure less vapour pressure, broadcast shape [Pa].

    Raises
    ------
    ValueError
        If pv is negative or not below p1.

    Notes
    -----
    Equation: P1 − Pv.
    Source: none needed.

    Examples
    --------
    >>> float(above_boiling(680e3, 70.1e3))
    609900.0
    """
    return positive("p1 − pv", numbers("p1", p1) - in_range("pv", pv, 0, np.inf, "Pa"), "Pa")


def one_of(name: str, value: str, allowed: tuple[str, ...]) -> str:
    """Return the word if it is one of those allowed.

    Parameters
    ----------
    name : str
        What the reader calls this input [no unit].
    value : str
        The word received [no unit].
    allowed : tuple of str
        The words that mean something here [no unit].

    Returns
    -------
    str
        The same word [no unit].

    Raises
    ------
    ValueError
        If it is none of them.

    Notes
    -----
    Equation: none, a check.
    Source: none needed.

    Examples
    --------
    >>> one_of("flow", "open", ("open", "close"))
    'open'
    """
    if value not in allowed:
        raise ValueError(f"{name} must be one of {', '.join(allowed)}, but got {value!r}.")
    return value


def _limits(low: float, high: float, unit: str, *, above: bool, below: bool) -> str:
    in_unit = " (a fraction or ratio)" if unit == "-" else f" {unit}"
    lower = f"above {low:g}" if above else f"at least {low:g}"
    upper = f"below {high:g}" if below else f"at most {high:g}"
    if not np.isfinite(high):
        return lower + in_unit
    if not np.isfinite(low):
        return upper + in_unit
    if above or below:
        return f"{lower} and {upper}{in_unit}"
    return f"from {low:g} to {high:g}{in_unit}"
