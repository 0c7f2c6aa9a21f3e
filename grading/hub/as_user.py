"""Doing something as another user of the machine: to try what that one may do, or so that files belong to them."""

from __future__ import annotations

import os
import pwd
import subprocess
from collections.abc import Callable, Sequence
from typing import Any

from grading.course.course import CourseError


def runs(user: str, command: Sequence[str], **environment: str) -> bool:
    """Tell whether a command succeeds for a user, with that user's rights and nothing of our environment."""
    who = pwd.getpwnam(user)
    rights: dict[str, Any] = {
        "user": who.pw_uid,
        "group": who.pw_gid,
        "extra_groups": [each for each in os.getgrouplist(user, who.pw_gid) if each != who.pw_gid],
        "env": {"PATH": "/usr/bin:/bin", "HOME": "/", **environment},
    }
    try:
        ran = subprocess.run(command, cwd="/", capture_output=True, check=False, **rights)  # noqa: S603 - our own words
    except OSError:  # no such program, or it may not be run
        return False
    return ran.returncode == 0


def may(user: str, what: str, path: object) -> bool:
    """Tell whether a user may read (r), write (w) or enter (x) a file or folder."""
    return runs(user, ["test", f"-{what}", str(path)])


def done_as(user: str, work: Callable[[], object]) -> None:
    """Do some work as a user, in a process of its own.

    Raises
    ------
    CourseError
        With what was wrong, if it fails.
    """
    who = pwd.getpwnam(user)
    told, tells = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(told)
        try:
            os.initgroups(user, who.pw_gid)
            os.setgid(who.pw_gid)
            os.setuid(who.pw_uid)
            os.umask(0o022)
            work()
        except BaseException as problem:
            os.write(tells, f"{problem}".encode()[:4000] or b"stopped")
        finally:
            os._exit(0)
    os.close(tells)
    with os.fdopen(told, "rb") as pipe:
        wrong = pipe.read().decode("utf-8", "replace")
    os.waitpid(child, 0)
    if wrong:
        raise CourseError(f"What has to be done as {user} could not be: {wrong}")
