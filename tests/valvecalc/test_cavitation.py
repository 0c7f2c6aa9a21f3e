"""Cavitation index, onset and verdicts."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.cavitation import VERDICTS, cavitation_index, differential_pressure_ratio, liquid_verdict


@pytest.mark.parametrize(
    ("p1", "p2", "pv", "sigma"),
    [
        (10, 8, 2, 4.0),  # `fluids` test citing ISA-RP75.23
        (10, 5, 0.023392, 1.99532),  # by hand: 9.976608 / 5
        (6.8, 2.2, 0.701, 1.32587),  # examples 1 and 2 of ISA-75.01.01-2012, by hand: 6.099 / 4.6
    ],
)
def test_cavitation_index(p1, p2, pv, sigma):
    assert cavitation_index(p1, p2, pv) == pytest.approx(sigma, rel=5e-6)
    assert differential_pressure_ratio(p1, p2, pv) == pytest.approx(1 / sigma, rel=5e-6)
    # The downstream definition, (P2 − Pv)/(P1 − P2), is one less.
    assert cavitation_index(p1, p2, pv) - 1 == pytest.approx((p2 - pv) / (p1 - p2))


@pytest.mark.parametrize(
    ("p2", "options", "verdict"),
    # Water of 20 °C from 10 bar, FL 0.9: choked from a drop of 8.08186 bar (by hand, above), jet at Pv from
    # 0.81 (10 − 0.0233932) = 8.08105 bar, flashing below 0.0233932 bar.
    [
        (3.0e5, {}, "none"),
        (1.9190e5, {}, "none"),
        (1.9186e5, {}, "cavitation"),
        (1.9182e5, {}, "cavitation"),
        (1.9181e5, {}, "choked"),
        (2.4e3, {}, "choked"),
        (2.3e3, {}, "flashing"),
        (5.0e5, {"xfz": 0.4}, "cavitation"),
        (7.0e5, {"xfz": 0.4}, "none"),
    ],
)
def test_verdict(p2, options, verdict):
    told = liquid_verdict(10e5, p2, 2.33932e3, 22064e3, 0.9, **options)
    assert told == verdict
    assert told in VERDICTS


@given(st.floats(0.3, 1.0), st.floats(1e2, 9e5))
def test_verdicts_come_in_order_as_the_outlet_falls(fl, pv):
    told = liquid_verdict(10e5, np.linspace(9.99e5, 0, 300), pv, 22064e3, fl)
    ranks = [VERDICTS.index(word) for word in told]
    assert ranks == sorted(ranks)
    assert ranks[-1] == VERDICTS.index("flashing")


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: cavitation_index(1e6, 1e6, 1e3), "p1 − p2 must be above 0 Pa"),
        (lambda: liquid_verdict(1e6, 5e5, 1e3, 22e6, 0.9, xfz=0), "xfz must be above 0"),
    ],
)
def test_refusals_are_sentences(call, words):
    with pytest.raises(ValueError, match=r"\.$") as refusal:
        call()
    assert words in str(refusal.value)
