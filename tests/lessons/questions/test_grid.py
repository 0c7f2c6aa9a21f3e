"""More variants of a number question: neat, sound, those by hand first."""

from __future__ import annotations

import pytest

from grading import workorders
from lessons.questions.grid import ENOUGH, on_grid
from lessons.questions.judge import RIGHT, judge
from lessons.questions.question import Mistake, Question, pose_variant
from lessons.units.quantities import Q, rounded_to

NUMBERS = [question for question in workorders.questions().values() if question.kind == "number"]
FORCE = Question(
    id="x.w1",
    kind="number",
    text="{p} on {area}?",
    unit="N",
    plausible=(0.0, 20_000.0),
    tolerance=0.02,
    variants=tuple({"p": Q(p, "bar"), "area": Q(area, "cm²")} for p, area in ((1.1, 320), (1.2, 480), (2.5, 640))),
    key=lambda n: n.p * n.area,
    mistakes=(Mistake("area_only", lambda n: n.area * 1e5, "The pressure was left out."),),
)


@pytest.mark.parametrize("question", NUMBERS, ids=lambda q: q.id)
def test_every_graded_number_question_has_sixty_variants(question: Question) -> None:
    assert len(question.variants) >= ENOUGH


def test_a_grid_is_neat_sound_and_begins_with_what_was_written() -> None:
    grid = on_grid(FORCE, "p", "area")
    assert len(grid.variants) == ENOUGH
    assert list(grid.variants[:3]) == list(FORCE.variants)
    for index in range(3, ENOUGH):
        this = pose_variant(grid, index)
        p, area = grid.variants[index]["p"].value, grid.variants[index]["area"].value
        assert (rounded_to(p, 2), rounded_to(area, 3)) == (p, area)
        assert judge(this, f"{p * area * 10:g} N").tag == RIGHT  # 1 bar on 1 cm² is 10 N
        assert abs(p - 1) > 0.04  # two tolerances from where the area alone gives the same: 1 bar


def test_the_same_grid_each_time() -> None:
    assert list(on_grid(FORCE, "p").variants) == list(on_grid(FORCE, "p").variants)


def test_a_grid_that_has_no_room_is_short_and_not_wrong() -> None:
    from dataclasses import replace

    tight = replace(FORCE, plausible=(3_000.0, 6_000.0))
    grid = on_grid(tight, "p")
    assert 3 <= len(grid.variants) < ENOUGH
