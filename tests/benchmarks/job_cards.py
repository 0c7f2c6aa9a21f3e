"""Job cards: from the click to the answer, and the picture of a card against the empty round trip of a slider.

Run ``python -m tests.benchmarks.job_cards``, or with the word ``served`` the quick half, of the tablets. Times of opening are seconds on this machine, served without code as on a
tablet, and in JupyterLab from Run All Cells; ratios are measured in turns in one page, so that they mean something
on a machine that does other things too.
"""

from __future__ import annotations

import random
import statistics
import sys
import tempfile
import time
from pathlib import Path

import psutil
from playwright.sync_api import Browser, Page

from lessons.cards import NAMES
from tests.benchmarks.live import ROOT, WATCH, say
from tests.browser import lab as labs
from tests.browser.card_pages import open_card, running_cards, tablet

MOST_SECONDS, IN_LAB_SECONDS, MOST_RATIO = 2.5, 5.0, 1.1
TABLETS, MOST_MEMORY = 10, 400  # tablets at once, MB that serves them
ROUNDS, KEYS = 8, 12
STEP, TYPE = ("ArrowLeft", "ArrowRight"), ("5", "Backspace")
# Card -> the box whose slider is moved, and the one to type in: a 5 behind its number is a good number too.
BOXES = {
    "hunting": ("gain", "gain"),
    "stroke_errors": ("limit", "found_up.2"),
    "flow_at_travel": ("share", "rangeability"),
    "seat_leakage": ("leak", "leak"),
    "cavitation": ("p1", "p1"),
}
EMPTY = """import ipywidgets
empty, label = ipywidgets.IntSlider(50, 0, 1000), ipywidgets.Label("50")
empty.observe(lambda change: setattr(label, "value", str(change.new)), "value")
ipywidgets.VBox([empty, label])"""
TYPED = """typed, echo = ipywidgets.Text("50"), ipywidgets.Label("50")
typed.observe(lambda change: setattr(echo, "value", change.new), "value")
ipywidgets.VBox([typed, echo])"""
LOAD = (
    f"import sys; sys.path.insert(0, {str(ROOT)!r})\nfrom pathlib import Path\nfrom lessons.cards import card_named\n"
    "from lessons.card_page.page import CardPage"
)


def opened_from_the_index(browser: Browser, folder: Path) -> dict[str, float]:
    """Click every card in the index, each in turn; return seconds until its answer is on the page."""
    times = {}
    with running_cards(folder) as cards:
        page = tablet(browser)
        page.goto(cards.url(), wait_until="domcontentloaded")
        for name in NAMES:
            link = page.locator(f"a[href='/card/{name}']").first
            link.wait_for(timeout=labs.WAIT)
            start = time.perf_counter()
            link.click()
            page.locator(".ostrel-headline").wait_for(timeout=labs.WAIT)
            times[name] = time.perf_counter() - start
            page.go_back()
    return times


def memory_of_ten(browser: Browser, folder: Path) -> tuple[float, float]:
    """Keep a card open on ten tablets; return MB of all processes that serve them, at rest and after each was used."""
    with running_cards(folder) as cards:
        pages = [tablet(browser) for _ in range(TABLETS)]
        for page, name in zip(pages, NAMES, strict=False):
            open_card(page, cards, name)
        at_rest = _megabytes(cards.server.pid)
        for page in pages:
            slider = page.locator(".ostrel-slide")
            if slider.count():
                slider.first.focus()
                page.keyboard.press("ArrowRight")
            page.get_by_role("button", name="Save page").click()
            page.locator(".ostrel-saved a").first.wait_for(timeout=labs.WAIT)
        used = _megabytes(cards.server.pid)
        for page in pages:
            page.context.close()
        return at_rest, used


def _megabytes(pid: int) -> float:
    server = psutil.Process(pid)
    return sum(each.memory_info().rss for each in (server, *server.children(recursive=True))) / 1e6


def opened_in_lab(browser: Browser, folder: Path) -> float:
    """Open a card in JupyterLab and run it; return seconds from Run All Cells to its answer."""
    with labs.running_lab(folder) as lab:
        labs.write_notebook(lab.folder / "card.ipynb", ['from lessons.notebook import *\ncard("packing")'])
        page = labs.open_notebook(browser, lab, "card.ipynb")
        page.get_by_role("menuitem", name="Run", exact=True).click()
        start = time.perf_counter()
        page.locator(".lm-Menu-itemLabel", has_text="Run All Cells").first.click()
        page.locator(".ostrel-headline").wait_for(timeout=labs.WAIT)
        return time.perf_counter() - start


def keyed(page: Page, number: int, focus: str, target: str, keys: tuple[str, str]) -> list[float]:
    """Press two keys in turns; return milliseconds until each change was on the page."""
    cell = page.locator(".jp-Notebook .jp-CodeCell").nth(number)
    cell.scroll_into_view_if_needed()
    cell.locator(focus).first.focus()
    if keys == TYPE:
        page.keyboard.press("End")
    page.wait_for_timeout(300)
    times = []
    for key in range(KEYS):
        page.evaluate(WATCH, [cell.locator(target).first.element_handle(), False])
        page.wait_for_timeout(random.uniform(30, 80))  # noqa: S311  at any phase of the screen's frames
        page.keyboard.press(keys[key % 2])
        seen = page.evaluate("window.seen")
        if seen is None:
            raise RuntimeError(f"{focus}: nothing changed within 5 s of a key")
        times.append(seen)
    return times


def figure_times(page: Page, slide: str, box: str) -> dict[str, float]:
    """Measure a card's picture and the empty round trips in turns in one page; return medians."""
    label, picture = ".widget-label:last-child", ".ostrel-picture svg"
    paths = {
        "slider alone": (1, ".noUi-handle", label, STEP),
        "card, slider": (3, f".ostrel-boxes:has([data-key='{slide}']) .ostrel-slide", picture, STEP),
        "typed alone": (2, "input", label, TYPE),
        "card, typed": (3, f"input[data-key='{box}']", picture, TYPE),
    }
    times: dict[str, list[float]] = {name: [] for name in paths}
    for _ in range(ROUNDS):
        for name, path in paths.items():
            times[name] += keyed(page, *path)
    return {name: statistics.median(values) for name, values in times.items()}


def report_figures(browser: Browser, folder: Path) -> None:
    """Measure the cards, each in a notebook of its own, as it is used."""
    with labs.running_lab(folder) as lab:
        for name, boxes in BOXES.items():
            cells = [LOAD, EMPTY, TYPED, f'CardPage(card_named("{name}"), "si", Path())']
            labs.write_notebook(lab.folder / f"{name}.ipynb", cells)
            page = labs.open_notebook(browser, lab, f"{name}.ipynb")
            for number in range(len(cells)):
                labs.run_cell(page, number)
            times = figure_times(page, *boxes)
            page.context.close()
            print(f"{name}: " + ", ".join(f"{path} {time:.1f} ms" for path, time in times.items()))
            ratio = times["card, slider"] / times["slider alone"]
            say(f"picture of {name} / empty round trip", ratio, f"<= {MOST_RATIO}", ratio <= MOST_RATIO)
            print(
                f"{'the same, typed, against a box that only repeats its text':<58} "
                f"{times['card, typed'] / times['typed alone']:6.2f}"
            )


def report_served(browser: Browser) -> None:
    """Measure what a tablet sees: from the click to the answer, and what ten of them take."""
    with tempfile.TemporaryDirectory() as folder:
        opening = opened_from_the_index(browser, Path(folder))
    with tempfile.TemporaryDirectory() as folder:
        at_rest, used = memory_of_ten(browser, Path(folder))
    for name, seconds in opening.items():
        print(f"{name:<16} answers {seconds:4.1f} s after the click")
    worst = max(opening.values())
    say("slowest card from the index, seconds", worst, f"<= {MOST_SECONDS:g}", worst <= MOST_SECONDS)
    print(f"ten tablets at rest: {at_rest:.0f} MB")
    say("ten tablets, each used and saved, MB", used, f"<= {MOST_MEMORY}", used <= MOST_MEMORY)


def report_in_lab(browser: Browser) -> None:
    """Measure the same cards in JupyterLab, where each has a kernel."""
    with tempfile.TemporaryDirectory() as folder:
        seconds = opened_in_lab(browser, Path(folder))
    say("card in JupyterLab from Run All Cells, seconds", seconds, f"<= {IN_LAB_SECONDS:g}", seconds <= IN_LAB_SECONDS)
    with tempfile.TemporaryDirectory() as folder:
        report_figures(browser, Path(folder))


def main() -> None:
    """Measure all of it, or with the word `served` behind the command what a tablet sees."""
    with labs.running_chromium() as browser:
        report_served(browser)
        if "served" not in sys.argv[1:]:
            report_in_lab(browser)


if __name__ == "__main__":
    main()
