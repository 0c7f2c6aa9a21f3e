"""The practice histories that came with hand-ins, read as foreign data: what is not one is passed over."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from grading.course.course import Course
from grading.course.times import instant
from grading.handins.handin import UnusableError
from grading.handins.received import badges_of, content, entries
from lessons.jupyter.lesson_page.practice_history import METADATA, MOST
from lessons.notebook import bank
from lessons.questions.judge import HINT, RECORDED, RIGHT, UNREADABLE

LEARNING = "learning"  # what the page and the table made of them are called
_SITTING = timedelta(hours=3)  # what is answered later was not worked on all the time between


@dataclass(frozen=True)
class Event:
    """One answer to a practice question, or a hint that was asked for."""

    question: str
    turn: int
    tag: str
    at: datetime
    sure: bool | None = None


@dataclass(frozen=True)
class Opportunity:
    """A question with fresh numbers, from the first answer to the right one."""

    question: str
    at: datetime
    wrong_first: bool  # also where a hint came before the first answer
    sure_first: bool | None
    minutes: float | None  # until it was right, in one sitting; None where it was not


def histories(course: Course) -> dict[str, list[Event]]:
    """Return what each apprentice practised, over all hand-ins that are theirs, the oldest first."""
    found: dict[str, set[Event]] = {}
    for lesson in course.lessons():
        for badge in (each for each in badges_of(course, lesson) if each in course.roster):
            for entry in (each for each in entries(course, lesson, badge) if not each.other):
                try:
                    data = content(course, lesson, badge, entry)
                except UnusableError:
                    continue
                found.setdefault(badge, set()).update(events_in(data))
    return {badge: sorted(events, key=lambda each: (each.at, each.turn)) for badge, events in found.items() if events}


def events_in(data: bytes) -> Iterator[Event]:
    """Give the practice history of a hand-in."""
    if METADATA.encode() not in data:
        return
    try:
        notebook = json.loads(data)
    except (ValueError, RecursionError):
        return
    metadata = notebook.get("metadata") if isinstance(notebook, dict) else None
    listed = metadata.get(METADATA) if isinstance(metadata, dict) else None
    for each in listed[:MOST] if isinstance(listed, list) else ():
        event = _event(each)
        if event:
            yield event


def _event(data: Any) -> Event | None:
    if not isinstance(data, Mapping):
        return None
    question, tag, turn, sure = (data.get(name) for name in ("id", "tag", "turn", "sure"))
    when = instant(lambda: datetime.fromisoformat(data.get("at", "")))
    if (
        not isinstance(question, str)
        or question not in bank.practice_questions()
        or when is None
        or not isinstance(tag, str)
        or type(turn) is not int
    ):
        return None
    return Event(question, turn, tag[:40], when, sure if isinstance(sure, bool) else None)


def opportunities_of(events: list[Event]) -> list[Opportunity]:
    """Return the questions somebody met with fresh numbers, in the order of their first answers."""
    met: dict[tuple[str, int], list[Event]] = {}
    for event in events:
        met.setdefault((event.question, event.turn), []).append(event)
    found = [_opportunity(each) for each in met.values()]
    return sorted((each for each in found if each is not None), key=lambda each: each.at)


def _opportunity(events: list[Event]) -> Opportunity | None:
    answered = [each for each in events if each.tag not in (HINT, UNREADABLE, RECORDED)]
    if not answered:
        return None
    first = answered[0]
    helped = any(each.tag == HINT and each.at <= first.at for each in events)
    right = next((each for each in answered if each.tag == RIGHT), None)
    took = right.at - first.at if right else None
    minutes = took.total_seconds() / 60 if took is not None and took <= _SITTING else None
    return Opportunity(first.question, first.at, first.tag != RIGHT or helped, first.sure, minutes)
