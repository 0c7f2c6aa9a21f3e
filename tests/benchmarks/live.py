"""Live pictures against the empty round trip, `interact` and a slider without a kernel, in a real JupyterLab.

Run ``python -m tests.benchmarks.live``. Every path is measured in turns in one page, from the key to the end of the
page's frame that shows the change, so only the ratios mean something on a machine that does other things too.
The lesson's picture is the inherent characteristic, and `interact` draws the same one anew; the busiest is the one
with most coordinates to move among all that lessons and job cards show. What is measured stands alone in view, as a
picture does in a lesson.
"""

from __future__ import annotations

import random
import re
import statistics
import tempfile
from pathlib import Path

from playwright.sync_api import Locator, Page

from lessons.notebook.figures import live_picture
from lessons.pictures.cutaways.catalogue import PICTURES
from tests.browser import lab as labs

ROOT = Path(__file__).resolve().parents[2]
SHOWN = {
    name
    for lesson in (ROOT / "lessons").rglob("*.ipynb")
    for name in re.findall(r'live\(\\"(\w+)', lesson.read_text(encoding="utf-8"))
}
SIZES = {name: len(live_picture(name, "si")._frame) for name in sorted(SHOWN)}
BUSIEST = max(SIZES, key=SIZES.__getitem__)
CUTAWAY = max(SHOWN & PICTURES.keys(), key=SIZES.__getitem__)
ROUNDS, KEYS, DRAG_MOVES = 6, 12, 150
QUICK_KEYS = 30  # of what takes less than a frame of the screen: where in a frame a key falls is half of the time
CELLS = [
    f"""import sys; sys.path.insert(0, {str(ROOT)!r})
import ipywidgets
from IPython.display import HTML, display
from lessons.pictures.live.flow import inherent_curves
import numpy as np
from lessons.notebook.figures import live_picture
def one_frame_at_a_time(name):
    picture = live_picture(name, "si")
    picture.in_slices = lambda work: None
    return picture
%matplotlib inline""",
    """empty, label = ipywidgets.IntSlider(50, 0, 1000), ipywidgets.Label("50")
empty.observe(lambda change: setattr(label, "value", str(change.new)), "value")
ipywidgets.VBox([empty, label])""",
    'one_frame_at_a_time("inherent")',
    f'one_frame_at_a_time("{BUSIEST}")',
    f'live_picture("{BUSIEST}", "si")',
    f'one_frame_at_a_time("{CUTAWAY}")',
    f'live_picture("{CUTAWAY}", "si")',
    'live_picture("hunting", "si")',
    'live_picture("inherent", "si")',
    """HTML('<input type="range" min="0" max="200" value="100" class="alone" oninput="this.nextSibling.textContent = '
     'this.value" onkeydown="event.stopPropagation()"><span class="alone-value">100</span>')""",
    """def draw(n):
    figure = inherent_curves._draw()
    named = {artist.get_gid(): artist for artist in figure.findobj()}
    for name, place in inherent_curves._move(n / 1000, 50).items():
        named[name].set_text(place) if isinstance(place, str) else named[name].set_data(*np.transpose(place))
    display(figure)
ipywidgets.interact(draw, n=ipywidgets.IntSlider(200, 0, 1000));""",
]
LIVE_PARTS = (".ostrel-live input", ".ostrel-picture svg")
# path: cell, slider in it, what changes
PATHS = {
    "empty round trip": (1, ".noUi-handle", ".widget-label:last-child"),
    "lesson, frame by frame": (2, *LIVE_PARTS),
    "busiest, frame by frame": (3, *LIVE_PARTS),
    "busiest, sweep ahead": (4, *LIVE_PARTS),
    "cut-away, frame by frame": (5, *LIVE_PARTS),
    "cut-away, sweep ahead": (6, *LIVE_PARTS),
    "hunting, sweep ahead": (7, *LIVE_PARTS),
    "lesson, as it comes": (8, *LIVE_PARTS),
    "slider without kernel": (9, "input.alone", ".alone-value"),
    "interact, new figure": (10, ".noUi-handle", ".widget-output"),
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
  new MutationObserver(() => { if (count.on) count.shown++; }).observe(svg, {subtree: true, attributes: true, characterData: true});
  const paths = [...svg.querySelectorAll('[data-part] path')].filter((path) => path.getAttribute('d'));
  const look = () => {
    if (!count.on) return;
    count.frames++;
    if (!svg.isConnected || !svg.getBoundingClientRect().height
        || !paths.some((path) => path.getAttribute('d'))) count.blank++;
    requestAnimationFrame(look);
  };
  look();
}"""


def alone(page: Page, number: int) -> Locator:
    """Bring one cell into view, with no output but its own on the page."""
    cell = page.locator(".jp-Notebook .jp-CodeCell").nth(number)
    cell.evaluate("""(own) => {
      for (const area of document.querySelectorAll('.jp-OutputArea')) area.style.display = own.contains(area) ? '' : 'none';
    }""")
    cell.scroll_into_view_if_needed()
    return cell


def measured(page: Page, name: str) -> list[float]:
    """Press a slider's key some times; return milliseconds until each change was on the page."""
    number, slider, target = PATHS[name]
    cell = alone(page, number)
    cell.locator(slider).first.focus()
    page.wait_for_timeout(300)  # a sweep asked for by the focus is there then, as it is for a reader
    times = []
    for key in range(QUICK_KEYS if re.search("ahead|without", name) else KEYS):
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
    cell = alone(page, number)
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
    lesson = median["lesson, frame by frame"] / median["empty round trip"]
    faster = median["interact, new figure"] / median["lesson, as it comes"]
    floor_bound = median["interact, new figure"] / median["lesson, frame by frame"]
    say("lesson, frame by frame / empty round trip", lesson, "<= 1.2", lesson <= 1.2)
    say("interact with a new figure / lesson, as it comes", faster, ">= 5", faster >= 5)
    # Before the sweep has come, a key costs the empty round trip, which bounds this ratio whatever the picture does.
    print(f"{'the same, frame by frame (bounded by the round trip)':<58} {floor_bound:6.2f}")
    for kind, which in (("busiest", BUSIEST), ("cut-away", CUTAWAY)):
        frame = median[f"{kind}, frame by frame"] / median["empty round trip"]
        say(f"{kind} ({which}), frame by frame / empty round trip", frame, "<= 1.1", frame <= 1.1)
    for kind, which in (("busiest", BUSIEST), ("cut-away", CUTAWAY), ("hunting", "hunting")):
        sweep = median[f"{kind}, sweep ahead"] / median["slider without kernel"]
        say(f"{kind} ({which}), sweep ahead / slider without kernel", sweep, "<= 1.3", sweep <= 1.3)
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
        drags = {name: dragged(page, name) for name in PATHS if name.startswith(("busiest", "cut-away"))}
        labs.screenshot(page, "benchmark-live")
    report(times, drags)


if __name__ == "__main__":
    main()
