"""The checks of `checks.py` at a third of their cost for long arrays, which a million valves need.

A look at minimum and maximum is enough where all is well; where it is not, the full check looks again and writes the
sentence.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range


def quick_in_range(
    name: str, value: ArrayLike, low: float, high: float, unit: str, *, above: bool = False, below: bool = False
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
        The same numbers as float64, same shape [`unit`].

    Raises
    ------
    ValueError
        With the sentence of `in_range`, if any value lies outside.

    Notes
    -----
    Equation: none, a check.
    Source: none needed.

    Examples
    --------
    >>> quick_in_range("travel", [0.2, 0.5], 0, 1, "-").tolist()
    [0.2, 0.5]
    """
    # A minimum or maximum over anything that is not a number is not a number either, and compares false.
    floats = isinstance(value, np.ndarray) and value.dtype == np.float64 and value.size > 0
    if floats and low < np.min(value) and np.max(value) < high:
        return np.asarray(value)
    return in_range(name, value, low, high, unit, above=above, below=below)


def quick_positive(name: str, value: ArrayLike, unit: str) -> Floats:
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
        The same numbers as float64, same shape [`unit`].

    Raises
    ------
    ValueError
        With the sentence of `positive`, if any value lies outside.

    Notes
    -----
    Equation: none, a check.
    Source: none needed.

    Examples
    --------
    >>> quick_positive("density", 998, "kg/m³").tolist()
    998.0
    """
    return quick_in_range(name, value, 0.0, np.inf, unit, above=True)
