"""A job card to take along: as PDF, as a page for the printer, a record as CSV. Nothing is overwritten."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from html import escape
from pathlib import Path
from typing import Any

from lessons.card_page.card import DECIDES, Card
from lessons.card_page.spreadsheet import csv_text
from lessons.pictures.verdicts import SIGNS
from lessons.refinery import NAME

FOLDER = "taken_along"
_PRINT = Path(__file__).parent / "page_side" / "card_print.css"
PAPERS = {"A4": (8.27, 11.69), "Letter": (8.5, 11.0)}  # inches
BLANKS = ("as found", "as left")


@dataclass(frozen=True)
class Filled:
    """A card with its inputs in words, its answer and its picture."""

    card: Card
    inputs: tuple[tuple[str, str], ...]
    answer: Any
    svg: str
    figure: Any
    record: list[tuple[str, ...]] | None = None


def take_along(
    filled: Filled, folder: Path, paper: str, now: time.struct_time, *, tag: str = "", who: str = ""
) -> list[Path]:
    """Write the files into the working copy and return them.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    from lessons.card_page.pdf_page import pdf  # loads matplotlib's PDF backend, which no card needs before

    target = folder / FOLDER
    target.mkdir(parents=True, exist_ok=True)
    about = (
        ("valve tag or job", tag or "________________"),
        ("date", time.strftime("%Y-%m-%d", now)),
        ("name", who or "________________"),
    )
    paper = paper if paper in PAPERS else "A4"
    makers: list[tuple[str, Callable[[], bytes]]] = [
        ("pdf", lambda: pdf(filled, about, PAPERS[paper])),
        ("html", lambda: printed_html(filled, about, paper).encode()),
    ]
    if filled.record is not None:
        rows = [("valve tag or job", tag), ("date", about[1][1]), ("name", who), *filled.record]
        makers.append(("csv", lambda: csv_text(rows).encode()))
    stem = "_".join(filter(None, (filled.card.name, _plain_name(tag), time.strftime("%Y-%m-%d", now))))
    return _write_new(target, stem, [(ending, make()) for ending, make in makers])


def still_html(filled: Filled) -> str:
    """Return the card as it is, for a place without a kernel."""
    return f"<div style='max-width:44em'><h1>{escape(filled.card.title)}</h1>{_body(filled)}</div>"


def printed_html(filled: Filled, about: Sequence[tuple[str, str]], paper: str) -> str:
    """Return a page of its own that prints on one sheet."""
    head = "".join(f"<span>{escape(name)}: <b>{escape(words)}</b></span>" for name, words in about)
    blanks = "".join(f"<tr><th>{name}</th><td></td></tr>" for name in BLANKS)
    style = f"@page {{ size: {paper} portrait; margin: 10mm 12mm; }} " + _PRINT.read_text("utf-8")
    line = "_" * 30
    signature = f"<p class='sign'>signature {line} &nbsp; checked by {line}</p>"
    return (
        f"<!doctype html><html lang='en'><meta "
        f"charset='utf-8'><title>{escape(filled.card.title)}</title><style>{style}</style>"
        f"<body><h1>{escape(filled.card.title)}</h1><header>{head}</header>{_body(filled)}"
        f"<table class='blank'>{blanks}</table>{signature}<small>Job card of the {NAME} "
        f"lessons.</small></body></html>"
    )


def _body(filled: Filled) -> str:
    answer, card = filled.answer, filled.card
    steps = f"<h2>In this order</h2>{_list('ol', answer.steps)}" if answer.steps else ""
    return "".join(
        (
            f"<h2>Inputs</h2>{_table(filled.inputs)}",
            f"<div class='big' "
            f"style='font-weight:700'>{escape(f'{SIGNS[answer.tone]} {answer.headline}')}</div>{_table(answer.rows)}",
            "" if steps else filled.svg,
            "<h2>How it is worked out</h2>",
            "".join(f"<div>{escape(line)}</div>" for line in answer.formula),
            f"<h2>Cautions</h2>{_list('ul', (*card.cautions, *DECIDES))}",
            steps,
            f"<small><b>Source.</b> {escape(card.source)}</small>",
        )
    )


def _table(rows: Sequence[tuple[str, str]]) -> str:
    return f"<table>{''.join(f'<tr><th>{escape(a)}</th><td>{escape(b)}</td></tr>' for a, b in rows)}</table>"


def _list(tag: str, lines: Sequence[str]) -> str:
    return f"<{tag}>{''.join(f'<li>{escape(line)}</li>' for line in lines)}</{tag}>"


def _plain_name(text: str) -> str:
    """Keep of a tag what any file system takes."""
    return re.sub(r"[^A-Za-z0-9-]+", "-", text).strip("-")[:40]


def _write_new(folder: Path, stem: str, files: Sequence[tuple[str, bytes]]) -> list[Path]:
    """Write files that are not there yet, all under one name, with a number behind it where that is taken."""
    for number in range(1, 1000):
        name = stem if number == 1 else f"{stem}_{number}"
        paths = [folder / f"{name}.{ending}" for ending, _ in files]
        if any(path.exists() for path in (folder / f"{name}.{e}" for e in ("pdf", "html", "csv"))):
            continue
        made = []
        try:
            for path, (_, content) in zip(paths, files, strict=True):
                with path.open("xb") as new:
                    made.append(path)
                    new.write(content)
        except OSError:  # half of what is taken along would pass for all of it
            for path in made:
                path.unlink(missing_ok=True)
            raise
        return paths
    raise FileExistsError(17, f"there are too many pages named {stem}; move some away")
