"""The widget under live pictures and job cards: what is shown goes to the page in one short message of its own."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

import anywidget
import traitlets

Place = TypeVar("Place")
Found = TypeVar("Found")
_SLICE = 0.004  # s of work ahead done at a time, so that what is asked for meanwhile hardly waits


class PageWidget(anywidget.AnyWidget):
    """A picture on the page that Python answers; `_frame` has its coordinates, `_shown` its words and all else.

    Both are part of the widget's state, so that a reopened page and a second view have them. Yet a change of them is
    not sent as state: packing, comparing and unpacking state costs a good part of what a frame takes.
    """

    _page = traitlets.Dict().tag(sync=True)
    _frame = traitlets.Bytes().tag(sync=True)
    _shown = traitlets.Dict().tag(sync=True)

    def answer(self, frame: bytes, shown: dict[str, Any]) -> None:
        """Send coordinates and words to the page, which keeps them as state."""
        self._frame, self._shown = frame, shown
        self.send({"kind": "shown", "shown": shown}, [frame])

    def in_slices(self, work: Iterator[object]) -> None:
        """Do work ahead, a step at a time between the page's questions; a new one ends the one before."""
        self._work = work

        def go_on() -> None:
            if self._work is work and next(work, None) is not None:
                loop.call_later(_SLICE / 2, go_on)

        try:
            loop = asyncio.get_running_loop()
        except RuntimeError:  # no kernel: a test, at once
            for _ in work:
                pass
        else:
            loop.call_soon(go_on)

    def _should_send_property(self, key: str, value: Any) -> bool:
        return key not in ("_frame", "_shown") and bool(super()._should_send_property(key, value))


def batches(places: Sequence[Place], answer: Callable[[Place], Found | None]) -> Iterator[list[tuple[Place, Found]]]:
    """Give the answers at each place in turn, as many at a time as a slice of time brings; None is left out."""
    left = list(places)
    while left:
        done: list[tuple[Place, Found]] = []
        end = time.perf_counter() + _SLICE
        while left and (not done or time.perf_counter() < end):
            place = left.pop(0)
            if (found := answer(place)) is not None:
                done.append((place, found))
        yield done
