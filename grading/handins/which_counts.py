"""Which of several hand-ins counts, by the instructor's rule, and what should be said about it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime

from grading.course.course import COUNTS
from grading.handins.received import Entry
from lessons.units.readout import counted

LAST, FIRST, BEST = COUNTS
RULES = {
    LAST: "the last one in time counts",
    FIRST: "the first one in time counts",
    BEST: "the one in time with the most points counts",
}


@dataclass(frozen=True)
class Due:
    """When a lesson has to be handed in: by the class, and by those who got another time."""

    whole: datetime | None = None
    by_badge: Mapping[str, datetime] = field(default_factory=dict)

    def of(self, badge: str) -> datetime | None:
        """Return when one badge has to hand in, or None if at any time."""
        return self.by_badge.get(badge, self.whole)

    def here(self) -> Due:
        """Return the same times in this machine's zone, as they are told to people."""
        by_badge = {badge: when.astimezone() for badge, when in self.by_badge.items()}
        return Due(self.whole.astimezone() if self.whole else None, by_badge)


def choose(found: Sequence[Entry], due: datetime | None, rule: str, points: Callable[[Entry], float]) -> Entry:
    """Return the hand-in that counts, of those in time; of all, if none was in time.

    One that shows another badge, or that is blank, never replaces one that does not. `points` is asked for only where
    the rule needs it.
    """
    honest = [entry for entry in found if not entry.other] or list(found)
    filled = [entry for entry in honest if not entry.blank] or honest
    pool = [entry for entry in filled if _in_time(entry, due)] or filled
    if rule == BEST and len(pool) > 1:
        return max(pool, key=points)  # the first of equals: what came later added nothing
    return pool[0] if rule == FIRST else pool[-1]


def notes(found: Sequence[Entry], chosen: Entry, due: datetime | None, rule: str) -> Iterator[str]:
    """Give a sentence for all that should be told of the choice."""
    if len(found) > 1:
        yield f"handed in {counted(len(found), 'time')}; {RULES[rule]}, which is that of {_day_and_time(chosen.when)}"
    for entry in found:
        if entry.blank and not entry.other and not chosen.blank:
            yield f"the one of {_day_and_time(entry.when)} has no answers, so it does not count"
    if chosen.blank:
        yield "it has no answers"
    if not _in_time(chosen, due):
        yield f"handed in late, {_day_and_time(chosen.when)}"


def doubts(found: Sequence[Entry], chosen: Entry, due: datetime | None) -> Iterator[str]:
    """Give a sentence for all that a person should look at."""
    for entry in found:
        if entry.other and not chosen.other:
            yield f"the one of {_day_and_time(entry.when)} shows another badge or its numbers, so it does not count"
    if due and _in_time(chosen, due) and chosen.saved and datetime.fromisoformat(chosen.saved) > due:
        yield (
            f"it is in time only by a time in its zip or beside it, {_day_and_time(chosen.when)}; the file itself was "
            f"saved here after the due time, {_day_and_time(chosen.saved)}"
        )


def _in_time(entry: Entry, due: datetime | None) -> bool:
    return due is None or datetime.fromisoformat(entry.when) <= due


def _day_and_time(when: str) -> str:
    """Return a time as this machine's clock shows it."""
    return datetime.fromisoformat(when).astimezone().strftime("%Y-%m-%d %H:%M")
