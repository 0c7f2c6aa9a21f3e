"""Every picture by name: what the lessons show, and the part lists that matching questions are made of."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from matplotlib.figure import Figure

from lessons.pictures import globe, sheet, whole
from lessons.pictures.parts import Points
from lessons.pictures.sheet import Drawing
from lessons.pictures.words import WORDS


class Picture(NamedTuple):
    """One picture: how to draw and move it, its title, and what it says to those who cannot see it."""

    draw: Callable[..., Figure]
    title: str
    alt: str
    drawing: Drawing
    meets: tuple[tuple[str, str], ...] = ()  # gids of closing part and seat that touch when closed

    def parts(self) -> list[tuple[int, str, str]]:
        """Return number, name and one sentence on what it does, for every numbered part."""
        return [(c.number, c.part.name, WORDS[c.part.name]) for c in sheet.callouts(self.drawing)]

    def move(self, travel: float) -> dict[str, Points | str]:
        """Return where the moving parts are at a travel: what a live picture needs."""
        return sheet.move(self.drawing, travel)


_PLUG = (("plug", "seat-left"), ("plug", "seat-right"))

PICTURES: dict[str, Picture] = {
    "control_valve": Picture(
        whole.control_valve,
        "A control valve from flange to air connection",
        "Cut through a whole control valve. Below, a globe body with plug and seat ring; in the middle the bonnet and "
        "the yoke with stem connector; on top an actuator whose diaphragm is pushed up by air against a spring.",
        whole.CONTROL_VALVE,
        _PLUG,
    ),
    "globe_single": Picture(
        globe.globe_single,
        "Globe valve, single-seated",
        "Cut through a single-seated globe body. The fluid comes in from the left, goes down below the web, up through "
        "the seat ring round the plug, and out to the right; the stem leaves the bonnet through packing rings.",
        globe.GLOBE_SINGLE,
        _PLUG,
    ),
}
