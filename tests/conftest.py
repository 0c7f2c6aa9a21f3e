"""Says at the end of a run what was left out, and why: a green line alone would hide it."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import settings

# How long one example takes says something of the machine, not of the code: time is for benchmarks.
settings.register_profile("here", deadline=None)
settings.load_profile("here")


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
