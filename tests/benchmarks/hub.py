"""What a school costs on this machine: memory and time for each apprentice, many at once, and what a crash costs.

Run ``python -m tests.benchmarks.hub [COUNT ...]`` as root (default: 1 5 12 25). A real hub with real kernels on
loopback; apprentices are websocket clients (`hub_client`). Every loop ends by itself. It prints what it measured and a
sizing table made from it, each row said to be measured or extrapolated. It asserts nothing but that no answer was lost.
"""

from __future__ import annotations

import contextlib
import itertools
import math
import os
import signal
import statistics
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor

import psutil

from tests.benchmarks.hub_client import Client, history
from tests.browser import school as schools
from tests.browser.school import RunningSchool

COUNTS = (1, 5, 12, 25)
WINDOW = 6.0  # s of each kind of work
DRAGS = 20  # a second: as often as a slider asks at most, one apprentice
SIZES = (12, 50, 200, 1000)
DRAGGING, MOVES = 1 / 5, 8  # of a class at a slider at the same moment, moves a second of each: own choice, no source
ANSWERS = 1 / 20  # a second, of everybody else: own choice, no source
HEADROOM = 0.7  # of the cores: own choice, no source
NUMBER = itertools.count(100)  # no answer twice: the same again is not written down again


def main(counts: Sequence[int]) -> None:
    print(f"{psutil.cpu_count()} cores, {psutil.virtual_memory().total / 2**30:.0f} GiB, load {os.getloadavg()[0]:.1f}")
    with schools.running_school(count=max(counts)) as school:
        print(f"hub, proxy, class page, culler: {memory(school.processes()):.0f} MB")
        clients = [client(school, badge) for badge in schools.badges(max(counts))]
        rush(clients)
        measured = [at_once(school, clients[:count]) for count in counts]
        sizing(max(counts), *measured[-1])
        crashes(school, clients[:3])
    print(f"load {os.getloadavg()[0]:.1f}")


def client(school: RunningSchool, badge: str) -> Client:
    return Client(school.url, f"ostrel-{badge}", badge, school.passwords[badge])


def rush(clients: Sequence[Client]) -> None:
    """Sign all on, spread over a minute as a class comes in."""
    gap = 60 / max(len(clients), 1)

    def one(k: int) -> float:
        time.sleep(k * gap)
        begun = time.perf_counter()
        clients[k].sign_on()
        clients[k].start_lesson()
        return time.perf_counter() - begun

    took = in_parallel(one, range(len(clients)))
    print(
        f"sign-on to lesson, {len(clients)} in a minute: median {statistics.median(took):.0f} s, longest {max(took):.0f} s"
    )


def at_once(school: RunningSchool, clients: Sequence[Client]) -> tuple[float, float, float, float]:
    """Measure so many at once; return MB of each, CPU seconds of an answer and of a move, and in a second of rest."""
    users = {each.user for each in clients}
    used = memory([each for each in school.processes() if each.username() in users]) / len(clients)
    rests, idle = window(school, clients, rest)
    answers, answering = window(school, clients, answer)
    drags, dragging = window(school, clients, drag)
    a_rest, an_answer, a_move = idle / sum(rests), answering / len(answers), dragging / len(drags)
    print(
        f"{len(clients):3d} at once: {used:.0f} MB each (server and kernel); CPU: at rest {100 * a_rest:.1f} % of a core "
        f"each, an answer {1000 * an_answer:.0f} ms, a move of a slider {1000 * a_move:.0f} ms; "
        f"reply {spread(answers)}; slider {spread(drags)} ({len(drags) / WINDOW / len(clients):.0f} moves a second each)"
    )
    return used, a_rest, an_answer, a_move


def rest(_one: Client, _k: int) -> float:
    time.sleep(0.5)
    return 0.5


def answer(one: Client, _k: int) -> float:
    took = one.answer("inherent.step", f"{next(NUMBER)} %")
    time.sleep(1)  # nobody answers more often
    return took


def drag(one: Client, k: int) -> float:
    took = one.drag(k % 100)
    time.sleep(max(0.0, 1 / DRAGS - took))
    return took


def window(
    school: RunningSchool, clients: Sequence[Client], work: Callable[[Client, int], float]
) -> tuple[list[float], float]:
    """Have all work for a while; return how long each piece took, and the CPU seconds of all together."""
    before, end = cpu(school), time.monotonic() + WINDOW

    def one(each: Client) -> list[float]:
        took, k = [], 0
        while time.monotonic() < end:
            took.append(work(each, k))
            k += 1
        return took

    found = [took for each in in_parallel(one, clients) for took in each]
    return found, cpu(school) - before


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
    return next(
        each.pid for each in psutil.process_iter()
        if each.username() == one.user and "lessons.jupyter.on_hub" in each.cmdline()
    )  # fmt: skip


def proxy(school: RunningSchool) -> int:
    return int((school.school / "hub/proxy.pid").read_text().split()[0])


def postgres(school: RunningSchool) -> int:
    port = school.gradebook.rpartition(":")[2].partition("/")[0]
    return next(
        each.pid
        for each in psutil.process_iter()
        if each.name() == "postgres" and f"{port}" in " ".join(each.cmdline())
    )


def memory(processes: Sequence[psutil.Process]) -> float:
    """Return the memory of processes [MB], what they share counted once (PSS)."""
    return sum(each.memory_full_info().pss for each in alive(processes)) / 1e6


def cpu(school: RunningSchool) -> float:
    """Return the CPU seconds of the whole school so far: servers, kernels, proxy, hub."""
    return sum(sum(each.cpu_times()[:2]) for each in alive(school.processes()))


def alive(processes: Sequence[psutil.Process]) -> Iterator[psutil.Process]:
    for each in processes:
        with contextlib.suppress(psutil.Error):
            each.memory_info()
            yield each


def in_parallel(work: Callable[..., object], over: Sequence[object]) -> list:  # type: ignore[type-arg]
    with ThreadPoolExecutor(max(len(over), 1)) as pool:
        return list(pool.map(work, over))


def spread(seconds: Sequence[float]) -> str:
    ordered = sorted(seconds)
    return (
        f"p50 {1000 * ordered[len(ordered) // 2]:.0f} ms, p95 {1000 * ordered[int(0.95 * (len(ordered) - 1))]:.0f} ms"
    )


def sizing(most: int, used: float, a_rest: float, an_answer: float, a_move: float) -> None:
    """Print what a school of each size needs, by what one apprentice took when most were at work."""
    each = a_rest + DRAGGING * MOVES * a_move + (1 - DRAGGING) * ANSWERS * an_answer
    print("| apprentices at once | cores | memory | |\n| --- | --- | --- | --- |")
    for count in SIZES:
        gib = (count * used * 1e6 / 2**30 + 1) * 1.2
        said = "within what was measured" if count <= most else "extrapolated"
        print(f"| {count} | {max(2, math.ceil(count * each / HEADROOM))} | {gib:.0f} GiB | {said} |")


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or COUNTS)
