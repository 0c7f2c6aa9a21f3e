"""The pictures a lesson can show, by name. Loaded when asked for, so that a lesson starts quickly.

``python -m lessons.notebook.figures FOLDER`` draws them ahead; a kernel that knows the folder shows them from there.
"""

from __future__ import annotations

import functools
import importlib
import itertools
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from lessons.live.engine import LivePicture, first_view_from_data, on_page
from lessons.live.kept import keep_in, kept_data, kept_in, path_of
from lessons.live.sliders import UNIT_SETS
from lessons.notebook import bank
from lessons.notebook.still import drawing_name, drawing_of, svg_of
from lessons.questions.question import pose_variant

if TYPE_CHECKING:
    from lessons.live.moving_picture import MovingPicture

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
    """Return a live picture for a page: where its first view is kept, without drawing it."""
    if data := kept_data(view_name(name, units)):
        return LivePicture(first_view_from_data(data), functools.partial(moving_picture, name, units))
    return on_page(moving_picture(name, units))


def moving_picture(name: str, units: str) -> MovingPicture:
    """Draw a live picture: one of those above, or a cut-away that opens and closes with its travel."""
    if name in LIVE:
        module = importlib.import_module(f"lessons.pictures.live.{LIVE[name]}")
        picture: MovingPicture = getattr(module, LIVE[name].partition(".")[2])(units)
        return picture
    from lessons.pictures.cutaways.catalogue import PICTURES  # here, because it takes a while

    return PICTURES[name].live(units)


def still_picture(name: str, *, travel: float = 0.5, names: bool = True) -> str:
    """Return a cut-away as SVG; with `names` off it shows numbers only, for questions."""
    from lessons.pictures.cutaways.catalogue import PICTURES

    return svg_of(PICTURES[name].draw(travel=travel, names=names), PICTURES[name].alt)


def view_name(name: str, units: str) -> str:
    """Return the name under which a picture's first view is kept."""
    return f"live {name} {units}"


def draw_all(folder: Path) -> None:
    """Draw what lessons show at first, and what practice asks about; keep it in a folder, and nothing else.

    What is there already stays as it is, so that a second call after the same installation is short.
    """
    wanted = [*_views(), *_drawings()]
    files = {path_of(folder, name) for name, _ in wanted}
    for each in set(folder.glob("*.json")) - files:
        each.unlink()
    for name, draw in wanted:
        if kept_in(folder, name) is None:
            keep_in(folder, name, draw())


def _views() -> Iterator[tuple[str, Callable[[], object]]]:
    from lessons.pictures.cutaways.catalogue import PICTURES

    for name, units in itertools.product((*LIVE, *PICTURES), UNIT_SETS):
        yield view_name(name, units), functools.partial(_view, name, units)


def _view(name: str, units: str) -> dict[str, Any]:
    moving = moving_picture(name, units)
    first = moving.first_view()
    return first._replace(packed=moving.packed(first.page, first.positions, units)).as_data()


def _drawings() -> Iterator[tuple[str, Callable[[], object]]]:
    for question in bank.practice_questions().values():
        if question.figure:
            for index, units in itertools.product(range(len(question.variants)), UNIT_SETS):
                posed = pose_variant(question, index, units)
                yield drawing_name(posed), functools.partial(drawing_of, posed)


if __name__ == "__main__":
    draw_all(Path(sys.argv[1]))
