"""The pictures of the report: bars as plain SVG, narrow enough for a telephone, told apart by words and by colour."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from html import escape

# Okabe-Ito, which the colour-blind can tell apart too.
BLUE, ORANGE, GREY = "#0072b2", "#d55e00", "#999999"
_LINE, _BAR, _GAP = 17, 18, 8
_WIDTH, _BAR_WIDTH = 350, 270  # what is beside a bar takes the rest
_LETTERS = 48  # of a line of a name, at this size


def bars(title: str, rows: Sequence[tuple[str, float, str]], most: float, colour: str = BLUE) -> str:
    """Return horizontal bars: name, value and what to write beside each."""
    if not rows or most <= 0:
        return ""
    parts, y = list[str](), 0
    for name, value, said in rows:
        words, y = _name(name, y)
        width = max(0.0, min(1.0, value / most)) * _BAR_WIDTH
        bar = f'<rect x="0" y="{y}" width="{width:.1f}" height="{_BAR}" fill="{colour}"/>'
        parts += [*words, bar, _text(width + 6, y + 14, said)]
        y += _BAR + _GAP
    return _picture(title, parts, y)


def shares(title: str, rows: Sequence[tuple[str, int, int, int]]) -> str:
    """Return one bar for each question: how many had all, some and none of the points."""
    parts, y = list[str](), 0
    for name, full, some, none in rows:
        words, y = _name(name, y)
        parts += words
        total, x = full + some + none, 0.0
        for count, colour in ((full, BLUE), (some, GREY), (none, ORANGE)):
            width = _WIDTH * count / total if total else 0
            parts.append(_block(x, y, width, count, colour))
            x += width
        y += _BAR + _GAP
    legend = "From left to right: all points (blue), some (grey), none (orange)."
    return _picture(title, parts, y) + f"<p>{legend}</p>" if rows else ""


def _name(name: str, y: int) -> tuple[list[str], int]:
    """Return the lines of a name, and where they end."""
    lines = textwrap.wrap(name, _LETTERS) or [""]
    return [_text(0, y + _LINE * n - 4, each) for n, each in enumerate(lines, start=1)], y + _LINE * len(lines)


def _block(x: float, y: float, width: float, count: int, colour: str) -> str:
    if not count:
        return ""
    rect = f'<rect x="{x:.1f}" y="{y}" width="{width:.1f}" height="{_BAR}" fill="{colour}" stroke="#fff"/>'
    if width < 8 * len(str(count)) + 2:
        return rect
    middle = f'x="{x + width / 2:.1f}" y="{y + 14}"'
    ink = "#fff" if colour == BLUE else "#000"  # what reads best on each
    return f'{rect}<text {middle} text-anchor="middle" fill="{ink}" font-weight="bold">{count}</text>'


def _text(x: float, y: float, words: str) -> str:
    return f'<text x="{x:.1f}" y="{y}">{escape(words)}</text>'


def _picture(title: str, parts: Sequence[str], height: int) -> str:
    label = escape(title, quote=True)
    return (
        f'<figure><figcaption>{escape(title)}</figcaption><svg role="img" aria-label="{label}" '
        f'viewBox="0 0 {_WIDTH} {height}" width="{_WIDTH}" font-family="sans-serif" font-size="13">'
        f"{''.join(parts)}</svg></figure>"
    )
