"""The flow loop and its measures: against python-control, hand estimates of the limit cycle, and invariants."""

import control
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from valvecalc.loop import gain_margin, limit_cycle, simulate_loop

STRAIGHT = ([0, 1], [0, 1])
TIME = np.arange(0, 300, 0.1)
STEP = 0.5 + 0.1 * (TIME > 5)
TUNED = {"proportional_gain": 0.4, "reset_time": 2.0, "lag": 1.0, "dead_time": 0.5, "fill_time": 0.5}


def run(setpoint=STEP, curve=STRAIGHT, time=TIME, **changes):
    return simulate_loop(time, setpoint, *curve, **{**TUNED, **changes})


def response(w, gain, kc, reset, lag, delay, fill):
    """Frequency response of the open loop, written out once more, from its transfer function."""
    s = 1j * w
    return gain * kc * (1 + 1 / (reset * s)) * np.exp(-delay * s) / ((lag * s + 1) * (fill * s + 1))


LOOPS = [(1, 0.4, 2, 1, 0.5, 0.5), (2, 0.8, 3, 5, 1, 0.2), (0.5, 1, 1, 0.5, 2, 0.0), (3, 0.1, 0.2, 8, 0.3, 1)]


@pytest.mark.parametrize("loop", LOOPS)
def test_gain_margin_as_in_the_reference_library(loop):
    gain, kc, reset, lag, delay, fill = loop
    process = control.tf([gain], np.polymul([lag, 1], [fill, 1])) * control.tf(*control.pade(delay, 8))
    expected = control.margin(process * control.tf([kc * reset, kc], [reset, 0]))[0]
    assert gain_margin(*loop) == pytest.approx(expected, rel=1e-5)


def test_gain_margin_by_hand():
    """Reset time equal to the lag leaves K Kc e^(-θs) / (T s): phase -π at ω = π / (2 θ), margin π T / (2 θ K Kc)."""
    assert gain_margin(1.5, 0.4, 4.0, 4.0, 2.0, 0.0) == pytest.approx(np.pi * 4 / (2 * 2 * 1.5 * 0.4), rel=1e-9)


def test_margin_across_the_range():
    """Margin goes as one over the installed gain: equal percentage without pipework, R 50, is 50 times as steep open."""
    travel = np.linspace(0, 1, 5)
    margin = gain_margin(np.log(50) * 50 ** (travel - 1), *(TUNED[k] for k in TUNED))
    np.testing.assert_allclose(margin[0] / margin, 50**travel, rtol=1e-9)


@settings(max_examples=12, deadline=None)
@given(st.floats(0.3, 3), st.floats(0.8, 4), st.floats(0.4, 1.5), st.sampled_from([0.6, 1.6]))
def test_the_margin_tells_whether_the_loop_settles(lag, reset, delay, factor):
    """Small step round half flow, so that no limit is met: gain below the margin dies away, above it grows."""
    ultimate = float(gain_margin(1, 1, reset, lag, delay, 0.5))
    time = np.arange(0, 400, 0.05)
    small = 0.5 + 1e-6 * (time > 1)
    trace = run(small, time=time, lag=lag, reset_time=reset, dead_time=delay, proportional_gain=factor * ultimate).flow
    late, early = np.ptp(trace[-2000:]), np.ptp(trace[:2000])
    assert late < 0.2 * early if factor < 1 else late > 5 * np.ptp(trace[20:100])


def test_settles_on_the_set_point_without_friction():
    trace = run()
    assert trace.flow[-1] == pytest.approx(0.6, abs=1e-6)
    assert not limit_cycle(trace.time, trace.flow).cycling
    # Started settled: nothing moves before the step.
    np.testing.assert_allclose(trace.flow[:50], 0.5, atol=1e-12)


def test_without_integral_action_half_of_the_error_stays():
    """Kc 1 on a straight curve: change of flow = 1 · (0.1 - change), 0.05; nothing moves before the dead time is over."""
    time = np.arange(0, 60, 0.01)
    trace = run(0.5 + 0.1 * (time >= 1), time=time, proportional_gain=1.0, reset_time=1e6, fill_time=1e-3)
    assert trace.flow[-1] == pytest.approx(0.55, abs=1e-3)
    moved = trace.flow - 0.5
    assert time[np.argmax(moved > 1e-6)] == pytest.approx(1 + 0.5, abs=0.03)


@pytest.mark.parametrize(("gain", "reset"), [(0.4, 2.0), (0.4, 1.0), (1.0, 1.0), (0.2, 0.3)])
def test_stiction_and_integral_action_hunt(gain, reset):
    """A jump and an integral: it cannot rest. Without the jump, or without friction, the same loop settles."""
    tuned = {"proportional_gain": gain, "reset_time": reset}
    sticky = limit_cycle(TIME, run(stick_band=0.05, slip_jump=0.02, **tuned).output)
    assert sticky.cycling and sticky.amplitude > 0.05 / 2  # the output must cross the stick band
    assert not limit_cycle(TIME, run(**tuned).flow).cycling
    assert not limit_cycle(TIME, run(stick_band=0.05, **tuned).flow).cycling
    helped = run(stick_band=0.05, slip_jump=0.02, positioner_gain=20, **tuned)
    assert not limit_cycle(TIME, helped.flow).cycling


@pytest.mark.parametrize("reset", [4.0, 8.0, 16.0])
def test_period_and_amplitude_of_a_slow_hunt(reset):
    """Slow against the process the flow is a square wave J high, e1 over and e2 under the set point.

    Each half cycle the output has to ramp the band S, less the Kc J of its own jump, at Kc e / Ti:
    T = (S - Kc J) (Ti / Kc) (1 / e1 + 1 / e2), plus about twice the lags of 2 s.
    For S 0.05, J 0.02, Kc 0.4, Ti 4 and e1 = e2 = 0.01: 0.042 · 10 · 200 + 4 = 88 s.
    """
    time = np.arange(0, 2500, 0.1)
    trace = run(0.5 + 0.1 * (time > 5), time=time, reset_time=reset, stick_band=0.05, slip_jump=0.02)
    cycle = limit_cycle(time, trace.flow)
    late = trace.flow[time.size // 2 :] - 0.6
    over, under = np.median(late[late > 0]), -np.median(late[late < 0])
    assert [cycle.amplitude, (over + under) / 2] == pytest.approx([0.01, 0.01], rel=0.1)
    assert cycle.period == pytest.approx(0.042 * reset / 0.4 * (1 / over + 1 / under) + 4, rel=0.06)


def backlash_describing_function(gap, amplitude):
    """First Fourier coefficients of the play for a sine, worked by hand; k = 1 - gap / amplitude."""
    k = np.maximum(1 - gap / amplitude, -1.0)
    return ((np.pi / 2 + np.arcsin(k) + k * np.sqrt(1 - k**2)) - 1j * (1 - k**2)) / np.pi


@pytest.mark.parametrize("amplitude", [1.05, 1.5, 2, 3, 10, 100])
def test_describing_function_as_in_the_reference_library(amplitude):
    expected = control.describing_function(control.friction_backlash_nonlinearity(2), amplitude, num_points=4000)
    assert backlash_describing_function(2, amplitude) == pytest.approx(expected, abs=3e-3)


def describing_function_cycle(gap, loop):
    """Amplitude into the play and ω where N(A) L(jω) = -1, by a fine search on a grid; None where there is none."""
    amplitudes = gap / 2 * np.geomspace(1.0005, 60, 1500)[:, None]
    w = np.geomspace(0.01, 5, 3000)
    off = np.abs(backlash_describing_function(gap, amplitudes) * response(w, *loop) + 1)
    i, k = np.unravel_index(off.argmin(), off.shape)
    return (float(amplitudes[i, 0]), float(w[k])) if off[i, k] < 0.01 else None


# Backlash hunts only where the loop is nearly a double integrator: reset time short against the lag. Gain margin
# above 1 in both, so without play they settle. Describing functions are good to about a fifth here: the lag filters.
@pytest.mark.parametrize("loop", [(1, 4.0, 4.0, 30.0, 0.6, 0.2), (1, 3.0, 3.0, 30.0, 0.6, 0.2)])
def test_backlash_hunt_as_the_describing_function_says(loop):
    predicted = describing_function_cycle(0.02, loop)
    assert predicted is not None and gain_margin(*loop) > 1.5
    _, kc, reset, lag, delay, fill = loop
    time = np.arange(0, 1500, 0.05)
    tuned = {"proportional_gain": kc, "reset_time": reset, "lag": lag, "dead_time": delay, "fill_time": fill}
    trace = run(0.5 + 0.01 * (time > 5), time=time, stick_band=0.02, **tuned)
    cycle = limit_cycle(time, trace.output)
    assert cycle.cycling
    assert cycle.period == pytest.approx(2 * np.pi / predicted[1], rel=0.2)
    assert cycle.amplitude == pytest.approx(predicted[0], rel=0.25)
    assert not limit_cycle(time, run(0.5 + 0.01 * (time > 5), time=time, **tuned).flow).cycling


def test_where_no_cycle_is_predicted_play_does_no_harm():
    loop = tuple(TUNED[k] for k in TUNED)
    assert describing_function_cycle(0.05, (1, *loop)) is None
    assert not limit_cycle(TIME, run(stick_band=0.05).flow).cycling


@given(st.floats(2, 40), st.floats(0.01, 0.4), st.floats(0.2, 0.6), st.integers(0, 99))
@settings(max_examples=40, deadline=None)
def test_limit_cycle_of_any_trace(period, amplitude, centre, seed):
    """No simulator: a sine, a triangle, with noise of a fiftieth."""
    time = np.arange(0, 400, 0.1)
    noise = amplitude / 50 * np.random.default_rng(seed).standard_normal(time.size)
    for shape in (np.sin(2 * np.pi * time / period), 4 * np.abs((time / period) % 1 - 0.5) - 1):
        found = limit_cycle(time, centre + amplitude * shape + noise)
        assert found.cycling
        assert found.period == pytest.approx(period, rel=0.02)
        assert found.amplitude == pytest.approx(amplitude, rel=0.12)
    assert not limit_cycle(time, centre + 1e-4 * noise / amplitude).cycling
    for fade in (60, 190):  # down to 4 % and to 35 % over the second half
        dying = centre + amplitude * np.exp(-time / fade) * np.sin(2 * np.pi * time / min(period, 20))
        assert not limit_cycle(time, dying).cycling


def test_noise_is_seeded_and_parameter_sets_run_at_once():
    rng = np.random.default_rng
    once, again = (run(noise=0.002, rng=rng(3)).flow for _ in range(2))
    assert np.array_equal(once, again) and not np.array_equal(once, run(noise=0.002, rng=rng(4)).flow)
    many = run(proportional_gain=np.array([[0.2], [0.4]]), stick_band=[0.0, 0.02, 0.04])
    assert many.flow.shape == (2, 3, TIME.size)
    np.testing.assert_array_equal(many.travel[1, 0], run().travel)


@settings(max_examples=20, deadline=None)
@given(st.floats(0, 50), st.floats(0.05, 20), st.floats(0, 0.3), st.floats(0, 0.4), st.floats(1, 100))
def test_nothing_leaves_its_range(gain, reset, band, jump, positioner):
    time = np.arange(0, 60, 0.1)
    trace = run(
        0.2 + 0.7 * (time > 5),
        time=time,
        proportional_gain=gain,
        reset_time=reset,
        stick_band=band,
        slip_jump=jump,
        positioner_gain=positioner,
    )
    for part in (trace.flow, trace.output, trace.travel):
        assert np.isfinite(part).all() and part.min() >= -1e-12 and part.max() <= 1 + 1e-12


BAD = [
    (lambda: run(reset_time=0), "reset time must be .*0.001.* s, but got 0"),
    (lambda: run(positioner_gain=0.5), "positioner gain must be .*1.*, but got 0.5"),
    (lambda: run(STEP * 100), "set point must be from 0 to 1"),
    (lambda: run(time=np.sort(np.random.default_rng(1).random(3000))), "time .* equal steps"),
    (lambda: run(curve=([0, 0.5], [0, 1])), "installed curve must be as many travels as flows"),
    (lambda: run(curve=([0, 1], [1, 0])), "installed curve must rise"),
    (lambda: run(noise=0.1), "noise needs a random generator"),
    (lambda: run(slip_jump=-1), "slip jump must be .*0.*, but got -1"),
    (lambda: gain_margin(1, 1, 1, 1, 0, 1), "dead time must be above 0 s"),
    (lambda: limit_cycle([0, 1], [0, 1]), "time and trace must be one axis"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said):
        call()
