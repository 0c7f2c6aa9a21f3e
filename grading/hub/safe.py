"""What has to hold before a hub starts, so that nobody can see another's work or the keys; each in a sentence.

What can be tried is tried: with the rights of an apprentice, and not by looking at modes.
"""

from __future__ import annotations

import os
import pwd
import shutil
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

from sqlalchemy.engine import URL, make_url

from grading.course.course import REPOSITORY, Course, CourseError
from grading.hub.as_user import may, runs
from grading.hub.school import School

NOBODY = "nobody"  # has what every user of the machine has
LOOPBACK = ("127.0.0.1", "localhost", "::1")
NEEDED = ("jupyterhub", "nativeauthenticator", "jupyterhub_idle_culler", "bcrypt")
_LOADS = "import lessons.jupyter.on_hub, jupyterhub.singleuser, nbgrader"
_NO_KEYS = "import importlib.util, sys; sys.exit(importlib.util.find_spec('grading') is not None)"
_CONNECTS = "import sys; from sqlalchemy import create_engine; create_engine(sys.argv[1]).connect()"


def can_start(host: str, cert: str, key: str) -> str:
    """Return the path of the proxy's command, once all is there that a hub needs.

    Raises
    ------
    CourseError
        With a sentence, if it is not.
    """
    if missing := [name for name in NEEDED if find_spec(name) is None]:
        raise CourseError(
            f"The hub needs {', '.join(missing)}. Install it for everybody: "
            "sudo python3 -m venv /opt/ostrel && sudo /opt/ostrel/bin/pip install '.[hub]'"
        )
    if not hasattr(os, "geteuid") or os.geteuid() != 0:
        raise CourseError(
            "The hub has to be started by root, because each apprentice works as a user of this machine and only root "
            "may act for several. Put sudo before the command."
        )
    if host not in LOOPBACK and not (cert and key):
        raise CourseError(
            f"At {host} passwords and answers would cross the network for everybody to read. Give --cert FILE and "
            "--key FILE, or leave --host away, so that only this machine is served."
        )
    for name in filter(None, (cert, key)):
        if not Path(name).is_file():
            raise CourseError(f"There is no file {name}. Name the certificate and its key with --cert and --key.")
    if key and may(NOBODY, "r", Path(key).resolve()):
        raise CourseError(f"Everybody on this machine can read the key {key}. Run: chmod 600 {key}")
    proxy = shutil.which("configurable-http-proxy")
    if not proxy:
        raise CourseError(
            "The hub's proxy is not installed. Run: sudo npm install -g configurable-http-proxy@5 (it needs Node.js 20)"
        )
    return proxy


def teacher_of(course: Course) -> str:
    """Return the user who owns a course, and so is its instructor on the hub.

    Raises
    ------
    CourseError
        If that is root, or nobody.
    """
    try:
        owner = pwd.getpwuid(course.root.stat().st_uid).pw_name
    except KeyError:
        owner = "nobody known"
    if owner in ("root", NOBODY, "nobody known"):
        raise CourseError(
            f"{course.root} belongs to {owner}, and the instructor's server must not run as that. Give course and "
            f"project to the instructor's own user: chown -R NAME {course.root} {REPOSITORY}"
        )
    if owner in {badge.lower() for badge in course.roster}:
        raise CourseError(
            f"The instructor signs in as {owner}, and roster.csv has a badge {owner}. Give that badge another name."
        )
    return owner


def unsafe(school: School) -> Iterator[str]:
    """Give a sentence for everything that would let an apprentice see what is not theirs, or break what is shared."""
    keys = REPOSITORY / "grading"
    if may(NOBODY, "r", keys / "workorders" / "__init__.py"):
        yield f"Apprentices could read the keys of the work orders in {keys}. Run: chmod 700 {REPOSITORY}"
    if may(NOBODY, "x", school.course) or may(NOBODY, "r", Path(school.course) / "course.json"):
        yield f"Apprentices could look into the course. Run: chmod 700 {school.course}"
    if not may(school.teacher, "r", Path(school.course) / "course.json") or not may(school.teacher, "r", keys):
        yield (
            f"The instructor {school.teacher} cannot read the course or the project. Run: "
            f"chown -R {school.teacher} {school.course} {REPOSITORY}"
        )
    if not runs(NOBODY, [school.python, "-c", _LOADS]):
        yield (
            f"Apprentices cannot run {school.python} with the lessons in it. Install the package, not the clone, where "
            "everybody can reach it: python3 -m venv /opt/ostrel && /opt/ostrel/bin/pip install '.[hub]'"
        )
    elif not runs(NOBODY, [school.python, "-c", _NO_KEYS]):
        yield f"{school.python} finds the keys. Install the package there without -e: pip install '.[hub]'"
    writable = [each for each in _code_folders(school.python) if may(NOBODY, "w", each)]
    if writable:
        yield f"Everybody could change the programs in {', '.join(writable)}. Run: chmod -R go-w {writable[0]}"
    if may(NOBODY, "w", school.pictures):
        yield f"Everybody could put a picture there for others to see. Run: chmod -R go-w {school.pictures}"
    yield from _open_gradebook(school)


def _code_folders(python: str) -> list[str]:
    """Return the folders from which servers load programs."""
    home = Path(python).parent.parent
    return [str(each) for each in (home, home / "bin", *home.glob("lib/python3*/site-packages")) if each.exists()]


def _open_gradebook(school: School) -> Iterator[str]:
    """Say so if the gradebook's server lets everybody on this machine in without a password."""
    url = school.opened().gradebook
    if not url or url.startswith("sqlite"):
        return  # a file in the course's folder
    full = make_url(url)
    kept = {name: getattr(full, name) for name in ("username", "host", "port", "database", "query")}
    without = URL.create(full.drivername, **kept).render_as_string()
    if runs(NOBODY, [school.python, "-c", _CONNECTS, without], PGCONNECT_TIMEOUT="5"):
        yield (
            f"The gradebook's server lets everybody on this machine in without a password ({without}). Ask for one: "
            "write scram-sha-256 for trust in its pg_hba.conf, and the password into the address in course.json."
        )
