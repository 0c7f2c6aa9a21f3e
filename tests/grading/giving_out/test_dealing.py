"""Who gets which numbers: by a secret of the course, never the same as a neighbour, and in each zip one's own only."""

from __future__ import annotations

import json
import zipfile
from itertools import pairwise
from math import ceil
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from grading import workorders
from grading.course.course import new_course, open_course, write_safely
from grading.demo.demo import roster_csv
from grading.demo.demo_class import people
from grading.giving_out.dealing import deal
from grading.giving_out.give_out import give_out
from lessons.questions.question import Question, variant_index
from tests.grading.classroom import LESSON

BADGES = [person.badge for person in people(200)]


def question(count: int, name: str = "inherent.w1") -> Question:
    return Question(name, "number", "", variants=({},) * count)


@given(st.integers(3, 80), st.integers(1, 200), st.text("0123456789abcdef", min_size=1))
def test_neighbours_never_share_and_all_variants_are_used(count: int, size: int, secret: str) -> None:
    dealt = deal([question(count)], BADGES[:size], secret, {})["inherent.w1"]
    got = [dealt[badge] for badge in BADGES[:size]]
    assert all(one != other for one, other in pairwise(got))
    assert max(got.count(each) for each in got) <= ceil(size / count) + 1  # one more where a neighbour has the last
    assert set(got) <= set(range(count))


@given(st.integers(3, 60), st.integers(2, 100), st.integers(0, 99))
def test_who_comes_later_changes_nothing_for_the_others(count: int, size: int, place: int) -> None:
    first = deal([question(count)], BADGES[:size], "secret", {})
    badges = [*BADGES[: min(place, size)], "late", *BADGES[min(place, size) : size]]
    now = deal([question(count)], badges, "secret", first)["inherent.w1"]
    assert {badge: now[badge] for badge in BADGES[:size]} == first["inherent.w1"]
    beside = [now[badges[each]] for each in (min(place, size) - 1, min(place, size) + 1) if 0 <= each < len(badges)]
    assert now["late"] not in beside


def test_the_public_choice_tells_no_more_than_chance() -> None:
    # A twelfth of 200 is 17; three standard deviations of that count are 12.
    for secret in ("a", "b", "c"):
        dealt = deal([question(12)], BADGES, secret, {})["inherent.w1"]
        guessed = sum(dealt[badge] == variant_index("inherent.w1", badge, 0, 12) for badge in BADGES)
        assert guessed <= 17 + 12
    one, other = (deal([question(60)], BADGES, secret, {})["inherent.w1"] for secret in "ab")
    assert sum(one[badge] == other[badge] for badge in BADGES) < 20  # a sixtieth of 200 is 3


def test_each_course_has_a_secret_that_only_its_owner_reads(tmp_path: Path) -> None:
    one, other = new_course(tmp_path / "one"), new_course(tmp_path / "other")
    assert open_course(one.root).secret == one.secret != other.secret
    assert len(one.secret) == 32
    assert not (one.root / "course.json").stat().st_mode & 0o077
    (one.root / "course.json").write_text('{"gradebook": ""}', encoding="utf-8")  # of before there were secrets
    assert open_course(one.root).secret == ""


def test_a_zip_holds_the_questions_of_its_own_badge_only(tmp_path: Path) -> None:
    course, class_list = new_course(tmp_path / "course"), people(6)
    write_safely(course.root / "roster.csv", roster_csv(class_list))
    folder = give_out(course, LESSON, workorders.notebooks()[LESSON])
    assert sorted(path.stem for path in folder.iterdir()) == [person.badge for person in class_list]
    sheets = {}
    for person in class_list:
        with zipfile.ZipFile(folder / f"{person.badge}.zip") as archive:
            files = {name: archive.read(name).decode() for name in archive.namelist()}
        assert set(files) == {f"{LESSON}/{LESSON}.ipynb", f"{LESSON}/workorder.json"}
        order = json.loads(files[f"{LESSON}/workorder.json"])
        assert list(order["badges"]) == [person.badge]
        sheets[person.badge] = order["badges"][person.badge]["sheets"]
        assert set(order["pictures"]) == {sheet["picture"] for sheet in sheets[person.badge] if "picture" in sheet}
        others = {each.badge for each in class_list} - {person.badge}
        assert not [each for each in others if f'"{each}"' in "".join(files.values())]
    texts = [[sheet["text"] for sheet in sheets[person.badge]] for person in class_list]
    assert all(one != other for here, there in pairwise(texts) for one, other in zip(here, there, strict=True))


def test_a_zip_of_who_left_the_class_goes(tmp_path: Path) -> None:
    course = new_course(tmp_path / "course")
    write_safely(course.root / "roster.csv", roster_csv(people(3)))
    give_out(course, LESSON, workorders.notebooks()[LESSON])
    write_safely(course.root / "roster.csv", roster_csv(people(2)))
    course = open_course(course.root)
    folder = give_out(course, LESSON, workorders.notebooks()[LESSON])
    assert sorted(path.stem for path in folder.iterdir()) == ["4701", "4702"]
