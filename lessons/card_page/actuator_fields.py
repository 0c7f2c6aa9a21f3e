"""Inputs that several cards ask about an actuator, each with the values of one of the plant as its default."""

from __future__ import annotations

from lessons.card_page.card import Field
from lessons.refinery.kinds import Drive
from lessons.units.quantities import to_base


def area_field(drive: Drive) -> Field:
    """Return the input for the effective area."""
    return Field("area", "effective area of the actuator", "cm²", to_base(drive.area), high=2.0, above=True)


def travel_field(drive: Drive) -> Field:
    """Return the input for the rated travel."""
    return Field("travel", "rated travel", "mm", to_base(drive.travel), high=0.5, above=True)


def bench_set_field(drive: Drive) -> Field:
    """Return the two boxes for the bench set."""
    ends = (to_base(drive.bench_low), to_base(drive.bench_high))
    return Field("bench", "bench set", "bar", ends, high=10e5, boxes=("from", "to"), pressure="gauge")


def friction_field(drive: Drive) -> Field:
    """Return the input for the friction of the packing."""
    return Field("friction", "packing friction", "N", to_base(drive.friction), high=1e5)
