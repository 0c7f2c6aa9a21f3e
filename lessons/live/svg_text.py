"""A matplotlib figure as SVG text: the one way any picture gets onto a page."""

from __future__ import annotations

import io
import re
from html import escape
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def svg_text(figure: Figure, alt: str, *, look: str = "", simplify: bool = True) -> str:
    """Return a figure as SVG that tells screen readers what it shows; `look` is its style on the page."""
    import matplotlib as mpl  # here, where something was drawn with it

    drawn = io.StringIO()
    # Own salt for each picture: the ids of its clip paths must not meet those of another on one page.
    with mpl.rc_context({"svg.fonttype": "none", "svg.hashsalt": alt, "path.simplify": simplify}):
        figure.savefig(drawn, format="svg", metadata={"Date": None, "Creator": None}, dpi=72)
    svg = re.sub(r"^.*?(?=<svg)|<metadata>.*?</metadata>\s*", "", drawn.getvalue(), flags=re.DOTALL)
    style = f' style="{look}"' if look else ""
    return svg.replace("<svg ", f'<svg role="img" aria-label="{escape(alt)}"{style} ', 1)
