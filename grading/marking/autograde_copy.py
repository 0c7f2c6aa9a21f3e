"""Nbgrader's autograde on a throw-away copy of a course, in a process that is told nothing of the course itself."""

from __future__ import annotations

import os
import site
import subprocess
import sys
from pathlib import Path

from grading.course.course import REPOSITORY, Course, CourseError

_KEPT = ("PATH", "LANG", "LC_ALL", "LC_CTYPE", "SYSTEMROOT", "NUMBER_OF_PROCESSORS")  # the last two are Windows' own
_FOLDERS = (
    *("HOME", "USERPROFILE", "TMPDIR", "TEMP", "TMP", "XDG_CACHE_HOME", "MPLCONFIGDIR"),
    *("JUPYTER_CONFIG_DIR", "JUPYTER_DATA_DIR", "JUPYTER_RUNTIME_DIR", "IPYTHONDIR"),
)


def autograde(copy: Course, lesson: str) -> list[str]:
    """Have nbgrader mark all hand-ins of a lesson in its own way; return its warnings.

    Raises
    ------
    CourseError
        With what nbgrader said, if it stopped at a hand-in.
    """
    command = [sys.executable, "-m", "grading.marking.autograde_copy", str(copy.root), lesson]
    done = subprocess.run(  # noqa: S603 - this very program
        command,
        cwd=copy.root,
        env=_surroundings(copy.root),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        errors="replace",
        check=False,
    )
    if done.returncode:
        raise CourseError((done.stdout.strip() or done.stderr.strip())[-2000:])
    return done.stdout.splitlines()


def _surroundings(root: Path) -> dict[str, str]:
    """Return the environment of that process: folders of its own, and nothing that names the course."""
    own = root / "surroundings"
    folders = {name: own / name.lower() for name in _FOLDERS}
    for folder in folders.values():
        folder.mkdir(parents=True, exist_ok=True)
    kept = {name: os.environ[name] for name in _KEPT if name in os.environ}
    # Packages that were installed for this person only are found by the folder of the real home.
    found = {"PYTHONPATH": str(REPOSITORY), "PYTHONUSERBASE": site.getuserbase(), "PYTHONIOENCODING": "utf-8"}
    return kept | found | {name: str(folder) for name, folder in folders.items()}


def _run(root: str, lesson: str) -> int:
    from grading.gradebook.nbgrader_calls import run

    try:
        print("\n".join(run(Course(Path(root)), "Autograde", lesson)))  # noqa: T201 - what the other process reads
    except CourseError as problem:
        print(problem)  # noqa: T201
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(_run(*sys.argv[1:]))
