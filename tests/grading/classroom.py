"""A small released course for tests: made once, copied for each test."""

from __future__ import annotations

import atexit
import functools
import json
import shutil
import tempfile
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from grading import workorders
from grading.commands import main
from grading.course.course import Course, new_course, write_safely
from grading.course.roster import Apprentice
from grading.demo.demo import roster_csv
from grading.demo.demo_class import Planned, filled_in, people, plan
from grading.giving_out.dealing import deal
from grading.giving_out.give_out import give_out
from grading.gradebook import nbgrader_calls
from grading.gradebook.gradebook import opened
from grading.report.results import ApprenticeResult, sheets
from lessons.questions.question import Question

LESSON = "04_inherent_characteristic"
QUESTIONS = workorders.of_lesson(LESSON)
CLASS = people(4)  # badges 4701 to 4704


def made_once(make: Callable[[Path], Course]) -> Callable[[Path], Course]:
    """Make a course in a folder the first time it is asked for, and copy that course for each test.

    What `make` writes beside the course stays behind, and it must not depend on what a test has changed.
    """

    @functools.cache
    def first() -> Path:
        folder = tempfile.mkdtemp(prefix="class-")
        atexit.register(shutil.rmtree, folder, ignore_errors=True)
        return make(Path(folder).resolve()).root

    @functools.wraps(make)
    def copied(folder: Path) -> Course:
        root = (folder / "course").resolve()
        shutil.copytree(first(), root)
        return Course(root)

    return copied


@made_once
def classroom(folder: Path) -> Course:
    """Return a course of four with one lesson given out."""
    course = new_course(folder / "course", secret="")  # so that tests know who has which numbers
    write_safely(course.root / "roster.csv", roster_csv(CLASS))
    give_out(course, LESSON, workorders.notebooks()[LESSON])
    return course


def run(course: Course, *arguments: str) -> tuple[int, str]:
    """Run a command as an instructor would; return exit code and what it said."""
    said: list[str] = []
    code = main(["--course", str(course.root), *arguments], said.append)
    return code, "\n".join(said)


def autograde_here(copy: Course, lesson: str) -> list[str]:
    """Have nbgrader mark as `compare` does, but in this process; test_compare holds what the other process is for."""
    return nbgrader_calls.run(copy, "Autograde", lesson)


def released(course: Course) -> dict[str, Any]:
    """Return the notebook as it was given out."""
    path = course.root / "as_sent" / LESSON / f"{LESSON}.ipynb"
    notebook: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return notebook


def answers_of(person: Apprentice, *ways: str, questions: Sequence[Question] = QUESTIONS) -> list[Planned]:
    """Answer the lesson's questions, one way for each; right where no way is given."""
    given = [*ways, *["right"] * len(questions)]
    return [plan(question, person, way) for question, way in zip(questions, given, strict=False)]


def notebook_of(course: Course, person: Apprentice, *ways: str) -> dict[str, Any]:
    """Return a hand-in as data."""
    made: dict[str, Any] = json.loads(filled_in(released(course), answers_of(person, *ways)))
    return made


def dealt(questions: Sequence[Question], class_list: Sequence[Apprentice]) -> dict[str, dict[str, int]]:
    """Deal by badge alone, as a course without a secret does."""
    return deal(questions, [person.badge for person in class_list], "", {})


def points(planned: list[Planned]) -> dict[str, float]:
    """Return the points that must come out."""
    return {each.question: each.points * each.share for each in planned}


def full() -> float:
    """Return the points of the whole lesson."""
    return sum(question.points for question in QUESTIONS)


def put(folder: Path, name: str, content: dict[str, Any] | bytes) -> Path:
    """Write a file as it comes back from an apprentice."""
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(content if isinstance(content, bytes) else json.dumps(content).encode())
    return path


def marks(course: Course) -> dict[str, ApprenticeResult]:
    """Return what the gradebook says, by badge."""
    with opened(course) as connection:
        return {sheet.badge: sheet for sheet in sheets(connection, LESSON)}


def scores(sheet: ApprenticeResult) -> dict[str, float]:
    """Return the points of one apprentice by question."""
    return {result.question: result.score for result in sheet.results}


def with_cell(notebook: dict[str, Any], question: Question, source: str) -> dict[str, Any]:
    """Return the notebook with other words in the answer cell of a question."""
    for cell in notebook["cells"]:
        if "".join(cell["source"]).startswith(f"%%answer {question.id}"):
            cell["source"] = source
    return notebook


def code(source: str, **metadata: Any) -> dict[str, Any]:
    """Return a code cell."""
    return {
        "cell_type": "code",
        "id": "added",
        "metadata": metadata,
        "source": source,
        "outputs": [],
        "execution_count": None,
    }
