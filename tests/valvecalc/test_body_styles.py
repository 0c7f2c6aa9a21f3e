"""Typical factors of body styles, and capacity for a size."""

import pytest

from valvecalc.body_styles import BODY_STYLES, typical_kv
from valvecalc.gas import gas_flow
from valvecalc.liquid import liquid_flow
from valvecalc.units import cv_from_kv

# IEC 60534-2-1:2011 (ISA-75.01.01-2012), table D.2, the rows the lessons need.
TABLE_D2 = [
    ("globe, contoured plug, flow to open", 0.90, 0.72, 0.46),
    ("globe, contoured plug, flow to close", 0.80, 0.55, 1.00),
    ("globe, double seated, ported plug", 0.90, 0.75, 0.28),
    ("globe, four-port cage, flow outward", 0.90, 0.75, 0.41),
    ("angle, contoured plug, flow to close", 0.80, 0.65, 1.00),
    ("eccentric spherical plug, flow to open", 0.85, 0.60, 0.42),
    ("butterfly, centred disc, 70°", 0.62, 0.35, 0.57),
    ("segmented ball", 0.60, 0.30, 0.98),
]


@pytest.mark.parametrize(("style", "fl", "xt", "fd"), TABLE_D2)
def test_factors(style, fl, xt, fd):
    assert BODY_STYLES[style][:3] == (fl, xt, fd)


@pytest.mark.parametrize("style", BODY_STYLES)
def test_every_style_goes_into_the_equations(style):
    factors = BODY_STYLES[style]
    kv = typical_kv(style, 0.1)
    assert liquid_flow(kv, 6e5, 4e5, rho=998, pv=2.3e3, pc=22.064e6, fl=factors.fl) > 0
    assert gas_flow(kv, 6e5, 4e5, rho=7, gamma=1.4, xt=factors.xt) > 0


def test_capacity_of_a_butterfly():
    # ISA-75.01.01-2012, example 5: 4 in butterfly, Cv 365 at 70°; the globe's 11 is from memory.
    assert cv_from_kv(typical_kv("butterfly, centred disc, 70°", 0.1016)) == pytest.approx(365, rel=2e-3)
    ratio = typical_kv("butterfly, centred disc, 70°", 0.1) / typical_kv("globe, contoured plug, flow to open", 0.1)
    assert ratio == pytest.approx(2.1, abs=0.1)


def test_refusal_is_a_sentence():
    with pytest.raises(ValueError, match=r"style must be one of globe, contoured plug, .*, but got 'gate'\.$"):
        typical_kv("gate", 0.1)
