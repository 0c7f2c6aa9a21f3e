"""Runs nbgrader's own steps inside this process: giving out, and in `autograde_copy` autograde."""

from __future__ import annotations

import logging
import os
import sys
import tempfile
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from nbgrader import converters
from nbgrader.converters.base import NbGraderException
from nbgrader.coursedir import CourseDirectory
from traitlets.config.loader import PyFileConfigLoader

from grading.course.course import REPOSITORY, Course, CourseError


class _Kept(logging.Handler):
    """Keeps what nbgrader says, to be told only when something fails."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.lines: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        # Of a traceback only what went wrong; the rest is of no use to an instructor.
        lines = record.getMessage().strip().splitlines()
        self.lines += ([line for line in lines if "Error: " in line] or lines)[-1:]


def run(course: Course, step: str, lesson: str, badge: str = "*") -> list[str]:
    """Run one step, such as "GenerateAssignment" or "Autograde", and return its warnings.

    Raises
    ------
    CourseError
        With what nbgrader said, if it failed.
    """
    _make_findable()
    config = PyFileConfigLoader("nbgrader_config.py", path=str(course.root)).load_config()
    names = {"assignment_id": lesson, "student_id": badge}
    place = CourseDirectory(config=config, root=str(course.root), db_url=course.url, **names)
    converter = getattr(converters, step)(coursedir=place, config=config, force=True)
    kept = _Kept()
    converter.log = log = logging.Logger("nbgrader-step")  # not in the tree of loggers, so it prints nothing
    place.log = log
    log.addHandler(kept)
    try:
        with _silence():
            converter.start()
    except NbGraderException as problem:
        raise CourseError(
            f"nbgrader could not carry out {step} for {lesson}: {problem} {' '.join(kept.lines)}"
        ) from problem
    return kept.lines


@contextmanager
def _silence() -> Iterator[None]:
    """Keep warnings of libraries, and what the kernels print, from the instructor's screen."""
    kept = os.dup(2)
    try:
        with tempfile.TemporaryFile() as away, warnings.catch_warnings():
            warnings.simplefilter("ignore")
            os.dup2(away.fileno(), 2)
            yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)


def _make_findable() -> None:
    """Let child processes find nbgrader's helper program and this package, environment activated or not."""
    for variable, folder in (("PATH", Path(sys.executable).parent), ("PYTHONPATH", REPOSITORY)):
        parts = os.environ.get(variable, "").split(os.pathsep)
        if str(folder) not in parts:
            os.environ[variable] = os.pathsep.join([str(folder), *filter(None, parts)])
