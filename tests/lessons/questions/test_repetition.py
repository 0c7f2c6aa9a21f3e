"""Questions that come back, the dashboard and the glossary; all times made here."""

from __future__ import annotations

import json
from datetime import datetime, timedelta
from pathlib import Path

from lessons.notebook import bank, overview
from lessons.questions import progress
from lessons.questions.repetition import due, question_at

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
