"""The job cards, one module each, by name; loaded when asked for."""

from __future__ import annotations

import functools
import importlib

from lessons.card import Card

# In the order of the index.
NAMES = (
    "seat_leakage",
    "shutoff",
    "bench_set",
    "stroke_test",
    "signals",
    "dead_band",
    "packing",
    "hunting",
    "flow_at_travel",
    "cavitation",
    "body_and_trim",
    "tear_down",
)


@functools.cache
def card(name: str) -> Card:
    """Return a card by its name.

    Raises
    ------
    ValueError
        If there is no such card.
    """
    if name not in NAMES:
        raise ValueError(f"There is no job card named “{name}”. Press Ctrl+Z until the cell is as it was.")
    found: Card = importlib.import_module(f"{__name__}.{name}").CARD
    return found
