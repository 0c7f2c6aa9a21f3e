"""Over what range a valve can be used: inherent rangeability by definition, turndown as installed."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from valvecalc.checks import Floats, in_range, numbers
from valvecalc.permitted_deviation import slope_limits, slope_ratio, within_deviation


def inherent_rangeability(
    travel: ArrayLike, phi: ArrayLike, phi_stated: ArrayLike, kind: str = "other"
) -> float:
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
    return largest_ratio(numbers("phi", phi), inside, step_inside)


def installed_turndown(
    travel: ArrayLike, flow_ratio: ArrayLike, gain_low: float = 0.5, gain_high: float = 2.0
) -> float:
    """Ratio of largest to smallest flow between which the installed gain stays within limits.

    Parameters
    ----------
    travel : array_like
        Relative travel h at two or more points, rising, 0 to 1, one dimension [-].
    flow_ratio : array_like
        Flow over flow at full opening at those points, 0 to 1; closed points do not count [-].
    gain_low, gain_high : float, optional
        Limits of d(q/q_max)/dh, 0 or more; 1 is that of a straight line [-].

    Returns
    -------
    float
        Largest ratio of flows in one unbroken run of points, 1 if there is none [-].

    Raises
    ------
    ValueError
        If an input is out of range, or travel does not rise.

    Notes
    -----
    Equation: gain by differences between the points; ratio q_high / q_low.
    Source: common practice, no source, that gain and not only flow limits the usable range; the limits are
    the reader's: own choice, no source.

    Examples
    --------
    >>> installed_turndown([0, 0.25, 0.5, 0.75, 1], [0, 0.4, 0.8, 0.9, 1])
    2.0
    """
    h, q = in_range("travel", travel, 0, 1, "-"), in_range("flow_ratio", flow_ratio, 0, 1, "-")
    in_range("the step from one travel to the next", np.diff(h), 0, 1, "-", above=True)
    gain = np.gradient(q, h)
    inside = (gain >= numbers("gain_low", gain_low)) & (gain <= numbers("gain_high", gain_high)) & (q > 0)
    return largest_ratio(q, inside)


def largest_ratio(
    value: Floats, inside: NDArray[np.bool_], step_inside: NDArray[np.bool_] | None = None
) -> float:
    """Largest over smallest value in the unbroken run of points that makes this ratio largest.

    Parameters
    ----------
    value : numpy.ndarray
        One value for each point, above 0 where inside, one dimension [any unit].
    inside : numpy.ndarray of bool
        Which points count [no unit].
    step_inside : numpy.ndarray of bool, optional
        Which steps between neighbouring points count, one less than the points; all if left out [no unit].

    Returns
    -------
    float
        The ratio, 1 if no two neighbouring points count [-].

    Raises
    ------
    ValueError
        If a value that counts is not above 0.

    Notes
    -----
    Equation: max over runs of max(value) / min(value).
    Source: none needed.

    Examples
    --------
    >>> largest_ratio(np.array([1, 2, 9, 4, 12]), np.array([True, True, False, True, True]))
    3.0
    """
    in_range("value", value[inside], 0, np.inf, "-", above=True)
    linked = inside[1:] & inside[:-1] & (True if step_inside is None else step_inside)
    run = np.concatenate([[0], np.cumsum(~linked)])
    ratios = [value[run == r].max() / value[run == r].min() for r in np.unique(run[1:][linked])]
    return float(max(ratios, default=1.0))
