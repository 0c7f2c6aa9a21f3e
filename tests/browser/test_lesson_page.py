"""The page a lesson is: answered by mouse, by keyboard alone and by touch, and what must not hurt it."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, ViewportSize, expect

from lessons.jupyter.working_copy import working_copy
from lessons.notebook import bank
from lessons.questions import progress
from tests.browser import lab as labs
from tests.browser.lessons_lab import (
    answer_card,
    cells_in,
    fill,
    give_answer,
    go_to,
    open_lesson,
    own_copy,
    reply,
    running_lessons,
    wait_until_ready,
)
from tests.lessons.notebooks.test_notebooks import right_answer
from tests.processes import kill_kernels

BADGE = "4711"
PARTS = "01_what_a_control_valve_does.ipynb"
INHERENT = "04_inherent_characteristic.ipynb"
# Sizes of a small laptop, the same at 125 %, a tablet upright, a telephone.
LAPTOP, TABLET = ViewportSize(width=1366, height=768), ViewportSize(width=820, height=1180)
SIZES = [(1366, 768), (1093, 614), (820, 1180), (412, 915)]


@pytest.fixture
def own(lab: labs.Lab, request: pytest.FixtureRequest) -> labs.Lab:
    """A working copy of its own."""
    return own_copy(lab, request.node.name)


@dataclass(frozen=True)
class Opened:
    """A page in which each test goes to its lesson, and what there was to see when it was opened by its address."""

    page: Page
    words: str
    scrolled: float


@pytest.fixture(scope="module")
def opened(browser: Browser, lab: labs.Lab) -> Iterator[Opened]:
    """JupyterLab on a small laptop that can be touched."""
    page = open_lesson(browser, lab, "00_start_here.ipynb", viewport=LAPTOP, has_touch=True)
    scrolled = page.locator(".jp-WindowedPanel-outer").first.evaluate("e => e.scrollTop")
    yield Opened(page, page.locator("body").inner_text(), scrolled)
    page.context.close()


@pytest.fixture
def page(opened: Opened) -> Page:
    """The page, as large as at first."""
    opened.page.set_viewport_size(LAPTOP)
    return opened.page


def in_file(lab: labs.Lab, notebook: str, question_id: str) -> str:
    (found,) = (each for each in cells_in(lab, notebook) if each.startswith(f"%%answer {question_id}\n"))
    return found.partition("\n")[2].strip()


def test_it_opens_running_without_a_word_of_code_and_the_first_answer_takes_two_clicks(
    opened: Opened, page: Page, own: labs.Lab
) -> None:
    for code in ("%%answer", "import", "Run All", "ask(", "[1]", "Kernel", "Assignment"):
        assert code not in opened.words
    assert "Question 1" in opened.words
    assert opened.scrolled == 0
    go_to(page, own, "00_start_here.ipynb")
    card = answer_card(page, "start.first")
    card.locator(".ostrel-option").nth(1).click()
    card.get_by_role("button", name="Check").click()
    assert "written down" in reply(page, card)
    assert in_file(own, "00_start_here.ipynb", "start.first") == "b"


def test_by_touch(page: Page, own: labs.Lab) -> None:
    page.set_viewport_size(TABLET)
    go_to(page, own, INHERENT)
    card = answer_card(page, "inherent.predict")
    card.locator(".ostrel-option").nth(2).tap()
    card.get_by_role("button", name="Check").tap()
    assert "written down" in reply(page, card)
    expect(page.locator(".ostrel-page .ostrel-live").first.get_by_role("slider").first).to_be_enabled()
    number = answer_card(page, "inherent.step")
    number.get_by_role("button", name="Calculator").tap()
    for key in ("5", "0", "to the power", "0", ".", "1"):
        page.locator(".ostrel-page .ostrel-keys").get_by_role("button", name=key, exact=True).tap()
    expect(page.locator(".ostrel-page .ostrel-calculator output")).to_have_text(
        "= 1.47876"
    )  # 50^0.1 = e^(0.1 · 3.91202) = 1.47876
    page.get_by_role("button", name="Use as answer").tap()
    expect(number.locator(".ostrel-number")).to_have_value("1.47876")
    word = page.locator(".ostrel-page .ostrel-word[data-term='travel']").first
    word.tap()
    expect(page.get_by_role("tooltip")).to_contain_text("How far the plug")


def test_nothing_is_clipped_and_what_belongs_together_is_on_one_screen(page: Page, own: labs.Lab) -> None:
    go_to(page, own, PARTS)
    for width, height in SIZES:
        page.set_viewport_size({"width": width, "height": height})
        fits(page, width, height)


def fits(page: Page, width: int, height: int) -> None:
    beyond = page.evaluate("""() => {
        const edge = document.querySelector('.ostrel-page .jp-WindowedPanel-outer').getBoundingClientRect();
        return [...document.querySelectorAll('.ostrel-page .ostrel-card *, .ostrel-page .ostrel-live *, .ostrel-page .jp-RenderedHTMLCommon *')]
            .filter((e) => e.getClientRects().length && !e.closest('svg, table'))
            .filter((e) => e.getBoundingClientRect().right > edge.right + 1 || e.getBoundingClientRect().left < edge.left - 1)
            .map((e) => e.outerHTML.slice(0, 80));
    }""")
    assert beyond == []
    tall = "e => e.getBoundingClientRect().height"
    assert page.locator(".ostrel-page .ostrel-live").first.evaluate(tall) < height - 48
    parts = answer_card(page, "drop.parts")
    parts.evaluate("e => e.scrollIntoView({block: 'start'})")
    last = parts.locator("select").last
    last.scroll_into_view_if_needed()
    for seen in (parts.locator("img"), last):  # the drawing stays while its last number is chosen
        box = seen.bounding_box()
        assert box and box["y"] >= 0 and box["y"] + box["height"] <= height
    labs.screenshot(page, f"page-{width}")


def test_no_key_and_no_double_click_changes_the_lesson(page: Page, own: labs.Lab) -> None:
    go_to(page, own, INHERENT)
    before = cells_in(own, INHERENT)
    count = page.locator(".ostrel-page .jp-Notebook .jp-Cell").count()
    page.locator(".ostrel-page h1").first.click()
    for keys in (
        "d",
        "d",
        "a",
        "b",
        "x",
        "y",
        "m",
        "r",
        "Enter",
        "Shift+Enter",
        "Control+Shift+ArrowDown",
        "z",
        "c",
        "v",
    ):
        page.keyboard.press(keys)
    page.keyboard.type("the answer is linear")
    page.locator(".ostrel-page .jp-MarkdownCell p").first.dblclick()
    card = answer_card(page, "inherent.step")
    card.locator(".ostrel-text").click()
    page.keyboard.type("ddaabb")
    assert page.locator(".ostrel-page .jp-Notebook .jp-Cell").count() == count
    assert page.locator(".jp-MarkdownCell .cm-content:visible").count() == 0
    page.keyboard.press("Control+s")
    give_answer(page, "inherent.linear", "Kv 5")
    after = cells_in(own, INHERENT)
    assert [(a, b) for a, b in zip(before, after, strict=True) if a != b] == [
        ("%%answer inherent.linear\n", "%%answer inherent.linear\nKv 5")
    ]


def test_two_tabs_keep_each_others_answers(page: Page, own: labs.Lab) -> None:
    one, other = page, page.context.new_page()
    go_to(one, own, PARTS)
    other.goto(own.url(PARTS), wait_until="domcontentloaded", timeout=labs.WAIT)
    wait_until_ready(other)
    give_answer(one, "drop.root", "11 m³/h")
    give_answer(other, "drop.need", "3 bar")
    give_answer(one, "drop.predict", "a")
    expect(one.locator(".jp-Dialog")).to_have_count(0)
    held = [in_file(own, PARTS, each) for each in ("drop.root", "drop.need", "drop.predict")]
    assert held == ["11 m³/h", "3 bar", "a"]
    expect(answer_card(one, "drop.need").locator(".ostrel-number")).to_have_value("3")
    other.close()


def test_what_is_typed_while_the_kernel_or_the_server_is_gone_goes_in_when_it_is_back(
    browser: Browser, tmp_path: Path
) -> None:
    text = right_answer("inherent.linear", "si")
    with contextlib.ExitStack() as servers:
        lab = servers.enter_context(running_lessons(tmp_path))
        progress.keep_sign_on(lab.folder, BADGE, "si")
        page = open_lesson(browser, lab, INHERENT)
        kill_kernels(lab.server.pid)
        card = answer_card(page, "inherent.linear")
        fill(card, text)
        card.get_by_role("button", name="Check").click()
        expect(card).to_contain_text("Right.")  # the server starts it anew; nobody has to ask
        lab.server.kill()
        lab.server.wait()
        trouble = page.locator(".ostrel-trouble")
        expect(trouble).to_contain_text("is not answering")
        step = answer_card(page, "inherent.step")
        fill(step, "3 %")
        step.get_by_role("button", name="Check").click()
        expect(step).to_contain_text("Your answer is kept")
        labs.screenshot(page, "page-server-gone")
        trouble.get_by_role("button").click()
        expect(trouble).to_contain_text("Start it again as you did before")
        servers.enter_context(running_lessons(tmp_path, lab.port))
        trouble.get_by_role("button").click()
        expect(step).to_contain_text("Read as 3 %")
        expect(trouble).to_be_hidden()
        page.wait_for_timeout(2000)
        assert in_file(lab, INHERENT, "inherent.step") == "3 %"
        assert in_file(lab, INHERENT, "inherent.linear") == text
        page.context.close()


def test_course_search_words_and_the_way_on(page: Page, own: labs.Lab) -> None:
    go_to(page, own, INHERENT)
    panel = page.get_by_role("navigation", name="Course")
    expect(panel.get_by_role("link")).to_have_count(len(bank.lessons()) + 3)
    panel.get_by_role("searchbox").fill("hunting")
    expect(panel.get_by_role("link", name="Why does it hunt?")).to_be_visible()
    page.keyboard.press("Escape")
    page.get_by_role("button", name="Hand in").click()
    said = page.get_by_role("dialog", name="Hand in")
    expect(said).to_contain_text(str(own.folder / INHERENT))
    expect(said).to_contain_text("No answer yet to 4 work order questions")
    said.get_by_role("button", name="Done").click()
    page.get_by_role("button", name="Next lesson").click()
    expect(page.locator(".ostrel-page .ostrel-title")).to_contain_text("05 Installed flow")
    page.locator(".ostrel-page .ostrel-back").click()
    expect(page.locator(".ostrel-page .ostrel-title")).to_contain_text("04 Inherent")
    page.locator(".ostrel-page").get_by_role("button", name="More").click()
    page.locator(".ostrel-page").get_by_role("menuitem", name="Plain notebook").click()
    expect(page.get_by_role("menuitem", name="Kernel")).to_be_visible()
    expect(page.locator(".cm-content:visible", has_text="%%answer").first).to_be_visible()
    page.get_by_role("button", name="Back to the lesson page").first.click()
    expect(page.get_by_role("menuitem", name="Kernel")).to_be_hidden()


def test_the_keyboard_stays_where_it_was_when_the_page_counts_anew(page: Page, own: labs.Lab) -> None:
    """The course and the end of a lesson are drawn anew after each answer, and so is the button it stands on."""
    go_to(page, own, INHERENT)
    card = answer_card(page, "inherent.linear")
    for stop in (".ostrel-page .ostrel-next", ".ostrel-page [aria-label=Course] a[href*='05_']"):
        fill(card, "a" if "next" in stop else "b")
        page.locator(stop).evaluate("e => { e.former = true; e.focus(); }")
        card.get_by_role("button", name="Check").evaluate("e => e.click()")  # the mouse would take the focus along
        page.wait_for_function("stop => !document.querySelector(stop).former", arg=stop, timeout=labs.WAIT)
        assert page.locator(stop).evaluate("e => e === document.activeElement"), stop


def test_without_the_extension_answers_are_typed_as_before(browser: Browser, tmp_path: Path) -> None:
    working_copy(tmp_path / "work")
    with labs.running_lab(tmp_path) as lab:
        progress.keep_sign_on(lab.folder, BADGE, "si")
        page = labs.open_notebook(browser, lab, INHERENT)
        labs.run_all(page)
        cell = page.locator(".jp-CodeCell", has=page.locator(".cm-line", has_text="%%answer inherent.linear"))
        for _ in range(20):  # until then the notebook takes the key; and it takes the focus back when all has run
            cell.locator(".cm-content").click()
            page.wait_for_timeout(300)
            if cell.locator(".cm-focused").count():
                break
        expect(cell.locator(".cm-focused")).to_be_visible()
        page.keyboard.press("Control+End")
        page.keyboard.insert_text(right_answer("inherent.linear", "si"))
        page.keyboard.press("Shift+Enter")
        expect(cell.locator(".jp-OutputArea")).to_contain_text("Right.")
        page.wait_for_timeout(
            2000
        )  # it saves itself after an answer, and plain JupyterLab takes no two savings at once
        labs.save(page)
        assert in_file(lab, INHERENT, "inherent.linear")
        page.context.close()
