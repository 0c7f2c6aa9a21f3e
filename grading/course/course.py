"""A course folder: where everything of one class lies, anywhere but inside the repository."""

from __future__ import annotations

import contextlib
import functools
import itertools
import json
import os
import secrets
import sys
from dataclasses import dataclass
from pathlib import Path

from grading.course.folder_texts import NBGRADER_SETTINGS, README
from grading.course.moves import MOVES, Move, read_moves
from grading.course.roster import SAMPLE, Apprentice, read_roster

COUNTS = ("last", "first", "best")  # which of several hand-ins
_SETTINGS = {"gradebook": "", "counts": COUNTS[0], "secret": "", "exchange": ""}
REPOSITORY = Path(__file__).resolve().parents[2]
SETTINGS = "course.json"
_MODE_MADE = 0o600  # of a file that is being written
PART = ".part-"  # how a file is named while it is written
# Never one that is there, be it a link; Windows has no O_NOFOLLOW and needs O_BINARY.
_FLAGS = os.O_WRONLY | os.O_CREAT | os.O_EXCL | sum(getattr(os, name, 0) for name in ("O_NOFOLLOW", "O_BINARY"))
_numbers = itertools.count()


class CourseError(Exception):
    """A command cannot be done; the text is the sentence for the instructor."""


@dataclass(frozen=True)
class Course:
    """One course folder and where its marks are kept."""

    root: Path
    gradebook: str = ""
    counts: str = "last"  # which of several hand-ins: see handins/which_counts
    secret: str = ""  # enters the choice of numbers; none in courses of before there was one
    exchange: str = ""  # its folder in a hub's exchange; none where the class has no hub

    @property
    def url(self) -> str:
        """The gradebook as an SQLAlchemy URL."""
        return self.gradebook or f"sqlite:///{self.root / 'gradebook.db'}"

    @functools.cached_property
    def roster(self) -> dict[str, Apprentice]:
        """The class list, read once."""
        return read_roster(self.root / "roster.csv")

    @functools.cached_property
    def moves(self) -> tuple[Move, ...]:
        """The badges that changed in mid-course, oldest first."""
        try:
            return read_moves(self.root / MOVES)
        except ValueError as problem:
            raise CourseError(str(problem)) from problem

    def lessons(self) -> list[str]:
        """Return the names of the lessons given out so far."""
        return sorted(path.parent.name for path in self.root.glob("as_sent/*/workorder.json"))

    def source(self, lesson: str) -> Path:
        """Return the instructor's own notebook of a lesson."""
        return self.root / "lessons" / lesson / f"{lesson}.ipynb"

    def submitted(self, badge: str, lesson: str) -> Path:
        """Return where nbgrader wants a hand-in."""
        return self.root / f"handed_in/{badge}/{lesson}/{lesson}.ipynb"

    def autograded(self, badge: str, lesson: str) -> Path:
        """Return where nbgrader wants a marked hand-in."""
        return self.root / f"marked/{badge}/{lesson}/{lesson}.ipynb"


def new_course(folder: Path, gradebook: str = "", secret: str | None = None) -> Course:
    """Make a course folder, with a secret of its own.

    Raises
    ------
    CourseError
        If the folder lies inside the repository, or has something in it.
    """
    root = folder.expanduser().resolve()
    if root.is_relative_to(REPOSITORY):
        raise CourseError(
            f"{root} is inside the project's own folder, which is updated and may be shared. Marks must not be "
            "kept there. "
            "Choose a folder elsewhere, such as ~/class-of-2030."
        )
    if root.exists() and any(root.iterdir()):
        raise CourseError(f"{root} is not empty. Choose a new folder, so that nothing is overwritten.")
    root.mkdir(parents=True, exist_ok=True)
    settings = {"gradebook": gradebook, "secret": secrets.token_hex(16) if secret is None else secret}
    write_safely(root / SETTINGS, json.dumps(settings, indent=1) + "\n", mode=0o600)
    write_safely(root / "roster.csv", SAMPLE)
    write_safely(root / "README.txt", README.format(command=f'{_program()} --course "{root}"'))
    write_safely(root / "nbgrader_config.py", NBGRADER_SETTINGS)
    return Course(root, gradebook, secret=settings["secret"])


def change_setting(course: Course, name: str, value: str) -> Course:
    """Change one setting of a course; return it as it is now."""
    settings = json.loads((course.root / SETTINGS).read_text(encoding="utf-8")) | {name: value}
    write_safely(course.root / SETTINGS, json.dumps(settings, indent=1) + "\n", mode=0o600)
    return open_course(course.root)


def _program() -> str:
    """Return how this program is started from any folder."""
    script = Path(sys.executable).with_name("ostrel-class")
    return f'"{script}"' if script.exists() else f'env PYTHONPATH="{REPOSITORY}" "{sys.executable}" -m grading'


def open_course(folder: Path) -> Course:
    """Open a course folder.

    Raises
    ------
    CourseError
        If it is not a course folder.
    """
    root = folder.expanduser().resolve()
    try:
        settings = json.loads((root / SETTINGS).read_text(encoding="utf-8"))
        course = Course(root, **{name: str(settings.get(name, usual)) for name, usual in _SETTINGS.items()})
        if "gradebook" not in settings or course.counts not in COUNTS:
            raise KeyError
    except FileNotFoundError:
        raise CourseError(
            f"{root} is not a course folder. Name one with --course FOLDER, or make one with: ostrel-class new FOLDER"
        ) from None
    except (ValueError, KeyError, AttributeError):
        raise CourseError(
            f'{root / SETTINGS} is damaged. It should contain at least {{"gradebook": ""}}; "counts", if it is there, '
            "must be last, first or best."
        ) from None
    return course


def write_safely(path: Path, content: str | bytes, mode: int = 0o644, lasting: bool = True) -> None:
    """Write a file whole or not at all; what was there is replaced at the last moment.

    `lasting` waits until it would survive a power cut; what can be made anew need not wait.
    """
    data = content.encode("utf-8", "replace") if isinstance(content, str) else content
    handle, name = _new_file(path.parent)
    try:
        try:
            _write_all(handle, data)
            if lasting:
                os.fsync(handle)
        finally:
            os.close(handle)
        if mode != _MODE_MADE:
            os.chmod(name, mode)  # noqa: PTH101 - a class writes very many files, and a Path takes its time
        os.replace(name, path)  # noqa: PTH105 - the same
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def _new_file(folder: Path) -> tuple[int, str]:
    """Open a file that nobody else has; its name says that it is not finished."""
    while True:
        name = f"{folder}{os.sep}{PART}{os.getpid()}-{next(_numbers)}"
        try:
            return os.open(name, _FLAGS, _MODE_MADE), name
        except FileNotFoundError:
            folder.mkdir(parents=True, exist_ok=True)
        except FileExistsError:  # of a command that was killed and had the same number
            continue


def _write_all(handle: int, data: bytes) -> None:
    left = memoryview(data)
    while left:
        left = left[os.write(handle, left) :]


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
