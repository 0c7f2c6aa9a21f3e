"""Is a measured characteristic what its maker states, and over what range: deviation band, slope limits, rangeability.

The three kinds of characteristic are told apart because their slopes are judged differently: "linear",
"equal percentage" and "other".
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, in_range, numbers, one_of

KINDS = ("linear", "equal percentage", "other")


def permitted_deviation(phi: ArrayLike) -> Floats:
    """How far a measured flow coefficient may lie from the stated one, as a fraction of the stated one.

    Parameters
    ----------
    phi : array_like
        Stated relative flow coefficient Φ, above 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        Permitted deviation either way, same shape [-].

    Raises
    ------
    ValueError
        If phi is not above 0 and up to 1.

    Notes
    -----
    Equation: 0.10 (1/Φ)^0.2.
    Source: IEC 60534-2-4, from memory, not checked against its text.

    Examples
    --------
    >>> permitted_deviation([1, 0.1]).round(6).tolist()
    [0.1, 0.158489]
    """
    return 0.1 * in_range("phi", phi, 0, 1, "-", above=True) ** -0.2


def within_deviation(phi: ArrayLike, phi_stated: ArrayLike) -> NDArray[np.bool_]:
    """Tell for each point whether the measured coefficient lies in the permitted band.

    Parameters
    ----------
    phi : array_like
        Measured coefficient over the stated rated coefficient, 0 or more [-].
    phi_stated : array_like
        Stated relative flow coefficient, above 0 to 1 [-].

    Returns
    -------
    numpy.ndarray
        True inside the band, broadcast shape [-].

    Raises
    ------
    ValueError
        If an input is out of range.

    Notes
    -----
    Equation: |Φ / Φ_stated - 1| ≤ 0.10 (1/Φ_stated)^0.2.
    Source: as `permitted_deviation`.

    Examples
    --------
    >>> within_deviation([0.92, 0.08], [1, 0.1]).tolist()
    [True, False]
    """
    measured, stated = in_range("phi", phi, 0, np.inf, "-"), numbers("phi_stated", phi_stated)
    inside: NDArray[np.bool_] = np.abs(measured / stated - 1) <= permitted_deviation(stated) + 1e-12
    return inside


def slope_limits(travel: ArrayLike, kind: str) -> tuple[Floats, Floats]:
    """Limits of the slope ratio that `slope_ratio` works out, at a travel.

    Parameters
    ----------
    travel : array_like
        Relative travel in the middle of a step between two measured points, 0 to 1 [-].
    kind : str
        "linear", "equal percentage" or "other" [no unit].

    Returns
    -------
    tuple of numpy.ndarray
        Lowest and highest permitted slope ratio, same shape; no limit is 0 and infinity [-].

    Raises
    ------
    ValueError
        If travel is outside 0 to 1, or the kind not known.

    Notes
    -----
    Equation: linear 0.7 to 1.3, above h 0.8 0.3 to 1.5, below 0.1 none; equal percentage 0.7 to 1.3,
    below 0.2 0.7 to 1.8, above 0.8 0.2 to 1.3; other 0.5 to 2 for h 0.1 to 0.9, outside none.
    Source: GB/T 4213-92, clause on the inherent characteristic (a national standard of the IEC series), second-hand.

    Examples
    --------
    >>> [limit.tolist() for limit in slope_limits([0.1, 0.5, 0.9], "equal percentage")]
    [[0.7, 0.7, 0.2], [1.8, 1.3, 1.3]]
    """
    h = in_range("travel", travel, 0, 1, "-")
    if one_of("kind", kind, KINDS) == "linear":
        zones, low, high = [h < 0.1, h > 0.8], [0.0, 0.3, 0.7], [np.inf, 1.5, 1.3]
    elif kind == "equal percentage":
        zones, low, high = [h < 0.2, h > 0.8], [0.7, 0.2, 0.7], [1.8, 1.3, 1.3]
    else:
        zones, low, high = [h < 0.1, h > 0.9], [0.0, 0.0, 0.5], [np.inf, np.inf, 2.0]
    return np.select(zones, low[:2], low[2]), np.select(zones, high[:2], high[2])


def slope_ratio(travel: ArrayLike, phi: ArrayLike, phi_stated: ArrayLike, kind: str) -> Floats:
    """Slope between neighbouring measured points, over the slope it is judged against.

    Parameters
    ----------
    travel : array_like
        Relative travel of the measured points, rising, 0 to 1, one dimension [-].
    phi, phi_stated : array_like
        Measured and stated relative flow coefficients at those points, above 0 [-].
    kind : str
        "linear", "equal percentage" or "other" [no unit].

    Returns
    -------
    numpy.ndarray
        One ratio for each step between points [-].

    Raises
    ------
    ValueError
        If an input is out of range, travel does not rise, or the kind is not known.

    Notes
    -----
    Equation: linear ΔΦ/Δh; equal percentage Δlg Φ / Δlg Φ_stated; other ΔΦ / ΔΦ_stated.
    Source: as `slope_limits`.

    Examples
    --------
    >>> slope_ratio([0.4, 0.5], [0.40, 0.52], [0.4, 0.5], "linear").round(6).tolist()
    [1.2]
    """
    h = in_range("travel", travel, 0, 1, "-")
    made = in_range("phi", phi, 0, np.inf, "-", above=True)
    said = in_range("phi_stated", phi_stated, 0, np.inf, "-", above=True)
    steps = in_range("the step from one travel to the next", np.diff(h), 0, 1, "-", above=True)
    if one_of("kind", kind, KINDS) == "linear":
        return np.diff(made) / steps
    if kind == "equal percentage":
        made, said = np.log10(made), np.log10(said)
    rise = in_range("the step from one phi_stated to the next", np.diff(said), 0, np.inf, "-", above=True)
    return np.diff(made) / rise


def inherent_rangeability(travel: ArrayLike, phi: ArrayLike, phi_stated: ArrayLike, kind: str = "other") -> float:
    """Largest over smallest flow coefficient between which a measured curve stays inside its limits.

    Parameters
    ----------
    travel : array_like
        Relative travel of the measured points, rising, 0 to 1, one dimension [-].
    phi, phi_stated : array_like
        Measured and stated relative flow coefficients at those points, above 0 [-].
    kind : str, optional
        "linear", "equal percentage" or "other"; how slopes are judged [no unit].

    Returns
    -------
    float
        Inherent rangeability, 1 if no two neighbouring points are inside [-].

    Raises
    ------
    ValueError
        If an input is out of range, travel does not rise, or the kind is not known.

    Notes
    -----
    Not the largest flow over the leakage flow, and not the largest over the smallest point of the table.
    Equation: max Φ_high / Φ_low over runs of neighbouring points with deviation and slopes permitted.
    Source: IEC 60534-2-4 and ISA-75.11.01 (second-hand): a ratio of coefficients; the run: computed here.

    Examples
    --------
    >>> inherent_rangeability([0.1, 0.4, 0.7, 1.0], [0.05, 0.41, 0.70, 1.0], [0.1, 0.4, 0.7, 1.0])
    2.4390243902439024
    """
    inside = within_deviation(phi, phi_stated)
    h = numbers("travel", travel)
    ratio = slope_ratio(h, phi, phi_stated, kind)
    low, high = slope_limits((h[1:] + h[:-1]) / 2, kind)
    step_inside = (ratio >= low - 1e-9) & (ratio <= high + 1e-9)
    return _largest_ratio(numbers("phi", phi), inside, step_inside)


def _largest_ratio(value: Floats, inside: NDArray[np.bool_], step_inside: NDArray[np.bool_]) -> float:
    """Largest over smallest value in the unbroken run of points that makes this ratio largest; 1 without a run."""
    linked = inside[1:] & inside[:-1] & step_inside
    run = np.concatenate([[0], np.cumsum(~linked)])
    ratios = [value[run == r].max() / value[run == r].min() for r in np.unique(run[1:][linked])]
    return float(max(ratios, default=1.0))
