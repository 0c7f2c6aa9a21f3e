"""What a valve of the plant is described by: its fluid, its line or the places it lies between, its actuator."""

from __future__ import annotations

from dataclasses import dataclass

from lessons.units.quantities import Q
from valvecalc.body_styles import BODY_STYLES


@dataclass(frozen=True)
class Liquid:
    """A liquid as it reaches its valve; vapour and critical pressure are absolute."""

    name: str
    temperature: Q
    density: Q
    vapour_pressure: Q
    critical_pressure: Q


@dataclass(frozen=True)
class Gas:
    """A gas as it reaches its valve; `molar_mass` [kg/mol], `gamma` is its ratio of specific heats.

    `z` is its compressibility factor before the valve: 1 where the gas law is near enough, less for steam.
    """

    name: str
    temperature: Q
    molar_mass: float
    gamma: float
    z: float = 1.0


@dataclass(frozen=True)
class PumpedLine:
    """A pumped line: pressures at no flow and at the flow with its valve wide open.

    The pump's pressure falls, and that of the pipework grows, with the square of the flow. The pipework lies behind the
    valve: before it stands the pump's pressure, after it the static pressure and what the pipework takes.
    """

    pump_shutoff: Q
    pump_at_full: Q
    static: Q
    pipe_at_full: Q
    full_flow: Q


@dataclass(frozen=True)
class Ends:
    """A valve between two places that keep their pressure, and the drop it has to shut against at the worst."""

    before: Q
    after: Q
    shut_dp: Q


@dataclass(frozen=True)
class Drive:
    """An actuator with its spring, and the plug it has to move: what the force balance needs.

    `port` is the diameter of the seating line, `friction` that of the packing, `supply` the air at the actuator,
    `seat_load` the load wanted on each length of the seating line.
    """

    area: Q
    travel: Q
    bench_low: Q
    bench_high: Q
    supply: Q
    port: Q
    flow_to: str
    friction: Q
    stem: Q
    seat_load: Q


@dataclass(frozen=True)
class Valve:
    """A control valve and the job it does.

    `style` names its row in `BODY_STYLES`; `pipe` is the pipe it sits in; `normal_flow` what passes on a quiet day.
    `xfz` is the ratio xF from which it cavitates at its usual opening: an invented maker's figure. Rotary and three-way
    valves have no `drive`. `found` is the drive as lesson 08 finds it, where that is not as it should be.
    """

    tag: str
    service: str
    body: str
    style: str
    size: Q
    pipe: Q
    rated_kv: Q
    characteristic: str
    rangeability: float
    fails: str
    fluid: Liquid | Gas
    normal_flow: Q
    line: PumpedLine | None = None
    ends: Ends | None = None
    drive: Drive | None = None
    found: Drive | None = None
    xfz: float | None = None

    @property
    def fl(self) -> float:
        """The typical recovery factor of its style, wide open; it rises as the valve closes."""
        return BODY_STYLES[self.style].fl

    @property
    def xt(self) -> float:
        """The typical choking ratio of its style, wide open."""
        return BODY_STYLES[self.style].xt
