"""A still picture as SVG text for a page, with words for those who cannot see it."""

from __future__ import annotations

import io
from html import escape
from typing import TYPE_CHECKING

import matplotlib as mpl

from lessons.questions.question import Posed

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def svg_of(figure: Figure, alt: str) -> str:
    """Return a matplotlib figure as SVG text that tells screen readers what it shows."""
    text = io.StringIO()
    with mpl.rc_context({"svg.fonttype": "none", "svg.hashsalt": alt}):
        figure.savefig(text, format="svg", metadata={"Date": None, "Creator": None})
    svg = text.getvalue()
    start = svg.index("<svg")
    named = f'<svg role="img" aria-label="{escape(alt)}" style="max-width:100%;height:auto" '
    return named + svg[start + len("<svg ") :]


def drawing_of(posed: Posed) -> str:
    """Return the picture that goes with a question, or an empty text where there is none."""
    if posed.question.figure is None:
        return ""
    return svg_of(posed.question.figure(posed.numbers, posed.units), posed.question.alt)
