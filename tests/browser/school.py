"""A school of a test's own: users of this machine, an environment without keys, a course, a real hub on loopback.

It is made as the README says, but quicker: the environment for everybody is this one, its files linked, without the
clone; the project is a copy that belongs to an instructor made for the test.
"""

from __future__ import annotations

import contextlib
import os
import pwd
import re
import shutil
import signal
import subprocess
import sys
import sysconfig
import time
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass, field
from importlib.util import find_spec
from pathlib import Path

import psutil
import pytest
from playwright.sync_api import Browser, Page

from grading import workorders
from grading.course.course import new_course, write_safely
from grading.giving_out.give_out import give_out
from tests.browser.lab import WAIT
from tests.grading.gradebook.postgres import running_postgres, skip_without_postgres
from tests.ports import free_port
from tests.processes import command, user

REPOSITORY = Path(__file__).resolve().parents[2]
TEACHER = "ostrel-try-teacher"
LESSON = "04_inherent_characteristic"
NAMES = ("Ada Example", "Ben Example")
BADGES = ("try-1", "try-2")
SITE = Path(sysconfig.get_path("purelib"))
EXTENSION = "lessons/jupyter/lesson_page/page_side/ostrel-lesson-page"
NOT_COPIED = shutil.ignore_patterns("__pycache__", ".ipynb_checkpoints")


def skip_without_hub() -> None:
    """Leave the test out, with a sentence, on a machine where no hub can run."""
    for module in ("jupyterhub", "nativeauthenticator", "jupyterhub_idle_culler"):
        if find_spec(module) is None:
            pytest.skip(f"the extra hub is not installed ({module} is missing): pip install -e '.[hub]'")
    if not shutil.which("configurable-http-proxy"):
        pytest.skip("the hub's proxy is not installed: npm install -g configurable-http-proxy@5")
    if os.geteuid() != 0:
        pytest.skip("a hub with users of the machine has to be started by root")
    skip_without_postgres()
    if not _python():
        pytest.skip(f"no Python {sys.version_info.major}.{sys.version_info.minor} that every user may run")


@dataclass
class RunningSchool:
    """A hub that runs: where, with which first passwords, and how it is stopped."""

    place: Path
    url: str
    gradebook: str
    process: subprocess.Popen[str]
    log: Path
    passwords: dict[str, str] = field(default_factory=dict)  # by the name that is typed

    @property
    def course(self) -> Path:
        return self.place / "course"

    @property
    def school(self) -> Path:
        return self.place / "school"

    def home(self, badge: str) -> Path:
        return self.school / "homes" / f"ostrel-{badge}" / "my-lessons"

    def teacher(self, *command: str) -> str:
        """Run one of the instructor's commands, as in the terminal of the instructor's server; return what it says."""
        full = [str(self.place / "app/bin/python"), "-m", "grading", *command, "--course", str(self.course)]
        ran = subprocess.run(
            ["/usr/sbin/runuser", "-u", TEACHER, "--", *full], cwd=self.place / "project", capture_output=True, text=True,
            env={"PATH": "/usr/sbin:/usr/bin:/bin", "HOME": str(self.place / "teacher")}, check=False,
        )  # fmt: skip
        assert ran.returncode in (0, 1), ran.stdout + ran.stderr
        return ran.stdout

    def processes(self) -> list[psutil.Process]:
        """Return everything the hub started that still runs."""
        said = {each: command(each) for each in psutil.process_iter() if each.pid != os.getpid()}
        ours = [
            each for each, words in said.items() if user(each).startswith("ostrel-try-") or str(self.place) in words
        ]
        return [each for each in ours if said[each]]  # without words it has ended; PostgreSQL is elsewhere


@contextlib.contextmanager
def staged(count: int = 2, password: str = "try-secret") -> Iterator[tuple[Path, str]]:  # noqa: S107 - of a server that lives a minute
    """Make users, environment, project and course; give their folder and the gradebook's URL; take all away again."""
    place = Path("/tmp") / f"ostrel-try-{os.getpid()}"  # noqa: S108 - other users have to come in
    place.mkdir(mode=0o755)
    try:
        home = str(place / "teacher")
        subprocess.run(["useradd", "--create-home", "--skel", "/nonexistent", "--home-dir", home, TEACHER], check=True)
        _environment(place / "app")
        _project(place / "project")
        with running_postgres(password) as url:
            _course(place / "course", url, count)
            yield place, url
    finally:
        for user in (*(f"ostrel-{badge}" for badge in badges(count)), TEACHER):
            subprocess.run(["userdel", "--force", user], capture_output=True, check=False)
        subprocess.run(["groupdel", "ostrel-teachers"], capture_output=True, check=False)
        shutil.rmtree(place, ignore_errors=True)


@contextlib.contextmanager
def running_school(*options: str, count: int = 2) -> Iterator[RunningSchool]:
    """Stage a school, start its hub with the project's own command, and stop it as Ctrl+C does."""
    with staged(count) as (place, gradebook), (place / "hub.log").open("w") as log:
        process = start(place, log, *options)
        school = RunningSchool(place, f"http://127.0.0.1:{_port(process)}", gradebook, process, place / "hub.log")
        try:
            wait_until_up(school)
            yield school
        finally:
            stop(school)


def start(place: Path, log: object, *options: str) -> subprocess.Popen[str]:
    """Start the hub: python -m grading welcome COURSE."""
    port = () if "--port" in options else ("--port", str(free_port()))
    command = [str(place / "app/bin/python"), "-m", "grading", "welcome", str(place / "course"),
               "--school", str(place / "school"), *port, *options]  # fmt: skip
    environment = {"PATH": os.environ["PATH"], "LANG": "C.UTF-8", "HOME": str(place)}
    return subprocess.Popen(command, cwd=place / "project", env=environment, stdout=log, stderr=log, text=True)  # type: ignore[call-overload,no-any-return]


def hold_drawing(school: RunningSchool) -> None:
    """Have what draws the school's pictures ahead wait. It has the time that nobody else wants; a test has none."""
    for each in school.processes():
        if "lessons.notebook.figures" in command(each):
            each.suspend()


def ask_to_stop(school: RunningSchool, patience: float = 120) -> None:
    """Stop the hub as Ctrl+C does, and wait for it."""
    if school.process.poll() is None:
        school.process.send_signal(signal.SIGINT)
    with contextlib.suppress(subprocess.TimeoutExpired):
        school.process.wait(patience)


def stop(school: RunningSchool) -> None:
    """Stop the hub; kill what is left, so that nothing outlives the test."""
    ask_to_stop(school)
    for each in school.processes():
        with contextlib.suppress(psutil.Error):
            each.kill()


def sign_on(browser: Browser, school: RunningSchool, name: str, then: str = "") -> Page:
    """Fill in the form of the hub in a browser of its own; return the page."""
    page = browser.new_context(viewport={"width": 1366, "height": 900}).new_page()
    page.set_default_timeout(WAIT)
    page.goto(f"{school.url}/hub/login?next={then}", wait_until="domcontentloaded")
    page.get_by_label("Username").fill(name)
    page.get_by_label("Password").fill(school.passwords[name])
    page.locator("input[type=submit], button[type=submit]").first.click()
    return page


def slips(text: str) -> dict[str, str]:
    """Read names and first passwords from the slips."""
    return dict(re.findall(r"Username: +(\S+)\nPassword: +(\S+)", text))


def _port(process: subprocess.Popen[str]) -> int:
    command = list(process.args)  # type: ignore[arg-type]
    return int(command[command.index("--port") + 1])


def wait_until_up(school: RunningSchool) -> None:
    """Wait until the hub answers, and read its slips."""
    end = time.monotonic() + 240  # a machine that does other things too
    while time.monotonic() < end and school.process.poll() is None:
        with contextlib.suppress(OSError), urllib.request.urlopen(f"{school.url}/hub/health", timeout=2):  # noqa: S310
            school.passwords |= slips(school.log.read_text())
            return
        time.sleep(0.2)
    raise RuntimeError(f"The hub did not start:\n{school.log.read_text()[-3000:]}")


def _python() -> str:
    """Return a Python of this version that every user of the machine may run; an empty text if there is none."""
    version = f"python{sys.version_info.major}.{sys.version_info.minor}"
    nobody = pwd.getpwnam("nobody")
    for each in (str(Path(sys.base_prefix) / "bin" / version), f"/usr/bin/{version}"):
        with contextlib.suppress(OSError):
            ran = subprocess.run([each, "-c", ""], user=nobody.pw_uid, group=nobody.pw_gid, extra_groups=[], cwd="/",
                                 env={}, capture_output=True, check=False)  # fmt: skip
            if ran.returncode == 0:
                return each
    return ""


def _environment(app: Path) -> None:
    """Make an environment that everybody may run, with the packages of this one and the lessons, without the clone."""
    subprocess.run([_python(), "-m", "venv", "--without-pip", str(app)], check=True)
    site = next(app.glob("lib/python3*/site-packages"))
    for source, target in (
        (SITE, site),
        (Path(sys.prefix) / "share", app / "share"),
        (Path(sys.prefix) / "etc", app / "etc"),
    ):
        _linked(source, target)
    for clone in site.glob("*ostrel*.pth"):
        clone.unlink()
    for package in ("lessons", "valvecalc"):
        shutil.rmtree(site / package, ignore_errors=True)
        shutil.copytree(REPOSITORY / package, site / package, ignore=NOT_COPIED)
    extension = app / "share/jupyter/labextensions/ostrel-lesson-page"
    shutil.rmtree(extension, ignore_errors=True)
    shutil.copytree(REPOSITORY / EXTENSION, extension)
    helper = app / "bin/alembic"  # nbgrader asks it for the version of its tables
    helper.write_text(f"#!{app}/bin/python\nfrom alembic.config import main\nmain()\n")
    helper.chmod(0o755)


def _linked(source: Path, target: Path) -> None:
    """Copy a folder by links to its files, or where that cannot be, the files."""
    target.mkdir(parents=True, exist_ok=True)
    for way in ("-al", "-a"):
        if subprocess.run(["cp", way, f"{source}/.", str(target)], capture_output=True, check=False).returncode == 0:
            return
    raise RuntimeError(f"{source} could not be copied to {target}")


def _project(clone: Path) -> None:
    clone.mkdir(mode=0o700)
    for package in ("lessons", "valvecalc", "grading"):
        shutil.copytree(REPOSITORY / package, clone / package, ignore=NOT_COPIED)
    subprocess.run(["chown", "-R", TEACHER, str(clone)], check=True)


def badges(count: int) -> list[str]:
    """Return the badges of a class; the first two are those of the test."""
    return [f"try-{number}" for number in range(1, count + 1)]


def _course(folder: Path, gradebook: str, count: int) -> None:
    course = new_course(folder, gradebook)
    people = [
        f"{badge},{NAMES[k] if k < len(NAMES) else f'Person {k}'},{('si', 'us')[k % 2]}"
        for k, badge in enumerate(badges(count))
    ]
    write_safely(folder / "roster.csv", "\n".join(["badge,name,units", *people, ""]))
    give_out(course, LESSON, workorders.notebooks()[LESSON])
    subprocess.run(["chown", "-R", TEACHER, str(folder)], check=True)
