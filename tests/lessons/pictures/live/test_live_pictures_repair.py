"""Live picture and drawings of lesson 12: in balance, and as the lesson tells them."""

from types import SimpleNamespace

import numpy as np
import pytest
from matplotlib.patches import Wedge

from lessons.pictures.charts import bench
from lessons.pictures.charts.bolted_cover import GASKET_POINTS, STUD_ARMS, STUDS, tightened, turn_nut
from lessons.pictures.live.work.bolting import bolting


@pytest.mark.parametrize("crosswise", [False, True])
@pytest.mark.parametrize("rounds", [1, 2, 3, 4])
def test_studs_and_gasket_are_in_balance_after_every_nut(crosswise, rounds):
    """Statics: the studs pull as hard as the gasket pushes, about both axes too."""
    around = 2 * np.pi * np.arange(GASKET_POINTS) / GASKET_POINTS
    gasket = np.column_stack([np.ones(GASKET_POINTS), 0.8 * np.sin(around), 0.8 * np.cos(around)])
    for turn in tightened(crosswise, rounds):
        pulled, pushed = STUD_ARMS.T @ turn.studs, gasket.T @ turn.gasket * STUDS / GASKET_POINTS
        assert pulled == pytest.approx(pushed, abs=1e-9)
        assert turn.stud < 0 or turn.studs[turn.stud] >= turn.level - 1e-9


def test_one_nut_by_hand():
    """All studs at 1, nut 1 raised by δ: neighbours lose 0.2169 δ, the opposite stud gains 0.1146 δ.

    K = diag(16, 6.56, 6.56) with all eight studs (8 + 8; 4 + 8·0.8²/2). Between studs an angle α apart
    1/16 + cos α/6.56: 0.21494 for the stud itself, 0.17029 at 45°, −0.08994 at 180°; all over 1 − 0.21494, as
    nut 1 is held by the wrench.
    """
    sunk, nuts = turn_nut(0, 1.1, np.array([1.0, 0.0, 0.0]), np.full(STUDS, 2.0))
    change = (nuts - STUD_ARMS @ sunk - 1) / 0.1
    near, far = -0.17029 / 0.78506, 0.08994 / 0.78506
    assert change[[0, 1, 4, 7]] == pytest.approx([1, near, far, near], abs=1e-4)


def test_a_stud_that_has_its_load_is_left_alone():
    sunk, nuts = np.array([1.0, 0.0, 0.0]), np.full(STUDS, 2.0)
    again = turn_nut(3, 0.9, sunk, nuts)
    assert again[0] is sunk
    assert again[1] is nuts


@pytest.mark.parametrize(
    ("crosswise", "rounds", "least", "most", "uneven"),
    [(False, 1, 60, 100, 95), (True, 3, 72, 107, 26), (True, 4, 94, 102, 26)],
)
def test_the_numbers_in_the_lesson(crosswise, rounds, least, most, uneven):
    """What lesson 12 tells of its picture."""
    turns = tightened(crosswise, rounds)
    studs = turns[-1].studs
    assert (round(100 * studs.min()), round(100 * studs.max())) == (least, most)
    assert round(100 * max(np.ptp(turn.gasket) for turn in turns)) == uneven


def test_the_first_nut_ends_lowest_as_the_lesson_predicts():
    assert int(np.argmin(tightened(False, 1)[-1].studs)) == 0


def test_the_band_of_a_good_seat_is_whole_and_narrower_than_its_face():
    """A good, continuous contact (NAVFAC MO-209); a lapped-out one covers the face, a broken one leaves an arc free."""

    def band(right, gap=0.0):
        figure = bench.blue_figure(SimpleNamespace(right=right, at=0, gap=gap), "si")
        return next(patch for patch in figure.axes[0].patches if isinstance(patch, Wedge))

    face = 1.0 - 0.64
    assert band("good").theta2 - band("good").theta1 == pytest.approx(360)
    assert band("good").width < 0.5 * face
    assert band("wide").width > 0.9 * face
    assert band("gap", 50).theta2 - band("gap", 50).theta1 == pytest.approx(310)


def test_the_bars_are_the_loads_of_the_studs():
    moved = bolting()._call({"done": 1.0, "crosswise": 1.0, "rounds": 4.0}, "si")
    tops = [moved[f"bar_{k}"][2][1] for k in range(STUDS)]
    assert tops == pytest.approx(tightened(True, 4)[-1].studs)
    assert moved["round"] == "round 4 of 4: nut 8 to 100 %"
