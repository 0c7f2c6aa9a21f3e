"""A folder that takes no file, a disk that is full, an output that is closed: a sentence each time, and no traceback."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from grading.commands import FAILED, main
from grading.course.course import SETTINGS, Course
from grading.taking_in.take_in import take_in
from tests.grading.classroom import CLASS, LESSON, classroom, notebook_of, put

FAULTS = {
    errno.EROFS: "Read-only file system",
    errno.EACCES: "Permission denied",
    errno.ENOSPC: "No space left on device",
}
STEPS = {
    "give-out": ["give-out", "04"],
    "take-in": ["take-in", "back"],
    "mark": ["mark"],
    "hand-back": ["hand-back"],
    "tables": ["tables"],
    "keys": ["keys"],
    "due": ["due", "04", "2030-03-01"],
    "choose": ["choose", "04", "--points", "inherent.w1=3"],
    "withdraw": ["withdraw", "04", "inherent.w1"],
    "counts": ["counts", "best"],
}


@pytest.fixture
def course(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Course:
    made = classroom(tmp_path)
    put(tmp_path / "back", f"{CLASS[0].badge}.ipynb", notebook_of(made, CLASS[0]))
    monkeypatch.chdir(tmp_path)
    return made


def refusing(fault: int) -> Callable[..., Any]:
    def refuse(folder: Path) -> Any:
        raise OSError(fault, os.strerror(fault), str(folder))

    return refuse


@pytest.mark.parametrize("command", STEPS.values(), ids=STEPS)
@pytest.mark.parametrize("fault", FAULTS, ids=FAULTS.values())
def test_a_folder_that_takes_no_file_is_a_sentence(
    course: Course, monkeypatch: pytest.MonkeyPatch, command: list[str], fault: int
) -> None:
    """A user who may do anything is not refused by the system, so the one call that opens a new file refuses."""
    said: list[str] = []
    monkeypatch.setattr("grading.course.course._new_file", refusing(fault))
    assert main(["--course", str(course.root), *command], said.append) == FAILED
    assert f"cannot be read or written: {FAULTS[fault]}. Everything done so far is kept." in said[-1]
    assert not Path("fault.txt").exists()


def test_a_gradebook_that_takes_nothing_is_a_sentence(course: Course) -> None:
    take_in(course, Path("back"), quiet=True)
    url = f"sqlite:///file:{course.root / 'gradebook.db'}?mode=ro&uri=true"
    (course.root / SETTINGS).write_text(f'{{"gradebook": "{url}"}}', encoding="utf-8")
    said: list[str] = []
    assert main(["--course", str(course.root), "mark", LESSON], said.append) == FAILED
    assert "cannot be used now" in said[-1]
    assert "readonly" in said[-1]


SCRIPT = "import sys; from grading.commands import main; sys.exit(main(sys.argv[1:]))"


def started(course: Course, stdout: Any) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-c", SCRIPT, "--course", str(course.root), "mark"]
    return subprocess.run(command, stdout=stdout, stderr=subprocess.PIPE, text=True, check=False)


def test_an_output_that_is_closed_is_a_sentence(course: Course) -> None:
    reading, writing = os.pipe()
    os.close(reading)
    ran = started(course, writing)
    os.close(writing)
    assert (ran.returncode, ran.stderr) == (
        FAILED,
        "What reads the output was closed, so the command stopped. Run it again and it goes on.\n",
    )


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no device that is always full")
def test_an_output_on_a_full_disk_is_a_sentence(course: Course) -> None:
    with Path("/dev/full").open("w") as full:
        ran = started(course, full)
    assert ran.returncode == FAILED
    assert ran.stderr.startswith("A file cannot be read or written: No space left on device.")
    assert "Traceback" not in ran.stderr
