"""Where everything of a school lies on its machine, and what its people are called there."""

from __future__ import annotations

import json
import socket
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from grading.course.course import Course, open_course, write_safely
from grading.course.roster import Apprentice

ROOT = Path("/srv/ostrel-school")
TEACHERS = "ostrel-teachers"  # the group that may look into an apprentice's folder
PLAN = "plan.json"
PREFIX = "ostrel-"


@dataclass(frozen=True)
class School:
    """One hub: its folder, its course, and how it is reached."""

    folder: str
    course: str
    teacher: str  # the user of this machine who owns the course
    project: str  # the clone with the instructor's side
    python: str  # of an environment that holds no key
    proxy: str  # the command that starts the proxy
    host: str = "127.0.0.1"
    port: int = 8000
    cert: str = ""
    key: str = ""
    idle: int = 3600  # s without work after which a kernel ends; a server after twice that
    ports: tuple[int, ...] = ()  # on loopback: of the hub, of the proxy's own interface, of the class page

    @property
    def root(self) -> Path:
        """The school's folder."""
        return Path(self.folder)

    @property
    def hub(self) -> Path:
        """The hub's own files: nobody but root opens it."""
        return self.root / "hub"

    @property
    def config(self) -> Path:
        """Settings that the servers of apprentices read."""
        return self.root / "config"

    @property
    def pictures(self) -> Path:
        """Pictures of the lessons, drawn once for all: only root writes here."""
        return self.root / "pictures"

    @property
    def exchange(self) -> Path:
        """The course in nbgrader's exchange."""
        return self.root / "exchange" / self.course_name

    @property
    def course_name(self) -> str:
        """What the exchange calls the course."""
        return Path(self.course).name

    @property
    def bound(self) -> str:
        """Where the proxy listens."""
        return f"{'https' if self.cert else 'http'}://{self.host}:{self.port}/"

    @property
    def address(self) -> str:
        """What is typed into a browser."""
        everywhere = self.host in ("0.0.0.0", "::")  # noqa: S104 - compared, not listened on
        return self.bound.replace(self.host, socket.getfqdn(), 1) if everywhere else self.bound

    def home(self, user: str) -> Path:
        """Return the folder of an apprentice."""
        return self.root / "homes" / user

    def opened(self) -> Course:
        """Return the course as it is now."""
        return open_course(Path(self.course))

    def users(self) -> dict[str, Apprentice]:
        """Return who is on the class list, by user."""
        return {user_of(badge): person for badge, person in self.opened().roster.items()}


def user_of(badge: str) -> str:
    """Return the user of the machine, and of the hub, for a badge.

    >>> user_of("A-23")
    'ostrel-a-23'
    """
    return f"{PREFIX}{badge.lower()}"


def keep_plan(school: School) -> None:
    """Write down how the school is set up."""
    write_safely(school.hub / PLAN, json.dumps(asdict(school), indent=1) + "\n", mode=0o600)


def read_plan(path: Path) -> School:
    """Read how a school is set up."""
    data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
    return School(**{**data, "ports": tuple(data["ports"])})
