"""Lesson 00 and the two after it, whole: by mouse, by keyboard alone, by touch; and the way from one to the next."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from playwright.sync_api import Browser, Page, expect

from lessons.notebook import bank
from tests.browser import lab as labs
from tests.browser.hands import Hand, Keyboard, Mouse, Touch, answer
from tests.browser.lessons_lab import answer_card, answers_in, open_lesson, own_copy, reply, wait_until_ready
from tests.lessons.notebooks.test_notebooks import BADGE, NOTEBOOKS, asked, read, right_answer

WAYS: dict[str, tuple[Callable[[Page], Hand], dict[str, object]]] = {
    "mouse": (Mouse, {"viewport": {"width": 1366, "height": 768}}),
    "keyboard": (Keyboard, {"viewport": {"width": 1366, "height": 768}}),
    "touch": (Touch, {"viewport": {"width": 820, "height": 1180}, "has_touch": True}),
}
THREE = NOTEBOOKS[:3]


@pytest.mark.parametrize("way", WAYS)
def test_three_lessons_from_sign_on_to_the_next_lesson(browser: Browser, lab: labs.Lab, way: str) -> None:
    hand_of, context = WAYS[way]
    own = own_copy(lab, way, badge="")
    page = open_lesson(browser, own, THREE[0].name, **context)
    hand = hand_of(page)
    sign_on(hand)
    for notebook in THREE:
        work_through(hand, notebook.name, [each for each in asked(read(notebook)) if "again" not in each])
        held = answers_in(own, notebook.name)
        assert all(held.values()), f"every box of {notebook.name} holds an answer"
        hand.press(shown(page).get_by_role("button", name="Next lesson"))
        expect(shown(page).locator(".ostrel-title")).not_to_contain_text(title(notebook.name))
        wait_until_ready(page)
    page.context.close()


def sign_on(hand: Hand) -> None:
    page = hand.page
    hand.write(page.get_by_placeholder("your badge number").first, BADGE)
    hand.press(page.locator(".ostrel-page .jp-Cell").get_by_role("button", name="Sign on"))
    expect(page.locator(".ostrel-bar")).to_contain_text(f"Badge {BADGE}")


def work_through(hand: Hand, notebook: str, questions: list[str]) -> None:
    """Answer every question right, move the first picture, hand in."""
    page = hand.page
    for question_id in questions:
        card = answer_card(page, question_id)
        answer(hand, card, right_answer(question_id, "si"))
        said = reply(page, card)
        assert any(good in said for good in ("Right.", "written down", "after you hand it in")), (question_id, said)
        if question_id.endswith(".predict"):
            move_a_picture(hand)
    if any(bank.is_work_order(each) for each in questions):
        hand_in(hand, notebook)


def move_a_picture(hand: Hand) -> None:
    slider = shown(hand.page).locator(".ostrel-live").first.get_by_role("slider").first
    expect(slider).to_be_enabled()
    before = slider.get_attribute("aria-valuetext") or ""
    hand.slide(slider)
    expect(slider).not_to_have_attribute("aria-valuetext", before)


def hand_in(hand: Hand, notebook: str) -> None:
    page = hand.page
    done = shown(page).locator(".ostrel-done").inner_text().split()
    assert done[0] == done[2], f"all of it is solved: {done}"
    hand.press(shown(page).get_by_role("button", name="Hand in"))
    said = page.get_by_role("dialog", name="Hand in")
    expect(said).to_contain_text("All work order questions have an answer.")
    expect(said).to_contain_text(notebook)
    hand.press(said.get_by_role("button", name="Done"))
    expect(said).to_be_hidden()


def shown(page: Page) -> labs.Locator:
    return page.locator(".ostrel-page")


def title(notebook: str) -> str:
    return next(each.title for each in bank.lessons() if f"{each.notebook}.ipynb" == notebook)
