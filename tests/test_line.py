"""The pumped line: closed form against bisection, published and worked numbers, several valves, choking."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.any_pump import line_flow_points, line_flow_polynomial
from valvecalc.characteristic import equal_percentage, linear
from valvecalc.choked_line import choked_line_flow
from valvecalc.installed import installed_flow
from valvecalc.line import (
    line_flow,
    line_pressure_drop_ratio,
    pressure_budget,
    pump_dp,
    valve_resistance,
)
from valvecalc.several_valves import kv_in_parallel, kv_in_series, resistance_of_valves
from valvecalc.units import GALLON, PSI, WATER_DENSITY, kv_from_cv

PUMP = [600e3, -1e6, -1e8]
KV = 100 * equal_percentage(np.linspace(0, 1, 21), 50, toe=0.02)

# Open university course exercise (statement seen in part, the loss term 2 q^2 from memory), worked by hand:
# 100 psi in all, equipment takes 2 q^2, Cv = 2, relative density 1.1; q in gal/min.
# Full opening: 100 = 2 q^2 + 1.1 q^2/4, so q = sqrt(100 / 2.275) = 6.62994; a = 0.275 / 2.275 = 0.120879.
EXERCISE = [
    ("full opening", 1.0, 6.62994),
    ("linear, half", linear(0.5), 5.67962),
    ("equal percentage R = 20, half", equal_percentage(0.5, 20), 3.65148),
    ("linear, three quarters", linear(0.75), 6.33866),
    ("equal percentage R = 20, three quarters", equal_percentage(0.75, 20), 5.56429),
]
GPM = GALLON / 60


@pytest.mark.parametrize(("case", "phi", "gpm"), EXERCISE)
def test_teaching_exercise(case, phi, gpm):
    # Water of relative density 1 is 999.103 kg/m3 (15 degC) here as in the standard.
    flow = line_flow(kv_from_cv(2) * phi, [100 * PSI], 0, 2 * PSI / GPM**2, 1.1 * WATER_DENSITY)
    assert flow / GPM == pytest.approx(gpm, rel=2e-6), case


def test_pressure_drop_ratio_of_the_exercise():
    rho = 1.1 * WATER_DENSITY
    found = line_pressure_drop_ratio(kv_from_cv(2), [100 * PSI], 0, 2 * PSI / GPM**2, rho)
    assert found == pytest.approx(0.120879, rel=1e-5)


pumps = st.tuples(st.floats(3e5, 2e6), st.floats(-2e6, 0), st.floats(-1e9, 0))
lines = st.tuples(st.floats(0, 300), pumps, st.floats(-1e5, 2.9e5), st.floats(1e7, 1e10), st.floats(500, 1500))


@given(lines)
def test_the_pressures_balance(line):
    kv, pump, static_dp, pipe, rho = line
    flow = line_flow(kv, pump, static_dp, pipe, rho)
    budget = pressure_budget(flow, pump, static_dp, pipe)
    assert budget.static + budget.pipe + budget.valve == pytest.approx(budget.pump, rel=1e-12)
    if kv > 1e-3:
        # The valve takes by its own law what the others leave; rounding counts against the whole pressure.
        assert valve_resistance(kv, rho) * flow**2 == pytest.approx(budget.valve, abs=1e-6 * pump[0])


@given(lines)
def test_closed_form_equals_bisection(line):
    kv, pump, static_dp, pipe, rho = line
    flow = line_flow(kv, pump, static_dp, pipe, rho)
    assert line_flow_polynomial(kv, pump, 1.0, static_dp, pipe, rho) == pytest.approx(flow, rel=1e-9, abs=1e-15)


@given(lines)
def test_without_a_linear_term_the_line_is_its_pressure_drop_ratio(line):
    kv, pump, static_dp, pipe, rho = line
    straight, phi = [pump[0], 0, pump[2]], linear(np.linspace(0, 1, 11))
    ratio = line_pressure_drop_ratio(kv + 1, straight, static_dp, pipe, rho)
    flow = line_flow((kv + 1) * phi, straight, static_dp, pipe, rho)
    np.testing.assert_allclose(flow / flow[-1], installed_flow(phi, ratio), rtol=1e-9)


def test_points_of_a_curve_give_the_flow_of_the_curve():
    at = np.linspace(0, 0.06, 61)
    exact = line_flow(KV, PUMP, 1e5, 1e8, 850)
    found = line_flow_points(KV, at, pump_dp(at, PUMP), 1e5, 1e8, 850)
    # A monotone cubic through points 1/60 of the curve apart follows a parabola to better than 1e-5.
    np.testing.assert_allclose(found, exact, rtol=1e-5)


def test_a_pump_of_the_fourth_degree_balances():
    pump = [500e3, 2e6, -1e8, 0, -3e10]  # rises a little first, as some do
    flow = line_flow_polynomial(KV[1:], pump, 0.08, 1e5, 1e8, 900)
    needed = 1e5 + (1e8 + valve_resistance(KV[1:], 900)) * flow**2
    np.testing.assert_allclose(pump_dp(flow, pump), needed, rtol=1e-9)


def test_no_flow_where_there_can_be_none():
    for flow in (
        line_flow([0, 50], PUMP, 7e5, 1e8, 900),  # pump gives 6 bar, 7 asked
        line_flow([0, 50], [600e3], 600e3, 0, 900),  # just balanced
        line_flow(0, PUMP, 0, 0, 900),  # valve closed, no pipe
        line_flow_points([0, 50], [0, 0.1], [6e5, 1e5], 7e5, 1e8, 900),
        line_flow_polynomial(0, PUMP, 0.07, 0, 1e8, 900),
    ):
        np.testing.assert_array_equal(flow, 0)


@given(lines, st.floats(1, 2))
def test_more_opening_more_flow(line, more):
    kv, *rest = line
    assert line_flow(kv * more, *rest) >= line_flow(kv, *rest) * (1 - 1e-12)


# Worked by hand: 1/sqrt(1/30^2 + 1/40^2) = 24; three alike: Kv / sqrt(3).
@pytest.mark.parametrize(("kv", "series", "parallel"), [([30, 40], 24, 70), ([9, 9, 9], 5.19615, 27), ([5, 0], 0, 5)])
def test_several_valves(kv, series, parallel):
    assert kv_in_series(kv) == pytest.approx(series, rel=1e-6)
    assert kv_in_parallel(kv) == pytest.approx(parallel)


@given(st.floats(1, 100), st.floats(1, 100), st.floats(500, 1500))
def test_two_valves_in_a_line_are_one_by_either_way(first, second, rho):
    together = line_flow(kv_in_series([first, second]), PUMP, 1e5, 1e8, rho)
    as_pipe = line_flow(first, PUMP, 1e5, 1e8 + resistance_of_valves([second], rho), rho)
    assert as_pipe == pytest.approx(together, rel=1e-9)


# IEC 60534-2-1:2011, equations 3 and 4, worked by hand for 5 bar constant at the inlet (p_source 1 bar, pump 4):
# FF = 0.96 - 0.28 sqrt(0.7012e5 / 221.2e5) = 0.94423; dp = 0.9^2 (5 - 0.94423 x 0.7012) bar = 3.51370 bar;
# Q = 50 sqrt(3.51370) = 93.7244 m3/h with the density of the reference water.
def test_choked_flow_at_a_constant_inlet_pressure():
    flow = choked_line_flow(50, [4e5], 1e5, 0, WATER_DENSITY, 0.9, 0.7012e5, 221.2e5)
    assert flow * 3600 == pytest.approx(93.7244, rel=1e-5)


@given(st.floats(0.5, 1), st.floats(1e3, 9e4), st.floats(0, 1e9), st.floats(1, 200))
def test_at_the_choked_flow_the_drop_is_the_choked_drop(fl, pv, upstream, kv):
    flow = choked_line_flow(kv, PUMP, 1e5, upstream, 950, fl, pv, 221e5)
    inlet = 1e5 + pump_dp(flow, PUMP) - upstream * flow**2
    choked = fl**2 * (inlet - (0.96 - 0.28 * np.sqrt(pv / 221e5)) * pv)
    assert valve_resistance(kv, 950) * flow**2 == pytest.approx(choked, rel=1e-6, abs=1.0)


def test_everything_broadcasts():
    assert line_flow(KV, PUMP, np.zeros((3, 1)), 1e8, 900).shape == (3, 21)
    assert line_flow_points(KV, [0, 0.1], [6e5, 0], np.zeros((3, 1)), 1e8, 900).shape == (3, 21)
    assert choked_line_flow(KV, PUMP, 1e5, np.zeros((3, 1)), 900, 0.9, 1e3, 2e7).shape == (3, 21)
    assert pressure_budget(np.zeros((3, 1)), PUMP, [0, 1e5], 1e8).valve.shape == (3, 2)


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        (
            lambda: line_flow(50, [6e5, 0, 1e8], 0, 0, 900),
            "the third pump coefficient must be at most 0 Pa/(m³/s)², but got 1e+08.",
        ),
        (
            lambda: line_flow(50, [6e5, 0, 0, 0], 0, 0, 900),
            "the number of pump coefficients must be from 1 to 3 numbers, but got 4.",
        ),
        (
            lambda: line_flow_points(100, [0, 0.01], [6e5, 5e5], 0, 0, 900),
            "pressure left at the end of the pump curve must be at most 0 Pa; give more of the curve, "
            "but got 488326.",
        ),
        (
            lambda: choked_line_flow(50, PUMP, 1e5, 0, 900, 0.9, 3e7, 2e7),
            "pv over pc must be at least 0 and below 1 (a fraction or ratio), but got 1.5.",
        ),
        (
            lambda: line_pressure_drop_ratio(50, [1e5], 2e5, 0, 900),
            "pump pressure at no flow less static_dp must be above 0 Pa, but got -100000.",
        ),
    ],
)
def test_refusals(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence
