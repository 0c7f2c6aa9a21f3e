"""Play and stiction: against a reference library and by hand."""

import control
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.stiction import backlash, stem_step, stick_and_slip


def test_backlash_row():
    assert backlash([0, 1, 2, 3, 2, 1, 0, -1], 2).tolist() == [0, 0, 1, 2, 2, 2, 1, 0]


# python-control's backlash element as an oracle, and random walks.
@given(st.lists(st.floats(-5, 5), min_size=1, max_size=40), st.floats(0.1, 3))
def test_backlash_as_in_the_reference_library(walk, gap):
    oracle = control.friction_backlash_nonlinearity(gap)
    expected = [oracle(value) for value in [0.0, *walk]]
    np.testing.assert_allclose(backlash([0.0, *walk], gap), expected, atol=1e-12)


def follow(signal, stick_band, slip_jump=0.0):
    """Travel of a stem whose air follows the signal at once, between stops too far away to matter."""
    at_rest, moving = (float(friction) for friction in stick_and_slip(stick_band, slip_jump))
    stem, path = (signal[0], signal[0], 0.0), []
    for sent in signal:
        stem = stem_step(stem, sent, sent, 1e15, 0.0, (at_rest, moving, 0.0), (-9.0, 9.0, -9.0, 9.0))
        path.append(stem[1])
    return np.array(path)


@given(st.lists(st.floats(-2, 2), min_size=2, max_size=40), st.floats(0.01, 1))
def test_stiction_without_a_jump_is_backlash(walk, band):
    np.testing.assert_allclose(follow(walk, band), backlash(walk, band), atol=1e-12)


def test_stiction_model():
    """S 0.3, J 0.1: after a reversal 0.3 of signal until it goes, then at once 0.1; the model from memory."""
    signal = np.concatenate([np.linspace(0, 1, 2001), np.linspace(1, 0, 2001)])
    travel = follow(signal, 0.3, 0.1)
    breaks = np.flatnonzero(np.diff(travel[2001:]) < 0)[0]
    assert 1 - signal[2001:][breaks + 1] == pytest.approx(0.3, abs=1e-3)
    assert -np.diff(travel).min() == pytest.approx(0.1, abs=1e-3)
    assert [float(f) for f in stick_and_slip(0.3, 0.1)] == pytest.approx([0.2, 0.1])
    # J above S overshoots: the stem ends beyond the signal.
    assert follow([0, 0.3], 0.2, 0.3)[-1] == pytest.approx(0.3 + 0.05)


BAD = [
    (lambda: backlash([0, 1], -1), "backlash must be at least 0"),
    (lambda: stick_and_slip(-0.1, 0), "stick band must be at least 0"),
    (lambda: stick_and_slip(0.1, -1), "slip jump must be at least 0"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said):
        call()
