"""Questions that come back: which ones are due, shakiest first, and where a lesson's places for them point."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import datetime, timedelta

from lessons.questions.progress import Progress, QuestionHistory
from lessons.questions.question import Question

REST = timedelta(days=1)
NOTHING_DUE = (
    "Nothing to repeat here yet: leave the box below as it is. "
    "Questions of earlier lessons come back a day after you answered them."
)
PLACE = re.compile(r"(?P<topic>\w+)\.again\d+")


def is_place(question_id: str) -> bool:
    """Tell whether an id is a lesson's place for a question that comes back.

    >>> is_place("installed.again1"), is_place("installed.flow")
    (True, False)
    """
    return PLACE.fullmatch(question_id) is not None


def due(earlier: Mapping[str, Question], known: Progress, now: datetime) -> list[str]:
    """Return the questions of earlier lessons answered at least a day ago, those that gave most trouble first."""
    answered = [
        each
        for each, question in earlier.items()
        if question.kind != "predict" and known.of(each).last and now - _when(known.of(each)) >= REST
    ]
    return sorted(answered, key=lambda each: (-_trouble(known.of(each)), known.of(each).last, each))


def question_at(place: str, earlier: Mapping[str, Question], known: Progress, now: datetime) -> tuple[str, bool] | None:
    """Return the question a place points to and whether it is newly put there; None where nothing is due.

    A place keeps its question until it is solved there and a day has gone by.
    """
    held = known.places.get(place)
    if held and not _rested(known.of(held), now):
        return held, False
    taken = {other for each, other in known.places.items() if each != place}
    free = [each for each in due(earlier, known, now) if each not in taken]
    if free:
        return free[0], True
    return (held, False) if held else None


def _rested(record: QuestionHistory, now: datetime) -> bool:
    solved_here = bool(record.texts) and record.tags[-1:] == ("right",)
    return solved_here and now - _when(record) >= REST


def _trouble(record: QuestionHistory) -> int:
    return sum(tag not in ("right", "recorded") for tag in record.tags) + (0 if record.solved else 1)


def _when(record: QuestionHistory) -> datetime:
    try:
        return datetime.fromisoformat(record.last).astimezone()
    except ValueError:
        return datetime.min.replace(tzinfo=datetime.now().astimezone().tzinfo)
