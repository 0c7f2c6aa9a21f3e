"""Every lesson in a real JupyterLab: it runs by itself; predict, move the slider, answer; one long screenshot of each."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import nbformat
import pytest
from playwright.sync_api import Browser, Page, expect

from lessons.notebook import bank
from lessons.questions import progress
from tests.browser import lab as labs
from tests.browser.lessons_lab import give_answer, open_lesson, running_lessons
from tests.lessons.notebooks.test_notebooks import BADGE, NOTEBOOKS, asked, name, read, right_answer

WHOLE = {"width": 1150, "height": 6000}


@pytest.fixture(scope="module")
def lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[labs.Lab]:
    with running_lessons(tmp_path_factory.mktemp("every")) as running:
        progress.keep_sign_on(running.folder, BADGE, "si")
        yield running


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with labs.running_chromium() as chromium:
        yield chromium


@pytest.mark.parametrize("path", [p for p in NOTEBOOKS if p.name[:2] != "00"], ids=name)
def test_lesson(browser: Browser, lab: labs.Lab, path: Path) -> None:
    notebook = read(path)
    page = open_lesson(browser, lab, path.name, viewport=WHOLE)
    pictures = page.locator(".ostrel-live")
    expect(pictures).to_have_count(
        sum(cell.source.count("live(") for cell in notebook.cells if cell.cell_type == "code"), timeout=labs.WAIT
    )
    assert page.locator(".jp-RenderedText[data-mime-type='application/vnd.jupyter.stderr']").count() == 0
    if any("isolation()" in cell.source for cell in notebook.cells if cell.cell_type == "code"):
        expect(page.get_by_text("The one order of isolation").first).to_be_visible()
    first = next(each for each in asked(notebook) if bank.practice_questions()[each].kind == "predict")
    predict_then_move(page, first)
    answer_wrong_then_right(page, notebook)
    labs.screenshot(page, f"lesson-{path.stem}")
    page.context.close()


def predict_then_move(page: Page, prediction: str) -> None:
    picture = page.locator(".ostrel-live").first
    slider = picture.get_by_role("slider").first
    expect(slider).to_be_disabled()
    assert "written down" in give_answer(page, prediction, "a")
    expect(slider).to_be_enabled(timeout=labs.WAIT)
    before, said = picture.locator("svg").first.inner_html(), slider.get_attribute("aria-valuetext")
    at_top = slider.input_value() == slider.get_attribute("max")
    slider.focus()
    for _ in range(5):
        page.keyboard.press("ArrowLeft" if at_top else "ArrowRight")
    expect(slider).not_to_have_attribute("aria-valuetext", said or "", timeout=labs.WAIT)
    page.wait_for_function(
        "([e, was]) => e.innerHTML != was", arg=[picture.locator("svg").first.element_handle(), before]
    )


def answer_wrong_then_right(page: Page, notebook: nbformat.NotebookNode) -> None:
    practice = bank.practice_questions()
    number = next(each for each in asked(notebook) if each in practice and practice[each].kind == "number")
    assert "Right." not in give_answer(page, number, "0.00123")
    assert "Right." in give_answer(page, number, right_answer(number, "si"))
