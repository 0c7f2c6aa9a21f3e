"""A course folder: where everything of one class lies, anywhere but inside the repository."""

from __future__ import annotations

import contextlib
import functools
import json
import os
import tempfile
from dataclasses import dataclass
from pathlib import Path

from grading.course.roster import SAMPLE, Apprentice, read_roster

REPOSITORY = Path(__file__).resolve().parents[2]
SETTINGS = "course.json"
PART = ".part-"  # how a file is named while it is written
_README = """\
This folder holds one class: who is in it, what was given out, what came back, and the marks.

1. Write the class list: roster.csv, one line for each apprentice: badge,name,units (units: si or us).
2. Give out a lesson:      python -m grading --course "{root}" release 04
   Send handout/<lesson>.zip to the class. --due "2030-03-01 16:00" sets a due time.
3. Take in what comes back: python -m grading --course "{root}" collect FOLDER
   The folder may hold notebooks, zips or saved e-mails, named by badge:
   4711.ipynb, 4711.zip, 4711/lesson.ipynb.
4. Mark:                   python -m grading --course "{root}" mark
5. Pages to hand back:     python -m grading --course "{root}" feedback      (folder feedback/)
6. See how the class does: python -m grading --course "{root}" report        (folder report/)

Every step can be run again at any time: what is done is not done twice, and nothing is overwritten. Of two at once
the second waits for the first.
What a person has to look at is listed in needs_a_person.txt: “Read” leaves the list when you give points to
the answer in nbgrader's formgrader, “Look at” when you take off the flag there, “Not filed” when the file is
renamed and collected again, or deleted from received/not_filed/. For the formgrader start jupyter lab in this
folder and choose Nbgrader, Formgrader in the menu.

given_out/ keeps what was given out, with its keys: hand-ins are marked by it, even if a question is changed
later. Send nothing of it to anybody. Where a key was wrong and was mended, mark --mended takes the mended one.
What you change in source/ is kept, and goes out the next time you give the lesson out.
received/ keeps every file as it came, read-only. gradebook.db, submitted/ and autograded/ are nbgrader's own
places, so nbgrader's formgrader shows the marked notebooks and lets you change a mark; your change survives
marking again.
Back up this folder: it is the only place where marks are kept.
"""
NBGRADER_SETTINGS = '''\
"""Settings for nbgrader, so that its own commands and the formgrader work in this folder."""

import importlib.machinery
import json
import pathlib

from nbconvert.preprocessors import CSSHTMLHeaderPreprocessor
from nbgrader import preprocessors as pre

c = get_config()  # noqa: F821 - given by nbgrader
_here = pathlib.Path(__file__).resolve().parent
c.CourseDirectory.root = str(_here)
c.CourseDirectory.course_id = "default_course"  # the name that parts of nbgrader use whatever stands here
_url = json.loads((_here / "course.json").read_text(encoding="utf-8"))["gradebook"]
if _url:
    c.CourseDirectory.db_url = _url
# Under nbgrader's own autograde the notebooks ask this package for the marks; without it every question would
# end without a number, which nbgrader counts as full points.
c.Autograde.pre_convert_hook = "grading.marking.oracle.before_autograde"
c.Autograde.post_convert_hook = "grading.marking.oracle.after_autograde"
c.OverwriteCells.add_missing_cells = True
# Nothing that was handed in is run: of a hand-in autograde gets the answers, as text, in the released notebook, and no
# file from which a program would load code.
c.Autograde.sanitize_preprocessors = [
    "grading.marking.plain_handin.PlainHandIn", pre.ClearOutput, pre.DeduplicateIds, pre.OverwriteKernelspec,
    pre.OverwriteCells, pre.CheckCellMetadata
]
c.CourseDirectory.ignore = [
    ".ipynb_checkpoints", "__pycache__", "feedback", "matplotlibrc",
    *(f"*{suffix}" for suffix in importlib.machinery.all_suffixes())
]
# Without ClearSolutions, which would turn the answer cells into code.
c.GenerateAssignment.preprocessors = [
    pre.LockCells, pre.ClearOutput, pre.CheckCellMetadata, pre.ComputeChecksums, pre.SaveCells
]
c.GenerateFeedback.preprocessors = [pre.GetGrades, pre.ClearHiddenTests, CSSHTMLHeaderPreprocessor]
'''


class CourseError(Exception):
    """A command cannot be done; the text is the sentence for the instructor."""


@dataclass(frozen=True)
class Course:
    """One course folder and where its marks are kept."""

    root: Path
    gradebook: str = ""

    @property
    def url(self) -> str:
        """The gradebook as an SQLAlchemy URL."""
        return self.gradebook or f"sqlite:///{self.root / 'gradebook.db'}"

    @functools.cached_property
    def roster(self) -> dict[str, Apprentice]:
        """The class list, read once."""
        return read_roster(self.root / "roster.csv")

    def lessons(self) -> list[str]:
        """Return the names of the lessons given out so far."""
        return sorted(path.parent.name for path in self.root.glob("release/*/workorder.json"))

    def source(self, lesson: str) -> Path:
        """Return the instructor's notebook of a lesson, as nbgrader keeps it."""
        return self.root / "source" / lesson / f"{lesson}.ipynb"

    def submitted(self, badge: str, lesson: str) -> Path:
        """Return where nbgrader wants a hand-in."""
        return self.root / "submitted" / badge / lesson / f"{lesson}.ipynb"

    def autograded(self, badge: str, lesson: str) -> Path:
        """Return where nbgrader wants a marked hand-in."""
        return self.root / "autograded" / badge / lesson / f"{lesson}.ipynb"


def new_course(folder: Path, gradebook: str = "") -> Course:
    """Make a course folder.

    Raises
    ------
    CourseError
        If the folder lies inside the repository, or has something in it.
    """
    root = folder.expanduser().resolve()
    if root.is_relative_to(REPOSITORY):
        raise CourseError(
            f"{root} lies inside the project's own folder, which updates and may be shared; marks must not. "
            "Choose a folder elsewhere, such as ~/class-of-2030."
        )
    if root.exists() and any(root.iterdir()):
        raise CourseError(f"{root} is not empty. Choose a new folder, so that nothing is overwritten.")
    root.mkdir(parents=True, exist_ok=True)
    write_safely(root / SETTINGS, json.dumps({"gradebook": gradebook}, indent=1) + "\n")
    write_safely(root / "roster.csv", SAMPLE)
    write_safely(root / "README.txt", _README.format(root=root))
    write_safely(root / "nbgrader_config.py", NBGRADER_SETTINGS)
    return Course(root, gradebook)


def open_course(folder: Path) -> Course:
    """Open a course folder.

    Raises
    ------
    CourseError
        If it is none.
    """
    root = folder.expanduser().resolve()
    try:
        settings = json.loads((root / SETTINGS).read_text(encoding="utf-8"))
        return Course(root, str(settings["gradebook"]))
    except FileNotFoundError:
        raise CourseError(
            f"{root} is not a course folder. Name one with --course FOLDER, or make one with: "
            "python -m grading new FOLDER"
        ) from None
    except (ValueError, KeyError, TypeError):
        raise CourseError(f'{root / SETTINGS} is damaged. It should read {{"gradebook": ""}}.') from None


def write_safely(path: Path, content: str | bytes, mode: int = 0o644, lasting: bool = True) -> None:
    """Write a file whole or not at all; what was there is replaced at the last moment.

    `lasting` waits until it would survive a power cut; what can be made anew need not wait.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    data = content.encode("utf-8", "replace") if isinstance(content, str) else content
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=PART)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            if lasting:
                file.flush()
                os.fsync(file.fileno())
        Path(name).chmod(mode)
        os.replace(name, path)  # noqa: PTH105 - the same; Path.replace reads worse beside mkstemp
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def sync_folder(folder: Path) -> None:
    """Wait until the names in a folder would survive a power cut, where the system can tell."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        with contextlib.suppress(OSError):  # some network file systems refuse
            os.fsync(handle)
    finally:
        os.close(handle)
