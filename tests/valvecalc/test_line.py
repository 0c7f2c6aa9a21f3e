"""The pumped line: closed form against bisection, published and worked numbers, a bypass."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.characteristic import equal_percentage, linear
from valvecalc.installed import installed_flow
from valvecalc.line import line_flow, pump_dp, valve_resistance
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


def drop_ratio(kv, pump, static_dp, pipe, rho):
    """Drop of the valve at full opening over its drop near closing, by definition."""
    flow = line_flow(kv, pump, static_dp, pipe, rho)
    return valve_resistance(kv, rho) * flow * flow / (pump[0] - static_dp)


def test_pressure_drop_ratio_of_the_exercise():
    found = drop_ratio(kv_from_cv(2), [100 * PSI], 0, 2 * PSI / GPM**2, 1.1 * WATER_DENSITY)
    assert found == pytest.approx(0.120879, rel=1e-5)


pumps = st.tuples(st.floats(3e5, 2e6), st.floats(-2e6, 0), st.floats(-1e9, 0))
lines = st.tuples(st.floats(0, 300), pumps, st.floats(-1e5, 2.9e5), st.floats(1e7, 1e10), st.floats(500, 1500))


@given(lines)
def test_the_pressures_balance(line):
    kv, pump, static_dp, pipe, rho = line
    flow = line_flow(kv, pump, static_dp, pipe, rho)
    if kv > 1e-3:
        # The valve takes by its own law what the others leave; rounding counts against the whole pressure.
        left = pump_dp(flow, pump) - static_dp - pipe * flow * flow
        assert valve_resistance(kv, rho) * flow**2 == pytest.approx(left, abs=1e-6 * pump[0])


@given(lines)
def test_closed_form_equals_bisection(line):
    kv, pump, static_dp, pipe, rho = line
    flow = line_flow(kv, pump, static_dp, pipe, rho)
    low, high = 0.0, 1.0
    for _ in range(60):
        middle = (low + high) / 2
        # Pressure to spare, times Kv², which keeps a closed valve finite.
        spare = float(pump_dp(middle, pump) - static_dp - pipe * middle**2) * kv**2
        low, high = (middle, high) if spare > float(valve_resistance(1, rho)) * middle**2 else (low, middle)
    assert low == pytest.approx(float(flow), rel=1e-9, abs=1e-15)


@given(lines)
def test_without_a_linear_term_the_line_is_its_pressure_drop_ratio(line):
    kv, pump, static_dp, pipe, rho = line
    straight, phi = [pump[0], 0, pump[2]], linear(np.linspace(0, 1, 11))
    ratio = drop_ratio(kv + 1, straight, static_dp, pipe, rho)
    flow = line_flow((kv + 1) * phi, straight, static_dp, pipe, rho)
    np.testing.assert_allclose(flow / flow[-1], installed_flow(phi, ratio), rtol=1e-9)


def test_no_flow_where_there_can_be_none():
    for flow in (
        line_flow([0, 50], PUMP, 7e5, 1e8, 900),  # pump gives 6 bar, 7 asked
        line_flow([0, 50], [600e3], 600e3, 0, 900),  # just balanced
        line_flow(0, PUMP, 0, 0, 900),  # valve closed, no pipe
    ):
        np.testing.assert_array_equal(flow, 0)


@given(lines, st.floats(1, 2))
def test_more_opening_more_flow(line, more):
    kv, *rest = line
    assert line_flow(kv * more, *rest) >= line_flow(kv, *rest) * (1 - 1e-12)


def test_valves_side_by_side():
    """Flows add at the same drop, so Kv do (worked by hand): 30 and 40 pass what 70 does, and 5 with one shut what 5 does."""
    for side_by_side, together in (([30, 40], 70), ([9, 9, 9], 27), ([5, 0], 5)):
        flows = line_flow(side_by_side, [2e5], 0, 0, 900)
        assert line_flow(together, [2e5], 0, 0, 900) == pytest.approx(flows.sum(), rel=1e-12)


def test_everything_broadcasts():
    assert line_flow(KV, PUMP, np.zeros((3, 1)), 1e8, 900).shape == (3, 21)


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
        (lambda: line_flow(50, PUMP, 0, -1, 900), "pipe_resistance must be at least 0 Pa/(m³/s)², but got -1."),
        (lambda: valve_resistance(0, 900), "kv must be at least 1e-09 m³/h at 1 bar, but got 0."),
    ],
)
def test_refusals(call, sentence):
    with pytest.raises(ValueError, match="must be") as refusal:
        call()
    assert str(refusal.value) == sentence
