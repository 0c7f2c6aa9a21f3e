"""Live picture of lesson 03: letters to be read at every end of the sliders, and areas worked by hand."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from matplotlib.text import Text

from lessons.notebook.figures import moving_picture
from lessons.pictures.cutaways.trim.trim_row import trim_row
from lessons.pictures.live.valve.cage_window import free_share, widths, window_name
from tests.lessons.pictures.legible import assert_legible
from valvecalc.characteristic import equal_percentage

ENDS = list(itertools.product((-1.0, -0.5, 0.0, 0.5, 1.0, 1.5, 2.0), (0.0, 0.5, 1.0)))


@pytest.mark.parametrize("units", ["si", "us"])
def test_letters_can_be_read_at_every_end_of_the_sliders(units: str) -> None:
    live = moving_picture("cage_window", units)
    for shape, travel in ENDS:
        assert_legible(live.figure(units, shape=shape, travel=travel), (shape, travel), sliver=0)


@pytest.mark.parametrize(("shape", "travel"), ENDS)
def test_coordinates_are_finite_and_on_the_drawing(shape: float, travel: float) -> None:
    live = moving_picture("cage_window", "si")
    moved = live._move(shape=shape, travel=travel)
    cage = live.figure(shape=shape, travel=travel).axes[0]
    for name in ("window", "open", "rod"):
        points = np.asarray(moved[name], float)
        assert np.isfinite(points).all()
        assert (np.abs(points[:, 0]) <= cage.get_xlim()[1]).all()
        assert points[:, 1].max() <= cage.get_ylim()[1]
    assert np.abs(np.asarray(moved["window"])[:, 0]).max() < 2.3, "the window stays within the cage"


@pytest.mark.parametrize(
    ("shape", "travel", "free"),
    [
        (0.0, 0.3, 0.3),  # rectangle: in proportion
        (1.0, 0.5, 0.25),  # V: half as wide and half as high
        (1.0, 0.8, 0.64),
        (-1.0, 0.5, 0.75),  # the V on its head: 1 − 0.5²
        (-0.5, 0.5, 0.625),  # half way between 0.5 and 0.75
        (2.0, 0.5, 0.123899),  # (√50 − 1)/49
    ],
)
def test_free_area_by_hand(shape: float, travel: float, free: float) -> None:
    assert float(free_share(shape, travel)) == pytest.approx(free, rel=1e-3)


def test_every_window_has_the_same_area_and_the_trumpet_is_equal_percentage() -> None:
    heights = np.linspace(0, 1, 61)
    for shape, _ in ENDS:
        assert np.trapezoid(widths(shape), heights) == pytest.approx(1, rel=1e-3)
    travel = np.linspace(0.3, 1, 8)
    # Without its foot it runs at most 1/50 below the ideal curve.
    assert np.abs(free_share(2.0, travel) - equal_percentage(travel, 50)).max() < 0.02


def test_shapes_have_names() -> None:
    said = [window_name(s) for s in (-1.0, -0.4, 0.0, 0.5, 1.0, 1.95, 2.0)]
    assert said == [
        "triangle, wide below",
        "between triangle and rectangle",
        "rectangle",
        "between rectangle and V",
        "V",
        "between V and trumpet",
        "trumpet",
    ]


@pytest.mark.parametrize("what", ["window", "plug"])
def test_a_row_for_questions_has_numbers_and_no_names(what: str) -> None:
    figure = trim_row(what, ("equal percentage", "linear", "quick opening"))
    said = [t.get_text() for t in figure.findobj(Text) if t.get_text().strip()]
    assert sorted(s for s in said if s.isdigit()) == ["1", "2", "3"]
    assert not [s for s in said if "linear" in s or "percentage" in s or "opening" in s]
    for artist in (*figure.axes[0].lines, *figure.axes[0].patches):
        points = artist.get_transform().transform_path(artist.get_path()).vertices
        assert (points >= -0.5).all()
        assert (points <= np.asarray(figure.bbox.max) + 0.5).all()
