"""The lessons as an apprentice opens them: started with the project's own command, worked in Chromium."""

from __future__ import annotations

import contextlib
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import Locator, Page

from tests.browser.lab import Lab, _free_port, _wait_until_up, wait_until_idle

TOKEN = "lessons-under-test"  # noqa: S105 - a server on loopback that lives for one test


@contextlib.contextmanager
def running_lessons(folder: Path, port: int = 0) -> Iterator[Lab]:
    """Run `python -m lessons` on a working copy, new if it is not there; stop it at the end."""
    work, port = folder / "my-lessons", port or _free_port()
    command = [sys.executable, "-m", "lessons", "--to", str(work), "--no-browser", f"--port={port}"]
    environment = os.environ | {"JUPYTER_TOKEN": TOKEN, "JUPYTER_RUNTIME_DIR": str(folder / "run")}
    with (folder / "lessons.log").open("w") as log:
        server = subprocess.Popen(command, env=environment, stdout=log, stderr=log)
        try:
            lab = Lab(work, port, TOKEN, server)
            _wait_until_up(lab, folder / "lessons.log")
            yield lab
        finally:
            server.terminate()
            try:
                server.wait(20)
            except subprocess.TimeoutExpired:
                server.kill()


def answer_cell(page: Page, question_id: str) -> Locator:
    """Return the cell in which a question is answered."""
    return page.locator(".jp-Notebook .jp-CodeCell").filter(
        has=page.locator(".cm-line", has_text=re.compile(rf"^%%answer {re.escape(question_id)}$")).first
    )


def type_answer(page: Page, question_id: str, text: str) -> str:
    """Type an answer as a person does, run the cell, and return the reply."""
    cell = answer_cell(page, question_id)
    cell.scroll_into_view_if_needed()
    cell.locator(".cm-content").click()
    page.keyboard.press("Control+a")
    page.keyboard.insert_text(f"%%answer {question_id}\n{text}")
    page.keyboard.press("Shift+Enter")
    page.wait_for_timeout(300)
    wait_until_idle(page)
    return cell.locator(".jp-OutputArea").inner_text()
