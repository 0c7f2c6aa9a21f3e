"""The pictures a lesson can show, by name. Loaded when asked for, so that a lesson starts quickly."""

from __future__ import annotations

import importlib

from lessons.live import Live
from lessons.pictures.catalogue import PICTURES
from lessons.sliders import Slider
from lessons.still import svg_of

# Name -> module in lessons/pictures/live, whose function of the module's name takes the unit set and returns a Live.
LIVE = {
    "choked": "choked_flow",
    "profile": "pressure_profile",
    "leakage": "leakage_limits",
    "inherent": "inherent_curves",
    "installed": "installed_curves",
    "line": "pumped_line",
    "cage_window": "cage_window",
    "bench_set": "bench_set",
    "stem_forces": "stem_forces",
    "air_to_close": "air_to_close",
    "dead_band": "dead_band",
    "hunting": "hunting",
    "bolting": "bolting",
    "as_found": "as_found_trace",
    "stroke_points": "stroke_points",
    "step_test": "step_test",
}


def live_picture(name: str, units: str) -> Live:
    """Return a live picture: one of those above, or a cut-away that opens and closes with its travel."""
    if name in LIVE:
        module = importlib.import_module(f"lessons.pictures.live.{LIVE[name]}")
        picture: Live = getattr(module, LIVE[name])(units)
        return picture
    cutaway = PICTURES[name]
    travel = Slider("travel", "travel", 0.0, 1.0, 0.01, 0.5, "%")
    return Live(lambda: cutaway.draw(travel=0.5), cutaway.move, [travel], alt=cutaway.alt, units=units)


def still_picture(name: str, *, travel: float = 0.5, names: bool = True) -> str:
    """Return a cut-away as SVG; with `names` off it shows numbers only, for questions."""
    return svg_of(PICTURES[name].draw(travel=travel, names=names), PICTURES[name].alt)
