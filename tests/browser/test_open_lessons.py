"""Lessons that are open while somebody signs on, answers and reloads: the page, the counter and the file agree."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import nbformat
import pytest
from playwright.sync_api import Browser, Page, Route, expect

from lessons.notebook import bank
from lessons.questions import progress
from lessons.questions.question import pose
from tests.browser import lab as labs
from tests.browser.lessons_lab import answer_cell, running_lessons, type_answer
from tests.lessons.notebooks.test_notebooks import right_answer

LESSON = "04_inherent_characteristic.ipynb"
BADGE = "4711"
STEP = "inherent.coefficient"


@pytest.fixture
def lab(tmp_path: Path) -> Iterator[labs.Lab]:
    with running_lessons(tmp_path) as running:
        yield running


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with labs.running_chromium() as chromium:
        yield chromium


def opened(browser: Browser, lab: labs.Lab, notebook: str = LESSON) -> Page:
    page = labs.open_notebook(browser, lab, notebook)
    page.on("dialog", lambda dialog: dialog.accept())  # leave the page, saved or not
    labs.run_all(page)
    return page


def reload(page: Page) -> None:
    page.reload(wait_until="domcontentloaded", timeout=labs.WAIT)
    page.wait_for_selector(".jp-Notebook .jp-Cell", timeout=labs.WAIT)
    labs.wait_until_idle(page)


def box_in_file(lab: labs.Lab, question_id: str) -> str:
    notebook = nbformat.read(lab.folder / LESSON, as_version=4)
    return next(cell.source for cell in notebook.cells if cell.source.startswith(f"%%answer {question_id}\n"))


def wait_for(page: Page, true: Callable[[], bool]) -> None:
    for _ in range(labs.WAIT // 200):
        if true():
            return
        page.wait_for_timeout(200)
    raise AssertionError("waited in vain")


def counter(page: Page) -> str:
    found = re.search(r"this lesson: (\d+) of", page.locator(".jp-Notebook").inner_text())
    assert found
    return found[1]


def test_sign_on_redraws_a_lesson_that_is_open(browser: Browser, lab: labs.Lab) -> None:
    lesson, start = opened(browser, lab), opened(browser, lab, "00_start_here.ipynb")
    question = bank.question(STEP)
    assert question
    seen = lesson.locator(".jp-Notebook")
    expect(seen).to_contain_text(pose(question, "alone").sheet.text)
    assert "mm" in start.locator(".jp-Notebook").inner_text()
    start.get_by_placeholder("your badge number").fill(BADGE)
    start.get_by_text("US: psi, gpm, in").click()
    start.get_by_role("button", name="Sign on").click()
    expect(seen).to_contain_text(f"Badge {BADGE}", timeout=labs.WAIT)
    expect(seen).to_contain_text(pose(question, BADGE, "us").sheet.text)
    expect(start.locator(".ostrel-live").first).to_contain_text("gpm")
    labs.screenshot(lesson, "04-redrawn")
    labs.screenshot(start, "00-redrawn")
    assert "Right." in type_answer(lesson, STEP, right_answer(STEP, "us"))
    for page in (lesson, start):
        page.context.close()


def test_what_was_answered_is_in_the_file_when_the_page_is_reloaded_at_once(browser: Browser, lab: labs.Lab) -> None:
    progress.keep_sign_on(lab.folder, BADGE, "si")
    page = opened(browser, lab)
    text = right_answer(STEP, "si")
    assert "Right." in type_answer(page, STEP, text)
    assert counter(page) == "1"
    reload(page)
    assert box_in_file(lab, STEP) == f"%%answer {STEP}\n{text}"
    expect(answer_cell(page, STEP)).to_contain_text(text)
    assert counter(page) == "1"
    page.context.close()


def test_an_answer_that_did_not_reach_the_file_comes_back(browser: Browser, lab: labs.Lab) -> None:
    progress.keep_sign_on(lab.folder, BADGE, "si")
    page = opened(browser, lab)
    labs.save(page)
    blocked = threading.Event()

    def not_saved(route: Route) -> None:
        if route.request.method == "PUT" and blocked.is_set():
            route.abort()
        else:
            route.continue_()

    page.route("**/api/contents/**", not_saved)
    blocked.set()
    text = right_answer(STEP, "si")
    assert "Right." in type_answer(page, STEP, text)
    assert box_in_file(lab, STEP).strip() == f"%%answer {STEP}"
    blocked.clear()
    reload(page)
    expect(answer_cell(page, STEP)).to_contain_text(text, timeout=labs.WAIT)
    wait_for(page, lambda: box_in_file(lab, STEP) == f"%%answer {STEP}\n{text}")
    page.context.close()


def test_answers_come_back_after_the_kernel_was_ended(browser: Browser, lab: labs.Lab) -> None:
    progress.keep_sign_on(lab.folder, BADGE, "si")
    text = right_answer(STEP, "si")
    progress.record(lab.folder, STEP, text, "right", 1.0, progress.Variant(STEP, BADGE, "si"))
    page = opened(browser, lab)
    expect(answer_cell(page, STEP)).to_contain_text(text, timeout=labs.WAIT)
    expect(answer_cell(page, STEP)).to_contain_text("Right.")
    assert counter(page) == "1"
    page.context.close()


def test_a_lost_first_line_runs_nothing(browser: Browser, lab: labs.Lab) -> None:
    page = opened(browser, lab)
    cell = answer_cell(page, STEP)
    cell.locator(".cm-content").click()
    page.keyboard.press("Control+a")
    page.keyboard.insert_text("exit")
    page.keyboard.press("Control+Enter")
    expect(page.locator(".jp-Notebook")).to_contain_text("Nothing was run: this cell has lost its first line",
                                                         timeout=labs.WAIT)  # fmt: skip
    labs.wait_until_idle(page)
    assert "Read as" in type_answer(page, "inherent.linear", "Kv 5")
    page.context.close()
