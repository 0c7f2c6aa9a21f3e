"""Every lesson in a real JupyterLab: it runs by itself; predict, move the slider, answer; one long screenshot of each."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import nbformat
import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from lessons.notebook import bank
from tests.browser import lab as labs
from tests.browser.lessons_lab import give_answer, open_lesson, own_copy, wait_until_ready
from tests.lessons.notebooks.test_notebooks import NOTEBOOKS, asked, name, read, right_answer

SCREEN, WHOLE = ViewportSize(width=1366, height=900), ViewportSize(width=1366, height=6000)
SITTING = 10  # lessons one after the other in one page, before JupyterLab is loaded anew


@pytest.fixture(scope="module")
def own(lab: labs.Lab) -> labs.Lab:
    """A working copy of its own."""
    return own_copy(lab, "every")


@pytest.fixture(scope="module")
def opened() -> Iterator[list[Page]]:
    """The pages opened so far; only the last is not closed."""
    pages: list[Page] = []
    yield pages
    for page in pages[-1:]:
        page.context.close()


@pytest.fixture
def page(browser: Browser, own: labs.Lab, opened: list[Page]) -> Page:
    """A page from which a lesson is reached, as a reader does; a new one when it has shown some."""
    if len(opened) % SITTING == 0:
        for former in opened[-1:]:
            former.context.close()
        opened.append(open_lesson(browser, own, "00_start_here.ipynb", viewport=SCREEN))
    else:
        opened.append(opened[-1])
    return opened[-1]


def go_by_the_panel(page: Page, notebook: str) -> None:
    """Go to a lesson by the course panel."""
    title = next(each.title for each in bank.lessons() if f"{each.notebook}.ipynb" == notebook)
    page.locator(".ostrel-page").get_by_role("navigation", name="Course").get_by_role("link", name=title).click()
    expect(page.locator(".ostrel-page .ostrel-title")).to_contain_text(title)
    wait_until_ready(page)


@pytest.mark.parametrize("path", [p for p in NOTEBOOKS if p.name[:2] != "00"], ids=name)
def test_lesson(page: Page, path: Path) -> None:
    notebook = read(path)
    go_by_the_panel(page, path.name)
    pictures = page.locator(".ostrel-page .ostrel-live")
    expect(pictures).to_have_count(
        sum(cell.source.count("live(") for cell in notebook.cells if cell.cell_type == "code")
    )
    assert page.locator(".ostrel-page .jp-RenderedText[data-mime-type='application/vnd.jupyter.stderr']").count() == 0
    if any("isolation()" in cell.source for cell in notebook.cells if cell.cell_type == "code"):
        expect(page.locator(".ostrel-page").get_by_text("The one order of isolation").first).to_be_visible()
    first = next(each for each in asked(notebook) if bank.practice_questions()[each].kind == "predict")
    predict_then_move(page, first)
    answer_wrong_then_right(page, notebook)
    page.set_viewport_size(WHOLE)
    labs.screenshot(page, f"lesson-{path.stem}")
    page.set_viewport_size(SCREEN)


def predict_then_move(page: Page, prediction: str) -> None:
    picture = page.locator(".ostrel-page .ostrel-live").first
    slider = picture.get_by_role("slider").first
    expect(slider).to_be_disabled()
    assert "written down" in give_answer(page, prediction, "a")
    expect(slider).to_be_enabled()
    before, said = picture.locator("svg").first.inner_html(), slider.get_attribute("aria-valuetext")
    at_top = slider.input_value() == slider.get_attribute("max")
    slider.focus()
    for _ in range(5):
        page.keyboard.press("ArrowLeft" if at_top else "ArrowRight")
    expect(slider).not_to_have_attribute("aria-valuetext", said or "")
    page.wait_for_function(
        "([e, was]) => e.innerHTML != was", arg=[picture.locator("svg").first.element_handle(), before]
    )


def answer_wrong_then_right(page: Page, notebook: nbformat.NotebookNode) -> None:
    practice = bank.practice_questions()
    number = next(each for each in asked(notebook) if each in practice and practice[each].kind == "number")
    assert "Right." not in give_answer(page, number, "0.00123")
    assert "Right." in give_answer(page, number, right_answer(number, "si"))
