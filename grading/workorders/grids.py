"""Which numbers of the graded questions move over a grid, so that sixty apprentices have numbers of their own."""

from __future__ import annotations

from collections.abc import Mapping

MOVED: Mapping[str, tuple[str, ...]] = {
    "air.w1": ("room", "supply"),
    "air.w2": ("time",),
    "air.w5": ("room",),
    "actuator.w2": ("k",),
    "actuator.w4": ("load", "friction"),
    "actuator.w5": ("p",),
    "balance.w1": ("dp", "friction"),
    "balance.w2": ("low", "friction"),
    "balance.w4": ("dp", "friction"),
    "bodies.w4": ("a", "b"),
    "capacity.w1": ("flow",),
    "friction.w1": ("stress",),
    "friction.w2": ("friction", "gain"),
    "friction.w3": ("friction", "seed"),
    "inherent.w1": ("g",),
    "inherent.w2": ("kv", "travel"),
    "inherent.w4": ("need",),
    "installed.w1": ("total",),
    "installed.w2": ("a", "phi"),
    "installed.w4": ("total",),
    "leakage.w1": ("kv",),
    "leakage.w4": ("n",),
    "papers.w5": ("kv",),
    "rating.w1": ("p",),
    "rating.w3": ("p", "torque"),
    "repair.w2": ("low", "high"),
    "stroke.w1": ("ma",),
    "stroke.w2": ("zero", "span", "seed"),
    "stroke.w4": ("constant", "dead", "seed"),
    "trim.w2": ("dp",),
    "trim.w3": ("share",),
    "trouble.w2": ("size", "seed"),
    "trouble.w3": ("size", "rubbing", "seed"),
}
