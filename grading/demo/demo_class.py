"""An invented class that answers in ways known beforehand, so that every mark can be told without judging."""

from __future__ import annotations

import copy
import json
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from grading.course.roster import Apprentice
from grading.given_out.judged_answers import WRITTEN, posed
from grading.handins.handin import answered
from lessons.questions.foreseen import foreseen
from lessons.questions.question import Mistake, Posed, Question
from lessons.units.quantities import from_base, plain_number, rounded_to

NAMES = (
    "Ines Okafor", "Tom Vantongeren", "Lea Marchetti", "Kofi Brandt", "Mara Lindqvist", "Jun Petersen",
    "Rosa Achterberg", "Emil Castellanos", "Nadia Holm", "Piet Adeyemi", "Sena Ruzicka", "Olaf Mbeki",
)  # fmt: skip
WAYS = (
    "right",
    "mistake",
    "right",
    "partly",
    "right",
    "other",
    "right",
    "second mistake",
    "unreadable",
    "right",
    "blank",
)

NOTE = (
    "It stopped short of its travel. Found the cause, put that right and nothing else; stroked it again, "
    "both ways.\nStill in manual, permit with me until the morning. Please look at the rest by daylight."
)
POOR_NOTE = "Fixed, should be OK."


@dataclass(frozen=True)
class Planned:
    """One answer, how it was made, and the share of the points it must get; none before a person has read it."""

    question: str
    way: str
    text: str
    share: float
    points: float


def people(count: int = 12) -> list[Apprentice]:
    """Return the class, half of it with US units."""
    return [
        Apprentice(str(4701 + i), NAMES[i % 12] + (f" {i // 12 + 1}" if i >= 12 else ""), ("si", "us")[i % 2])
        for i in range(count)
    ]


def plan(question: Question, person: Apprentice, way: str) -> Planned:
    """Answer a question in one way; a way that a kind of question does not have becomes a right answer."""
    this = posed(question, person.badge, person.units)
    if question.kind == WRITTEN and way != "blank":
        return Planned(question.id, WRITTEN, NOTE if way == "right" else POOR_NOTE, 0.0, question.points)
    made = _made(this, way)
    text, share = made or (_right(this), 1.0)
    return Planned(question.id, way if made else "right", text, share, question.points)


def plans(questions: Sequence[Question], person: Apprentice, offset: int) -> list[Planned]:
    """Answer all questions of a lesson, each apprentice with other ways."""
    return [plan(question, person, WAYS[(offset + 3 * i) % len(WAYS)]) for i, question in enumerate(questions)]


def filled_in(released: dict[str, Any], planned: Sequence[Planned]) -> bytes:
    """Return the released notebook with the answers typed in, as an apprentice would hand it in."""
    texts = {each.question: each.text for each in planned}
    notebook = copy.deepcopy(released)
    for cell in notebook["cells"]:
        split = answered("".join(cell["source"]))
        if split and split[0] in texts:
            cell["source"] = f"%%answer {split[0]}\n{texts[split[0]]}"
    return json.dumps(notebook, ensure_ascii=False, indent=1).encode()


def _made(this: Posed, way: str) -> tuple[str, float] | None:
    mistakes = clear_mistakes(this) if this.question.kind == "number" else []
    if way == "unreadable":
        return "see my notebook please", 0.0
    if way == "blank":
        return "", 0.0
    if way in ("mistake", "second mistake") and len(mistakes) > (way != "mistake"):
        mistake, value = mistakes[way != "mistake"]
        return _number(this, value), mistake.credit
    if way in ("mistake", "partly"):
        return _partly(this)
    if way == "other":
        return _other(this)
    return None


def clear_mistakes(this: Posed) -> list[tuple[Mistake, float]]:
    """Return the mistakes that lead to a number of their own with these numbers, and that number.

    Left out is what comes to the right answer, or to what another mistake with another credit comes to, and what
    people seldom do: there the reply may name another cause.
    """
    worth = _come_to(this)
    others = [(1.0, float(this.right)), *((mistake.credit, number) for mistake, number in worth)]
    return [
        (mistake, value)
        for mistake, value in worth
        if not mistake.rare
        and not any(mistake.credit != credit and _meet(this, value, number) for credit, number in others)
    ]


def _come_to(this: Posed) -> list[tuple[Mistake, float]]:
    found = [(mistake, mistake.wrong(this.numbers)) for mistake in foreseen(this.question)]
    return [(mistake, float(value)) for mistake, value in found if value is not None]


def _meet(this: Posed, one: float, other: float) -> bool:
    return abs(one - other) <= 2 * this.question.tolerance * max(abs(one), abs(other))


def _right(this: Posed) -> str:
    question = this.question
    key, letter = this.right, {name: mark for mark, name in this.names.items()}
    if question.kind == "number":
        return _number(this, float(key))
    if question.kind == "choice":
        return letter[key].upper()
    if question.kind == "several":
        return " ".join(sorted(letter[name] for name in key))
    if question.kind == "order":
        return " ".join(letter[name] for name in key)
    return " ".join(f"{number}{letter[key[place]]}" for number, place in this.places.items())


def _partly(this: Posed) -> tuple[str, float] | None:
    """Return an answer that is right in part, and the share by hand: what is right over what there is."""
    right, kind = _right(this).split(), this.question.kind
    if kind == "several" and len(right) > 1:
        return " ".join(right[1:]), (len(right) - 1) / len(right)
    if kind == "order":
        return " ".join(reversed(right)), 0.0  # no step follows the step it should
    if kind == "match" and len(right) > 2:
        first, second = right[0], right[1]
        return " ".join([first[0] + second[1:], second[0] + first[1:], *right[2:]]), (len(right) - 2) / len(right)
    return None


def _other(this: Posed) -> tuple[str, float] | None:
    """Return a wrong answer that no mistake foresees."""
    question = this.question
    if question.kind == "choice":
        right = _right(this).lower()
        return next(mark for mark in this.names if mark != right), 0.0
    if question.kind != "number" or question.key is None:
        return None
    right_one = float(this.right)
    taken = [right_one, *(value for _, value in _come_to(this))]
    apart = max(0.025, 1.2 * question.tolerance)
    for factor in (1.37, 0.61, 1.83, 2.9, 0.37, 4.3, 5.9, 7.7, 13.1, 0.173):
        value = right_one * factor
        if all(not abs(value - other) < apart * abs(other) for other in taken):
            return _number(this, value), 0.0
    return None


def _number(this: Posed, si: float) -> str:
    """Write a number as apprentices do: some with a decimal comma, where it cannot be read as thousands."""
    text = plain_number(rounded_to(from_base(si, this.sheet.unit).value, 5))
    comma = this.units == "si" and "." in text and len(text.partition(".")[2]) != 3
    return f"{text.replace('.', ',') if comma else text} {this.sheet.unit}".strip()
