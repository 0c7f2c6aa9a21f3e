"""Stroke and step tests: measures against worked tables, simulator against what was put into it."""

import control
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from valvecalc.actuator import actuator_from_bench_set
from valvecalc.force_balance import travel_at
from valvecalc.packing import dead_band_pressure, signal_dead_band
from valvecalc.step_measures import step_response
from valvecalc.stiction import backlash, backlash_describing_function, stick_and_slip, sticky_travel
from valvecalc.stroke import Faults, simulate_stroke
from valvecalc.stroke_measures import (
    hysteresis,
    inaccuracy,
    linearity,
    measured_error,
    zero_and_span_error,
)
from valvecalc.stroke_signal import ramp_signal, step_signal
from valvecalc.trace_measures import dead_band, friction_and_spring, loop_width, up_down_table

LOW, HIGH = 20e3, 100e3
AREA, TRAVEL = 0.06, 0.04


def valve(action="reverse", low=LOW, high=HIGH):
    """0.06 m², 20 to 100 kPa over 40 mm: 4800 N over the stroke, 120 kN/m."""
    return actuator_from_bench_set(action, AREA, low, high, TRAVEL)


def stroke(faults, action="reverse", duration=600, ends=(-0.2, 1.2), **others):
    """A slow stroke test, well beyond both ends, of a valve with faults."""
    time, signal = ramp_signal(duration, 0.1, *ends)
    return simulate_stroke(time, signal, valve(action), LOW, HIGH, faults, **others)


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


# python-control's backlash element as an oracle, and random walks.
def test_backlash_row():
    assert backlash([0, 1, 2, 3, 2, 1, 0, -1], 2).tolist() == [0, 0, 1, 2, 2, 2, 1, 0]


@given(st.lists(st.floats(-5, 5), min_size=1, max_size=40), st.floats(0.1, 3))
def test_backlash_as_in_the_reference_library(walk, gap):
    oracle = control.friction_backlash_nonlinearity(gap)
    expected = [oracle(value) for value in [0.0, *walk]]
    np.testing.assert_allclose(backlash([0.0, *walk], gap), expected, atol=1e-12)


@pytest.mark.parametrize("amplitude", [1.05, 1.5, 2, 3, 10, 100])
def test_describing_function_as_in_the_reference_library(amplitude):
    expected = control.describing_function(control.friction_backlash_nonlinearity(2), amplitude, num_points=4000)
    assert backlash_describing_function(2, amplitude) == pytest.approx(expected, abs=3e-3)


def test_describing_function_row():
    """python-control 0.10.2 gives 0.708209 - 0.282942j at gap 2, amplitude 3."""
    assert backlash_describing_function(2, 3) == pytest.approx(0.708209 - 0.282942j, abs=1e-5)
    assert backlash_describing_function(2, 0.9) == 0


@given(st.lists(st.floats(-2, 2), min_size=2, max_size=40), st.floats(0.01, 1))
def test_stiction_without_a_jump_is_backlash(walk, band):
    np.testing.assert_allclose(sticky_travel(walk, band), backlash(walk, band), atol=1e-12)


def test_stiction_model():
    """S 0.3, J 0.1: after a reversal 0.3 of signal until it goes, then at once 0.1; the model from memory."""
    signal = np.concatenate([np.linspace(0, 1, 2001), np.linspace(1, 0, 2001)])
    travel = sticky_travel(signal, 0.3, 0.1)
    breaks = np.flatnonzero(np.diff(travel[2001:]) < 0)[0]
    assert 1 - signal[2001:][breaks + 1] == pytest.approx(0.3, abs=1e-3)
    assert -np.diff(travel).min() == pytest.approx(0.1, abs=1e-3)
    assert [float(f) for f in stick_and_slip(0.3, 0.1)] == pytest.approx([0.2, 0.1])
    # J above S overshoots: the stem ends beyond the signal.
    assert sticky_travel([0, 0.3], 0.2, 0.3)[-1] == pytest.approx(0.3 + 0.05)


def test_slow_stroke_of_a_sound_valve_follows_the_force_balance():
    trace = stroke(Faults())
    np.testing.assert_allclose(trace.travel, travel_at(valve(), trace.pressure_gauge), atol=1e-9)
    assert [trace.travel.min(), trace.travel.max()] == [0, 1]


@settings(max_examples=15, deadline=None)
@given(st.sampled_from(["direct", "reverse"]), st.floats(20, 700), st.floats(0, 1e-3), st.integers(0, 99))
def test_friction_and_spring_come_back(action, friction, noise, seed):
    """What goes into the simulator comes out of its trace: F, k = 80 kPa · 0.06 m² / 40 mm = 120 kN/m, bench set."""
    trace = stroke(Faults(friction=friction), action, noise=noise, rng=np.random.default_rng(seed))
    signature = friction_and_spring(trace.pressure_gauge, trace.travel, AREA, TRAVEL)
    assert signature.friction == pytest.approx(friction, abs=5 + 0.01 * friction)
    assert signature.spring_rate == pytest.approx(120e3, rel=0.01)
    assert [signature.bench_low_gauge, signature.bench_high_gauge] == pytest.approx([LOW, HIGH], abs=500)
    width = loop_width(trace.pressure_gauge, trace.travel)
    assert width == pytest.approx(float(dead_band_pressure(friction, AREA)), abs=200)


@settings(max_examples=15, deadline=None)
@given(st.floats(30, 500), st.sampled_from([1.0, 5.0, 20.0]))
def test_dead_band_comes_back(friction, gain):
    """2 F / (A · 80 kPa · gain), between the stops; threshold 0.002 and the lag of 0.5 s at 0.17 %/s come on top."""
    time, signal = ramp_signal(600, 0.1, 0.2, 0.7)
    trace = simulate_stroke(time, signal, valve(), LOW, HIGH, Faults(friction=friction), positioner_gain=gain)
    expected = float(signal_dead_band(friction, AREA, HIGH - LOW, gain))
    assert dead_band(trace.signal, trace.travel) == pytest.approx(expected + 0.002, abs=0.0025)


def test_friction_that_falls_as_the_stem_moves():
    """At rest 240 N, moving 120 N: a turn asks for 360 N, 360 / (0.06 m² · 80 kPa) = 0.075, then jumps 120 / 4800."""
    time, signal = ramp_signal(200, 0.1, 0.2, 0.8)
    trace = simulate_stroke(time, signal, valve(), LOW, HIGH, Faults(friction=240, sliding_ratio=0.5), fill_time=0.01)
    assert dead_band(trace.signal, trace.travel) == pytest.approx(0.075, abs=1e-3)
    assert -np.diff(trace.travel).min() == pytest.approx(120 / 4800, abs=1e-3)
    assert friction_and_spring(trace.pressure_gauge, trace.travel, AREA, TRAVEL).friction == pytest.approx(120, rel=0.01)


@given(st.floats(0.01, 0.2))
def test_dead_band_of_any_trace(gap):
    """No simulator: a triangle through play of known width, three times up and down."""
    signal = 0.5 + 0.3 * np.abs((np.arange(6001) / 1000) % 2 - 1)
    assert dead_band(signal, backlash(signal, gap), 1e-4) == pytest.approx(gap + 1e-4, abs=3e-4)  # one sample
    assert loop_width(signal, backlash(signal, gap)) == pytest.approx(gap, rel=1e-3)


def test_up_and_down_table_of_steps_takes_settled_readings():
    time, signal = step_signal([0, 0.25, 0.5, 0.75, 1, 0.75, 0.5, 0.25, 0], 20, 0.1)
    trace = simulate_stroke(time, signal, valve(), LOW, HIGH, Faults(friction=96))  # F / (k X) = 96 / 4800 = 0.02
    up, down = up_down_table(trace.signal, trace.travel, SIGNAL)
    np.testing.assert_allclose(up, [0, 0.23, 0.48, 0.73, 0.98], atol=1e-6)
    np.testing.assert_allclose(down, [0.02, 0.27, 0.52, 0.77, 0.98], atol=1e-6)


def middle(trace, points=(0.25, 0.5, 0.75)):
    return np.mean(up_down_table(trace.signal, trace.travel, points), axis=0)


def test_each_fault_shows():
    """A calibration fault moves the line by its own formula; the rest is worked beside each row."""
    line = np.array([0.25, 0.5, 0.75])
    np.testing.assert_allclose(middle(stroke(Faults(zero_error=0.03))), line + 0.03, atol=1e-3)
    np.testing.assert_allclose(middle(stroke(Faults(span_error=-0.1))), 0.9 * line, atol=1e-3)
    # A leak of 0.25 leaves 1 / 1.25 of the pressure: at half signal 48 kPa instead of 60, (48 - 20) / 80 = 0.35.
    assert middle(stroke(Faults(air_leak=0.25)))[1] == pytest.approx(0.35, abs=1e-3)
    # With a positioner of gain 20 it costs far less: 20 + 80 h = (20 + 80 (u + 19 (u - h))) / 1.25 at travel h, so
    # 100 h + 1520 h = 1600 u - 5, h = 0.4907 at u = 0.5.
    assert middle(stroke(Faults(air_leak=0.25), positioner_gain=20))[1] == pytest.approx(0.4907, abs=1e-3)
    # Wrong bench set, 30 to 110 kPa: (60 - 30) / 80.
    time, signal = ramp_signal(600, 0.1, -0.2, 1.2)
    wrong = simulate_stroke(time, signal, valve(low=30e3, high=110e3), LOW, HIGH)
    assert middle(wrong)[1] == pytest.approx(0.375, abs=1e-3)
    # Play of 0.04 between stem and plug is the width of the loop in the signal.
    loose = stroke(Faults(backlash_gap=0.04))
    assert loop_width(loose.signal, loose.travel) == pytest.approx(0.04, abs=5e-3)  # lag of the air: 2 · 0.5 s · 0.47 %/s


def test_seats():
    assert stroke(Faults(seat_travel=0.03)).travel.min() == pytest.approx(0.03)
    assert stroke(Faults(seat_travel=-0.02)).travel.min() == pytest.approx(-0.02)
    assert stroke(Faults(seat_travel=0.03), "direct").travel.min() == pytest.approx(0.03)
    # A soft seat rounds the lower corner: at signal -0.1 a free stem would be at -0.1, a tenth of that shows.
    soft = stroke(Faults(seat_softness=0.1))
    assert np.interp(-0.1, soft.signal[:3000], soft.travel[:3000]) == pytest.approx(-0.01, abs=1e-3)
    assert soft.travel[1500] == pytest.approx(stroke(Faults()).travel[1500], abs=1e-9)


def test_step_test_times():
    """A first-order actuator of 2 s behind 1 s of delay: T63 = 1 + 2 · ln(1 / 0.368) = 3.0 s; friction makes it later."""
    time, signal = step_signal([0.5, 0.6], 40, 0.05)
    sound = simulate_stroke(time, signal, valve(), LOW, HIGH, fill_time=2, dead_time=1)
    measured = step_response(sound.time, sound.signal, sound.travel)
    assert [measured.t63, measured.t86] == pytest.approx([2.999, 5.005], abs=0.08)  # one sample and its first-order error
    sticky = simulate_stroke(time, signal, valve(), LOW, HIGH, Faults(friction=144), fill_time=2, dead_time=1)
    late = step_response(sticky.time, sticky.signal, sticky.travel)
    assert late.dead_time > measured.dead_time + 0.3
    assert late.gain == pytest.approx(0.7, abs=0.01)  # 0.1 asked for, F / (k X) = 0.03 kept back


def test_stuck_valve_is_told():
    time, signal = step_signal([0.5, 0.51], 10, 0.1)
    stuck = simulate_stroke(time, signal, valve(), LOW, HIGH, Faults(friction=480))
    with pytest.raises(ValueError, match="does not answer the step; make the step larger than the dead band"):
        step_response(stuck.time, stuck.signal, stuck.travel)


def test_the_same_seed_gives_the_same_test_and_many_valves_run_at_once():
    once, again, other = (stroke(Faults(friction=100), noise=1e-3, rng=np.random.default_rng(s)) for s in (7, 7, 8))
    assert np.array_equal(once.travel, again.travel) and not np.array_equal(once.travel, other.travel)
    many = stroke(Faults(friction=[50, 100, 200], zero_error=[[0.0], [0.02]]))
    assert many.travel.shape == many.pressure_gauge.shape == (2, 3, many.time.size)
    np.testing.assert_array_equal(many.travel[0, 1], stroke(Faults(friction=100)).travel)


@settings(max_examples=25, deadline=None)
@given(
    st.sampled_from(["direct", "reverse"]),
    st.floats(0, 3000),
    st.floats(0, 1),
    st.floats(0, 1),
    st.floats(1, 100),
    st.floats(-2000, 2000),
)
def test_travel_stays_between_the_stops(action, friction, ratio, leak, gain, fluid):
    faults = Faults(friction=friction, sliding_ratio=ratio, air_leak=leak)
    trace = stroke(faults, action, duration=60, fluid_closed=fluid, fluid_open=0.0, positioner_gain=gain)
    assert np.isfinite(trace.travel).all() and np.isfinite(trace.pressure_gauge).all()
    assert trace.travel.min() >= -1e-12 and trace.travel.max() <= 1 + 1e-12


BAD = [
    (lambda: simulate_stroke([0, 1], [0, 1], valve(), LOW, HIGH, Faults(friction=-1)), "friction must be at least 0 N"),
    (lambda: simulate_stroke([0, 0], [0, 1], valve(), LOW, HIGH), "time .* two or more rising values"),
    (lambda: simulate_stroke([0, 1], [0, 1], valve(), HIGH, LOW), "signal range must be above 0 Pa"),
    (lambda: simulate_stroke([0, 1], [0, 1], valve(), LOW, HIGH, noise=0.1), "noise needs a random generator"),
    (lambda: simulate_stroke([0, 1], [0, 1], valve(), LOW, HIGH, positioner_gain=0), "positioner gain must be at least 1"),
    (lambda: linearity([0, 1], [0, 1], "best"), "method must be one of terminal, zero, independent"),
    (lambda: linearity([1, 0], [0, 1]), "signal must be two or more rising points"),
    (lambda: dead_band([0, 1, 2], [0, 1, 2]), "must hold a reversal"),
    (lambda: friction_and_spring([0, 1, 2], [0, 0.5, 1], 1, 1), "must hold a run up|must hold a run down"),
    (lambda: up_down_table([0, 0.5, 1], [0, 0.5, 1], [0.5]), "must hold a run down"),
    (lambda: up_down_table([0, 1, 0], [0, 1, 0], [1.5]), "points must be from 0 to 1"),
    (lambda: step_response([0, 1], [1, 1], [0, 0]), "signal must hold one step"),
    (lambda: ramp_signal(0, 1), "duration must be above 0 s"),
    (lambda: backlash([0, 1], -1), "backlash must be at least 0"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said):
        call()
