"""`compare` lets nbgrader mark a throw-away copy: nothing that was handed in is run, nothing finds its way back."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest

from grading.commands import DONE, FAILED, main
from grading.course.course import Course
from grading.course.folder_texts import NBGRADER_SETTINGS
from grading.gradebook.nbgrader_calls import run
from grading.marking import compare
from grading.marking.mark_lesson import mark_lesson
from tests.grading.classroom import (
    CLASS,
    LESSON,
    QUESTIONS,
    answers_of,
    classroom,
    code,
    marks,
    notebook_of,
    points,
    put,
    scores,
)

ADA, BEN = CLASS[:2]
W1 = QUESTIONS[0]
# Looks for a gradebook by every way a cell has, and gives itself points.
REWRITES = """
import contextlib, os, pathlib, sqlite3
open({canary!r}, "a").write("ran")
start = [pathlib.Path.cwd(), *pathlib.Path.cwd().parents, pathlib.Path.home(), *map(pathlib.Path, [*os.environ.values(), *{known}])]
for place in [each for each in start if len(str(each)) < 200]:
    for book in [place / "gradebook.db", *place.glob("*/gradebook.db")]:
        with contextlib.suppress(sqlite3.Error), sqlite3.connect(f"file:{{book}}?mode=rw", uri=True, timeout=0.1) as gradebook:
            gradebook.execute("update grade set auto_score = 8, manual_score = 8")
"""


def files(course: Course) -> dict[str, str]:
    """Return the checksum of every file of a course."""
    found = (path for path in course.root.rglob("*") if path.is_file())
    return {str(path.relative_to(course.root)): hashlib.sha256(path.read_bytes()).hexdigest() for path in found}


def hostile_course(tmp_path: Path, source: str) -> Course:
    """Return a marked course in which one hand-in has the code in every place a cell can stand."""
    course = classroom(tmp_path)
    notebook = notebook_of(course, ADA, "mistake")
    notebook["cells"] = [code(source), *notebook["cells"], code(source), code(f"%%answer {{exec({source!r})}}\nx")]
    for cell in notebook["cells"]:
        words = "".join(cell["source"])
        if words.startswith("from lessons.notebook import") or words == f'ask("{W1.id}")':
            cell["source"] = f"{source}\n{words}"  # among the lesson's own cells; the second is a marked one
        if words.startswith(f"%%answer {QUESTIONS[-1].id}"):
            cell["source"] = source  # an answer's first line is gone
    folder = f"handed_in/{ADA.badge}/{LESSON}"
    put(course.root, f"{folder}/{LESSON}.ipynb", notebook)
    put(course.root, f"{folder}/numpy.py", source.encode())  # beside it, where a kernel would find it first
    put(course.root, f"handed_in/{BEN.badge}/{LESSON}/{LESSON}.ipynb", notebook_of(course, BEN, "other"))
    mark_lesson(course, LESSON, quiet=True)
    return course


def test_nothing_handed_in_is_run_and_nothing_written_back(tmp_path: Path) -> None:
    canary = tmp_path / "canary"
    course = hostile_course(tmp_path, REWRITES.format(known=[str(tmp_path / "course")], canary=str(canary)))
    before, said = files(course), list[str]()
    assert main(["--course", str(course.root), "compare"], said.append) == DONE, said
    assert files(course) == before
    assert not canary.exists()
    assert scores(marks(course)[BEN.badge]) == points(answers_of(BEN, "other"))
    assert "throw-away copy" in said[0]
    assert "Code that was added to a hand-in is not run" in said[0]
    assert said[-1] == "No difference."  # an answer without its first line is read alike too


def test_nbgraders_own_autograde_in_the_course_itself_runs_nothing_either(tmp_path: Path) -> None:
    """As the formgrader's button does: the course's own settings make hand-ins plain before they are run."""
    canary = tmp_path / "canary"
    course = hostile_course(tmp_path, REWRITES.format(known=[str(tmp_path / "course")], canary=str(canary)))
    before = compare.marks_of(course, LESSON)
    run(course, "Autograde", LESSON)
    assert not canary.exists()
    assert not list(course.root.rglob("marked/**/*.py"))
    assert compare.marks_of(course, LESSON) == before


def test_even_code_that_ran_would_be_told_no_way_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The second wall, tried with the first one taken away: the copy runs in surroundings that do not name the course."""
    canary = tmp_path / "canary"
    course = hostile_course(tmp_path, REWRITES.format(known=[], canary=str(canary)))
    monkeypatch.chdir(course.root)
    for name in ("PWD", "OLDPWD", "HOME", "JUPYTER_CONFIG_DIR", "CLASS_FOLDER"):
        monkeypatch.setenv(name, str(course.root))
    settings = NBGRADER_SETTINGS.replace('"grading.marking.plain_handin.PlainHandIn", ', "")
    assert settings != NBGRADER_SETTINGS
    monkeypatch.setattr(compare, "NBGRADER_SETTINGS", settings)
    before = files(course)
    compare.compare(course, LESSON, 0, lambda _said: None)
    assert canary.exists()  # it did run
    assert files(course) == before


def test_nothing_marked_is_not_told_as_no_difference(tmp_path: Path) -> None:
    said: list[str] = []
    assert main(["--course", str(classroom(tmp_path).root), "compare"], said.append) == FAILED
    assert said == [
        f"{LESSON}: nothing is marked yet, so there is nothing to compare.",
        "Nothing was compared, because nothing is marked yet. Mark first: ostrel-class mark",
    ]


@pytest.mark.parametrize("name", ["CLASS_FOLDER", "PWD", "HOME", "PGPASSWORD"])
def test_the_process_is_not_told_of_the_course(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    from grading.marking.autograde_copy import _surroundings

    monkeypatch.setenv(name, "/home/teacher/spring-class")
    assert "spring-class" not in " ".join(_surroundings(tmp_path).values())
