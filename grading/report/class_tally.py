"""Counts a class while it passes by: how hard a question was, how well it tells who knows, which mistakes."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field

from grading.given_out.judged_answers import BLANK, MISSING, WITHDRAWN, WRITTEN
from grading.report.results import ApprenticeResult, Result
from lessons.questions.judge import OTHER, RECORDED, RIGHT, UNREADABLE
from lessons.units.readout import counted

NO_MISTAKE = (
    RIGHT,
    BLANK,
    MISSING,
    UNREADABLE,
    RECORDED,
    WRITTEN,
    OTHER,
)  # OTHER: wrong, but nobody knows how
ENOUGH = 5  # apprentices, below which a correlation says nothing
STUCK = 0.5  # share of the points
TEACH_AGAIN = 0.6  # share of a question's points that the class earned
COMMON = 0.25  # share of the class that made the same mistake


@dataclass
class QuestionTally:
    """One question over the whole class."""

    id: str
    points: float = 0.0
    count: int = 0
    tags: dict[str, int] = field(default_factory=dict)
    means: dict[str, str] = field(default_factory=dict)  # what a mistake is, in the words of the first reply
    full: int = 0
    none: int = 0
    unread: int = 0  # written answers that have no mark yet
    _sums: list[float] = field(default_factory=lambda: [0.0] * 5)  # x, rest, x², rest², x·rest

    def add(self, result: Result, rest: float) -> None:
        """Count one answer; `rest` is what the same apprentice earned on the other questions."""
        x = result.score
        self.points, self.count = result.points, self.count + 1
        self.full += x >= result.points
        self.none += x <= 0
        self._sums = [a + b for a, b in zip(self._sums, (x, rest, x * x, rest * rest, x * rest), strict=True)]
        self.tags[result.tag] = self.tags.get(result.tag, 0) + 1
        if result.tag not in NO_MISTAKE:
            self.means.setdefault(result.tag, result.means)

    @property
    def difficulty(self) -> float:
        """The share of the points that the class earned: 1 if all had it right."""
        return self._sums[0] / (self.points * self.count) if self.points * self.count else 0.0

    @property
    def discrimination(self) -> float | None:
        """How far it tells who knows: the correlation with the points on the other questions."""
        if self.count < ENOUGH:
            return None
        x, rest, xx, rr, xr = (value / self.count for value in self._sums)
        spread = (xx - x * x) * (rr - rest * rest)
        return (xr - x * rest) / math.sqrt(spread) if spread > 1e-12 else None

    @property
    def mistakes(self) -> list[tuple[str, int]]:
        """Tags and how often, the most frequent first."""
        found = [(tag, count) for tag, count in self.tags.items() if tag not in NO_MISTAKE]
        return sorted(found, key=lambda each: (-each[1], each[0]))


@dataclass
class ClassTally:
    """A whole class and one lesson."""

    questions: dict[str, QuestionTally]
    marked: int = 0
    tenths: list[int] = field(default_factory=lambda: [0] * 10)  # apprentices by tenth of the points
    stuck: list[tuple[str, str]] = field(default_factory=list)  # badge, why

    def add(self, sheet: ApprenticeResult) -> None:
        """Count one apprentice, by the answers that have marks; a written one counts once it was read."""
        asked = [each for each in sheet.results if each.question in self.questions]
        # What cannot be read is counted as such; a written answer only once somebody read it.
        results = [each for each in asked if not (each.unread and each.tag == WRITTEN)]
        for each in asked:
            if each not in results:
                self.questions[each.question].unread += 1
        possible = sum(result.points for result in results)
        if not possible:
            return
        self.marked += 1
        total = sum(result.score for result in results)
        for result in results:
            if result.tag == WITHDRAWN:
                continue
            self.questions[result.question].add(result, total - result.score)
        self.tenths[min(9, int(10 * total / possible + 1e-9))] += 1
        if total < STUCK * possible:
            self.stuck.append((sheet.badge, _why(results, total, possible)))

    def teach_again(self) -> list[tuple[str, str]]:
        """Return what the class as a whole has not got: question and sentence."""
        return [(each.id, why) for each in self.questions.values() for why in _lacking(each)]


def tally(order: Iterable[str]) -> ClassTally:
    """Return an empty count for the questions of a lesson."""
    return ClassTally({question: QuestionTally(question) for question in order})


def _why(results: list[Result], total: float, possible: float) -> str:
    lost = [result.question for result in results if result.score <= 0 and result.tag != WITHDRAWN]
    blank = sum(result.tag in (BLANK, MISSING) for result in results)
    left = f"; {blank} left unanswered" if blank else ""
    return f"{total:g} of {counted(possible, 'point')}, nothing for {', '.join(lost) or 'none'}{left}"


def _lacking(question: QuestionTally) -> Iterable[str]:
    if question.unread:  # so far only the blank ones have a mark
        return
    if question.count and question.difficulty < TEACH_AGAIN:
        yield f"the class earned {100 * question.difficulty:.0f} % of its points"
    for tag, count in question.mistakes:
        if count >= max(2, COMMON * question.count):
            yield f"{count} of {question.count} made the same mistake ({tag.replace('_', ' ')}): {question.means[tag]}"
