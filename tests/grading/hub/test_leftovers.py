"""What a hub that was killed left running is found by what it was told, and stopped; nothing else is."""

from __future__ import annotations

import json
import logging
import os
import subprocess
import sys
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager
from pathlib import Path

import psutil
import pytest

from grading.hub import leftovers
from grading.hub.school import School
from tests.processes import command, running

PORTS = (41001, 41002, 41003)
API = f"http://127.0.0.1:{PORTS[0]}/hub/api"
CASES = (
    ({"JUPYTERHUB_SERVICE_NAME": "culler", "JUPYTERHUB_API_URL": API}, True),
    (
        {"JUPYTERHUB_SERVICE_NAME": "culler", "JUPYTERHUB_API_URL": "http://127.0.0.1:41009/hub/api"},
        False,
    ),  # another hub's
    ({"JUPYTERHUB_USER": "ostrel-a", "JUPYTERHUB_API_URL": API}, False),  # an apprentice's server goes on
    ({}, False),
)


@pytest.fixture
def school(tmp_path: Path) -> School:
    (tmp_path / "hub").mkdir()
    return School(str(tmp_path), "", "", "", sys.executable, "proxy", ports=PORTS)


@contextmanager
def sleeping(told: Mapping[str, str]) -> Iterator[subprocess.Popen[bytes]]:
    process = subprocess.Popen(["/bin/sleep", "60"], env=dict(told))
    try:
        yield process
    finally:
        process.kill()
        process.wait()


def test_services_of_this_hub_are_stopped_and_nothing_else(school: School) -> None:
    with ExitStack() as all_of_them:
        processes = [all_of_them.enter_context(sleeping(told)) for told, _ in CASES]
        assert leftovers.stop_leftovers(school) == 1
        assert [each.poll() is not None for each in processes] == [gone for _, gone in CASES]


@pytest.mark.parametrize(("told", "count"), [({"CONFIGPROXY_AUTH_TOKEN": "x"}, 1), ({}, 0)])
def test_the_proxy_is_known_by_its_number_and_by_what_it_was_told(
    school: School, told: dict[str, str], count: int
) -> None:
    with sleeping(told) as process:
        (school.hub / "proxy.pid").write_text(f"{process.pid}\n")
        assert leftovers.stop_leftovers(school) == count


@pytest.mark.skipif(os.geteuid() != 0, reason="the pictures are drawn by root")
def test_the_end_of_the_hub_ends_drawing_ahead_without_a_word(
    school: School, capsys: pytest.CaptureFixture[str]
) -> None:
    waits = [sys.executable, "-c", "import time; time.sleep(60)"]
    with subprocess.Popen([*waits, str(school.pictures)]) as ours, subprocess.Popen([*waits, "/elsewhere"]) as others:
        leftovers.end_well(school, [])
        assert (ours.poll() is not None, others.poll()) == (True, None)
        others.kill()
    assert capsys.readouterr().err == ""


@pytest.mark.parametrize("written", ["", "not a number", json.dumps({"pid": 1})])
def test_a_damaged_note_of_the_proxys_number_stops_nothing(school: School, written: str) -> None:
    (school.hub / "proxy.pid").write_text(written)
    assert leftovers.stop_leftovers(school) == 0


@pytest.mark.parametrize(
    ("level", "message", "said"),
    [
        (logging.CRITICAL, "Service class exited with status 1", "went wrong: Service class exited with status 1."),
        (logging.ERROR, "Somebody's server did not start", ""),  # said when it happened; the hub ended well
    ],
)
def test_the_end_says_what_went_wrong(
    school: School, capsys: pytest.CaptureFixture[str], level: int, message: str, said: str
) -> None:
    record = logging.LogRecord("JupyterHub", level, "", 0, message, (), None)
    leftovers.end_well(school, [record])
    written = capsys.readouterr().err
    assert said in written
    assert bool(written) == bool(said)


def test_what_ended_between_the_look_and_the_stop_is_no_error() -> None:
    with subprocess.Popen(["/bin/true"]) as ended:
        known = psutil.Process(ended.pid)
    assert leftovers._stopped([known]) == 1


def test_a_process_that_ended_and_was_not_waited_for_says_nothing_and_stops_no_search() -> None:
    with subprocess.Popen(["/bin/true"]) as ended:
        os.waitid(os.P_PID, ended.pid, os.WEXITED | os.WNOWAIT)
        assert psutil.Process(ended.pid).status() == psutil.STATUS_ZOMBIE
        assert command(psutil.Process(ended.pid)) == ""
        assert ended.pid not in [each.pid for each in running("true")]
