"""Deviation band, slope limits and rangeability by definition, against rows worked from the clauses named."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.characteristic import equal_percentage
from valvecalc.rangeability import (
    inherent_rangeability,
    permitted_deviation,
    slope_limits,
    slope_ratio,
    within_deviation,
)

# Phi, percent, low and high end: 10 (1/Phi)^0.2, IEC 60534-2-4 from memory; the power worked by hand.
BAND = [
    (1, 10, 0.9, 1.1),
    (0.5, 11.4870, 0.442565, 0.557435),
    (0.25, 13.1951, 0.217012, 0.282988),
    (0.2, 13.7973, 0.172405, 0.227595),
    (0.1, 15.8489, 0.0841511, 0.115849),
    (0.05, 18.2056, 0.0408972, 0.0591028),
    (0.0333, 19.7435, 0.0267522, 0.0399145),  # the table shows 1/30 shortened: tolerance below
    (0.02, 21.8672, 0.0156266, 0.0243734),
]


@pytest.mark.parametrize(("phi", "percent", "low", "high"), BAND)
def test_band(phi, percent, low, high):
    band = permitted_deviation(phi)
    tolerance = 3e-3 if phi == 0.0333 else 1e-5
    np.testing.assert_allclose([100 * band, phi * (1 - band), phi * (1 + band)], [percent, low, high], rtol=tolerance)
    just = 5e-3  # within and beyond each end by more than the printed digits
    assert within_deviation([low * (1 + just), high * (1 - just)], phi).all()
    assert not within_deviation([low * (1 - just), high * (1 + just)], phi).any()


# Step of lg C for 10 % travel: nominal lg R / 10, then h 0.2-0.8, below 0.2, above 0.8. GB/T 4213-92 limits of
# -30/+30, -30/+80, -80/+30 % of it, worked by hand.
LOG_STEPS = [
    (10, 0.1000, (0.0700, 0.1300), (0.0700, 0.1800), (0.0200, 0.1300)),
    (25, 0.1398, (0.0979, 0.1817), (0.0979, 0.2516), (0.0280, 0.1817)),
    (30, 0.1477, (0.1034, 0.1920), (0.1034, 0.2659), (0.0295, 0.1920)),
    (50, 0.1699, (0.1189, 0.2209), (0.1189, 0.3058), (0.0340, 0.2209)),
    (100, 0.2000, (0.1400, 0.2600), (0.1400, 0.3600), (0.0400, 0.2600)),
]


@pytest.mark.parametrize(("rangeability", "nominal", "middle", "low", "high"), LOG_STEPS)
def test_log_step_limits(rangeability, nominal, middle, low, high):
    travel = np.arange(11) / 10
    stated = np.diff(np.log10(equal_percentage(travel, rangeability)))
    np.testing.assert_allclose(stated, nominal, atol=6e-5)
    for at, limits in ((0.5, middle), (0.15, low), (0.85, high)):
        found = np.array(slope_limits(at, "equal percentage")) * stated[0]
        np.testing.assert_allclose(found, limits, atol=6e-5)  # printed to four digits


# Increment for 10 % travel, part of rated: linear 7-13 % for h 0.1-0.8, 3-15 % above (GB/T 4213-92);
# others 0.5 to 2 times nominal for h 0.1-0.9 (same, item 3a).
@pytest.mark.parametrize(
    ("travel", "kind", "low", "high"),
    [
        (0.45, "linear", 0.7, 1.3),
        (0.85, "linear", 0.3, 1.5),
        (0.05, "linear", 0, np.inf),
        (0.5, "other", 0.5, 2),
        (0.95, "other", 0, np.inf),
    ],
)
def test_slope_limits(travel, kind, low, high):
    assert [float(limit) for limit in slope_limits(travel, kind)] == [low, high]


TRAVEL = np.array([0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0])
EXACT = equal_percentage(TRAVEL, 50)
LOW_END = np.array([0.7, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1])  # 30 % too little at 5 % travel: outside the band
GAP = np.array([1, 1, 1, 1, 0.5, 1, 1, 1, 1, 1, 1])  # one point far outside the band
KINK = np.array([1, 1, 1, 1, 1.1, 0.9, 1, 1, 1, 1, 1])  # both inside the band, but the step between is too flat


@pytest.mark.parametrize(
    ("measured", "expected"),
    [
        (EXACT, 50**0.95),  # from 5 % travel up: 1 / 50^(0.05 - 1)
        (EXACT * LOW_END, 50**0.9),  # from 10 % up, though max over min would say 59
        (EXACT * KINK, 0.9**-1 * 50**0.5),  # lg step 0.1699 - lg(1.1/0.9) = 0.083 < 0.1189: from 50 % up
        (
            EXACT * GAP,
            50**0.5,
        ),  # from 50 % up; the run from 5 to 30 % is shorter, and they are not joined across the gap
        (EXACT * 0.5, 1.0),  # nowhere inside
    ],
)
def test_inherent_rangeability_is_where_the_curve_is_right(measured, expected):
    # Definition of IEC 60534-2-4 and ISA-75.11.01 (a ratio of coefficients); the cases are worked by hand.
    assert inherent_rangeability(TRAVEL, measured, EXACT, "equal percentage") == pytest.approx(expected)


@given(st.lists(st.floats(-0.09, 0.09), min_size=11, max_size=11))
def test_a_curve_inside_the_tightest_band_keeps_its_points(errors):
    made = EXACT * (1 + np.array(errors))
    assert within_deviation(made, EXACT).all()
    assert 1 <= inherent_rangeability(TRAVEL, made, EXACT, "equal percentage") <= made.max() / made.min() * (1 + 1e-12)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: permitted_deviation(0), "phi must be above 0 and at most 1 (a fraction or ratio), but got 0."),
        (
            lambda: slope_limits(0.5, "straight"),
            "kind must be one of linear, equal percentage, other, but got 'straight'.",
        ),
        (
            lambda: slope_ratio([0.5, 0.4], [0.1, 0.2], [0.1, 0.2], "linear"),
            "the step from one travel to the next must be above 0 and at most 1 (a fraction or ratio), but got -0.1.",
        ),
    ],
)
def test_refusals(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence
