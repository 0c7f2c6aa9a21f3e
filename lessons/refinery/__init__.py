"""Ostrel Point, the invented refinery: its control valves and the lines they sit in. The only scenario data.

Tags follow ISA-5.1: F flow, L level, P pressure, T temperature; V the valve. Pressures are gauge unless a name says
otherwise. `tests/plant/test_refinery.py` holds the numbers of each valve against each other. What a valve is made of
and what is stamped on it stands in `build.py`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from lessons.refinery.kinds import Drive, Ends, Gas, Liquid, PumpedLine, Valve
from lessons.units.quantities import Q

NAME = "Ostrel Point"
Part = TypeVar("Part")


def _bar(*pressures: float) -> tuple[Q, ...]:
    return tuple(Q(pressure, "bar") for pressure in pressures)


def _line(shutoff: float, at_full: float, static: float, pipe: float, flow: float) -> PumpedLine:
    first, last, rest, taken = _bar(shutoff, at_full, static, pipe)
    return PumpedLine(first, last, rest, taken, Q(flow, "m³/h"))


def _drive(
    area: float, travel: float, bench: tuple[float, float], supply: float, port: float, flow_to: str, friction: float
) -> Drive:
    low, high, air = _bar(*bench, supply)
    stem, seat_load = Q(12.7, "mm"), Q(7, "N/mm")
    return Drive(
        Q(area, "cm²"), Q(travel, "mm"), low, high, air, Q(port, "mm"), flow_to, Q(friction, "N"), stem, seat_load
    )


def _liquid(name: str, celsius: float, density: float, vapour: float, critical: float) -> Liquid:
    return Liquid(name, Q(celsius, "°C"), Q(density, "kg/m³"), *_bar(vapour, critical))


# Water: IAPWS-95, rounded. Oils: invented, of the usual size for their kind.
COOLING_WATER = _liquid("cooling water", 25, 997, 0.032, 220.64)
RAW_WATER = _liquid("water", 20, 998, 0.023, 220.64)
WASH_WATER = _liquid("wash water", 40, 992, 0.074, 220.64)
CONDENSATE = _liquid("hot condensate", 130, 935, 2.70, 220.64)
NAPHTHA = _liquid("naphtha", 45, 680, 1.3, 32)
BOTTOMS = _liquid("column bottoms", 60, 740, 0.2, 26)
RAW_NAPHTHA = _liquid("raw naphtha", 40, 650, 5, 35)
KEROSENE = _liquid("kerosene", 70, 780, 0.02, 21)
HOT_OIL = _liquid("hot oil", 280, 690, 0.4, 13)
FUEL_GAS = Gas("fuel gas", Q(40, "°C"), 0.020, 1.28)
STEAM = Gas("steam", Q(190, "°C"), 0.018015, 1.30, z=0.944)  # γ and Z: IAPWS-95 before PV-7110, rounded

OPEN_PLUG = "globe, contoured plug, flow to open"


def _valve(
    tag: str,
    service: str,
    body: str,
    style: str,
    sizes: tuple[float, float, float],
    trim: tuple[str, float],
    fails: str,
    fluid: Liquid | Gas,
    flow: Q,
    **rest: PumpedLine | Ends | Drive | float | None,
) -> Valve:
    size, pipe, kv = sizes
    where = (Q(size, "mm"), Q(pipe, "mm"), Q(kv, "Kv"))
    return Valve(tag, service, body, style, *where, *trim, fails, fluid, flow, **rest)  # type: ignore[arg-type]


_REFLUX = _drive(640, 38, (0.2, 1.0), 1.7, 70, "open", 300)
_FEED = _drive(480, 30, (0.7, 1.5), 2.0, 46, "open", 200)

VALVES = {
    valve.tag: valve
    for valve in (
        _valve(
            "FV-2107", "reflux to the naphtha column", "globe, single seated", OPEN_PLUG, (80, 100, 80),
            ("equal percentage", 50.0), "open", NAPHTHA, Q(60, "m³/h"),
            line=_line(9, 7.5, 2.5, 3.5, 120), drive=_REFLUX, found=replace(_REFLUX, supply=Q(1.4, "bar")), xfz=0.36,
        ),
        _valve(
            "LV-2112", "bottoms level of the naphtha column", "globe, single seated", OPEN_PLUG, (50, 80, 40),
            ("linear", 30.0), "closed", BOTTOMS, Q(45, "m³/h"),
            line=_line(6, 5.5, 1, 0.8, 90), drive=_drive(480, 30, (0.5, 1.3), 1.7, 46, "open", 250), xfz=0.36,
        ),
        _valve(
            "TV-3301", "cooling water to the kerosene cooler", "butterfly", "butterfly, centred disc, 70°",
            (150, 200, 630), ("equal percentage", 30.0), "open", COOLING_WATER, Q(400, "m³/h"),
            line=_line(4.5, 3.8, 0.5, 2.7, 480), xfz=0.18,
        ),
        _valve(
            "TV-3318", "mixes hot and cold kerosene", "three-way, mixing", "globe, double seated, ported plug",
            (80, 100, 80), ("linear", 30.0), "closed", KEROSENE, Q(55, "m³/h"), ends=Ends(*_bar(4.0, 3.6, 1.0)),
        ),
        _valve(
            "LV-3340", "make-up water to the cooling tower", "eccentric plug", "eccentric spherical plug, flow to open",
            (50, 80, 40), ("linear", 30.0), "closed", RAW_WATER, Q(60, "m³/h"),
            line=_line(6.5, 6.0, 0.5, 1.3, 82), xfz=0.32,
        ),
        _valve(
            "PV-4015", "make-up to the fuel gas header", "globe, cage guided", "globe, four-port cage, flow outward",
            (80, 150, 90), ("linear", 50.0), "closed", FUEL_GAS, Q(6000, "kg/h"),
            ends=Ends(*_bar(8.0, 3.5, 8.0)), drive=_drive(640, 38, (0.8, 1.6), 2.4, 70, "open", 300),
        ),
        _valve(
            "FV-1204", "wash water to the desalter", "globe, single seated", "globe, contoured plug, flow to close",
            (40, 50, 25), ("equal percentage", 50.0), "closed", WASH_WATER, Q(18, "m³/h"),
            line=_line(12, 10.5, 6.5, 3, 24), drive=_drive(320, 20, (0.2, 1.0), 1.4, 40, "close", 250), xfz=0.28,
        ),
        # Stands open for months and has to shut once, by its spring: a trip of the furnace takes its air away.
        _valve(
            "XV-5104", "shuts off fuel gas to the furnace", "globe, quick opening", OPEN_PLUG,
            (80, 80, 80), ("quick opening", 20.0), "closed", FUEL_GAS, Q(2000, "kg/h"),
            ends=Ends(*_bar(3.5, 3.2, 3.5)), drive=_drive(640, 25, (0.6, 1.4), 2.4, 70, "open", 400),
        ),
        _valve(
            "PV-7110", "lets steam down to the low pressure header", "globe, cage guided",
            "globe, four-port cage, flow outward", (100, 200, 125), ("linear", 50.0), "closed", STEAM, Q(5500, "kg/h"),
            ends=Ends(*_bar(8.0, 3.5, 8.0)), drive=_drive(960, 38, (0.8, 1.6), 2.4, 80, "open", 500),
        ),
        # Spills what the header has too much of. It protects nothing: relief valves of their own do that.
        _valve(
            "PV-5102", "spill from the fuel gas header to the flare", "globe, quick opening", OPEN_PLUG,
            (100, 200, 100), ("quick opening", 20.0), "open", FUEL_GAS, Q(4000, "kg/h"),
            ends=Ends(*_bar(3.5, 0.2, 3.5)), drive=_drive(640, 25, (0.2, 1.0), 2.0, 80, "open", 400),
        ),
        _valve(
            "FV-6204", "feed to the debutaniser", "globe, single seated", OPEN_PLUG, (50, 80, 32),
            ("equal percentage", 50.0), "closed", RAW_NAPHTHA, Q(40, "m³/h"), line=_line(22, 20, 12, 4, 80),
            drive=_FEED, found=replace(_FEED, bench_low=Q(0.2, "bar"), bench_high=Q(1.0, "bar"), supply=Q(1.4, "bar")),
            xfz=0.36,
        ),
        _valve(
            "LV-6120", "hot condensate to the flash drum", "globe, single seated", OPEN_PLUG, (50, 80, 36),
            ("linear", 30.0), "closed", CONDENSATE, Q(35, "m³/h"),
            ends=Ends(*_bar(6.0, 1.0, 6.0)), drive=_drive(480, 30, (0.6, 1.4), 1.7, 46, "open", 250), xfz=0.36,
        ),
        _valve(
            "FV-2135", "hot oil to the reboiler", "globe, single seated", OPEN_PLUG, (50, 80, 40),
            ("equal percentage", 50.0), "closed", HOT_OIL, Q(45, "m³/h"),
            line=_line(9, 8, 2, 2.5, 90), drive=_drive(480, 30, (0.7, 1.5), 2.0, 46, "open", 250), xfz=0.36,
        ),
    )
}  # fmt: skip


def line_of(tag: str) -> PumpedLine:
    """Return the pumped line a valve sits in."""
    return _there(VALVES[tag].line, tag, "pumped line")


def ends_of(tag: str) -> Ends:
    """Return the two places a valve sits between, where they keep their pressure."""
    return _there(VALVES[tag].ends, tag, "places that keep their pressure")


def drive_of(tag: str) -> Drive:
    """Return the actuator of a valve, as it should be."""
    return _there(VALVES[tag].drive, tag, "actuator with a spring")


def gas_of(tag: str) -> Gas:
    """Return the gas or steam a valve throttles."""
    fluid = VALVES[tag].fluid
    return _there(fluid if isinstance(fluid, Gas) else None, tag, "gas")


def liquid_of(tag: str) -> Liquid:
    """Return the liquid a valve throttles."""
    fluid = VALVES[tag].fluid
    return _there(fluid if isinstance(fluid, Liquid) else None, tag, "liquid")


def _there(part: Part | None, tag: str, what: str) -> Part:
    if part is None:
        raise ValueError(f"{tag} has no {what}.")
    return part


def pressures_at(tag: str, share: float) -> tuple[float, float]:
    """Return the pressures before and after a valve of a pumped line at a share of its full flow [bar].

    >>> pressures_at("FV-2107", 1.0), pressures_at("FV-2107", 0.5)
    ((7.5, 6.0), (8.625, 3.375))
    """
    line, square = line_of(tag), share * share
    before = line.pump_shutoff.value + (line.pump_at_full.value - line.pump_shutoff.value) * square
    return before, line.static.value + line.pipe_at_full.value * square
