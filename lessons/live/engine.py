"""Live pictures: a drawing made once, whose named parts the page moves, with no redraw.

What is drawn, and where its parts are for the values of its sliders, a `MovingPicture` says (`moving_picture.py`: how
to write one). A `LivePicture` puts it on a page. It is made from a first view, which may come from a file
(`kept.py`); matplotlib is loaded and the picture drawn when a slider first needs a frame.

Exported pages and reopened notebooks move too, one slider at a time, unless the picture was locked when shown.
`live.values` are the slider values, `live.locked = False` unlocks, and `live.units = "us"` switches.
"""

from __future__ import annotations

import asyncio
import base64
import contextlib
import functools
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np
import traitlets

from lessons.live.export import Packed, exported_html
from lessons.live.page_script import page_script
from lessons.live.page_widget import PageWidget, batches
from lessons.live.sliders import UNIT_SETS

if TYPE_CHECKING:
    from lessons.live.moving_picture import Frame, MovingPicture

_PAGE_SIDE = Path(__file__).parent / "page_side"
_READING = 1.0  # s before a picture that was unlocked is drawn; the reply comes first
_MOST_SWEEP_FLOATS = 2_000_000  # 8 MB to the page for one slider; above that frames are sent one at a time


class FirstView(NamedTuple):
    """What is seen of a live picture before a slider moves: enough to show it, without matplotlib."""

    page: dict[str, Any]  # what the page builds it from: SVG, parts, sliders
    alt: str
    units: str
    positions: list[int]
    values: dict[str, float]  # of the sliders there
    frame: bytes
    words: list[str]
    packed: Packed | None = None  # None: not worked out yet, for it takes a frame of every position

    def as_data(self) -> dict[str, Any]:
        """Return it as JSON carries it."""
        return self._asdict() | {"frame": base64.b64encode(self.frame).decode()}


def first_view_from_data(data: Mapping[str, Any]) -> FirstView:
    """Read a first view that was written as JSON."""
    return FirstView(**{**data, "frame": base64.b64decode(data["frame"]), "packed": tuple(data["packed"])})


class LivePicture(PageWidget):
    """A picture with sliders on a page; shown by being the last value of a cell, or by display()."""

    _esm = page_script(_PAGE_SIDE / "live.js")
    _css = _PAGE_SIDE / "live.css"
    locked = traitlets.Bool(False).tag(sync=True)
    units = traitlets.Enum(UNIT_SETS, "si")
    values = traitlets.Dict()

    def __init__(self, first: FirstView, draw: Callable[[], MovingPicture], *, locked: bool = False) -> None:
        self._first, self._draw = first, draw
        self._drawn = first.positions, first.units  # the last that could be drawn
        super().__init__(
            units=first.units,
            locked=locked,
            values=first.values,
            _page=first.page,
            _frame=first.frame,
            _shown=_message(first.positions, first.units, first.words),
        )
        self.on_msg(self._heard)
        self.observe(self._switch, "units")
        self.observe(self._unlocked, "locked")

    @functools.cached_property
    def _moving(self) -> MovingPicture:
        """The picture itself, drawn when this is first asked for."""
        return self._draw()

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        """Give the widget, and for places without a kernel a page that still moves, unless locked, and a still one."""
        bundle = super()._repr_mimebundle_(**kwargs)
        data, metadata = bundle if isinstance(bundle, tuple) else (bundle or {}, {})
        positions, units = self._drawn
        page, packed = self._page, self._first.packed
        if self._drawn != (self._first.positions, self._first.units):
            page, packed = self._moving.drawn_at(positions, units), None
        if not self.locked:
            packed = packed or self._moving.packed(page, positions, units)
        html = exported_html(page, positions, units, None if self.locked else packed)
        return {
            **data,
            "text/html": html,
            "image/svg+xml": page["svg"],
            "text/plain": self._first.alt,
        }, metadata

    def _heard(self, _widget: object, message: dict[str, Any], _buffers: object) -> None:
        """Answer the page: one frame, or a sweep of one slider."""
        if message["kind"] == "ask":
            self._show(message["positions"], message["units"], message["from"], message["seq"])
        elif message["kind"] == "sweep":
            self.in_slices(self._sweep_frames(message))

    def _unlocked(self, _change: object) -> None:
        """Draw while the reply to the prediction is read: the slider is what comes next."""
        if not self.locked:
            with contextlib.suppress(RuntimeError):  # no kernel: a test
                asyncio.get_running_loop().call_later(_READING, lambda: self._moving)

    def _switch(self, _change: object) -> None:
        """Follow units set from Python; those the page asked for are shown already."""
        if self.units != self._shown["units"]:
            self._show(self._shown["positions"], self.units)

    def _show(self, positions: list[int], units: str, sender: str = "", seq: int = 0) -> None:
        """Send one frame, with its words and what it answers, in one message."""
        problem, words, coordinates, values = "", self._shown["words"], self._frame, self.values
        try:
            values = self._moving.values(positions)
            frame, words = self._moving.frame(positions, units)
            coordinates, self._drawn = frame.tobytes(), (list(positions), units)
        except Exception as error:  # the apprentice gets a sentence under the picture, never a traceback
            problem = f"The picture cannot be drawn at this value: {error}"
        answered = {"from": sender, "seq": seq, "problem": problem, "count": self._shown["count"] + 1}
        self.answer(coordinates, _message(positions, units, words, **answered))
        self.units = units if not problem else self.units
        self.values = values

    def _sweep_frames(self, request: dict[str, Any]) -> Iterator[bool]:
        """Compute and send frames of one slider, those nearest to its position first, a slice of time at each step."""
        k, units, positions = request["slider"], request["units"], list(request["positions"])
        order = sorted(range(self._page["sliders"][k]["count"]), key=lambda p: abs(p - positions[k]))
        if len(order) * len(self._frame) // 4 > _MOST_SWEEP_FLOATS:
            return

        def frame(position: int) -> Frame | None:
            try:
                return self._moving.frame([*positions[:k], position, *positions[k + 1 :]], units)
            except Exception:  # asked for alone, this position gives its sentence
                return None

        for done in batches(order, frame):
            at, frames = [position for position, _ in done], [each for _, each in done]
            sizes, words = [len(f) for f, _ in frames], [w for _, w in frames]
            content = {"kind": "sweep", "key": request["key"], "at": at, "sizes": sizes, "words": words}
            self.send(content, [np.concatenate([f for f, _ in frames] or [np.zeros(0, np.float32)]).tobytes()])
            yield True


def on_page(moving: MovingPicture, *, locked: bool = False) -> LivePicture:
    """Put a picture that is drawn on a page."""
    return LivePicture(moving.first_view(), lambda: moving, locked=locked)


def _message(positions: Sequence[int], units: str, words: list[str], **answered: Any) -> dict[str, Any]:
    message = {"positions": list(positions), "units": units, "words": words}
    return message | {"from": "", "seq": 0, "problem": "", "count": 0} | answered
