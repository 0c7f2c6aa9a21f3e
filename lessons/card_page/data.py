"""What the page of a job card is given once: its fields, words and drawing, as plain data."""

from __future__ import annotations

from typing import Any

from lessons.card_page import box_sliders
from lessons.card_page.card import DECIDES, Card, CardAnswer, Field
from lessons.live.sliders import UNIT_SETS
from lessons.live.svg_parts import MovingSvg
from lessons.pictures.verdicts import SIGNS


def plain(answer: CardAnswer) -> dict[str, Any]:
    """Return an answer as the page takes it."""
    return {
        "headline": answer.headline,
        "tone": answer.tone,
        "rows": [list(row) for row in answer.rows],
        "formula": list(answer.formula),
        "steps": list(answer.steps),
    }


def label(field: Field) -> str:
    """Name a field on the page taken along."""
    boxes = f" ({'; '.join(field.boxes)})" if field.boxes else ""
    return f"{field.label}{', ' + field.pressure if field.pressure else ''}{boxes}"


def page_data(card: Card, picture: MovingSvg, lab: bool) -> dict[str, Any]:
    """Return what the page is given once: all that no answer changes."""
    return {
        "title": card.title,
        "lead": card.symptom,
        "start": card.start,
        "svg": picture.svg,
        "parts": picture.specs,
        "fields": [_field_data(field) for field in card.fields],
        "source": card.source,
        "changes": card.changes,
        "cautions": [*card.cautions, *DECIDES],
        "learn": _learn(card, lab),
        "signs": SIGNS,
        "record": card.record is not None,
        "lab": lab,
    }


def _field_data(field: Field) -> dict[str, Any]:
    pressure = f", {field.pressure}" if field.pressure else ""
    units = {units: (field.shown_unit(units) if not field.write else "") for units in UNIT_SETS}
    return {
        "name": field.name,
        "label": field.label + pressure,
        "keys": field.keys,
        "boxes": field.boxes,
        "choices": list(field.choices.items()),
        "units": units,
        "optional": field.optional,
        "slider": box_sliders.slider(field),
        "digits": not (field.choices or field.read),
    }


def _learn(card: Card, lab: bool) -> dict[str, str]:
    """Return the lesson's title and where it is; without a link where only cards are served."""
    number, _, words = card.lesson.partition("_")
    title = f"lesson {number}, {words.replace('_', ' ')}"
    return {"words": title, "path": f"{card.lesson}.ipynb" if lab else ""}
