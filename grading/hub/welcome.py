"""Starts a hub for a course: looks whether it is safe, makes accounts and exchange, prints slips, becomes the hub."""

from __future__ import annotations

import contextlib
import json
import os
import socket
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from grading.course.course import REPOSITORY, Course, CourseError, change_setting, open_course, write_safely
from grading.hub.accounts import make_users, names_to_renew, sign_in_data, slips
from grading.hub.as_user import done_as
from grading.hub.leftovers import stop_leftovers
from grading.hub.safe import can_start, teacher_of, unsafe
from grading.hub.school import PLAN, School, keep_plan, read_plan
from grading.hub.school_boxes import make_exchange, send

CONFIG = """\
# Written at each start from plan.json beside it.
import sys

sys.path.insert(0, {project!r})
from grading.hub.settings import apply

apply(get_config(), {hub!r})  # noqa: F821 - given by the hub
"""
# Apprentices hand in from the lesson's page; the library's own pages for it would only be a second way.
_OFF = ("assignment_list", "course_list", "formgrader", "validate_assignment")


def welcome(
    course: Course, folder: Path, say: Callable[[str], None], *, renew: Sequence[str] = (), **reached: object
) -> list[str]:
    """Make everything ready; return the command that starts the hub.

    Raises
    ------
    CourseError
        If something is missing, or an apprentice could see what is not theirs.
    """
    proxy = can_start(*(str(reached[each]) for each in ("host", "cert", "key")))
    school = _school(course, folder, teacher_of(course), proxy, reached)
    renewed = names_to_renew(school, renew)
    if _answers(school.ports[0]):
        raise CourseError(f"The hub of {folder} runs already, at {school.address}. Stop it first, with Ctrl+C there.")
    stop_leftovers(school)
    if not _free(school.host, school.port):
        raise CourseError(
            f"Another program listens at port {school.port} of {school.host} already. Stop it, or choose another port "
            "from 1 to 65535 with --port."
        )
    _own_folders(school)
    make_users(school)
    if problems := list(unsafe(school)):
        raise CourseError("The hub was not started, because it would not be safe.\n" + "\n".join(problems))
    make_exchange(school)
    done_as(school.teacher, lambda: _into_exchange(school))
    keep_plan(school)
    for slip in slips(school, sign_in_data(school, renewed)):
        say(slip)
    draw_ahead(school)
    say(f"The hub starts at {school.address}. Ctrl+C stops it.")
    write_safely(
        school.hub / "jupyterhub_config.py", CONFIG.format(project=school.project, hub=str(school.hub)), mode=0o600
    )
    return [school.python, "-m", "jupyterhub", "-f", str(school.hub / "jupyterhub_config.py")]


def turn_into(command: list[str], folder: Path) -> None:
    """Turn this process into the hub, with nothing of the caller's environment."""
    sys.stdout.flush()
    os.chdir(folder)
    os.umask(0o022)
    os.execve(command[0], command, environment())  # noqa: S606 - the hub


def draw_ahead(school: School) -> None:
    """Have the pictures of the lessons drawn beside the hub, as long as they are not those of this installation.

    It takes a minute and a half once, with the lowest priority; until a picture is there, a kernel draws it itself.
    """
    # The lessons that apprentices run, and nothing from elsewhere (-I): this is root.
    command = ["nice", "-n", "19", school.python, "-I", "-m", "lessons.notebook.figures", str(school.pictures)]
    with (school.hub / "pictures.log").open("wb") as log:
        quiet: dict[str, Any] = {"stdin": subprocess.DEVNULL, "stdout": log, "stderr": log, "umask": 0o022}
        subprocess.Popen(command, cwd="/", env=environment(), **quiet)  # noqa: S603 - our own words


def environment() -> dict[str, str]:
    """Return what the hub's own process gets to know."""
    kept = {name: os.environ[name] for name in ("LANG", "LC_ALL") if name in os.environ}
    path = [str(Path(sys.executable).parent), "/usr/local/bin", "/usr/local/sbin", "/usr/bin", "/usr/sbin", "/bin"]
    return {**kept, "PATH": os.pathsep.join(path), "HOME": "/root"}


def _school(course: Course, folder: Path, teacher: str, proxy: str, reached: dict[str, object]) -> School:
    plan = folder / "hub" / PLAN
    earlier = read_plan(plan) if plan.is_file() else None
    if earlier and earlier.course != str(course.root):
        raise CourseError(
            f"{folder} is the school of {earlier.course}. Name another folder for this course: --school FOLDER"
        )
    school = School(str(folder), str(course.root), teacher, str(REPOSITORY), sys.executable, proxy)
    # The hub's own is the same as before, so that servers that outlived it find it again.
    ports = (earlier.ports[0] if earlier else _free_port(), _free_port(), _free_port())
    return replace(school, ports=ports, **reached)  # type: ignore[arg-type]


def _own_folders(school: School) -> None:
    """Make the school's folders; what everybody has to pass through can be passed through and not written to."""
    for path, mode in (
        (school.root, 0o755), (school.hub, 0o700), (school.config, 0o755), (school.root / "homes", 0o711),
        (school.exchange.parent, 0o755), (school.pictures, 0o755),
    ):  # fmt: skip
        path.mkdir(parents=True, exist_ok=True)
        path.chmod(mode)
    Path(school.course).chmod(0o700)
    write_safely(school.config / "nbgrader_config.json", json.dumps({
        "Exchange": {"root": str(school.exchange.parent)},
        # Else the library wants the exchange to be a folder in which everybody may make another course.
        "CourseDirectory": {"course_id": school.course_name, "groupshared": True},
    }))  # fmt: skip
    extensions = {f"nbgrader.server_extensions.{name}": False for name in _OFF}
    write_safely(
        school.config / "jupyter_server_config.json", json.dumps({"ServerApp": {"jpserver_extensions": extensions}})
    )


def _into_exchange(school: School) -> None:
    """Have the course use the exchange, and put what was given out and marked so far into the boxes."""
    course = open_course(Path(school.course))
    if course.exchange != str(school.exchange):
        course = change_setting(course, "exchange", str(school.exchange))
    send(course)


def _answers(port: int) -> bool:
    with socket.socket() as probe:
        return probe.connect_ex(("127.0.0.1", port)) == 0


def _free(host: str, port: int) -> bool:
    with contextlib.suppress(OSError), socket.create_server((host, port)):
        return True
    return False


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])
