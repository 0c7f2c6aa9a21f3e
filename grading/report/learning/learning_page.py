"""The page and the table on how practice went: error by opportunity, its slope, what was sure but wrong."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from html import escape
from statistics import median

from grading.course import plain
from grading.course.course import Course, write_safely
from grading.report.charts import ORANGE, bars
from grading.report.learning.curves import FEWEST_ANSWERS, FEWEST_PEOPLE, Slope, points, slope
from grading.report.learning.histories import LEARNING, Event, Opportunity, opportunities_of
from grading.report.whole_page import page, page_table
from lessons.notebook.opportunities import ideas
from lessons.units.readout import counted

_SMALL = 30  # apprentices, below which an interval is so wide that the reader has to be told
_HEAD = ("Idea", "Apprentices", "Opportunities", "Wrong at the first", "Odds of an error, each time", "Sure but wrong",
         "Minutes to right")  # fmt: skip


@dataclass(frozen=True)
class IdeaRead:
    """What a class did with one idea: for each apprentice the opportunities in their order."""

    idea: str
    met: Sequence[Sequence[Opportunity]]

    @property
    def errors(self) -> list[list[bool]]:
        """Whether the first answer was wrong, for each apprentice and opportunity."""
        return [[each.wrong_first for each in row] for row in self.met]

    @property
    def every(self) -> list[Opportunity]:
        """All opportunities of the class."""
        return [each for row in self.met for each in row]


def write_learning(course: Course, read: Mapping[str, list[Event]]) -> bool:
    """Write page and table of what was practised; return whether there was anything."""
    found, folder = by_idea(read), course.root / "tables"
    if found:
        rows = [_row(each) for each in found]
        write_safely(folder / f"{LEARNING}.csv", "\ufeff" + plain.table([list(_HEAD), *rows]))
        write_safely(folder / f"{LEARNING}.html", learning_page(found, rows, len(course.roster)))
    return bool(found)


def by_idea(read: Mapping[str, list[Event]]) -> list[IdeaRead]:
    """Return what the class did with each idea that it met."""
    by_badge = [opportunities_of(events) for events in read.values()]
    found: list[IdeaRead] = []
    for idea, questions in ideas().items():
        rows = [[each for each in met if each.question in questions] for met in by_badge]
        if any(rows):
            found.append(IdeaRead(idea, [row for row in rows if row]))
    return found


def learning_page(found: Sequence[IdeaRead], rows: Sequence[Sequence[str]], people: int) -> str:
    """Return the page."""
    came = max(len(each.met) for each in found)
    small = (
        f"<p><b>Few apprentices.</b> With {came} of them a share may be off by "
        f"{counted(_half_width(came), 'point')} of a hundred either way, so most differences between ideas here may be "
        "chance.</p>"
    )
    return page(
        "How practice went",
        '<p><a href="index.html">The course</a></p><h1>How practice went</h1>'
        f"<p>{came} of {counted(people, 'apprentice')} let their practice go along. It is data and earns no marks. "
        "Who left it out may have practised as much.</p>"
        f"{small if came < _SMALL else ''}"
        f"{page_table(_HEAD, (list(map(escape, row)) for row in rows))}"
        "<p>An opportunity is a question with fresh numbers. It counts by its first answer; a hint before it counts as "
        "an error. “Odds of an error, each time”: 0.9 means they fall by a tenth from one opportunity to the next. In "
        "brackets is where it lies with 95 % confidence. If 1 is inside, it cannot be told from no change.</p>"
        + "".join(_pictured(found)),
        sideways=True,
    )


def _half_width(count: int) -> int:
    """Return the 95 % half width of a share of one half, in hundredths."""
    return round(98 / math.sqrt(count))


def _pictured(found: Sequence[IdeaRead]) -> Iterator[str]:
    for each in found:
        curve = points(each.errors)
        if len(curve) > 1:
            rows = [
                (
                    f"Opportunity {p.number}, {counted(p.people, 'apprentice')}",
                    p.error,
                    f"{100 * p.error:.0f} % ({100 * p.low:.0f} to {100 * p.high:.0f})",
                )
                for p in curve
            ]
            yield bars(f"Wrong at first: {each.idea}", rows, 1.4, ORANGE)


def _row(read: IdeaRead) -> list[str]:
    first = points(read.errors)[0]
    sure = [each for each in read.every if each.sure_first]
    took = [each.minutes for each in read.every if each.minutes is not None and each.wrong_first]
    return [
        read.idea,
        str(len(read.met)),
        str(len(read.every)),
        f"{100 * first.error:.0f} %",
        _odds(slope(read.errors)),
        f"{sum(each.wrong_first for each in sure)} of {len(sure)}" if sure else "",
        f"{median(took):.1f}" if took else "",
    ]


def _odds(found: Slope | None) -> str:
    if found is None:
        return f"too few to say (under {FEWEST_PEOPLE} apprentices or {FEWEST_ANSWERS} answers)"
    value, low, high = (math.exp(each) for each in (found.value, found.low, found.high))
    told = "" if found.tells else ", no change that can be told"
    return f"{value:.2f} ({low:.2f} to {high:.2f}){told}"
