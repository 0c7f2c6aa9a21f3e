"""The lessons as an apprentice opens them: started with the project's own command, worked in Chromium."""

from __future__ import annotations

import contextlib
import dataclasses
import json
import os
import re
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Locator, Page

from lessons.jupyter.working_copy import working_copy
from lessons.questions import progress
from tests.browser.lab import WAIT, Lab, _wait_until_up
from tests.ports import free_port

BADGE = "4711"
TOKEN = "lessons-under-test"  # noqa: S105 - a server on loopback that lives for one test


@contextlib.contextmanager
def running_lessons(folder: Path, port: int = 0) -> Iterator[Lab]:
    """Run `python -m lessons` on a working copy, new if it is not there; stop it at the end."""
    work, port = folder / "my-lessons", port or free_port()
    command = [sys.executable, "-m", "lessons", "--to", str(work), "--no-browser", f"--port={port}"]
    environment = os.environ | {
        "JUPYTER_TOKEN": TOKEN,
        "JUPYTER_RUNTIME_DIR": str(folder / "run"),
        "JUPYTER_CONFIG_DIR": str(folder / "config"),
    }
    configure_exchange(folder)
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


def configure_exchange(folder: Path) -> None:
    """Tell the server's machine of an exchange, as yet without a course."""
    (folder / "config").mkdir(exist_ok=True)
    (folder / "exchange").mkdir(exist_ok=True)
    settings = f"c = get_config()\nc.Exchange.root = {str(folder / 'exchange')!r}\n"
    (folder / "config" / "nbgrader_config.py").write_text(settings, encoding="utf-8")


def own_copy(lab: Lab, name: str, badge: str = BADGE, units: str = "si") -> Lab:
    """Make a working copy of its own in a folder below the server's: nothing is answered, and nobody else is there."""
    folder = lab.folder / name
    working_copy(folder)
    if badge:
        progress.keep_sign_on(folder, badge, units)
    return dataclasses.replace(lab, folder=folder, under=f"{name}/")


def cells_in(lab: Lab, notebook: str) -> list[str]:
    """Return what stands in each cell of a lesson's file; the server empties a file before it writes it anew."""
    for _ in range(50):
        with contextlib.suppress(json.JSONDecodeError):
            cells = json.loads((lab.folder / notebook).read_text(encoding="utf-8"))["cells"]
            return ["".join(cell["source"]) for cell in cells]
        time.sleep(0.1)
    raise AssertionError(f"{notebook} is no notebook, and stays so")


def answers_in(lab: Lab, notebook: str) -> dict[str, str]:
    """Return what stands in each box of a lesson's file."""
    boxes = (re.match(r"%%answer (\S+)\n?([\s\S]*)", source) for source in cells_in(lab, notebook))
    return {box[1]: box[2].strip() for box in boxes if box}


def open_lesson(browser: Browser, lab: Lab, notebook: str, **context: Any) -> Page:
    """Open a lesson and wait until it has run, which it does by itself."""
    page = browser.new_context(**{"viewport": {"width": 1200, "height": 1000}, **context}).new_page()
    page.goto(lab.url(notebook), wait_until="domcontentloaded", timeout=WAIT)
    wait_until_ready(page)
    return page


def go_to(page: Page, lab: Lab, notebook: str) -> None:
    """Go to a lesson, of whichever working copy, by a link within the JupyterLab that is loaded."""
    page.evaluate(_FOLLOW, f"/lab/tree/{lab.under}{notebook}")
    arrived = page.locator(".ostrel-page:not([data-left]):not(.ostrel-starting) .ostrel-end")
    arrived.wait_for(state="attached", timeout=WAIT)


_FOLLOW = """(address) => {
    for (const each of document.querySelectorAll("[data-left]")) delete each.dataset.left;
    if (decodeURI(location.pathname) === address) return;
    const former = document.querySelector(".ostrel-page");
    former.dataset.left = "";
    const link = Object.assign(document.createElement("a"), { href: address });
    former.querySelector(".jp-WindowedPanel-outer").append(link);
    link.click();
    link.remove();
}"""


def wait_until_ready(page: Page) -> None:
    """Wait until the lesson in front has run and shows what it holds."""
    page.locator(".ostrel-page:not(.ostrel-starting) .ostrel-end").wait_for(state="attached", timeout=WAIT)


def answer_card(page: Page, question_id: str) -> Locator:
    """Return the card of a question."""
    return page.locator(f".ostrel-page .ostrel-card[data-question='{question_id}']")


def give_answer(page: Page, question_id: str, text: str) -> str:
    """Answer a question by its controls and the mouse, from the text that could be typed too; return the reply."""
    card = answer_card(page, question_id)
    card.scroll_into_view_if_needed()
    fill(card, text)
    card.get_by_role("button", name="Check").click()
    return reply(page, card)


def reply(page: Page, card: Locator) -> str:
    """Return what the card says to the answer that was just checked, once it is in the file."""
    # Not by `expect`, that describes the whole page each time it has to look once more.
    ready = "e => e.getAttribute('aria-busy') === 'false'"
    page.wait_for_function(ready, arg=card.element_handle(), polling=50, timeout=WAIT)
    return card.locator(".ostrel-said").inner_text()


def fill(card: Locator, text: str) -> None:
    """Bring the controls of a card to where they say this answer."""
    if card.locator(".ostrel-number, textarea").count():
        card.locator(".ostrel-number, textarea").fill(text)
    elif card.locator(".ostrel-steps").count():
        _order(card, text.split())
    elif card.locator(".ostrel-pairs").count():
        for place, letter in re.findall(r"(\d+)([a-z])", text):
            row = card.locator(".ostrel-pair").filter(has=card.page.locator(f"b:text-is('{place}')"))
            row.locator("select").select_option(letter)
    else:
        options = card.locator(".ostrel-option input")
        for k in options.evaluate_all(_TO_CLICK, text.split()):
            options.nth(k).click()


_TO_CLICK = """(boxes, wanted) => boxes.flatMap((box, k) => {
    const wants = wanted.includes(box.value);
    return wants !== box.checked && (wants || box.type === "checkbox") ? [k] : [];
})"""


def _order(card: Locator, letters: list[str]) -> None:
    for place, letter in enumerate(letters):
        step = card.locator(f".ostrel-step[data-letter='{letter}']")
        for _ in range(int(step.locator(".ostrel-place").inner_text()) - place - 1):
            step.get_by_role("button", name="Move up").click()
