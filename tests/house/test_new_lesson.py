"""The command for a new lesson: what it writes is whole and runs at once, and it refuses what would not be."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from lessons.notebook.bank import lessons
from tests import tidy
from tests.new_lesson import making
from tests.new_lesson.__main__ import main

ROOT = Path(__file__).parents[2]
WORDS = ("nozzle", "40", "drive", "Split range: two valves, one signal")
WRITTEN = {
    "lessons/40_split_range_two_valves_one_signal.ipynb",
    "lessons/practice/drive/nozzle.py",
    "grading/workorders/drive/nozzle.py",
    "lessons/pictures/live/drive/nozzle.py",
    "tests/by_hand/nozzle.py",
    "lessons/notebook/figures.py",
    "README.md",
}
# What a lesson needs from a checkout; each folder's own notebooks and modules included.
COPIED = (".readme", "lessons", "grading", "valvecalc", "tests", "README.md", "DEVELOPERS.md", "pyproject.toml")


@pytest.fixture
def checkout(tmp_path: Path) -> Path:
    """A copy of the project in which a lesson can be made."""
    left_out = shutil.ignore_patterns("__pycache__", ".*_checkpoints", "browser", "benchmarks")
    for name in COPIED:
        place = tmp_path / name
        (
            shutil.copytree(ROOT / name, place, ignore=left_out)
            if (ROOT / name).is_dir()
            else shutil.copy(ROOT / name, place)
        )
    return tmp_path


def in_checkout(folder: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", *arguments],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder)},
        capture_output=True,
        text=True,
        check=False,
    )


def test_a_new_lesson_is_whole_and_only_its_words_are_left(checkout: Path) -> None:
    """Made in a copy of the project: linted, run and tested there as any lesson; one test names what is left to write."""
    made = in_checkout(checkout, "tests.new_lesson", *WORDS)
    assert made.returncode == 0, made.stderr
    assert set(made.stdout.replace("wrote ", "").splitlines()) >= WRITTEN

    for check in (["check", "."], ["format", "--check", *(str(each) for each in WRITTEN if each.endswith(".py"))]):
        linted = in_checkout(checkout, "ruff", *check)
        assert linted.returncode == 0, linted.stdout

    tested = in_checkout(
        checkout, "pytest", "-q", "-p", "no:cacheprovider", "--override-ini", "addopts=", "-n0", "--tb=short",
        "tests/lessons/notebooks/test_notebooks.py", "tests/lessons/questions/test_questions.py", "tests/house/test_sources.py", "tests/house/test_layout.py",
        "tests/lessons/pictures/live/test_live_pictures.py", "tests/plant/test_plant_numbers.py", "tests/house/test_readme.py", "tests/house/test_tidy.py",
        "-k", "nozzle or 40_ or readme or every_question or by_hand_once or known or few_entries or left_to_be_written",
    )  # fmt: skip
    failed = [line.partition(" - ")[0] for line in tested.stdout.splitlines() if line.startswith("FAILED")]
    assert failed == ["FAILED tests/house/test_tidy.py::test_nothing_of_a_lesson_is_left_to_be_written"], tested.stdout
    assert tested.stdout.count("passed") == 1

    left = in_checkout(checkout, "tests.tidy", "--check")
    assert left.returncode == 1
    said = {line.removeprefix("still to be written: ").partition(":")[0] for line in left.stdout.splitlines()}
    assert said == WRITTEN - {"lessons/notebook/figures.py"}


def tree(folder: Path) -> Path:
    """The two lists a lesson is named in, and the folders its files go to."""
    for name in ("README.md", "lessons/notebook/figures.py"):
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(ROOT / name, folder / name)
    for name in ("lessons/practice", "lessons/pictures/live", "grading/workorders"):
        for room in making.ROOMS:
            (folder / name / room).mkdir(parents=True)
    (folder / "tests" / "by_hand").mkdir(parents=True)
    return folder


def files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("Nozzle", "40", "drive", "Title"), "small letters"),
        (("split range", "40", "drive", "Title"), "small letters"),
        (("../x", "40", "drive", "Title"), "small letters"),
        (("lambda", "40", "drive", "Title"), "Python does not use"),
        (("filter", "40", "drive", "Title"), "Python does not use"),
        (("inherent", "40", "drive", "Title"), "already"),
        (("hunting", "40", "drive", "Title"), "already"),
        (("control_valve", "40", "drive", "Title"), "already"),
        (("nozzle", "13", "drive", "Title"), "such as "),
        (("nozzle", "4", "drive", "Title"), "two digits"),
        (("nozzle", "abc", "drive", "Title"), "two digits"),
        (("nozzle", "40", "kitchen", "Title"), "valve, flow, drive, work"),
        (("nozzle", "40", "drive", ""), "3 to 60"),
        (("nozzle", "40", "drive", 'He said "go"'), "3 to 60"),
        (("nozzle", "40", "drive", "a | b"), "3 to 60"),
        (("nozzle", "40", "drive", "two\nlines"), "3 to 60"),
        (("nozzle", "40", "drive", "x" * 61), "3 to 60"),
        (("nozzle", "40", "drive", "日本語"), "3 to 60"),
    ],
)
def test_what_would_not_work_is_refused_and_nothing_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], said: str
) -> None:
    before = files(tree(tmp_path))
    assert main([*words], tmp_path) == 1
    answer = capsys.readouterr().out
    assert said in answer
    assert "Nothing was written." in answer
    assert files(tmp_path) == before


def test_work_that_is_there_is_never_overwritten(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    mine = tree(tmp_path) / "lessons" / "practice" / "drive" / "nozzle.py"
    mine.write_text("my work", encoding="utf-8")
    before = files(tmp_path)
    assert main([*WORDS], tmp_path) == 1
    assert "lessons/practice/drive/nozzle.py is there already" in capsys.readouterr().out
    assert files(tmp_path) == before


def test_the_lists_name_the_new_lesson_in_its_place(tmp_path: Path) -> None:
    written = making.make(tree(tmp_path), *WORDS)
    assert {str(path.relative_to(tmp_path)) for path in written} == WRITTEN
    rows = [line for line in (tmp_path / "README.md").read_text(encoding="utf-8").splitlines() if line[2:4].isdigit()]
    assert [row[2:4] for row in rows] == [*(lesson.notebook[:2] for lesson in lessons()), "40"]
    figures = (tmp_path / "lessons" / "notebook" / "figures.py").read_text(encoding="utf-8")
    before = (ROOT / "lessons" / "notebook" / "figures.py").read_text(encoding="utf-8")
    assert figures.replace('    "nozzle": "drive.nozzle",\n', "", 1) == before
    assert len(tidy.to_write(tmp_path)) > 20


def test_every_room_of_the_course_can_be_named() -> None:
    rooms = {path.name for path in (ROOT / "lessons" / "practice").iterdir() if (path / "__init__.py").exists()}
    assert set(making.ROOMS) == rooms
