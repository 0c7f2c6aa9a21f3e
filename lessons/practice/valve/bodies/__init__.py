"""Lesson 02: valve bodies and their parts, and which for which service.

The questions lie in the modules beside it; here they are only put together.
"""

from __future__ import annotations

from lessons.practice.valve.bodies.choosing import MIX, SERVICE, WARM, WHICH
from lessons.practice.valve.bodies.styles import DOUBLE, PORTS, PREDICT, ROTARY, STYLES

LESSON = "02_bodies"
TERMS: dict[str, str] = {
    "globe body": "A body with a wall inside that holds the seat ring; the plug comes from above.",
    "single-seated": "With one plug and one seat ring. It shuts tight, but the stem takes the full force of the fluid.",
    "double-seated": ("With two plugs on one stem and two seat rings, so that the forces of the fluid nearly cancel."),
    "web": "The wall inside a globe body that separates inlet from outlet and carries the seat ring.",
    "angle body": "A body whose outlet is at a right angle to its inlet.",
    "three-way valve": "A valve with three pipe ends that mixes two streams or splits one.",
    "mixing": "Of a three-way valve: two streams come in, one goes out.",
    "diverting": "Of a three-way valve: one stream comes in, two go out.",
    "rotary valve": ("A valve whose closing part turns, a quarter turn or less, instead of moving up and down."),
    "shaft": "The stem of a rotary valve: it turns.",
    "butterfly valve": "A rotary valve with a disc that turns across the pipe.",
    "segmented ball": (
        "A rotary valve with a piece of a hollow ball that wipes across its seat; its V-notch gives fine control."
    ),
    "eccentric plug": (
        "A rotary valve whose plug sits beside the shaft's axis, so that it lifts off its seat at once."
    ),
    "weir": "A sill across the body on which a rubber diaphragm is pressed.",
    "diaphragm valve": ("A valve that closes with a rubber sheet, which also keeps the fluid away from the stem."),
}
QUESTIONS = (PREDICT, DOUBLE, PORTS, MIX, ROTARY, WARM, STYLES, WHICH, SERVICE)
