"""Typical factors of a few body styles, for use until the maker's data are in hand; capacity for a size."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, one_of, positive
from valvecalc.units import INCH, kv_from_cv


class BodyStyle(NamedTuple):
    """Typical factors at full rated travel."""

    fl: float  # liquid pressure recovery factor [-]
    xt: float  # pressure differential ratio factor [-]
    fd: float  # valve style modifier [-]
    capacity: float  # Cv / d², d in inches [US gal/min at 1 psi per in²]


# FL, xT, Fd: IEC 60534-2-1:2011, table D.2, a few of its rows; the standard calls them typical only.
# Capacity: typical table of ISA-S75.01-1985, from memory; later editions dropped it, so check before buying.
# The 70° butterfly's is that of the one valve in example 5 of ISA-75.01.01-2012: Cv 365 at 4 inches.
BODY_STYLES = {
    "globe, contoured plug, flow to open": BodyStyle(0.90, 0.72, 0.46, 11.0),
    "globe, contoured plug, flow to close": BodyStyle(0.80, 0.55, 1.00, 11.0),
    "globe, double seated, ported plug": BodyStyle(0.90, 0.75, 0.28, 12.5),
    "globe, four-port cage, flow outward": BodyStyle(0.90, 0.75, 0.41, 15.0),
    "globe, four-port cage, flow inward": BodyStyle(0.85, 0.70, 0.41, 15.0),
    "angle, contoured plug, flow to open": BodyStyle(0.90, 0.72, 0.46, 17.0),
    "angle, contoured plug, flow to close": BodyStyle(0.80, 0.65, 1.00, 20.0),
    "eccentric spherical plug, flow to open": BodyStyle(0.85, 0.60, 0.42, 13.0),
    "eccentric spherical plug, flow to close": BodyStyle(0.68, 0.40, 0.42, 13.0),
    "butterfly, centred disc, 70°": BodyStyle(0.62, 0.35, 0.57, 22.8),
    "segmented ball": BodyStyle(0.60, 0.30, 0.98, 25.0),
}


def typical_kv(style: str, d: ArrayLike) -> Floats:
    """Flow coefficient to expect from a wide-open valve of this style and size.

    Parameters
    ----------
    style : str
        A name in `BODY_STYLES` [no unit].
    d : array_like
        Valve size, above 0 [m].

    Returns
    -------
    numpy.ndarray
        Kv, good for a first guess only [m³/h at 1 bar].

    Raises
    ------
    ValueError
        If the style is not in the table or the size not above zero.

    Notes
    -----
    Equation: Cv = capacity · d², d in inches.
    Source: IEC 60534-2-1:2011, table D.2; the capacities from memory, see `BODY_STYLES`.

    Examples
    --------
    >>> round(float(typical_kv("globe, contoured plug, flow to open", 0.0508)), 1)
    38.1
    """
    capacity = BODY_STYLES[one_of("style", style, tuple(BODY_STYLES))].capacity
    inches = positive("d", d, "m") / INCH
    return kv_from_cv(capacity * np.square(inches))
