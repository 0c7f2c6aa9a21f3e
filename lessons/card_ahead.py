"""What a job card will answer along one of its sliders, worked out ahead, so that a drag needs no round trip."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from typing import Any

from lessons.answering import SLICE
from lessons.card import Field
from lessons.card_sliders import slider

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
    left = list(texts)
    while left:
        found: dict[str, Answer] = {}
        end = time.perf_counter() + SLICE
        while left and (not found or time.perf_counter() < end):
            text = left.pop(0)
            if (answered := answer(text)) is not None:
                found[text] = answered
        sizes, shown = [len(frame) // 4 for frame, _ in found.values()], [said for _, said in found.values()]
        content = {"kind": "ahead", "key": key, "at": list(found), "sizes": sizes, "shown": shown}
        yield content, b"".join(frame for frame, _ in found.values())
