"""Failure on demand: by hand, against the exact mean, and invariants."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.on_demand import YEAR, failed_by, failure_on_demand, stroke_coverage


@pytest.mark.parametrize(
    ("rate", "proof", "coverage", "partial", "expected"),
    [
        # λ per year, intervals in years. λ T/2 (IEC 61508-6, from memory), by hand.
        (0.02, 1, 0.0, None, 0.01),
        (0.02, 4, 0.0, None, 0.04),
        (0.01, 2, 0.6, 0.25, 0.01 * (0.6 * 0.25 + 0.4 * 2) / 2),  # 0.00475
        (0.02, 1, 1.0, 0.25, 0.0025),
        (0.02, 1, 0.6, 1, 0.01),  # a partial stroke no more often than the proof test adds nothing
        (0.0, 1, 0.0, None, 0.0),
    ],
)
def test_mean_by_hand(rate, proof, coverage, partial, expected):
    interval = None if partial is None else partial * YEAR
    assert failure_on_demand(rate / YEAR, proof * YEAR, coverage, interval) == pytest.approx(expected)


def test_published_example():
    """A valve assembly of 7.2e-7 found every 3 months and 1.26e-6 found every 4 years: 9.0e-8 + 2.52e-6, printed 2.62e-6.

    A paper on HSE SPC/Technical/General/48 works it so, second-hand; the rates are per year there.
    """
    both = 7.2e-7 + 1.26e-6
    mean = failure_on_demand(both / YEAR, 4 * YEAR, 7.2e-7 / both, YEAR / 4)
    assert mean == pytest.approx(2.62e-6, rel=5e-3)
    assert float(stroke_coverage([7.2e-7, 1.26e-6], [1, 0])) == pytest.approx(7.2e-7 / both)


@given(st.floats(1e-4, 0.2), st.floats(0, 1), st.integers(1, 12))
def test_straight_line_is_on_the_safe_side_and_close(worn, coverage, strokes):
    """The true mean of the saw is never above λ T/2 and at most a tenth below it, up to λ T = 0.2."""
    rate = worn / YEAR
    time = (np.arange(12000) + 0.5) / 12000 * YEAR
    mean = float(np.mean(failed_by(time, rate, YEAR, coverage, YEAR / strokes)))
    line = float(failure_on_demand(rate, YEAR, coverage, YEAR / strokes))
    assert 0.9 * line <= mean <= line * (1 + 1e-6)


@given(st.floats(0.001, 0.2), st.floats(0, 1))
def test_a_proof_test_makes_it_as_new(worn, coverage):
    assert failed_by(YEAR, worn / YEAR, YEAR, coverage, YEAR / 4) == 0
    before = failed_by(YEAR * (1 - 1e-9), worn / YEAR, YEAR, coverage, YEAR / 4)
    assert before == pytest.approx(-np.expm1(-worn * (coverage / 4 + 1 - coverage)), rel=1e-4)


@pytest.mark.parametrize(
    ("rates", "found", "expected"),
    [([6, 72, 18, 24], [1, 1, 0, 0], 78 / 120), ([1, 1], [1, 0.5], 0.75), ([3], [0], 0.0)],  # by hand
)
def test_coverage_by_hand(rates, found, expected):
    assert stroke_coverage(rates, found) == pytest.approx(expected)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: failure_on_demand(0.5 / YEAR, YEAR), r"failure_rate times proof_interval must be from 0 to 0\.2"),
        (lambda: failure_on_demand(0.02 / YEAR, YEAR, 0.5, 2 * YEAR), "partial_interval over proof_interval must be"),
        (lambda: failure_on_demand(0.02 / YEAR, YEAR, 1.5), "coverage must be from 0 to 1"),
        (lambda: stroke_coverage([0, 0], [1, 0]), "the sum of the failure rates must be above 0"),
    ],
)
def test_refusals_are_sentences(call, says):
    with pytest.raises(ValueError, match=says):
        call()
