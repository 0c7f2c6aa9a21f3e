"""Without Chromium the browser tests are left out, and the run says so."""

from __future__ import annotations

import shutil

import pytest

from tests.browser.lab import CHROMIUM


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    if shutil.which(CHROMIUM):
        return
    missing = pytest.mark.skip(reason=f"no Chromium at {CHROMIUM}: apt-get install chromium, or set CHROMIUM")
    for item in items:
        if "/browser/" in item.path.as_posix():
            item.add_marker(missing)
