"""Live pictures of lessons 06 and 11: values from outside."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from typing import Any

import numpy as np
import pytest

from lessons.notebook.figures import moving_picture
from lessons.pictures.live.flow.pressure_profile import jet_pressure
from tests.lessons.pictures.live.test_live_pictures import corners


def parts(name: str, units: str = "si", **values: float) -> dict[str, Any]:
    return dict(moving_picture(name, units)._move(**values, units=units))


@pytest.mark.parametrize("name", ["choked", "profile"])
def test_curves_are_finite_everywhere(name: str) -> None:
    live = moving_picture(name, "si")
    for values in corners(live):
        moved = live._move(**values, units="si")
        curves = [np.asarray(place, float) for part, place in moved.items() if part.endswith("curve")]
        assert curves
        assert np.isfinite(np.concatenate(curves)).all(), values


# Water of 20 °C, P1 10 bar absolute: choked drops FL²·(P1 − FF·Pv), IEC 60534-2-1 with Pv of IAPWS-95 [bar].
@pytest.mark.parametrize(
    ("fl", "limit"), [(0.95, 9.00479), (0.9, 8.08186), (0.8, 6.38567), (0.6, 3.59194), (0.5, 2.4944)]
)
def test_knee_lies_at_the_choked_drop(fl: float, limit: float) -> None:
    moved = parts("choked", drop=1e5, fl=fl)
    assert moved["knee"][0][0] == pytest.approx(limit * 1e5, rel=1e-4)
    # Kv 25 at the knee, by hand: 25 √(limit · 999.103/998.162).
    assert moved["knee"][1][1] * 3600 == pytest.approx(25 * np.sqrt(limit * 999.103 / 998.162), rel=1e-4)


def in_the_pipe(places: Any) -> Any:
    """Tell which markers lie inside the axes of the pipe, which reach from −0.5 to 0.5; the others are clipped."""
    return np.abs(np.asarray(places)[:, 1]) < 0.5


@pytest.mark.parametrize("style", ["butterfly", "globe"])
def test_every_bubble_is_on_the_page_from_the_start(style: str) -> None:
    """What matplotlib leaves out of the first drawing the page cannot show later: 220 bubbles and 3 stars."""
    svg = ET.fromstring(moving_picture("profile", "si")._picture.svg)  # noqa: S314  our own drawing
    for part, count in ((f"{style}_bubbles", 220), (f"{style}_collapse", 3)):
        group = svg.find(f".//{{http://www.w3.org/2000/svg}}g[@id='{part}']")
        assert group is not None
        assert len(group.findall(".//{http://www.w3.org/2000/svg}use")) == count
        clipped = [g for g in group.findall("{http://www.w3.org/2000/svg}g") if g.get("clip-path")]
        assert clipped, "parked markers would be seen"


def test_flow_is_straight_over_the_root_and_then_flat() -> None:
    xy = parts("choked", drop=1e5, fl=0.6)["curve"]
    low = xy[xy[:, 0] < 3.59e5]
    assert np.ptp(low[:, 1] / np.sqrt(low[:, 0])) < 1e-9
    assert np.ptp(xy[xy[:, 0] > 3.6e5][:, 1]) < 1e-12
    assert parts("choked", drop=3.5e5, fl=0.6)["verdict"] == "not choked: it rises with the root"
    assert parts("choked", drop=3.6e5, fl=0.6)["verdict"] == "choked: it rises no more"


def test_lowest_pressure_by_hand() -> None:
    """6 to 5 bar, FL 0.62: 6 − 1/0.3844 = 3.3985 bar. Choked, FF · Pv: 0.957117 · 2339.32 Pa (IAPWS-95)."""
    assert jet_pressure(6e5, 5e5, 3169.93, 0.62) == pytest.approx(3.39854e5, rel=1e-5)
    assert jet_pressure(6e5, 2e5, 2339.32, 0.62) == pytest.approx(0.957117 * 2339.32, rel=1e-4)


@pytest.mark.parametrize(
    ("p1", "p2", "celsius", "butterfly", "globe"),
    [
        # By hand with Pv of IAPWS-95. 25 °C, Pv 0.032: xF = 1/5.968 = 0.168, below 0.18 and 0.36.
        (6e5, 5e5, 25, "no cavitation yet", "no cavitation yet"),
        # xF = 1.5/5.968 = 0.251: past the butterfly's 0.18, not yet the globe's 0.36.
        (6e5, 4.5e5, 25, "cavitation, not choked", "no cavitation yet"),
        # Choked drops 0.3844 · 5.97 = 2.29 and 0.81 · 5.97 = 4.84 bar; drop 4 bar; globe xF 4/5.968 = 0.670,
        # though the mean of its jet, 6 − 4/0.81 = 1.06 bar, is far above 0.032.
        (6e5, 2e5, 25, "cavitation, choked", "cavitation, not choked"),
        # 120 °C, Pv 1.987 bar: outlet 1.5 bar is below it.
        (6e5, 1.5e5, 120, "flashing", "flashing"),
    ],
)
def test_what_the_water_does_by_hand(p1: float, p2: float, celsius: float, butterfly: str, globe: str) -> None:
    moved = parts("profile", p1=p1, p2=p2, temperature=celsius + 273.15)
    assert (moved["butterfly_verdict"], moved["globe_verdict"]) == (butterfly, globe)
    bubbles = {style: in_the_pipe(moved[f"{style}_bubbles"]).any() for style in ("butterfly", "globe")}
    assert bubbles == {
        style: said != "no cavitation yet" for style, said in (("butterfly", butterfly), ("globe", globe))
    }
    for style, said in (("butterfly", butterfly), ("globe", globe)):
        assert in_the_pipe(moved[f"{style}_collapse"]).all() == said.startswith("cavitation")


def test_profile_starts_at_the_inlet_and_ends_at_the_outlet() -> None:
    live = moving_picture("profile", "si")
    for values in corners(live):
        xy = live._move(**values, units="si")["butterfly_curve"]
        assert (xy[0, 1], xy[-1, 1]) == pytest.approx((values["p1"], values["p2"]))
        assert xy[:, 1].max() <= values["p1"] + 1e-6


# By hand from the rules of FCI 70-2 and GB/T 4213-92 (second-hand): mL/min of II, III, IV, V, VI.
@pytest.mark.parametrize(
    ("kv", "bar", "mm", "limits"),
    [
        # 25·√3.5 = 46.771 m³/h; V 1.8e-7·1200·40 L/h; VI 3e-3·350·0.30.
        (25, 12, 40, (3897.6, 779.5, 77.95, 0.144, 0.315)),
        # 2 bar in service: 100·√2 = 141.421 m³/h; V not below 100 psi, 1.8e-7·689.476·100; VI 3e-3·200·1.70.
        (100, 2, 100, (11785.1, 2357.0, 235.7, 0.206843, 1.02)),
    ],
)
def test_leak_limits_by_hand(kv: float, bar: float, mm: float, limits: tuple[float, ...]) -> None:
    moved = parts("leakage", kv=kv, dp=bar * 1e5, port=mm / 1000)
    ends = [moved[f"{name}_bar"][1][0] * 6e7 for name in ("II", "III", "IV", "V", "VI")]
    assert ends == pytest.approx(limits, rel=2e-4)


def test_the_valve_of_the_story_fails_class_iv_only() -> None:
    """90 mL/min against 3898, 780 and 78 mL/min (above)."""
    moved = parts("leakage", kv=25, dp=12e5, port=0.040)
    assert [moved[f"{name}_says"] for name in ("II", "III", "IV")] == ["✓ passes", "✓ passes", "✗ fails"]
    assert (moved["IV_limit"], moved["IV_test"]) == ("78", "water, 3.5 bar")
    assert moved["V_test"] == "water, 12.0 bar"


def test_bars_stay_on_the_axis_and_class_ii_allows_five_times_class_iii() -> None:
    live = moving_picture("leakage", "si")
    low, high = live.figure("si").axes[0].get_xlim()
    for values in corners(live):
        moved = live._move(**values, units="si")
        ends = np.array([np.asarray(moved[f"{name}_bar"])[:, 0] for name in ("II", "III", "IV", "V", "VI")])
        assert low <= ends.min() <= ends.max() <= high
        assert ends[0].max() / ends[1].max() == pytest.approx(5)  # 0.5 % against 0.1 %, FCI 70-2 (second-hand)
