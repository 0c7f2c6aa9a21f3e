"""Stroke and step tests: what the simulator shows against what was put into it."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.valvecalc.stepped_signal import read_up_and_down, staircase
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.force_balance import travel_at
from valvecalc.measures import dead_band, friction_and_spring, loop_width, step_response
from valvecalc.packing import dead_band_pressure, signal_dead_band
from valvecalc.stroke import Faults, ramp_signal, simulate_stroke

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
    assert friction_and_spring(trace.pressure_gauge, trace.travel, AREA, TRAVEL).friction == pytest.approx(
        120, rel=0.01
    )


def test_up_and_down_table_of_steps_takes_settled_readings():
    time, signal = staircase([0, 0.25, 0.5, 0.75, 1, 0.75, 0.5, 0.25, 0], 20, 0.1)
    trace = simulate_stroke(time, signal, valve(), LOW, HIGH, Faults(friction=96))  # F / (k X) = 96 / 4800 = 0.02
    up, down = read_up_and_down(trace.signal, trace.travel, SIGNAL)
    np.testing.assert_allclose(up, [0, 0.23, 0.48, 0.73, 0.98], atol=1e-6)
    np.testing.assert_allclose(down, [0.02, 0.27, 0.52, 0.77, 0.98], atol=1e-6)


def middle(trace, points=(0.25, 0.5, 0.75)):
    return np.mean(read_up_and_down(trace.signal, trace.travel, points), axis=0)


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
    assert loop_width(loose.signal, loose.travel) == pytest.approx(
        0.04, abs=5e-3
    )  # lag of the air: 2 · 0.5 s · 0.47 %/s


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
    time, signal = staircase([0.5, 0.6], 40, 0.05)
    sound = simulate_stroke(time, signal, valve(), LOW, HIGH, fill_time=2, dead_time=1)
    measured = step_response(sound.time, sound.signal, sound.travel)
    assert [measured.t63, measured.t86] == pytest.approx(
        [2.999, 5.005], abs=0.08
    )  # one sample and its first-order error
    sticky = simulate_stroke(time, signal, valve(), LOW, HIGH, Faults(friction=144), fill_time=2, dead_time=1)
    late = step_response(sticky.time, sticky.signal, sticky.travel)
    assert late.dead_time > measured.dead_time + 0.3
    assert late.gain == pytest.approx(0.7, abs=0.01)  # 0.1 asked for, F / (k X) = 0.03 kept back


def test_stuck_valve_is_told():
    time, signal = staircase([0.5, 0.51], 10, 0.1)
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
    (
        lambda: simulate_stroke([0, 1], [0, 1], valve(), LOW, HIGH, positioner_gain=0),
        "positioner gain must be at least 1",
    ),
    (lambda: ramp_signal(0, 1), "duration must be above 0 s"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said):
        call()
