"""Sliders: positions, values, and how they are read out."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessons.live.sliders import Slider
from lessons.units.readout import in_trade_unit, to_decimals


# Conversions by hand: 1 psi = 6894.757 Pa, 1 in = 25.4 mm, 1 US gal = 3.785412 L, 1 lbf = 4.448222 N (exact definitions).
@pytest.mark.parametrize(
    ("slider", "units", "first", "last"),
    [
        (Slider("h", "travel", 0, 1, 0.01, 0.5, "%"), "si", "0 %", "100 %"),
        (Slider("h", "travel", 0, 1, 0.01, 0.5, "%"), "us", "0 %", "100 %"),
        (Slider("h", "travel", 0, 1, 0.025, 0.5, "%"), "si", "0.0 %", "100.0 %"),
        (Slider("p", "p", 1e5, 1e6, 1e5, 1e5, "bar"), "si", "1 bar", "10 bar"),
        (Slider("p", "p", 1e5, 1e6, 1e5, 1e5, "bar"), "us", "15 psi", "145 psi"),  # 14.504, 145.04
        (Slider("x", "x", -0.02, 0.02, 0.001, 0, "mm"), "si", "−20 mm", "20 mm"),
        (Slider("x", "x", -0.02, 0.02, 0.001, 0, "mm"), "us", "−0.79 in", "0.79 in"),  # 0.7874; step 0.039
        (Slider("q", "q", 0, 0.1, 0.01, 0, "m³/h"), "us", "0 gpm", "1585 gpm"),  # 0.1 · 60000 / 3.785412
        (Slider("r", "R", 10, 100, 5, 50), "us", "10", "100"),
        (Slider("p", "p", 2e4, 1e5, 2e4, 2e4, "bar", "in"), "si", "0.2 bar", "1.0 bar"),
        (Slider("t", "t", 273.15, 373.15, 10, 273.15, "°C"), "us", "32 °F", "212 °F"),
    ],
)
def test_readouts(slider: Slider, units: str, first: str, last: str) -> None:
    readouts = slider.readouts(units)
    assert (readouts[0], readouts[-1]) == (first, last)
    assert len(set(readouts)) == slider.count


@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e5), st.integers(1, 1000), st.data())
def test_every_position_comes_back_from_its_value(low: float, step: float, count: int, data: st.DataObject) -> None:
    if step < 1e-7 * abs(low):
        return
    slider = Slider("v", "v", low, low + count * step, step, low)
    position = data.draw(st.integers(0, slider.count - 1))
    assert slider.position(slider.value(position)) == position
    assert slider.count == count + 1


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ((1, 0, 0.1, 0.5), "low < high"),
        ((0, 1, 0, 0.5), "step above 0"),
        ((0, 1, 0.1, 2), "start between"),
        ((0, 1, 0.0001, 0), "widen the step"),
        ((0, 1, 0.1, 0.55), "cannot start at 0.55"),
        ((0, 2, 1, 0, "", None, ("shut", "open")), "has 3 positions, but words for 2"),
    ],
)
def test_a_slider_that_cannot_be_is_refused(arguments: tuple[Any, ...], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        Slider("v", "v", *arguments)


def test_a_choice_is_told_in_words() -> None:
    slider = Slider("fails", "without air the valve", 1, 2, 1, 1, words=("opens", "shuts"))
    assert slider.readouts("si") == slider.readouts("us") == ["opens", "shuts"]


def test_no_minus_before_zero() -> None:
    assert to_decimals(-1e-9, "mm", digits=1) == "0.0 mm"


def test_offset_units() -> None:
    assert in_trade_unit(373.15, "°F") == pytest.approx(212)  # boiling water, by definition of the scale before 1954
