"""A still picture as SVG text for a page, with words for those who cannot see it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from lessons.live.kept import kept_data
from lessons.notebook import bank
from lessons.questions.question import Posed

if TYPE_CHECKING:
    from matplotlib.figure import Figure


def svg_of(figure: Figure, alt: str) -> str:
    """Return a matplotlib figure as SVG text that tells screen readers what it shows."""
    from lessons.live.svg_text import svg_text  # loads matplotlib, which a command that draws nothing need not wait for

    return svg_text(figure, alt, look="max-width:100%;height:auto")


def drawing_of(posed: Posed) -> str:
    """Return the picture that goes with a question, or an empty text where there is none."""
    if posed.question.figure is None:
        return ""
    # Only what practice asks is kept: a question of the instructor's own may have the same name and numbers.
    is_practice = bank.practice_questions().get(posed.question.id) is posed.question
    found: str | None = kept_data(drawing_name(posed)) if is_practice else None
    return found or svg_of(posed.question.figure(posed.numbers, posed.units), posed.question.alt)


def drawing_name(posed: Posed) -> str:
    """Return the name under which a question's picture is kept: all that decides how it is drawn."""
    numbers = {name: value for name, value in vars(posed.numbers).items() if name != "in_formulas"}
    return f"question {posed.question.id} {posed.units} {sorted(numbers.items())!r}"
