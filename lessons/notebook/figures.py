"""The pictures a lesson can show, by name. Loaded when asked for, so that a lesson starts quickly."""

from __future__ import annotations

import importlib

from lessons.live.engine import LivePicture
from lessons.notebook.still import svg_of
from lessons.pictures.cutaways.catalogue import PICTURES

# Name -> room and module in lessons/pictures/live; its function of the module's name takes the unit set.
LIVE = {
    "choked": "flow.choked_flow",
    "profile": "flow.pressure_profile",
    "leakage": "work.leakage_limits",
    "inherent": "flow.inherent_curves",
    "installed": "flow.installed_curves",
    "line": "flow.pumped_line",
    "cage_window": "valve.cage_window",
    "bench_set": "drive.bench_set_ends",
    "stem_forces": "drive.stem_force_chain",
    "air_to_close": "drive.air_to_close",
    "dead_band": "drive.dead_band_loop",
    "hunting": "drive.hunting",
    "bolting": "work.bolting",
    "as_found": "work.as_found_trace",
    "stroke_points": "drive.stroke_points",
    "signal_step": "drive.signal_step",
    "gas_outlet": "flow.gas_outlet",
    "small_jets": "flow.small_jets",
    "ready_or_not": "work.ready_or_not",
    "live_loading": "work.live_loading",
    "papers": "work.papers",
    "rating": "valve.rating",
    "bolt_up": "valve.bolt_up",
    "insulation": "work.insulation",
    "air_stroke": "drive.air_stroke",
    "auto_calibration": "drive.auto_calibration",
}


FORMER = {"step_test": "signal_step"}  # names that notebooks of an earlier working copy or giving-out still use


def live_picture(name: str, units: str) -> LivePicture:
    """Return a live picture: one of those above, or a cut-away that opens and closes with its travel."""
    if name in LIVE:
        module = importlib.import_module(f"lessons.pictures.live.{LIVE[name]}")
        picture: LivePicture = getattr(module, LIVE[name].partition(".")[2])(units)
        return picture
    return PICTURES[name].live(units=units)


def still_picture(name: str, *, travel: float = 0.5, names: bool = True) -> str:
    """Return a cut-away as SVG; with `names` off it shows numbers only, for questions."""
    return svg_of(PICTURES[name].draw(travel=travel, names=names), PICTURES[name].alt)
