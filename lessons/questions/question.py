"""What a question is: its text, its numbers, its key, and the wrong ways of working it foresees.

A `Question` holds everything, key included. `pose` picks the numbers of one apprentice and gives a `Posed`; its `sheet`
is what the apprentice sees and holds no key, so it can be handed out as data.
"""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from string import ascii_lowercase
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

from lessons.questions.workings.working import results, told_working, values_of
from lessons.units.quantities import Q, from_base, plain_number, rounded_to, shown, shown_unit, to_base

if TYPE_CHECKING:
    from matplotlib.figure import Figure

# One attribute per name: SI floats for quantities, other values as they are. Beside them `in_formulas`, the same for
# the formulas of a working, and `units`, the unit set.
Numbers = SimpleNamespace
KINDS = ("number", "choice", "several", "order", "match", "predict", "written")


@dataclass(frozen=True)
class Mistake:
    """A wrong way of working: the answer it leads to, and what to say to somebody who gives that answer."""

    tag: str
    wrong: Callable[[Numbers], Any]
    says: str
    credit: float = 0.0
    rare: bool = False  # named only where no other cause fits


def by_family(_: Numbers) -> Any:
    """Stand for what a family works out under a mistake's tag: the question only says it in its own words."""
    raise ValueError("What a family makes is known once it is foreseen: see foreseen.py.")


@dataclass(frozen=True)
class Option:
    """One thing to pick, sort or match. `says` is what picking it wrongly shows; its name is then the tag."""

    name: str
    text: str
    says: str = ""


@dataclass(frozen=True)
class Question:
    """One question with all its variants and its key.

    `text`, `step`, `example` and `why` may use the names of the variant's numbers in braces, `example` also `{answer}`.
    `working` says how the answer is worked out (see `workings/working.py`): the worked example, the answer after the
    last try and most of the mistakes are made from it. `given` adds what a working needs besides, such as 4 mA or what
    is read off the picture, and `names` what its numbers are called where `workings/names.py` has another word.
    `digits` is the precision asked for.
    `key` takes the numbers in SI and returns: a float in SI (number), an option name (choice), a set of names
    (several), a tuple of names (order), or a mapping from place name to option name (match). Predictions and written
    answers have no key: the first are never marked, the second are marked by a person, and `why` says what to look for.
    `figure` draws the picture that goes with it, from the numbers and the unit set; `alt` says what it shows without
    giving the answer away. Where places are numbers in the picture, name them so: their order then stays.
    """

    id: str
    kind: str
    text: str
    variants: Sequence[Mapping[str, Any]]
    key: Callable[[Numbers], Any] | None = None
    unit: str = ""
    tolerance: float = 0.02
    digits: int = 3
    working: tuple[str, ...] = ()
    given: Callable[[Numbers], Mapping[str, Any]] | None = None
    names: Mapping[str, str] = field(default_factory=dict)
    options: tuple[Option, ...] = ()
    places: tuple[Option, ...] = ()
    mistakes: tuple[Mistake, ...] = ()
    idea: str = ""
    step: str = ""
    example: str = ""
    why: str = ""
    plausible: tuple[float, float] | None = None
    points: float = 1.0
    source: str = ""
    figure: Callable[[Numbers, str], Figure] | None = None
    alt: str = ""

    def right(self, numbers: Numbers) -> Any:
        """Return what its key makes of the numbers."""
        if self.key is None:
            raise ValueError(f"{self.id} has no key: it is of kind {self.kind!r}, which is not marked by one.")
        return self.key(numbers)


@dataclass(frozen=True)
class QuestionSheet:
    """What the apprentice sees of a question: words and numbers, no key; survives a trip through JSON."""

    id: str
    kind: str
    text: str
    unit: str = ""
    points: float = 1.0
    options: tuple[tuple[str, str], ...] = ()  # letter, text
    places: tuple[tuple[str, str], ...] = ()  # number, text
    plausible: tuple[float, float] | None = None
    digits: int = 0  # asked for in a number; 0 where nothing is said of it
    svg: str = ""  # the picture; filled in only where it is shown or handed out

    def as_data(self) -> dict[str, Any]:
        """Return plain data for JSON."""
        return asdict(self)


def sheet_from_data(data: Mapping[str, Any]) -> QuestionSheet:
    """Return the sheet that `QuestionSheet.as_data` described."""
    pairs = {name: tuple((a, b) for a, b in data.get(name, ())) for name in ("options", "places")}
    plausible = data.get("plausible")
    return QuestionSheet(
        id=str(data["id"]),
        kind=str(data["kind"]),
        text=str(data["text"]),
        unit=str(data.get("unit", "")),
        points=float(data.get("points", 1.0)),
        options=pairs["options"],
        places=pairs["places"],
        plausible=(float(plausible[0]), float(plausible[1])) if plausible else None,
        digits=int(data.get("digits", 0)),
        svg=str(data.get("svg", "")),
    )


@dataclass(frozen=True)
class Posed:
    """A question with one apprentice's numbers."""

    question: Question
    sheet: QuestionSheet
    units: str
    numbers: Numbers
    names: Mapping[str, str] = field(default_factory=dict)  # letter -> option name
    places: Mapping[str, str] = field(default_factory=dict)  # place number -> place name
    words: Mapping[str, str] = field(default_factory=dict)  # number name -> as shown
    other_words: Mapping[str, str] = field(default_factory=dict)  # the same for a worked example
    wrong: list[tuple[Mistake, float]] = field(default_factory=list, compare=False, repr=False)  # kept by the judge

    @functools.cached_property
    def right(self) -> Any:
        """The right answer, in the form its kind has."""
        return self.question.right(self.numbers)


def variant_index(question_id: str, badge: str, turn: int, count: int) -> int:
    """Pick the variant of one apprentice: the same on every machine and in every session.

    >>> variant_index("inherent.step", "4711", 0, 12) == variant_index("inherent.step", "4711", 12, 12)
    True
    """
    digest = hashlib.sha256(f"{question_id}|{badge}".encode()).hexdigest()
    return (int(digest, 16) + turn) % count


def pose(question: Question, badge: str, units: str = "si", turn: int = 0) -> Posed:
    """Give the question the numbers of one apprentice; the next `turn` has the next variant."""
    return pose_variant(question, variant_index(question.id, badge, turn, len(question.variants)), units)


def pose_variant(question: Question, index: int, units: str = "si") -> Posed:
    """Give the question the numbers of one variant."""
    # The worked example takes the variant before this one: the next is what comes as new numbers.
    other_words, other_numbers = _told_before(question, (index - 1) % len(question.variants), units)
    words, numbers = numbers_of(question, index, units)
    _LATEST[units] = question, index, dict(words), numbers
    if question.kind == "number" and question.key:
        other_words["answer"] = _shown_answer(question, other_numbers, units)
    options = _lettered(question.options, f"{question.id}|{index}")
    places = {p.name if p.name.isdigit() else str(n): p for n, p in enumerate(question.places, start=1)}
    return Posed(
        question,
        _sheet(question, words, options, places, units),
        units,
        numbers,
        names={letter: option.name for letter, option in options.items()},
        places={number: place.name for number, place in places.items()},
        words=words,
        other_words=other_words,
    )


# Unit set -> the variant posed last, by question and index: where all are posed in turn, it is the next one's example.
_LATEST: dict[str, tuple[Question, int, dict[str, str], Numbers]] = {}


def _told_before(question: Question, index: int, units: str) -> tuple[dict[str, str], Numbers]:
    last = _LATEST.get(units)
    if last and last[0] is question and last[1] == index:
        return dict(last[2]), last[3]
    return numbers_of(question, index, units)


def numbers_of(question: Question, index: int, units: str) -> tuple[dict[str, str], Numbers]:
    """Return a variant's numbers as shown, and as the key takes them: rounded first, then turned into SI."""
    seen, numbers = _seen_numbers(question, index, units)
    words = {name: _word(value) for name, value in seen.items()}
    if question.working:
        words |= {name: str(value) for name, value in results(question.working, question.unit, seen, units).items()}
        words["working"] = told_working(question, seen, units)
    return words, numbers


def key_numbers(question: Question, index: int, units: str) -> Numbers:
    """Return a variant's numbers as the key takes them, without the words that are only shown."""
    return _seen_numbers(question, index, units)[1]


def _seen_numbers(question: Question, index: int, units: str) -> tuple[dict[str, Any], Numbers]:
    seen = {name: _seen(value, units) for name, value in question.variants[index].items()}
    numbers = {name: to_base(value) if isinstance(value, Q) else value for name, value in seen.items()}
    if question.given:
        seen |= {name: _seen(value, units, 4) for name, value in question.given(Numbers(**numbers)).items()}
    return seen, Numbers(**numbers, in_formulas=values_of(seen), units=units)


def _seen(value: Any, units: str, digits: int = 3) -> Any:
    return shown(value, units, digits) if isinstance(value, Q) else value


def _word(value: Any) -> str:
    return plain_number(value) if isinstance(value, (int, float)) else str(value)


def _shown_answer(question: Question, numbers: Numbers, units: str) -> str:
    answer = from_base(float(question.right(numbers)), shown_unit(question.unit, units))
    return str(Q(rounded_to(answer.value, question.digits), answer.unit))


def _shown_range(question: Question, units: str) -> tuple[float, float] | None:
    if question.plausible is None:
        return None
    low, high = (shown(Q(limit, question.unit), units).value for limit in question.plausible)
    return low, high


def _sheet(
    question: Question, words: dict[str, str], options: dict[str, Option], places: dict[str, Option], units: str
) -> QuestionSheet:
    """Return what is put on the page: texts with the numbers in them, and never a key."""
    return QuestionSheet(
        id=question.id,
        kind=question.kind,
        text=question.text.format_map(words),
        unit=shown_unit(question.unit, units),
        points=question.points,
        options=tuple((letter, option.text.format_map(words)) for letter, option in options.items()),
        places=tuple((number, place.text.format_map(words)) for number, place in places.items()),
        plausible=_shown_range(question, units),
        digits=question.digits if question.kind == "number" else 0,
    )


def _lettered(options: tuple[Option, ...], seed: str) -> dict[str, Option]:
    """Shuffle by hash, so that the same variant has the same letters everywhere."""
    order = sorted(options, key=lambda option: hashlib.sha256(f"{seed}|{option.name}".encode()).hexdigest())
    return dict(zip(ascii_lowercase, order, strict=False))
