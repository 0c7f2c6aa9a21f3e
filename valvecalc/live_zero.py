"""What a current outside 4 to 20 mA says."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import in_range

SIGNAL_STATES = ("fault low", "doubtful low", "in range", "doubtful high", "fault high")
FAULT_LOW, LOWEST, HIGHEST, FAULT_HIGH = 0.0036, 0.0038, 0.0205, 0.021  # A, NAMUR NE 43
_ROUNDING = 1e-9  # A: a current worked out from a fraction is off by the last digit


def signal_state(signal: ArrayLike) -> NDArray[np.str_]:
    """Tell whether a current of a 4 to 20 mA loop stands for a value or for a fault.

    Parameters
    ----------
    signal : array_like
        Current, 0 to 0.024 [A].

    Returns
    -------
    numpy.ndarray of str
        "in range": from 3.8 to 20.5 mA, a value, if outside 4 to 20 mA one a little under or over the range;
        "fault low" up to 3.6 mA and "fault high" from 21 mA on; "doubtful low" and "doubtful high" between [no unit].

    Raises
    ------
    ValueError
        If the current is outside the limits.

    Notes
    -----
    Equation: limits 3.6, 3.8, 20.5 and 21 mA, each of them belonging to the state further out or, of 3.8 and 20.5,
    to the range.
    Source: NAMUR NE 43, for the signals of transmitters, from memory. What a positioner does with such a current its
    own manual says.

    Examples
    --------
    >>> signal_state([0.0, 0.0038, 0.012, 0.0207]).tolist()
    ['fault low', 'in range', 'in range', 'doubtful high']
    """
    current = in_range("signal", signal, 0, 0.024, "A")
    inside = (current >= LOWEST - _ROUNDING) & (current <= HIGHEST + _ROUNDING)
    low, high = current <= FAULT_LOW + _ROUNDING, current >= FAULT_HIGH - _ROUNDING
    kinds = ["in range", "fault low", "fault high", "doubtful low"]
    return np.select([inside, low, high, current < LOWEST], kinds, "doubtful high")
