"""A live picture for a page without a kernel: the frames of each slider's sweep from the start go with it."""

from __future__ import annotations

import base64
import json
import uuid
import zlib
from collections.abc import Callable, Sequence
from html import escape
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lessons.live.page_script import page_script
from lessons.live.sliders import UNIT_SETS

Packed = tuple[dict[str, Any], dict[str, Any]]  # sliders and frames for a page without a kernel
Computed = Callable[[Sequence[int], str], tuple[NDArray[np.float32], list[str]]]
_PAGE_SIDE = Path(__file__).parent / "page_side"
_MOST_POSITIONS = 25  # of one slider in the page; each costs a call of `move` in either unit set
_LOCKED = "Predict first: run all cells and answer the question above, then the sliders unlock."
_MOST_BYTES = 120_000  # of packed frames in the page; a hand-in carries them too


def exported_html(page: dict[str, Any], positions: Sequence[int], units: str, moves: Packed | None) -> str:
    """HTML that shows the picture and its values as they are, and moves where scripts run; still without `moves`."""
    name = f"ostrel-{uuid.uuid4().hex}"
    values = "".join(_value(p, k, units) for p, k in zip(page["sliders"], positions, strict=True))
    note = "" if moves else f'<div class="ostrel-note">{_LOCKED}</div>'
    live = f'<div class="ostrel-live"><div class="ostrel-picture">{page["svg"]}</div>{values}{note}</div>'
    style = f"<style>{(_PAGE_SIDE / 'live.css').read_text('utf-8')}</style>"
    if moves is None:
        return style + live
    data = ", ".join(json.dumps(part, ensure_ascii=False).replace("<", "\\u003c") for part in moves)
    script = f'{page_script(_PAGE_SIDE / "live.js")}\nstill(document.getElementById("{name}"), {data});'
    return f'{style}<div id="{name}">{live}</div><script type="module">{script}</script>'


def _value(slider: dict[str, Any], position: int, units: str) -> str:
    said = escape(slider["readouts"][units][position])
    label = f'{escape(slider["label"])} <span class="ostrel-value">{said}</span>'
    return f'<div class="ostrel-row"><div>{label}</div></div>'


def packed(page: dict[str, Any], positions: Sequence[int], units: str, computed: Computed) -> Packed:
    """Thin the positions until the frames are small enough; return the page's sliders so thinned, and the frames."""
    most, sliders = _MOST_POSITIONS, page["sliders"]
    while True:
        wanted = [_thinned(s["count"], k, most) for s, k in zip(sliders, positions, strict=True)]
        kept, frames = _frames(wanted, positions, units, computed)
        if len(frames["data"]) <= _MOST_BYTES or most <= 5:
            break
        most = most // 2 + 1
    thin = [
        {**s, "count": len(at), "readouts": {u: [s["readouts"][u][k] for k in at] for u in UNIT_SETS}}
        for s, at in zip(sliders, kept, strict=True)
    ]
    return {**page, "sliders": thin}, frames


def _thinned(count: int, position: int, most: int) -> list[int]:
    """Positions spread evenly over all, with both ends and the present one among them."""
    return sorted({*np.linspace(0, count - 1, min(count, most)).round().astype(int).tolist(), position})


def _frames(
    wanted: list[list[int]], shown: Sequence[int], shown_units: str, computed: Computed
) -> tuple[list[list[int]], dict[str, Any]]:
    """Compute the frames; return the positions that could be computed, and the packed frames."""
    kept: list[list[int]] = [[] for _ in wanted]
    sizes: list[int] = []
    words: list[list[str]] = []
    data: list[NDArray[np.float32]] = []
    numbers: dict[str, list[list[int]]] = {units: [[] for _ in wanted] for units in UNIT_SETS}
    for k, position in ((k, position) for k, positions in enumerate(wanted) for position in positions):
        at = [*shown[:k], position, *shown[k + 1 :]]
        try:
            both = {units: computed(at, units) for units in UNIT_SETS}
        except Exception:  # noqa: S112  the page leaves out a place that the numbers refuse
            continue
        kept[k].append(position)
        for units, (frame, said) in both.items():  # side by side, because they differ little and so pack well
            numbers[units][k].append(len(sizes))
            sizes.append(len(frame))
            words.append(said)
            data.append(np.round(frame * 16) / np.float32(16))  # 1/16 point is not seen, and packs well
    data_packed = zlib.compress(np.concatenate(data).tobytes(), 6)
    start = [at.index(k) for at, k in zip(kept, shown, strict=True)]
    return kept, {
        "start": start,
        "units": shown_units,
        "sizes": sizes,
        "words": words,
        "frames": numbers,
        "data": base64.b64encode(data_packed).decode(),
    }
