"""The job cards as a technician opens them: served without code by the project's own command, seen at tablet size."""

from __future__ import annotations

import contextlib
import re
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import Browser, Page

from tests.browser.lab import WAIT
from tests.ports import free_port

TABLET = {"width": 768, "height": 1024}
ELSEWHERE = re.compile(r"^(?!http://127\.0\.0\.1|blob:|data:|file:)")


@dataclass(frozen=True)
class Cards:
    """A running card server: its working copy, address and log."""

    folder: Path
    port: int
    log: Path
    server: subprocess.Popen[bytes]

    def url(self, card: str = "") -> str:
        return f"http://127.0.0.1:{self.port}/" + (f"card/{card}" if card else "")


@contextlib.contextmanager
def running_cards(folder: Path, *options: str, port: int = 0) -> Iterator[Cards]:
    """Run `python -m lessons --cards` on a working copy, new if it is not there; stop it at the end."""
    work, log_file, port = folder / "my-lessons", folder / "cards.log", port or free_port()
    command = [sys.executable, "-m", "lessons", "--to", str(work), "--cards", "--no-browser",
               f"--port={port}", "--host=127.0.0.1", *options]  # fmt: skip
    with log_file.open("w") as log:
        server = subprocess.Popen(command, stdout=log, stderr=log)
        cards = Cards(work, port, log_file, server)
        try:
            _wait_until_up(cards)
            yield cards
        finally:
            server.terminate()
            try:
                server.wait(20)
            except subprocess.TimeoutExpired:
                server.kill()


def _wait_until_up(cards: Cards) -> None:
    end = time.monotonic() + 60
    while time.monotonic() < end and cards.server.poll() is None:
        try:
            with urllib.request.urlopen(cards.url(), timeout=2):  # noqa: S310
                return
        except urllib.error.HTTPError:
            return  # it answers, if only that it wants a token
        except (urllib.error.URLError, OSError):
            time.sleep(0.2)
    raise RuntimeError(f"the card server did not start:\n{cards.log.read_text()[-3000:]}")


def tablet(browser: Browser) -> Page:
    """Open an empty page of tablet size without a network beyond this machine."""
    page = browser.new_context(viewport=TABLET, accept_downloads=True).new_page()
    page.route(ELSEWHERE, lambda route: route.abort())
    return page


def open_card(page: Page, cards: Cards, name: str) -> None:
    """Open a card and wait for its answer."""
    page.goto(cards.url(name), wait_until="domcontentloaded", timeout=WAIT)
    page.wait_for_selector(".ostrel-headline", timeout=WAIT)
