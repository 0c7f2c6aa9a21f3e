"""Live pictures against the empty round trip, `interact` and a slider without a kernel, in a real JupyterLab.

Run ``python -m tests.benchmarks.live``. Every path is measured in turns in one page, from the key to the end of the
page's frame that shows the change, so only the ratios mean something on a machine that does other things too.
The live picture is the busy one (102 moving parts); `interact` draws one curve with its point, which favours it.
"""

from __future__ import annotations

import random
import statistics
import tempfile
from pathlib import Path

from playwright.sync_api import Locator, Page

from tests.browser import lab as labs

ROOT = Path(__file__).resolve().parents[2]
ROUNDS, KEYS, DRAG_MOVES = 6, 12, 150
CELLS = [
    f"""import sys; sys.path.insert(0, {str(ROOT)!r})
import ipywidgets, matplotlib.pyplot as plt
from IPython.display import HTML, display
from lessons.live import Live
from tests.browser.live_figures import X, busy_picture
%matplotlib inline""",
    """empty, label = ipywidgets.IntSlider(50, 0, 1000), ipywidgets.Label("50")
empty.observe(lambda change: setattr(label, "value", str(change.new)), "value")
ipywidgets.VBox([empty, label])""",
    """keep, Live._start_sweep = Live._start_sweep, lambda self, request: None
one = busy_picture()
one._start_sweep = lambda request: None
Live._start_sweep = keep
one""",
    "ahead = busy_picture()\nahead",
    """HTML('<input type="range" min="0" max="200" value="100" class="alone" oninput="this.nextSibling.textContent = '
     'this.value" onkeydown="event.stopPropagation()"><span class="alone-value">100</span>')""",
    """def draw(n):
    figure, axes = plt.subplots(figsize=(7, 4), layout="constrained")
    flow, n = 120 * (10 + n) ** (X - 1), 100 + n // 20
    axes.plot(X, flow)
    axes.fill_between(X, flow, alpha=0.15)
    axes.plot(X[n], flow[n], "o")
    axes.text(X[n], flow[n], f"{flow[n]:.1f} m³/h")
    axes.set(xlabel="travel", ylabel="flow")
    axes.grid()
    plt.show()
ipywidgets.interact(draw, n=ipywidgets.IntSlider(50, 0, 1000));""",
]
# path: cell, slider in it, what changes
PATHS = {
    "empty round trip": (1, ".noUi-handle", ".widget-label:last-child"),
    "one frame a request": (2, ".ostrel-live input", ".ostrel-picture svg"),
    "sweep ahead": (3, ".ostrel-live input", ".ostrel-picture svg"),
    "slider without kernel": (4, "input.alone", ".alone-value"),
    "interact, new figure": (5, ".noUi-handle", ".widget-output"),
}
WATCH = """([target, image]) => {
  const src = () => target.querySelector('img')?.src;
  const before = src();
  window.seen = new Promise((resolve) => {
    setTimeout(() => resolve(null), 5000);
    let start = 0;
    window.addEventListener('keydown', (event) => { start = event.timeStamp; }, {capture: true, once: true});
    const observer = new MutationObserver(() => {
      if (!start || (image && (!src() || src() === before))) return;
      observer.disconnect();
      requestAnimationFrame(() => { // and a message after it: the frame is done
        const channel = new MessageChannel();
        channel.port1.onmessage = () => resolve(performance.now() - start);
        channel.port2.postMessage(0);
      });
    });
    observer.observe(target, {subtree: true, childList: true, attributes: true, characterData: true});
  });
}"""
FOLLOW = """([input, svg]) => {
  const count = window.count = {events: 0, shown: 0, frames: 0, blank: 0, on: true};
  input.addEventListener('input', () => { if (count.on) count.events++; });
  new MutationObserver(() => { if (count.on) count.shown++; }).observe(svg, {subtree: true, characterData: true});
  const text = svg.querySelector('[data-part=number19] text'), path = svg.querySelector('[data-part=curve0] path');
  const look = () => {
    if (!count.on) return;
    count.frames++;
    if (!svg.isConnected || !svg.getBoundingClientRect().height || !text.textContent.trim()
        || !path.getAttribute('d')) count.blank++;
    requestAnimationFrame(look);
  };
  look();
}"""


def measured(page: Page, name: str) -> list[float]:
    """Press a slider's key some times; return milliseconds until each change was on the page."""
    number, slider, target = PATHS[name]
    cell = page.locator(".jp-Notebook .jp-CodeCell").nth(number)
    cell.scroll_into_view_if_needed()
    cell.locator(slider).first.focus()
    page.wait_for_timeout(300)  # a sweep asked for by the focus is there then, as it is for a reader
    times = []
    for key in range(KEYS):
        page.evaluate(WATCH, [cell.locator(target).first.element_handle(), name.startswith("interact")])
        page.wait_for_timeout(random.uniform(30, 80))  # noqa: S311  at any phase of the screen's frames
        page.keyboard.press("ArrowRight" if key % 2 else "ArrowLeft")
        seen = page.evaluate("window.seen")
        if seen is None:
            raise RuntimeError(f"{name}: nothing changed within 5 s of a key")
        times.append(seen)
    return times


def dragged(page: Page, name: str) -> dict[str, int]:
    """Drag a slider to and fro; return counts of slider events, of changes shown, of page frames and of blank ones."""
    number, slider, target = PATHS[name]
    cell = page.locator(".jp-Notebook .jp-CodeCell").nth(number)
    cell.scroll_into_view_if_needed()
    handle: Locator = cell.locator(slider).first
    page.evaluate(FOLLOW, [handle.element_handle(), cell.locator(target).first.element_handle()])
    box = handle.bounding_box()
    assert box is not None
    y, left, width = box["y"] + box["height"] / 2, box["x"] + 10, box["width"] - 20
    page.mouse.move(left, y)
    page.mouse.down()
    for k in range(DRAG_MOVES):
        page.mouse.move(left + width * abs((k / 50) % 2 - 1), y)
        page.wait_for_timeout(12)
    page.wait_for_timeout(300)  # answers still on their way
    page.evaluate("window.count.on = false")
    page.mouse.up()
    return page.evaluate("window.count")


def say(words: str, ratio: float, target: str, good: bool) -> None:
    print(f"{words:<58} {ratio:6.2f}   target {target:<8} {'met' if good else 'MISSED'}")


def report(times: dict[str, list[float]], drags: dict[str, dict[str, int]]) -> None:
    """Print medians and ratios with their targets."""
    median = {name: statistics.median(values) for name, values in times.items()}
    for name, value in median.items():
        print(f"{name:<24} median {value:7.1f} ms of {len(times[name])} keys")
    one = median["one frame a request"] / median["empty round trip"]
    faster = median["interact, new figure"] / median["one frame a request"]
    sweep = median["sweep ahead"] / median["slider without kernel"]
    say("one frame / empty round trip (first lesson)", one, "<= 1.2", one <= 1.2)
    say("one frame / empty round trip (all figures)", one, "<= 1.1", one <= 1.1)
    say("interact with a new figure / one frame", faster, ">= 5", faster >= 5)
    say("sweep ahead / slider without kernel", sweep, "<= 1.3", sweep <= 1.3)
    for name, count in drags.items():
        share = count["shown"] / count["events"]
        say(f"{name}: frames per slider event ({count['events']})", share, ">= 0.95", share >= 0.95)
        say(f"{name}: blank among {count['frames']} page frames", count["blank"], "0", count["blank"] == 0)


def main() -> None:
    with (
        tempfile.TemporaryDirectory() as folder,
        labs.running_lab(Path(folder)) as lab,
        labs.running_chromium() as browser,
    ):
        labs.write_notebook(lab.folder / "live.ipynb", CELLS)
        page = labs.open_notebook(browser, lab, "live.ipynb")
        for number in range(len(CELLS)):
            labs.run_cell(page, number)
        times: dict[str, list[float]] = {name: [] for name in PATHS}
        for _ in range(ROUNDS):
            for name in PATHS:
                times[name] += measured(page, name)
        drags = {name: dragged(page, name) for name in ("one frame a request", "sweep ahead")}
        labs.screenshot(page, "benchmark-live")
    report(times, drags)


if __name__ == "__main__":
    main()
