"""An apprentice sees when a work order has to be handed in, in the course's time and in that of his own machine."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from lessons.notebook import bank, hand_in_by, overview
from lessons.questions import markup
from lessons.questions.progress import Progress
from lessons.questions.question import QuestionSheet

LESSON = "04_inherent_characteristic"
AT = datetime(2030, 3, 1, 16, 0, tzinfo=timezone(timedelta(hours=1)))


@pytest.fixture
def in_zone(monkeypatch: pytest.MonkeyPatch) -> Iterator[pytest.MonkeyPatch]:
    yield monkeypatch
    monkeypatch.undo()
    time.tzset()


def order(folder: Path, due: Any, badge: str = "4711") -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    about = {"units": "si", "sheets": [], "due": due}
    data = {"lesson": LESSON, "badges": {badge: about}, "pictures": {}}
    (folder / bank.RELEASED).write_text(json.dumps(data), encoding="utf-8")
    return folder


# zone of the machine as POSIX writes it (its sign is the other way round) -> what is said of 16:00 one hour east
ZONES = [
    ("XXX-1", "Friday 1 March 2030, 16:00 (UTC+01:00)"),
    ("UTC0", "Friday 1 March 2030, 16:00 (UTC+01:00), here Friday 1 March, 15:00"),
    ("XXX-9:30", "Friday 1 March 2030, 16:00 (UTC+01:00), here Saturday 2 March, 00:30"),
]


@pytest.mark.parametrize(("zone", "said"), ZONES)
def test_a_due_time_is_said_with_its_zone(in_zone: pytest.MonkeyPatch, zone: str, said: str) -> None:
    in_zone.setenv("TZ", zone)
    time.tzset()
    assert hand_in_by.in_words(AT) == said


def test_world_time_is_said_as_such(in_zone: pytest.MonkeyPatch) -> None:
    in_zone.setenv("TZ", "UTC0")
    time.tzset()
    assert hand_in_by.in_words(AT.astimezone(UTC)) == "Friday 1 March 2030, 15:00 (UTC)"


def test_each_badge_has_its_own_time(tmp_path: Path) -> None:
    assert hand_in_by.time_for(order(tmp_path, AT.isoformat()), "4711") == AT
    assert hand_in_by.time_for(tmp_path, "4712") is None


@pytest.mark.parametrize(
    "due", [None, "", "soon", 7, [], "2030-03-01 16:00", "0001-01-01T00:00:00+14:00", "9999-12-31T23:59:59-14:00"]
)
def test_what_is_no_time_with_a_zone_is_none(tmp_path: Path, due: Any) -> None:
    assert hand_in_by.time_for(order(tmp_path, due), "4711") is None
    assert hand_in_by.all_due(tmp_path, "4711") == {}


@pytest.mark.parametrize(
    "text", ["", "{", "[]", '{"badges": 1}', '{"badges": {"4711": 1}}', '{"badges": {}, "due": 1}']
)
def test_a_damaged_work_order_has_no_time(tmp_path: Path, text: str) -> None:
    (tmp_path / bank.RELEASED).write_text(text, encoding="utf-8")
    assert hand_in_by.time_for(tmp_path, "4711") is None


def test_lesson_00_lists_the_work_orders_of_the_working_copy(tmp_path: Path) -> None:
    order(tmp_path / "sent" / LESSON, AT.isoformat())
    found = hand_in_by.all_due(tmp_path, "4711")
    assert found == {LESSON: AT}
    before, after = (overview.dashboard_text(Progress(), AT + timedelta(days=days), found) for days in (-1, 1))
    title = next(lesson.title for lesson in bank.lessons() if lesson.notebook == LESSON)
    assert f"- {title}: hand in by {hand_in_by.in_words(AT)}" in before
    assert f"- {title}: was to be handed in by {hand_in_by.in_words(AT)}" in after
    assert "Work orders" not in overview.dashboard_text(Progress(), AT, {})


def test_a_question_of_a_work_order_says_when_it_has_to_be_handed_in() -> None:
    sheet = QuestionSheet("inherent.w1", "number", "How much?", points=2.0)
    assert markup.heading(sheet, True, "Friday") == "Work order · 2 points · hand in by Friday"
    assert markup.heading(sheet, True) == "Work order · 2 points"
    assert markup.heading(sheet, False, "Friday") == "Practice"
