"""Settles which hand-in of a badge counts, and puts it where the marking looks for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from grading.course.course import Course
from grading.given_out.given_out import GivenOut
from grading.given_out.judged_answers import mark_answers
from grading.handins import received
from grading.handins.handin import UnusableError, read
from grading.handins.received import Entry
from grading.handins.which_counts import Due, choose, doubts, notes


@dataclass(frozen=True)
class Settled:
    """The hand-in that counts, and what is to be said of the choice."""

    entry: Entry
    notes: tuple[str, ...]  # to be told
    doubts: tuple[str, ...]  # for a person to look at


def settle(
    course: Course,
    out: GivenOut,
    badge: str,
    due: Due,
    found: Sequence[Entry],
    there: str = "",
    known: Mapping[str, bytes] = MappingProxyType({}),
) -> Settled | None:
    """Choose among all that a badge handed in, and put the chosen one in its place; None if nothing was kept of it.

    `there` is the checksum of what lies in the place, and `known` holds contents by checksum, where these are known.
    """
    if not found:
        return None
    time, rule = due.of(badge), course.counts
    chosen = choose(found, time, rule, lambda entry: _points(course, out, badge, entry))
    received.place(course, out.lesson, badge, chosen, there, known)
    return Settled(chosen, tuple(notes(found, chosen, time, rule)), tuple(doubts(found, chosen, time)))


def _points(course: Course, out: GivenOut, badge: str, entry: Entry) -> float:
    """Return what a hand-in earns by its program; none where it cannot be marked."""
    try:
        handin = read(received.content(course, out.lesson, badge, entry))
        given, _ = out.of(handin.given_out, badge)
        marks = mark_answers(handin, given.questions, given.person(course.roster[badge]))
    except (UnusableError, KeyError):
        return 0.0
    return sum(mark.score for mark in marks)
