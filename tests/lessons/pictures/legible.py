"""Can every letter of a picture be read? Shared by the tests of all kinds of pictures."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from functools import cache

from matplotlib.artist import Artist
from matplotlib.axis import Axis
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

SMALLEST = 8.0  # [pt]
SLIVER = 0.5  # [px] boxes that only touch do not overlap


def assert_legible(figure: Figure, when: object = "", sliver: float = SLIVER) -> None:
    """Fail if a text is too small, leaves the page, or lies on another text."""
    renderer, page = _paper(*figure.bbox.size, figure.dpi), figure.bbox
    with renderer._draw_disabled():  # what matplotlib's own draw_without_rendering does, on paper used before
        figure.draw(renderer)
    texts = [t for t in drawn_texts(figure) if t.get_text().strip()]
    boxes = [(t.get_text(), t.get_window_extent(renderer).padded(-sliver)) for t in texts]
    assert min(t.get_fontsize() for t in texts) >= SMALLEST, when
    for words, box in boxes:
        inside = page.x0 <= box.x0 and box.x1 <= page.x1 and page.y0 <= box.y0 and box.y1 <= page.y1
        assert inside, f"clipped: {words!r} {when}"
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        assert not a.overlaps(b), f"{one!r} lies on {other!r} {when}"


def drawn_texts(artist: Artist) -> Iterator[Text]:
    """Yield the texts of an artist that are drawn: not of axes that are off, nor of ticks outside the view."""
    if not artist.get_visible() or (isinstance(artist, Axis) and not artist.axes.axison):
        return
    if isinstance(artist, Text):
        yield artist
    beyond = _beyond_the_end(artist) if isinstance(artist, Axis) else []
    for child in artist.get_children():
        if child not in beyond:
            yield from drawn_texts(child)


def _beyond_the_end(axis: Axis) -> list[Artist]:
    """Return the ticks outside the view: matplotlib keeps them but never draws them."""
    low, high = sorted(axis.get_view_interval())
    return [tick for tick in axis.get_major_ticks() if not low <= tick.get_loc() <= high]


@cache
def _paper(width: float, height: float, dpi: float) -> RendererAgg:
    """Return what measures letters: one for all pictures of a size, for it knows the words it has measured."""
    return RendererAgg(width, height, dpi)
