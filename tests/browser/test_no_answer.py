"""Kernel or server gone, or busy: no card keeps a verdict that is not that of its inputs."""

from __future__ import annotations

import contextlib
import re
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from lessons.card_page.page_files import FOLDER
from tests.browser import lab as labs
from tests.browser.card_pages import Cards, open_card, running_cards, tablet
from tests.browser.lab import Lab
from tests.browser.lessons_lab import open_lesson, running_lessons
from tests.browser.losing import asleep, cull_in_lab, kill, stop

LIMIT = 3000  # ms after a change until the page must say that nothing answers
LEAK = "[data-key=leak]"
# Seat leakage, class IV with water: the headline says what was measured, as it stands in the box.
SAID = re.compile(r"([\d.]+) mL/min measured")
# Notes each moment at which the headline speaks of another leak than the one in the box.
WATCH = """() => {
  window.wrong = [];
  window.seen = 0;
  const box = document.querySelector('[data-key=leak]'), head = document.querySelector('.ostrel-headline');
  const look = () => {
    const said = /([\\d.]+) mL\\/min measured/.exec(head.textContent);
    if (said) window.seen++;
    if (said && said[1] !== box.value) window.wrong.push([said[1], box.value]);
  };
  new MutationObserver(look).observe(head, {subtree: true, childList: true, characterData: true});
  document.addEventListener('input', look); // when the page itself has heard of it
  const each = () => { look(); requestAnimationFrame(each); };
  each();
}"""


def type_leak(page: Page, number: int) -> None:
    page.locator(LEAK).fill(str(number))


def says(page: Page, number: int) -> None:
    """Wait until the verdict is that of the leak in the box."""
    expect(page.locator(".ostrel-headline")).to_contain_text(f"✓ Within its class: {number} mL/min measured")
    expect(page.locator(LEAK)).to_have_value(str(number))
    expect(page.locator("[data-part=limit_says] text")).to_have_text(f"measured {number} mL/min")
    expect(page.locator("[data-part=limit_says] text")).to_be_visible()


def no_verdict(page: Page) -> None:
    """Hold that nothing of the last answer is left, once the time is over; not "in the end", but then."""
    page.wait_for_timeout(LIMIT)
    assert page.locator(".ostrel-headline").inner_text() == "No answer"
    words = page.locator(".ostrel-answer").inner_text()
    assert not re.search(r"[✓✗\d]", words)
    assert page.locator(".ostrel-answer .ostrel-again").is_visible()
    assert "good" not in (page.locator(".ostrel-answer").get_attribute("class") or "")
    assert not page.locator("[data-part=limit_says] text").is_visible()
    assert page.locator(".ostrel-formula").inner_text() == ""


def save_says_so(page: Page, folder: Path) -> None:
    page.get_by_role("button", name="Save page").click()
    page.wait_for_timeout(LIMIT)
    assert page.locator(".ostrel-saved").inner_text() == "There is no answer, so nothing has been saved."
    assert not (folder / FOLDER).exists()


def lose_and_find(page: Page, server: Cards | Lab, lose: Callable[[Cards | Lab], None], name: str) -> None:
    says(page, 35)
    lose(server)
    type_leak(page, 36)
    no_verdict(page)
    close_dialogs(page)
    for number in (41, 42, 43, 44, 45, 37):  # more than may be under way at once
        type_leak(page, number)
    no_verdict(page)
    save_says_so(page, server.folder)
    labs.screenshot(page, f"no-answer-{name}")


def close_dialogs(page: Page) -> None:
    """Close what JupyterLab says about kernel and server."""
    for button in page.locator(".jp-Dialog .jp-mod-accept").all():
        button.click()
    page.add_style_tag(content=".jp-Dialog { display: none !important; }")  # it says so again and again


# ---- served as pages ------------------------------------------------------------------------------------------------


def test_a_served_card_without_its_server(browser: Browser, tmp_path: Path) -> None:
    with contextlib.ExitStack() as servers:
        cards = servers.enter_context(running_cards(tmp_path))
        page = tablet(browser)
        open_card(page, cards, "seat_leakage")
        type_leak(page, 35)
        lose_and_find(page, cards, stop, "served")
        page.get_by_role("button", name="Ask again").click()
        no_verdict(page)  # and the page is still there
        servers.enter_context(running_cards(tmp_path, port=cards.port))
        says(page, 37)  # it finds the way back by itself
        type_leak(page, 38)
        says(page, 38)
        page.reload()
        says(page, 38)
        page.context.close()


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    page = tablet(browser)
    yield page
    page.context.close()


@pytest.fixture
def leakage(page: Page, cards: Cards) -> Page:
    """The card, opened anew: what was typed before stood in its address."""
    open_card(page, cards, "seat_leakage")
    return page


def test_a_server_that_comes_back_is_asked_again_without_a_click(leakage: Page, cards: Cards) -> None:
    type_leak(leakage, 35)
    says(leakage, 35)
    with asleep(cards):
        for number in (41, 42, 43, 44, 45, 46, 36):
            type_leak(leakage, number)
        no_verdict(leakage)
        leakage.wait_for_timeout(6000)  # it asks again by itself meanwhile
        type_leak(leakage, 37)
        no_verdict(leakage)
    says(leakage, 37)


def test_at_no_moment_is_there_a_verdict_for_other_numbers(leakage: Page, cards: Cards) -> None:
    leakage.evaluate(WATCH)
    leakage.locator(LEAK).focus()
    for number in range(10, 70):  # every key changes the box; what is read in between is a number too
        leakage.keyboard.press("Control+a")
        leakage.keyboard.type(str(number))
    says(leakage, 69)
    slider = leakage.locator(".ostrel-boxes", has=leakage.locator(LEAK)).locator(".ostrel-slide")
    slider.focus()
    for _ in range(30):
        leakage.keyboard.press("ArrowLeft")
    box = slider.bounding_box()
    assert box is not None
    leakage.mouse.move(box["x"] + 5, box["y"] + box["height"] / 2)
    leakage.mouse.down()
    for step in range(60):
        leakage.mouse.move(box["x"] + 5 + (box["width"] - 10) * step / 60, box["y"] + box["height"] / 2)
    leakage.mouse.up()
    with asleep(cards):
        type_leak(leakage, 20)
        type_leak(leakage, 21)
        type_leak(leakage, 20)
        leakage.wait_for_timeout(300)
    says(leakage, 20)
    assert leakage.evaluate("window.wrong") == []
    assert leakage.evaluate("window.seen") > 100, "the watch saw verdicts at all"


def test_units_asked_for_in_vain_do_not_change_how_boxes_are_read(leakage: Page, cards: Cards) -> None:
    travel = leakage.get_by_role("textbox", name="seat (port) diameter")
    with asleep(cards):
        leakage.get_by_role("button", name="Show US units").click()
        travel.fill("41")  # mm still, as stands beside the box
        no_verdict(leakage)
        expect(leakage.get_by_role("textbox", name="seat (port) diameter, mm")).to_be_visible()
    expect(leakage.get_by_role("textbox", name="seat (port) diameter, in")).to_have_value("1.614")  # 41 / 25.4
    expect(leakage.locator(".ostrel-headline")).to_contain_text("✓")


def test_refused_input_leaves_nothing_of_the_verdict(leakage: Page) -> None:
    type_leak(leakage, 35)
    says(leakage, 35)
    leakage.locator(LEAK).fill("a lot")
    expect(leakage.locator(".ostrel-headline")).to_have_text("No answer for these numbers")
    assert not re.search(r"[✓✗\d]", leakage.locator(".ostrel-answer").inner_text())
    assert not leakage.locator("[data-part=limit_says] text").is_visible()
    leakage.get_by_role("button", name="Save page").click()
    expect(leakage.locator(".ostrel-saved")).to_have_text("Nothing was saved. First correct what is marked above.")
    type_leak(leakage, 36)
    says(leakage, 36)


def test_a_saved_page_says_when_the_numbers_have_moved_on(leakage: Page) -> None:
    type_leak(leakage, 35)
    says(leakage, 35)
    leakage.get_by_role("button", name="Save page").click()
    expect(leakage.locator(".ostrel-saved a")).to_have_count(2)
    assert "changed since" not in leakage.locator(".ostrel-saved").inner_text()
    type_leak(leakage, 36)
    expect(leakage.locator(".ostrel-saved")).to_contain_text("The numbers on this card have changed since.")


# ---- in JupyterLab ------------------------------------------------------------------------------------------------


def test_a_card_in_the_lab_without_its_kernel(browser: Browser, tmp_path: Path) -> None:
    """Its kernel is killed, then ended; each time the card finds its way back. In the end the server is gone."""
    with running_lessons(tmp_path) as lab:
        page = open_lesson(browser, lab, "job_cards/seat_leakage.ipynb")
        page.locator(LEAK).wait_for(timeout=labs.WAIT)
        for lose in (kill, cull_in_lab, stop):
            type_leak(page, 35)
            lose_and_find(page, lab, lose, f"lab-{lose.__name__}")
            if lose is not stop:
                page.get_by_role("button", name="Ask again").click()
                says(page, 37)
                type_leak(page, 38)
                says(page, 38)
        page.context.close()
