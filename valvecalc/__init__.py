"""Control valve numbers: SI base units, fractions, absolute pressures, arrays of any shape.

One module for each topic; `valvecalc.installed` and the others load when they are first used, so that a lesson
pays only for the ones it needs.
"""

from importlib import import_module
from types import ModuleType

__all__ = [
    "actuator",
    "any_pump",
    "blocks",
    "body_styles",
    "capacity_gas",
    "capacity_liquid",
    "cavitation",
    "cavitation_onset",
    "characteristic",
    "characteristic_inverse",
    "characteristic_slope",
    "checks",
    "choked_line",
    "fail_action",
    "fittings",
    "force_balance",
    "gas",
    "installed",
    "leak_test",
    "leakage",
    "line",
    "live_zero",
    "loop",
    "loop_measures",
    "packing",
    "permitted_deviation",
    "piston",
    "plug_contour",
    "plug_forces",
    "rangeability",
    "reducers",
    "reynolds",
    "round_ports",
    "scope",
    "several_valves",
    "step_measures",
    "stiction",
    "stored_energy",
    "straightest",
    "stroke",
    "stroke_measures",
    "stroke_signal",
    "supply",
    "tabulated",
    "trace_measures",
    "trim",
    "units",
    "viscous",
    "water",
]


def __getattr__(name: str) -> ModuleType:
    if name in __all__:
        return import_module(f"valvecalc.{name}")
    raise AttributeError(f"valvecalc has no module {name}; it has {', '.join(__all__)}.")


def __dir__() -> list[str]:
    return __all__
