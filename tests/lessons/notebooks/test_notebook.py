"""What an apprentice reads in a lesson: cells run in a real kernel, replies read from the page."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Callable
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import nbformat
import pytest
from nbclient import NotebookClient

from lessons import safety
from lessons.notebook import bank, calls, figures
from lessons.questions import progress
from lessons.questions.judge import UNREADABLE, acknowledge
from lessons.questions.question import pose
from tests.lessons.notebooks.test_notebooks import right_answer

BEGIN = 'from lessons.notebook import *\nbegin("inherent")'
Run = Callable[..., list[str]]


@pytest.fixture
def run(tmp_path: Path) -> Run:
    """Run cells in one kernel; return what each shows, as words."""
    progress.keep_sign_on(tmp_path, "4711", "si")

    def run_cells(*cells: str) -> list[str]:
        notebook = nbformat.v4.new_notebook(cells=[nbformat.v4.new_code_cell(cell) for cell in (BEGIN, *cells)])
        resources = {"metadata": {"path": str(tmp_path)}}
        # An error's own output is what `words` refuses; here only the kernel's report of it is let pass.
        NotebookClient(notebook, timeout=60, kernel_name="python3", resources=resources, allow_errors=True).execute()
        return [words(cell.outputs) for cell in notebook.cells[1:]]

    return run_cells


def words(outputs: list[nbformat.NotebookNode]) -> str:
    assert [out for out in outputs if out.output_type in ("error", "stream")] == []
    return html.unescape(" ".join(re.sub("<[^>]+>", " ", out.data.get("text/html", "")) for out in outputs))


def answer(question_id: str, text: str) -> str:
    return f"%%answer {question_id}\n{text}"


def linear_as_wrong_answer(folder: Path) -> str:
    """Work inherent.coefficient out as for a linear trim, by hand: Kv times travel."""
    known = progress.load(folder).of("inherent.coefficient")
    question = bank.question("inherent.coefficient")
    assert question
    numbers = pose(question, "4711", "si", known.turn).numbers
    return f"Kv {numbers.kv * numbers.travel:.6g}"


def test_wrong_then_right(run: Run, tmp_path: Path) -> None:
    wrong, right = run(
        answer("inherent.coefficient", linear_as_wrong_answer(tmp_path)),
        answer("inherent.coefficient", right_answer("inherent.coefficient", "si")),
    )
    assert "That would be a linear trim" in wrong
    assert "Read as" in wrong
    assert "Right." in right
    record = progress.load(tmp_path).of("inherent.coefficient")
    assert (record.tries, record.solved, record.tags) == (1, True, ("linear", "right"))


def test_unreadable_costs_no_try(run: Run, tmp_path: Path) -> None:
    (said,) = run(answer("inherent.linear", "1,200"))
    assert "1200 or 1.200" in said
    assert progress.load(tmp_path).of("inherent.linear").tries == 0


def test_running_all_cells_again_is_no_new_try(run: Run, tmp_path: Path) -> None:
    said = run(*[answer("inherent.linear", "Kv 0.5")] * 3)
    assert said[0] == said[1] == said[2]
    assert progress.load(tmp_path).of("inherent.linear").tries == 1


def test_fourth_wrong_try_shows_the_answer_and_gives_new_numbers(run: Run, tmp_path: Path) -> None:
    said = run(*(answer("inherent.linear", f"Kv 0.{n}") for n in (1, 2, 3, 4)), answer("inherent.linear", "Kv 0.4"))
    assert "The answer was Kv" in said[3]
    assert "A valve with linear trim" in said[3], "the new question stands below"
    assert "earlier numbers" in said[4]
    assert progress.load(tmp_path).of("inherent.linear").turn == 1


def test_hints_climb_cost_nothing_and_are_written_down(run: Run, tmp_path: Path) -> None:
    question = bank.question("inherent.linear")
    assert question
    posed = pose(question, "4711", "si")
    box = "inherent.linear"
    first, second, third, last, wrong, right = run(
        answer(box, "?"),
        answer(box, "I don't know"),
        answer(box, "help"),
        answer(box, "?"),
        answer(box, "Kv 0.5"),
        answer(box, right_answer(box, "si")),
    )
    assert question.idea in first
    assert question.step.format_map(posed.words) in second
    assert posed.other_words["working"] in third
    assert third == last
    assert posed.other_words["working"] in wrong, "the ladder goes on where the hints ended"
    assert "Right." in right
    known = progress.load(tmp_path).of(box)
    assert (known.hints, known.tries, known.solved, known.tags[-1]) == (2, 1, True, "right")


def test_a_work_order_gives_no_hint_without_its_key(tmp_path: Path) -> None:
    question = bank.question("inherent.w2")
    assert question
    reply = acknowledge(pose(question, "4711").sheet, "?")
    assert reply.tag == UNREADABLE
    assert question.idea not in reply.text


def test_how_sure_is_written_down_and_is_no_part_of_the_answer(run: Run, tmp_path: Path) -> None:
    said = run(answer("inherent.linear", "Kv 0.5, sure"), answer("inherent.linear", "Kv 0.5"))
    assert said[0] == said[1]
    (given,) = progress.load(tmp_path).answers["inherent.linear"]
    assert (given.text, given.sure) == ("Kv 0.5", True)


def test_new_gives_new_numbers(run: Run, tmp_path: Path) -> None:
    question = bank.question("inherent.linear")
    assert question
    first, second = (pose(question, "4711", "si", turn).sheet.text for turn in (0, 1))
    (said,) = run(answer("inherent.linear", "new"))
    assert second in said
    assert first not in said
    assert progress.load(tmp_path).of("inherent.linear").turn == 1


def test_graded_question_replies_in_full_in_the_clone(run: Run) -> None:
    asked, said = run('ask("inherent.w2")', answer("inherent.w2", right_answer("inherent.w2", "si")))
    assert "Work order · 2 points" in asked
    assert "badge 4711" in asked
    assert "Right." in said


def test_released_work_order_is_only_acknowledged(run: Run, tmp_path: Path) -> None:
    question = bank.question("inherent.w2")
    assert question
    sheet = pose(question, "4711").sheet.as_data()
    order = {"lesson": "04", "badges": {"4711": {"units": "si", "sheets": [sheet]}}}
    (tmp_path / bank.RELEASED).write_text(json.dumps(order), encoding="utf-8")
    asked, said, silly, practice, unknown = run(
        'ask("inherent.w2")',
        answer("inherent.w2", right_answer("inherent.w2", "si")),
        answer("inherent.w2", "Kv 99999"),
        'ask("inherent.linear")',
        'ask("inherent.w1")',
    )
    assert sheet["text"][:40] in asked
    assert "Right" not in said
    assert "marked after you hand it in" in said
    assert "outside 0 to 1000" in silly
    assert "linear trim" in practice
    assert "has no question inherent.w1" in unknown


@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("{}", "is damaged"),
        ("not json", "is damaged"),
        ('{"badges": {"1": {"sheets": []}}}', "not on this work order's list"),
        (
            '{"badges": {"4711": {"sheets": [{"id": "inherent.w2", "kind": "number", "text": "", "picture": "p1"}]}}}',
            "is damaged",
        ),
    ],
)
def test_broken_release_is_a_sentence(run: Run, tmp_path: Path, content: str, says: str) -> None:
    (tmp_path / bank.RELEASED).write_text(content, encoding="utf-8")
    assert all(says in said for said in run('ask("inherent.w2")', answer("inherent.w2", "5")))


def test_slips_of_the_hand_are_sentences(run: Run) -> None:
    beside = "%%answer inherent.step 60 %"
    said = run("60 %", "sixty", "%%answer\n60 %", "%%answer inherent.stp\n60 %", 'ask("inherent.stp")', beside)
    assert "has lost its first line" in said[0]
    assert "has lost its first line" in said[1]
    assert "must name its question" in said[2]
    assert "no question named" in said[3]
    assert "no question named" in said[4]
    assert "below the first line" in said[5]


def test_a_defect_of_the_lessons_still_shows(run: Run) -> None:
    with pytest.raises(AssertionError, match="ZeroDivisionError"):
        run(
            "import math", "1/0"
        )  # an author at work: a cell that begins with an import is Python, and so are those after it


def test_a_lesson_does_not_say_what_a_library_tells_its_developers(run: Run) -> None:
    warn = "import warnings; warnings.warn_explicit('an old name', DeprecationWarning, 'library.py', 1, 'library')"
    assert run(warn) == [""]


def test_prediction_unlocks_the_picture(run: Run) -> None:
    said = run(
        "from lessons.notebook import calls as n",
        'live("inherent", after="inherent.predict")',
        'from IPython.display import HTML; HTML(str(n._waiting["inherent.predict"][0].locked))',
        answer("inherent.predict", "b"),
        'HTML(str(n._waiting["inherent.predict"][0].locked))',
    )
    assert (said[2].strip(), said[4].strip()) == ("True", "False")


def test_marker_ends_a_graded_question_with_its_marks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "stand_in_marker.py").write_text("def score(question_id):\n    return 1.5\n", encoding="utf-8")
    monkeypatch.setenv("LESSONS_MARKER", "stand_in_marker:score")
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(cell) for cell in (BEGIN, 'ask("inherent.w1")', answer("inherent.w1", "9"))]
    )
    NotebookClient(notebook, kernel_name="python3", resources={"metadata": {"path": str(tmp_path)}}).execute()
    assert notebook.cells[1].outputs[0].data["text/plain"] == "1.5"
    assert notebook.cells[2].outputs == []


def test_an_earlier_question_comes_back_with_new_numbers(run: Run, tmp_path: Path) -> None:
    at = (datetime.now().astimezone() - timedelta(days=2)).isoformat()
    event = {"at": at, "what": "answer", "id": "start.read", "text": "1 bar", "tag": "right", "score": 1.0}
    with (tmp_path / progress.FILE).open("a", encoding="utf-8") as file:
        file.write(json.dumps(event) + "\n")
    question = bank.question("start.read")
    assert question
    expected = pose(question, "4711", "si", turn=1)
    asked, nothing, said = run(
        'ask("inherent.again1")', 'ask("inherent.again2")', answer("inherent.again1", expected.words["p"])
    )
    assert expected.sheet.text in asked
    assert "Nothing comes back here today" in nothing
    assert "Right." in said
    assert progress.load(tmp_path).of("start.read").texts == (expected.words["p"],)


def test_the_lesson_of_an_earlier_working_copy_still_shows_its_picture(monkeypatch: pytest.MonkeyPatch) -> None:
    shown: list[str] = []
    said: list[Any] = []
    monkeypatch.setattr(calls._screen, "show_picture", lambda name, after: shown.append(name))
    monkeypatch.setattr(calls, "display", said.append)
    calls.live("step_test")
    assert shown == ["signal_step"]
    assert shown[0] in figures.LIVE
    assert [words.data for words in said] == [f"*{safety.BESIDE['signal_step']}*"]
