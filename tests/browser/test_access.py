"""For everybody: axe-core finds nothing in our own parts, whatever its impact; large targets; words for a picture;
less motion; colours that the system forces. One browser, and each page is opened once."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

import tests.grading.conftest  # noqa: F401 - a gradebook asks no program of its own for the version of its tables
from grading.marking.mark_lesson import mark_lesson
from grading.report.class_tables import write_tables
from grading.report.handing_back.pages_back import write_pages_back
from grading.taking_in.take_in import take_in
from lessons.jupyter.lesson_export.kept_page import keep_lesson
from tests.browser import lab as labs
from tests.browser.accessible import CARD_TARGET, LESSON_TARGET, moving, too_small, violations
from tests.browser.card_pages import Cards, open_card, tablet
from tests.browser.hands import tab_to
from tests.browser.lessons_lab import give_answer, open_lesson, own_copy
from tests.grading.classroom import CLASS, LESSON, classroom, notebook_of, put

INHERENT = "04_inherent_characteristic.ipynb"


# ---- cards --------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def card_page(browser: Browser) -> Iterator[Page]:
    page = tablet(browser)
    page.emulate_media(reduced_motion="reduce")
    yield page
    page.context.close()


@pytest.mark.parametrize("word", ["", "?word=leak", "?word=xyzzy"], ids=["all", "found", "nothing"])
def test_the_index_of_the_cards(word: str, card_page: Page, cards: Cards) -> None:
    card_page.goto(cards.url() + word)
    assert violations(card_page) == []
    assert too_small(card_page, CARD_TARGET) == []


def test_what_a_card_says_when_it_refuses_or_is_dark(card_page: Page, cards: Cards) -> None:
    card_page.emulate_media(color_scheme="dark", reduced_motion="reduce")
    open_card(card_page, cards, "bench_set")
    card_page.locator(".ostrel-card input:not([type=range])").first.fill("twelve")
    expect(card_page.locator(".ostrel-problem:not(:empty)").first).to_be_visible()
    assert violations(card_page) == []
    card_page.emulate_media(color_scheme="light", reduced_motion="reduce")


def test_a_card_by_keyboard_alone(card_page: Page, cards: Cards) -> None:
    """From the index to an answer with other numbers in other units, with nothing but keys."""
    card_page.goto(cards.url())
    tab_to(card_page, card_page.get_by_role("link", name=re.compile("^Bench set")), most=80)
    card_page.keyboard.press("Enter")
    headline = card_page.locator(".ostrel-headline")
    expect(headline).to_be_visible()
    first, picture = headline.inner_text(), card_page.get_by_role("img")
    sign = re.compile(r"^\W+")  # the sign before the words, for who sees it
    heard = picture.get_attribute("aria-label") or ""
    assert sign.sub("", first) in heard, "whoever does not see the picture hears what it shows"
    slider = card_page.get_by_role("slider").first
    tab_to(card_page, slider, most=80)
    for _ in range(8):
        card_page.keyboard.press("ArrowRight")
    expect(headline).not_to_have_text(first)
    expect(picture).not_to_have_attribute("aria-label", heard)
    assert sign.sub("", headline.inner_text()) in (picture.get_attribute("aria-label") or "")
    units = card_page.get_by_role("button", name="Show US units")
    tab_to(card_page, units, key="Shift+Tab", most=80)
    assert card_page.evaluate("getComputedStyle(document.activeElement).outlineStyle") == "solid"
    card_page.keyboard.press("Space")
    expect(card_page.get_by_role("button", name="Show metric units")).to_be_focused()
    tab_to(card_page, card_page.get_by_role("link", name="All cards"), key="Shift+Tab", most=80)
    card_page.keyboard.press("Enter")
    expect(card_page.get_by_role("heading", name="Job cards")).to_be_visible()


def test_a_card_in_colours_the_system_forces(browser: Browser, cards: Cards) -> None:
    page = browser.new_context(forced_colors="active", color_scheme="dark").new_page()
    open_card(page, cards, "bench_set")
    assert page.locator(".ostrel-answer").evaluate("e => getComputedStyle(e).borderLeftStyle") in (
        "solid",
        "dashed",
        "double",
    )
    assert _readable_drawing(page.locator(".ostrel-picture"))
    labs.screenshot(page, "card-forced-colours")
    page.context.close()


def _readable_drawing(picture: Locator) -> bool:
    """A drawing keeps its white paper and dark letters, where all else takes the system's colours."""
    paper: str = picture.evaluate("e => getComputedStyle(e).backgroundColor")
    letters: str = picture.locator("text").first.evaluate("e => getComputedStyle(e).fill")
    return paper == "rgb(255, 255, 255)" and max(map(int, re.findall(r"\d+", letters)[:3])) < 128


# ---- a lesson, and the page that is kept of it --------------------------------------------------------------------


@pytest.fixture(scope="module")
def lesson(browser: Browser, lab: labs.Lab) -> Iterator[tuple[labs.Lab, Page]]:
    """Lesson 04 with one prediction and one wrong answer given."""
    own = own_copy(lab, "for-everybody")
    page = open_lesson(browser, own, INHERENT, reduced_motion="reduce")
    give_answer(page, "inherent.predict", "a")
    give_answer(page, "inherent.linear", "1 m³/h")
    expect(page.locator(".ostrel-live").first.get_by_role("slider").first).to_be_enabled()
    yield own, page
    page.context.close()


def test_a_lesson(lesson: tuple[labs.Lab, Page]) -> None:
    _, page = lesson
    assert violations(page, ".ostrel-page") == []
    assert too_small(page.locator(".ostrel-page").first, LESSON_TARGET) == []
    assert moving(page) == []


def test_a_picture_of_a_lesson_says_where_its_slider_stands(lesson: tuple[labs.Lab, Page]) -> None:
    _, page = lesson
    picture = page.locator(".ostrel-live").first
    slider, drawn = picture.get_by_role("slider").first, picture.get_by_role("img")
    slider.focus()
    for key in ("Home", "End"):
        page.keyboard.press(key)
        said = slider.get_attribute("aria-valuetext") or "?"
        expect(drawn).to_have_attribute("aria-label", re.compile(re.escape(said)))


def test_a_lesson_in_colours_the_system_forces(lesson: tuple[labs.Lab, Page]) -> None:
    _, page = lesson
    page.emulate_media(forced_colors="active", reduced_motion="reduce")
    assert _readable_drawing(page.locator(".ostrel-picture").first)
    labs.screenshot(page, "lesson-forced-colours")
    page.emulate_media(forced_colors="none", reduced_motion="reduce")


def test_a_lesson_that_is_kept_needs_no_network_and_no_code(
    browser: Browser, lesson: tuple[labs.Lab, Page], tmp_path: Path
) -> None:
    lab, _ = lesson
    page_said, pdf_said = keep_lesson(lab.folder, "04")
    written = lab.folder / INHERENT.replace("ipynb", "html")
    assert str(written) in page_said
    assert (lab.folder / INHERENT.replace("ipynb", "pdf")).read_bytes().startswith(b"%PDF"), pdf_said
    page = browser.new_context(viewport={"width": 900, "height": 1000}).new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(written.as_uri())
    live = page.locator(".ostrel-live").first
    slider = live.get_by_role("slider").first
    expect(slider).to_be_visible()
    before = live.locator("svg").inner_html()
    slider.focus()
    page.keyboard.press("End")
    assert live.locator("svg").inner_html() != before
    assert asked == [written.as_uri()], "the one file is all there is"
    words = page.locator("body").inner_text()
    assert re.search(r"Your answer\s+1 m³/h", words)
    for code in ("%%answer", "ask(", "import *", "In [", "Shift+Enter"):
        assert code not in words
    assert violations(page) == []
    assert too_small(page, LESSON_TARGET) == []
    labs.screenshot(page, "lesson-kept")
    page.context.close()


def test_what_jupyterlab_exports_is_that_page_too(lesson: tuple[labs.Lab, Page]) -> None:
    lab, page = lesson
    got = page.request.get(f"http://127.0.0.1:{lab.port}/nbconvert/html/{lab.under}{INHERENT}?token={lab.token}")
    assert got.ok
    assert not re.search(r"""<(script|link)[^>]+(src|href)=["']?http""", got.text())
    assert not re.search(r"<pre>.*(ask\(|%%answer)", got.text())


# ---- the instructor's pages ---------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def marked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A class of four: all right, all wrong, nothing written, one not handed in."""
    folder = tmp_path_factory.mktemp("class")
    course = classroom(folder)
    for person, ways in zip(CLASS, (["right"] * 9, ["other"] * 9, ["blank"] * 9), strict=False):
        put(folder / "back", f"{person.badge}.ipynb", notebook_of(course, person, *ways))
    take_in(course, folder / "back", quiet=True)
    mark_lesson(course, LESSON, quiet=True)
    write_pages_back(course, LESSON, quiet=True)
    write_tables(course, LESSON)
    return course.root


def test_pages_of_class_and_course_and_those_handed_back(browser: Browser, marked: Path) -> None:
    page = browser.new_context(java_script_enabled=True).new_page()
    written = sorted(marked.rglob("*.html"))
    assert len(written) >= 5
    found: dict[str, Any] = {}
    for path in written:
        page.goto(path.as_uri())
        for width in (1200, 400):
            page.set_viewport_size({"width": width, "height": 900})
            found[f"{path.relative_to(marked)} at {width}"] = violations(page)
    assert [(name, each) for name, each in found.items() if each] == []
    page.context.close()


def test_the_search_for_faults_can_fail(browser: Browser) -> None:
    page = browser.new_page()
    page.set_content("<p style='color:#bbb'>pale</p><img src=''><button style='width:9px;height:9px'></button>")
    assert {each.split(" ")[0] for each in violations(page)} >= {
        "color-contrast",
        "image-alt",
        "button-name",
        "html-has-lang",
    }
    assert len(too_small(page, 24)) == 1
    page.close()
