"""Control valve numbers: SI base units, fractions, absolute pressures, arrays of any shape.

One module for each topic; `valvecalc.installed` and the others load when they are first used, so that a lesson
pays only for the ones it needs.
"""

from importlib import import_module
from types import ModuleType

__all__ = [
    "actuator",
    "air",
    "blocks",
    "body_styles",
    "bolting",
    "cavitation",
    "characteristic",
    "checks",
    "fittings",
    "force_balance",
    "gas",
    "installed",
    "line",
    "liquid",
    "loop",
    "measures",
    "neck_heat",
    "noise",
    "on_demand",
    "packing",
    "plug_forces",
    "positioner",
    "rating",
    "seat_leakage",
    "steam",
    "stiction",
    "stroke",
    "trim",
    "units",
    "water",
]


def __getattr__(name: str) -> ModuleType:
    if name in __all__:
        return import_module(f"valvecalc.{name}")
    raise AttributeError(f"valvecalc has no module {name}; it has {', '.join(__all__)}.")


def __dir__() -> list[str]:
    return __all__
