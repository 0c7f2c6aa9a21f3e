"""Questions, replies and the header as plain data, for a page with controls of its own; no key is in any of it.

It travels beside the HTML of an output, under a type of its own: a page that does not know it shows the HTML.
"""

from __future__ import annotations

from typing import Any

from lessons.questions.judge import Reply
from lessons.questions.progress import ALONE
from lessons.questions.question import Posed, QuestionSheet
from lessons.units.trade_units import UNITS, unit_named

MIME = "application/vnd.ostrel.lesson+json"


def question_data(sheet: QuestionSheet, posed: Posed | None, **around: Any) -> dict[str, Any]:
    """Return what a page needs to ask a question; `posed` is there where the key is: then there are hints.

    `around` is what the page shows beside it, such as the heading and what was answered before.
    """
    return {
        "what": "question",
        "kind": sheet.kind,
        "text": sheet.text,
        "options": [list(pair) for pair in sheet.options],
        "places": [list(pair) for pair in sheet.places],
        "unit": sheet.unit,
        "units": units_beside(sheet.unit) if sheet.kind == "number" else [],
        "digits": sheet.digits,
        "hints": posed is not None and sheet.kind not in ("predict", "written"),
        "renewable": posed is not None and len(posed.question.variants) > 1,
        **around,
    }


def reply_data(reply: Reply) -> dict[str, Any]:
    """Return a reply in its parts."""
    return {"what": "reply", "tag": reply.tag, "read": reply.read, "means": reply.means, "next": reply.next}


def note_data(sentence: str) -> dict[str, Any]:
    """Return a plain sentence to the apprentice."""
    return {"what": "note", "text": sentence}


def header_data(topic: str, badge: str, units: str) -> dict[str, Any]:
    """Return which lesson it is and who works at it; what is done is asked for (see the room of the lesson page)."""
    return {"what": "header", "topic": topic, "badge": "" if badge == ALONE else badge, "units": units}


def units_beside(unit: str) -> list[str]:
    """Return the unit a question asks for, and those of the other set in which it may be answered too.

    >>> units_beside("bar"), units_beside("%"), units_beside("")
    (['bar', 'psi'], ['%'], [])
    >>> units_beside("psi")
    ['psi', 'bar', 'mbar', 'Pa', 'kPa', 'MPa', 'kg/cm²', 'inHg', 'mmHg', 'inH2O', 'mmH2O']
    """
    if not unit:
        return []
    twin = unit_named(unit).twin
    return [unit, twin] if twin else [unit, *(each.name for each in UNITS.values() if each.twin == unit)]
