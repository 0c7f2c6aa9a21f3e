"""An answer is judged by the numbers it was shown with, whoever signs on meanwhile; and what is shown follows the sign-on.

Badge, units and other lessons are played here by writing to the progress file, as another kernel does.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from lessons.notebook import bank
from lessons.notebook.asked import asked_with
from lessons.questions import progress
from lessons.questions.judge import solution
from lessons.questions.progress import Variant, load
from lessons.questions.question import Posed, Question, pose
from lessons.units.quantities import Q, from_base, rounded_to
from tests.lessons.questions.desk import desk

BEGIN = 'from lessons.notebook import *\nbegin("inherent")'
NUMBERS = [q for q in bank.practice_questions().values() if q.kind == "number"]
STEP = "inherent.coefficient"


def question(question_id: str) -> Question:
    found = bank.question(question_id)
    assert found
    return found


def right(posed: Posed) -> str:
    if posed.question.kind != "number":
        return solution(posed).partition(" This is how.")[0].removeprefix("The answer was ").rstrip(".")
    assert posed.question.key
    answer = from_base(float(posed.question.key(posed.numbers)), posed.sheet.unit)
    return str(Q(rounded_to(answer.value, 5), answer.unit))


def answer(question_id: str, text: str) -> str:
    return f"%%answer {question_id}\n{text}"


def ask(question_id: str) -> str:
    return f'ask("{question_id}")'


SIGN_ONS = [(("alone", "si"), ("4711", "si")), (("4711", "si"), ("4711", "us")), (("4711", "us"), ("4715", "si"))]


@pytest.mark.parametrize(("before", "after"), SIGN_ONS)
def test_a_right_answer_to_what_was_shown_is_right(
    tmp_path: Path, before: tuple[str, str], after: tuple[str, str]
) -> None:
    seen = {each: pose(question(each), *before) for each in (STEP, "inherent.linear", "inherent.step")}
    now = {each: pose(question(each), *after) for each in seen}
    progress.keep_sign_on(tmp_path, *before)
    with desk(tmp_path, BEGIN, *map(ask, seen)) as page:
        progress.keep_sign_on(tmp_path, *after)  # in another lesson, and at once:
        said = [page.run(answer(each, right(posed))) for each, posed in seen.items()]
        assert [each for each in said if "Right." not in each] == []
        other_people = before[0] != after[0]  # in other units the same answer is right again, and needs no word
        assert other_people <= ("the badge or the units have changed" in said[0])
        for number, posed in enumerate(now.values(), start=1):
            assert " ".join(posed.sheet.text.split()) in page.cell(number), "the question is redrawn"
        assert "Right." in page.run(answer(STEP, right(now[STEP])))
        assert "Right." not in page.run(answer("inherent.linear", "Kv 0.001"))
    variant = Variant(STEP, *before)
    assert load(tmp_path).on(variant).texts == (right(seen[STEP]),)
    assert load(tmp_path).of(STEP).texts == (right(now[STEP]),)


def test_an_open_lesson_redraws_itself(tmp_path: Path) -> None:
    new = pose(question(STEP), "4711", "us")
    with desk(tmp_path, BEGIN, ask(STEP), 'live("inherent")', answer(STEP, "Kv 0.001")) as page:
        progress.keep_sign_on(tmp_path, "4711", "us")
        shown = page.heard(f"ask-{STEP}")
        assert new.sheet.text in shown.data["text/plain"]
        assert shown.metadata["variant"] == {"question": STEP, "badge": "4711", "units": "us", "turn": 0}
        assert "psi" in page.heard("header-inherent").data["text/html"]
        assert "import" not in page.run("import json")  # an author's cell, which does no more than let messages through
        units = page.run(
            "from lessons.notebook import calls as n; from IPython.display import HTML\n"
            'HTML(str(n._screen._pictures["inherent", ""][0].units))'
        )
        assert units == "us"


def test_the_reply_to_earlier_numbers_goes(tmp_path: Path) -> None:
    with desk(tmp_path, BEGIN, ask(STEP), answer(STEP, "Kv 0.001"), ask("inherent.linear")) as page:
        assert "That is not it" in page.cell(2)
        progress.keep_sign_on(tmp_path, "4711", "us")
        page.run(answer("inherent.linear", "new"))
        assert "That is not it" not in page.cell(2)
        assert "earlier numbers" in page.cell(2)


@pytest.mark.parametrize("each", NUMBERS, ids=lambda each: each.id)
def test_every_number_question_is_asked_and_judged_with_one_variant(each: Question, tmp_path: Path) -> None:
    for units in ("si", "us"):
        known = progress.Progress("4711", units)
        found = asked_with(tmp_path, known.present(each.id), known)
        expected = pose(each, "4711", units).sheet
        assert found.sheet == expected
        switched = progress.Progress("4712", "us" if units == "si" else "si")
        assert asked_with(tmp_path, found.variant, switched).sheet.text == expected.text


def test_what_an_earlier_kernel_left_on_the_page_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "04.ipynb"
    monkeypatch.setenv("JPY_SESSION_NAME", str(path))
    with desk(tmp_path, BEGIN, ask(STEP)) as page:
        page.save(path)
    progress.keep_sign_on(tmp_path, "4711", "us")
    old, new = pose(question(STEP), "alone"), pose(question(STEP), "4711", "us")
    with desk(
        tmp_path, "from lessons.notebook import calls as n\nn.ready()"
    ) as page:  # as the launcher starts a kernel
        said = page.run(answer(STEP, right(old)))
        assert "Right." in said
        assert " ".join(new.sheet.text.split()) in said
        assert "Right." in page.run(answer(STEP, right(new)))


def test_an_answer_to_earlier_numbers_is_no_try_unless_meant(tmp_path: Path) -> None:
    progress.keep_sign_on(tmp_path, "4711", "si")
    with desk(tmp_path, BEGIN, ask(STEP), answer(STEP, "Kv 5")) as page:
        page.run(answer(STEP, "new"))
        for _ in range(2):  # Run All Cells, twice
            page.run(ask(STEP))
            assert "earlier numbers" in page.run(answer(STEP, "Kv 5"))
        assert load(tmp_path).of(STEP).tries == 0
        assert "Read as Kv 5" in page.run(answer(STEP, "Kv 5"))
        assert load(tmp_path).of(STEP).tries == 1


def _same_in_both() -> Question:
    choices = [q for q in bank.practice_questions().values() if q.kind == "choice" and q.figure is None]
    both = [(q, pose(q, "4711", "si"), pose(q, "4711", "us")) for q in choices]
    return next(q for q, si, us in both if (si.sheet, si.words) == (us.sheet, us.words))


def test_a_choice_that_reads_the_same_in_both_unit_sets_stays(tmp_path: Path) -> None:
    same = _same_in_both()
    progress.keep_sign_on(tmp_path, "4711", "si")
    with desk(tmp_path, BEGIN, ask(same.id)) as page:
        text = right(pose(same, "4711", "si"))
        assert "Right." in page.run(answer(same.id, text))
        progress.keep_sign_on(tmp_path, "4711", "us")
        said = page.run(answer(same.id, text))
        assert "Right." in said
        assert "have changed" not in said


def order(folder: Path, *badges: str, units: str = "si") -> dict[str, Posed]:
    """Put a work order of one question for some badges into a folder."""
    posed = {badge: pose(question("inherent.w2"), badge, units) for badge in badges}
    sheets = {badge: {"units": units, "sheets": [each.sheet.as_data()]} for badge, each in posed.items()}
    (folder / bank.RELEASED).write_text(json.dumps({"lesson": "04", "badges": sheets}), encoding="utf-8")
    return posed


def test_a_work_order_is_read_by_the_sheet_that_was_shown(tmp_path: Path) -> None:
    posed = order(tmp_path, "4711", "4712")
    progress.keep_sign_on(tmp_path, "4711", "si")
    with desk(tmp_path, BEGIN, ask("inherent.w2")) as page:
        assert "badge 4711" in page.cell(1)
        progress.keep_sign_on(tmp_path, "4712", "us")
        said = page.run(answer("inherent.w2", right(posed["4711"])))
        assert "marked after you hand it in" in said
        assert "the badge or the units have changed" in said
        assert "badge 4712" in page.cell(1)
        assert " ".join(posed["4712"].sheet.text.split()) in page.cell(1)
        assert not load(tmp_path).answered("inherent.w2"), "nothing of badge 4712 is answered yet"
        page.run(answer("inherent.w2", right(posed["4712"])))
        assert load(tmp_path).answered("inherent.w2")


def test_a_badge_that_is_not_on_the_list_sees_no_other_badges_work_order(tmp_path: Path) -> None:
    posed = order(tmp_path, "4711")
    progress.keep_sign_on(tmp_path, "4711", "si")
    with desk(tmp_path, BEGIN, ask("inherent.w2")) as page:
        progress.keep_sign_on(tmp_path, "4712", "si")
        said = page.run(answer("inherent.w2", right(posed["4711"])))
        assert "Read as" in said
        assert "the badge or the units have changed" in said
        assert "Badge 4712 is not on this work order's list" in page.cell(1)
        assert "is not on this work order's list" in page.run(answer("inherent.w2", right(posed["4711"])))


def test_units_change_nothing_of_a_released_work_order(tmp_path: Path) -> None:
    posed = order(tmp_path, "4711")
    progress.keep_sign_on(tmp_path, "4711", "si")
    with desk(tmp_path, BEGIN, ask("inherent.w2")) as page:
        progress.keep_sign_on(tmp_path, "4711", "us")
        assert "have changed" not in page.run(answer("inherent.w2", right(posed["4711"])))
        assert "1 work order question answered" in page.cell(0)


def test_a_badge_that_signs_on_late_finds_its_work_order(tmp_path: Path) -> None:
    posed = order(tmp_path, "4711")
    with desk(tmp_path, BEGIN, ask("inherent.w2")) as page:
        assert "not on this work order's list" in page.cell(1)
        progress.keep_sign_on(tmp_path, "4711", "si")
        assert "only now" in page.run(answer("inherent.w2", right(posed["4711"])))
        assert " ".join(posed["4711"].sheet.text.split()) in page.cell(1)
        assert "marked after you hand it in" in page.run(answer("inherent.w2", right(posed["4711"])))


def test_nothing_is_judged_where_nothing_was_asked(tmp_path: Path) -> None:
    with desk(tmp_path, BEGIN, ask("inherent.again1")) as page:
        event = {
            "at": "2020-01-01T08:00:00+00:00",
            "what": "answer",
            "id": "start.read",
            "text": "1",
            "tag": "x",
            "score": 0,
        }
        with (tmp_path / progress.FILE).open("a", encoding="utf-8") as file:
            file.write(json.dumps(event) + "\n")  # a question falls due while the lesson is open
        assert "only now" in page.run(answer("inherent.again1", "5 bar"))
        assert " ".join(pose(question("start.read"), "alone", "si", 1).sheet.text.split()) in page.cell(1)
        assert load(tmp_path).of("start.read").tries == 0
