"""The digital positioner's own numbers: by hand."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.positioner import real_travel, reported_travel, terminal_voltage


# real travel, ends found, reported: (h − h0)/(h1 − h0)
@pytest.mark.parametrize(
    ("real", "low", "high", "reported"),
    [
        (0.08, 0.08, 1.0, 0.0),
        (1.0, 0.08, 1.0, 1.0),
        (0.54, 0.08, 1.0, 0.5),
        (0.25, 0.0, 0.5, 0.5),
        (0.0, 0.08, 1.0, -0.086957),
    ],
)
def test_ends_as_they_were_found(real, low, high, reported):
    assert float(reported_travel(real, low, high)) == pytest.approx(reported, abs=1e-6)
    assert float(real_travel(reported, low, high)) == pytest.approx(real, abs=1e-6)


@given(st.floats(-0.1, 1.1), st.floats(-0.2, 0.4), st.floats(0.5, 1.2))
def test_there_and_back(travel, low, high):
    assert float(real_travel(reported_travel(travel, low, high), low, high)) == pytest.approx(travel, abs=1e-9)


# Ohm's law: 24 − 0.020·550 = 13; 24 − 0.004·550 = 21.8
@pytest.mark.parametrize(
    ("volts", "amps", "ohms", "left"), [(24, 0.020, 550, 13.0), (24, 0.004, 550, 21.8), (24, 0, 900, 24)]
)
def test_voltage(volts, amps, ohms, left):
    assert float(terminal_voltage(volts, amps, ohms)) == pytest.approx(left)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: reported_travel(0.5, 1.0, 0.0), "distance between the ends must be"),
        (lambda: terminal_voltage(24, 20, 100), "current must be from 0 to 0.024 A"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(call, says):
    with pytest.raises(ValueError, match=says):
        call()
