"""What a school costs on this machine: memory and time for each apprentice, many at once, and what a crash costs.

Run ``python -m tests.benchmarks.hub [COUNT ...]`` as root (default: 1 5 12 25). A real hub with real kernels on
loopback; apprentices are websocket clients (`hub_client`) who move sliders as the page does (`hub_slider`), and one
reads in a real browser. Every loop ends by itself. It prints what it measured and a sizing table made from it, each row
said to be measured or extrapolated. It asserts nothing.
"""

from __future__ import annotations

import contextlib
import math
import os
import statistics
import sys
import time
from collections.abc import Callable, Iterator, Sequence

import psutil

from tests.benchmarks.hub_client import LESSON, NUMBER, Client, in_parallel
from tests.benchmarks.hub_crashes import crashes
from tests.benchmarks.hub_slider import TURN, Slides
from tests.browser import school as schools
from tests.browser.lab import running_chromium
from tests.browser.lessons_lab import wait_until_ready
from tests.browser.school import RunningSchool

COUNTS = (1, 5, 12, 25)
WINDOW = 6.0  # s of each kind of work
READING = 20  # s
TURNS = 3  # of a slider, each with a look at what it did
SEEN = 1 / 60  # s: a screen shows no two pictures within less
SIZES = (12, 50, 200, 1000)
DRAGGING = 1 / 5  # of a class at a slider, in turns as measured: own choice, no source
ANSWERS = 1 / 20  # a second, of everybody else: own choice, no source
ALL_SIGNED_ON = 300  # s in which a school signs on: own choice, no source
HEADROOM = 0.7  # of the cores: own choice, no source


def main(counts: Sequence[int]) -> None:
    print(f"{psutil.cpu_count()} cores, {psutil.virtual_memory().total / 2**30:.0f} GiB, load {os.getloadavg()[0]:.1f}")
    with schools.running_school(count=max(counts) + 1) as school:
        drawn_ahead(school)
        print(f"hub, proxy, class page, culler: {memory(school.processes()):.0f} MB")
        *class_, reader = schools.badges(max(counts) + 1)
        clients = [client(school, badge) for badge in class_]
        a_sign_on = rush(school, clients)
        print(f"a lesson open, no slider moved: {each_takes(school, clients)}")
        reading(school, reader)
        measured = [at_once(school, clients[:count]) for count in counts]
        sizing(max(counts), a_sign_on, *measured[-1])
        crashes(school, clients[:3])
    print(f"load {os.getloadavg()[0]:.1f}")


def client(school: RunningSchool, badge: str) -> Client:
    return Client(school.url, f"ostrel-{badge}", badge, school.passwords[badge])


def drawn_ahead(school: RunningSchool) -> None:
    """Wait until the hub has drawn the pictures of the lessons, which it does once after an installation."""
    begun = time.monotonic()
    while time.monotonic() < begun + 900 and any(
        "lessons.notebook.figures" in each.cmdline() for each in school.processes()
    ):
        time.sleep(1)
    size = sum(each.stat().st_size for each in (school.school / "pictures").iterdir())
    print(f"pictures drawn ahead: {size / 1e6:.0f} MB, {time.monotonic() - begun:.0f} s after the hub was up")


def each_takes(school: RunningSchool, clients: Sequence[Client]) -> str:
    """Return how much memory server and kernel of each take."""
    users = {each.user for each in clients}
    own = [each for each in alive(school.processes()) if each.username() in users]
    servers = [each for each in own if "lessons.jupyter.on_hub" in each.cmdline()]
    kernels = [each for each in own if "ipykernel_launcher" in " ".join(each.cmdline())]
    rss = statistics.mean(each.memory_info().rss for each in kernels) / 1e6
    mb = [memory(each) / len(clients) for each in (own, servers, kernels)]
    return f"{mb[0]:.0f} MB each (server {mb[1]:.0f}, kernel {mb[2]:.0f}; the kernel's RSS {rss:.0f})"


def reading(school: RunningSchool, badge: str) -> None:
    """Measure one who reads a lesson in a browser: the page turns, nothing is answered and no slider moves."""
    with running_chromium() as browser:
        page = schools.sign_on(browser, school, badge, f"/user/ostrel-{badge}/lab/tree/{LESSON}")
        wait_until_ready(page)
        time.sleep(5)
        own = [each for each in alive(school.processes()) if each.username() == f"ostrel-{badge}"]
        before, all_before = seconds(own), cpu(school)
        for _ in range(READING):
            page.mouse.wheel(0, 200)
            time.sleep(1)
        took, in_all = seconds(own) - before, cpu(school) - all_before
        page.context.close()
    print(f"reading in a browser: {100 * took / READING:.1f} % of a core for server and kernel; the whole school "
          f"{100 * in_all / READING:.1f} %")  # fmt: skip


def rush(school: RunningSchool, clients: Sequence[Client]) -> float:
    """Sign all on, spread over a minute as a class comes in; return the CPU seconds of each."""
    gap, before = 60 / max(len(clients), 1), cpu(school)

    def one(k: int) -> float:
        time.sleep(k * gap)
        begun = time.perf_counter()
        clients[k].sign_on()
        clients[k].start_lesson()
        return time.perf_counter() - begun

    took = in_parallel(one, range(len(clients)))
    each = (cpu(school) - before) / len(clients)
    print(f"sign-on to lesson, {len(clients)} in a minute: median {statistics.median(took):.0f} s, longest "
          f"{max(took):.0f} s; {each:.1f} s of CPU each")  # fmt: skip
    return each


def at_once(school: RunningSchool, clients: Sequence[Client]) -> tuple[float, float, float, float]:
    """Measure so many at once; return MB of each, CPU seconds of an answer, and in a second of rest and at a slider."""
    in_parallel(Client.connect, clients)
    rests, idle = window(school, clients, rest)
    answers, answering = window(school, clients, answer)
    moves, sliding = slide(school, clients)
    users = {each.user for each in clients}
    used = memory([each for each in school.processes() if each.username() in users]) / len(clients)
    a_rest, an_answer = idle / sum(rests), answering / len(answers)
    at_slider = sliding / (TURNS * TURN * len(clients))
    there = sum(each < SEEN for each in moves) / len(moves)
    print(
        f"{len(clients):3d} at once: {used:.0f} MB each after sliders moved; CPU: at rest {100 * a_rest:.1f} % of a core "
        f"each, an answer {1000 * an_answer:.0f} ms, at a slider {100 * at_slider:.1f} %; reply {spread(answers)}; "
        f"slider {spread(moves)}, {100 * there:.1f} % of {len(moves)} at once, longest {1000 * max(moves):.0f} ms"
    )
    return used, a_rest, an_answer, at_slider


def slide(school: RunningSchool, clients: Sequence[Client]) -> tuple[list[float], float]:
    """Have all move sliders in turns, not in step; return how long each picture took, and the CPU of all together."""
    for each in clients:
        each.run("%%answer inherent.predict\nb")  # unlocks them
    pages = [Slides(each) for each in clients]
    time.sleep(3)  # the reply is read
    before = cpu(school)

    def one(k: int) -> list[float]:
        time.sleep(TURN * k / len(pages))
        return [took for turn in range(TURNS) for took in pages[k].turn(turn % len(pages[k].counts))]

    return [took for each in in_parallel(one, range(len(pages))) for took in each], cpu(school) - before


def rest(_one: Client, _k: int) -> float:
    time.sleep(0.5)
    return 0.5


def answer(one: Client, _k: int) -> float:
    took = one.answer("inherent.step", f"{next(NUMBER)} %")
    time.sleep(1)  # nobody answers more often
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


def memory(processes: Sequence[psutil.Process]) -> float:
    """Return the memory of processes [MB], what they share counted once (PSS)."""
    return sum(each.memory_full_info().pss for each in alive(processes)) / 1e6


def cpu(school: RunningSchool) -> float:
    """Return the CPU seconds of the whole school so far: servers, kernels, proxy, hub."""
    return seconds(school.processes())


def seconds(processes: Sequence[psutil.Process]) -> float:
    return sum(sum(each.cpu_times()[:2]) for each in alive(processes))


def alive(processes: Sequence[psutil.Process]) -> Iterator[psutil.Process]:
    for each in processes:
        with contextlib.suppress(psutil.Error):
            each.memory_info()
            yield each


def spread(seconds: Sequence[float]) -> str:
    ordered = sorted(seconds)
    return (
        f"p50 {1000 * ordered[len(ordered) // 2]:.0f} ms, p95 {1000 * ordered[int(0.95 * (len(ordered) - 1))]:.0f} ms"
    )


def sizing(most: int, a_sign_on: float, used: float, a_rest: float, an_answer: float, at_slider: float) -> None:
    """Print what a school of each size needs, by what one apprentice took when most were at work.

    The cores have to do for whichever is more, the work or the minutes in which all sign on.
    """
    working = a_rest + DRAGGING * at_slider + (1 - DRAGGING) * ANSWERS * an_answer
    each = max(working, a_sign_on / ALL_SIGNED_ON)
    print("| apprentices at once | cores | memory | |\n| --- | --- | --- | --- |")
    for count in SIZES:
        gib = (count * used * 1e6 / 2**30 + 1) * 1.2
        said = "within what was measured" if count <= most else "extrapolated"
        print(f"| {count} | {max(2, math.ceil(count * each / HEADROOM))} | {gib:.0f} GiB | {said} |")


if __name__ == "__main__":
    main([int(each) for each in sys.argv[1:]] or COUNTS)
