"""Live pictures: matplotlib draws once, sliders move its named parts on the page, with no redraw.

How to write one (see tests/lessons/pictures/test_live.py for a whole one)::

    def draw():                                   # a Figure, without pyplot; called once
        figure = Figure(figsize=(7, 4)); axes = figure.subplots()
        axes.plot([], [])[0].set_gid("curve")     # every part that moves has a gid
        axes.text(0, 0, "").set_gid("flow")
        return figure

    def move(travel, units):                      # slider names, in SI and fractions; `units` "si" or "us" if wanted
        return {"curve": xy, "flow": (say(q, "m³/h", units), (x, y))}

    Live(draw, move, [Slider("travel", "travel", 0, 1, 0.01, 0.5, "%")], alt="...")

Parts are lines and markers (Line2D), Polygon, PathPatch, fill_between and texts. `move` gives for each the (N, 2)
coordinates in the artist's own coordinates (data, or whatever its transform takes; nan makes a gap or hides it), for a
text the new words or (words, (x, y)). It must return the same names each time. A PathPatch keeps its curves as long as
it keeps its number of vertices. Moving words are one line. For axes that follow the unit set see `axis_units.py`.
Where the numbers refuse a value let `move` raise ValueError: the apprentice reads its sentence under the picture.
Exported pages and reopened notebooks move too, one slider at a time, unless the picture was locked when shown.
`live.values` are the slider values, `live.locked = False` unlocks, `live.units = "us"` switches, and
`live.figure(travel=1)` is the matplotlib figure at other values, for tests and print.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import numpy as np
import traitlets
from matplotlib.figure import Figure

from lessons.live.export import exported_html
from lessons.live.page_script import page_script
from lessons.live.page_widget import PageWidget, batches
from lessons.live.sliders import UNIT_SETS, Slider
from lessons.live.svg_parts import Floats32, Moved, MovingSvg

Frame = tuple[Floats32, list[str]]
_PAGE_SIDE = Path(__file__).parent / "page_side"
_MOST_SWEEP_FLOATS = 2_000_000  # 8 MB to the page for one slider; above that frames are sent one at a time


class LivePicture(PageWidget):
    """A picture with at most three sliders; shown by being the last value of a cell, or by display()."""

    _esm = page_script(_PAGE_SIDE / "live.js")
    _css = _PAGE_SIDE / "live.css"
    locked = traitlets.Bool(False).tag(sync=True)
    units = traitlets.Enum(UNIT_SETS, "si")
    values = traitlets.Dict()

    def __init__(
        self,
        draw: Callable[[], Figure],
        move: Callable[..., Moved],
        sliders: Sequence[Slider],
        *,
        alt: str,
        locked: bool = False,
        units: str = "si",
    ) -> None:
        if not 1 <= len(sliders) <= 3:
            raise ValueError(f"a live picture has 1 to 3 sliders, but got {len(sliders)}.")
        if not alt.strip():
            raise ValueError("a live picture needs an alternative text for readers who cannot see it: alt='...'.")
        self._sliders, self._move = tuple(sliders), move
        self._takes_units = "units" in inspect.signature(move).parameters
        start = [slider.position(slider.start) for slider in sliders]
        self._picture = MovingSvg(draw(), self._moved(start, units), alt)
        frame, words = self._computed(start, units)
        self._drawn = start, units  # the last that could be drawn
        super().__init__(
            units=units,
            locked=locked,
            values=self._values(start),
            _page=self._page_data(),
            _frame=frame.tobytes(),
            _shown=_message(start, units, words),
        )
        self.on_msg(self._heard)
        self.observe(self._switch, "units")

    def figure(self, units: str = "", **values: float) -> Figure:
        """Return the matplotlib figure with its parts placed for these values; other sliders are at their start."""
        start = {slider.name: slider.start for slider in self._sliders}
        self._picture.place(self._call({**start, **values}, units or self.units))
        return self._picture.figure

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        """Give the widget, and for places without a kernel a page that still moves, unless locked, and a still one."""
        bundle = super()._repr_mimebundle_(**kwargs)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle or {}, {})
        positions, units = self._drawn
        shown = {**self._shown, "positions": positions, "units": units}
        svg = self._picture.draw(self._moved(positions, units))
        page_data = {**self._page, "svg": "", "parts": self._picture.specs_as_drawn()}
        computed = None if self.locked else self._computed
        page = exported_html(page_data, self._sliders, shown, svg, computed)
        return {**data, "text/html": page, "image/svg+xml": svg, "text/plain": self._picture.alt}, metadata

    def _page_data(self) -> dict[str, Any]:
        sliders: list[dict[str, Any]] = [
            {"label": s.label, "count": s.count, "readouts": {units: s.readouts(units) for units in UNIT_SETS}}
            for s in self._sliders
        ]
        two = self._takes_units or any(s["readouts"]["si"] != s["readouts"]["us"] for s in sliders)
        return {"svg": self._picture.svg, "parts": self._picture.specs, "sliders": sliders, "twoUnitSets": two}

    def _values(self, positions: Sequence[int]) -> dict[str, float]:
        return {s.name: s.value(k) for s, k in zip(self._sliders, positions, strict=True)}

    def _moved(self, positions: Sequence[int], units: str) -> Moved:
        return self._call(self._values(positions), units)

    def _call(self, values: dict[str, float], units: str) -> Moved:
        return self._move(**values, **({"units": units} if self._takes_units else {}))

    def _computed(self, positions: Sequence[int], units: str) -> Frame:
        return self._picture.frame(self._moved(positions, units))

    def _heard(self, _widget: object, message: dict[str, Any], _buffers: object) -> None:
        """Answer the page: one frame, or a sweep of one slider."""
        if message["kind"] == "ask":
            self._show(message["positions"], message["units"], message["from"], message["seq"])
        elif message["kind"] == "sweep":
            self.in_slices(self._sweep_frames(message))

    def _switch(self, _change: object) -> None:
        """Follow units set from Python; those the page asked for are shown already."""
        if self.units != self._shown["units"]:
            self._show(self._shown["positions"], self.units)

    def _show(self, positions: list[int], units: str, sender: str = "", seq: int = 0) -> None:
        """Send one frame, with its words and what it answers, in one message."""
        problem, words, coordinates = "", self._shown["words"], self._frame
        try:
            frame, words = self._computed(positions, units)
            coordinates, self._drawn = frame.tobytes(), (list(positions), units)
        except Exception as error:  # the apprentice gets a sentence under the picture, never a traceback
            problem = f"The picture cannot be drawn at this value: {error}"
        answered = {"from": sender, "seq": seq, "problem": problem, "count": self._shown["count"] + 1}
        self.answer(coordinates, _message(positions, units, words, **answered))
        self.units = units if not problem else self.units
        self.values = self._values(positions)

    def _sweep_frames(self, request: dict[str, Any]) -> Iterator[bool]:
        """Compute and send frames of one slider, those nearest to its position first, a slice of time at each step."""
        k, units, positions = request["slider"], request["units"], list(request["positions"])
        order = sorted(range(self._sliders[k].count), key=lambda p: abs(p - positions[k]))
        if len(order) * len(self._frame) // 4 > _MOST_SWEEP_FLOATS:
            return

        def frame(position: int) -> Frame | None:
            try:
                return self._computed([*positions[:k], position, *positions[k + 1 :]], units)
            except Exception:  # asked for alone, this position gives its sentence
                return None

        for done in batches(order, frame):
            at, frames = [position for position, _ in done], [each for _, each in done]
            sizes, words = [len(f) for f, _ in frames], [w for _, w in frames]
            content = {"kind": "sweep", "key": request["key"], "at": at, "sizes": sizes, "words": words}
            self.send(content, [np.concatenate([f for f, _ in frames] or [np.zeros(0, np.float32)]).tobytes()])
            yield True


def _message(positions: Sequence[int], units: str, words: list[str], **answered: Any) -> dict[str, Any]:
    message = {"positions": list(positions), "units": units, "words": words}
    return message | {"from": "", "seq": 0, "problem": "", "count": 0} | answered
