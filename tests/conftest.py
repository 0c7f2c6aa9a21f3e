"""Says at the end of a run what was left out, and why: a green line alone would hide it."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import settings

# How long one example takes says something of the machine, not of the code: time is for benchmarks.
settings.register_profile("here", deadline=None)
settings.load_profile("here")


# Files that take more than some seconds, for whoever waits for an answer while working: `-m "not slow"` leaves them out.
SLOW = [
    "test_at_work",
    "test_card_any_input",
    "test_compare",
    "test_course",
    "test_feedback",
    "test_given_out",
    "test_giving_out_again",
    "test_gradebook",
    "test_guessing",
    "test_hostile",
    "test_lesson_page",
    "test_live_pictures",
    "test_live_pictures_stroke",
    "test_named_mistakes",
    "test_new_lesson",
    "test_notebook",
    "test_notebooks",
    "test_one_item",
    "test_oracle",
    "test_questions",
    "test_reading_time",
    "test_secrets",
    "test_shown_numbers",
    "test_trade_units",
    "test_written_note",
]


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark what is slow: the files above, and each lesson as a kernel runs it."""
    for item in items:
        if item.path.stem in SLOW or item.path.suffix == ".ipynb":
            item.add_marker(pytest.mark.slow)


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
