"""Where the sizing equations stop being accurate: the capacity of a valve for its size."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive
from valvecalc.units import KV_PER_CV

SCOPE_LIMIT = 0.047  # C/(N18 d²) the equations are stated for (IEC 60534-2-1:2011, scope)
FULL_SIZE_LIMIT = 0.016  # C_rated/(N18 d²) from which a trim counts as full size (same, annex A)


def relative_capacity(kv: ArrayLike, d: ArrayLike) -> Floats:
    """Capacity of a valve for its size, the C/(N18 d²) of the standard.

    Parameters
    ----------
    kv : array_like
        Flow coefficient, 0 or more [m³/h at 1 bar].
    d : array_like
        Valve size, above 0 [m].

    Returns
    -------
    numpy.ndarray
        Cv over d² with d in mm [-, the unit it keeps is the standard's own].

    Raises
    ------
    ValueError
        If the coefficient is negative or the size not above zero.

    Notes
    -----
    Equation: C / (N18 d²) with N18 = 0.864978 for Kv and d in mm (printed: 0.865).
    Source: IEC 60534-2-1:2011. Its equations are stated for values below 0.047 (`SCOPE_LIMIT`). Nothing here
    refuses a larger one: a wide-open butterfly lies above it, the standard's own example 5 goes there, and a
    slider must not stop halfway. Compare and tell the reader that accuracy is no longer promised.

    Examples
    --------
    >>> round(float(relative_capacity(165, 0.150)), 4)
    0.0085
    """
    return in_range("kv", kv, 0, np.inf, "m³/h at 1 bar") / (KV_PER_CV * (positive("d", d, "m") * 1000) ** 2)
