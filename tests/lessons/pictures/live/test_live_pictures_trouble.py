"""Live picture and charts of lesson 13: faults show where physics puts them, keys agree with the charts."""

from types import SimpleNamespace

import numpy as np
import pytest

from grading.workorders.work import trouble as graded
from lessons.pictures.charts.fault_charts import recorded, stroke
from lessons.pictures.live.work.as_found_trace import as_found_stroke
from lessons.practice.work import trouble
from lessons.questions.question import pose_variant
from valvecalc.measures import friction_and_spring, loop_width

LOW, HIGH, AREA = 0.2e5, 1.0e5, 0.032


def test_friction_opens_both_charts_as_wide_as_statics_says():
    # 2·250/0.032 = 15 625 Pa of air; over 80 000 Pa 19.5 % of the signal
    run = as_found_stroke(250.0, 0.0, 0.0)
    assert float(loop_width(run.pressure_gauge, run.travel)) == pytest.approx(15625, rel=0.01)
    assert float(loop_width(run.signal, run.travel)) == pytest.approx(0.1953, rel=0.01)


@pytest.mark.parametrize(("leak", "zero"), [(0.2, 0.0), (0.0, -0.08), (0.0, 0.05), (0.3, 0.1)])
def test_what_lies_before_the_air_leaves_chart_b_on_its_line(leak, zero):
    """Bench set read off the chart is the nameplate's whatever the converter and the tubing do."""
    run = as_found_stroke(50.0, leak, zero)
    read = friction_and_spring(run.pressure_gauge, run.travel, AREA, 0.02)
    assert float(read.bench_low_gauge) == pytest.approx(LOW, abs=300)
    assert float(read.bench_high_gauge) == pytest.approx(HIGH, abs=300)


def middle(run, signal):
    """Travel half-way between up and down at a signal."""
    half = run.signal.size // 2
    up = np.interp(signal, run.signal[: half + 1], run.travel[: half + 1])
    down = np.interp(signal, run.signal[half:][::-1], run.travel[half:][::-1])
    return float(up + down) / 2


def test_a_leak_flattens_chart_a_and_a_zero_shift_does_not():
    leaky, shifted = as_found_stroke(50.0, 0.25, 0.0), as_found_stroke(50.0, 0.0, -0.08)
    # (0.2 + 0.8 s)/1.25, less 0.2, over 0.8: at 30 % 0.19, at 70 % 0.51
    assert [middle(leaky, s) for s in (0.3, 0.7)] == pytest.approx([0.19, 0.51], abs=0.005)
    assert [middle(shifted, s) - s for s in (0.3, 0.7)] == pytest.approx([-0.08, -0.08], abs=0.005)


def test_the_two_valves_of_the_trouble_stop_at_the_same_travel():
    """77 %: a leak of a fifth on one; on the other a bench set 0.165 bar too high."""
    leak = stroke(LOW, HIGH, AREA, friction=50.0, air_leak=0.2)
    spring = stroke(LOW, HIGH, AREA, 0.165e5, friction=50.0)
    assert [round(100 * run.travel.max()) for run in (leak, spring)] == [77, 77]


def test_the_worked_friction_is_what_the_picture_shows():
    run = as_found_stroke(250.0, 0.0, 0.0)
    half = run.signal.size // 2
    up = np.interp(0.5, run.travel[: half + 1], run.pressure_gauge[: half + 1])
    down = np.interp(0.5, run.travel[half:][::-1], run.pressure_gauge[half:][::-1])
    assert (up, down) == (pytest.approx(0.678e5, abs=200), pytest.approx(0.522e5, abs=200))


@pytest.mark.parametrize("variant", [*trouble.DIAGNOSE.variants, *graded.DIAGNOSE.variants], ids=lambda v: v["fault"])
def test_each_fault_shows_where_the_answers_say(variant):
    """Loop in A, loop in B, B beside its line, level bottom, A off by the same or by more and more."""
    n = SimpleNamespace(**variant)
    valve_stem, actuator_stem = recorded(n)
    loop_a = float(loop_width(valve_stem.signal, valve_stem.travel)) > 0.08
    loop_b = float(loop_width(actuator_stem.pressure_gauge, actuator_stem.travel)) / (HIGH - LOW) > 0.08
    read = friction_and_spring(actuator_stem.pressure_gauge, actuator_stem.travel, AREA, 0.02)
    moved = abs(float(read.bench_low_gauge) - LOW) / (HIGH - LOW) > 0.08
    off = [middle(valve_stem, signal) - signal for signal in (0.3, 0.7)]
    found = {
        "friction": loop_a and loop_b,
        "play": loop_a and not loop_b,
        "bench": moved and not loop_a,
        "seat": not loop_a and max(map(abs, off)) < 0.02 and valve_stem.travel.min() > 0.07,
        "leak": not moved and off[1] < off[0] - 0.04,
        "zero": not moved and abs(off[1] - off[0]) < 0.02 and abs(off[0]) > 0.05,
    }
    assert [fault for fault, fits in found.items() if fits] == [n.fault]


@pytest.mark.parametrize("question", [trouble.FRICTION, graded.FRICTION], ids=lambda q: q.id)
def test_the_drawn_loop_gives_the_friction_of_the_key(question):
    """Measured on the recording as drawn, noise and all: within the tolerance that an eye gets."""
    for index in range(len(question.variants)):
        n = pose_variant(question, index).numbers
        run = recorded(n)[1]
        width = float(loop_width(run.pressure_gauge, run.travel))
        assert n.area * width / 2 == pytest.approx(question.key(n), rel=question.tolerance / 4)


@pytest.mark.parametrize("question", [trouble.BENCH, graded.SHIFT], ids=lambda q: q.id)
def test_the_middle_line_gives_the_bench_set_of_the_key(question):
    for index in range(len(question.variants)):
        n = pose_variant(question, index).numbers
        run = recorded(n)[1]
        start = float(friction_and_spring(run.pressure_gauge, run.travel, n.area, 0.02).bench_low_gauge)
        answer = start - (n.low if question.id == "trouble.w3" else 0.0)
        assert answer == pytest.approx(question.key(n), rel=question.tolerance / 4)
