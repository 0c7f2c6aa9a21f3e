"""How much faster marking is than nbgrader's own autograde on the same hand-ins, and that memory stays flat.

    python -m tests.benchmarks.marking            the ratios, about a minute
    python -m tests.benchmarks.marking --large    also 10,000 hand-ins in one run, twice, some minutes and 8 GB of disk

The 10,000 are once as apprentices save them, with what their cells showed (about 200 kB), and once without that (16 kB),
where all but reading weighs more.

Both sides mark the same files into an SQLite gradebook and leave marked notebooks, in this process, with everything
loaded before the clock starts; nbgrader starts a kernel for each hand-in, because it runs them.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import resource
import shutil
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import nbformat
from nbclient import NotebookClient

from grading import workorders
from grading.course.course import Course, new_course, open_course, write_safely
from grading.demo.demo import roster_csv
from grading.demo.demo_class import filled_in, people, plans
from grading.given_out.given_out import given_out
from grading.giving_out.give_out import find_lesson, give_out
from grading.marking.compare import autograde, copy_course, differences, marks_of
from grading.marking.mark_lesson import mark_lesson
from grading.report.class_tables import write_tables
from grading.report.handing_back.pages_back import write_pages_back
from grading.taking_in.take_in import take_in

BACK = "back"
STEPS = ("take_in", "mark", "nothing_new", "hand_back", "tables")


def make(root: Path, count: int, number: str = "05", *, run: bool = False) -> tuple[Course, str]:
    """Make a course with `count` hand-ins in its folder `back`, not yet taken in; `run` with what their cells showed."""
    course = new_course(root, secret="")
    write_safely(course.root / "roster.csv", roster_csv(people(count)))
    lesson, path = find_lesson(number)
    give_out(course, lesson, path)
    released = json.loads((course.root / "as_sent" / lesson / f"{lesson}.ipynb").read_text(encoding="utf-8"))
    released = as_run(released, root) if run else released
    questions = workorders.in_notebook(path)
    for i, person in enumerate(course.roster.values()):
        data = filled_in(released, plans(questions, person, i))
        write_safely(course.root / BACK / f"{person.badge}.ipynb", data, lasting=False)
    return course, lesson


def as_run(released: dict[str, Any], folder: Path) -> dict[str, Any]:
    """Return a work order as a kernel leaves it that ran its cells."""
    notebook = nbformat.reads(json.dumps(released), as_version=4)  # type: ignore[no-untyped-call]
    where = {"metadata": {"path": str(folder)}}
    NotebookClient(
        notebook, resources=where, kernel_name="python3", allow_errors=True, store_widget_state=False
    ).execute()
    return json.loads(nbformat.writes(notebook))  # type: ignore[no-any-return, no-untyped-call]


@dataclass(frozen=True)
class Cost:
    """How long some work took, and how much of the processors it used, kernels included [s]."""

    wall: float
    cpu: float


def cost(work: Callable[[], object]) -> Cost:
    """Return what some work costs."""
    wall, cpu = time.perf_counter(), _cpu()
    work()
    return Cost(time.perf_counter() - wall, _cpu() - cpu)


def _cpu() -> float:
    uses = [resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)]
    return sum(use.ru_utime + use.ru_stime for use in uses)


def ratios(root: Path) -> None:
    """Measure and print the ratios."""
    course, lesson = make(root / "small", 12)
    take_in(course, course.root / BACK, quiet=True)
    badges = sorted(course.roster)
    (root / "nbgrader").mkdir()
    other = copy_course(course, lesson, badges, root / "nbgrader")
    ours = cost(lambda: mark_lesson(course, lesson, quiet=True))
    theirs = cost(lambda: autograde(other, lesson))
    wrong = list(differences(lesson, marks_of(course, lesson), marks_of(other, lesson)))
    print(
        f"class of 12: nbgrader {theirs.wall:.2f} s, here {ours.wall:.3f} s; marks that differ: {len(wrong)} (target 0)"
    )
    tell("class of 12, marking", theirs.wall / ours.wall, 50)
    big, lesson = make(root / "big", 240)
    take_in(big, big.root / BACK, quiet=True)
    marking = cost(lambda: mark_lesson(big, lesson, quiet=True))
    pages = cost(lambda: write_pages_back(big, lesson, quiet=True))
    nbgrader, ms = 240 / 12 * theirs.wall, 1e3 / 240
    print(
        f"per hand-in: nbgrader {nbgrader * ms:.0f} ms, marking {marking.wall * ms:.2f} ms, page {pages.wall * ms:.2f} ms"
    )
    tell("per hand-in in a class of 240, marking", nbgrader / marking.wall, 200)
    tell("per hand-in in a class of 240, marking and feedback", nbgrader / (marking.wall + pages.wall), 50)
    print(f"the same by processor time, for a machine that others use too: {240 / 12 * theirs.cpu / marking.cpu:.0f}")


def tell(what: str, ratio: float, target: float) -> None:
    """Print one ratio with its target."""
    print(f"{what}: {ratio:.0f} times as fast (target {target:.0f}): {'met' if ratio >= target else 'MISSED'}")


def large(root: Path, *, run: bool) -> None:
    """Take in and mark 1,000 and 10,000 hand-ins, each in a process of its own, and print time and peak memory."""
    costs = {count: measured(root / f"{count}", count, run=run) for count in (1_000, 10_000)}
    for step in STEPS:
        grows = costs[10_000][step] / costs[1_000][step] / 10
        print(f"{step}, each of 10,000 over each of 1,000: {grows:.2f} (target about 1)")
    more = costs[10_000]["peak_mb"] / costs[1_000]["peak_mb"]
    print(f"memory at 10,000 over 1,000: {more:.2f} (target at most 1.15)")


def measured(root: Path, count: int, *, run: bool) -> dict[str, float]:
    """Print and return what so many hand-ins cost, each step; nothing of them is left."""
    course, lesson = make(root, count, run=run)
    taken = cost(lambda: take_in(course, course.root / BACK, quiet=True))
    command = [sys.executable, "-m", "tests.benchmarks.marking", "--mark", str(course.root), lesson]
    ran = subprocess.run(command, check=True, capture_output=True, text=True)
    said = {"take_in": taken.cpu, **json.loads(ran.stdout)}
    size = next((course.root / BACK).iterdir()).stat().st_size / 1e3
    shutil.rmtree(root)
    print(f"{count} hand-ins of {size:.0f} kB: marked in {said['seconds']:.1f} s, peak {said['peak_mb']:.0f} MB")
    for step in STEPS:
        ratio, each = said[step] / said["allowed"], said[step] / count * 1e3
        print(f"  {step}: {each:.2f} ms each, {ratio:.2f} of three readings and a transaction each (target at most 1)")
    return said


def mark_and_tell(root: Path, lesson: str) -> None:
    """Mark a prepared course and print time and peak memory as JSON."""
    course = open_course(root)
    allowed = cost(lambda: read_and_note(course, lesson)).cpu
    marked = cost(lambda: mark_lesson(course, lesson, quiet=True))
    said = {"seconds": marked.wall, "peak_mb": _peak_mb(), "mark": marked.cpu}
    # Processor time, because others use the machine too.
    said["nothing_new"] = cost(lambda: mark_lesson(course, lesson, quiet=True)).cpu
    said["hand_back"] = cost(lambda: write_pages_back(course, lesson, quiet=True)).cpu
    said["tables"] = cost(lambda: write_tables(course, lesson)).cpu
    said["allowed"] = (allowed + cost(lambda: read_and_note(course, lesson)).cpu) / 2  # the machine's speed may change
    print(json.dumps(said))


def read_and_note(course: Course, lesson: str) -> None:
    """Read and parse every hand-in three times, and write as many rows as its marks are in one transaction for each."""
    with contextlib.closing(sqlite3.connect(course.root / "allowed.db")) as connection:
        connection.execute("PRAGMA journal_mode=WAL")
        connection.execute("PRAGMA synchronous=NORMAL")
        connection.execute("DROP TABLE IF EXISTS mark")
        connection.execute("CREATE TABLE mark (badge TEXT, question TEXT, score REAL, said TEXT)")
        connection.execute("CREATE INDEX mark_badge ON mark (badge)")
        questions = [question.id for question in given_out(course, lesson).latest.questions]
        rows_each = [*questions * 3, *("submission", "notebook", "hand-in", "marked by")]  # grade, comment, answer
        for badge in course.roster:
            for _ in range(3):
                json.loads(course.submitted(badge, lesson).read_text(encoding="utf-8"))
            rows = [(badge, each, 1.0, "What was read, and what it means.") for each in rows_each]
            with connection:
                connection.executemany("INSERT INTO mark VALUES (?, ?, ?, ?)", rows)


def _peak_mb() -> float:
    # Not ru_maxrss, which a child process takes over from the one that started it.
    lines = Path("/proc/self/status").read_text(encoding="utf-8").splitlines()
    return int(next(line for line in lines if line.startswith("VmHWM")).split()[1]) / 1024


def main() -> None:
    """Run what was asked for."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--large", action="store_true")
    parser.add_argument("--only-large", action="store_true")
    parser.add_argument("--mark", nargs=2, metavar=("COURSE", "LESSON"))
    options = parser.parse_args()
    if options.mark:
        mark_and_tell(Path(options.mark[0]), options.mark[1])
        return
    with tempfile.TemporaryDirectory() as folder:
        if not options.only_large:
            ratios(Path(folder).resolve())
        if options.large or options.only_large:
            for run in (True, False):
                large(Path(folder).resolve(), run=run)


if __name__ == "__main__":
    main()
