"""What the numbers of a question are called in a sentence; one vocabulary for all questions."""

from __future__ import annotations

import re
from collections.abc import Mapping
from types import MappingProxyType

SPOKEN = {
    "a": "pressure-drop ratio",
    "after": "pressure after the valve",
    "aim": "travel to look for",
    "air": "air pressure",
    "area": "effective area",
    "band": "dead band as a pressure",
    "before": "pressure before the valve",
    "before_step": "travel before the step",
    "box": "bore of the packing box",
    "bubble": "gas in a bubble",
    "capacity": "rated capacity",
    "choked": "choked drop",
    "choking_drop": "drop at which it chokes",
    "cold": "cold temperature",
    "coming_down": "reading coming down",
    "constant": "time constant",
    "count": "number of windows",
    "counts": "drop that counts",
    "d": "seat diameter",
    "d0": "diameter of the first seat",
    "dead": "dead time",
    "dotted": "dotted line",
    "down_0": "travel down at 0 %",
    "down_100": "travel down at 100 %",
    "dp": "drop",
    "dp1": "first drop",
    "dp2": "new drop",
    "drop": "drop",
    "extra": "pressure for the forces",
    "factor": "factor",
    "ff": "FF",
    "fl": "FL",
    "flow": "flow",
    "found": "pressure found",
    "friction": "packing friction",
    "g": "relative density",
    "gain": "gain of the positioner",
    "gamma": "ratio of specific heats",
    "gas": "gas in all",
    "going_up": "reading going up",
    "growth": "growth in a step",
    "height": "height",
    "high": "high end of the bench set",
    "high_average": "average at 100 %",
    "hot": "hot temperature",
    "in_jet": "pressure in the choked jet",
    "k": "spring rate",
    "kv": "flow coefficient",
    "l0": "leak of the first seat",
    "leak": "leak",
    "left": "force left for the seat",
    "lift": "lift",
    "lim": "limit",
    "limit": "choked drop",
    "line": "force of the line pressure",
    "load": "seat load wanted",
    "low": "low end of the bench set",
    "low_average": "average at 0 %",
    "ma": "signal",
    "mean": "mean",
    "moment": "time at that travel",
    "mu": "friction coefficient",
    "n": "number of bubbles",
    "need": "flow coefficient needed",
    "needed": "pressure for these forces",
    "p": "pressure",
    "p0": "drop at the first seat",
    "p1": "pressure before the valve",
    "p2": "pressure after the valve",
    "part": "length of its part of the signal",
    "phi": "relative flow coefficient",
    "pipe": "drop in the pipework",
    "pipework": "drop in the pipework",
    "port": "port diameter",
    "pump": "pump pressure",
    "pv": "vapour pressure",
    "q": "flow",
    "r": "rangeability",
    "ring": "area of the ring",
    "rings": "number of rings",
    "seal": "bore at the seal",
    "seat": "force wanted on the seat",
    "share": "share",
    "sideways": "pressure on the stem",
    "span": "span",
    "spring": "force of the spring",
    "start": "start of its part of the signal",
    "static": "static pressure",
    "stem": "stem diameter",
    "step": "step of the travel",
    "straight": "straight line in the middle",
    "stress": "gland stress",
    "sum": "sum of the forces",
    "supply": "air supply",
    "t": "minutes",
    "time": "time",
    "total": "total drop",
    "touched": "area the rings touch",
    "travel": "travel",
    "up_0": "travel up at 0 %",
    "up_100": "travel up at 100 %",
    "valve": "drop across the valve",
    "width": "width",
    "xt": "xT",
    "zero": "live zero",
}


def spoken(name: str, own: Mapping[str, str] = MappingProxyType({})) -> str:
    """Return what a number of a question, or a line of its working, is called; a question's own word comes first.

    >>> spoken("low"), spoken("line_force"), spoken("load", {"load": "push of the fluid"})
    ('low end of the bench set', 'line force', 'push of the fluid')
    """
    return own.get(name) or SPOKEN.get(name) or name.replace("_", " ")


def marked(name: str) -> str:
    """Return a mark that stands for what a name is called, until it is known in which question.

    >>> filled(f"You left out the {marked('low')}.")
    'You left out the low end of the bench set.'
    """
    return f"⟨{name}⟩"


def filled(text: str, own: Mapping[str, str] = MappingProxyType({})) -> str:
    """Put the spoken names in for the marks of a text."""
    return re.sub(r"⟨(\w+)⟩", lambda mark: spoken(mark[1], own), text)
