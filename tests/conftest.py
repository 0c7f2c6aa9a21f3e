"""Deals tests out to the cores, and says at the end of a run what was left out, and why: a green line would hide it."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import settings

# How long one example takes says something of the machine, not of the code: time is for benchmarks.
settings.register_profile("here", deadline=None)
settings.load_profile("here")


# Long files whose tests share nothing that is dear to make: each test goes to the core that is free.
SPREAD = {
    "test_card_any_input.py", "test_giving_out_again.py", "test_given_out.py", "test_job_cards.py", "test_live_pictures.py",
    "test_named_mistakes.py", "test_notebooks.py", "test_pictures.py", "test_questions.py", "test_trade_units.py",
}  # fmt: skip


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Keep the other files whole: cells of a notebook run one after another, and a class is made once for its tests."""
    for item in items:
        if item.path.name not in SPREAD:
            item.add_marker(pytest.mark.xdist_group(str(item.path)))


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
