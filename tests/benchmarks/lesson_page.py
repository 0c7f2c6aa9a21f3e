"""A lesson's page against stock JupyterLab: address to ready, and Check to reply.

Run ``python -m tests.benchmarks.lesson_page``. Both are measured in turns, each time with a kernel to be started, so
only the ratios mean something on a machine that does other things too.
"""

from __future__ import annotations

import contextlib
import itertools
import statistics
import tempfile
import time
from pathlib import Path

from playwright.sync_api import Browser, Error, Locator, Page

from lessons.questions import progress
from tests.browser import lab as labs
from tests.browser.lessons_lab import answer_card, running_lessons, wait_until_ready

ROUNDS, ANSWERS = 7, 12
LESSON, QUESTION = "04_inherent_characteristic.ipynb", "inherent.coefficient"
READY, REPLY = 1.0, 1.3  # at most
SPARE_THERE = (
    18  # s after a lesson was opened; until then the next spare process gets ready, at the cost of either side
)
ALWAYS_ANOTHER = itertools.count(900)  # what was answered to earlier numbers gets another reply
WATCH = """([target, done]) => {
  window.seen = new Promise((resolve, reject) => {
    setTimeout(reject, 20_000, new Error(`waited in vain for ${done}`));
    let start = 0;
    window.addEventListener('keydown', (event) => { if (event.key === 'Enter') start = event.timeStamp; }, {capture: true});
    const observer = new MutationObserver(() => {
      if (!start || !new RegExp(done).test(target.textContent)) return;
      observer.disconnect();
      requestAnimationFrame(() => resolve(performance.now() - start));
    });
    observer.observe(target, {subtree: true, childList: true, characterData: true});
  });
}"""


def opened(browser: Browser, lab: labs.Lab, notebook: str) -> tuple[Page, float]:
    """Open an address with no kernel running; return the page, and seconds until it can be worked with."""
    labs.stop_kernels(lab)
    page = browser.new_context(viewport={"width": 1366, "height": 768}).new_page()
    start = time.perf_counter()
    page.goto(lab.url(notebook), wait_until="commit", timeout=labs.WAIT)
    if notebook == LESSON:
        wait_until_ready(page)
        answer_card(page, "inherent.predict").locator(".ostrel-option").first.click()
    else:
        cell = page.locator(".jp-Notebook .jp-CodeCell").first
        cell.locator(".cm-content").click(timeout=labs.WAIT)
        run_until_answered(page, cell.locator(".jp-OutputArea-output", has_text="1"))
    return page, time.perf_counter() - start


def run_until_answered(page: Page, output: Locator) -> None:
    """Press the keys, and again where they came too early to be heard: then a reader would press again too."""
    for _ in range(labs.WAIT // 2000):
        page.keyboard.press("Control+Enter")
        with contextlib.suppress(Error):
            output.wait_for(timeout=2000)
            return
    raise RuntimeError("the stock notebook did not run")


def answered(page: Page) -> list[float]:
    """Answer a question some times, always differently; return milliseconds from Enter to the reply."""
    card, times = answer_card(page, QUESTION), []
    said, box = card.locator(".ostrel-said"), card.locator(".ostrel-number")
    for number in itertools.islice(ALWAYS_ANOTHER, ANSWERS):
        page.wait_for_timeout(600)  # what the answer before has set going is done, new numbers too
        box.fill(f"Kv {number}")
        page.evaluate(WATCH, [said.element_handle(), f"Read as Kv {number}"])
        box.press("Enter")
        times.append(page.evaluate("window.seen"))
    return times


def run_empty(page: Page) -> list[float]:
    """Run an empty statement some times; return milliseconds from the keys to the number that says it has run."""
    prompt, times = page.locator(".jp-Notebook .jp-CodeCell .jp-InputPrompt").first, []
    page.locator(".jp-Notebook .jp-CodeCell .cm-content").first.click()
    page.keyboard.press("Control+a")
    page.keyboard.type("pass")
    for _ in range(ANSWERS):
        page.wait_for_timeout(600)
        page.evaluate(WATCH, [prompt.element_handle(), r"\[\d+\]"])
        page.keyboard.press("Control+Enter")
        times.append(page.evaluate("window.seen"))
    return times


def say(words: str, ratio: float, most: float) -> None:
    print(f"{words:<62} {ratio:5.2f}   target <= {most:<4} {'met' if ratio <= most else 'MISSED'}")


def main() -> None:
    ready: dict[str, list[float]] = {"lesson": [], "stock": []}
    replies: dict[str, list[float]] = {"lesson": [], "stock": []}
    with (
        tempfile.TemporaryDirectory() as folder,
        running_lessons(Path(folder)) as lessons,
        labs.running_lab(Path(folder) / "stock") as stock,
        labs.running_chromium() as browser,
    ):
        progress.keep_sign_on(lessons.folder, "4711", "si")
        labs.write_notebook(stock.folder / "one.ipynb", ["1"])
        for _ in range(ROUNDS):
            for name, lab, notebook in (("stock", stock, "one.ipynb"), ("lesson", lessons, LESSON)):
                page, seconds = opened(browser, lab, notebook)
                ready[name].append(seconds)
                replies[name] += answered(page) if name == "lesson" else run_empty(page)
                page.context.close()
            time.sleep(SPARE_THERE)
    for kind, times, unit in (("address to ready", ready, "s"), ("to the reply", replies, "ms")):
        for name, values in times.items():
            print(f"{name:<8} {kind:<18} median {statistics.median(values):8.2f} {unit} of {len(values)}")
    say("lesson ready / stock notebook opened and run", _ratio(ready), READY)
    say("Check to reply / an empty cell run", _ratio(replies), REPLY)


def _ratio(times: dict[str, list[float]]) -> float:
    return statistics.median(times["lesson"]) / statistics.median(times["stock"])


if __name__ == "__main__":
    main()
