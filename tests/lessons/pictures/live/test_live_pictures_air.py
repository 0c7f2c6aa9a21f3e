"""Live pictures of the lessons on air and on the digital positioner: what they show is what their lessons say."""

import numpy as np
import pytest

from grading.workorders.drive.smart import TRACE
from lessons.pictures.charts.digital_traces import faulty_stroke
from lessons.pictures.live.drive.air_stroke import ATMOSPHERE, filling, moves_and_arrives, venting
from lessons.pictures.live.drive.auto_calibration import ALLOWED, LEFT_AS, digital_stroke, landing, rubbing
from lessons.practice.drive.smart import ALARM
from lessons.questions.question import pose_variant
from valvecalc.air import CRITICAL_RATIO


# bore [mm], supply [bar], moves after [s], open after [s]: as the lesson tells them
@pytest.mark.parametrize(
    ("bore", "supply", "stirs", "arrives"), [(1.5, 2, 4.5, 13.9), (1.5, 3, 7.4, 16.8), (3, 2, 1.1, 3.5)]
)
def test_a_trip_takes_as_long_as_the_lesson_says(bore, supply, stirs, arrives):
    assert moves_and_arrives(venting(bore * 1e-3, supply * 1e5)) == pytest.approx((stirs, arrives), abs=0.05)


def test_more_supply_fills_sooner_and_empties_later():
    assert [round(moves_and_arrives(filling(2e-3, p * 1e5))[1], 1) for p in (2, 3)] == [2.9, 2.2]
    assert moves_and_arrives(venting(2e-3, 3e5))[1] > moves_and_arrives(venting(2e-3, 2e5))[1]


def test_it_stirs_when_the_worked_example_says():
    """0.26 bar·2 L/(198.6 m/s·3.14 mm²·3.013 bar) = 0.276 s; the stem starts at 0.2 bar and 400 N/640 cm² = 0.0625 bar."""
    run = filling(2e-3, 2e5)
    assert float(np.interp(0.26e5, run.pressure_gauge, run.time)) == pytest.approx(0.276, rel=0.01)
    assert float(run.pressure_gauge[np.flatnonzero(run.travel < 1)[0] - 1]) == pytest.approx(0.2625e5)


@pytest.mark.parametrize("run", [venting(1.5e-3, 2e5), filling(2e-3, 2e5)], ids=["out", "in"])
def test_choked_ends_at_the_critical_ratio(run):
    limit = ATMOSPHERE / CRITICAL_RATIO if run.travel[0] == 0 else CRITICAL_RATIO * (2e5 + ATMOSPHERE)
    last = run.pressure_gauge[np.flatnonzero(run.choked)[-1]] + ATMOSPHERE
    assert last == pytest.approx(limit, abs=2.1e5 / 100)


def test_too_little_air_never_closes_it():
    """At 0.9 bar the air cannot close a valve whose bench set ends at 1.0 bar."""
    assert moves_and_arrives(filling(2e-3, 0.9e5))[1] == np.inf


def off(run):
    return float(np.max(np.abs(run.reported - run.signal)))


def test_scale_shows_until_it_is_calibrated_away():
    """8 % of scale: before, 8 % off at the shut end and an alarm; afterwards none, while the plug still stands at 8 %."""
    before, after = digital_stroke(250.0, 0.08, False), digital_stroke(250.0, 0.08, True)
    assert before.reported.min() == pytest.approx(0.08, abs=0.002)
    assert after.reported.min() == pytest.approx(0.0, abs=0.002)
    assert before.travel.min() == after.travel.min() == pytest.approx(0.08, abs=0.002)
    assert off(before) > ALLOWED > off(after)


@pytest.mark.parametrize("calibrated", [False, True])
@pytest.mark.parametrize(("scale", "friction"), [(0.0, 250.0), (0.08, 250.0), (0.12, 900.0)])
def test_chart_b_tells_scale_and_friction_all_the_same(scale, friction, calibrated):
    """LV-6120: bench set 0.6 to 1.4 bar, so it lands at 0.6 + 0.8·scale; loop width 2F/A with 450 cm²."""
    run = digital_stroke(friction, scale, calibrated)
    assert landing(run) == pytest.approx((0.6 + 0.8 * scale) * 1e5, abs=1000)
    assert rubbing(run) == pytest.approx(friction, rel=0.02)


@pytest.mark.parametrize("variant", TRACE.variants, ids=lambda v: f"{v['fault']} {v['size']:g}")
def test_each_fault_shows_where_the_answers_say(variant):
    """B wide; B off at the shut end only; A level at the top with B on its line; B off by the same at both ends."""
    run = faulty_stroke(variant["fault"], variant["size"])
    top = int(np.argmax(run.signal))
    points = np.array([0.1, 0.3])
    up = np.interp(points, run.reported[: top + 1], run.pressure_gauge[: top + 1])
    down = np.interp(points, run.reported[top:][::-1], run.pressure_gauge[top:][::-1])
    line = (up + down) / 2 - (LEFT_AS[0] + points * (LEFT_AS[1] - LEFT_AS[0]))
    ends = np.polyfit(points, line, 1) @ np.array([[0.0, 1.0], [1.0, 1.0]])
    found = {
        "friction": float((up - down).mean()) > 0.3e5,
        "scale": abs(ends[0]) > 4e3 and abs(ends[1]) < 1.5e3,
        "supply": run.reported.max() < 0.9 and np.abs(line).max() < 1.5e3,
        "bench": np.abs(ends).min() > 8e3,
    }
    assert [fault for fault, fits in found.items() if fits] == [variant["fault"]]


def test_the_alarm_comes_when_the_key_says():
    """A stuck stem, a signal that rises steadily: the key of the question against the alarm itself."""
    for index in range(len(ALARM.variants)):
        n = pose_variant(ALARM, index).numbers
        time = np.arange(0, 200, 0.05)
        off = n.step / n.time * time > n.allowed
        comes = time[off & (time >= time[off][0] + n.delay)][0]  # off without a break for as long as is allowed
        assert comes == pytest.approx(ALARM.key(n), abs=0.15)
