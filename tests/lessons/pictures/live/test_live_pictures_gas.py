"""Live pictures of lessons 19 and 20: what they say, worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from lessons.notebook.figures import moving_picture
from lessons.pictures.cutaways.actuators.voting import shut_by
from lessons.pictures.cutaways.catalogue import PICTURES
from lessons.pictures.live.flow.small_jets import noise_of, open_area
from lessons.pictures.live.work.ready_or_not import saw
from valvecalc.on_demand import YEAR


def test_choked_steam_by_hand() -> None:
    """9 bar, xT 0.75, γ 1.30: x_choked 0.69643, so 9·0.30357 = 2.732 bar. At 4.5 bar Y = 1 − 0.5/2.08929 = 0.76068.

    ρ = 9e5·0.018015/(0.944·8.31446·463.15) = 4.4602; 52·0.76068·√(999.1·4.5·4.4602) = 5601 kg/h.
    """
    moved = moving_picture("gas_outlet", "si")._move(p2=4.5e5, xt=0.75, units="si")
    assert moved["flow"] == "flow 5601 kg/h"
    assert moved["x"] == "x = 0.50, Y = 0.76"
    assert moved["limit"] == "chokes at 2.7 bar and below"
    assert moved["verdict"] == "not choked yet"
    # 1.5558 kg/s of 2.2301 kg/m³ through 7854 mm²: 88.8 m/s; c = √(1.3·9e5/4.4602) = 512.2.
    assert moved["speed"] == "leaves at 89 m/s"
    assert moved["mach"] == "Mach 0.17"


def test_choked_steam_flows_no_more_but_faster() -> None:
    move = moving_picture("gas_outlet", "si")._move
    one, other = (move(p2=p2, xt=0.75, units="si") for p2 in (2.6e5, 1.3e5))
    speeds = [float(np.asarray(each["mach_dot"])[0, 1]) for each in (one, other)]
    assert one["flow"] == other["flow"]
    assert one["verdict"] == other["verdict"] == "choked: the flow rises no more"
    assert speeds[1] == pytest.approx(2 * speeds[0])


def test_holes_share_one_area_and_their_sound_rises_with_their_number() -> None:
    """4k² holes of 27/k mm: always 4·572.555 mm²; twice the rows, half the jet, twice the frequency; the level falls."""
    assert [open_area(k) for k in (1, 4, 10)] == pytest.approx([4 * 572.555e-6] * 3, rel=1e-5)
    few, twice = noise_of(2, 4.5e5), noise_of(4, 4.5e5)
    assert float(twice.jet.frequency / few.jet.frequency) == pytest.approx(2)
    levels = [float(noise_of(k, 4.5e5).level) for k in range(1, 11)]
    assert np.all(np.diff(levels) < 0)


@pytest.mark.parametrize(
    ("proof", "strokes", "coverage", "says", "level"),
    [
        (2, 0, 0.6, "on average 2.00 %", "range of SIL 1"),  # 2/50/2
        (2, 4, 0.6, "on average 0.95 %", "range of SIL 2"),  # (0.6·0.25 + 0.4·2)/100
        (1, 1, 0.6, "on average 1.00 %", "range of SIL 1"),  # a partial stroke at the proof test adds nothing
        (0.5, 12, 0.9, "on average 0.12 %", "range of SIL 2"),  # (0.9/12 + 0.1·0.5)/100 = 0.125 %
    ],
)
def test_mean_by_hand(proof: float, strokes: int, coverage: float, says: str, level: str) -> None:
    moved = moving_picture("ready_or_not", "si")._move(proof=proof * YEAR, strokes=strokes, coverage=coverage)
    assert (moved["says"], moved["level"]) == (says, level)


def test_saw_falls_to_nothing_at_each_proof_test_only() -> None:
    corners = saw(2 * YEAR, 4, 0.6)
    zeros = corners[corners[:, 1] < 1e-6][:, 0] / YEAR
    assert zeros == pytest.approx([0, 2, 4, 6, 8], abs=1e-4)
    assert corners[:, 1].max() == pytest.approx(1 - np.exp(-(0.6 * 0.25 + 0.4 * 2) / 50), rel=1e-4)


def test_load_left_by_hand() -> None:
    """Stud 205e9·58e-6/0.080 = 148.6 N/µm, six discs 2 N/µm: together 1.9734; 0.5 mm take 987 N of 3000."""
    moved = moving_picture("live_loading", "si")._move(settled=0.5e-3, discs=6, units="si")
    assert moved["force"] == "2013 N on each stud"
    assert moved["bare"] == "nuts alone: 0 % left"
    assert moved["gone"] == "their load is gone after 0.02 mm"


@pytest.mark.parametrize(
    ("vented", "shut"),
    [
        ("", []),
        ("A", ["one", "any of two"]),
        ("B", ["any of two"]),
        ("AB", ["one", "any of two", "both of two", "two of three"]),
        ("BC", ["any of two", "two of three"]),
    ],
)
def test_who_shuts_the_valve_by_counting(vented: str, shut: list[str]) -> None:
    assert shut_by(vented) == shut


def test_voting_says_which_drawings_shut() -> None:
    said = [PICTURES["solenoid_voting"].move(place)["readout"] for place in (0.0, 0.3, 0.6, 1.0)]
    assert said == [
        "vented: none. Shut: none",
        "vented: A. Shut: 1, 3",
        "vented: A and B. Shut: 1, 2, 3, 4",
        "vented: A, B and C. Shut: 1, 2, 3, 4",
    ]
