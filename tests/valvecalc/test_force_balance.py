"""Force balance, fail position, bench set and shut-off, against hand arithmetic in US units."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.valvecalc.in_pounds import ACTION, SIZE, si, sized, us, valve
from valvecalc.actuator import actuator_from_bench_set, spring_actuator
from valvecalc.force_balance import (
    fail_position,
    free_travel,
    largest_shutoff_dp,
    pressure_at,
    required_bench_set,
    stem_forces,
    travel_at,
    valve_action,
)
from valvecalc.plug_forces import seat_force, unbalanced_force

# Area, pressure: force in lbf. 100 in² times psi; and a 12 in circle, π 36 in² times 9 psi = 324 π.
FORCE = [(100, 3, 300), (100, 9, 900), (100, 15, 1500), (100, 30, 3000), (36 * np.pi, 9, 1017.88)]


@pytest.mark.parametrize(("area", "psi", "pounds"), FORCE)
def test_force_of_the_air(area, psi, pounds):
    air = stem_forces(valve(area=area), 0.0, si(psi, "psi")).air
    assert us(air, "N", "lbf") == pytest.approx(pounds, rel=1e-5)


def test_force_in_si():
    """0.064516 m² times 103 421 Pa, 15 psi to six digits, is 1500 lbf: 6672.33 N."""
    actuator = spring_actuator("direct", 0.064516, 1e5, 0, 0.04)
    assert stem_forces(actuator, 0.5, 103421).air == pytest.approx(-6672.33, rel=1e-5)


@pytest.mark.parametrize(("psi", "stroke"), [(3, 0), (6, 0.25), (9, 0.5), (12, 0.75), (15, 1), (1, 0), (20, 1)])
def test_bench_position(psi, stroke):
    """(psi - 3) / 12, held by the stops; a direct valve closes as much as a reverse one opens."""
    assert travel_at(valve("reverse"), si(psi, "psi")) == pytest.approx(stroke, abs=1e-9)
    assert travel_at(valve("direct"), si(psi, "psi")) == pytest.approx(1 - stroke, abs=1e-9)


PORT = 3.14159  # in², a 2 in port: π · 2² / 4
STEM = 0.196350  # in², a ½ in stem: π · 0.25 / 4
# Fails closed, flow to open at 100 psi: bench start, spring, net on the seat (spring - 314.159 - 50), seat load
# (net / 6.28319 in), and the largest drop for 40 lbf/in: (spring - 50 - 251.327) / 3.14159, not below 0.
FAIL_CLOSED = [
    (3, 300, -64.2, -10.2, 0),
    (5, 500, 135.8, 21.6, 63.24),
    (6, 600, 235.8, 37.5, 95.07),
    (8, 800, 435.8, 69.4, 158.7),
]


@pytest.mark.parametrize(("start", "spring", "net", "load", "drop"), FAIL_CLOSED)
def test_fails_closed(start, spring, net, load, drop):
    actuator = valve(low=start, high=start + 12)
    fluid = unbalanced_force(si(100, "psi"), 0, si(PORT, "in^2"))
    wanted = seat_force(si(2, "in"), si(40, "lbf/in"))
    on_seat = -stem_forces(actuator, 0.0, 0.0, fluid, si(50, "lbf"), "closing").total
    assert fail_position(actuator.action) == "closed"
    assert us(actuator.preload, "N", "lbf") == pytest.approx(spring, rel=1e-9)
    assert us(on_seat, "N", "lbf") == pytest.approx(net, abs=0.06)
    assert us(on_seat, "N", "lbf") / 6.28319 == pytest.approx(load, abs=0.06)
    assert bool(on_seat >= wanted) is (drop > 100)
    found = largest_shutoff_dp(actuator.preload, si(PORT, "in^2"), si(50, "lbf"), wanted)
    assert us(found, "Pa", "psi") == pytest.approx(drop, rel=1e-3)


def test_fails_open():
    """Spring 1500 lbf when closed, 300 when open; fluid -441.8 closed, friction 50: 1500 - 441.8 - 50, 300 - 50."""
    fluid = unbalanced_force(si(150, "psi"), 0, si(PORT, "in^2"), si(STEM, "in^2"), "close")
    opens = stem_forces(valve("direct"), [0.0, 1.0, 1.0], 0.0, [fluid, 0.0, si(-260, "lbf")], si(50, "lbf"), "opening")
    assert fail_position("direct") == "open"
    assert us(opens.total, "N", "lbf") == pytest.approx([1008.2, 250, -10], abs=0.1)  # 300 - 260 - 50 = -10: it stays


@pytest.mark.parametrize(
    ("actuator", "body", "action", "position"),
    [  # DOE-HDBK-1018/2-93, module 4, p. 47 for a body that closes downwards; the other rows turn it round
        ("direct", "push_down_to_close", "direct", "open"),
        ("reverse", "push_down_to_close", "reverse", "closed"),
        ("direct", "push_down_to_open", "reverse", "closed"),
        ("reverse", "push_down_to_open", "direct", "open"),
    ],
)
def test_sense_of_action(actuator, body, action, position):
    assert valve_action(actuator, body) == action
    assert fail_position(action) == position


def test_supply():
    """Air to close: load 314.159 + 251.327 + 50 = 615.487 lbf; 15 + 6.15487 psi; 20 psi has 500 lbf, 115.487 short."""
    fluid, rub, seat = si(314.1593, "lbf"), si(50, "lbf"), si(251.3274, "lbf")
    needed = pressure_at(valve("direct"), 0.0, fluid + seat, rub, "closing")
    assert us(needed, "Pa", "psi") == pytest.approx(21.1549, rel=1e-5)
    short = stem_forces(valve("direct"), 0.0, si(20, "psi"), fluid + seat, rub, "closing").total
    assert us(short, "N", "lbf") / 615.487 == pytest.approx(0.188, abs=5e-4)
    # Air to open needs no seat force but all of the spring at the open end: 15 + 50 / 100 psi.
    opens = pressure_at(valve("reverse"), [0.0, 1.0], [fluid, 0.0], rub, "opening").max()
    assert us(opens, "Pa", "psi") == pytest.approx(15.5, rel=1e-9)


def test_required_bench_set():
    """Load 615.487 lbf on 100 in²: 6.155 psi; span 12. Reverse 6.155 to 18.155; direct with 20 psi: 1.845 to 13.845."""
    given_as = (si(100, "in^2"), si(800, "lbf/in"), si(1.5, "in"), si(615.487, "lbf"), si(20, "psi"))
    reverse, direct = required_bench_set("reverse", *given_as), required_bench_set("direct", *given_as)
    assert us([reverse.low_gauge, reverse.high_gauge], "Pa", "psi") == pytest.approx([6.15487, 18.15487])
    assert us([direct.low_gauge, direct.high_gauge], "Pa", "psi") == pytest.approx([1.84513, 13.84513], rel=1e-5)


def test_a_valve_with_the_required_bench_set_just_shuts():
    fluid, rub, seat = 1500.0, 200.0, 900.0
    reverse = required_bench_set("reverse", 0.06, 1e5, 0.03, fluid + rub + seat, 2e5)
    actuator = actuator_from_bench_set("reverse", 0.06, reverse.low_gauge, reverse.high_gauge, 0.03)
    assert stem_forces(actuator, 0, 0, fluid + seat, rub, "closing").total == pytest.approx(0, abs=1e-9)
    direct = required_bench_set("direct", 0.06, 1e5, 0.03, fluid + rub + seat, 2e5)
    actuator = actuator_from_bench_set("direct", 0.06, direct.low_gauge, direct.high_gauge, 0.03)
    assert pressure_at(actuator, 0, fluid + seat, rub, "closing") == pytest.approx(2e5, abs=1e-6)


def test_forces_at_rest():
    """9 psi at half travel balances; friction takes up 1 psi of change, 100 lbf of 150, and only 150 of 300 lbf."""
    rub = si(150, "lbf")
    forces = stem_forces(valve(), 0.5, si([9, 10, 12], "psi"), 0.0, rub)
    assert us(forces.friction, "N", "lbf") == pytest.approx([0, -100, -150], abs=1e-6)
    assert us(forces.total, "N", "lbf") == pytest.approx([0, 0, 150], abs=1e-6)


def test_travel_under_load_and_friction():
    """At 9 psi: 60 lbf towards open moves a reverse valve by 60 / 1200 lbf = 0.05; friction of 120 lbf by 0.1 each way."""
    at = si(9, "psi")
    assert travel_at(valve(), at, si(60, "lbf")) == pytest.approx(0.55, rel=1e-9)
    assert travel_at(valve("direct"), at, si(60, "lbf")) == pytest.approx(0.55, rel=1e-9)
    for action in ("reverse", "direct"):
        assert travel_at(valve(action), at, friction=si(120, "lbf"), moving="opening") == pytest.approx(0.4, rel=1e-9)
        assert travel_at(valve(action), at, friction=si(120, "lbf"), moving="closing") == pytest.approx(0.6, rel=1e-9)


def test_flow_to_close_snaps_shut_where_the_spring_is_too_soft():
    """Fluid force -2000 lbf closed, 0 open, spring 1200 lbf over the stroke: stiffness 1200 - 2000 < 0, no rest between."""
    opening = travel_at(valve(), si(np.linspace(0, 40, 81), "psi"), si(-2000, "lbf"), 0.0, moving="opening")
    assert set(np.round(opening, 9)) == {0.0, 1.0}
    # It opens once 100 p > 300 + 2000, at 23 psi; it shuts below 100 p = 1500, at 15 psi.
    closing = travel_at(valve(), si(np.array([14.9, 15.1, 22.9, 23.1]), "psi"), si(-2000, "lbf"), 0.0, moving="closing")
    up = travel_at(valve(), si(np.array([14.9, 15.1, 22.9, 23.1]), "psi"), si(-2000, "lbf"), 0.0, moving="opening")
    assert (closing.tolist(), up.tolist()) == ([0, 1, 1, 1], [0, 0, 0, 1])


MOVING = st.sampled_from(["opening", "closing", "still"])


@given(ACTION, SIZE, st.floats(0, 1), st.floats(0, 40), st.floats(-900, 900), st.floats(0, 300), MOVING)
def test_force_balance_is_the_same_in_both_unit_sets(action, size, travel, psi, fluid, rub, moving):
    """psi times in² are lbf, so the formulas may be fed US units as they are: the answers must convert into each other."""
    metric = stem_forces(sized(action, size, si), travel, si(psi, "psi"), si(fluid, "lbf"), si(rub, "lbf"), moving)
    trade = stem_forces(sized(action, size, lambda v, _: v), travel, psi, fluid, rub, moving)
    for name in ("air", "spring", "fluid", "friction", "total"):
        assert us(getattr(metric, name), "N", "lbf") == pytest.approx(float(getattr(trade, name)), rel=1e-9, abs=1e-6)
    us_travel = travel_at(sized(action, size, lambda v, _: v), psi, fluid, friction=rub, moving=moving)
    si_travel = travel_at(
        sized(action, size, si), si(psi, "psi"), si(fluid, "lbf"), friction=si(rub, "lbf"), moving=moving
    )
    assert us_travel == pytest.approx(float(si_travel), rel=1e-9, abs=1e-9)


@given(ACTION, SIZE, st.floats(0.01, 0.99), st.floats(-400, 400), st.floats(0, 300), MOVING)
def test_travel_undoes_pressure_and_the_forces_add_up(action, size, travel, fluid, rub, moving):
    actuator = sized(action, size, si)
    pressure = pressure_at(actuator, travel, si(fluid, "lbf"), si(rub, "lbf"), moving)
    assume(pressure >= 0)
    # Less area at the end makes it stiffer, so there is one travel for each pressure.
    assert travel_at(actuator, pressure, si(fluid, "lbf"), friction=si(rub, "lbf"), moving=moving) == pytest.approx(
        travel, abs=1e-9
    )
    forces = stem_forces(actuator, travel, pressure, si(fluid, "lbf"), si(rub, "lbf"), moving)
    assert forces.total == pytest.approx(0, abs=1e-6)
    parts = forces.air + forces.spring + forces.fluid + forces.friction
    assert parts == pytest.approx(float(forces.total), abs=1e-9)


@given(ACTION, SIZE, st.floats(0, 300))
def test_friction_holds_travel_back_whichever_way_it_goes(action, size, rub):
    actuator = sized(action, size, si)
    at = si(np.linspace(0, 40, 9), "psi")
    opening = free_travel(actuator, at, friction=si(rub, "lbf"), moving="opening")
    closing = free_travel(actuator, at, friction=si(rub, "lbf"), moving="closing")
    still = free_travel(actuator, at)
    assert np.all(opening <= still + 1e-12) and np.all(still <= closing + 1e-12)


def test_arrays_broadcast():
    forces = stem_forces(valve(), np.linspace(0, 1, 5), si(np.array([[3.0], [15.0]]), "psi"))
    assert forces.total.shape == forces.friction.shape == (2, 5)
    many = actuator_from_bench_set("reverse", np.array([[0.05], [0.06]]), 2e4, 1e5, 0.04)
    assert travel_at(many, np.linspace(2e4, 1e5, 7)).shape == (2, 7)


BAD = [
    (lambda: stem_forces(valve(), 50, 0), "travel must be from 0 to 1"),
    (lambda: travel_at(valve(), -1), "actuator pressure must be at least 0 Pa gauge, but got -1"),
    (lambda: travel_at(valve(), 1, moving="up"), "moving must be one of opening, closing, still, but got 'up'"),
    (lambda: stem_forces(valve(), 0, 0, np.nan), "fluid force must be finite"),
    (lambda: valve_action("direct", "sideways"), "body must be one of push_down_to_close, push_down_to_open"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said.replace("(", r"\(")):
        call()
