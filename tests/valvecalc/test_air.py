"""Instrument air: against the isentropic tables for γ = 1.4, hand arithmetic, and a plain integration in time."""

import math

import fluids.compressible
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.air import (
    CHOKED,
    CRITICAL_RATIO,
    GAS_CONSTANT_OF_AIR,
    choked_below,
    emptying_time,
    filling_time,
    highest_dew_point,
    pressure_after_strokes,
)

SPEED = math.sqrt(GAS_CONSTANT_OF_AIR * 293.15)  # 290.06 m/s


def nozzle(area, p1, p2):
    """Return the mass flow of an ideal nozzle: W = A P1 √(7 (r^(2/1.4) − r^(2.4/1.4))/(R T)), NACA 1135, from memory."""
    r = max(p2 / p1, 0.528282)
    return area * p1 * math.sqrt(7 * (r ** (2 / 1.4) - r ** (2.4 / 1.4))) / SPEED


def filling_flow(area, p1, p2):
    """Return the mass flow into a room of 1 m³ at p2: dm = V dP/(R T) in the time it takes to rise a little."""
    return 2e-4 * p1 / SPEED**2 / float(filling_time([p2 - 1e-4 * p1, p2 + 1e-4 * p1], 1.0, area, p1)[-1])


@pytest.mark.parametrize(("coldest", "highest"), [(-10, -20), (5, -5), (14, 4), (13, 3), (30, 4), (-40, -50)])
def test_dew_point(coldest, highest):
    """ISA-7.0.01-1996 (second-hand): at least 10 °C below the coldest place, and never above 4 °C."""
    assert float(highest_dew_point(coldest + 273.15)) == pytest.approx(highest + 273.15)


def test_critical_ratio():
    """0.5283 in the isentropic tables (NACA TN 1592, second-hand); P_critical_flow of fluids to the last digit."""
    assert pytest.approx(0.5283, abs=5e-5) == CRITICAL_RATIO
    assert float(choked_below(7e5)) == pytest.approx(fluids.compressible.P_critical_flow(7e5, 1.4), rel=1e-12)


# p/pt and A/A*: isentropic table for γ = 1.4, NACA TN 1592 (second-hand, from a public transcription of the table)
TABLE = [
    (0.9930, 5.8218),
    (0.9844, 3.9103),
    (0.8430, 1.3398),
    (0.8082, 1.2403),
    (0.7840, 1.1882),
    (0.6430, 1.0305),
    (0.5913, 1.0089),
    (0.5283, 1.0),
]


@pytest.mark.parametrize(("ratio", "wider"), TABLE)
def test_flow_below_the_choked_one(ratio, wider):
    """The same flow that chokes a throat passes a section A/A* times as wide at p/pt; four digits of p/pt allow 1 %."""
    flow = filling_flow(1e-6, 4e5, ratio * 4e5) / filling_flow(1e-6, 4e5, 1e5)
    assert flow == pytest.approx(1 / wider, rel=0.01 if ratio > 0.98 else 4e-4)


def test_choked_flow():
    """W = 0.6847 A P/√(R T): 0.6847·1e-6·5e5/290.06; the constant is 0.04042 in SI with √T (textbooks, from memory)."""
    assert filling_flow(1e-6, 5e5, 1e5) == pytest.approx(0.68473 * 0.5 / 290.06, rel=1e-4)
    assert CHOKED / math.sqrt(GAS_CONSTANT_OF_AIR) == pytest.approx(0.04042, abs=1e-5)
    assert filling_flow(1e-6, 5e5, 1e5) == pytest.approx(filling_flow(1e-6, 5e5, 2.6e5))
    assert nozzle(1e-6, 5e5, 3e5) == pytest.approx(filling_flow(1e-6, 5e5, 3e5), rel=1e-5)


# pressures [bar], room 1 L, 1 mm²: V/(A √(R T)) = 1e-3/(1e-6·290.06) = 3.4476 s
BY_HAND = [
    (filling_time, [1, 2], 5, 3.4476 * 0.2 / 0.68473, "choked all the way: 0.2/0.68473"),
    (filling_time, [1, 5], 5, 3.4476 * (0.32828 / 0.68473 + 2.64575 * 0.40825), "0.3283 choked, then √7·√(1 − 1/1.2)"),
    (filling_time, [3, 5], 5, 3.4476 * 2.64575 * 0.36847, "√(1 − 0.6^(2/7)) = √0.13577"),
    (emptying_time, [5, 2], 1, 3.4476 * 0.91629 / 0.68473, "choked all the way: ln 2.5"),
    (emptying_time, [1.8929, 1], 1, 3.4476 * 2.64575 * 0.51043, "x² = 0.2: 0.44721 + 0.05963 + 0.00358"),
]


@pytest.mark.parametrize(
    ("function", "pressures", "other", "seconds", "working"), BY_HAND, ids=[r[-1] for r in BY_HAND]
)
def test_times_by_hand(function, pressures, other, seconds, working):
    assert working
    assert float(function(np.multiply(pressures, 1e5), 1e-3, 1e-6, other * 1e5)[-1]) == pytest.approx(seconds, rel=2e-4)


def stepped(start, end, room, filling):
    """Time by small steps of time: mass in, pressure from P V = m R T, the room following the pressure."""
    pressure, clock, step = start, 0.0, 1e-3
    mass = pressure * room(pressure) / SPEED**2
    while (pressure < end) if filling else (pressure > end):
        rate = nozzle(2e-6, 3e5, pressure) if filling else -nozzle(2e-6, pressure, 1e5)
        mass, clock = mass + rate * step, clock + step
        # The room follows its pressure: a few rounds of P = m R T/V.
        for _ in range(30):
            pressure = 0.5 * pressure + 0.5 * mass * SPEED**2 / room(pressure)
    return clock


@pytest.mark.parametrize(("filling", "start", "end"), [(True, 1.0e5, 2.8e5), (False, 2.9e5, 1.05e5)])
def test_a_room_that_moves_agrees_with_small_steps(filling, start, end):
    """An actuator of 1 L that grows by 1.5 L between 1.2 and 2.0 bar absolute."""

    def room(pressure):
        return 1e-3 + 1.5e-3 * float(np.clip((pressure - 1.2e5) / 0.8e5, 0, 1))

    pressures = np.linspace(start, end, 800)
    rooms = [room(p) for p in pressures]
    other, function = (3e5, filling_time) if filling else (1e5, emptying_time)
    assert float(function(pressures, rooms, 2e-6, other)[-1]) == pytest.approx(
        stepped(start, end, room, filling), rel=0.01
    )


@given(st.floats(1.01, 9.0), st.floats(0.1, 20.0), st.floats(0.2, 30.0), st.floats(1.1, 4.0))
def test_time_goes_with_the_room_and_against_the_opening(top, litres, mm2, more):
    pressures = np.linspace(1e5, top * 1e5, 7)
    once = filling_time(pressures, litres * 1e-3, mm2 * 1e-6, top * 1e5)
    assert np.all(np.diff(once) > 0)
    np.testing.assert_allclose(filling_time(pressures, more * litres * 1e-3, mm2 * 1e-6, top * 1e5), more * once)
    np.testing.assert_allclose(filling_time(pressures, litres * 1e-3, more * mm2 * 1e-6, top * 1e5), once / more)
    down = emptying_time(pressures[::-1], litres * 1e-3, mm2 * 1e-6, 1e5)
    assert np.all(np.diff(down) > 0)


def test_strokes_from_a_tank():
    """Boyle's law: 7 bar absolute, tank 20 L, 5 L a stroke: 7·0.8³ = 3.584 bar."""
    assert float(pressure_after_strokes(7e5, 20e-3, 5e-3, 3)) == pytest.approx(3.584e5)


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (
            lambda: filling_time([2e5, 1e5], 1e-3, 1e-6, 5e5),
            r"pressure \[Pa absolute\] must rise from each to the next",
        ),
        (
            lambda: emptying_time([1e5, 2e5], 1e-3, 1e-6, 1e5),
            r"pressure \[Pa absolute\] must fall from each to the next",
        ),
        (lambda: filling_time([1e5, 6e5], 1e-3, 1e-6, 5e5), "pressure over p1 must be above 0 and at most 1"),
        (lambda: emptying_time([2e5, 1e5], 1e-3, 1e-6, 1.5e5), "pressure over p2 must be at least 1"),
        (lambda: filling_time([1e5, 2e5], 1e-3, 0, 5e5), "opening must be above 0 m²"),
        (lambda: highest_dew_point(-10), "coldest temperature must be from 200 to 340 K"),
        (lambda: pressure_after_strokes(6e5, 0, 1e-3, 1), "volume must be above 0 m³|volume must be .*above 0"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(call, says):
    with pytest.raises(ValueError, match=says):
        call()
