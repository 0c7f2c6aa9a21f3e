"""Questions that come back: when each does, which of them are shakiest, and where a page's places for them point.

The gaps grow with each right answer, because what was nearly forgotten and found again stays longest.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from lessons.questions.progress import Answered, Progress, QuestionHistory
from lessons.questions.question import Question

REST = timedelta(days=1)
GAPS = tuple(timedelta(days=days) for days in (1, 7, 30, 91, 182))
SURE_AND_WRONG = timedelta(days=7)
REFRESHER = "refresher"  # the page of questions over all lessons
_MOST_OF_A_LESSON = 2  # on that page, as long as others are due
NOTHING_DUE = (
    "Nothing comes back here today. Leave the box below as it is. A question comes back a day after you answered it, "
    "and after each right answer it stays away longer."
)
PLACE = re.compile(r"(?P<topic>\w+)\.again\d+")


def is_place(question_id: str) -> bool:
    """Tell whether an id is a page's place for a question that comes back.

    >>> is_place("installed.again1"), is_place("installed.flow")
    (True, False)
    """
    return PLACE.fullmatch(question_id) is not None


def due_at(answers: Sequence[Answered]) -> datetime | None:
    """Return when a question comes back, from all answers to it; None if it was never answered.

    A right answer in its time makes the gap longer, one before its time leaves it; a wrong one makes it a day again.
    What was wrong although it was said to be sure comes back after seven days in any case.
    """
    gap, due, check = 0, None, None
    for each in answers:
        at = _when(each.at)
        if each.tag == "right":
            gap = min(gap + 1, len(GAPS) - 1) if due and at >= due else gap
        else:
            gap, check = 0, at + SURE_AND_WRONG if each.sure else check
        due = at + GAPS[gap]
        if check and at >= check:
            check = None
        due = min(due, check) if check else due
    return due


def due(earlier: Mapping[str, Question], known: Progress, now: datetime) -> list[str]:
    """Return the questions that come back by now: what gave most trouble first, then what waited longest."""
    waiting = []
    for each, question in earlier.items():
        back = due_at(known.answers.get(each, ())) if question.kind != "predict" else None
        if back and back <= now:
            waiting.append((-_trouble(known.of(each)), back, each))
    return [each for *_, each in sorted(waiting)]


def question_at(place: str, earlier: Mapping[str, Question], known: Progress, now: datetime) -> tuple[str, bool] | None:
    """Return the question a place points to and whether it is newly put there; None where nothing is due.

    A place keeps its question until it is solved there and a day has gone by.
    """
    held = known.places.get(place)
    if held and not _rested(known.of(held), now):
        return held, False
    page = place.partition(".")[0]
    taken = [other for each, other in known.places.items() if each != place and each.startswith(f"{page}.")]
    if page == REFRESHER:
        taken = [each for each in taken if not _rested(known.of(each), now)]
    free = [each for each in due(earlier, known, now) if each not in taken]
    if free:
        return _mixed(free, taken) if page == REFRESHER else free[0], True
    return (held, False) if held else None


def _mixed(free: Sequence[str], taken: Sequence[str]) -> str:
    """Return the first of the questions whose lesson has not its share of the page yet."""
    lessons = [each.partition(".")[0] for each in taken]
    return next((each for each in free if lessons.count(each.partition(".")[0]) < _MOST_OF_A_LESSON), free[0])


def _rested(record: QuestionHistory, now: datetime) -> bool:
    solved_here = bool(record.texts) and record.tags[-1:] == ("right",)
    return solved_here and now - _when(record.last) >= REST


def _trouble(record: QuestionHistory) -> int:
    return sum(tag not in ("right", "recorded") for tag in record.tags) + (0 if record.solved else 1)


def _when(at: str) -> datetime:
    try:
        return datetime.fromisoformat(at).astimezone()
    except ValueError:
        return datetime.min.replace(tzinfo=datetime.now().astimezone().tzinfo)
