"""Lessons that are open while somebody signs on, answers and reloads: the page, the counter and the file agree."""

from __future__ import annotations

import re
import threading
from collections.abc import Callable, Iterator

import nbformat
import pytest
from playwright.sync_api import Browser, Locator, Page, Route, expect

from lessons.notebook import bank
from lessons.questions import progress
from lessons.questions.question import pose
from tests.browser import lab as labs
from tests.browser.lessons_lab import answer_card, cells_in, give_answer, go_to, open_lesson, own_copy, wait_until_ready
from tests.lessons.notebooks.test_notebooks import right_answer

LESSON = "04_inherent_characteristic.ipynb"
BADGE = "4711"
STEP, OTHER, PREDICTED = "inherent.coefficient", "inherent.linear", "inherent.predict"


@pytest.fixture
def own(lab: labs.Lab, request: pytest.FixtureRequest) -> labs.Lab:
    """A working copy of its own; nobody has signed on."""
    return own_copy(lab, request.node.name, badge="")


@pytest.fixture(scope="module")
def page(browser: Browser, lab: labs.Lab) -> Iterator[Page]:
    """A JupyterLab in which each test goes to the lesson of its own working copy."""
    page = open_lesson(browser, lab, "00_start_here.ipynb")
    page.on("dialog", lambda dialog: dialog.accept())  # leave the page, saved or not
    yield page
    page.context.close()


def reload(page: Page) -> None:
    page.reload(wait_until="domcontentloaded", timeout=labs.WAIT)
    wait_until_ready(page)


def box_in_file(own: labs.Lab, question_id: str) -> str:
    return next(each for each in cells_in(own, LESSON) if each.startswith(f"%%answer {question_id}\n"))


def wait_for(page: Page, true: Callable[[], bool]) -> None:
    for _ in range(labs.WAIT // 200):
        if true():
            return
        page.wait_for_timeout(200)
    raise AssertionError("waited in vain")


def box_of(page: Page, question_id: str = STEP) -> Locator:
    return answer_card(page, question_id).locator(".ostrel-number")


def number_of(text: str) -> str:
    """The unit stands beside the box."""
    return text.replace("Kv", "").replace("Cv", "").strip()


def counter(page: Page) -> str:
    found = re.search(r"(\d+) of \d+ solved", page.locator(".ostrel-page .ostrel-done").inner_text())
    assert found
    return found[1]


def test_sign_on_redraws_a_lesson_that_is_open(page: Page, own: labs.Lab) -> None:
    lesson, start = page, page.context.new_page()
    go_to(lesson, own, LESSON)
    start.goto(own.url("00_start_here.ipynb"), wait_until="domcontentloaded", timeout=labs.WAIT)
    wait_until_ready(start)
    question = bank.question(STEP)
    assert question
    seen = lesson.locator(".ostrel-page")
    expect(seen).to_contain_text(pose(question, "alone").sheet.text)
    assert "mm" in start.locator(".ostrel-page").inner_text()
    start.get_by_placeholder("your badge number").fill(BADGE)
    start.get_by_text("US: psi, gpm, in").click()
    start.get_by_role("button", name="Sign on").click()
    expect(seen).to_contain_text(f"Badge {BADGE}")
    expect(seen).to_contain_text(pose(question, BADGE, "us").sheet.text)
    expect(start.locator(".ostrel-live").first).to_contain_text("gpm")
    labs.screenshot(lesson, "04-redrawn")
    labs.screenshot(start, "00-redrawn")
    assert "Right." in give_answer(lesson, STEP, right_answer(STEP, "us"))
    start.close()


def test_after_a_reload_each_answer_is_in_its_box_whether_it_had_reached_the_file_or_not(
    page: Page, own: labs.Lab
) -> None:
    progress.keep_sign_on(own.folder, BADGE, "si")
    go_to(page, own, LESSON)
    labs.save(page)
    written: list[str] = []
    blocked = threading.Event()

    def written_or_not(route: Route) -> None:
        if route.request.method == "PUT" and blocked.is_set():
            route.abort()
            return
        if route.request.method == "PUT":
            written.append(route.request.url)
        route.continue_()

    page.route("**/api/contents/**", written_or_not)
    text, other = right_answer(STEP, "si"), right_answer(OTHER, "si")
    assert "Right." in give_answer(page, STEP, text)
    blocked.set()  # nothing of this answer is written later
    assert counter(page) == "1"
    assert len(written) == 1, "an answer writes the file once"
    assert "Right." in give_answer(page, OTHER, other)
    assert box_in_file(own, OTHER).strip() == f"%%answer {OTHER}"
    page.unroute("**/api/contents/**")
    reload(page)
    assert box_in_file(own, STEP) == f"%%answer {STEP}\n{text}"
    expect(box_of(page)).to_have_value(number_of(text))
    expect(box_of(page, OTHER)).to_have_value(number_of(other))
    wait_for(page, lambda: box_in_file(own, OTHER) == f"%%answer {OTHER}\n{other}")
    assert counter(page) == "2"


def test_answers_come_back_after_the_kernel_was_ended(page: Page, own: labs.Lab) -> None:
    progress.keep_sign_on(own.folder, BADGE, "si")
    text = right_answer(STEP, "si")
    progress.record(own.folder, STEP, text, "right", 1.0, progress.Variant(STEP, BADGE, "si"))
    progress.record(own.folder, PREDICTED, "b", "recorded", 0.0, progress.Variant(PREDICTED, BADGE, "si"))
    go_to(page, own, LESSON)
    expect(box_of(page)).to_have_value(number_of(text))
    expect(answer_card(page, STEP)).to_contain_text("Right.")
    predicted = answer_card(page, PREDICTED).locator(".ostrel-option")
    expect(predicted.nth(1).locator("input")).to_be_checked()
    expect(page.locator(".ostrel-page .ostrel-live").first.get_by_role("slider").first).to_be_enabled()
    places = page.locator(".ostrel-page .ostrel-nothing")  # for what comes back: nothing does today
    expect(places).to_have_count(2)
    assert not any(each.is_visible() for each in places.all())
    assert counter(page) == "1"


def test_a_file_that_lost_the_first_line_of_a_box_is_mended_and_says_so(page: Page, own: labs.Lab) -> None:
    path = own.folder / LESSON
    notebook = nbformat.read(path, as_version=4)
    box = next(cell for cell in notebook.cells if cell.source.startswith(f"%%answer {STEP}"))
    box.source = "Kv 5"
    gone = next(cell for cell in notebook.cells if cell.source.startswith("%%answer inherent.linear"))
    notebook.cells.remove(gone)
    nbformat.write(notebook, path)
    go_to(page, own, LESSON)
    expect(answer_card(page, STEP)).to_contain_text("had lost its first line")
    expect(box_of(page)).to_have_value("5")
    expect(answer_card(page, "inherent.linear")).to_contain_text("Here is a new one")
    assert "Read as" in give_answer(page, "inherent.linear", "Kv 5")
    assert box_in_file(own, "inherent.linear") == "%%answer inherent.linear\nKv 5"
    assert box_in_file(own, STEP) == f"%%answer {STEP}\nKv 5"
