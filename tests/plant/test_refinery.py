"""The invented plant held against the equations: each valve's line, sizes, pressures, actuator and bench set go together.

What is asked of a valve is common practice, no source, unless a row names one; how it is worked out is valvecalc's.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from CoolProp import CoolProp

from lessons.refinery import VALVES, gas_of, pressures_at
from lessons.refinery.kinds import Drive, Gas, Liquid, Valve
from lessons.units.quantities import to_base
from valvecalc.actuator import actuator_from_bench_set
from valvecalc.body_styles import BODY_STYLES, typical_kv
from valvecalc.characteristic import equal_percentage_travel
from valvecalc.force_balance import fail_position, stem_forces
from valvecalc.gas import gas_density, gas_kv
from valvecalc.line import line_flow
from valvecalc.liquid import choked_drop, liquid_flow, liquid_kv
from valvecalc.plug_forces import circle_area, seat_force, unbalanced_force
from valvecalc.steam import saturation_temperature
from valvecalc.units import WATER_DENSITY
from valvecalc.water import vapour_pressure, water_density

ATMOSPHERE = 101325.0
LINES = [v for v in VALVES.values() if v.line]
LIQUIDS = [v for v in VALVES.values() if isinstance(v.fluid, Liquid)]
GASES = [v for v in VALVES.values() if isinstance(v.fluid, Gas)]
DRIVEN = [v for v in VALVES.values() if v.drive]
TRAVEL_OF: dict[str, Callable[[float, float], Any]] = {
    "equal percentage": equal_percentage_travel,
    "linear": lambda phi, r: (phi - 1 / r) / (1 - 1 / r),
    "quick opening": lambda phi, _: phi**2,
}
ON_OFF = {"XV-5104"}  # stands wide open
FLASHES = {"LV-6120"}  # lesson 06: it flashes whenever its condensate is hot


def tag_of(valve: Any) -> str:
    return valve.tag if isinstance(valve, Valve) else ""


def normal(valve: Valve) -> tuple[float, float]:
    """Return the pressures before and after at normal flow [Pa gauge]."""
    if valve.line:
        before, after = pressures_at(valve.tag, to_base(valve.normal_flow) / to_base(valve.line.full_flow))
        return before * 1e5, after * 1e5
    assert valve.ends
    return to_base(valve.ends.before), to_base(valve.ends.after)


def liquid_of(valve: Valve) -> dict[str, float]:
    assert isinstance(valve.fluid, Liquid)
    fluid = valve.fluid
    return {
        "rho": to_base(fluid.density),
        "pv": to_base(fluid.vapour_pressure),
        "pc": to_base(fluid.critical_pressure),
        "fl": valve.fl,
    }


def sizes_of(valve: Valve) -> dict[str, float]:
    return {"d": to_base(valve.size), "d1": to_base(valve.pipe), "d2": to_base(valve.pipe)}


def needed_kv(valve: Valve) -> float:
    """Return the flow coefficient for the normal flow, reducers counted."""
    p1, p2 = (pressure + ATMOSPHERE for pressure in normal(valve))
    flow = to_base(valve.normal_flow)
    if isinstance(valve.fluid, Liquid):
        return float(liquid_kv(flow, p1, p2, **liquid_of(valve), **sizes_of(valve)))
    gas = valve.fluid
    rho = gas_density(p1, to_base(gas.temperature), gas.molar_mass, gas.z)
    return float(gas_kv(flow, p1, p2, rho=rho, gamma=gas.gamma, xt=valve.xt, **sizes_of(valve)))


def test_every_valve_is_whole() -> None:
    """Each has one kind of surroundings; those without a drive are rotary or three-way, and say so."""
    for valve in VALVES.values():
        assert bool(valve.line) != bool(valve.ends), valve.tag
        assert valve.style in BODY_STYLES
        assert bool(valve.drive) != any(word in valve.body for word in ("butterfly", "eccentric", "three-way")), (
            valve.tag
        )
        assert (valve.xfz is None) == (isinstance(valve.fluid, Gas) or "three-way" in valve.body)


@pytest.mark.parametrize("valve", VALVES.values(), ids=tag_of)
def test_pressures_can_be(valve: Valve) -> None:
    before, after = normal(valve)
    assert before > after > -ATMOSPHERE
    if valve.line:
        line = valve.line
        static = to_base(line.static)
        assert to_base(line.pump_shutoff) > to_base(line.pump_at_full) > static >= 0
        assert after > static, "behind the valve stands at least the line's static pressure"
        assert 0 < to_base(valve.normal_flow) < to_base(line.full_flow)
    else:
        assert valve.ends
        assert to_base(valve.ends.shut_dp) <= to_base(valve.ends.before), "no drop is larger than the gauge before it"


@pytest.mark.parametrize("valve", LINES, ids=tag_of)
def test_wide_open_it_passes_the_full_flow_of_its_line(valve: Valve) -> None:
    """Pump, pipework and the rated coefficient meet at the full flow, with the line's own liquid; to 3 %."""
    line = valve.line
    assert line
    full = to_base(line.full_flow)
    pump = np.array(
        [to_base(line.pump_shutoff), 0.0, (to_base(line.pump_at_full) - to_base(line.pump_shutoff)) / full**2]
    )
    pipe = to_base(line.pipe_at_full) / full**2
    flow = line_flow(to_base(valve.rated_kv), pump, to_base(line.static), pipe, liquid_of(valve)["rho"])
    assert float(flow) == pytest.approx(full, rel=0.03)


@pytest.mark.parametrize("valve", VALVES.values(), ids=tag_of)
def test_it_works_in_the_middle_of_its_travel(valve: Valve) -> None:
    """20 to 80 % at normal flow (common practice, no source). A mixing valve shares: both ends pass all of its Kv."""
    kv = needed_kv(valve)
    if "three-way" in valve.body:
        assert kv == pytest.approx(to_base(valve.rated_kv), rel=0.1)
        return
    phi = kv / to_base(valve.rated_kv)
    if valve.tag in ON_OFF:
        assert 0.5 <= phi <= 1
        return
    assert 1 / valve.rangeability < phi < 1
    assert 0.2 <= float(TRAVEL_OF[valve.characteristic](phi, valve.rangeability)) <= 0.8


@pytest.mark.parametrize("valve", VALVES.values(), ids=tag_of)
def test_capacity_goes_with_body_and_size(valve: Valve) -> None:
    """Cv/d² from half (reduced trim) to a fifth above the typical of its style: ISA-S75.01-1985 table, from memory."""
    assert 0.5 <= to_base(valve.rated_kv) / float(typical_kv(valve.style, to_base(valve.size))) <= 1.2
    assert to_base(valve.size) <= to_base(valve.pipe)
    if valve.drive:
        assert 0.6 <= to_base(valve.drive.port) / to_base(valve.size) <= 1.0


@pytest.mark.parametrize("valve", VALVES.values(), ids=tag_of)
def test_velocity_is_sane(valve: Valve) -> None:
    """Liquid up to 4 m/s in the pipe and 10 in the body, gas up to Mach 0.3 and 0.5 (common practice, no source)."""
    flow, (p1, p2) = to_base(valve.normal_flow), normal(valve)
    body, pipe = float(circle_area(to_base(valve.size))), float(circle_area(to_base(valve.pipe)))
    if isinstance(valve.fluid, Liquid):
        assert flow / pipe <= 4.0
        assert flow / body <= 10.0
        return
    gas = valve.fluid
    temperature, mass = to_base(gas.temperature), gas.molar_mass
    volume = flow / float(gas_density(p2 + ATMOSPHERE, temperature, mass, gas.z))
    sound = math.sqrt(gas.gamma * gas.z * 8.314462 * temperature / mass)
    assert volume / pipe <= 0.3 * sound
    assert volume / body <= 0.5 * sound
    assert p1 > p2


@pytest.mark.parametrize("valve", LIQUIDS, ids=tag_of)
def test_liquid_stays_liquid_where_it_should(valve: Valve) -> None:
    """It reaches the valve unboiled and does not choke on a quiet day, even with the FL of the open valve."""
    p1, p2 = (pressure + ATMOSPHERE for pressure in normal(valve))
    liquid = liquid_of(valve)
    assert liquid["pv"] < p1
    assert (p2 < liquid["pv"]) == (valve.tag in FLASHES)
    if valve.tag not in FLASHES:
        assert p1 - p2 < float(choked_drop(p1, liquid["pv"], liquid["pc"], valve.fl))


@pytest.mark.parametrize("valve", [v for v in LIQUIDS if v.xfz], ids=tag_of)
def test_cavitation_begins_before_choking(valve: Valve) -> None:
    """xFz lies below FL², and within a third of the estimate for its opening (IEC 60534-8-4, from memory)."""
    assert valve.xfz
    assert valve.xfz < valve.fl**2
    cv = needed_kv(valve) / 0.864978
    estimate = 0.90 / math.sqrt(1 + 3 * BODY_STYLES[valve.style].fd * math.sqrt(cv / (1.17 * valve.fl)))
    assert valve.xfz == pytest.approx(estimate, rel=1 / 3)


@pytest.mark.parametrize(
    "valve", [v for v in LIQUIDS if "water" in v.fluid.name or "condensate" in v.fluid.name], ids=tag_of
)
def test_water_is_water(valve: Valve) -> None:
    """Vapour pressure and density at its temperature: IAPWS-95, to 2 % and 0.2 %."""
    assert isinstance(valve.fluid, Liquid)
    temperature = to_base(valve.fluid.temperature)
    assert to_base(valve.fluid.vapour_pressure) == pytest.approx(float(vapour_pressure(temperature)), rel=0.02)
    assert to_base(valve.fluid.density) == pytest.approx(float(water_density(temperature)), rel=0.002)


def test_steam_is_dry_steam() -> None:
    """Before PV-7110: density and ratio of specific heats (that of the speed of sound) by IAPWS-95, to 1 %."""
    valve, gas = VALVES["PV-7110"], gas_of("PV-7110")
    p1, temperature = normal(valve)[0] + ATMOSPHERE, to_base(gas.temperature)
    assert temperature > float(saturation_temperature(p1)) + 10
    rho, speed = (CoolProp.PropsSI(what, "P", p1, "T", temperature, "Water") for what in ("D", "A"))
    assert float(gas_density(p1, temperature, gas.molar_mass, gas.z)) == pytest.approx(rho, rel=0.01)
    assert gas.gamma == pytest.approx(speed**2 * rho / p1, rel=0.01)


# ---- actuators ----------------------------------------------------------------------------------------------------


def worst_drop(valve: Valve) -> tuple[float, float]:
    """Return the pressures before and after the shut valve at the worst [Pa gauge]."""
    if valve.line:
        return to_base(valve.line.pump_shutoff), to_base(valve.line.static)
    assert valve.ends
    before = to_base(valve.ends.before)
    return before, before - to_base(valve.ends.shut_dp)


def action_of(valve: Valve) -> str:
    return {"closed": "reverse", "open": "direct"}[valve.fails]


def seat_load(valve: Valve, drive: Drive) -> float:
    """Return the load on the seat at its worst drop, air as it is when shut, friction against it [N/m]."""
    actuator = actuator_from_bench_set(
        action_of(valve),
        to_base(drive.area),
        to_base(drive.bench_low),
        to_base(drive.bench_high),
        to_base(drive.travel),
    )
    stem, port = circle_area(to_base(drive.stem)), circle_area(to_base(drive.port))
    fluid = unbalanced_force(*worst_drop(valve), port, flow_to=drive.flow_to, stem_area=stem)
    air = to_base(drive.supply) if action_of(valve) == "direct" else 0.0
    total = stem_forces(actuator, 0.0, air, fluid, to_base(drive.friction), "closing").total
    return -float(total) / float(seat_force(to_base(drive.port), 1.0))


@pytest.mark.parametrize("valve", DRIVEN, ids=tag_of)
def test_it_shuts_against_its_own_line(valve: Valve) -> None:
    """Friction and the stem's own area counted: the seat load wanted is there."""
    assert valve.drive
    assert seat_load(valve, valve.drive) >= to_base(valve.drive.seat_load)
    assert fail_position(action_of(valve)) == valve.fails


@pytest.mark.parametrize("valve", [v for v in DRIVEN if v.found], ids=tag_of)
def test_what_lesson_08_finds_does_not_shut(valve: Valve) -> None:
    """The two stories: as found the plug stays off its seat."""
    assert valve.found
    assert valve.tag in ("FV-6204", "FV-2107")
    assert seat_load(valve, valve.found) < 0


@pytest.mark.parametrize("valve", DRIVEN, ids=tag_of)
def test_it_opens_fully_against_friction(valve: Valve) -> None:
    """By its supply against spring and fluid (flow to close), or by its spring; no line pressure to help."""
    drive = valve.drive
    assert drive
    low, high, supply = (to_base(q) for q in (drive.bench_low, drive.bench_high, drive.supply))
    rub, area = to_base(drive.friction), to_base(drive.area)
    if action_of(valve) == "direct":
        assert low * area > rub
        return
    held = 0.0
    if drive.flow_to == "close":
        shut = worst_drop(valve)
        held = (shut[0] - shut[1]) * float(circle_area(to_base(drive.port)))  # more than when it is open
    assert supply * area >= high * area + rub + held * 0.5
    assert high > low >= 0


@pytest.mark.parametrize("valve", DRIVEN, ids=tag_of)
def test_flow_direction_goes_with_its_fl(valve: Valve) -> None:
    """The style whose FL and xT are taken is that of the way the flow comes: IEC 60534-2-1:2011, table D.2."""
    assert valve.drive
    way = {"open": ("flow to open", "flow outward"), "close": ("flow to close", "flow inward")}[valve.drive.flow_to]
    assert valve.style.endswith(way)


def test_fv_1204_by_hand() -> None:
    """18 m³/h of 24: share² 0.5625. Before 12 − 1.5·0.5625 = 11.156, after 6.5 + 3·0.5625 = 8.1875 bar; drop 2.969.

    Kv = 18·√(0.9929/2.969) = 10.41 without reducers (992/999.1 is 0.9929); FL 0.80 of table D.2, flow to close.
    """
    valve = VALVES["FV-1204"]
    assert pressures_at("FV-1204", 0.75) == pytest.approx((11.15625, 8.1875))
    p1, p2 = (p + ATMOSPHERE for p in normal(valve))
    assert float(liquid_kv(18 / 3600, p1, p2, **liquid_of(valve))) == pytest.approx(10.41, rel=1e-3)
    assert valve.fl == 0.80
    assert float(liquid_flow(25, p1, p2, **liquid_of(valve))) * 3600 == pytest.approx(
        25 * math.sqrt(2.969 * 999.103 / 992), rel=1e-3
    )
    assert pytest.approx(999.1, abs=0.1) == WATER_DENSITY
