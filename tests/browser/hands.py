"""The three ways a reader works a page: by mouse, by keyboard alone, by touch. Nothing here reaches around the page."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Protocol

from playwright.sync_api import Locator, Page

MOST_TABS = 250  # of the keyboard, from one place to the next


class Hand(Protocol):
    """What can be done to a page."""

    page: Page

    def press(self, target: Locator) -> None:
        """Press a button, an option or a link."""

    def write(self, box: Locator, text: str) -> None:
        """Put a text into a box, in place of what is there."""

    def choose(self, choice: Locator, value: str) -> None:
        """Choose from a list that opens."""

    def order(self, card: Locator, letters: list[str]) -> None:
        """Bring the steps of a question into an order."""

    def slide(self, slider: Locator) -> None:
        """Move a slider a good way up."""


@dataclass(frozen=True)
class Mouse:
    """By mouse; only what is written comes by the keyboard."""

    page: Page

    def press(self, target: Locator) -> None:
        target.click()

    def write(self, box: Locator, text: str) -> None:
        box.click(click_count=3)
        self.page.keyboard.type(text)

    def choose(self, choice: Locator, value: str) -> None:
        choice.select_option(value)  # the list is drawn by the system, where no test can click

    def order(self, card: Locator, letters: list[str]) -> None:
        for place, letter in enumerate(letters):
            self._drag(_step(card, letter), card.locator(".ostrel-step").nth(place))

    def slide(self, slider: Locator) -> None:
        box = _box(slider)
        slider.click(position={"x": box["width"] * 0.8, "y": box["height"] / 2})

    def _drag(self, step: Locator, place: Locator) -> None:
        step.locator("xpath=..").evaluate("e => e.scrollIntoView({block: 'center'})")
        grip, end = step.locator(".ostrel-grip").bounding_box(), place.bounding_box()
        assert grip
        assert end
        x, y, far = grip["x"] + grip["width"] / 2, grip["y"] + grip["height"] / 2, end["y"] + 4
        if y < end["y"] + end["height"]:
            return  # it is there
        self.page.mouse.move(x, y)
        self.page.mouse.down()
        for part in range(1, 25):  # as a hand does, through all that lies between
            self.page.mouse.move(x, y + part / 24 * (far - y))
        self.page.mouse.up()


@dataclass(frozen=True)
class Keyboard:
    """By keyboard alone: the tabulator, arrows, space, Enter."""

    page: Page

    def to(self, target: Locator) -> None:
        """Press the tabulator until the focus is where it is wanted."""
        tab_to(self.page, target)

    def press(self, target: Locator) -> None:
        if target.locator("input[type=radio]").count():
            self._pick(target)
            return
        tick = target.locator("input")
        self.to(tick if tick.count() else target)
        self.page.keyboard.press("Space" if tick.count() else "Enter")

    def write(self, box: Locator, text: str) -> None:
        self.to(box)
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(text)

    def choose(self, choice: Locator, value: str) -> None:
        self.to(choice)
        self.page.keyboard.press("Home")
        for _ in range(30):
            if choice.input_value() == value:
                return
            self.page.keyboard.press("ArrowDown")
        raise AssertionError(f"{value} cannot be chosen")

    def order(self, card: Locator, letters: list[str]) -> None:
        for place, letter in enumerate(letters):
            step = _step(card, letter)
            self.to(step)
            for _ in range(_place(step) - place - 1):
                self.page.keyboard.press("ArrowUp")

    def slide(self, slider: Locator) -> None:
        self.to(slider)
        for _ in range(8):
            self.page.keyboard.press("ArrowRight")

    def _pick(self, target: Locator) -> None:
        """Go to the group of an option, then along it by arrows: as in every form, the arrow ticks too."""
        wanted = target.locator("input").element_handle()
        group = target.locator("xpath=ancestor::*[@role='radiogroup' or contains(@class, 'widget-radio-box')][1]")
        inside = "e => e.contains(document.activeElement)"
        for _ in range(MOST_TABS):
            if group.evaluate(inside):
                break
            self.page.keyboard.press("Tab")
        self.page.keyboard.press("Space")
        for _ in range(20):
            if wanted.is_checked():
                return
            self.page.keyboard.press("ArrowDown")
        raise AssertionError("the arrows do not get to the option")


@dataclass(frozen=True)
class Touch:
    """By finger; only what is written comes by a keyboard, as it does on a screen."""

    page: Page

    def press(self, target: Locator) -> None:
        target.tap()

    def write(self, box: Locator, text: str) -> None:
        box.tap()
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(text)

    def choose(self, choice: Locator, value: str) -> None:
        choice.select_option(value)  # the list is drawn by the system, where no test can tap

    def order(self, card: Locator, letters: list[str]) -> None:
        for place, letter in enumerate(letters):
            step = _step(card, letter)
            for _ in range(_place(step) - place - 1):
                step.get_by_role("button", name="Move up").tap()

    def slide(self, slider: Locator) -> None:
        box = _box(slider)
        slider.tap(position={"x": box["width"] * 0.8, "y": box["height"] / 2})


def tab_to(page: Page, target: Locator, key: str = "Tab", most: int = MOST_TABS) -> None:
    """Press a key until the focus is where it is wanted, which is found anew each time: the page may draw it anew."""
    for _ in range(most):
        if target.evaluate("e => e === document.activeElement"):
            return
        page.keyboard.press(key)
    raise AssertionError(f"the keyboard does not get to {target}")


def answer(hand: Hand, card: Locator, text: str) -> None:
    """Answer a question by its own controls and check it, from the text that could be typed too."""
    if card.locator(".ostrel-number, textarea").count():
        hand.write(card.locator(".ostrel-number, textarea"), _beside_its_unit(card, text))
    elif card.locator(".ostrel-steps").count():
        hand.order(card, text.split())
    elif card.locator(".ostrel-pairs").count():
        for place, letter in re.findall(r"(\d+)([a-z])", text):
            row = card.locator(".ostrel-pair").filter(has=card.page.locator(f"b:text-is('{place}')"))
            hand.choose(row.locator("select"), letter)
    else:
        for letter in text.split():
            hand.press(card.locator(".ostrel-option").filter(has=card.page.locator(f"b:text-is('{letter}')")))
    hand.press(card.get_by_role("button", name="Check"))


def _beside_its_unit(card: Locator, text: str) -> str:
    """The unit stands beside the box; where there is a choice of units the first is the question's own."""
    unit = card.locator(".ostrel-unit").first
    said = unit.inner_text() if unit.evaluate("e => e.tagName") != "SELECT" else unit.input_value()
    return text.removesuffix(said).removeprefix(said).strip() if said else text


def _step(card: Locator, letter: str) -> Locator:
    return card.locator(f".ostrel-step[data-letter='{letter}']")


def _place(step: Locator) -> int:
    return int(step.locator(".ostrel-place").inner_text())


def _box(target: Locator) -> dict[str, float]:
    target.scroll_into_view_if_needed()
    box = target.bounding_box()
    assert box
    return dict(box)
