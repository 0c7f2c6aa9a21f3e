"""Figures of readings and recordings, against worked tables and traces of known shape."""

import control
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.measures import (
    dead_band,
    friction_and_spring,
    hysteresis,
    inaccuracy,
    linearity,
    loop_width,
    measured_error,
    step_response,
    zero_and_span_error,
)
from valvecalc.stiction import backlash

# An invented table of readings, each figure worked by hand. Definitions of
# the figures after IEC 61298-2: inaccuracy second-hand, the others from memory.
SIGNAL = np.array([0, 0.25, 0.5, 0.75, 1])
UP = np.array([0.0, 24.2, 49.1, 74.3, 99.6]) / 100
DOWN = np.array([0.8, 26.0, 51.3, 75.9, 100.0]) / 100
AVERAGE = (UP + DOWN) / 2


def test_figures_of_the_worked_table():
    assert inaccuracy(SIGNAL, UP, DOWN) == pytest.approx([0.013, -0.009])  # 51.3 - 50 and 49.1 - 50
    assert hysteresis(UP, DOWN) == pytest.approx(0.022)  # 51.3 - 49.1
    assert hysteresis(UP, DOWN, 0.01) == pytest.approx(0.012)
    assert measured_error(SIGNAL, UP, DOWN) == pytest.approx(0.004)  # (0 + 0.8) / 2 at 0
    assert zero_and_span_error(SIGNAL, AVERAGE) == pytest.approx([0.004, -0.006])  # 0.4; 99.8 - 0.4 - 100


# Averages 0.4, 25.1, 50.2, 75.1, 99.8 %. Terminal: line 0.4 + 0.994 x leaves 0, -0.15, 0.1, 0.15, 0. Independent: line
# 0.3 + 0.996 x leaves 0.1, -0.1, 0.1, 0.1, -0.1, and no line does better against five such turns. Zero-based, from
# (0, 0.4) with slope m: 24.7 - 25 m at 25 % and 74.7 - 75 m at 75 % pull apart, equal in size at m = 99.4 / 100.
LINES = [("terminal", 0.0015, 0.004, 0.994), ("independent", 0.0010, 0.003, 0.996), ("zero", 0.0015, 0.004, 0.994)]


@pytest.mark.parametrize(("method", "deviation", "zero", "slope"), LINES)
def test_linearity_of_the_worked_table(method, deviation, zero, slope):
    line = linearity(SIGNAL, AVERAGE, method)
    assert [line.deviation, line.zero, line.slope] == pytest.approx([deviation, zero, slope], abs=1e-9)


def test_linearity_where_the_three_differ():
    """y = 0, 0.5, 0.5 at x = 0, 1, 2: terminal 0.25 x, off by 0.25; zero-based m: 0.5 - m = 2 m - 0.5, m 1/3, off 1/6;
    independent: slope 0.25, the middle point shared half and half, 0.125."""
    lines = {m: linearity([0, 1, 2], [0, 0.5, 0.5], m) for m in ("terminal", "zero", "independent")}
    assert lines["terminal"].deviation == pytest.approx(0.25)
    assert [lines["zero"].deviation, lines["zero"].slope] == pytest.approx([1 / 6, 1 / 3])
    assert [lines["independent"].deviation, lines["independent"].zero] == pytest.approx([0.125, 0.125])


CURVE = st.lists(st.floats(-1, 2), min_size=3, max_size=9)


@given(CURVE, st.floats(-0.2, 0.2), st.floats(0.5, 2))
def test_independent_is_never_worse_and_a_straight_line_is_straight(travel, zero, slope):
    points = np.linspace(0, 1, len(travel))
    best = linearity(points, travel, "independent").deviation
    assert best <= linearity(points, travel, "zero").deviation + 1e-9
    assert linearity(points, travel, "zero").deviation <= linearity(points, travel, "terminal").deviation + 1e-9
    # No line of a fine fan does better than the one found.
    slopes = np.linspace(-30, 30, 4001)[:, None]
    spread = np.ptp(np.asarray(travel) - slopes * points, axis=1) / 2
    assert best <= spread.min() + 1e-9
    straight = linearity(points, zero + slope * points)
    assert [straight.deviation, straight.zero, straight.slope] == pytest.approx([0, zero, slope], abs=1e-9)


def test_many_tables_at_once():
    both = linearity(SIGNAL, np.stack([AVERAGE, SIGNAL]))
    assert both.deviation == pytest.approx([0.001, 0], abs=1e-9)


# First order with dead time: 1 - exp(-(t - Td) / τ). Td 0.3 s, τ 1.2 s: T63 = 0.3 + 1.2 · ln(1 / 0.368) = 1.4996,
# T86 = 0.3 + 1.2 · ln(1 / 0.135) = 2.7030, and 1 % of the change is reached 1.2 · 0.01005 s after Td.
def test_step_response_of_a_first_order_lag():
    time = np.arange(-2, 30, 0.01)
    travel = 0.5 + 0.1 * np.where(time > 0.3, -np.expm1(-(time - 0.3) / 1.2), 0.0)
    measured = step_response(time, np.where(time >= -1e-9, 0.6, 0.5), travel)
    assert measured.dead_time == pytest.approx(0.312, abs=0.005)
    assert [measured.t63, measured.t86] == pytest.approx([1.4996, 2.7030], abs=2e-3)
    assert [measured.overshoot, measured.gain] == pytest.approx([0, 1], abs=1e-6)


def test_overshoot_of_a_second_order_lag():
    """Damping 0.5: overshoot exp(-π 0.5 / √0.75) = 16.3 %, textbook; T63 and T86 read off a computed response."""
    time = np.arange(0, 60, 0.01)
    _, answer = control.step_response(control.tf([1], [1, 1, 1]), time)
    signal, travel = np.r_[0, np.ones(time.size)], np.r_[0, answer]
    measured = step_response(np.r_[-0.01, time], signal, travel)
    assert measured.overshoot == pytest.approx(np.exp(-np.pi * 0.5 / np.sqrt(0.75)), rel=2e-3)
    assert [measured.t63, measured.t86] == pytest.approx(
        [time[np.argmax(answer >= 0.632)], time[np.argmax(answer >= 0.865)]], abs=0.01
    )


@given(st.floats(0.01, 0.2))
def test_dead_band_of_any_trace(gap):
    """No simulator: a triangle through play of known width, three times up and down."""
    signal = 0.5 + 0.3 * np.abs((np.arange(6001) / 1000) % 2 - 1)
    assert dead_band(signal, backlash(signal, gap), 1e-4) == pytest.approx(gap + 1e-4, abs=3e-4)  # one sample
    assert loop_width(signal, backlash(signal, gap)) == pytest.approx(gap, rel=1e-3)


BAD = [
    (lambda: linearity([0, 1], [0, 1], "best"), "method must be one of terminal, zero, independent"),
    (lambda: linearity([1, 0], [0, 1]), "signal must be two or more rising points"),
    (lambda: dead_band([0, 1, 2], [0, 1, 2]), "must hold a reversal"),
    (lambda: friction_and_spring([0, 1, 2], [0, 0.5, 1], 1, 1), "must hold a run up|must hold a run down"),
    (lambda: step_response([0, 1], [1, 1], [0, 0]), "signal must hold one step"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said):
        call()
