"""Can every letter of a picture be read? Shared by the tests of all kinds of pictures."""

from __future__ import annotations

import itertools

from matplotlib.axis import Axis
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text

SMALLEST = 8.0  # [pt]
SLIVER = 0.5  # [px] boxes that only touch do not overlap


def assert_legible(figure: Figure, when: object = "") -> None:
    """Fail if a text is too small, leaves the page, or lies on another text."""
    canvas = FigureCanvasAgg(figure)
    figure.draw_without_rendering()
    renderer, page = canvas.get_renderer(), figure.bbox
    unseen = {id(label) for axes in figure.axes for axis in (axes.xaxis, axes.yaxis) for label in _beyond_the_end(axis)}
    texts = [t for t in figure.findobj(Text) if t.get_visible() and t.get_text().strip() and id(t) not in unseen]
    boxes = [(t.get_text(), t.get_window_extent(renderer).padded(-SLIVER)) for t in texts]
    assert min(t.get_fontsize() for t in texts) >= SMALLEST, when
    for words, box in boxes:
        inside = page.x0 <= box.x0 and box.x1 <= page.x1 and page.y0 <= box.y0 and box.y1 <= page.y1
        assert inside, f"clipped: {words!r} {when}"
    for (one, a), (other, b) in itertools.combinations(boxes, 2):
        assert not a.overlaps(b), f"{one!r} lies on {other!r} {when}"


def _beyond_the_end(axis: Axis) -> list[Text]:
    """Return the labels of ticks outside the view: matplotlib keeps them but never draws them."""
    low, high = sorted(axis.get_view_interval())
    ticks = [tick for tick in axis.get_major_ticks() if not low <= tick.get_loc() <= high]
    return [label for tick in ticks for label in (tick.label1, tick.label2)]
