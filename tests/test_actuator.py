"""Actuator, force balance, fail action, supply, piston and stored energy, against hand arithmetic in US units.

The numbers are our own, worked by hand: no worked actuator example was found in the open
handbooks, so each row is worked here, in pounds and inches, from force = pressure times area, area of a circle and
Hooke's law, while the library is fed SI. One pound-force is 4.4482216 N by definition; pint converts.
"""

import numpy as np
import pint
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from valvecalc.actuator import actuator_from_bench_set, bench_set, plate_area, spring_actuator
from valvecalc.fail_action import fail_check, fail_position, largest_shutoff_dp, valve_action
from valvecalc.force_balance import free_travel, pressure_at, stem_forces, travel_at
from valvecalc.piston import drift_without_air, piston_force, piston_supply_needed
from valvecalc.plug_forces import (
    balanced_force,
    circle_area,
    double_seated_force,
    seat_force,
    unbalanced_force,
)
from valvecalc.stored_energy import spring_energy, trapped_air_energy
from valvecalc.supply import required_bench_set, supply_check

UNITS = pint.UnitRegistry()


def si(value, unit):
    """A trade value in SI base units."""
    return UNITS.Quantity(value, unit).to_base_units().magnitude


def us(value, si_unit, unit):
    """An SI value in a trade unit."""
    return UNITS.Quantity(value, si_unit).to(unit).magnitude


def valve(action="reverse", low=3, high=15, area=100, travel=1.5):
    """The actuator of these rows: 100 in², bench set 3 to 15 psi, 1.5 in."""
    return actuator_from_bench_set(action, si(area, "in^2"), si(low, "psi"), si(high, "psi"), si(travel, "in"))


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


def test_flat_plate_area():
    """(π/12)(12² + 12·9.5 + 9.5²) = 348.25 π / 12 = 91.172 in²; geometric estimate, from memory."""
    assert us(plate_area(si(12, "in"), si(9.5, "in")), "m^2", "in^2") == pytest.approx(91.1716, rel=1e-6)


def test_spring_of_a_bench_set():
    """(15 - 3) psi · 100 in² / 1.5 in = 800 lbf/in; 3 · 100 = 300 lbf, 0.375 in; 15 · 100 = 1500 lbf, 1.875 in."""
    actuator = valve()
    assert us(actuator.spring_rate, "N/m", "lbf/in") == pytest.approx(800, rel=1e-9)
    assert actuator.spring_rate == pytest.approx(140.101e3, rel=1e-5)  # 800 lbf/in in N/m, by definition of the units
    assert us(actuator.preload, "N", "lbf") == pytest.approx(300, rel=1e-9)
    assert us(actuator.preload / actuator.spring_rate, "m", "in") == pytest.approx(0.375, rel=1e-9)
    assert us(actuator.preload + actuator.spring_rate * actuator.rated_travel, "N", "lbf") == pytest.approx(1500)


@pytest.mark.parametrize(("psi", "stroke"), [(3, 0), (6, 0.25), (9, 0.5), (12, 0.75), (15, 1), (1, 0), (20, 1)])
def test_bench_position(psi, stroke):
    """(psi - 3) / 12, held by the stops; a direct valve closes as much as a reverse one opens."""
    assert travel_at(valve("reverse"), si(psi, "psi")) == pytest.approx(stroke, abs=1e-9)
    assert travel_at(valve("direct"), si(psi, "psi")) == pytest.approx(1 - stroke, abs=1e-9)


def test_stored_energy():
    """800 lbf/in at 1.875 in: 800 · 1.875² / 2 = 1406.25 in·lbf = 158.885 J; less 800 · 0.375² / 2 = 56.25."""
    rate, full, rest = si(800, "lbf/in"), si(1.875, "in"), si(0.375, "in")
    assert spring_energy(rate, full) == pytest.approx(158.885, rel=1e-5)
    assert spring_energy(rate, full, rest) == pytest.approx(152.530, rel=1e-5)
    # 10 L at 6 bar gauge: 701 325 · 0.01 · ln(701 325 / 101 325) = 13 569 J; less 6e5 · 0.01 = 6000 J.
    assert trapped_air_energy(6e5, 0.01) == pytest.approx(7.569e3, rel=1e-3)


PORT = 3.14159  # in², a 2 in port: π · 2² / 4
STEM = 0.196350  # in², a ½ in stem: π · 0.25 / 4

# Kind of plug, P1, P2 psig, areas in², flow to: force towards open, lbf. Worked: pressure times area on each face.
PLUGS = [
    (unbalanced_force, 100, 0, (PORT, 0), "open", 314.159),  # 100 · 3.14159
    (unbalanced_force, 150, 50, (PORT, STEM), "open", 323.977),  # 471.239 - 50 · 2.94524
    (unbalanced_force, 150, 0, (PORT, STEM), "open", 471.239),
    (unbalanced_force, 150, 50, (PORT, STEM), "close", -284.707),  # 50 · 3.14159 - 150 · 2.94524
    (unbalanced_force, 150, 0, (PORT, STEM), "close", -441.786),
    (unbalanced_force, 150, 150, (PORT, STEM), "open", 29.4524),  # all that is left is the stem: 150 · 0.19635
    (balanced_force, 100, 0, (PORT, PORT + 0.159043, 0), "close", 15.9043),  # ring of seal 2.05 in over port 2.00 in
    (balanced_force, 100, 0, (PORT, PORT + 0.159043, 0), "open", -15.9043),
    (balanced_force, 150, 150, (PORT, PORT + 0.159043, STEM), "close", 29.4524),
    (double_seated_force, 100, 0, (PORT, PORT - 0.159043, 0), "open", 15.9043),
    (double_seated_force, 100, 0, (PORT, PORT - 0.159043, 0), "close", -15.9043),
    (double_seated_force, 150, 150, (PORT, PORT - 0.159043, STEM), "open", 29.4524),
]


@pytest.mark.parametrize(("force", "p1", "p2", "areas", "flow_to", "pounds"), PLUGS)
def test_force_on_the_plug(force, p1, p2, areas, flow_to, pounds):
    got = force(si(p1, "psi"), si(p2, "psi"), *(si(a, "in^2") for a in areas), flow_to=flow_to)
    assert us(got, "N", "lbf") == pytest.approx(pounds, rel=2e-5)


def test_port_and_seat():
    """2 in: π in², rim 2 π in, 40 lbf/in · 2 π = 251.33; DN50: π · 46 mm · 7 N/mm; 1 N/mm² on the 46 mm port."""
    assert us(circle_area(si(2, "in")), "m^2", "in^2") == pytest.approx(3.14159, rel=1e-5)
    assert us(circle_area(si(0.5, "in")), "m^2", "in^2") == pytest.approx(0.196350, rel=1e-5)
    assert us(seat_force(si(2, "in"), si(40, "lbf/in")), "N", "lbf") == pytest.approx(251.327, rel=1e-5)
    assert seat_force(0.046, 1.0) == pytest.approx(0.144513, rel=1e-5)
    assert seat_force(0.046, 7000) == pytest.approx(1011.59, rel=1e-5)
    assert unbalanced_force(1e6, 0, circle_area(0.046)) == pytest.approx(1661.90, rel=1e-5)
    assert unbalanced_force(1e6, 0, circle_area(0.046)) == -unbalanced_force(1e6, 0, circle_area(0.046), 0, "close")


# Seat load in lbf/in and N/mm: 4.4482216 N / 25.4 mm = 0.175127 N/mm.
@pytest.mark.parametrize(
    ("us_load", "si_load"), [(20, 3.503), (40, 7.005), (80, 14.01), (100, 17.51), (300, 52.54)]
)
def test_seat_load_units(us_load, si_load):
    both = seat_force(si(2, "in"), np.array([si(us_load, "lbf/in"), si_load * 1000]))
    assert both[0] == pytest.approx(both[1], rel=5e-4)


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
    check = fail_check(actuator, fluid, 0.0, si(50, "lbf"), wanted)
    assert check.position == "closed"
    assert us(actuator.preload, "N", "lbf") == pytest.approx(spring, rel=1e-9)
    assert us(check.net_closed, "N", "lbf") == pytest.approx(net, abs=0.06)
    assert us(check.net_closed, "N", "lbf") / 6.28319 == pytest.approx(load, abs=0.06)
    assert us(check.seat_margin, "N", "lbf") == pytest.approx(net - 251.327, abs=0.06)
    assert bool(check.enough) is (drop > 100)
    found = largest_shutoff_dp(actuator.preload, si(PORT, "in^2"), si(50, "lbf"), wanted)
    assert us(found, "Pa", "psi") == pytest.approx(drop, rel=1e-3)


def test_fails_open():
    """Spring 1500 lbf when closed, 300 when open; fluid -441.8 closed, friction 50: 1500 - 441.8 - 50, 300 - 50."""
    fluid = unbalanced_force(si(150, "psi"), 0, si(PORT, "in^2"), si(STEM, "in^2"), "close")
    check = fail_check(valve("direct"), fluid, 0.0, si(50, "lbf"))
    assert check.position == "open"
    assert us(check.net_closed, "N", "lbf") == pytest.approx(1008.2, abs=0.1)
    assert us(check.net_open, "N", "lbf") == pytest.approx(250, abs=1e-6)
    assert check.enough
    assert not fail_check(valve("direct"), fluid, si(-260, "lbf"), si(50, "lbf")).enough  # 300 - 260 - 50 = -10


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
    check = supply_check(valve("direct"), si([20, 25], "psi"), fluid, 0.0, rub, seat)
    assert us(check.needed_gauge, "Pa", "psi") == pytest.approx(21.1549, rel=1e-5)
    assert us(check.margin, "Pa", "psi") == pytest.approx([-1.1549, 3.8451], abs=1e-4)
    assert -us(check.force_margin, "N", "lbf")[0] / 615.487 == pytest.approx(0.188, abs=5e-4)
    # Air to open needs no seat force but all of the spring at the open end: 15 + 50 / 100 psi.
    opens = supply_check(valve("reverse"), si(20, "psi"), fluid, 0.0, rub, seat)
    assert us(opens.needed_gauge, "Pa", "psi") == pytest.approx(15.5, rel=1e-9)


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
    assert fail_check(actuator, fluid, 0, rub, seat).seat_margin == pytest.approx(0, abs=1e-9)
    direct = required_bench_set("direct", 0.06, 1e5, 0.03, fluid + rub + seat, 2e5)
    actuator = actuator_from_bench_set("direct", 0.06, direct.low_gauge, direct.high_gauge, 0.03)
    assert supply_check(actuator, 2e5, fluid, 0, rub, seat).margin == pytest.approx(0, abs=1e-6)


def test_piston():
    """6 in piston, 1 in rod, 60 psi under and 20 psi over: 60 (28.2743 - 0.7854) - 20 · 28.2743 = 1083.85 lbf."""
    area, rod = circle_area(si(6, "in")), circle_area(si(1, "in"))
    assert us(piston_force(si(60, "psi"), si(20, "psi"), area, rod), "N", "lbf") == pytest.approx(1083.85, rel=1e-5)
    # To shut against 615.487 lbf: 615.487 / 28.2743 = 21.768 psi; fluid opens it, so lifting needs less.
    needed = piston_supply_needed(si(314.1593, "lbf"), si(50, "lbf"), si(251.3274, "lbf"), area, rod)
    assert us(needed, "Pa", "psi") == pytest.approx(21.768, rel=1e-4)
    # Flow to close holds it shut by 441.786 lbf: (441.786 + 50) / 27.4889 = 17.890 psi to lift it.
    needed = piston_supply_needed(si(-441.786, "lbf"), si(50, "lbf"), 0, area, rod)
    assert us(needed, "Pa", "psi") == pytest.approx(17.890, rel=1e-4)
    assert drift_without_air([51, -51, 50], 50).tolist() == [1, -1, 0]


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


ACTION = st.sampled_from(["direct", "reverse"])
MOVING = st.sampled_from(["opening", "closing", "still"])
SIZE = st.tuples(
    st.floats(20, 400), st.floats(1, 10), st.floats(4, 30), st.floats(0.5, 4), st.floats(0.85, 1.0)
)  # area in², bench start and span psi, travel in, area at the end over that at the start


def sized(action, size, convert):
    area, low, span, travel, shrink = size
    assume((low + span) * shrink > 1.05 * low)
    return actuator_from_bench_set(
        action,
        convert(area, "in^2"),
        convert(low, "psi"),
        convert(low + span, "psi"),
        convert(travel, "in"),
        convert(area * shrink, "in^2"),
    )


@given(ACTION, SIZE)
def test_bench_set_comes_back(action, size):
    _, low, span, _, _ = size
    actuator = sized(action, size, si)
    again = spring_actuator(
        action, actuator.area, actuator.spring_rate, actuator.preload, actuator.rated_travel, actuator.area_end
    )
    back = bench_set(again)
    np.testing.assert_allclose(
        [back.low_gauge, back.high_gauge], [si(low, "psi"), si(low + span, "psi")], rtol=1e-12
    )


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
    assert travel_at(
        actuator, pressure, si(fluid, "lbf"), friction=si(rub, "lbf"), moving=moving
    ) == pytest.approx(travel, abs=1e-9)
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
    (lambda: valve("sideways"), "action must be one of direct, reverse, but got 'sideways'"),
    (lambda: valve(low=15, high=3), "the high end of the bench set must push harder"),
    (lambda: valve(area=0), "effective area must be above 0 m², but got 0"),
    (lambda: stem_forces(valve(), 50, 0), "travel must be from 0 to 1"),
    (lambda: travel_at(valve(), -1), "actuator pressure must be at least 0 Pa gauge, but got -1"),
    (lambda: travel_at(valve(), 1, moving="up"), "moving must be one of opening, closing, still, but got 'up'"),
    (lambda: unbalanced_force(1, 0, 1, 2), "stem area must be no larger"),
    (lambda: unbalanced_force(1, 0, 1, flow_to="over"), "flow direction must be one of open, close"),
    (lambda: unbalanced_force(-2e5, 0, 1), "inlet pressure must be at least -101325 Pa gauge"),
    (lambda: plate_area(0.2, 0.3), "plate diameter must be no larger"),
    (lambda: piston_force(1, 1, 1, 2), "rod area must be smaller"),
    (lambda: spring_energy(1, -1), "compression must be at least 0 m, but got -1"),
    (lambda: trapped_air_energy(1, 0), "volume must be above 0 m³"),
    (lambda: fail_check(valve(), np.nan, 0, 0), "fluid force must be finite"),
    (lambda: supply_check(valve(), 0, 0, 0, 0), "supply pressure must be above 0 Pa gauge"),
    (lambda: valve_action("direct", "sideways"), "body must be one of push_down_to_close, push_down_to_open"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said.replace("(", r"\(")):
        call()
