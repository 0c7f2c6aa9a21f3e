"""Signs that a hand-in was copied, such as another's badge: shown to a person, never marked down."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from typing import Any

from grading.course.roster import Apprentice
from grading.given_out.given_out import Given
from grading.given_out.judged_answers import Mark, index_of, judged_variant, posed_variant
from grading.handins.handin import HandIn, asked
from lessons.questions.judge import OTHER
from lessons.questions.progress import ALONE, is_badge
from lessons.questions.question import Question

_SHOWN = re.compile(r"badge ([^\s<]{1,20})<")
_MOST = 200_000  # characters of one saved output that are looked at; a question's card has about 1000


def shows_other(
    handin: HandIn, questions: Sequence[Question], person: Apprentice, own: Iterable[str] = ()
) -> tuple[str, str]:
    """Return another badge that is shown, or "?" for another's numbers, and the sentence; else nothing.

    `own` are the badges that the same person had earlier.
    """
    known, mine = {question.id: question for question in questions}, {person.badge, *own}
    for cell in handin.cells:
        question = known.get(asked(cell.source))
        if question is None:
            continue
        html, plain = _saved(cell.outputs, "text/html"), _saved(cell.outputs, "text/plain")
        other = next((badge for badge in _SHOWN.findall(html) if is_badge(badge) and badge not in mine), "")
        if other == ALONE:
            return (
                "?",
                f"it was worked on without signing on, so its numbers are not those of {person.badge}",
            )
        if other:
            return other, f"it was worked on under badge {other}: the saved question {question.id} shows it"
        if _shows_other_numbers(plain, question, person):
            return "?", f"the saved question {question.id} shows the numbers of another badge"
    return "", ""


def shows_other_giving_out(handin: HandIn, given: Given, others: Sequence[Given], badge: str) -> str:
    """Return a sentence if a saved question shows what went out at another time than what it is marked by."""
    for cell in handin.cells:
        plain = _saved(cell.outputs, "text/plain")
        own = given.text(asked(cell.source), badge)
        if not plain or not own or own in plain:
            continue
        for other in others:
            text = other.text(asked(cell.source), badge)
            if text and text in plain:
                return (
                    f"the saved question {asked(cell.source)} shows the numbers of {other.day}. It was marked by "
                    f"those of {given.day}, because its notebook is of that date"
                )
    return ""


def fits_others(marks: Sequence[Mark], given: Given, person: Apprentice) -> list[str]:
    """Return a sentence if wrong answers are right for one other apprentice's numbers; one may be chance, two are not.

    With enough variants nearly any number is right for somebody: so the same somebody is asked for.
    """
    known = {question.id: question for question in given.questions}
    wrong = [mark for mark in marks if mark.reply.tag == OTHER and known[mark.question].kind == "number"]
    if len(wrong) < 2:
        return []
    fitting = {mark.question: _fitting(mark, known[mark.question], person) for mark in wrong}
    found: dict[tuple[str, ...], list[str]] = {}
    for badge in given.units:
        theirs = tuple(each for each, indexes in fitting.items() if known[each].dealt[badge] in indexes)
        if badge != person.badge and len(theirs) > 1:
            found.setdefault(theirs, []).append(badge)
    return [
        f"its answers to {' and '.join(questions)} are wrong, but right for the numbers of {_some(badges)}"
        for questions, badges in found.items()
    ]


def _some(badges: Sequence[str], most: int = 3) -> str:
    return f"badge {', '.join(badges[:most])}" + (" and others" if len(badges) > most else "")


def _fitting(mark: Mark, question: Question, person: Apprentice) -> set[int]:
    variants = range(len(question.variants))
    return {index for index in variants if judged_variant(question, index, person.units, mark.text).score == 1}


def _shows_other_numbers(plain: str, question: Question, person: Apprentice) -> bool:
    count = len(question.variants)
    own = index_of(question, person.badge)
    if not plain or posed_variant(question, own, person.units).sheet.text in plain:
        return False
    others = (posed_variant(question, index, units).sheet.text for index in range(count) for units in ("si", "us"))
    return any(text in plain for text in others)


def _saved(outputs: Sequence[Any], kind: str) -> str:
    found = []
    for output in outputs:
        data = output.get("data") if isinstance(output, dict) else None
        text = data.get(kind) if isinstance(data, dict) else None
        if isinstance(text, list):
            text = "".join(part for part in text if isinstance(part, str))
        found.append(text[:_MOST] if isinstance(text, str) else "")
    return "\n".join(found)
