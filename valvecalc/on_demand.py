"""A valve that must move once, when it is called on: how likely it is to fail, and what tests find."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from valvecalc.checks import Floats, in_range, positive

MOST_WORN = 0.2  # failure rate times interval up to which the straight line is within a tenth of the true curve
YEAR = 365.25 * 24 * 3600.0  # s


def failure_on_demand(
    failure_rate: ArrayLike,
    proof_interval: ArrayLike,
    coverage: ArrayLike = 0.0,
    partial_interval: ArrayLike | None = None,
) -> Floats:
    """Mean probability that a valve does not move when it is called on.

    Parameters
    ----------
    failure_rate : array_like
        Rate of the failures that nobody sees until the valve has to move, 0 or more [1/s].
    proof_interval : array_like
        From one proof test to the next; the proof test finds them all [s].
    coverage : array_like
        Part of them that a partial stroke finds, 0 to 1, see `stroke_coverage` [-].
    partial_interval : array_like, optional
        From one partial stroke to the next, at most `proof_interval`; none without partial strokes [s].

    Returns
    -------
    numpy.ndarray
        Mean probability of failure on demand [-].

    Raises
    ------
    ValueError
        If an input is out of range, or the failure rate times the interval is above 0.2, where λ T/2 no longer holds.

    Notes
    -----
    Equation: C λ t/2 + (1 − C) λ T/2, t the interval of partial strokes and T that of proof tests.
    Source: IEC 61508-6, one valve, from memory; with partial strokes as in Lundteigen and Rausand (2007), second-hand.
    The time of a repair, and damage by the test itself, are left out.

    Examples
    --------
    >>> round(float(failure_on_demand(0.02 / YEAR, YEAR)), 6)
    0.01
    >>> round(float(failure_on_demand(0.02 / YEAR, YEAR, 0.6, YEAR / 4)), 6)
    0.0055
    """
    rate, proof, found, partial = _tests(failure_rate, proof_interval, coverage, partial_interval)
    return rate * (found * partial + (1 - found) * proof) / 2


def failed_by(
    time: ArrayLike,
    failure_rate: ArrayLike,
    proof_interval: ArrayLike,
    coverage: ArrayLike = 0.0,
    partial_interval: ArrayLike | None = None,
) -> Floats:
    """Probability that a valve has failed by now, and nobody knows.

    Parameters
    ----------
    time : array_like
        Time since the valve was as new, 0 or more [s].
    failure_rate, proof_interval, coverage, partial_interval : array_like
        As in `failure_on_demand` [1/s, s, -, s].

    Returns
    -------
    numpy.ndarray
        Probability, a saw whose teeth end at each test [-].

    Raises
    ------
    ValueError
        As in `failure_on_demand`.

    Notes
    -----
    Equation: 1 − exp(−λ (C (time mod t) + (1 − C) (time mod T))): each test finds its part, which is
    repaired at once.
    Source: worked by hand, constant failure rate.

    Examples
    --------
    >>> round(float(failed_by(0.5 * YEAR, 0.02 / YEAR, YEAR)), 5)
    0.00995
    """
    rate, proof, found, partial = _tests(failure_rate, proof_interval, coverage, partial_interval)
    now = in_range("time", time, 0, np.inf, "s")
    return -np.expm1(-rate * (found * np.mod(now, partial) + (1 - found) * np.mod(now, proof)))


def stroke_coverage(failure_rate: ArrayLike, found: ArrayLike) -> Floats:
    """Share of the hidden failures that a partial stroke finds.

    Parameters
    ----------
    failure_rate : array_like
        Rate of each way to fail, at least one of them above 0 [1/s, or any rate].
    found : array_like
        1 for each way that the partial stroke shows, 0 for each that it does not, or a part of it [-].

    Returns
    -------
    numpy.ndarray
        Coverage, over the last axis [-].

    Raises
    ------
    ValueError
        If a rate is negative, a part lies outside 0 to 1, or all rates are zero.

    Notes
    -----
    Equation: C = Σ λ found / Σ λ.
    Source: worked by hand; as in HSE SPC/Technical/General/48, annex B, second-hand.

    Examples
    --------
    >>> round(float(stroke_coverage([6, 72, 18, 24], [1, 1, 0, 0])), 3)
    0.65
    """
    rates = in_range("failure_rate", failure_rate, 0, np.inf, "1/s")
    shown = rates * in_range("found", found, 0, 1, "-")
    total: Floats = positive("the sum of the failure rates", np.sum(rates, axis=-1), "1/s")
    part: Floats = np.sum(shown, axis=-1) / total
    return part


def _tests(
    failure_rate: ArrayLike, proof_interval: ArrayLike, coverage: ArrayLike, partial_interval: ArrayLike | None
) -> tuple[Floats, Floats, Floats, Floats]:
    rate = in_range("failure_rate", failure_rate, 0, np.inf, "1/s")
    proof = positive("proof_interval", proof_interval, "s")
    in_range("failure_rate times proof_interval", rate * proof, 0, MOST_WORN, "-")
    found = in_range("coverage", coverage, 0, 1, "-")
    partial = proof if partial_interval is None else positive("partial_interval", partial_interval, "s")
    in_range("partial_interval over proof_interval", partial / proof, 0, 1, "-")
    return rate, proof, found, partial
