"""Who is where: read from histories written as lessons write them, and shown as text whatever was typed."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import pytest

from grading.course.roster import Apprentice
from grading.hub.school import School, user_of
from grading.hub.watching import AT_WORK, AWAY, DONE, STUCK, UNKNOWN, class_now, place_of
from lessons.notebook import bank
from lessons.questions import progress

ADA = Apprentice("4701", "Ada <b>Example</b>", "si")
INHERENT = next(each for each in bank.lessons() if each.topic == "inherent")
ALL = [each.id for each in INHERENT.questions if each.kind != "predict"]
QUESTION = ALL[0]


def history(folder: Path, *answers: tuple[str, str]) -> progress.Progress:
    """Write down answers (question, tag) the way a lesson does, all just now."""
    progress.keep_sign_on(folder, ADA.badge, ADA.units)
    for question, tag in answers:
        progress.record(folder, question, "typed", tag, 1.0, progress.load(folder).present(question))
    return progress.load(folder)


WRONG, RIGHT = (QUESTION, "other"), (QUESTION, "right")


@pytest.mark.parametrize(
    ("answers", "later", "state", "wrong", "solved"),
    [
        ([], 0, UNKNOWN, 0, 0),
        ([RIGHT], 0, AT_WORK, 0, 1),
        ([WRONG], 0, AT_WORK, 1, 0),
        ([WRONG, WRONG], 0, STUCK, 2, 0),
        ([WRONG, WRONG, WRONG], 0, STUCK, 3, 0),
        ([WRONG, WRONG, RIGHT], 0, AT_WORK, 0, 1),  # a right answer settles what came before it
        ([WRONG, (QUESTION, "unreadable"), (QUESTION, "unreadable")], 0, AT_WORK, 1, 0),  # costs nothing
        ([WRONG, WRONG], 11, AWAY, 2, 0),
        ([(each, "right") for each in ALL], 0, DONE, 0, len(ALL)),
        ([WRONG, WRONG, (ALL[1], "right")], 0, AT_WORK, 0, 1),  # went on to another question
        ([("inherent.w1", "recorded")], 0, AT_WORK, 0, 0),  # a work order is no practice
        ([("nonsense.x", "other")], 0, AT_WORK, 1, 0),
    ],
)
def test_where_somebody_is(
    tmp_path: Path, answers: list[tuple[str, str]], later: int, state: str, wrong: int, solved: int
) -> None:
    known = history(tmp_path, *answers)
    place = place_of(ADA, known, datetime.now().astimezone() + timedelta(minutes=later))
    assert (place.state, place.wrong, place.solved) == (state, wrong, solved)
    if answers and answers[-1][0].startswith("inherent."):
        assert place.lesson == INHERENT.title


def school(folder: Path) -> School:
    """A school of two on a disk, with no user of the machine."""
    (folder / "course").mkdir()
    (folder / "course" / "course.json").write_text('{"gradebook": ""}')
    (folder / "course" / "roster.csv").write_text("badge,name\n4701,Ada\n4702,Ben\n4703,Cleo\n")
    return School(str(folder), str(folder / "course"), "teacher", "", "", "")


def test_histories_are_read_as_data_whatever_lies_there(tmp_path: Path) -> None:
    made = school(tmp_path)
    homes = {badge: made.home(user_of(badge)) / "my-lessons" for badge in ("4701", "4702", "4703")}
    for home in homes.values():
        home.mkdir(parents=True)
    history(homes["4701"], WRONG, WRONG)
    (tmp_path / "secret").write_text('{"what": "answer"}')
    (homes["4702"] / progress.FILE).symlink_to(tmp_path / "secret")
    (homes["4703"] / progress.FILE).write_bytes(b'{"what": "answer", "id": 7}\n\xff[[[\n{"what": "answer", "id": "a"}')
    found = {each.person.badge: each for each in class_now(made, datetime.now().astimezone())}
    assert list(found) == ["4701", "4702", "4703"]  # who may need somebody comes first
    assert found["4701"].state == STUCK
    assert "link" in found["4702"].remark
    assert found["4703"].state == UNKNOWN


def test_the_page_shows_what_was_typed_as_text(tmp_path: Path) -> None:
    from grading.hub.class_service import places_page

    progress.record(tmp_path, QUESTION, "<script>x</script>", "other", 0.0)
    now = datetime.now().astimezone()
    page = places_page([place_of(ADA, progress.load(tmp_path), now)], now)
    assert "<script>" not in page
    assert "&lt;script&gt;" in page
    assert "Ada &lt;b&gt;" in page
