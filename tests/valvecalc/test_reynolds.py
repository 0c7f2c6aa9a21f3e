"""Valve Reynolds number, against the worked examples of the sizing standard."""

import pytest

from valvecalc.gas import gas_density, mass_flow_from_standard
from valvecalc.reynolds import N4, valve_reynolds
from valvecalc.units import av_from_kv

CO2_ACTUAL = mass_flow_from_standard(3800 / 3600, 0.04401) / gas_density(680e3, 433, 0.04401, 0.991)


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
    ("call", "words"),
    [
        (lambda: valve_reynolds(1, 0, 1e-6, 0.9, 0.46, 0.1), "kv must be above 0"),
        (lambda: valve_reynolds(1, 1, 0, 0.9, 0.46, 0.1), "nu must be above 0 m²/s"),
        (lambda: valve_reynolds(-1, 1, 1e-6, 0.9, 0.46, 0.1), "flow must be at least 0 m³/s"),
    ],
)
def test_refusals_are_sentences(call, words):
    with pytest.raises(ValueError, match=r"\.$") as refusal:
        call()
    assert words in str(refusal.value)
