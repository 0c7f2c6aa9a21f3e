"""Live pictures and question charts of lesson 10: readable everywhere, and where physics puts them."""

from itertools import product
from types import SimpleNamespace

import numpy as np
import pytest

from lessons.notebook import bank
from lessons.pictures.charts.as_found import step_figure
from lessons.pictures.charts.five_points import FAULTS, SIGNALS, faulty
from lessons.pictures.live.drive.signal_step import TIME, measured, signal_step, step_trace
from lessons.pictures.live.drive.stroke_points import stroke_points, travels_at
from tests.lessons.pictures.legible import assert_legible
from tests.lessons.pictures.live.test_live_pictures_friction import ends_and_middle
from tests.valvecalc.stepped_signal import read_up_and_down, staircase
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.stroke import Faults, simulate_stroke

MAKERS = {"stroke_points": stroke_points, "signal_step": signal_step}


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", MAKERS)
def test_readable_and_finite_at_the_ends_and_in_the_middle(name, units):
    live = MAKERS[name](units)
    names = [s.name for s in live._sliders]
    for values in product(*ends_and_middle(live)):
        chosen = dict(zip(names, values, strict=True))
        assert_legible(live.figure(units, **chosen), chosen, sliver=0)
        # Marks of times that a trace has not are hidden (nan); all else is finite.
        places = {part: p for part, p in live._call(chosen, units).items() if not isinstance(p, (str, tuple))}
        for part, place in places.items():
            if not part.endswith(("_mark", "_dot")):
                assert np.isfinite(np.asarray(place, dtype=float)).all(), part


def test_five_points_agree_with_a_simulated_stroke():
    """The picture's formula against a valve simulated with the same faults, between its stops."""
    zero, span, dead_band = 0.0, 0.02, 0.01
    up, down = travels_at(zero, span, dead_band)
    valve = actuator_from_bench_set("reverse", 0.05, 20e3, 100e3, 0.04)
    friction = dead_band / 2 * 0.05 * 80e3  # 2F/(A span), turned round
    levels = np.concatenate([SIGNALS[::-1], SIGNALS[1:], SIGNALS[-2::-1]])
    time, signal = staircase(levels, 10, 0.1)
    faults = Faults(friction=friction, zero_error=0.03 + zero + 0.25 * span, span_error=-0.05 + span)
    run = simulate_stroke(time, signal, valve, 20e3, 100e3, faults, fill_time=0.5)
    later = time >= 40
    simulated = read_up_and_down(signal[later], run.travel[later], SIGNALS)
    assert simulated[0] == pytest.approx(up, abs=5e-4)
    assert simulated[1] == pytest.approx(down, abs=5e-4)


@pytest.mark.parametrize(
    ("zero", "span", "dead_band", "verdict"),
    [
        # zero 3 − 4.25 + 5/4 = 0, span −5 + 5 = 0; then dead band 0.6 leaves ±0.3, 2.0 just ±1, 2.2 is ±1.1
        (-0.0425, 0.05, 0.006, "inside ±1 %: note as left"),
        (-0.0425, 0.05, 0.02, "inside ±1 %: note as left"),
        (-0.0425, 0.05, 0.022, "outside ±1 %"),
        (0.0, 0.0, 0.006, "outside ±1 %"),
        (-0.03, 0.0, 0.006, "outside ±1 %"),
    ],
)
def test_the_screws_bring_it_in_but_not_the_dead_band(zero, span, dead_band, verdict):
    moved = stroke_points()._call({"zero": zero, "span": span, "dead_band": dead_band}, "si")
    assert moved["verdict"] == verdict


def test_the_picture_starts_at_three_per_cent_open():
    """As the trouble tells: 3 % open at the shut end, and half the dead band on top coming down."""
    up, _ = travels_at(0.0, 0.0, 0.006)
    assert up[0] == pytest.approx(0.03 + 0.003)


def test_step_times_without_friction_are_those_of_a_first_order_lag():
    """Td + τ and Td + 2.0025 τ, τ the filling time over the positioner gain; by hand: 0.2 + 0.8, 0.2 + 1.602."""
    found = measured(step_trace(0.0, 8.0, 0.05))
    assert found.t63 == pytest.approx(1.0, abs=0.06)
    assert found.t86 == pytest.approx(1.802, abs=0.06)
    assert found.gain == pytest.approx(1.0, abs=0.002)


def test_the_numbers_in_the_lesson():
    """Twice the friction: about twice the dead time, the rise after it as before."""
    once, twice = (measured(step_trace(friction, 8.0, 0.10)) for friction in (250.0, 500.0))
    told = [round(x, 2) for x in (once.dead_time, once.t86, twice.dead_time, twice.t86)]
    assert told == [1.26, 2.92, 2.56, 4.22]
    assert twice.t86 - twice.dead_time == pytest.approx(once.t86 - once.dead_time, rel=0.02)


def test_no_answer_to_a_step_below_the_dead_band():
    # 2·800/(0.048·80 000·10) = 4.2 % of the signal with a positioner of gain 10
    assert measured(step_trace(800.0, 8.0, 0.04)) is None
    assert measured(step_trace(800.0, 8.0, 0.06)) is not None
    assert TIME[0] < 0 < TIME[-1]


@pytest.mark.parametrize(("fault", "size"), [(f, s) for f in FAULTS for s in (0.026, -0.032, 0.038)])
def test_each_fault_shows_as_its_own_shape(fault, size):
    up, down = faulty(fault, size, seed=3)
    error, apart = (up + down) / 2 - SIGNALS, down - up
    first, middle, last = error[0], error[2], error[4]
    shape = {
        "zero": abs(first - size) < 0.003 and abs(last - size) < 0.003,
        "span": abs(first) < 0.003 and abs(last - size) < 0.003,
        "friction": abs(apart.min() - abs(size)) < 0.004,
        "linkage": abs(first) < 0.003 and abs(last) < 0.003 and abs(middle - size) < 0.003,
    }
    assert [name for name, fits in shape.items() if fits] == [fault]


def test_questions_name_the_faults_that_are_drawn():
    for question_id in ("stroke.faults", "stroke.w3"):
        assert {option.name for option in bank.question(question_id).options} == set(FAULTS)


def test_the_drawn_step_reaches_its_t86_where_the_key_says():
    """By hand: Td 0.5, τ 1.0; at 0.5 + 2.0025 = 2.5 s the change is 86.5 % done."""
    figure = step_figure(SimpleNamespace(dead=0.5, constant=1.0, base=0.4, step=0.1, seed=1), "si")
    time, travel = figure.axes[0].lines[1].get_data()
    assert float(np.interp(2.5, time, travel)) == pytest.approx(0.4 + 0.0865, abs=0.001)
