"""A job card as plain data: a question that comes up at the bench, its inputs, its answer and what to mind.

Each card is a module in `lessons/cards` with a `CARD`: fields (at most 9, and better 7), `compute` from SI inputs to SI
results by valvecalc, `answer` in words, and `picture`, which draws once and moves its parts (`charts.py`).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import SimpleNamespace
from typing import Any

from lessons.pictures.verdicts import WORDS
from lessons.safety import NO_ISOLATION
from lessons.units.quantities import shown_unit
from valvecalc.actuator import ATMOSPHERE

MOST_FIELDS = 9
# What no card decides. It stands on every card and on every page taken along.
DECIDES = (
    "Local codes, the site permit, the isolation procedure and people licensed for the work decide, not this card.",
    NO_ISOLATION,
)


@dataclass(frozen=True)
class Field:
    """One input: a number, a row of numbers, or a choice; limits and default as valvecalc takes them."""

    name: str
    label: str
    unit: str = ""
    default: Any = None  # a number, a tuple of numbers for a row, the name of a choice; None: left empty
    low: float = 0.0
    high: float = math.inf
    above: bool = False  # the low limit itself is too low
    boxes: tuple[str, ...] = ()  # what stands over each box of a row
    choices: Mapping[str, str] = field(default_factory=dict)  # name -> words
    optional: bool = False
    step: float = 0.0  # least step of its slider: 1 for what is counted
    pressure: str = ""  # "gauge" or "absolute", where that must be said
    us_unit: str | None = None
    read: Callable[[str, str], Any] | None = None  # its own way to read a text in a unit set
    write: Callable[[Any, str], str] | None = None
    # Further units it takes, with what makes its own number of theirs: SI in, SI out; and the inputs read before it.
    also: Mapping[str, Callable[[float, SimpleNamespace], float]] = field(default_factory=dict)

    @property
    def keys(self) -> tuple[str, ...]:
        """Names of its boxes on the page."""
        return tuple(f"{self.name}.{k}" for k in range(len(self.boxes))) or (self.name,)

    def shown_unit(self, units: str) -> str:
        """Trade unit in a unit set, "si" or "us"."""
        return self.us_unit if units == "us" and self.us_unit is not None else shown_unit(self.unit, units)


@dataclass(frozen=True)
class CardAnswer:
    """What a card says: large line, its tone, rows of results, the formula with the numbers put in, steps.

    A large line that gives a verdict begins with its words.
    """

    headline: str
    tone: str
    rows: tuple[tuple[str, str], ...]
    formula: tuple[str, ...]
    steps: tuple[str, ...] = ()


@dataclass(frozen=True)
class Card:
    """One job card."""

    name: str
    title: str
    group: str  # what is in front of the reader
    symptom: str  # one line of the index
    words: str  # further words it is found by
    start: str  # where the default numbers come from
    fields: tuple[Field, ...]
    compute: Callable[[SimpleNamespace], SimpleNamespace]
    answer: Callable[[SimpleNamespace, SimpleNamespace, str], CardAnswer]
    picture: Callable[[], tuple[Any, Callable[[SimpleNamespace, SimpleNamespace, str], dict[str, Any]]]]
    alt: str
    source: str
    changes: tuple[str, ...]  # what would change the answer
    cautions: tuple[str, ...]
    lesson: str  # notebook of the lesson to learn it by
    record: Callable[[SimpleNamespace, SimpleNamespace], list[tuple[str, ...]]] | None = None  # rows of a CSV
    verdicts: Mapping[str, str] = field(default_factory=lambda: WORDS)  # tone -> the words of its verdict


class BadInputError(ValueError):
    """An input that does not go with the others: its field's name and a sentence."""

    def __init__(self, name: str, sentence: str) -> None:
        super().__init__(sentence)
        self.name = name


def absolute_pressures(before: float, after: float) -> tuple[float, float]:
    """Return the gauge pressures before and after a valve as absolute ones [Pa].

    Raises
    ------
    BadInputError
        If that after it is not below that before it; as absolute pressures, where what hardly differs is the same.
    """
    p1, p2 = before + ATMOSPHERE, after + ATMOSPHERE
    if p2 >= p1:
        raise BadInputError("p2", "The pressure after the valve has to be below that before it.")
    return p1, p2


def defaults(card: Card) -> SimpleNamespace:
    """Return the inputs a card starts with."""
    return SimpleNamespace(**{each.name: each.default for each in card.fields})
