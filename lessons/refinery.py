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


VALVES = {
    valve.tag: valve
    for valve in (
        Valve(
            "FV-2107", "reflux to the naphtha column", "globe, single seated", Q(80, "mm"), Q(100, "Kv"),
            "equal percentage", 50.0, "open",
            Line(Q(9, "bar"), Q(7.5, "bar"), Q(2.5, "bar"), Q(3.5, "bar"), Q(120, "m³/h")),
        ),
        Valve(
            "LV-2112", "bottoms level of the naphtha column", "globe, single seated", Q(50, "mm"), Q(40, "Kv"),
            "linear", 30.0, "closed",
            Line(Q(6, "bar"), Q(5.6, "bar"), Q(1, "bar"), Q(0.6, "bar"), Q(80, "m³/h")),
        ),
        Valve(
            "TV-3301", "cooling water to the kerosene cooler", "butterfly", Q(150, "mm"), Q(630, "Kv"),
            "equal percentage", 30.0, "open",
            Line(Q(4.5, "bar"), Q(3.8, "bar"), Q(0.5, "bar"), Q(2.7, "bar"), Q(480, "m³/h")),
        ),
        Valve(
            "PV-4015", "fuel gas header pressure", "globe, cage guided", Q(80, "mm"), Q(90, "Kv"),
            "linear", 50.0, "closed",
        ),
        Valve(
            "FV-1204", "wash water to the desalter", "globe, single seated", Q(40, "mm"), Q(25, "Kv"),
            "equal percentage", 50.0, "closed",
            Line(Q(12, "bar"), Q(10.5, "bar"), Q(6.5, "bar"), Q(3, "bar"), Q(24, "m³/h")),
        ),
        Valve(
            "PV-5102", "vent to the flare header", "globe, quick opening", Q(100, "mm"), Q(160, "Kv"),
            "quick opening", 20.0, "open",
        ),
    )
}
