"""What a job card will answer along one of its sliders, worked out ahead, so that a drag needs no round trip."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from lessons.card_page.box_sliders import slider
from lessons.card_page.card import Field
from lessons.live.page_widget import batches

Answer = tuple[bytes, dict[str, Any]]  # coordinates of the picture, and what else the page shows


def spots(field: Field, units: str, now: float) -> list[str]:
    """Return what the box says at each place of the slider, the nearest to now first.

    >>> spots(Field("rings", "rings", "", 2.0, low=1.0, high=4.0, step=1.0), "si", 3)
    ['3', '2', '4', '1']
    """
    ends = (slider(field) or {})[units]
    count = round((ends["high"] - ends["low"]) / ends["step"]) + 1
    values = [ends["low"] + k * ends["step"] for k in range(count)]
    return [f"{value:.9g}" for value in sorted(values, key=lambda value: abs(value - now))]


def messages(
    answer: Callable[[str], Answer | None], texts: list[str], key: str
) -> Iterator[tuple[dict[str, Any], bytes]]:
    """Give messages for the page, each with as many answers as a slice of time brings; refused numbers are left out."""
    for found in batches(texts, answer):
        sizes, shown = [len(frame) // 4 for _, (frame, _) in found], [said for _, (_, said) in found]
        content = {"kind": "ahead", "key": key, "at": [text for text, _ in found], "sizes": sizes, "shown": shown}
        yield content, b"".join(frame for _, (frame, _) in found)
