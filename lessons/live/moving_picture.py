"""A drawing with sliders: matplotlib draws once, and for other values of the sliders says where the parts are.

How to write one (see tests/lessons/pictures/test_live.py for a whole one)::

    def draw():                                   # a Figure, without pyplot; called once
        figure = Figure(figsize=(7, 4)); axes = figure.subplots()
        axes.plot([], [])[0].set_gid("curve")     # every part that moves has a gid
        axes.text(0, 0, "").set_gid("flow")
        return figure

    def move(travel, units):                      # slider names, in SI and fractions; `units` "si" or "us" if wanted
        return {"curve": xy, "flow": (say(q, "m³/h", units), (x, y))}

    MovingPicture(draw, move, [Slider("travel", "travel", 0, 1, 0.01, 0.5, "%")], alt="...")

Parts are lines and markers (Line2D), Polygon, PathPatch, fill_between and texts. `move` gives for each the (N, 2)
coordinates in the artist's own coordinates (data, or whatever its transform takes; nan makes a gap or hides it), for a
text the new words or (words, (x, y)). It must return the same names each time. A PathPatch keeps its curves as long as
it keeps its number of vertices. Moving words are one line. For axes that follow the unit set see `axis_units.py`.
Where the numbers refuse a value let `move` raise ValueError: the apprentice reads its sentence under the picture.
`figure(travel=1)` is the matplotlib figure at other values, for tests and print. `engine.py` puts it on a page.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Sequence
from typing import Any

from matplotlib.figure import Figure

from lessons.live.engine import FirstView
from lessons.live.export import Packed, packed
from lessons.live.sliders import UNIT_SETS, Slider
from lessons.live.svg_parts import Floats32, Moved, MovingSvg

Frame = tuple[Floats32, list[str]]


class MovingPicture:
    """A picture with at most three sliders."""

    def __init__(
        self, draw: Callable[[], Figure], move: Callable[..., Moved], sliders: Sequence[Slider], *, alt: str, units: str
    ) -> None:
        if not 1 <= len(sliders) <= 3:
            raise ValueError(f"a live picture has 1 to 3 sliders, but got {len(sliders)}.")
        if not alt.strip():
            raise ValueError("a live picture needs an alternative text for readers who cannot see it: alt='...'.")
        self._sliders, self._move, self.units = tuple(sliders), move, units
        self._takes_units = "units" in inspect.signature(move).parameters
        self._start = [slider.position(slider.start) for slider in sliders]
        self._picture = MovingSvg(draw(), self._moved(self._start, units), alt)
        self._page = self._page_data()

    def figure(self, units: str = "", **values: float) -> Figure:
        """Return the matplotlib figure with its parts placed for these values; other sliders are at their start."""
        start = {slider.name: slider.start for slider in self._sliders}
        self._picture.place(self._call({**start, **values}, units or self.units))
        return self._picture.figure

    def first_view(self) -> FirstView:
        """Return what is seen of it before a slider moves."""
        frame, words = self.frame(self._start, self.units)
        values = self.values(self._start)
        return FirstView(self._page, self._picture.alt, self.units, self._start, values, frame.tobytes(), words)

    def frame(self, positions: Sequence[int], units: str) -> Frame:
        """Return where the parts are on the page, and what the texts say, for positions of the sliders."""
        return self._picture.frame(self._moved(positions, units))

    def values(self, positions: Sequence[int]) -> dict[str, float]:
        """Return the values of the sliders at their positions, by name."""
        return {s.name: s.value(k) for s, k in zip(self._sliders, positions, strict=True)}

    def drawn_at(self, positions: Sequence[int], units: str) -> dict[str, Any]:
        """Return what a page builds the picture from, with the parts drawn where these positions put them."""
        svg = self._picture.draw(self._moved(positions, units))
        return {**self._page, "svg": svg, "parts": self._picture.specs_as_drawn()}

    def packed(self, page: dict[str, Any], positions: Sequence[int], units: str) -> Packed:
        """Return the frames of every slider's sweep from these positions, for a page without a kernel."""
        return packed({**page, "svg": ""}, positions, units, self.frame)

    def _page_data(self) -> dict[str, Any]:
        sliders: list[dict[str, Any]] = [
            {"label": s.label, "count": s.count, "readouts": {units: s.readouts(units) for units in UNIT_SETS}}
            for s in self._sliders
        ]
        two = self._takes_units or any(s["readouts"]["si"] != s["readouts"]["us"] for s in sliders)
        return {"svg": self._picture.svg, "parts": self._picture.specs, "sliders": sliders, "twoUnitSets": two}

    def _moved(self, positions: Sequence[int], units: str) -> Moved:
        return self._call(self.values(positions), units)

    def _call(self, values: dict[str, float], units: str) -> Moved:
        return self._move(**values, **({"units": units} if self._takes_units else {}))
