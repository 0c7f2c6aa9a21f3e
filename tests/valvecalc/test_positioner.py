"""The digital positioner's own numbers: by hand."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.positioner import alarm_time, real_travel, reported_travel, terminal_voltage


# real travel, ends found, reported: (h − h0)/(h1 − h0)
@pytest.mark.parametrize(("real", "low", "high", "reported"), [
    (0.08, 0.08, 1.0, 0.0), (1.0, 0.08, 1.0, 1.0), (0.54, 0.08, 1.0, 0.5), (0.25, 0.0, 0.5, 0.5), (0.0, 0.08, 1.0, -0.086957),
])  # fmt: skip
def test_ends_as_they_were_found(real, low, high, reported):
    assert float(reported_travel(real, low, high)) == pytest.approx(reported, abs=1e-6)
    assert float(real_travel(reported, low, high)) == pytest.approx(real, abs=1e-6)


@given(st.floats(-0.1, 1.1), st.floats(-0.2, 0.4), st.floats(0.5, 1.2))
def test_there_and_back(travel, low, high):
    assert float(real_travel(reported_travel(travel, low, high), low, high)) == pytest.approx(travel, abs=1e-9)


CLOCK = np.arange(0, 30.5, 0.5)


@pytest.mark.parametrize(
    ("gone", "back", "allowed", "dwell", "comes"),
    [
        (10, 99, 0.05, 5.0, 15.0),  # off from 10 s on, allowed 5 s
        (10, 14, 0.05, 5.0, math.inf),  # back after 4 s
        (10, 99, 0.25, 5.0, math.inf),  # 20 % off, 25 % allowed
        (10, 99, 0.05, 0.0, 10.0),
    ],
)
def test_alarm(gone, back, allowed, dwell, comes):
    travel = np.where((gone <= CLOCK) & (back > CLOCK), 0.3, 0.5)
    assert alarm_time(CLOCK, np.full(CLOCK.size, 0.5), travel, allowed, dwell) == comes


def test_a_break_starts_the_clock_anew():
    travel = np.where((CLOCK >= 5) & (CLOCK != 9), 0.3, 0.5)
    assert alarm_time(CLOCK, np.full(CLOCK.size, 0.5), travel, 0.05, 5.0) == 14.5


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
        (lambda: alarm_time([0, 1], [0, 0], [0], 0.1, 1), "as long as each other"),
        (lambda: alarm_time([0, 0], [0, 0], [0, 0], 0.1, 1), "times must rise"),
        (lambda: alarm_time([0], [0], [0], 0, 1), "deviation allowed must be"),
        (lambda: terminal_voltage(24, 20, 100), "current must be from 0 to 0.024 A"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(call, says):
    with pytest.raises(ValueError, match=says):
        call()
