"""Force of the fluid on the plug and force on the seat, against hand arithmetic in US units."""

import numpy as np
import pytest

from tests.valvecalc.in_pounds import si, us
from valvecalc.plug_forces import balanced_force, circle_area, seat_force, unbalanced_force

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
@pytest.mark.parametrize(("us_load", "si_load"), [(20, 3.503), (40, 7.005), (80, 14.01), (100, 17.51), (300, 52.54)])
def test_seat_load_units(us_load, si_load):
    both = seat_force(si(2, "in"), np.array([si(us_load, "lbf/in"), si_load * 1000]))
    assert both[0] == pytest.approx(both[1], rel=5e-4)


BAD = [
    (lambda: unbalanced_force(1, 0, 1, 2), "stem area must be no larger"),
    (lambda: unbalanced_force(1, 0, 1, flow_to="over"), "flow direction must be one of open, close"),
    (lambda: unbalanced_force(-2e5, 0, 1), "inlet pressure must be at least -101325 Pa gauge"),
]


@pytest.mark.parametrize(("call", "said"), BAD)
def test_bad_input(call, said):
    with pytest.raises(ValueError, match=said.replace("(", r"\(")):
        call()
