"""Every live picture and every picture of a question: legible and finite, at the ends of its sliders and in between."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from lessons.live.moving_picture import MovingPicture
from lessons.notebook import bank
from lessons.notebook.figures import LIVE, moving_picture
from lessons.questions.question import Question, pose_variant
from tests.grading.giving_out.leak_search import leaked_words
from tests.lessons.pictures.legible import assert_legible, drawn_texts

UNITS = ("si", "us")
DRAWN = [q for q in {**bank.practice_questions(), **bank.graded_questions()}.values() if q.figure]


def corners(live: MovingPicture) -> list[dict[str, float]]:
    """Return the sliders at their ends, in all ways together, and all of them in the middle."""
    ends = [[(s.name, s.value(k)) for k in (0, s.count - 1)] for s in live._sliders]
    middle = {s.name: s.value(s.count // 2) for s in live._sliders}
    return [middle, *(dict(values) for values in itertools.product(*ends))]


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("name", LIVE)
def test_letters_can_be_read_at_every_end_of_the_sliders(name: str, units: str) -> None:
    live = moving_picture(name, units)
    for values in corners(live):
        assert_legible(live.figure(units, **values), values)


@pytest.mark.parametrize("name", LIVE)
def test_every_part_that_moves_has_somewhere_to_be(name: str) -> None:
    """No infinite place anywhere; nan, which hides a part, is allowed, but not for all parts at once."""
    live = moving_picture(name, "si")
    for values in corners(live):
        places = [p[1] if isinstance(p, tuple) else p for p in live._call(values, "si").values()]
        points = np.concatenate([np.asarray(p, float).reshape(-1, 2) for p in places if not isinstance(p, str)])
        assert not np.isinf(points).any(), values
        assert np.isfinite(points).any(), values


@pytest.mark.parametrize("question", DRAWN, ids=[q.id for q in DRAWN])
def test_pictures_of_questions_can_be_read_and_do_not_give_the_answer_away(question: Question) -> None:
    assert question.alt
    assert question.figure
    for index, units in zip(range(len(question.variants)), itertools.cycle(UNITS), strict=False):
        posed = pose_variant(question, index, units)
        figure = question.figure(posed.numbers, units)
        assert_legible(figure, (index, units))
        drawn = " ".join(text.get_text() for text in drawn_texts(figure))
        assert not bank.is_work_order(question.id) or leaked_words(question, drawn) == []
