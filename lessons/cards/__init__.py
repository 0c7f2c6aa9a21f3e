"""The job cards, one module each, by name; loaded when asked for.

What every card shares lies in `lessons/card_page`; no card takes anything from another.
"""

from __future__ import annotations

import functools
import importlib

from lessons.card_page.card import Card

_ROOMS = {  # in the order of the index
    "seat_leakage": "work",
    "shell_pressure": "work",
    "shutoff": "drive",
    "bench_set": "drive",
    "stroke_errors": "drive",
    "positioner_check": "drive",
    "signals": "drive",
    "stroke_speed": "drive",
    "air_leak": "drive",
    "dead_band": "drive",
    "packing": "drive",
    "hunting": "drive",
    "flow_at_travel": "flow",
    "gas_sizing": "flow",
    "cavitation": "flow",
    "noise_estimate": "flow",
    "body_and_trim": "valve",
    "nameplate": "valve",
    "body_rating": "valve",
    "bolt_torque": "work",
    "spring_down": "drive",
    "tear_down": "work",
}
NAMES = tuple(_ROOMS)
_FORMER = {"stroke_test": "stroke_errors"}  # what notebooks of an earlier working copy still ask for


@functools.cache
def card_named(name: str) -> Card:
    """Return a card by its name.

    Raises
    ------
    ValueError
        If there is no such card.
    """
    name = _FORMER.get(name, name)
    if name not in NAMES:
        raise ValueError(f"There is no job card named “{name}”. Press Ctrl+Z until the cell is as it was.")
    found: Card = importlib.import_module(f"{__name__}.{_ROOMS[name]}.{name}").CARD
    return found
