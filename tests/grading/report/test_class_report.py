"""The report: difficulty and discrimination worked by hand, mistakes, pictures, and tables a spreadsheet can trust."""

from __future__ import annotations

import csv
import io
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from grading.commands import main
from grading.marking.mark_lesson import mark_lesson
from grading.report.charts import bars, shares
from grading.report.class_tables import write_tables
from grading.report.class_tally import ClassTally, QuestionTally, tally
from grading.report.results import ApprenticeResult, Result
from grading.taking_in.take_in import take_in
from tests.grading.classroom import CLASS, LESSON, answers_of, classroom, full, notebook_of, points, put

ADA, BEN, CLEO, DAN = CLASS


def result(question: str, score: float, tag: str = "", points_: float = 2.0) -> Result:
    tag = tag or ("right" if score == points_ else "added" if score else "blank")
    return Result("1", question, tag, score, points_, "x", "Read as x.", f"{tag} it", "", False, False, "")


def sheet(badge: str, *scores: float) -> ApprenticeResult:
    return ApprenticeResult(badge, tuple(result(f"q{i}", score) for i, score in enumerate(scores)))


def counted(*rows: tuple[float, ...]) -> ClassTally:
    made = tally([f"q{i}" for i in range(len(rows[0]))])
    for badge, row in enumerate(rows):
        made.add(sheet(str(badge), *row))
    return made


# Item-rest correlation, the usual "corrected item-total correlation" of classical test theory (common practice, no
# source). Worked by hand for q0 with x = 2 2 2 0 0, rest = 4 3 2 1 0: mean x 1.2, mean rest 2,
# Σ(x-1.2)(rest-2) = 0.8·2 + 0.8·1 + 0 + (-1.2)(-1) + (-1.2)(-2) = 6.0; Σ(x-1.2)² = 3·0.64 + 2·1.44 = 4.8;
# Σ(rest-2)² = 10; r = 6 / √48 = 0.8660.
WORKED = [
    ("by hand", [(2, 2, 2), (2, 2, 1), (2, 1, 1), (0, 1, 0), (0, 0, 0)], 0.6, 0.8660),
    # Turned round: those who had the rest missed it. x = 0 0 0 2 2 against the same rest: r = -0.8660.
    ("turned round", [(0, 2, 2), (0, 2, 1), (0, 1, 1), (2, 1, 0), (2, 0, 0)], 0.4, -0.8660),
    # Nothing in common: x = 2 0 2 0, 1; rest = 0 0 4 4 2: Σ(x-1)(rest-2) = -2 + 2 + 2 - 2 + 0 = 0.
    ("nothing in common", [(2, 0, 0), (0, 0, 0), (2, 2, 2), (0, 2, 2), (1, 1, 1)], 0.5, 0.0),
    ("all the same", [(2, 2, 2), (2, 2, 1), (2, 1, 1), (2, 1, 0), (2, 0, 0)], 1.0, None),
    ("too few to tell", [(2, 2, 2), (0, 0, 0)], 0.5, None),
]


@pytest.mark.parametrize(("rows", "difficulty", "tells"), [row[1:] for row in WORKED], ids=[row[0] for row in WORKED])
def test_difficulty_and_discrimination(rows: list[tuple[float, ...]], difficulty: float, tells: float | None) -> None:
    first = counted(*rows).questions["q0"]
    assert first.difficulty == pytest.approx(difficulty)
    assert first.discrimination == (None if tells is None else pytest.approx(tells, abs=5e-5))


@given(st.lists(st.tuples(*[st.sampled_from([0.0, 0.5, 1.0, 2.0])] * 3), min_size=5, max_size=30))
def test_discrimination_is_a_correlation(rows: list[tuple[float, ...]]) -> None:
    for question in counted(*rows).questions.values():
        assert 0 <= question.difficulty <= 1
        assert question.discrimination is None or -1 - 1e-9 <= question.discrimination <= 1 + 1e-9


def test_mistakes_are_counted_and_said() -> None:
    question = QuestionTally("q")
    for score, tag in ((2, "right"), (0.5, "added"), (0.5, "added"), (0, "nine_steps"), (0, "other"), (0, "blank")):
        question.add(result("q", score, tag), 0)
    assert question.mistakes == [("added", 2), ("nine_steps", 1)]
    assert (question.full, question.none, question.count) == (1, 3, 6)
    whole = ClassTally({"q": question})
    assert ("q", "2 of 6 made the same mistake (added): added it") in whole.teach_again()
    assert ("q", "the class earned 25 % of its points") in whole.teach_again()  # 3 of 12 points


def test_who_is_stuck_has_less_than_half() -> None:
    whole = counted((2, 2), (2, 0), (2, 1), (0, 1.5), (0, 0))
    assert [badge for badge, _ in whole.stuck] == ["3", "4"]
    assert whole.stuck[1][1] == "0 of 4 points, nothing for q0, q1; 2 left unanswered"
    assert whole.tenths == [1, 0, 0, 1, 0, 1, 0, 1, 0, 1]  # 0, 37.5, 50, 75 and 100 %


def test_pictures_are_whole_and_escaped() -> None:
    for picture in (
        bars("Worst & most", [("<b>q</b>", 3, "3 of 4"), ("long " * 20, 0, "0")], 4),
        shares("Shares", [("q<1>", 3, 0, 1), ("none yet", 0, 0, 0)]).partition("<p>")[0],
    ):
        root = ET.fromstring(picture)  # noqa: S314 - our own picture
        drawing = root.find("svg")
        assert drawing is not None
        assert drawing.get("role") == "img"
        assert drawing.get("aria-label")
        width = float((drawing.get("viewBox") or "").split()[2])
        for rect in drawing.iter("rect"):
            assert 0 <= float(rect.get("x") or 0) <= width
            assert 0 <= float(rect.get("width") or -1) <= width - float(rect.get("x") or 0)


def test_an_empty_class_has_no_bars() -> None:
    assert bars("x", [], 0) == ""
    assert shares("x", []) == ""


def test_the_report_of_a_class(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    for person, ways in ((ADA, ()), (BEN, ("mistake",)), (CLEO, ("mistake", "unreadable", "other"))):
        put(tmp_path / "back", f"{person.badge}.ipynb", notebook_of(course, person, *ways))
    take_in(course, tmp_path / "back", quiet=True)
    mark_lesson(course, LESSON, quiet=True)
    main(["--course", str(course.root), "tables"], lambda _said: None)
    page = (course.root / "tables" / f"{LESSON}.html").read_text(encoding="utf-8")
    assert "Apprentices with marks: 3 of 4." in page
    assert "2 of 3 made the same mistake (added)" in page
    assert f"{CLEO.badge} {CLEO.name}:" in page.partition("Who is stuck")[2].partition("Pictures")[0]
    assert page.count("<svg") == 3
    mistakes = list(
        csv.DictReader(io.StringIO((course.root / "tables" / f"{LESSON}_mistakes.csv").read_text("utf-8-sig")))
    )
    assert (mistakes[0]["mistake"], mistakes[0]["how many"], mistakes[0]["of"]) == ("added", "2", "3")


def test_the_export_leaves_out_who_has_no_mark(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    put(tmp_path / "back", f"{BEN.badge}.ipynb", notebook_of(course, BEN, "mistake"))
    take_in(course, tmp_path / "back", quiet=True)
    mark_lesson(course, LESSON, quiet=True)
    write_tables(course, LESSON)
    head, *rows = csv.reader(io.StringIO((course.root / "tables" / "marks.csv").read_text("utf-8")))
    assert head == ["badge", "name", f"{LESSON} (of {full():g})"]
    earned = sum(points(answers_of(BEN, "mistake")).values())
    assert rows == [[p.badge, p.name, f"{earned:g}" if p is BEN else ""] for p in CLASS]
