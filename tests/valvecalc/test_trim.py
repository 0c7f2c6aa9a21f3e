"""Trim shapes against areas worked by hand, and both ways against each other."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.characteristic import equal_percentage, equal_percentage_slope, linear, linear_slope
from valvecalc.installed import installed_flow
from valvecalc.trim import drilled_area, phi_from_area, plug_area, plug_contour, width_for_slope, window_area

MM2 = 1e-6
PI = np.pi

# Lengths in metres, areas in mm2; geometry worked by hand.
AREAS = [
    # got, expected, working
    (window_area(0.01, [0, 0.02], [0.03, 0.03]), 300, "rectangle 30 wide, 10 open"),
    (window_area(0.05, [0, 0.02], [0.03, 0.03]), 600, "rectangle 30 x 20, lifted beyond"),
    (window_area(0.01, [0, 0.02], [0, 0.04]), 100, "V of 40 at 20: 20 wide at 10, 20 x 10 / 2"),
    (window_area(0.02, [0, 0.02], [0.01, 0.03]), 400, "trapezium (10 + 30) / 2 x 20"),
    (window_area(0.015, [0, 0.01, 0.02], [0.004, 0.004, 0.02]), 80, "40 + (4 + 12) / 2 x 5"),
    (drilled_area(0.01, [0.01], 0.02, 1), 50 * PI, "half a circle of diameter 20"),
    (
        drilled_area(0.005, [0.01], 0.02, 1),
        100 * (PI / 3 - np.sqrt(3) / 4),
        "segment of 60 degrees either side, radius 10",
    ),
    (drilled_area(0.015, [0.01], 0.02, 1), 100 * (PI - PI / 3 + np.sqrt(3) / 4), "the rest of the circle"),
    (drilled_area(0.02, [0.005, 0.015], 0.01, [4, 6]), 250 * PI, "10 holes of 10, all open"),
    (drilled_area(0.015, [0.005, 0.015], 0.01, [4, 6]), 175 * PI, "first row open, second half"),
    (drilled_area(0.02, [0.005, 0.015], [0.01, 0.006], 2), 68 * PI, "2 x 25 pi and 2 x 9 pi"),
]


@pytest.mark.parametrize(("got", "expected", "working"), AREAS)
def test_areas(got, expected, working):
    assert got / MM2 == pytest.approx(expected, rel=1e-9), working


def test_rectangle_is_linear_and_v_is_parabolic():
    travel = np.linspace(0, 1, 21)
    rectangle = window_area(0.02 * travel, [0, 0.02], [0.03, 0.03])
    v = window_area(0.02 * travel, [0, 0.02], [0, 0.03])
    np.testing.assert_allclose(phi_from_area(rectangle, rectangle[-1]), linear(travel), atol=1e-12)
    np.testing.assert_allclose(phi_from_area(v, v[-1]), travel**2, atol=1e-12)


@pytest.mark.parametrize(
    ("slope", "curve"),
    [
        (linear_slope, linear),
        (lambda h: equal_percentage_slope(h, 50, toe=0.02), lambda h: equal_percentage(h, 50, toe=0.02)),
    ],
)
def test_the_window_cut_for_a_characteristic_gives_it(slope, curve):
    travel, stroke, full = np.linspace(0, 1, 1001), 0.04, 0.002
    width = width_for_slope(slope(travel), full, stroke)
    area = window_area(stroke * travel, stroke * travel, width)
    # Straight edges 0.04 mm apart, and the corner of the toe counted to one step: 1e-3 of 0.002 m2 is ample.
    np.testing.assert_allclose(area / full, curve(travel), atol=5e-4)


@given(st.lists(st.floats(0, 0.1), min_size=2, max_size=10), st.lists(st.floats(0, 0.1), min_size=2, max_size=9))
def test_open_area_never_falls_with_lift(lifts, widths):
    lift, heights = np.sort(lifts), 0.01 * np.arange(len(widths))
    for area in (
        window_area(lift, heights, widths),
        drilled_area(lift, [0.01, 0.02, 0.03], 0.008, [2, 4, 8]),
    ):
        assert (np.diff(area) >= -1e-18).all()
        assert area.min() >= 0


@given(st.floats(0.0001, 0.003))
def test_a_flat_disc_opens_a_curtain(lift):
    # Curtain 2 pi R lift, R = 20 mm; the smallest cone leans inwards by a little: 0.3 % at a lift of R/7.
    area = plug_area(lift, 0.02, [0, 0], [0.02, 0])
    assert area == pytest.approx(2 * PI * 0.02 * lift, rel=0.004)


def test_a_plug_far_out_of_its_seat_leaves_the_bore():
    assert plug_area(1.0, 0.02, [0, 0.02], [0.02, 0.0]) == pytest.approx(PI * 0.02**2)
    assert plug_area(0.0, 0.02, [0, 0.02], [0.02, 0.0]) == 0


def test_a_cone_against_its_smallest_frustum():
    # 45 degree cone, lift 1 mm, R = 20 mm. The shortest way from the edge to the cone is 0.70711 mm, square to
    # the cone, and ends at the radius 19.5: pi x 39.5 x 0.70711 = 87.747 mm2. A little further in the girth is
    # less: the area falls as (1 - u/39.5) sqrt(1 + 4 u^2), least at u = 0.0063, lower by 0.008 %: 87.740.
    assert plug_area(0.001, 0.02, [0, 0.02], [0.02, 0.0]) / MM2 == pytest.approx(87.740, abs=1e-3)


@pytest.mark.parametrize("curve", [linear, lambda h: equal_percentage(h, 50, toe=0.02)])
@pytest.mark.parametrize("part", [0.3, 0.6])
def test_the_plug_turned_for_a_characteristic_gives_it(curve, part):
    travel, stroke, bore = np.linspace(0, 1, 201), 0.06, 0.02
    wanted = part * PI * bore**2 * curve(travel)
    radius = plug_contour(stroke * travel, bore, stroke * travel, wanted)
    area = plug_area(stroke * travel, bore, stroke * travel, radius)
    # 201 depths joined by straight lines: within 1 % (seen 0.6 %).
    np.testing.assert_allclose(area, wanted, rtol=0.01)
    assert (np.diff(radius) <= 1e-9).all(), "a plug tapers towards its tip"


def test_a_plug_cannot_open_faster_than_a_curtain():
    lift = np.linspace(0, 0.005, 101)  # half the bore in 5 mm on the last tenths of an equal percentage
    wanted = 0.9 * PI * 0.02**2 * equal_percentage(lift / 0.005, 50)
    area = plug_area(lift, 0.02, lift, plug_contour(lift, 0.02, lift, wanted))
    assert (area[1:] >= 0.97 * wanted[1:]).all()
    assert area[50] > 2 * wanted[50]


def test_a_body_in_series_is_like_a_pipe():
    # Body takes half the drop at full opening; half the area: 1/sqrt(1/2 + (1/2) / 0.25) = 0.632456 by hand.
    assert installed_flow(phi_from_area(0.001, 0.002), 1 - 0.5) == pytest.approx(0.632456, rel=1e-6)


def test_everything_broadcasts():
    assert drilled_area(np.zeros((3, 2)), [0.01, 0.02], 0.01, 4).shape == (3, 2)
    assert plug_area(np.zeros((3, 2)), 0.02, [0, 0.02], [0.02, 0]).shape == (3, 2)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: window_area(-1, [0, 1], [1, 1]), "lift must be at least 0 m, but got -1."),
        (lambda: window_area(1, [0.1, 1], [1, 1]), "the first window_height must be from 0 to 0 m, but got 0.1."),
        (
            lambda: drilled_area(1, [0.001], 0.01, 3),
            "height of the lower edge of a row must be at least 0 m, but got -0.004.",
        ),
        (
            lambda: phi_from_area(2, 1),
            "area over area_full must be from 0 to 1 (a fraction or ratio), but got 2.",
        ),
        (lambda: plug_area(0, 0.02, [0, 1], [0.03, 0]), "plug_radius must be from 0 to 0.02 m, but got 0.03."),
    ],
)
def test_refusals(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence
