"""One Chromium, one server of lessons and one of cards for all browser tests; without Chromium they are left out, and the run says so."""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from lessons.questions import progress
from tests.browser import lab as labs
from tests.browser.card_pages import Cards, running_cards
from tests.browser.lab import CHROMIUM
from tests.browser.lessons_lab import BADGE, running_lessons

expect.set_options(timeout=labs.WAIT)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with labs.running_chromium() as chromium:
        yield chromium


@pytest.fixture(scope="session")
def lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[labs.Lab]:
    """The lessons as the project's own command opens them; what changes something takes a copy of its own."""
    with running_lessons(tmp_path_factory.mktemp("lessons")) as running:
        progress.keep_sign_on(running.folder, BADGE, "si")
        yield running


@pytest.fixture(scope="session")
def cards(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Cards]:
    """The job cards as they are served without code."""
    with running_cards(tmp_path_factory.mktemp("cards")) as running:
        yield running


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    if shutil.which(CHROMIUM):
        return
    missing = pytest.mark.skip(reason=f"no Chromium at {CHROMIUM}: apt-get install chromium, or set CHROMIUM")
    for item in items:
        if "/browser/" in item.path.as_posix():
            item.add_marker(missing)
