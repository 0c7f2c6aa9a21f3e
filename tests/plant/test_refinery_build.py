"""What the valves are made of, held against their lines: no body sees more than its class and metal may hold."""

from __future__ import annotations

import pytest

from lessons.refinery import VALVES
from lessons.refinery.build import (
    BUILDS,
    CONDUCTIVITY,
    HEAT_TO_AIR,
    NECK_DIAMETER,
    NECK_LENGTH,
    NECK_METAL,
    PTFE_LIMIT,
    SHADE,
)
from lessons.refinery.kinds import Liquid
from lessons.units.quantities import Q, to_base
from valvecalc.neck_heat import fin_parameter, neck_temperature
from valvecalc.rating import CLASSES, MATERIALS, lightest_class, rated_pressure
from valvecalc.seat_leakage import LEAKAGE_TESTS

TAGS = list(VALVES)


def test_every_valve_has_its_build() -> None:
    assert set(BUILDS) == set(VALVES)


@pytest.mark.parametrize("tag", TAGS)
def test_words_are_those_of_the_tables(tag: str) -> None:
    build = BUILDS[tag]
    assert build.material in MATERIALS
    assert build.pressure_class in CLASSES
    assert build.leakage_class in LEAKAGE_TESTS
    assert build.bonnet in ("standard", "extended")


@pytest.mark.parametrize("tag", TAGS)
def test_body_holds_what_its_line_can_bring(tag: str) -> None:
    """Design pressure and temperature lie above those of the line, and inside the rating (ASME B16.34, second-hand)."""
    valve, build = VALVES[tag], BUILDS[tag]
    pressure, temperature = (to_base(q) for q in build.design)
    most = valve.line.pump_shutoff if valve.line else valve.ends.before if valve.ends else Q(0, "bar")
    assert pressure > to_base(most)
    assert temperature > to_base(valve.fluid.temperature)
    assert pressure <= float(rated_pressure(build.material, build.pressure_class, temperature))


@pytest.mark.parametrize("tag", ["FV-6204", "FV-2135"])
def test_class_300_is_there_for_a_reason(tag: str) -> None:
    pressure, temperature = (to_base(q) for q in BUILDS[tag].design)
    wanted = lightest_class("carbon steel", pressure, temperature)
    assert (tag, wanted) in (("FV-6204", "300"), ("FV-2135", "300"))


@pytest.mark.parametrize("tag", TAGS)
def test_packing_stands_the_heat_that_reaches_it(tag: str) -> None:
    """PTFE to 232 °C (TM 5-810-15, table 8-3); with an extended bonnet the packing is cooler than the body."""
    valve, build = VALVES[tag], BUILDS[tag]
    limit, hot = to_base(PTFE_LIMIT), to_base(valve.fluid.temperature)
    assert isinstance(valve.fluid, Liquid) or hot < limit
    if build.bonnet == "standard":
        assert to_base(build.design[1]) < limit
        return
    perimeter = 3.14159265 * to_base(NECK_DIAMETER)
    fin = float(fin_parameter(HEAT_TO_AIR, perimeter, CONDUCTIVITY, to_base(NECK_METAL)))
    length = to_base(NECK_LENGTH)
    bare, wrapped = (float(neck_temperature(length, length, c, fin, hot, to_base(SHADE))) for c in (0.0, length))
    assert bare < limit - 20, "bare it is right with room to spare"
    assert wrapped > limit, "wrapped to the top it is too hot: the story of lesson 16"
