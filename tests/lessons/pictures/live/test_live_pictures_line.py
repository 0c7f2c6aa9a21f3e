"""Live pictures of the lessons on papers, body and installing: what they say at known places."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from lessons.notebook.figures import moving_picture
from lessons.pictures.charts.data_sheet import SWAPS, facts_of, plate_of
from lessons.pictures.charts.flow_sheet import NUMBERS, PLACES, numbered
from lessons.pictures.live.work.papers import STEPS
from lessons.refinery import VALVES
from tests.lessons.pictures.legible import assert_legible

ZERO = 273.15
DRIVEN = [tag for tag, valve in VALVES.items() if valve.drive]


def moved(name: str, units: str = "si", **values: float) -> dict[str, object]:
    live = moving_picture(name, units)
    start = {slider.name: slider.start for slider in live._sliders}
    return dict(live._call({**start, **values}, units))


# First letters after ISA-5.1, from memory: F flow, L level, P pressure, T temperature; T, IC, Y, V after them.
@pytest.mark.parametrize(("place", "letter"), [(1, "F"), (2, "L"), (3, "P"), (4, "T")])
def test_tags_follow_what_is_measured(place: int, letter: str) -> None:
    frame = moved("papers", measured=place)
    assert [frame[f"tag_{name}"] for name in ("transmitter", "controller", "converter", "valve")] == [
        f"{letter}{rest}" for rest in ("T", "IC", "Y", "V")
    ]


@pytest.mark.parametrize(("fails", "way", "word"), [(1, 1, "opens"), (2, -1, "shuts")])
def test_the_arrow_points_where_the_valve_goes(fails: int, way: int, word: str) -> None:
    frame = moved("papers", fails=fails, step=6)
    tip, *foot = np.array(frame["arrow"])[:, 1]
    assert np.sign(tip - foot[0]) == way
    assert str(frame["words"]).endswith(word)


def test_every_place_of_the_loop_can_be_read() -> None:
    live = moving_picture("papers", "si")
    for step, measured, fails in itertools.product(range(1, len(STEPS) + 1), range(1, 5), (1, 2)):
        assert_legible(live.figure(step=step, measured=measured, fails=fails), (step, measured, fails))


def test_every_number_on_the_flow_sheet_can_be_read() -> None:
    assert set(NUMBERS) == set(PLACES)
    assert_legible(numbered("F-2107", list(NUMBERS)))


# ASME B16.34, second-hand: at 200 °C carbon steel of class 150 holds 13.8 bar, 316 stainless steel 13.7.
@pytest.mark.parametrize(
    ("metal", "bar", "said"), [(0, 13.5, "✓ enough"), (0, 14, "✗ not enough"), (1, 13.5, "✓ enough")]
)
def test_rating_at_200_degrees(metal: int, bar: float, said: str) -> None:
    frame = moved("rating", metal=metal, pressure=bar * 1e5, temperature=ZERO + 200)
    assert frame["says_150"] == said
    assert frame["holds_150"] == f"may hold {[13.8, 13.7][metal]} bar"


# By hand, as in the tests of `bolting`: M16, K 0.2047 at friction 0.16, so 160 N·m give 160/(0.2047·0.016) = 48.85 kN.
def test_load_of_the_bolt() -> None:
    frame = moved("bolt_up")
    assert "load 48.8 kN" in str(frame["said"]) or "load 48.9 kN" in str(frame["said"])
    assert str(frame["said"]).endswith("near what is wanted")


@pytest.mark.parametrize(
    ("friction", "torque", "verdict"), [(0.06, 250, "for good!"), (0.10, 160, "too much"), (0.24, 160, "too little")]
)
def test_the_same_torque_gives_another_load(friction: float, torque: float, verdict: str) -> None:
    assert str(moved("bolt_up", friction=friction, torque=torque)["said"]).endswith(verdict)


def test_shares_of_the_torque_make_the_whole() -> None:
    frame = moved("bolt_up", friction=0.12)
    ends = [np.array(frame[name])[:, 0] for name in ("stretching", "thread", "nut face")]
    assert ends[0].min() == 0
    assert ends[0].max() == pytest.approx(ends[1].min())
    assert ends[1].max() == pytest.approx(ends[2].min())
    assert ends[2].max() == pytest.approx(1.0)


def test_insulation_takes_the_packing_over_its_limit() -> None:
    """TM 5-810-15, table 8-3: PTFE to 232 °C. Bare it is well below, wrapped to the top as hot as the fluid."""
    assert moved("insulation")["verdict"] == "✓ below the limit"
    whole = moved("insulation", covered=1.0)
    assert (whole["verdict"], whole["packing"]) == ("✗ too hot for PTFE", "packing 280 °C")


@pytest.mark.parametrize("tag", DRIVEN)
@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("field", SWAPS)
def test_a_swapped_field_differs_and_no_other(tag: str, units: str, field: str) -> None:
    sheet, plate = facts_of(tag, units), plate_of(tag, units, [field])
    assert [name for name in sheet._fields if getattr(sheet, name) != getattr(plate, name)] == [field]
