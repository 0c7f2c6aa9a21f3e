"""Lesson 01: what a control valve does. A variable pressure drop, its parts, its tag, and what it passes."""

from __future__ import annotations

from lessons.practice.valve.drop.flow import FLOW, NEED, PREDICT, RISES, ROOT
from lessons.practice.valve.drop.parts_and_tags import CHAIN, JOBS, PARTS, TAGS

LESSON = "01_what_a_control_valve_does"
TERMS: dict[str, str] = {
    "travel": "How far the plug or disc has moved from closed, as a share of its full movement.",
    "flow coefficient": "What a valve passes: Kv in m³/h of water at 1 bar drop, Cv in US gallons a minute at 1 psi.",
    "control valve": ("A valve that a controller can set anywhere between shut and open. It uses up pressure."),
    "pressure drop": "The pressure before a valve or pipe minus the pressure after it.",
    "static pressure": (
        "The pressure a line needs even without flow: to lift the liquid and to meet the pressure at its end."
    ),
    "throttle": "To reduce a flow by making it pass a narrow place.",
    "actuator": "The part that moves the valve: it turns air pressure (or current) into a force on the stem.",
    "stem": "The rod that carries the actuator's movement to the plug.",
    "plug": "The part that moves in the seat ring and sets how wide the gap for the flow is.",
    "seat ring": "The ring the plug closes on. The gap between the two is the narrow place.",
    "packing": "Rings round the stem that keep the fluid inside while the stem moves.",
    "fail action": "Where the valve goes when its air is lost: fail open or fail closed.",
    "transmitter": ("An instrument that measures and sends the value on as a signal; second letter T in a tag."),
    "controller": (
        "Compares the measured value with the set point and moves the valve until they agree; letter C in a tag."
    ),
    "set point": "The value a controller has to hold.",
    "tag": "The name of an instrument: letters for what it measures and does, and the number of its loop.",
    "Kv": "A flow coefficient: the m³/h of water that pass at a drop of 1 bar.",
    "Cv": "A flow coefficient: the US gallons of water a minute that pass at a drop of 1 psi.",
}
QUESTIONS = (PREDICT, RISES, PARTS, JOBS, TAGS, CHAIN, ROOT, FLOW, NEED)
