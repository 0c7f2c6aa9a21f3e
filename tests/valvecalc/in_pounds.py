"""The actuator of the tests in pounds and inches, and the way between trade units and SI.

The numbers are our own, worked by hand: no worked actuator example was found in the open handbooks, so each row is worked
where it stands, in pounds and inches, from force = pressure times area, area of a circle and Hooke's law, while the library
is fed SI. One pound-force is 4.4482216 N by definition; pint converts.
"""

import pint
from hypothesis import assume
from hypothesis import strategies as st

from valvecalc.actuator import actuator_from_bench_set

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


ACTION = st.sampled_from(["direct", "reverse"])


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
