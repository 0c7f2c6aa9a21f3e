"""The widget under live pictures and job cards: what is shown goes to the page in one short message of its own."""

from __future__ import annotations

from typing import Any

import anywidget
import traitlets


class Answering(anywidget.AnyWidget):
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

    def _should_send_property(self, key: str, value: Any) -> bool:
        return key not in ("_frame", "_shown") and bool(super()._should_send_property(key, value))
