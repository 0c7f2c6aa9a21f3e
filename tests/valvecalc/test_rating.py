"""Ratings by class, material and temperature, against the table in psi and °F, which is rounded on its own."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.rating import (
    CLASSES,
    MATERIALS,
    RATINGS,
    TEMPERATURES,
    lightest_class,
    rated_pressure,
    shell_test_pressure,
)
from valvecalc.units import PSI

# ASME B16.34 (same numbers in B16.5), working pressures in psi at °F, from memory. The metric table is another rounding
# of the same rules, so the two agree to a few percent in class 150 and better above.
FAHRENHEIT = (100, 200, 300, 400, 500, 600)
PSI_TABLE = [
    ("carbon steel", "150", (285, 260, 230, 200, 170, 140)),
    ("carbon steel", "300", (740, 680, 655, 635, 605, 570)),
    ("carbon steel", "600", (1480, 1360, 1310, 1265, 1205, 1135)),
    ("316 stainless steel", "150", (275, 235, 215, 195, 170, 140)),
    ("316 stainless steel", "300", (720, 620, 560, 515, 480, 450)),
    ("316 stainless steel", "600", (1440, 1240, 1120, 1025, 955, 900)),
]


@pytest.mark.parametrize(("material", "pressure_class", "psi"), PSI_TABLE)
def test_agrees_with_the_table_in_psi(material, pressure_class, psi):
    kelvin = (np.array(FAHRENHEIT) - 32) / 1.8 + 273.15
    kelvin[0] = 311.15  # 100 °F is 37.8 °C, where the flat part ends
    assert rated_pressure(material, pressure_class, kelvin) / PSI == pytest.approx(psi, rel=0.03)


# ASME B16.34, second-hand: rating in bar at °C; between two temperatures by hand on the straight line.
ROWS = [
    ("carbon steel", "150", -29, 19.6, "as at 38 °C"),
    ("carbon steel", "150", 38, 19.6, "table"),
    ("carbon steel", "150", 120, 16.94, "17.7 − 20/50 · (17.7 − 15.8)"),
    ("carbon steel", "300", 200, 43.8, "table"),
    ("carbon steel", "600", 375, 72.25, "(75.1 + 69.4)/2; the full table has 72.7 there"),
    ("316 stainless steel", "300", 100, 42.2, "table"),
    ("316 stainless steel", "600", 400, 58.9, "table"),
]


@pytest.mark.parametrize(("material", "pressure_class", "celsius", "bar", "working"), ROWS)
def test_rating(material, pressure_class, celsius, bar, working):
    assert rated_pressure(material, pressure_class, celsius + 273.15) / 1e5 == pytest.approx(bar, rel=1e-6), working


# 1.5 × the rating at 38 °C, rounded up to a whole bar: 29.4, 76.65, 153.15, 28.5, 74.4, 148.95.
SHELL = [30, 77, 154, 29, 75, 149]


def test_shell_test():
    each = [shell_test_pressure(material, name) / 1e5 for material in MATERIALS for name in CLASSES]
    assert each == pytest.approx(SHELL)


# Pressure [bar], temperature [°C], class: by the table.
LIGHTEST = [(19.6, 20, "150"), (19.7, 20, "300"), (13.8, 200, "150"), (14, 200, "300"), (45, 200, "600"), (90, 200, "")]


@pytest.mark.parametrize(("bar", "celsius", "wanted"), LIGHTEST)
def test_lightest_class(bar, celsius, wanted):
    assert lightest_class("carbon steel", bar * 1e5, celsius + 273.15) == wanted


@given(st.sampled_from(MATERIALS), st.floats(244.15, 673.15), st.floats(0, 50))
def test_hotter_holds_less_and_a_higher_class_more(material, temperature, warmer):
    by_class = [float(rated_pressure(material, each, temperature)) for each in CLASSES]
    assert by_class == sorted(by_class)
    hot = min(temperature + warmer, 673.15)
    assert rated_pressure(material, "300", hot) <= rated_pressure(material, "300", temperature)


def test_tables_are_whole():
    assert {tuple(sorted(classes)) for classes in RATINGS.values()} == {CLASSES}
    assert all(row.shape == TEMPERATURES.shape for classes in RATINGS.values() for row in classes.values())


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (lambda: rated_pressure("brass", "150", 300), "material must be one of carbon steel"),
        (lambda: rated_pressure("carbon steel", "PN 40", 300), "pressure_class must be one of 150, 300, 600"),
        (
            lambda: rated_pressure("carbon steel", "150", 700),
            "temperature must be from 244.15 to 673.15 K, but got 700",
        ),
        (lambda: lightest_class("carbon steel", -1.0, 300), "pressure_gauge must be at least 0 Pa"),
    ],
)
def test_refuses_in_a_sentence(call, sentence):
    with pytest.raises(ValueError, match=sentence):
        call()
