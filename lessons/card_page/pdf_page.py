"""The page to take along as PDF: one sheet of A4 or Letter, drawn by matplotlib."""

from __future__ import annotations

import io
import textwrap
from collections.abc import Sequence

import matplotlib as mpl
import numpy as np
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from numpy.typing import NDArray

from lessons.card_page.card import DECIDES
from lessons.card_page.page_files import BLANKS, Filled
from lessons.pictures.verdicts import SIGNS
from lessons.refinery import NAME

_MARGIN, _LINE = 0.55, 1.32  # inches; line distance over letter size
_PICTURE = (4.3, 1.85)  # inches
_PER_LETTER = 0.56  # width of a letter over its size, a little more than the mean of the font


class PdfPage:
    """A page filled from the top down."""

    def __init__(self, size: tuple[float, float]) -> None:
        self.width, self.height = size
        self.figure = Figure(figsize=size)
        self.at = self.height - _MARGIN
        self.foot = _MARGIN  # top of the room to write on

    def write(
        self, words: str, size: float = 8.5, *, weight: str = "normal", indent: float = 0.0, gap: float = 0.0
    ) -> None:
        """Write a paragraph and go on below it."""
        self.at -= gap
        fits = int((self.width - 2 * _MARGIN - indent) * 72 / (size * _PER_LETTER))
        for line in textwrap.wrap(words, fits) or [""]:
            self.at -= size * _LINE / 72
            self._text(_MARGIN + indent, line, size, weight)

    def pair(self, name: str, words: str, size: float = 8.5) -> None:
        """Write what something is and, beside it, how much."""
        column = 0.5 * (self.width - 2 * _MARGIN)
        fits = int(column * 72 / (size * _PER_LETTER))
        left, right = textwrap.wrap(name, fits) or [""], textwrap.wrap(words, fits) or [""]
        for k in range(max(len(left), len(right))):
            self.at -= size * _LINE / 72
            for x, lines, weight in ((_MARGIN, left, "normal"), (_MARGIN + column, right, "bold")):
                if k < len(lines):
                    self._text(x, lines[k], size, weight)

    def heading(self, words: str) -> None:
        """Write a small heading."""
        self.write(words, 9, weight="bold", gap=0.07)

    def rule(self, at: float | None = None) -> None:
        """Draw a line across the page."""
        y = (self.at - 0.05 if at is None else at) / self.height
        left = _MARGIN / self.width
        self.figure.add_artist(Line2D([left, 1 - left], [y, y], color="0.2", lw=0.7))
        if at is None:
            self.at -= 0.07

    def picture(self, figure: Figure) -> None:
        """Put a picture on the page."""
        wide, high = _PICTURE
        self.at -= high + 0.05
        axes = self.figure.add_axes(
            (
                (self.width - wide) / 2 / self.width,
                self.at / self.height,
                wide / self.width,
                high / self.height,
            )
        )
        axes.set_axis_off()
        axes.imshow(_pixels(figure), aspect="auto", interpolation="none")

    def _text(self, x: float, words: str, size: float, weight: str) -> None:
        self.figure.text(
            x / self.width,
            self.at / self.height,
            words,
            size=size,
            weight=weight,
            va="baseline",
            parse_math=False,
        )


def pdf(filled: Filled, about: Sequence[tuple[str, str]], size: tuple[float, float]) -> bytes:
    """Return the page as PDF."""
    out = io.BytesIO()
    with mpl.rc_context({"pdf.fonttype": 3, "font.family": "DejaVu Sans"}):
        sheet(filled, about, size).figure.savefig(
            out, format="pdf", metadata={"Title": filled.card.title, "Creator": NAME}
        )
    return out.getvalue()


def sheet(filled: Filled, about: Sequence[tuple[str, str]], size: tuple[float, float]) -> PdfPage:
    """Fill the page: inputs, answer, how it is worked out, cautions, source, and room to write on.

    Where there is too much to say, the picture gives up its room.
    """
    page = _full(filled, about, size, picture=not filled.answer.steps)
    return page if page.at > page.foot else _full(filled, about, size, picture=False)


def _full(filled: Filled, about: Sequence[tuple[str, str]], size: tuple[float, float], *, picture: bool) -> PdfPage:
    card, answer = filled.card, filled.answer
    page = PdfPage(size)
    page.write(card.title, 15, weight="bold")
    page.write("     ".join(f"{name}: {words}" for name, words in about), 9, gap=0.03)
    page.rule()
    for name, words in filled.inputs:
        page.pair(name, words)
    page.write(f"{SIGNS[answer.tone]} {answer.headline}", 13, weight="bold", gap=0.08)
    for name, words in answer.rows:
        page.pair(name, words)
    if picture:
        page.picture(filled.figure)
    page.heading("How it is worked out")
    for words in answer.formula:
        page.write(words)
    page.heading("Cautions")
    for words in (*card.cautions, *DECIDES):
        page.write(f"• {words}", 8)
    if answer.steps:
        page.heading("In this order")
        for number, words in enumerate(answer.steps, start=1):
            page.write(f"{number}. {words}", 8, indent=0.1)
    page.write(f"Source. {card.source}", 7.5, gap=0.06)
    _room_to_write(page)
    return page


def _room_to_write(page: PdfPage) -> None:
    """Leave room for as-found, as-left and a signature, at the foot of the page whatever stands above."""
    foot = _MARGIN + 0.30
    step = 0.48
    for k, words in enumerate(reversed(BLANKS)):
        page.rule(foot + k * step + 0.12)
        page.figure.text(
            _MARGIN / page.width, (foot + (k + 1) * step - 0.05) / page.height, words, size=8.5, weight="bold"
        )
    page.rule(foot + len(BLANKS) * step + 0.12)
    page.figure.text(
        _MARGIN / page.width,
        _MARGIN / page.height,
        "signature ____________________________     "
        f"checked by ____________________________     job card of the {NAME} lessons",
        size=8,
    )
    page.foot = foot + len(BLANKS) * step + 0.12


def _pixels(figure: Figure) -> NDArray[np.uint8]:
    """Draw the card's picture as pixels; the figure itself stays as it is."""
    dpi = figure.dpi
    figure.set_dpi(200)
    try:
        canvas = FigureCanvasAgg(figure)
        canvas.draw()
        return np.asarray(canvas.buffer_rgba()).copy()
    finally:
        figure.set_dpi(dpi)
