"""A job card whose page is at the other end of a connection of ours."""

from __future__ import annotations

import json
import struct
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from lessons.card_page.card import Card
from lessons.card_page.page import CardPage


class ServedCard(CardPage):
    """The card of one open page: what it would send to a notebook's page goes to `write` as bytes."""

    def __init__(self, card: Card, units: str, folder: Path, write: Callable[[bytes], None]) -> None:
        self._to_page = write
        super().__init__(card, units, folder, lab=False)

    def begin(self) -> None:
        """Send what the page is made of."""
        self.send({"kind": "begin", "page": self._page, "shown": self._shown}, [self._frame])

    def close(self) -> None:
        """Let go of all that a widget keeps."""
        layout = self.layout
        super().close()
        layout.close()

    def hear(self, message: str) -> None:
        """Take a message of the page; what is none of ours is left alone."""
        try:
            content = json.loads(message)
            kind = content["kind"]
        except (ValueError, TypeError, KeyError):
            return
        if kind in ("ask", "ahead", "save"):
            self._heard(self, content, [])

    def send(self, content: Any, buffers: Sequence[bytes] | None = None) -> None:
        """Send a message and its numbers as one packet."""
        self._to_page(packet(content, buffers or []))


def packet(content: Any, buffers: Sequence[bytes]) -> bytes:
    """Return a message as bytes: the length of its head, the head as JSON with the sizes of what follows, and that.

    >>> packet({"kind": "shown"}, [b"1234"])[4:]
    b'{"content": {"kind": "shown"}, "sizes": [4]}1234'
    """
    head = json.dumps({"content": content, "sizes": [len(each) for each in buffers]}).encode()
    return b"".join((struct.pack(">I", len(head)), head, *buffers))
