"""Questions that come back, the dashboard and the glossary; all times made here."""

from __future__ import annotations

import json
import re
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from lessons.notebook import bank, overview
from lessons.notebook.opportunities import ideas, opportunities, tried
from lessons.questions import progress
from lessons.questions.progress import Answered, Progress, Variant
from lessons.questions.repetition import due, due_at, question_at
from tests.opportunities import listed

NOW = datetime.fromisoformat("2030-05-10T12:00:00+00:00")
EARLIER = bank.earlier_questions("installed")


def write(folder: Path, *events: tuple[float, dict[str, object]]) -> progress.Progress:
    """Write events so many days ago."""
    lines = [json.dumps({"at": (NOW - timedelta(days=days)).isoformat(), **event}) for days, event in events]
    (folder / progress.FILE).write_text("\n".join(lines) + "\n", encoding="utf-8")
    return progress.load(folder)


def answered(question_id: str, tag: str, text: str = "1") -> dict[str, object]:
    return {"what": "answer", "id": question_id, "text": text, "tag": tag, "score": float(tag == "right")}


def test_earlier_means_earlier_lessons_only() -> None:
    assert "inherent.step" in EARLIER
    assert not [each for each in EARLIER if each.startswith("installed.")]


def test_due_after_a_day_and_shakiest_first(tmp_path: Path) -> None:
    known = write(
        tmp_path,
        (3, answered("inherent.linear", "right")),
        (2, answered("inherent.step", "linear_share")),
        (2, answered("inherent.step", "other", "2")),
        (2, answered("inherent.travel", "linear")),
        (2, answered("inherent.travel", "right", "2")),
        (0.9, answered("inherent.coefficient", "linear")),
        (5, answered("inherent.predict", "recorded")),
    )
    # By hand: step has two wrong and is unsolved (3), travel one wrong but solved (1), linear none (0).
    assert due(EARLIER, known, NOW) == ["inherent.step", "inherent.travel", "inherent.linear"]


def test_nothing_due_at_first(tmp_path: Path) -> None:
    assert question_at("installed.again1", EARLIER, progress.load(tmp_path), NOW) is None


def test_two_places_get_two_questions_and_keep_them(tmp_path: Path) -> None:
    known = write(tmp_path, (3, answered("inherent.step", "right")), (2, answered("inherent.travel", "right")))
    assert question_at("installed.again1", EARLIER, known, NOW) == ("inherent.step", True)
    progress.put_in_place(tmp_path, "installed.again1", "inherent.step")
    known = progress.load(tmp_path)
    assert question_at("installed.again1", EARLIER, known, NOW) == ("inherent.step", False)
    assert question_at("installed.again2", EARLIER, known, NOW) == ("inherent.travel", True)
    assert known.of("inherent.step").turn == 1, "it comes back with new numbers"


def test_a_place_moves_on_a_day_after_it_was_solved(tmp_path: Path) -> None:
    events = [
        (5, answered("inherent.step", "right")),
        (4, answered("inherent.travel", "right")),
        (3, {"what": "new", "id": "inherent.step"}),
        (3, {"what": "again", "place": "installed.again1", "id": "inherent.step"}),
    ]
    known = write(tmp_path, *events)
    assert question_at("installed.again1", EARLIER, known, NOW) == ("inherent.step", False), "not solved there yet"
    known = write(tmp_path, *events, (0.5, answered("inherent.step", "right", "2")))
    assert question_at("installed.again1", EARLIER, known, NOW) == ("inherent.step", False), "solved today"
    known = write(tmp_path, *events, (2, answered("inherent.step", "right", "2")))
    assert question_at("installed.again1", EARLIER, known, NOW) == ("inherent.travel", True)


def test_dashboard_counts_and_names_shaky_ideas(tmp_path: Path) -> None:
    known = write(
        tmp_path,
        (2, answered("inherent.linear", "right")),
        (2, answered("inherent.coefficient", "linear")),
        (2, answered("inherent.coefficient", "other", "2")),
        (0, answered("inherent.w1", "recorded")),
    )
    page = overview.dashboard_text(known, NOW)
    row = next(line for line in page.splitlines() if "04_inherent_characteristic.ipynb" in line)
    practice = sum(q.kind != "predict" for q in bank.practice_questions().values() if q.id.startswith("inherent."))
    assert [cell.strip() for cell in row.split("|")[2:5]] == [f"1 of {practice}", "1", "2"]
    idea = bank.practice_questions()["inherent.coefficient"].idea
    assert idea in page
    settled = write(
        tmp_path,
        (2, answered("inherent.coefficient", "linear")),
        (2, answered("inherent.coefficient", "x", "2")),
        (1, answered("inherent.coefficient", "right", "3")),
    )
    assert idea not in overview.dashboard_text(settled, NOW)


def test_glossary_links_every_term_to_its_lesson() -> None:
    page = overview.glossary_text()
    for lesson in bank.lessons():
        for term, said in lesson.terms.items():
            assert f"**{term}**: {said} ([{lesson.title}]({lesson.notebook}.ipynb))" in page


def test_no_term_is_explained_twice() -> None:
    terms = [term.lower() for lesson in bank.lessons() for term in lesson.terms]
    assert sorted(terms) == sorted(set(terms))


def times(*events: tuple[float, str] | tuple[float, str, bool]) -> list[Answered]:
    """Answers so many days after a first day."""
    first = NOW - timedelta(days=400)
    return [
        Answered(
            Variant("x"),
            "1",
            event[1],
            (first + timedelta(days=event[0])).isoformat(),
            event[2] if len(event) > 2 else None,
        )
        for event in events
    ]


@pytest.mark.parametrize(
    ("events", "back"),
    [
        # answered on which days and how, comes back on which day
        ([(0, "right")], 1),
        ([(0, "right"), (1, "right")], 8),
        ([(0, "right"), (1, "right"), (8, "right")], 38),
        ([(0, "right"), (1, "right"), (8, "right"), (38, "right")], 129),
        ([(0, "right"), (1, "right"), (8, "right"), (38, "right"), (129, "right")], 311),
        ([(0, "right"), (1, "right"), (8, "right"), (38, "other")], 39),
        ([(0, "right"), (1, "right"), (8, "right"), (38, "other"), (38.01, "right")], 39.01),
        ([(0, "other")], 1),
        ([(0, "other"), (0.01, "right")], 1.01),
        ([(0, "right"), (0.5, "right")], 1.5),  # before its time: the gap stays
        ([(0, "right"), (20, "right")], 27),  # late is not wrong
        ([(0, "other", True)], 1),
        ([(0, "other", True), (1, "right")], 7),  # the next gap would end on day 8
        ([(0, "other", True), (1, "right"), (7, "right")], 37),  # in its time twice: a month
        ([(0, "other", False), (1, "right")], 8),
    ],
)
def test_gaps_grow_with_right_answers_and_begin_again_after_a_wrong_one(events, back: float) -> None:
    due_on = due_at(times(*events))
    assert due_on == datetime.fromisoformat((NOW - timedelta(days=400) + timedelta(days=back)).isoformat())


def test_never_answered_never_due() -> None:
    assert due_at([]) is None


def test_the_refresher_takes_ten_over_all_lessons(tmp_path: Path) -> None:
    every = [each for each, q in bank.practice_questions().items() if q.kind != "predict"]
    write(tmp_path, *((3, answered(each, "right")) for each in every))
    chosen = []
    for k in range(1, 11):
        known = progress.load(tmp_path)
        question_id, newly = question_at(f"refresher.again{k}", bank.earlier_questions("refresher"), known, NOW)
        assert newly
        progress.put_in_place(tmp_path, f"refresher.again{k}", question_id)
        chosen.append(question_id)
    assert len(set(chosen)) == 10
    lessons = [each.partition(".")[0] for each in chosen]
    assert max(lessons.count(each) for each in lessons) <= 2


def test_half_a_year_asks_each_question_at_least_four_times() -> None:
    """Somebody goes through a lesson a week, and three times a week through the refresher; every fourth answer is wrong."""
    answers: dict[str, list[Answered]] = {}
    questions = {each: q for each, q in bank.practice_questions().items() if q.kind != "predict"}
    topics = [lesson.topic for lesson in bank.lessons()]
    asked, first = 0, NOW - timedelta(days=200)

    def answer(each: str, at: datetime) -> None:
        nonlocal asked
        asked += 1
        tag = "right" if asked % 4 else "other"
        answers.setdefault(each, []).append(Answered(Variant(each), "1", tag, at.isoformat()))
        if tag == "other":  # put right in the same sitting
            answers[each].append(Answered(Variant(each), "2", "right", (at + timedelta(minutes=2)).isoformat()))

    sittings = dict.fromkeys(questions, 0)
    for day in range(183):
        at = first + timedelta(days=day)
        if day % 2 == 0 and day // 2 < len(topics):
            for each in (each for each in questions if each.startswith(f"{topics[day // 2]}.")):
                sittings[each] += 1
                answer(each, at)
        for each in due(questions, Progress(answers=answers), at)[:10]:
            sittings[each] += 1
            answer(each, at + timedelta(hours=1))
    assert min(sittings.values()) >= 4, sorted(sittings.items(), key=lambda each: each[1])[:5]


def test_files_without_sure_or_hints_are_read(tmp_path: Path) -> None:
    known = write(tmp_path, (2, answered("inherent.step", "right")), (1, {"what": "hint", "id": "inherent.step"}))
    assert known.answers["inherent.step"][0].sure is None
    assert known.of("inherent.step").tags == ("right",)


def test_every_question_has_its_idea_and_every_idea_enough_opportunities() -> None:
    asked = {each for each, q in {**bank.practice_questions(), **bank.graded_questions()}.items()}
    named = {each for ids in ideas().values() for each in ids}
    assert named <= asked, "an idea names a question that there is not"
    assert {each for each in asked - named if not each.startswith("start.")} == set()
    assert min(opportunities().values()) >= 5
    few = [line for line in listed(opportunities()) if re.match(r"\d+  ", line)]
    assert len(few) == sum(count < 7 for count in opportunities().values())


def test_tries_are_counted_by_idea(tmp_path: Path) -> None:
    known = write(
        tmp_path,
        (3, answered("drop.root", "other")),
        (2, answered("drop.root", "right")),
        (2, answered("drop.w2", "recorded")),
    )
    assert tried(known)["The flow goes with the root of the pressure drop."] == 3
