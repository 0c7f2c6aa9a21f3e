"""What a lesson needs of a picture: to show it, to move it, to ask for its parts, to say what it shows."""

from __future__ import annotations

import functools
from typing import TYPE_CHECKING, NamedTuple

from lessons.live.sliders import Slider
from lessons.pictures.cutaways import sheet
from lessons.pictures.cutaways.parts import Points
from lessons.pictures.cutaways.sheet import Drawing
from lessons.pictures.cutaways.words import WORDS

if TYPE_CHECKING:
    from matplotlib.figure import Figure

    from lessons.live.moving_picture import MovingPicture


class Cutaway(NamedTuple):
    """One picture: how to draw and move it, its title, and what it says to those who cannot see it."""

    title: str
    alt: str
    drawing: Drawing
    meets: tuple[tuple[str, str], ...] = ()  # gids of closing part and seat that touch when closed
    meets_open: tuple[tuple[str, str], ...] = ()  # of parts that touch when fully open
    slides: str = "travel"  # what its slider is called
    starts: float = 0.5  # where the slider starts

    def parts(self) -> list[tuple[int, str, str]]:
        """Return number, name and one sentence on what it does, for every numbered part."""
        return [(c.number, c.part.name, WORDS[c.part.name]) for c in sheet.callouts(self.drawing)]

    def draw(self, travel: float = 0.5, names: bool = True) -> Figure:
        """Draw it at a travel, with numbers and names or with numbers only."""
        from lessons.pictures.cutaways import paper  # here, because a key needs the parts and no matplotlib

        return paper.draw(self.drawing, travel, names)

    def move(self, travel: float) -> dict[str, Points | str]:
        """Return where the moving parts are at a travel: what a live picture needs."""
        return sheet.move(self.drawing, travel)

    def live(self, units: str = "si") -> MovingPicture:
        """Return the picture with its slider."""
        from lessons.live.moving_picture import MovingPicture  # here, for the same reason

        slider = Slider("travel", self.slides, 0, 1, 0.01, self.starts, "%")
        draw = functools.partial(self.draw, travel=self.starts)
        return MovingPicture(draw, self.move, [slider], alt=self.alt, units=units)
