"""The pictures of the report: bars as plain SVG, told apart by words as well as by colour."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

# Okabe-Ito, which the colour-blind can tell apart too.
BLUE, ORANGE, GREY = "#0072b2", "#d55e00", "#999999"
_ROW, _LEFT, _WIDTH = 26, 190, 420


def bars(title: str, rows: Sequence[tuple[str, float, str]], most: float, colour: str = BLUE) -> str:
    """Return horizontal bars: name, value and what to write beside each."""
    if not rows or most <= 0:
        return ""
    parts = []
    for i, (name, value, said) in enumerate(rows):
        y, width = i * _ROW, max(0.0, min(1.0, value / most)) * _WIDTH
        parts.append(_text(_LEFT - 8, y, name, "end"))
        parts.append(f'<rect x="{_LEFT}" y="{y + 4}" width="{width:.1f}" height="{_ROW - 8}" fill="{colour}"/>')
        parts.append(_text(_LEFT + width + 6, y, said, "start"))
    return _picture(title, parts, len(rows))


def shares(title: str, rows: Sequence[tuple[str, int, int, int]]) -> str:
    """Return one bar for each question: how many had all, some and none of the points."""
    parts = []
    for i, (name, full, some, none) in enumerate(rows):
        total, x = full + some + none, float(_LEFT)
        parts.append(_text(_LEFT - 8, i * _ROW, name, "end"))
        for count, colour in ((full, BLUE), (some, GREY), (none, ORANGE)):
            width = _WIDTH * count / total if total else 0
            parts.append(_block(x, i * _ROW + 4, width, count, colour))
            x += width
    legend = "From left to right: all points (blue), some (grey), none (orange)."
    return _picture(title, parts, len(rows)) + f"<p>{legend}</p>" if rows else ""


def _block(x: float, y: float, width: float, count: int, colour: str) -> str:
    if not count:
        return ""
    rect = f'<rect x="{x:.1f}" y="{y}" width="{width:.1f}" height="{_ROW - 8}" fill="{colour}" stroke="#fff"/>'
    if width < 18:
        return rect
    middle = f'x="{x + width / 2:.1f}" y="{y + 13}"'
    ink = "#fff" if colour == BLUE else "#000"  # what reads best on each
    return f'{rect}<text {middle} text-anchor="middle" fill="{ink}" font-weight="bold">{count}</text>'


def _text(x: float, y: float, words: str, anchor: str) -> str:
    short = words if len(words) <= 34 else words[:33] + "…"
    return f'<text x="{x:.1f}" y="{y + 17}" text-anchor="{anchor}">{escape(short)}</text>'


def _picture(title: str, parts: Sequence[str], rows: int) -> str:
    width, height = _LEFT + _WIDTH + 190, rows * _ROW + 4
    label = escape(title, quote=True)
    return (
        f'<figure><figcaption>{escape(title)}</figcaption><svg role="img" aria-label="{label}" '
        f'viewBox="0 0 {width} {height}" width="{width}" font-family="sans-serif" font-size="13">'
        f"{''.join(parts)}</svg></figure>"
    )
