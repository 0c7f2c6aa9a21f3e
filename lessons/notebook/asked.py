"""Which question stands at an id, and with whose numbers; worked out from what is written down, without a page."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from lessons.notebook import bank
from lessons.notebook.still import drawing_of
from lessons.questions import progress
from lessons.questions.progress import Progress, Variant
from lessons.questions.question import Posed, Question, QuestionSheet, pose
from lessons.questions.repetition import NOTHING_DUE, is_place, question_at


@dataclass(frozen=True)
class Asked:
    """A question with its numbers: what is seen of it, and whose numbers these are.

    `posed` holds the key; it is None for a work order from the instructor, which came without one.
    """

    variant: Variant
    sheet: QuestionSheet
    posed: Posed | None = None

    @property
    def drawn(self) -> QuestionSheet:
        """The sheet with its picture."""
        return replace(self.sheet, svg=drawing_of(self.posed)) if self.posed else self.sheet


def asked_now(here: Path, home: Path, question_id: str) -> Asked:
    """Return the question at an id with the numbers of whoever works here now.

    `here` is where the lesson lies, perhaps with a work order; `home` is where progress is kept. At a lesson's place
    for repetition a question is put if one is due.

    Raises
    ------
    ValueError
        If there is no such question, or none for this badge; the sentence says what to do.
    """
    if is_place(question_id):
        question_id = _comes_back(home, question_id)
    known = progress.load(home)
    return asked_with(here, known.present(question_id), known)


def asked_with(here: Path, variant: Variant, known: Progress) -> Asked:
    """Return the question with the numbers of one variant, which names no units where they make no difference.

    Raises
    ------
    ValueError
        As `asked_now`.
    """
    released = bank.released_sheet(here, variant.badge, variant.question)
    if released:
        return Asked(Variant(variant.question, variant.badge), released)
    question = bank.question(variant.question)
    if question is None:
        raise ValueError(bank.why_missing(variant.question))
    posed = pose(question, variant.badge, variant.units or known.units, variant.turn)
    units = "" if _same_in_both(question, posed, variant) else posed.units
    return Asked(replace(variant, units=units), posed.sheet, posed)


def _same_in_both(question: Question, posed: Posed, variant: Variant) -> bool:
    other = pose(question, variant.badge, "us" if posed.units == "si" else "si", variant.turn)
    return question.figure is None and posed.sheet == other.sheet and posed.words == other.words


def _comes_back(home: Path, place: str) -> str:
    """Return the question of an earlier lesson that a place points to; put one there if one is due."""
    known, now = progress.load(home), datetime.now().astimezone()
    found = question_at(place, bank.earlier_questions(place.partition(".")[0]), known, now)
    if found is None:
        raise ValueError(NOTHING_DUE)
    question_id, newly = found
    if newly:
        progress.put_in_place(home, place, question_id)
    return question_id
