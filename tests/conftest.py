"""Begins with what takes longest, and says at the end of a run what was left out: a green line alone would hide it."""

from __future__ import annotations

import gc
import os
import shutil
import tempfile
from collections import Counter
from collections.abc import Generator, Iterator
from pathlib import Path

import pytest
from coverage import Coverage
from hypothesis import settings

from tests import kernels

# How long one example takes says something of the machine, not of the code: time is for benchmarks.
settings.register_profile("here", deadline=None)
settings.load_profile("here")


# Files that take more than some seconds, the longest first: they begin first, so that no core waits for another at the end.
# For whoever waits for an answer while working, `-m "not slow"` leaves them out.
SLOW = """
    test_whole_lessons test_every_lesson test_school test_lesson_page test_no_answer test_marked_pages test_access
    test_open_lessons test_lessons
    test_live_pictures test_card_any_input test_giving_out_again test_notebooks test_trade_units test_card_verdicts
    test_course test_pictures test_secrets test_job_cards test_questions test_given_out test_one_item test_reading_time
    test_compare test_feedback test_live test_questions_changed test_hostile test_gradebook test_at_work test_upgrade
    test_live_pictures_capacity test_live_pictures_actuator test_learning test_new_lesson test_guessing test_left_out
    test_notebook test_shown_numbers test_oracle
    test_spare_kernel test_live_pictures_stroke test_any_input test_named_mistakes test_live_pictures_trim
""".split()  # noqa: SIM905 - a list would take a page


IN_MEMORY, ROOM = Path("/dev/shm"), 4 * 2**30  # noqa: S108 - a folder in memory, on Linux; what needs a file makes its own


@pytest.hookimpl(wrapper=True)
def pytest_xdist_auto_num_workers() -> Generator[None, int, int]:
    """Run one worker more than there are cores: a test that waits for a browser or a kernel leaves its core to another."""
    return (yield) + 1


def pytest_configure(config: pytest.Config) -> None:
    config.pluginmanager.register(kernels)  # what stands here itself is asked about tests below this folder only
    if hasattr(config, "workerinput"):  # it has been read by now; a test that runs pytest means to run it plainly
        os.environ.pop("PYTEST_ADDOPTS", None)
    if _has_room(IN_MEMORY):  # thousands of small files come and go, for which a disk takes longer than all the rest
        os.environ.setdefault("TMPDIR", str(IN_MEMORY))
        tempfile.tempdir = None  # found out anew


def _has_room(folder: Path) -> bool:
    """Is there a folder in memory, with room, where programs may run as on the disk?"""
    return folder.is_dir() and shutil.disk_usage(folder).free > ROOM and not os.statvfs(folder).f_flag & os.ST_NOEXEC


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what is slow, the files above and each lesson as a kernel runs it, and put it first."""
    rank = {name: place for place, name in enumerate(SLOW)}
    for item in items:
        if item.path.stem in rank or item.path.suffix == ".ipynb":
            item.add_marker(pytest.mark.slow)
    items.sort(key=lambda item: rank.get(item.path.stem, len(rank)))  # the order within a file stays


def pytest_collection_finish() -> None:
    """Have Python not look through thousands of tests again and again for what can be thrown away."""
    gc.collect()
    gc.freeze()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Iterator[None]:
    """Where coverage is measured, leave slow tests and those of words out of it: they would take up to twice as long."""
    stopped = []
    left_out = item.get_closest_marker("slow") or item.path.parent.name in ("house", "plant")
    while left_out and (measuring := Coverage.current()):  # a worker has one upon the other
        measuring.stop()
        stopped.append(measuring)
    result = yield
    for measuring in reversed(stopped):
        measuring.start()
    return result


@pytest.hookimpl(trylast=True)
def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter, config: pytest.Config) -> None:
    skipped = terminalreporter.stats.get("skipped", [])
    why = Counter(str(report.longrepr[2]).removeprefix("Skipped: ") for report in skipped)
    said = [f"{count} {'test' if count == 1 else 'tests'}: {reason}" for reason, count in sorted(why.items())]
    if any("browser" in str(path) for path in config.getoption("ignore") or ()):
        said.append("tests/browser: they need Chromium; run them as DEVELOPERS.md says")
    if said:
        terminalreporter.section("left out")
        terminalreporter.write_line("\n".join(said))
