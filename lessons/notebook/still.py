"""A still picture as SVG text for a page, with words for those who cannot see it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lessons.live.svg_text import svg_text
from lessons.questions.question import Posed

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def svg_of(figure: Figure, alt: str) -> str:
    """Return a matplotlib figure as SVG text that tells screen readers what it shows."""
    return svg_text(figure, alt, look="max-width:100%;height:auto")


def drawing_of(posed: Posed) -> str:
    """Return the picture that goes with a question, or an empty text where there is none."""
    if posed.question.figure is None:
        return ""
    return svg_of(posed.question.figure(posed.numbers, posed.units), posed.question.alt)
