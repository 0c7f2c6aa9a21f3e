"""A real JupyterLab on a free port in a temporary folder, and a headless Chromium that looks at it."""

from __future__ import annotations

import contextlib
import json
import os
import secrets
import shutil
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

import nbformat
from playwright.sync_api import Browser, Locator, Page, sync_playwright

from tests.ports import free_port

CHROMIUM = os.environ.get("CHROMIUM", "/usr/bin/chromium")
CHROMIUM_ARGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
SCREENSHOTS = Path(__file__).resolve().parents[2] / ".screenshots"
OPTIONS = (  # as lessons/jupyter/launch.py gives them
    "--ServerApp.kernel_websocket_connection_class=lessons.jupyter.fast_socket.PromptWebsocketConnection",
    "--ContentsManager.pre_save_hook=lessons.jupyter.on_save.drop_widget_views",
)
WAIT = 90_000  # ms; a machine that does other things too


@dataclass(frozen=True)
class Lab:
    """A running server: its folder, address and token."""

    folder: Path
    port: int
    token: str
    server: subprocess.Popen[bytes]
    under: str = ""
    """The folder of its own that a test has among those the server shows; with a stroke at its end."""

    def url(self, notebook: str) -> str:
        # With reset, so that no notebook of an earlier page comes back as a second tab.
        return f"http://127.0.0.1:{self.port}/lab/tree/{self.under}{notebook}?reset&token={self.token}"


@contextlib.contextmanager
def running_lab(folder: Path, *options: str, root: str = "work", cwd: Path | None = None) -> Iterator[Lab]:
    """Start JupyterLab as the launcher does, with settings of its own; stop it at the end."""
    work, port, token = folder / root, free_port(), secrets.token_hex(8)
    work.mkdir(parents=True, exist_ok=True)
    command = [
        sys.executable, "-m", "jupyterlab", "--no-browser", "--allow-root", f"--port={port}", "--port-retries=0",
        f"--IdentityProvider.token={token}", f"--ServerApp.root_dir={work}", *(options or OPTIONS),
    ]  # fmt: skip
    with (folder / "lab.log").open("w") as log:
        server = subprocess.Popen(command, cwd=cwd, env=_environment(folder), stdout=log, stderr=log)
        lab = Lab(work, port, token, server)
        try:
            _wait_until_up(lab, folder / "lab.log")
            yield lab
        finally:
            server.terminate()
            try:
                server.wait(20)
            except subprocess.TimeoutExpired:
                server.kill()


def _environment(folder: Path) -> dict[str, str]:
    config = folder / "config"
    (config / "labconfig").mkdir(parents=True, exist_ok=True)
    # The news extension would ask the network and put a question over the notebook.
    # The lesson page is tried where the launcher opens it; here a notebook stays a notebook.
    off = {"disabledExtensions": {"@jupyterlab/apputils-extension:announcements": True, "ostrel-lesson-page": True}}
    (config / "labconfig" / "page_config.json").write_text(json.dumps(off))
    own = {
        "JUPYTER_CONFIG_DIR": config,
        "JUPYTER_DATA_DIR": folder / "data",
        "JUPYTER_RUNTIME_DIR": folder / "run",
        "IPYTHONDIR": folder / "ipython",
    }
    return os.environ | {name: str(path) for name, path in own.items()} | {"JUPYTER_NO_CONFIG": ""}


def _wait_until_up(lab: Lab, log: Path) -> None:
    end = time.monotonic() + 60
    while time.monotonic() < end and lab.server.poll() is None:
        try:
            with urllib.request.urlopen(f"http://127.0.0.1:{lab.port}/api?token={lab.token}", timeout=2):
                return
        except (urllib.error.URLError, OSError):
            time.sleep(0.2)
    raise RuntimeError(f"JupyterLab did not start:\n{log.read_text()[-3000:]}")


def stop_kernels(lab: Lab) -> None:
    """End all kernels and sessions of the server, as when it is started anew the next day."""
    end_all(lab, "sessions")


def end_all(lab: Lab, what: str) -> None:
    """End all "kernels" of the server, which leaves their sessions, or all "sessions" with their kernels."""
    address = f"http://127.0.0.1:{lab.port}/api/{what}"  # the server we started, so S310 below is safe
    headers = {"Authorization": f"token {lab.token}"}
    with urllib.request.urlopen(urllib.request.Request(address, headers=headers), timeout=10) as reply:
        found = json.load(reply)
    for each in found:
        gone = urllib.request.Request(f"{address}/{each['id']}", headers=headers, method="DELETE")  # noqa: S310
        urllib.request.urlopen(gone, timeout=30).close()  # noqa: S310


@contextlib.contextmanager
def running_chromium() -> Iterator[Browser]:
    """Debian's Chromium, headless."""
    if not (shutil.which(CHROMIUM) or Path(CHROMIUM).exists()):
        raise RuntimeError(f"no Chromium at {CHROMIUM}: apt-get install chromium, or set CHROMIUM.")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=CHROMIUM, args=CHROMIUM_ARGS)
        try:
            yield browser
        finally:
            browser.close()


def write_notebook(path: Path, cells: Sequence[str]) -> None:
    """Write a notebook of code cells."""
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(source) for source in cells],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3", "language": "python"}},
    )
    nbformat.write(notebook, path)


def open_notebook(browser: Browser, lab: Lab, notebook: str) -> Page:
    """Open a notebook in a browser of its own and wait until its kernel is idle."""
    page = browser.new_context(viewport={"width": 1200, "height": 1000}).new_page()
    open_in(page, lab, notebook)
    return page


def open_in(page: Page, lab: Lab, notebook: str) -> None:
    """Open a notebook in this page and wait until its kernel is idle."""
    page.goto(lab.url(notebook), wait_until="domcontentloaded", timeout=WAIT)
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=WAIT)
    wait_until_idle(page)


def wait_until_idle(page: Page) -> None:
    """Wait until the kernel does nothing and no cell is waiting for it."""
    page.wait_for_function(
        """() => document.querySelector('#jp-main-statusbar')?.textContent.includes('| Idle')
        && ![...document.querySelectorAll('.jp-InputPrompt')].some(e => e.textContent.includes('*'))""",
        timeout=WAIT,
    )


def run_cell(page: Page, number: int) -> Locator:
    """Run one code cell, counted from 0, with the keyboard; return its output."""
    cell = page.locator(".jp-Notebook .jp-CodeCell").nth(number)
    prompt = cell.locator(".jp-InputPrompt").first
    before = prompt.inner_text()
    cell.locator(".cm-content").click()
    page.keyboard.press("Control+Enter")
    page.wait_for_function(
        "([e, old]) => /\\d/.test(e.innerText) && e.innerText !== old",
        arg=[prompt.element_handle(), before],
        timeout=WAIT,
    )
    wait_until_idle(page)
    return cell.locator(".jp-Cell-outputArea")


def run_all(page: Page) -> None:
    """Run all cells by the menu, as an apprentice does."""
    page.get_by_role("menuitem", name="Run", exact=True).click()
    page.locator(".lm-Menu-itemLabel", has_text="Run All Cells").first.click()
    page.wait_for_timeout(300)
    wait_until_idle(page)


def save(page: Page) -> None:
    """Save the notebook with the keyboard and wait until it is on the disk."""
    page.keyboard.press("Control+s")
    page.wait_for_function("!document.querySelector('.lm-mod-current.jp-mod-dirty')", timeout=WAIT)
    page.wait_for_timeout(500)


def screenshot(page: Page, name: str) -> Path:
    """Take a picture of the page into .screenshots."""
    SCREENSHOTS.mkdir(exist_ok=True)
    path = SCREENSHOTS / f"{name}.png"
    page.screenshot(path=path)
    return path
