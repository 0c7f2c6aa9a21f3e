"""One command at a time in a course: the next one waits and says for whom. A killed command blocks nobody."""

from __future__ import annotations

import contextlib
import errno
import getpass
import json
import os
import socket
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from filelock import FileLock, Timeout

from grading.course import plain
from grading.course.course import Course, CourseError, write_safely

LOCK, HOLDER = ".at_work.lock", ".at_work.json"
# Not for want of locks: these are said as they are.
_NOT_LOCKS = {errno.EACCES, errno.EPERM, errno.EROFS, errno.ENOSPC, errno.ENOENT}
TELL_AFTER = 0.5  # seconds; a shorter wait is not worth a sentence
LONGEST_WAIT = 600.0  # seconds; marking a class takes less
_held: set[tuple[int, int, Path]] = set()  # process, thread, course


@contextmanager
def at_work(course: Course, command: str, say: Callable[[str], None] | None = None) -> Iterator[None]:
    """Have the course for oneself; a giving-out that was cut short is finished first.

    The operating system holds the lock and lets it go when the process ends, however it ends. A command that
    calls another has the course already.

    Raises
    ------
    CourseError
        If another command does not end, or the folder lies where nothing can be locked.
    """
    # Here, because they load much that a command need not wait for which only says how it is used.
    from grading.giving_out.earlier import settle_folders, take_over
    from grading.giving_out.put_out import empty_as_sent, finish

    me = (os.getpid(), threading.get_ident(), course.root)
    if me in _held:
        yield
        return
    lock = _locked(course, say or _to_stderr)
    _held.add(me)
    try:
        write_safely(course.root / HOLDER, json.dumps(_holder(command)), lasting=False)
        settle_folders(course)
        finish(course)
        take_over(course)
        empty_as_sent(course)
        yield
    finally:
        _held.discard(me)
        with contextlib.suppress(OSError):
            (course.root / HOLDER).unlink(missing_ok=True)
        lock.release()


def _locked(course: Course, say: Callable[[str], None]) -> FileLock:
    lock = FileLock(course.root / LOCK)
    try:
        try:
            lock.acquire(timeout=TELL_AFTER)
        except Timeout:
            say(f"{_who(course)} Waiting for it to end. Ctrl+C stops waiting. Nothing has been changed yet.")
            lock.acquire(timeout=LONGEST_WAIT)
    except Timeout:
        raise CourseError(
            f"{_who(course)} It did not end within {LONGEST_WAIT / 60:g} minutes, and nothing was changed. "
            "Run the command again later. If that program hangs, end it. What it has done is kept."
        ) from None
    except (NotImplementedError, OSError) as problem:
        if isinstance(problem, OSError) and problem.errno in _NOT_LOCKS:
            raise
        raise CourseError(
            f"{course.root} is on a disk where files cannot be locked ({problem}), so two commands could not be "
            "kept apart. Move the course to a disk of this machine, or to a network folder that has locks."
        ) from problem
    return lock


def _holder(command: str) -> dict[str, str | int]:
    try:
        user = getpass.getuser()
    except (KeyError, OSError):  # a user without a name
        user = "somebody"
    since = datetime.now(UTC).isoformat()
    return {"command": command, "since": since, "user": user, "host": socket.gethostname(), "process": os.getpid()}


def _who(course: Course) -> str:
    """Say who has the course, as far as it is known."""
    try:
        about = json.loads((course.root / HOLDER).read_text(encoding="utf-8"))
        since = datetime.fromisoformat(about["since"]).astimezone().strftime("%Y-%m-%d %H:%M:%S")
        who = f"{about['user']} on {about['host']}, process {about['process']}"
        return f"“{about['command']}” has been at work in this course since {since} ({who})."
    except (OSError, ValueError, KeyError, TypeError):
        return "Another command is at work in this course."


def _to_stderr(sentence: str) -> None:
    sys.stderr.write(f"{plain.text(sentence)}\n")
    sys.stderr.flush()
