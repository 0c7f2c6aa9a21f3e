"""What goes between instructor and apprentices on a hub: boxes, the working copy, hand-ins by their owner."""

from __future__ import annotations

import json
import os
import pwd
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from grading.commands import DONE, FAILED, LOOK, main
from grading.course.course import Course, change_setting
from grading.hub import inbox
from grading.hub.school import user_of
from grading.hub.school_boxes import BOXES, INBOUND, OUTBOUND, send
from lessons.jupyter import from_instructor, on_hub
from lessons.questions import progress
from tests.grading.classroom import CLASS, LESSON, classroom, marks, notebook_of, put

ADA, BEN, CLEO, DAN = CLASS
LATE = "handed in late"


@pytest.fixture
def course(tmp_path: Path) -> Course:
    """A course whose exchange is there, as the hub makes it, but with this user's rights only."""
    exchange = tmp_path / "exchange" / "spring"
    for name in (INBOUND, OUTBOUND):
        (exchange / name).mkdir(parents=True)
    for person in (ADA, BEN, CLEO):  # Dan came later: no box yet
        for name in (from_instructor.ORDERS, from_instructor.MARKED):
            (exchange / BOXES / user_of(person.badge) / name).mkdir(parents=True)
    return change_setting(classroom(tmp_path), "exchange", str(exchange))


def box(course: Course, badge: str) -> Path:
    return Path(course.exchange) / BOXES / user_of(badge)


def run(course: Course, *command: str) -> tuple[int, str]:
    said: list[str] = []
    code = main(["--course", str(course.root), *command], said.append)
    return code, "\n".join(said)


def test_each_box_holds_its_own_work_order_and_nothing_is_sent_twice(course: Course) -> None:
    assert send(course) == 6  # three boxes, each with a zip and what it is
    assert send(course) == 0
    (order,) = (box(course, ADA.badge) / from_instructor.ORDERS).iterdir()
    assert order.read_bytes() == (course.root / "to_send" / LESSON / f"{ADA.badge}.zip").read_bytes()
    assert (Path(course.exchange) / OUTBOUND / LESSON).is_dir()
    assert not box(course, DAN.badge).exists()


def test_a_box_that_is_gone_is_said(course: Course) -> None:
    lost = change_setting(course, "exchange", str(course.root / "nowhere"))
    code, said = run(lost, "hand-back")
    assert (code, "Start the hub again" in said) == (FAILED, True)


def test_who_left_the_list_gets_nothing_more(course: Course) -> None:
    send(course)
    (course.root / "to_send" / LESSON / f"{BEN.badge}.zip").unlink()
    send(course)
    assert list((box(course, BEN.badge) / from_instructor.ORDERS).iterdir()) == []


@pytest.fixture
def working_copy(course: Course, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    send(course)
    monkeypatch.setenv(from_instructor.BOX, str(box(course, BEN.badge)))
    home = tmp_path / "my-lessons"
    on_hub.make_ready(home)
    return home


def test_a_server_starts_signed_on_with_the_work_order_there(working_copy: Path) -> None:
    known = progress.load(working_copy)
    assert (known.badge, known.units) == (BEN.badge, BEN.units)
    (sent,) = from_instructor.sent(working_copy)
    assert (sent.lesson, sent.page) == (LESSON, None)
    order = json.loads(sent.notebook.with_name("workorder.json").read_text())
    assert list(order["badges"]) == [BEN.badge]


def test_the_units_an_apprentice_chose_stay_and_a_strange_badge_does_not(working_copy: Path) -> None:
    progress.keep_sign_on(working_copy, "9999", "si")
    on_hub.make_ready(working_copy)
    known = progress.load(working_copy)
    assert (known.badge, known.units) == (BEN.badge, "si")


def test_given_out_again_comes_beside_what_was_typed(course: Course, working_copy: Path) -> None:
    (first,) = from_instructor.sent(working_copy)
    first.notebook.write_text("what Ben typed")
    source = course.source(LESSON)
    notebook = json.loads(source.read_text())
    notebook["cells"].append({"cell_type": "markdown", "id": "more", "metadata": {}, "source": "One more word."})
    source.write_text(json.dumps(notebook))
    assert run(course, "give-out", "04")[0] == DONE
    from_instructor.fetch(working_copy)
    (second,) = from_instructor.sent(working_copy)
    assert second.notebook != first.notebook
    assert first.notebook.read_text() == "what Ben typed"
    assert "One more word." in second.notebook.read_text()


def hand_in(course: Course, user: str, notebook: dict[str, Any], when: datetime | None = None) -> Path:
    """Put a hand-in into the exchange as nbgrader does."""
    when = when or datetime.now(UTC)
    name = f"{user}+{LESSON}+{when:%Y-%m-%d %H:%M:%S.%f} UTC+abcdefghijkl"
    return put(Path(course.exchange) / INBOUND, f"{name}/{LESSON}.ipynb", notebook).parent


@pytest.fixture
def owners(monkeypatch: pytest.MonkeyPatch) -> Callable[[Path, str], None]:
    """Let a folder belong to somebody, which only root could do in earnest."""
    known: dict[str, str] = {}
    monkeypatch.setattr(inbox, "_owner", lambda path: known[path.name])
    return lambda folder, user: known.update({folder.name: user})


def test_hand_ins_of_the_exchange_are_marked_like_files(
    course: Course, owners: Callable[[Path, str], None], working_copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    user = user_of(ADA.badge)
    for ways in (("mistake",), ("right",)):  # repeated: the last one counts
        owners(hand_in(course, user, notebook_of(course, ADA, *ways)), user)
    code, said = run(course, "take-in")
    assert (code, "2 new hand-ins, 0 known already, 0 not taken in." in said) == (DONE, True)
    assert "handed in 2 times; the last one in time counts" in said
    assert "0 new hand-ins, 2 known already" in run(course, "take-in")[1]
    run(course, "mark")
    assert marks(course)[ADA.badge].score == max(each.score for each in marks(course).values())
    code, said = run(course, "hand-back")
    assert (code, "1 file changed in the boxes" in said) == (DONE, True)
    monkeypatch.setenv(from_instructor.BOX, str(box(course, ADA.badge)))
    from_instructor.fetch(working_copy)
    (sent,) = from_instructor.sent(working_copy)
    assert sent.page is not None
    assert ADA.name in sent.page.read_text()


def test_a_name_that_is_not_the_owners_is_nobodys(course: Course, owners: Callable[[Path, str], None]) -> None:
    owners(hand_in(course, user_of(ADA.badge), notebook_of(course, ADA)), user_of(BEN.badge))
    code, said = run(course, "take-in")
    assert code == LOOK
    assert f"under the name of {user_of(ADA.badge)}, but user {user_of(BEN.badge)} put it there" in said
    owners(hand_in(course, "guest", notebook_of(course, CLEO)), "guest")
    assert "user guest put it into the exchange, who is not in roster.csv" in run(course, "take-in")[1]


def test_a_time_in_the_name_does_not_beat_that_of_the_machine(
    course: Course, owners: Callable[[Path, str], None]
) -> None:
    past = datetime.now(UTC) - timedelta(days=2)
    run(course, "due", "04", f"{datetime.now().astimezone() - timedelta(days=1):%Y-%m-%d %H:%M}")
    user = user_of(ADA.badge)
    owners(hand_in(course, user, notebook_of(course, ADA), when=past), user)
    run(course, "take-in")
    assert "it is in time only by a time in its zip or beside it" in run(course, "mark")[1]
    user = user_of(BEN.badge)
    owners(hand_in(course, user, notebook_of(course, BEN)), user)
    assert LATE in run(course, "take-in")[1]


def test_without_a_hub_a_folder_is_asked_for(tmp_path: Path) -> None:
    code, said = run(classroom(tmp_path), "take-in")
    assert (code, "take-in FOLDER" in said) == (FAILED, True)


@pytest.mark.skipif(os.geteuid() != 0, reason="only root can give a file to somebody else")
def test_the_owner_is_who_the_machine_says(tmp_path: Path) -> None:
    os.chown(tmp_path, pwd.getpwnam("nobody").pw_uid, -1)
    assert inbox._owner(tmp_path) == "nobody"
    os.chown(tmp_path, 54321, -1)
    assert inbox._owner(tmp_path) == "number 54321"
