"""Learning curves: planted slopes are recovered within the intervals stated, and small classes are told how little they say."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from grading.report.learning.curves import points, slope
from grading.report.learning.histories import Event, events_in, histories, opportunities_of
from grading.report.learning.learning_page import IdeaRead, by_idea, learning_page
from lessons.jupyter.lesson_page.practice_history import METADATA, to_hand_in
from lessons.notebook import bank
from lessons.notebook.opportunities import ideas
from lessons.questions import progress
from tests.grading.classroom import CLASS, classroom, marks, notebook_of, put, run

ADA, BEN, CLEO, DAN = CLASS
START = datetime(2030, 1, 1, 8, tzinfo=UTC)
# 65 to 80 % right in seven opportunities (Koedinger 2023, from memory) is a fall of the log odds of an error from
# -ln(0.65/0.35) = -0.619 to -ln(0.8/0.2) = -1.386: 0.767 over six steps, 0.128 a step.
KOEDINGER = -0.128


def simulated(people: int, level: float, rise: float, seed: int, times: int = 8) -> list[list[bool]]:
    """Return a class that errs by the model, apprentices spread by 1 in the log odds."""
    rng = np.random.default_rng(seed)
    line = level + rise * np.arange(times)[None] + rng.normal(size=(people, 1))
    return [list(map(bool, row)) for row in rng.random((people, times)) < 1 / (1 + np.exp(-line))]


# Of intervals of 95 % a few miss: with 20 classes 17 or more hold it in 98.4 % of all tries (binomial), and the seeds are fixed.
@pytest.mark.parametrize(("people", "classes", "hold", "width"), [(12, 20, 17, (0.1, 0.4)), (200, 6, 5, (0.02, 0.08))])
@pytest.mark.parametrize(("level", "rise"), [(-0.62, KOEDINGER), (-0.2, -0.3), (-0.62, 0.0), (-1.5, 0.2)])
def test_planted_slopes_are_recovered(
    people: int, classes: int, hold: int, width: tuple[float, float], level: float, rise: float
) -> None:
    found = [slope(simulated(people, level, rise, seed)) for seed in range(classes)]
    assert sum(each is not None and each.low <= rise <= each.high for each in found) >= hold
    half = [(each.high - each.low) / 2 for each in found if each]
    assert width[0] < sum(half) / len(half) < width[1]
    # The mean of the classes is not off to one side: within three of its own standard errors.
    mean = sum(each.value for each in found if each) / classes
    assert abs(mean - rise) < 3 * (sum(half) / len(half)) / 1.96 / classes**0.5 + 0.01


def test_a_small_class_cannot_tell_usual_learning_from_none() -> None:
    small = [slope(simulated(12, -0.62, KOEDINGER, seed)) for seed in range(10)]
    assert sum(each is not None and each.tells for each in small) <= 5
    large = [slope(simulated(200, -0.62, -0.3, seed)) for seed in range(3)]
    assert all(each is not None and each.tells for each in large)


EDGES = [
    ("nobody", []),
    ("too few apprentices", [[True] * 8] * 4),
    ("too few answers", [[True, False, True]] * 6),
    ("one opportunity each", [[True]] * 40),
]


@pytest.mark.parametrize("errors", [row[1] for row in EDGES], ids=[row[0] for row in EDGES])
def test_too_little_gives_no_slope(errors: list[list[bool]]) -> None:
    assert slope(errors) is None


@given(st.lists(st.lists(st.booleans(), max_size=6), max_size=12))
def test_any_class_has_a_curve(errors: list[list[bool]]) -> None:
    for point in points(errors):
        assert 0 <= point.low <= point.error <= point.high <= 1
    found = slope(errors)
    assert found is None or found.low <= found.value <= found.high


def test_the_curve_by_hand() -> None:
    first, second = points([[True, False], [True, True], [False], [True, False]])
    assert (first.people, first.error) == (4, 0.75)
    assert (second.people, second.error) == (3, pytest.approx(1 / 3))
    # Wilson for 3 of 4, worked by hand: z² = 3.8415; middle 0.75 + 0.4802 = 1.2302; room 1.96·√(0.75·0.25/4 + 3.8415/64)
    # = 1.96·√(0.046875 + 0.060023) = 0.64083; over 1 + 0.96036: 0.3006 and 0.9544.
    assert (first.low, first.high) == (pytest.approx(0.3006, abs=2e-4), pytest.approx(0.9544, abs=2e-4))


def event(question: str, tag: str, minute: float, turn: int = 0, sure: bool | None = None) -> Event:
    return Event(question, turn, tag, START + timedelta(minutes=minute), sure)


ONE = "inherent.linear"
MET = [
    ("right at once", [event(ONE, "right", 0, sure=True)], [(False, True, 0.0)]),
    ("wrong, then right", [event(ONE, "added", 0, sure=True), event(ONE, "right", 4)], [(True, True, 4.0)]),
    ("a hint first", [event(ONE, "hint", 0), event(ONE, "right", 1)], [(True, None, 0.0)]),
    ("a hint after", [event(ONE, "right", 0), event(ONE, "hint", 1)], [(False, None, 0.0)]),
    ("unreadable is no try", [event(ONE, "unreadable", 0), event(ONE, "right", 2)], [(False, None, 0.0)]),
    ("fresh numbers", [event(ONE, "x", 0), event(ONE, "right", 9, turn=1)], [(True, None, None), (False, None, 0.0)]),
    ("the next day", [event(ONE, "x", 0), event(ONE, "right", 1500)], [(True, None, None)]),
    ("only a hint", [event(ONE, "hint", 0)], []),
]


@pytest.mark.parametrize(("events", "met"), [row[1:] for row in MET], ids=[row[0] for row in MET])
def test_opportunities(events: list[Event], met: list[Any]) -> None:
    assert [(each.wrong_first, each.sure_first, each.minutes) for each in opportunities_of(events)] == met


def practised(folder: Path, tags: Sequence[str]) -> progress.Progress:
    folder.mkdir()
    progress.keep_sign_on(folder, ADA.badge, "si")
    for turn, tag in enumerate(tags):
        variant = progress.Variant(ONE, ADA.badge, "si", turn)
        progress.record(folder, ONE, "60 %, but do not tell", tag, 0.0, variant, sure=tag != "right")
    progress.record(folder, "inherent.w1", "a graded answer", "right", 1.0)
    return progress.load(folder)


def test_what_goes_along_is_said_in_one_place_and_off_by_one_word(tmp_path: Path) -> None:
    known = practised(tmp_path / "my", ["added", "right"])
    history = to_hand_in(known, bank.practice_questions())
    assert [(each["id"], each["turn"], each["tag"], each["sure"]) for each in history] == [
        (ONE, 0, "added", True),
        (ONE, 1, "right", False),
    ]
    assert "tell" not in json.dumps(history)  # no answer goes along
    assert "w1" not in json.dumps(history)
    progress.keep_practice_choice(tmp_path / "my", False)
    assert to_hand_in(progress.load(tmp_path / "my"), bank.practice_questions()) == []
    progress.keep_practice_choice(tmp_path / "my", True)
    assert to_hand_in(progress.load(tmp_path / "my"), bank.practice_questions()) == history


def test_a_history_comes_with_a_hand_in_and_changes_no_mark(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    history = to_hand_in(practised(tmp_path / "my", ["added", "right"]), bank.practice_questions())
    for person in (ADA, BEN):
        notebook = notebook_of(course, person, "mistake")
        if person is ADA:
            notebook["metadata"][METADATA] = history
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook)
    run(course, "take-in", str(tmp_path / "back"))
    run(course, "mark")
    run(course, "tables")
    found = marks(course)
    assert found[ADA.badge].score == found[BEN.badge].score
    assert found[ADA.badge].remarks == found[BEN.badge].remarks == ()
    assert [each.tag for each in histories(course)[ADA.badge]] == ["added", "right"]
    page = (course.root / "tables" / "learning.html").read_text(encoding="utf-8")
    assert "1 of 4 apprentices let their practice go along" in page
    assert "Few apprentices" in page
    assert "too few to say" in page
    assert 'href="learning.html"' in (course.root / "tables" / "index.html").read_text(encoding="utf-8")


def test_a_large_class_is_not_called_small() -> None:
    question = next(each for each in ideas() if ONE in ideas()[each])
    met = [opportunities_of([event(ONE, "x", 0), event(ONE, "right", 5, turn=1)]) for _ in range(40)]
    read = [IdeaRead(question, met)]
    assert "Few apprentices" not in learning_page(read, [["a"] * 7], 40)
    assert "Few apprentices" in learning_page([IdeaRead(question, met[:12])], [["a"] * 7], 12)


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=9) | st.just(ONE),
    lambda inner: (
        st.lists(inner, max_size=4) | st.dictionaries(st.sampled_from(["id", "turn", "tag", "at", "sure"]), inner)
    ),
    max_leaves=12,
)


@given(JUNK)
def test_any_history_is_read_or_passed_over(history: Any) -> None:
    events = list(events_in(json.dumps({"metadata": {METADATA: history}}).encode()))
    assert by_idea({"1": events}) is not None


def test_bytes_that_are_no_notebook_have_no_history() -> None:
    assert list(events_in(b"\xff{")) == []
