"""Every lesson notebook: its form, its size, and that it runs with right answers typed in.

That each runs blank, in a kernel and with nothing on stderr, nbval sees, with what `tests/kernels.py` asks of each cell.
"""

from __future__ import annotations

import re
from pathlib import Path

import nbformat
import pytest
from nbformat import NotebookNode

from lessons.notebook import bank, figures
from lessons.pictures.cutaways.catalogue import PICTURES
from lessons.questions import judge, progress
from lessons.questions.judge import solution
from lessons.questions.question import pose
from lessons.questions.repetition import is_place
from lessons.units.quantities import Q, from_base
from tests.lessons.notebooks.shell import run_notebook
from tests.tidy import notebooks, stored

MOST_CELLS, MOST_WORDS, MOST_CODE_LINES = 30, 1200, 3
EVERY = notebooks()
NOTEBOOKS = [path for path in EVERY if path.name[0].isdigit()]
LATER = [path for path in NOTEBOOKS if path.name[:2] >= "04"]
BADGE = "4711"


def read(path: Path) -> NotebookNode:
    return nbformat.read(path, as_version=4)


def name(path: Path) -> str:
    return path.stem


def ids(notebook: NotebookNode, pattern: str) -> list[str]:
    return [found[1] for cell in notebook.cells if (found := re.match(pattern, cell.source))]


def asked(notebook: NotebookNode) -> list[str]:
    """Return the questions of the lesson's own, in order; not the places where earlier ones come back."""
    return [each for each in ids(notebook, r'ask\("([^"]+)"\)$') if not is_place(each)]


def topic(notebook: NotebookNode) -> str:
    return next(found[1] for cell in notebook.cells if (found := re.search(r'begin\("([^"]+)"\)', cell.source)))


@pytest.mark.parametrize("path", EVERY, ids=name)
def test_is_stored_tidy(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text == stored(nbformat.reads(text, as_version=4)), "run: python -m tests.tidy"
    nbformat.validate(read(path))


@pytest.mark.parametrize("path", NOTEBOOKS, ids=name)
def test_is_short(path: Path) -> None:
    """A question and the box it is answered in count as one cell; words are those of the text."""
    notebook = read(path)
    cells = [cell for cell in notebook.cells if not cell.source.startswith("%%answer")]
    words = sum(len(cell.source.split()) for cell in cells if cell.cell_type == "markdown")
    longest = max(len(cell.source.splitlines()) for cell in cells if cell.cell_type == "code")
    assert (len(cells) <= MOST_CELLS, words <= MOST_WORDS, longest <= MOST_CODE_LINES) == (True, True, True), words


@pytest.mark.parametrize("path", NOTEBOOKS, ids=name)
def test_begins_with_its_title_and_ends_with_a_take_away(path: Path) -> None:
    notebook = read(path)
    assert notebook.cells[0].source.startswith("# ")
    assert "Run All" not in path.read_text(encoding="utf-8"), "a lesson runs by itself"
    take_away = notebook.cells[-1].source.partition("## Take away")[2]
    assert len(re.findall(r"^\d\. ", take_away, re.MULTILINE)) == 5


@pytest.mark.parametrize("path", NOTEBOOKS, ids=name)
def test_every_question_exists_and_is_answered_right_below(path: Path) -> None:
    notebook = read(path)
    assert asked(notebook)
    assert all(bank.question(each) for each in asked(notebook))
    assert [each for each in ids(notebook, r"%%answer (\S+)") if not is_place(each)] == asked(notebook)
    for cell, below in zip(notebook.cells, notebook.cells[1:], strict=False):
        if found := re.match(r'ask\("([^"]+)"\)', cell.source):
            assert below.source == f"%%answer {found[1]}\n"


def test_every_question_is_asked_once_and_in_the_lesson_of_its_topic() -> None:
    lessons = [read(path) for path in NOTEBOOKS]
    everywhere = [each for notebook in lessons for each in asked(notebook)]
    assert sorted(everywhere) == sorted({**bank.practice_questions(), **bank.graded_questions()})
    for notebook in lessons:
        assert {each.partition(".")[0] for each in asked(notebook)} == {topic(notebook)}


@pytest.mark.parametrize("path", LATER, ids=name)
def test_opens_with_two_questions_of_earlier_lessons(path: Path) -> None:
    notebook = read(path)
    places = [f"{topic(notebook)}.again{number}" for number in (1, 2)]
    assert [each for each in ids(notebook, r'ask\("([^"]+)"\)$') if is_place(each)] == places
    assert ids(notebook, r'ask\("([^"]+)"\)$')[:2] == places


@pytest.mark.parametrize("path", NOTEBOOKS, ids=name)
def test_every_term_is_explained_in_bold_where_the_glossary_points(path: Path) -> None:
    words = "\n".join(cell.source for cell in read(path).cells if cell.cell_type == "markdown").lower()
    (lesson,) = [lesson for lesson in bank.lessons() if lesson.notebook == path.stem]
    assert [term for term in lesson.terms if f"**{term.lower()}" not in words] == []


@pytest.mark.parametrize("path", [p for p in NOTEBOOKS if p.name[:2] != "00"], ids=name)
def test_has_enough_questions_and_a_prediction_before_its_picture(path: Path) -> None:
    notebook = read(path)
    practice = [each for each in asked(notebook) if each in bank.practice_questions()]
    graded = [each for each in asked(notebook) if each in bank.graded_questions()]
    predictions = [each for each in practice if bank.practice_questions()[each].kind == "predict"]
    assert (len(practice) - len(predictions) >= 6, len(graded) >= 4, len(predictions) >= 1) == (True, True, True)
    locked = ids(notebook, r'live\("[^"]+", after="([^"]+)"\)')
    assert locked
    assert set(locked) <= set(predictions)


def test_every_live_picture_is_known() -> None:
    shown = {each for path in NOTEBOOKS for each in ids(read(path), r'live\("([^"]+)"')}
    assert shown <= {*figures.LIVE, *PICTURES}


def right_answer(question_id: str, units: str) -> str:
    question = bank.question(question_id)
    assert question
    posed = pose(question, BADGE, units)
    if question.kind == "predict":
        return "a"
    if question.kind == "written":
        return "Packing too tight. Nuts back as found. Stroke test done, dead band 1 %."
    if question.kind == "number":
        answer = from_base(judge.right_number(posed), posed.sheet.unit)
        return str(Q(float(f"{answer.value:.4g}"), answer.unit))
    return solution(posed).partition(" This is how.")[0].removeprefix("The answer was ").rstrip(".")


def run(path: Path, folder: Path, units: str) -> NotebookNode:
    """Run a notebook with right answers as an apprentice's kernel would, in a folder of its own."""
    progress.keep_sign_on(folder, BADGE, units)
    notebook = read(path)
    for cell in notebook.cells:
        found = re.match(r"%%answer (\S+)", cell.source)
        if found and not is_place(found[1]):
            cell.source += right_answer(found[1], units)
    return run_notebook(notebook, folder)


def outputs(notebook: NotebookNode) -> list[NotebookNode]:
    return [output for cell in notebook.cells for output in cell.get("outputs", ())]


@pytest.mark.parametrize("units", ["si", "us"])
@pytest.mark.parametrize("path", NOTEBOOKS, ids=name)
def test_runs_with_right_answers(path: Path, units: str, tmp_path: Path) -> None:
    ran = run(path, tmp_path, units)
    assert [out for out in outputs(ran) if out.output_type in ("error", "stream")] == []
    for cell in ran.cells:
        found = re.match(r"%%answer (\S+)", cell.source)
        if found and not is_place(found[1]):
            question = bank.question(found[1])
            said = "".join(out.data.get("text/html", "") for out in cell.outputs if "data" in out)
            expected = "is written down" if question and question.kind in ("predict", "written") else "Right."
            assert expected in said, (found[1], cell.source, said)
