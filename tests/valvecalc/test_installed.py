"""The installed curve at constant total pressure, against values worked by hand from the pressure balance."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.characteristic import equal_percentage, equal_percentage_slope, linear, linear_slope, quick_opening
from valvecalc.installed import (
    distance_from_straight,
    installed_distance,
    installed_flow,
    installed_gain,
    straightest,
    valve_drop_share,
)

RATIOS = [1, 0.5, 1 / 3, 0.25, 0.2, 0.1, 0.05]

# 100 q/q_max by travel for each ratio: 100 / sqrt((1 - a) + a / Phi^2), worked by hand; the derivation is
# outlined in open process-control textbooks. Linear with Phi = h: a = 0.5, h = 0.5 is 100 / sqrt(0.5 + 2).
LINEAR = {
    0.1: [10, 14.0720, 17.1499, 19.7066, 21.9265, 30.2891, 40.9960],
    0.2: [20, 27.7350, 33.3333, 37.7964, 41.5227, 54.2326, 67.4200],
    0.3: [30, 40.6371, 47.8345, 53.2414, 57.5224, 70.5151, 81.4989],
    0.5: [50, 63.2456, 70.7107, 75.5929, 79.0569, 87.7058, 93.2505],
    0.7: [70, 81.0998, 86.1640, 89.0799, 90.9782, 95.1699, 97.4953],
    0.9: [90, 94.6059, 96.3058, 97.1909, 97.7338, 98.8474, 99.4187],
}
EQUAL_PERCENTAGE_50 = {
    0.1: [2.95752, 4.18073, 5.11809, 5.90729, 6.60167, 9.31589, 13.1179],
    0.2: [4.37345, 6.17908, 7.56059, 8.72191, 9.74213, 13.7125, 19.2127],
    0.3: [6.46727, 9.12703, 11.1551, 12.8541, 14.3418, 20.0769, 27.8375],
    0.5: [14.1421, 19.8030, 24.0192, 27.4721, 30.4290, 41.1693, 53.8382],
    0.7: [30.9249, 41.7822, 49.0755, 54.5212, 58.8105, 71.6917, 82.3996],
    0.9: [67.6243, 79.2214, 84.6493, 87.8180, 89.8990, 94.5472, 97.1590],
}


@pytest.mark.parametrize(("travel", "percent"), LINEAR.items())
def test_linear_valve_in_a_line(travel, percent):
    np.testing.assert_allclose(100 * installed_flow(linear(travel), RATIOS), percent, rtol=1e-5)


@pytest.mark.parametrize(("travel", "percent"), EQUAL_PERCENTAGE_50.items())
def test_equal_percentage_valve_in_a_line(travel, percent):
    np.testing.assert_allclose(100 * installed_flow(equal_percentage(travel, 50), RATIOS), percent, rtol=1e-5)


# Largest over smallest installed gain at h = 0.1, 0.2 ... 1: a Phi' / ((1 - a) Phi^2 + a)^1.5, worked by hand.
@pytest.mark.parametrize(
    ("ratio", "of_linear", "of_equal_percentage"),
    [(1, 1, 33.8122), (0.5, 2.78652, 13.0143), (0.25, 7.65304, 7.47741), (0.1, 27.7882, 4.34892)],
)
def test_gain_spread(ratio, of_linear, of_equal_percentage):
    travel = np.arange(1, 11) / 10
    gain = installed_gain(linear(travel), linear_slope(travel), ratio)
    assert gain.max() / gain.min() == pytest.approx(of_linear, rel=1e-5)
    gain = installed_gain(equal_percentage(travel, 50), equal_percentage_slope(travel, 50), ratio)
    assert gain.max() / gain.min() == pytest.approx(of_equal_percentage, rel=1e-5)


def test_largest_gain_of_equal_percentage():
    # Between the tenths it peaks where Phi^2 = a / (2 (1 - a)), at ln R (2/3)^1.5 / sqrt(2 (1 - a)):
    # a = 0.5, R = 50: 3.91202 x 0.544331 = 2.12943, worked by hand.
    travel = np.linspace(0.5, 1, 50_001)
    gain = installed_gain(equal_percentage(travel, 50), equal_percentage_slope(travel, 50), 0.5)
    assert gain.max() == pytest.approx(2.12943, rel=3e-6)


# sqrt((1 - a) + a R^2) is what is left of the inherent rangeability, worked by hand.
@pytest.mark.parametrize(
    ("rangeability", "expected"),
    [
        (20, [14.1598, 10.0374, 6.39531, 4.57712]),
        (30, [21.2250, 15.0250, 9.53415, 6.77864]),
        (50, [35.3624, 25.0150, 15.8398, 11.2227]),
        (100, [70.7142, 50.0075, 31.6370, 22.3819]),
    ],
)
def test_rangeability_left_by_the_line(rangeability, expected):
    ratios = [0.5, 0.25, 0.1, 0.05]
    found = 1 / installed_flow(1 / rangeability, ratios)
    np.testing.assert_allclose(found, expected, rtol=1e-5)
    # A trade magazine puts 50:1 at a = 0.1 at "about 10:1": the formula does not bear that out.
    assert np.all(found >= rangeability * np.sqrt(ratios))


# rms, largest distance from q = h; integrals worked on a fine grid by hand.
@pytest.mark.parametrize(
    ("ratio", "name", "rms", "largest"),
    [
        (0.5, "linear", 0.0948, 0.1325),
        (0.5, "equal percentage", 0.2145, 0.3115),
        (0.25, "linear", 0.1847, 0.2599),
        (0.25, "equal percentage", 0.1461, 0.2253),
        (0.1, "linear", 0.2893, 0.4135),
        (0.1, "equal percentage", 0.0644, 0.1097),
    ],
)
def test_distance_from_straight(ratio, name, rms, largest):
    travel = np.linspace(0, 1, 2001)
    phi = linear(travel) if name == "linear" else equal_percentage(travel, 50)
    flow = installed_flow(phi, ratio)
    assert distance_from_straight(travel, flow) == pytest.approx(rms, abs=6e-5)
    assert np.abs(flow - travel).max() == pytest.approx(largest, abs=6e-5)
    assert installed_distance(name, ratio, 50) == pytest.approx(rms, abs=6e-5)


@pytest.mark.parametrize(("rangeability", "tie"), [(50, 0.297), (30, 0.365)])
def test_where_linear_and_equal_percentage_tie(rangeability, tie):
    # Where the two rms distances are equal, found by hand; open sources agree on the direction.
    found = straightest([1, tie + 0.002, tie - 0.002, 0.02], rangeability)
    assert found.tolist() == ["linear", "linear", "equal percentage", "equal percentage"]


@pytest.mark.parametrize(("rangeability", "best", "largest"), [(50, 0.07, 0.090), (30, 0.12, 0.096)])
def test_where_equal_percentage_is_straightest(rangeability, best, largest):
    # Least rms distance; the two-digit ratios are rounded, so half a digit. Largest distance at the ratio named.
    ratio, travel = np.linspace(0.02, 0.4, 381), np.linspace(0, 1, 2001)
    assert ratio[installed_distance("equal percentage", ratio, rangeability).argmin()] == pytest.approx(best, abs=6e-3)
    distance = np.abs(installed_flow(equal_percentage(travel, rangeability), best) - travel)
    assert distance.max() == pytest.approx(largest, abs=6e-4)


phis, ratios = st.floats(0, 1), st.floats(0.001, 1)


@given(phis)
def test_with_all_the_drop_installed_is_inherent(phi):
    assert installed_flow(phi, 1) == pytest.approx(phi, rel=1e-15)


@given(phis, ratios)
def test_the_valve_takes_its_share_by_its_own_law(phi, ratio):
    # Valve drop = share of the total, and q = Phi sqrt(valve drop), with 1 = drop a at full opening.
    flow = installed_flow(phi, ratio)
    share = valve_drop_share(flow, ratio)
    assert flow == pytest.approx(phi * np.sqrt(share / ratio), rel=1e-9)


@given(st.lists(phis, min_size=2, max_size=20), ratios)
def test_curves_rise_and_lie_above_the_inherent_one(phi, ratio):
    flow = installed_flow(np.sort(phi), ratio)
    assert (np.diff(flow) >= 0).all()
    assert (flow >= np.sort(phi) * (1 - 1e-12)).all()
    assert (flow <= 1 + 1e-12).all()


@given(st.floats(0.01, 0.99), st.floats(0.02, 1))
def test_gain_is_the_derivative(travel, ratio):
    step = 1e-6
    ends = installed_flow(equal_percentage([travel - step, travel + step], 50), ratio)
    gain = installed_gain(equal_percentage(travel, 50), equal_percentage_slope(travel, 50), ratio)
    assert gain == pytest.approx((ends[1] - ends[0]) / (2 * step), rel=1e-6)


def test_everything_broadcasts():
    phi = quick_opening(np.linspace(0, 1, 7))[:, None]
    assert installed_flow(phi, RATIOS).shape == (7, 7)
    assert installed_gain(phi, 1, RATIOS).shape == (7, 7)
    assert installed_distance("linear", [[0.1, 0.2]], 50).shape == (1, 2)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: installed_flow(0.5, 0),
            "pressure_drop_ratio must be above 0 and at most 1 (a fraction or ratio), but got 0.",
        ),
        (lambda: installed_flow(1.5, 0.5), "phi must be from 0 to 1 (a fraction or ratio), but got 1.5."),
        (
            lambda: straightest(0.5, 50, ("round",)),
            "name must be one of linear, equal percentage, quick opening, but got 'round'.",
        ),
        (
            lambda: distance_from_straight([0, 0], [0, 1]),
            "the step from one travel to the next must be above 0 and at most 1 (a fraction or ratio), but got 0.",
        ),
    ],
)
def test_refusals(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence
