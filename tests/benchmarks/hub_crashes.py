"""What a crash costs, for the hub's benchmark: each part of a school is killed while answers come in."""

from __future__ import annotations

import contextlib
import os
import signal
import threading
import time
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import psutil

from tests.benchmarks.hub_client import NUMBER, Client, history, in_parallel
from tests.browser import school as schools
from tests.browser.school import RunningSchool
from tests.processes import arguments, command, running


def crashes(school: RunningSchool, clients: Sequence[Client]) -> None:
    """Kill each part while answers come in; count answers that were replied to and are not written down."""
    for name, pid in (("a server", lambda: server(clients[0])), ("the proxy", lambda: proxy(school)),
                      ("the hub", lambda: school.process.pid), ("PostgreSQL", lambda: postgres(school))):  # fmt: skip
        replied, stop = {each.user: list[str]() for each in clients}, threading.Event()

        def work(each: Client, replied: dict[str, list[str]] = replied, stop: threading.Event = stop) -> None:
            while not stop.is_set():
                text = f"{next(NUMBER)} %"
                try:
                    each.answer("inherent.step", text)
                except Exception:  # the connection broke: nothing was replied
                    return
                replied[each.user].append(text)

        with ThreadPoolExecutor(len(clients)) as pool:
            for each in clients:
                pool.submit(work, each)
            time.sleep(3)
            os.kill(pid(), signal.SIGKILL)
            time.sleep(2)
            stop.set()
        lost = [
            text
            for each in clients
            for known in [history(school.home(each.badge))]
            for text in replied[each.user]
            if f'"text": "{text}"' not in known
        ]
        print(f"kill -9 of {name}: {sum(map(len, replied.values()))} answers were replied to, {len(lost)} are lost")
        recover(school, clients, name)


def recover(school: RunningSchool, clients: Sequence[Client], name: str) -> None:
    """Bring the school back as its keeper would; the hub's own doing is waited for."""
    if name == "the hub":
        with school.log.open("a") as log:
            options = ["--port", str(school.url.rpartition(":")[2])]
            school.process = schools.start(school.place, log, *options)
        schools.wait_until_up(school)
    begun = time.monotonic()

    def back(each: Client) -> bool:
        while time.monotonic() < begun + 90:
            with contextlib.suppress(Exception):
                each.sign_on()
                each.start_lesson()
                return True
            time.sleep(1)
        return False

    again = sum(in_parallel(back, clients))
    print(f"  {again} of {len(clients)} work again after {time.monotonic() - begun:.0f} s")


def server(one: Client) -> int:
    return running("lessons.jupyter.on_hub", one.user)[0].pid


def proxy(school: RunningSchool) -> int:
    return int((school.school / "hub/proxy.pid").read_text().split()[0])


def postgres(school: RunningSchool) -> int:
    port = school.gradebook.rpartition(":")[2].partition("/")[0]
    found = (each for each in psutil.process_iter() if Path((arguments(each) or [""])[0]).name == "postgres")
    return next(each.pid for each in found if port in command(each))
