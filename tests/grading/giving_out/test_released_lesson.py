"""From the zip to the mark: what an apprentice sees in a released lesson, and what comes back of it."""

from __future__ import annotations

import zipfile
from pathlib import Path

import nbformat
from nbclient import NotebookClient

from grading.given_out.judged_answers import posed
from grading.marking.mark_lesson import mark_lesson
from grading.report.results import needs_a_person
from grading.taking_in.take_in import take_in
from lessons.questions import progress
from tests.grading.classroom import CLASS, LESSON, QUESTIONS, answers_of, classroom, marks, points, scores

ADA = CLASS[0]


def outputs(cell: nbformat.NotebookNode, kind: str) -> str:
    return "\n".join(output["data"][kind] for output in cell["outputs"] if kind in output.get("data", {}))


def test_a_released_lesson_worked_in_a_kernel_is_marked_as_it_must_be(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    with zipfile.ZipFile(course.root / "to_send" / LESSON / f"{ADA.badge}.zip") as archive:
        archive.extractall(tmp_path / "desk")
    desk = tmp_path / "desk" / LESSON
    progress.keep_sign_on(desk, ADA.badge, ADA.units)
    notebook = nbformat.read(desk / f"{LESSON}.ipynb", as_version=4)
    planned = {each.question: each for each in answers_of(ADA, "mistake", "right", "other")}
    for cell in notebook.cells:
        for each in planned.values():
            if cell.source.startswith(f"%%answer {each.question}"):
                cell.source = f"%%answer {each.question}\n{each.text}"
    NotebookClient(notebook, timeout=120, resources={"metadata": {"path": str(desk)}}).execute()
    for question in QUESTIONS:
        asked = next(cell for cell in notebook.cells if cell.source.strip() == f'ask("{question.id}")')
        replied = next(cell for cell in notebook.cells if cell.source.startswith(f"%%answer {question.id}"))
        assert posed(question, ADA.badge, ADA.units).sheet.text in outputs(asked, "text/plain")
        assert f"badge {ADA.badge}<" in outputs(asked, "text/html")  # by this a copied hand-in is known
        said = outputs(replied, "text/html")
        assert "Read as" in said
        assert "Right." not in said  # it acknowledges and does not tell
    path = tmp_path / "back" / f"{ADA.badge}.ipynb"
    path.parent.mkdir()
    nbformat.write(notebook, path)
    assert take_in(course, tmp_path / "back", quiet=True).refused == []
    mark_lesson(course, LESSON, quiet=True)
    assert scores(marks(course)[ADA.badge]) == points(list(planned.values()))
    assert list(needs_a_person(course)) == []
