"""A page for people to read: one style for all, from a telephone to paper; it loads nothing and runs nothing."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from grading.course import plain

STYLE = """
body{font:16px/1.5 system-ui,sans-serif;max-width:46em;margin:2em auto;padding:0 1em;color:#222;
background:#fff;overflow-wrap:break-word}body.wide{max-width:70em}
h1{font-size:1.4em}h2{font-size:1.1em;margin:1.4em 0 .3em}
section h2{margin:0}section{border:1px solid #bbb;border-left:6px solid #d55e00;
border-radius:3px;padding:.6em 1em;margin:1em 0}section.right{border-left-color:#0072b2}
section.waits{border-left-color:#777}dt{font-size:.85em;color:#555;margin-top:.5em}dd{margin:0;
white-space:pre-wrap}dd svg{display:block}table{border-collapse:collapse}
td,th{border:1px solid #bbb;padding:.2em .6em;text-align:left;vertical-align:top}
figure{margin:1em 0}figcaption{font-weight:bold}
svg{max-width:100%;height:auto}
@media screen and (max-width:640px){body{margin:.5em auto;padding:0 .6em}
table,thead,tbody,tr,td,th{display:block}thead{display:none}
tr{border:1px solid #bbb;border-radius:3px;margin:.6em 0;padding:.2em .4em}
td,th{border:0;padding:.05em .2em;overflow-wrap:anywhere}
td:not(:empty)::before{content:attr(data-label);color:#555;font-size:.85em;padding-right:.5em}
.many td{display:inline-block;min-width:5.5em}}
@media print{@page{margin:12mm}body{max-width:none;margin:0;padding:0;font-size:11pt}
section,tr,figure{break-inside:avoid}
h1,h2{break-after:avoid}thead{display:table-header-group}table{font-size:.75em}td,th{padding:.15em .3em}
a{color:inherit}}
"""


def page(title: str, body: str, sideways: bool = False) -> str:
    """Return a whole page, printed sideways where its tables are wide."""
    policy = "default-src 'none'; style-src 'unsafe-inline'; img-src data:"
    style = STYLE + ("@page{size:landscape}" if sideways else "")
    return (
        f'<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"><title>{escape(plain.line(title))}</title>'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">'
        f'<meta name="viewport" content="width=device-width"><style>{style}</style></head>\n'
        f"<body{' class=wide' if sideways else ''}><main>{plain.text(body)}</main></body></html>\n"
    )


def page_table(head: Sequence[str], rows: Iterable[Sequence[str]], many: bool = False) -> str:
    """Return a table of cells that are HTML already; on a narrow screen each row is a block of its own.

    `many` is for short cells in many columns.
    """
    listed = list(rows)
    if not listed:
        return "<p>None.</p>"
    top = "".join(f"<th>{name}</th>" for name in head)
    labels = [escape(name, quote=True) for name in head]
    body = "".join(f"<tr>{''.join(map(_cell, labels, row))}</tr>" for row in listed)
    kind = ' class="many"' if many else ""
    return f"<table{kind}><thead><tr>{top}</tr></thead><tbody>{body}</tbody></table>"


def _cell(label: str, content: str) -> str:
    return f'<td data-label="{label}">{content}</td>'
