"""Match questions on the drawings: every number can be read, and the key is the drawing's own numbering."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from matplotlib.text import Text

from lessons.notebook import bank
from lessons.pictures.cutaways import sheet
from lessons.pictures.cutaways.catalogue import PICTURES
from lessons.pictures.cutaways.words import WORDS
from lessons.practice import drawn_parts
from lessons.questions.question import Question, pose_variant

QUESTIONS = [
    q
    for q in (*bank.practice_questions().values(), *bank.graded_questions().values())
    if q.figure is drawn_parts.figure
]
CIRCLE = 13.0  # [pt] a number with its circle


def ids(question: Question) -> str:
    return question.id


def test_there_are_such_questions() -> None:
    assert {"drop.parts", "bodies.double", "trim.parts"} <= {q.id for q in QUESTIONS}


@pytest.mark.parametrize("question", QUESTIONS, ids=ids)
def test_numbers_lie_apart_and_the_key_follows_them(question: Question) -> None:
    for index in range(len(question.variants)):
        posed = pose_variant(question, index)
        n = posed.numbers
        drawing = PICTURES[n.picture].drawing
        asked = [part for part in drawing.parts if part.name in drawn_parts.split(n.asked)]
        assert len(asked) == len(question.places), (n.asked, "a part is named twice or not at all")
        calls = sheet.callouts(drawing._replace(parts=tuple(asked)))
        for a, b in combinations(calls, 2):
            apart = np.hypot(*np.subtract(a.place, b.place)) * drawing.scale
            assert apart > CIRCLE, (question.id, n.asked, a.part.name, b.part.name)
        key = question.key(n) if question.key else {}
        for call in calls:
            assert getattr(n, key[str(call.number)]) in (call.part.name, WORDS[call.part.name])
        offered = [text for _, text in posed.sheet.options]
        assert len(set(offered)) == len(offered), "an option is offered twice"


@pytest.mark.parametrize("question", QUESTIONS, ids=ids)
def test_the_picture_shows_the_numbers_asked_and_no_name(question: Question) -> None:
    n = pose_variant(question, 0).numbers
    assert question.figure
    said = [t.get_text() for t in question.figure(n, "si").findobj(Text) if t.get_text().strip()]
    assert sorted(s for s in said if s.isdigit()) == [place.name for place in question.places]
    assert not [s for s in said if s in WORDS]
