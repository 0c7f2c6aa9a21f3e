"""Live pictures of lesson 09: readable wherever the sliders stand, and where physics puts them."""

from itertools import product

import numpy as np
import pytest

from lessons.pictures.charts.traces import TIME, swinging_loop
from lessons.pictures.live.drive import hunting as hunting_module
from lessons.pictures.live.drive.dead_band_loop import dead_band_loop, loop
from lessons.pictures.live.drive.hunting import hunting, hunting_words, run_loop
from tests.lessons.pictures.legible import assert_legible
from valvecalc.loop import limit_cycle
from valvecalc.measures import dead_band, loop_width

MAKERS = {"dead_band": dead_band_loop, "hunting": hunting}


def ends_and_middle(live):
    return [(s.value(0), s.start, s.value(s.count - 1)) for s in live._sliders]


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("name", MAKERS)
def test_readable_and_finite_at_the_ends_and_in_the_middle(name, units):
    live = MAKERS[name](units)
    names = [s.name for s in live._sliders]
    for values in product(*ends_and_middle(live)):
        assert_legible(live.figure(units, **dict(zip(names, values, strict=True))), values, sliver=0)
        moved = live._call(dict(zip(names, values, strict=True)), units)
        hidden = {"width"} if name == "dead_band" else set()
        for part, place in moved.items():
            if not isinstance(place, (str, tuple)) and part not in hidden and not part.endswith(("_grid", "_ticks")):
                assert np.isfinite(np.asarray(place, dtype=float)).all(), part


@pytest.mark.parametrize(
    ("friction", "area", "pressure", "share"),
    [
        # 2F/A over the bench set of 0.8 bar, by hand: 2·400/0.032 = 25 000 Pa; 2·256/0.032 = 16 000 Pa; 2·500/0.05
        (400.0, 0.032, "= 0.25 bar of air", 0.3125),
        (256.0, 0.032, "= 0.16 bar of air", 0.2),
        (500.0, 0.05, "= 0.20 bar of air", 0.25),
    ],
)
def test_the_loop_is_as_wide_as_the_dead_band(friction, area, pressure, share):
    live = dead_band_loop()
    moved = live._call({"friction": friction, "area": area, "through": 0.6}, "si")
    assert moved["pressure"] == pressure
    assert moved["bare_gap"] == f"dead band {100 * share:.1f} %"
    signal, travel = moved["bare_loop"].T
    assert float(loop_width(signal, travel)) == pytest.approx(share, abs=0.002)
    (left, _), (right, _) = moved["width"]
    assert right - left == pytest.approx(share)


def test_the_stem_waits_only_while_the_signal_turns_round():
    live = dead_band_loop()
    said = [
        live._call({"friction": 400.0, "area": 0.032, "through": t}, "si")["bare_stem"]
        for t in np.arange(0, 1.005, 0.01)
    ]
    # 31 % of the signal is 0.3125/1.2 of the whole test (0.6 up, 0.6 down), once after each turn.
    waits = sum("waits" in words for words in said) / len(said)
    assert waits == pytest.approx(2 * 0.3125 / 1.2, abs=0.03)


def test_without_friction_the_loop_closes_and_the_flow_settles():
    signal, travel = loop(0.0).T
    assert travel == pytest.approx(signal)
    for name, (_, positioner) in hunting_module.WAYS.items():
        assert hunting_words(run_loop(0.0, 0.8, positioner).flow, name) == "settles"


def test_the_numbers_in_the_lesson():
    """The two swings that the text of lesson 09 tells, and that they hardly change with a finer time step."""
    assert hunting_words(run_loop(400.0, 1.2, 1.0).flow, "bare") == "swings ±7.8 %, once in 17 s"
    assert hunting_words(run_loop(400.0, 0.6, 1.0).flow, "bare") == "swings ±6.9 %, once in 36 s"


def test_more_friction_swings_further_and_less_gain_only_slower():
    def cycle(friction, gain):
        return limit_cycle(hunting_module.TIME, run_loop(friction, gain, 1.0).flow)

    assert cycle(600.0, 0.8).amplitude == pytest.approx(2 * cycle(300.0, 0.8).amplitude, rel=0.1)
    assert cycle(400.0, 0.6).period > 1.8 * cycle(400.0, 1.2).period
    assert cycle(400.0, 0.6).amplitude > 0.8 * cycle(400.0, 1.2).amplitude


def test_the_swing_is_the_same_at_a_finer_time_step(monkeypatch):
    monkeypatch.setattr(hunting_module, "TIME", np.arange(0, 240, 0.05))
    monkeypatch.setattr(hunting_module, "SETPOINT", np.where(hunting_module.TIME < 10, 0.45, 0.50))
    fine = limit_cycle(hunting_module.TIME, run_loop.__wrapped__(400.0, 1.2, 1.0).flow)
    assert (fine.amplitude, fine.period) == (pytest.approx(0.083, rel=0.1), pytest.approx(17, rel=0.1))


@pytest.mark.parametrize(
    ("cause", "size"),
    [("sticky", 0.06), ("sticky", 0.18), ("tuned", 0.98), ("tuned", 1.003), ("setpoint", 0.022), ("setpoint", 0.05)],
)
def test_traces_of_questions_show_their_cause(cause, size):
    """All of them swing; the stem rests only where it sticks, and the set point moves only where it is moved."""
    run = swinging_loop(cause, size, seed=1)
    late = TIME > 60
    assert np.ptp(run.flow[late]) > 0.008
    resting = float(np.mean(np.abs(np.diff(run.travel[late])) < 1e-9))
    assert (resting > 0.5) == (cause == "sticky")
    assert (np.ptp(run.setpoint[late]) > 0) == (cause == "setpoint")
    if cause == "sticky":
        band = float(dead_band(run.output[late], run.travel[late], 0.002))
        assert band > 0.5 * size
