"""Valve Reynolds number, its factor, and viscous flow both ways."""

import numpy as np
import pytest
from fluids.control_valve import Reynolds_factor
from hypothesis import given
from hypothesis import strategies as st

from valvecalc.capacity_liquid import liquid_kv
from valvecalc.gas import gas_density, mass_flow_from_standard
from valvecalc.reynolds import N4, reynolds_factor, trim_number, valve_reynolds
from valvecalc.scope import FULL_SIZE_LIMIT, relative_capacity
from valvecalc.units import av_from_kv
from valvecalc.viscous import viscous_flow, viscous_kv

CO2_ACTUAL = mass_flow_from_standard(3800 / 3600, 0.04401) / gas_density(680e3, 433, 0.04401, 0.991)
FULL_SIZE = {"rho": 900.0, "fl": 0.9, "fd": 0.46, "d": 0.025, "kv_rated": 10.0}  # C_rated/(N18 d²) = 0.0185
REDUCED = {"rho": 900.0, "fl": 0.9, "fd": 0.46, "d": 0.025, "kv_rated": 2.0}  # 0.0037


@pytest.mark.parametrize(
    ("flow", "kv", "nu", "fl", "fd", "d", "printed", "more"),
    # ISA-75.01.01-2012, annex E: printed to three figures; more by the independent solver (N4 7.07e-2 and, for the
    # gas, N9 24.6 and Zs 0.994 as printed, hence 0.5 %).
    [
        (0.1, 164.996, 3.26e-7, 0.90, 0.46, 0.150, 2.97e6, 2.96702e6),
        (0.1, 238.058, 3.26e-7, 0.60, 0.98, 0.100, 6.60e6, 6.59695e6),
        (CO2_ACTUAL / 0.994, 67.2948, 2.526e-6, 0.85, 0.42, 0.100, 1.40e6, 1.39874e6),
    ],
)
def test_valve_reynolds(flow, kv, nu, fl, fd, d, printed, more):
    number = valve_reynolds(flow, kv, nu, fl, fd, d)
    assert number == pytest.approx(printed, rel=5e-3)
    assert number == pytest.approx(more, rel=2e-3)


def test_constant_comes_out_as_printed():
    # N4 7.07e-2 for Kv, m³/h and mm (table 1 of ISA-75.01.01-2012): N4 / 3600 / √(Av per Kv).
    assert N4 / 3600 / float(av_from_kv(1)) ** 0.5 == pytest.approx(7.07e-2, rel=7e-4)


@pytest.mark.parametrize(
    ("re", "kv_rated", "expected", "tolerance"),
    # `fluids` test case FL 0.98, C 0.015483, d 15 mm; also the independent solver. For the
    # full-size form at Re 8 the library's 43.6 is the standard's cap of 1.
    [
        (1202, 0.015483, 0.714875, 1e-6),
        (8, 0.015483, 0.0833955, 1e-6),
        (1202, 10.0, 0.987533, 1e-5),
        (8, 10.0, 1.0, 1e-12),
        (1e4, 0.015483, 1.0, 1e-12),
        (0, 0.015483, 0.0, 1e-12),
    ],
)
def test_reynolds_factor(re, kv_rated, expected, tolerance):
    assert reynolds_factor(re, 0.015483, 0.98, 0.015, kv_rated) == pytest.approx(expected, abs=tolerance)


@given(st.floats(10, 9999), st.floats(1e-6, 0.01), st.floats(0.3, 1.0))
def test_reduced_trim_factor_agrees_with_the_reference_library(re, c, fl):
    # The factor alone, reduced trim: there the library has the standard's form.
    theirs = Reynolds_factor(FL=fl, C=c * 225, d=15.0, Rev=re, full_trim=False)
    assert reynolds_factor(re, c * 225, fl, 0.015, c * 225) == pytest.approx(theirs, rel=1e-6)


def test_trim_number_changes_over_at_the_limit():
    # 0.016 · 0.864978 · 625 = 8.64978, by hand; n = N2/(C/d²)² with 1.60e-3 at C 5: 25; 1 + 140 (0.008)^⅔ = 6.6.
    assert relative_capacity(8.64978, 0.025) == pytest.approx(FULL_SIZE_LIMIT)
    assert trim_number(5.0, 0.025, 8.7) == pytest.approx(25.0, rel=1e-3)
    assert trim_number(5.0, 0.025, 8.6) == pytest.approx(6.6, rel=1e-6)


@pytest.mark.parametrize(
    ("nu", "kv", "re", "fr"),
    # Independent solver, full-size form, 1 m³/h from 5 to 4 bar, d 25; printed constants.
    [(1e-4, 1.04823, 334.952, 0.905444), (1e-3, 1.13881, 32.1376, 0.833425)],
)
def test_viscous_liquid(nu, kv, re, fr):
    assert viscous_kv(1 / 3600, 1e5, nu=nu, **FULL_SIZE) == pytest.approx(kv, rel=5e-4)
    assert viscous_flow(kv, 1e5, nu=nu, **FULL_SIZE) == pytest.approx(1 / 3600, rel=5e-4)
    assert valve_reynolds(1 / 3600, kv, nu, 0.9, 0.46, 0.025) == pytest.approx(re, rel=1e-3)
    assert reynolds_factor(re, kv, 0.9, 0.025, 10.0) == pytest.approx(fr, rel=1e-3)


def test_reduced_laminar_flow_by_hand():
    # Re < 10, reduced: q = FR = 0.026/FL √(n Re_t q) gives q = (0.026/FL)² n Re_t. Kv 1, d 25, ν 0.01, 1 bar, 900:
    # Q_t = 2.77653e-5 √(1e5/900) = 2.92672e-4; jet (C FL)^½ = √(2.49888e-5) = 4.99887e-3; N4 = 1.34186;
    # approach ≈ 1.0003; Re_t = 1.34186·0.46·2.92672e-4/(0.01·4.99887e-3)·1.0003 = 3.6150;
    # n = 1 + 140 (1/625)^⅔ = 2.9152; q = (0.0288889)² · 2.9152 · 3.6150 = 8.795e-3.
    flow = viscous_flow(1.0, 1e5, nu=0.01, **REDUCED)
    assert flow == pytest.approx(8.795e-3 * 2.92672e-4, rel=2e-3)


def test_thin_liquids_are_turbulent():
    # At line size, unchoked, the two ways must meet: water-thin liquid, Re above 10 000.
    thin = viscous_kv(5 / 3600, 1e5, nu=1e-7, **FULL_SIZE)
    assert valve_reynolds(5 / 3600, thin, 1e-7, 0.9, 0.46, 0.025) > 1e4
    assert thin == pytest.approx(liquid_kv(5 / 3600, 5e5, 4e5, rho=900, pv=0, pc=3e6, fl=0.9), rel=1e-12)


# Where the factor is smooth: reduced trim laminar (below 10) or well above the step of the standard's FR at 10.
@given(st.floats(0.05, 2.0), st.sampled_from([1e-7, 1e-6, 1e-5, 0.05, 0.2]), st.floats(5e4, 5e5))
def test_viscous_flow_undoes_viscous_coefficient(kv, nu, dp):
    flow = viscous_flow(kv, dp, nu=nu, **REDUCED)
    number = valve_reynolds(flow, kv, nu, 0.9, 0.46, 0.025)
    if number < 8 or number > 500:
        assert viscous_kv(flow, dp, nu=nu, **REDUCED) == pytest.approx(kv, rel=1e-9)


@given(st.floats(0.1, 8.0), st.floats(1e-7, 1e-3), st.sampled_from([2.0, 10.0]))
def test_thicker_liquid_never_flows_faster(kv, nu, kv_rated):
    # On either side of Re = 10; there the standard's FR steps up as the flow slows (capped at 1 below 10).
    valve = {**FULL_SIZE, "kv_rated": kv_rated}
    thicker = nu * np.geomspace(1, 1e4, 60)
    flow = viscous_flow(kv, 1e5, nu=thicker, **valve)
    number = valve_reynolds(flow, kv, thicker, 0.9, 0.46, 0.025)
    for side in (number > 10.5, number < 9.5):
        assert np.all(np.diff(flow[side]) <= 1e-15)
    assert np.all((flow > 0) & np.isfinite(flow))


def test_factor_steps_at_ten():
    # By hand, full size, FL 0.9, n 625: 1 − 0.33·0.948683/5·3 = 0.812161 at 10, and min(0.0289 √6250, 1) = 1 below.
    just_below, at = reynolds_factor([9.999, 10.0], 1.0, 0.9, 0.025, 10.0)
    assert just_below == 1
    assert at == pytest.approx(0.812161, abs=2e-5)


def test_laminar_flow_is_proportional_to_the_drop():
    # Hagen and Poiseuille: laminar flow is proportional to Δp and to 1/ν.
    one, double = viscous_flow(0.5, [1e5, 2e5], nu=0.2, **REDUCED)
    assert double == pytest.approx(2 * one, rel=1e-9)
    assert viscous_flow(0.5, 1e5, nu=0.4, **REDUCED) == pytest.approx(one / 2, rel=1e-9)


@pytest.mark.parametrize(
    ("call", "words"),
    [
        (lambda: valve_reynolds(1, 0, 1e-6, 0.9, 0.46, 0.1), "kv must be above 0"),
        (lambda: valve_reynolds(1, 1, 0, 0.9, 0.46, 0.1), "nu must be above 0 m²/s"),
        (lambda: reynolds_factor(-1, 1, 0.9, 0.1, 1), "re must be at least 0"),
        (lambda: viscous_flow(1, 0, nu=1e-4, **REDUCED), "dp must be above 0 Pa"),
        (lambda: viscous_kv(0, 1e5, nu=1e-4, **REDUCED), "flow must be above 0"),
        (lambda: viscous_kv(1, 1e5, nu=10.0, **REDUCED), "take a larger size d or drop dp"),
    ],
)
def test_refusals_are_sentences(call, words):
    with pytest.raises(ValueError, match=r"\.$") as refusal:
        call()
    assert words in str(refusal.value)
