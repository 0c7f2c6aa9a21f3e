"""Where the cavitation of a liquid begins, well before its flow is choked."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive


def incipient_ratio(xfz: ArrayLike, p1: ArrayLike) -> Floats:
    """Ratio xF at which cavitation begins at this inlet pressure, taken as no later than in the maker's test.

    Parameters
    ----------
    xfz : array_like
        Ratio xF at which cavitation begins with 6 bar before the valve, above 0, at most 1 [-].
    p1 : array_like
        Pressure before the valve, above 0 [Pa absolute].

    Returns
    -------
    numpy.ndarray
        xF at which cavitation begins [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: xFzp1 = xFz (6 bar / P1)^0.125, not above xFz.
    Source: IEC 60534-8-4, from memory. There xFz is where the noise of cavitation begins, before it does damage. That a
    lower P1 is given no benefit is our own caution.

    Examples
    --------
    >>> incipient_ratio(0.4, [3e5, 6e5, 24e5]).round(4).tolist()
    [0.4, 0.4, 0.3364]
    """
    begins = in_range("xfz", xfz, 0, 1, "-", above=True)
    return begins * np.minimum((6e5 / positive("p1", p1, "Pa")) ** 0.125, 1.0)
