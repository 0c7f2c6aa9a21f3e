"""Lesson 03: trim. Plugs, ports, cages, guiding, balance, and what wears them out."""

from __future__ import annotations

from lessons.practice.valve.trim.care import FOUND, GUIDES, PICK
from lessons.practice.valve.trim.shape import FORCE, PARTS, PORT, PREDICT, SHAPES, WINDOW

LESSON = "03_trim"
TERMS: dict[str, str] = {
    "trim": "The parts inside a valve that the flow touches and that throttle it: plug, seat ring, cage, stem.",
    "cage": "A sleeve round the plug that guides it; its windows throttle the flow.",
    "window": "An opening in a cage; its shape gives the characteristic.",
    "contoured plug": "A plug whose outline, and not a cage, sets how the free area grows with the travel.",
    "port": "The opening in the seat ring that the flow passes.",
    "characteristic": "How the flow through a valve changes with its travel.",
    "unbalanced": ("Of a plug: with the pressure before the valve on one side and the pressure after it on the other."),
    "balanced": "Of a plug: with holes that let the same pressure act from above and below.",
    "plug seal": "The ring that keeps the fluid from leaking past a balanced plug.",
    "guiding": "What keeps a plug in the middle of its seat ring while it moves.",
    "galling": "Two metals of the same kind that rub weld together in spots and tear each other.",
    "hard facing": "A layer of very hard metal, welded on where a plug or seat wears.",
    "wire drawing": "Fine grooves cut across a seat by a jet through a nearly shut valve.",
    "soft seat": "A seat with a ring of plastic set in. It is tight, but heat and grit damage it.",
}
QUESTIONS = (PREDICT, SHAPES, PORT, WINDOW, PARTS, FORCE, GUIDES, FOUND, PICK)
