"""A hub that would not be safe does not start, and says what to do; tried with the rights of another user."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from grading.commands import FAILED, main
from grading.course.course import CourseError, new_course, open_course
from grading.hub import accounts, safe
from grading.hub.as_user import done_as
from grading.hub.school import School
from tests.grading.gradebook.postgres import running_postgres, skip_without_postgres

root_only = pytest.mark.skipif(os.geteuid() != 0, reason="only root can try what another user may do")


@pytest.fixture
def place() -> Iterator[Path]:
    """A folder that every user of the machine can reach: pytest's own are closed."""
    folder = Path(tempfile.mkdtemp(prefix="ostrel-safe-"))
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def everything_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(safe, "find_spec", lambda _name: True)
    monkeypatch.setattr(safe.os, "geteuid", lambda: 0)
    monkeypatch.setattr(safe.shutil, "which", lambda _name: "/usr/bin/proxy")


@pytest.mark.parametrize(
    ("lacks", "host", "said"),
    [
        ({"find_spec": lambda _name: None}, "127.0.0.1", "The hub needs jupyterhub, nativeauthenticator"),
        ({"geteuid": lambda: 1000}, "127.0.0.1", "has to be started by root"),
        ({"which": lambda _name: None}, "127.0.0.1", "npm install -g configurable-http-proxy"),
        ({}, "0.0.0.0", "would cross the network for everybody to read"),  # noqa: S104
        ({}, "10.1.2.3", "Give --cert FILE and --key FILE"),
    ],
)
def test_what_is_missing_is_said(monkeypatch: pytest.MonkeyPatch, lacks: dict[str, Any], host: str, said: str) -> None:
    everything_there(monkeypatch)
    for name, value in lacks.items():
        owner = {"find_spec": safe, "geteuid": safe.os, "which": safe.shutil}[name]
        monkeypatch.setattr(owner, name, value)
    with pytest.raises(CourseError, match=said):
        safe.can_start(host, "", "")


def test_with_all_there_it_may_start(monkeypatch: pytest.MonkeyPatch) -> None:
    everything_there(monkeypatch)
    assert safe.can_start("127.0.0.1", "", "") == "/usr/bin/proxy"


@root_only
def test_a_key_that_everybody_can_read_is_refused(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    everything_there(monkeypatch)
    for name in ("cert", "key"):
        (place / name).write_text("x")
    with pytest.raises(CourseError, match="Everybody on this machine can read the key"):
        safe.can_start("0.0.0.0", str(place / "cert"), str(place / "key"))  # noqa: S104
    (place / "key").chmod(0o600)
    assert safe.can_start("0.0.0.0", str(place / "cert"), str(place / "key"))  # noqa: S104
    with pytest.raises(CourseError, match="There is no file"):
        safe.can_start("0.0.0.0", str(place / "nothing"), str(place / "key"))  # noqa: S104


def school(place: Path, python: str = "/usr/bin/false") -> School:
    made = new_course(place / "course")
    return School(str(place / "school"), str(made.root), "root", str(place), python, "proxy")


@root_only
def test_an_open_course_open_keys_and_an_open_environment_are_said(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    made = school(place, str(place / "app/bin/python"))
    (place / "app/bin").mkdir(parents=True)
    (place / "app/bin").chmod(0o777)
    made.pictures.mkdir(parents=True)
    made.pictures.chmod(0o777)
    (place / "grading/workorders").mkdir(parents=True)
    (place / "grading/workorders/__init__.py").write_text("")
    monkeypatch.setattr(safe, "REPOSITORY", place)
    said = " ".join(safe.unsafe(made))
    assert f"Run: chmod 700 {place}" in said
    assert f"Run: chmod 700 {made.course}" in said
    assert "Apprentices cannot run" in said
    assert f"Everybody could change the programs in {place / 'app/bin'}" in said
    assert f"Everybody could put a picture there for others to see. Run: chmod -R go-w {made.pictures}" in said
    made.pictures.chmod(0o755)
    (place / "grading").chmod(0o700)
    Path(made.course).chmod(0o700)
    (place / "app/bin").chmod(0o755)
    assert [each[:22] for each in safe.unsafe(made)] == ["Apprentices cannot run"]


@root_only
def test_a_gradebook_that_asks_for_no_password_is_said(place: Path) -> None:
    skip_without_postgres()
    made = school(place, "python3")
    for password, refused in (("", True), ("try-secret", False)):
        with running_postgres(password) as url:
            (place / "course/course.json").write_text(f'{{"gradebook": "{url}"}}')
            said = list(_with_our_python(made))
        assert [each[:36] for each in said] == (["The gradebook's server lets everybody"[:36]] if refused else [])


def _with_our_python(made: School) -> Iterator[str]:
    """Try it with this interpreter: nobody may not run it here, so with our own rights, which are no password."""
    import sys
    from unittest import mock

    def own(_user: str, command: list[str], **environment: str) -> bool:
        import subprocess

        ran = subprocess.run([sys.executable, *command[1:]], env=environment, capture_output=True, check=False)
        return ran.returncode == 0

    with mock.patch.object(safe, "runs", own):
        yield from safe._open_gradebook(made)


@root_only
def test_a_course_of_root_is_refused(place: Path) -> None:
    new_course(place / "course")
    with pytest.raises(CourseError, match=r"belongs to root.*chown -R NAME"):
        safe.teacher_of(open_course(place / "course"))


@root_only
def test_a_badge_with_the_instructors_name_is_refused(place: Path) -> None:
    new_course(place / "course")
    shutil.chown(place / "course", "daemon")
    assert safe.teacher_of(open_course(place / "course")) == "daemon"
    (place / "course/roster.csv").write_text("badge,name\nDaemon,Dan\n")
    with pytest.raises(CourseError, match="Give that badge another name"):
        safe.teacher_of(open_course(place / "course"))


@root_only
def test_a_user_who_is_not_the_schools_is_left_alone(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    made = school(place)
    monkeypatch.setattr(accounts, "user_of", lambda _badge: "daemon")
    monkeypatch.setattr(accounts, "_run", lambda *_command: None)
    monkeypatch.setattr(School, "users", lambda _self: {"daemon": next(iter(made.opened().roster.values()))})
    with pytest.raises(CourseError, match="has a user daemon already"):
        accounts.make_users(made)


def test_the_command_says_what_is_missing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(safe, "find_spec", lambda _name: None)
    new_course(tmp_path / "course")
    said: list[str] = []
    assert main(["welcome", str(tmp_path / "course")], said.append) == FAILED
    assert "The hub needs" in said[-1]


@root_only
def test_work_of_another_user_is_that_users_and_its_sentence_comes_back(place: Path) -> None:
    place.chmod(0o777)
    done_as("daemon", lambda: (place / "made").write_text("x"))
    assert (place / "made").owner() == "daemon"
    place.chmod(0o755)
    with pytest.raises(CourseError, match=r"as daemon could not be.*Permission denied"):
        done_as("daemon", lambda: (place / "more").write_text("x"))


@pytest.mark.parametrize(
    ("host", "cert", "starts"),
    [("127.0.0.1", "", "http://127.0.0.1:8000/"), ("10.1.2.3", "c", "https://10.1.2.3:8000/")],
)
def test_the_address_on_a_slip_is_one_that_can_be_typed(host: str, cert: str, starts: str) -> None:
    assert School("", "", "", "", "", "", host=host, cert=cert).address == starts
    assert "0.0.0.0" not in School("", "", "", "", "", "", host="0.0.0.0", cert="c").address  # noqa: S104
