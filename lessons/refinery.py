"""Ostrel Point, the invented refinery: its control valves and the lines they sit in. The only scenario data.

Tags follow ISA-5.1: F flow, L level, P pressure, T temperature; V the valve.
"""

from __future__ import annotations

from dataclasses import dataclass

from lessons.quantities import Q

NAME = "Ostrel Point"


@dataclass(frozen=True)
class Line:
    """A pumped line: pressures at no flow and at the flow with its valve wide open."""

    pump_shutoff: Q
    pump_at_full: Q
    static: Q
    pipe_at_full: Q
    full_flow: Q


@dataclass(frozen=True)
class Drive:
    """An actuator with its spring, and the plug it has to move: what the force balance needs.

    `port` is the diameter of the seating line, `friction` that of the packing, `supply` the air at the actuator.
    """

    area: Q
    travel: Q
    bench_low: Q
    bench_high: Q
    supply: Q
    port: Q
    flow_to: str
    friction: Q


@dataclass(frozen=True)
class Valve:
    """A control valve and the job it does."""

    tag: str
    service: str
    body: str
    size: Q
    rated_kv: Q
    characteristic: str
    rangeability: float
    fails: str
    line: Line | None = None
    drive: Drive | None = None


VALVES = {
    valve.tag: valve
    for valve in (
        Valve(
            "FV-2107",
            "reflux to the naphtha column",
            "globe, single seated",
            Q(80, "mm"),
            Q(100, "Kv"),
            "equal percentage",
            50.0,
            "open",
            Line(Q(9, "bar"), Q(7.5, "bar"), Q(2.5, "bar"), Q(3.5, "bar"), Q(120, "m³/h")),
            Drive(
                Q(650, "cm²"), Q(38, "mm"), Q(0.2, "bar"), Q(1.0, "bar"),
                Q(1.4, "bar"), Q(70, "mm"), "open", Q(300, "N"),
            ),
        ),
        Valve(
            "LV-2112",
            "bottoms level of the naphtha column",
            "globe, single seated",
            Q(50, "mm"),
            Q(40, "Kv"),
            "linear",
            30.0,
            "closed",
            Line(Q(6, "bar"), Q(5.6, "bar"), Q(1, "bar"), Q(0.6, "bar"), Q(80, "m³/h")),
        ),
        Valve(
            "TV-3301",
            "cooling water to the kerosene cooler",
            "butterfly",
            Q(150, "mm"),
            Q(630, "Kv"),
            "equal percentage",
            30.0,
            "open",
            Line(Q(4.5, "bar"), Q(3.8, "bar"), Q(0.5, "bar"), Q(2.7, "bar"), Q(480, "m³/h")),
        ),
        Valve(
            "TV-3318",
            "mixes hot and cold kerosene",
            "three-way, mixing",
            Q(80, "mm"),
            Q(80, "Kv"),
            "linear",
            30.0,
            "closed",
        ),
        Valve(
            "PV-4015",
            "fuel gas header pressure",
            "globe, cage guided",
            Q(80, "mm"),
            Q(90, "Kv"),
            "linear",
            50.0,
            "closed",
        ),
        Valve(
            "FV-1204",
            "wash water to the desalter",
            "globe, single seated",
            Q(40, "mm"),
            Q(25, "Kv"),
            "equal percentage",
            50.0,
            "closed",
            Line(Q(12, "bar"), Q(10.5, "bar"), Q(6.5, "bar"), Q(3, "bar"), Q(24, "m³/h")),
            Drive(
                Q(300, "cm²"), Q(20, "mm"), Q(0.2, "bar"), Q(1.0, "bar"),
                Q(1.4, "bar"), Q(40, "mm"), "close", Q(250, "N"),
            ),
        ),
        Valve(
            "PV-5102",
            "vent to the flare header",
            "globe, quick opening",
            Q(100, "mm"),
            Q(160, "Kv"),
            "quick opening",
            20.0,
            "open",
        ),
        Valve(
            "FV-6204",
            "charge to the hydrotreater",
            "globe, single seated",
            Q(50, "mm"),
            Q(40, "Kv"),
            "equal percentage",
            50.0,
            "closed",
            Line(Q(22, "bar"), Q(20, "bar"), Q(12, "bar"), Q(4, "bar"), Q(80, "m³/h")),
            Drive(
                Q(450, "cm²"), Q(30, "mm"), Q(0.2, "bar"), Q(1.0, "bar"),
                Q(1.4, "bar"), Q(46, "mm"), "open", Q(200, "N"),
            ),
        ),
        Valve(
            "LV-6120",
            "hot condensate to the flash drum",
            "globe, single seated",
            Q(50, "mm"),
            Q(36, "Kv"),
            "linear",
            30.0,
            "closed",
        ),
    )
}
