"""The practice history that goes along with a hand-in, unless the apprentice leaves it out.

It tells what was tried and how it went: right or which mistake, when, and how sure. No answer is in it, and it earns no
marks.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from lessons.questions.progress import Progress
from lessons.questions.question import Question

METADATA = "practice_history"  # the notebook's own metadata hold it under this name
MOST = 3_000  # answers, the latest ones; a whole course with its returns takes about a thousand


def to_hand_in(known: Progress, practice: Mapping[str, Question]) -> list[dict[str, Any]]:
    """Return the history as data, the oldest answer first; nothing if it was left out."""
    if not known.practice_goes:
        return []
    found = [
        {"id": each.variant.question, "turn": each.variant.turn, "tag": tag or each.tag, "at": each.at}
        | ({} if each.sure is None else {"sure": each.sure})
        for tag, kind in (("", known.answers), ("hint", known.hints))
        for question, answers in kind.items()
        if question in practice and practice[question].kind != "predict"
        for each in answers
        if each.variant.badge in ("", known.badge)
    ]
    return sorted(found, key=lambda event: str(event["at"]))[-MOST:]
