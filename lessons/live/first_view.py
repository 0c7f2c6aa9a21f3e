"""What is seen of a live picture before a slider moves: enough to show it, without matplotlib."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from typing import Any, NamedTuple

Packed = tuple[dict[str, Any], dict[str, Any]]  # sliders and frames for a page without a kernel


class FirstView(NamedTuple):
    """A live picture as it is first shown."""

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
