"""Every job card in a real browser at tablet size, served without code; and the same cards in JupyterLab."""

from __future__ import annotations

import contextlib
import re
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import psutil
import pytest
from playwright.sync_api import Browser, Error, Page, Request, expect

from lessons.card_page.card import Card
from lessons.card_page.page import CardPage
from lessons.card_page.page_files import FOLDER, PAPERS, printed_html
from lessons.cards import NAMES, card_named
from tests.browser import lab as labs
from tests.browser.accessible import CARD_TARGET, moving, too_small, violations
from tests.browser.card_pages import TABLET, Cards, open_card, running_cards, tablet
from tests.browser.lab import Lab
from tests.browser.lessons_lab import open_lesson, own_copy, wait_until_ready


@pytest.fixture(scope="module")
def tablet_page(browser: Browser) -> Iterator[Page]:
    page = tablet(browser)
    yield page
    page.context.close()


@pytest.fixture
def page(tablet_page: Page) -> Page:
    """The one page of this file: a card that is opened without an address of its own begins anew."""
    return as_it_was(tablet_page)


@pytest.fixture(scope="module")
def touch_page(browser: Browser) -> Iterator[Page]:
    page = browser.new_context(viewport=TABLET, has_touch=True, is_mobile=True).new_page()  # type: ignore[arg-type]
    yield page
    page.context.close()


@pytest.fixture
def touched(touch_page: Page) -> Page:
    """A page under a finger."""
    return as_it_was(touch_page)


def as_it_was(page: Page) -> Page:
    """Give a page the size and the media it had at the start."""
    page.set_viewport_size(TABLET)  # type: ignore[arg-type]
    page.emulate_media(reduced_motion="no-preference")
    return page


@contextlib.contextmanager
def heard(page: Page) -> Iterator[tuple[list[str], list[str]]]:
    """Note what the page asks for, and what goes wrong in it."""
    asked: list[str] = []
    problems: list[str] = []

    def on_request(request: Request) -> None:
        asked.append(request.url)

    def on_error(error: Error) -> None:
        problems.append(str(error))

    page.on("request", on_request)
    page.on("pageerror", on_error)
    yield asked, problems
    page.remove_listener("request", on_request)
    page.remove_listener("pageerror", on_error)


# Of each box and each slider: its name, and how high it is.
FIELDS = """() => [...document.querySelectorAll(".ostrel-fields input, .ostrel-fields select")].map((box) => ({
    name: box.getAttribute("aria-label") || document.querySelector(`label[for='${box.id}']`)?.textContent,
    height: box.getBoundingClientRect().height,
}))"""


@pytest.mark.parametrize("name", NAMES)
def test_card_at_tablet_size(page: Page, cards: Cards, name: str) -> None:
    page.emulate_media(reduced_motion="reduce")
    with heard(page) as (asked, problems):
        open_card(page, cards, name)
        fits_a_tablet(page, card_named(name))
    assert problems == []
    assert any(url.startswith(cards.url(name)) for url in asked)
    assert [url for url in asked if not url.startswith(("http://127.0.0.1", "blob:", "data:"))] == [], "offline"
    assert violations(page) == []
    assert too_small(page, CARD_TARGET) == []
    assert moving(page) == []
    page.set_viewport_size({"width": TABLET["width"], "height": 2100})
    page.wait_for_timeout(200)
    labs.screenshot(page, f"card-{name}")


def fits_a_tablet(page: Page, each: Card) -> None:
    """Hold that a card shows its title, its picture, all its boxes, large enough, and no code."""
    expect(page.get_by_role("heading", name=each.title)).to_be_visible()
    expect(page.locator(".ostrel-picture svg[role=img]")).to_have_attribute(
        "aria-label", re.compile(f"^{re.escape(each.alt)}")
    )  # and what it says now
    boxes = page.locator(".ostrel-fields input:not([type=range]), .ostrel-fields select")
    assert boxes.count() == sum(len(field.keys) for field in each.fields)
    fields = page.evaluate(FIELDS)
    assert fields
    for field in fields:
        assert field["name"]
        assert field["height"] >= 43.5, "large enough for a finger"
    article = page.locator("article").bounding_box()
    assert article
    assert article["x"] >= 0
    assert article["x"] + article["width"] <= TABLET["width"]
    assert page.evaluate(
        "document.querySelector('article').scrollWidth <= document.querySelector('article').clientWidth"
    )
    words = page.locator("body").inner_text()
    assert "lessons.notebook" not in words, "no code"
    assert "permit" in words


@pytest.mark.parametrize(("width", "height"), [(768, 1024), (360, 640), (320, 568)])
def test_the_answer_is_in_sight_on_a_touch_screen(touched: Page, cards: Cards, width: int, height: int) -> None:
    """On a tablet the answer itself, on a phone the bar that stays and follows what is typed; nothing too small."""
    page = touched
    page.set_viewport_size({"width": width, "height": height})
    open_card(page, cards, "stroke_errors")
    bar, headline = page.locator(".ostrel-bar"), page.locator(".ostrel-headline")
    if width == TABLET["width"]:
        expect(headline).to_be_in_viewport(ratio=1)
        expect(bar).to_be_hidden()
    else:
        expect(bar).to_be_in_viewport(ratio=1)
        expect(bar).to_contain_text("✗ Outside its limit: as found +1.3 %")
        page.get_by_label("error allowed, of span, %", exact=True).fill("5")
        expect(bar).to_contain_text("✓ Within its limit: as found +1.3 %")  # 1.3 + 0.2 of 5, read 25 times better
    least = page.evaluate(
        "Math.min(...[...document.querySelectorAll('article :is(a, button, input, select)')]"
        ".map((each) => each.getBoundingClientRect().height).filter(Boolean))"
    )
    assert least >= 43.5
    narrowest = page.evaluate(
        "Math.min(...[...document.querySelectorAll('.wide input')].map((each) => each.getBoundingClientRect().width))"
    )
    assert narrowest >= 60, "a reading such as 100.25 can be seen"
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth + 1")


def test_a_keypad_of_digits_gives_way_to_letters(touched: Page, cards: Cards) -> None:
    page = touched
    open_card(page, cards, "shutoff")
    box = page.get_by_label("seat (port) diameter, mm", exact=True)
    expect(box).to_have_attribute("inputmode", "decimal")
    page.get_by_role("button", name="Keypad with letters").click()
    expect(box).to_have_attribute("inputmode", "text")
    page.get_by_role("button", name="Keypad of digits").click()
    expect(box).to_have_attribute("inputmode", "decimal")


def test_by_keyboard_alone(page: Page, cards: Cards) -> None:
    open_card(page, cards, "shutoff")
    page.get_by_label("what shuts it").focus()
    for _ in range(5):  # two boxes with their sliders, then the third
        page.keyboard.press("Tab")
    expect(page.get_by_label("pressure drop to shut against", exact=False).first).to_be_focused()
    before = page.locator("[data-part=bar_1] path").get_attribute("d")
    page.keyboard.press("Control+a")
    page.keyboard.type("0")
    # 0.7 bar · 480 cm² − 200 N = 3160 N on π · 46 mm
    expect(page.locator(".ostrel-headline")).to_contain_text("✓ Enough: it closes, with 21.9 N/mm on the seat")
    expect(page.locator("[data-part=bar_1] path")).not_to_have_attribute("d", before or "")


def test_a_slider_and_its_box_follow_each_other(page: Page, cards: Cards) -> None:
    open_card(page, cards, "shutoff")
    box = page.get_by_label("seat (port) diameter, mm", exact=True)
    slider = page.get_by_label("seat (port) diameter, mm, slider")
    expect(slider).to_have_value("46")
    before = page.locator("[data-part=bar_1] path").get_attribute("d")
    slider.focus()
    for _ in range(4):
        page.keyboard.press("ArrowRight")
    expect(box).to_have_value("50")
    expect(page.locator("[data-part=bar_1] path")).not_to_have_attribute("d", before or "")
    expect(slider).to_have_attribute("aria-valuetext", "50 mm")
    box.fill("30 mm")
    expect(slider).to_have_value("30")
    box.fill("thirty")
    expect(slider).to_have_value("30")  # the number that could be read last
    slider.focus()
    page.keyboard.press("ArrowRight")
    expect(page.locator(".ostrel-field", has=box).locator(".ostrel-problem")).to_be_hidden()
    box.fill("25.4")
    page.get_by_role("button", name="Show US units").click()
    expect(page.get_by_label("seat (port) diameter, in, slider")).to_have_value("1")
    expect(page.get_by_label("seat (port) diameter, in", exact=True)).to_have_value("1")


def test_dragging_a_slider_moves_answer_and_picture(page: Page, cards: Cards) -> None:
    open_card(page, cards, "flow_at_travel")
    slider = page.get_by_label("travel, %, slider", exact=True)
    place = slider.bounding_box()
    assert place
    page.mouse.move(place["x"] + place["width"] / 2, place["y"] + place["height"] / 2)
    page.mouse.down()
    page.mouse.move(place["x"] + place["width"] + 20, place["y"] + place["height"] / 2, steps=12)
    page.mouse.up()
    expect(page.get_by_label("travel, %", exact=True)).to_have_value("100")
    expect(page.locator(".ostrel-headline")).to_contain_text("120 m³/h")  # the valve wide open
    expect(slider).to_have_value("100")


def test_what_a_slider_showed_ahead_is_what_is_saved(page: Page, cards: Cards) -> None:
    open_card(page, cards, "packing")
    page.get_by_label("valve tag or job number").fill("AHEAD")
    slider = page.get_by_label("number of rings, slider")
    slider.focus()
    page.wait_for_timeout(700)  # its answers are there
    # Steps and the click in one task: nothing came from Python in between, nor was it told of the last step yet.
    page.evaluate("""() => {
        const slider = document.querySelector("[aria-label='number of rings, slider']");
        for (const rings of [6, 7, 8]) { slider.value = rings; slider.dispatchEvent(new Event('input')); }
        window.said = document.querySelector('.ostrel-headline').textContent;
        [...document.querySelectorAll('button')].find((b) => b.textContent === 'Save page').click();
    }""")
    # By hand: friction = π · 12 mm · 8 · 6 mm · 10 MPa · 0.05 · 0.5, and 283 N at 5 rings · 8/5
    assert "friction 452 N" in page.evaluate("window.said")
    expect(page.locator(".ostrel-saved a")).to_have_count(2)
    (saved,) = (cards.folder / FOLDER).glob("packing_AHEAD_*.html")
    assert "friction 452 N" in saved.read_text("utf-8")


def test_bad_input_speaks_at_its_field_and_the_rest_stays(page: Page, cards: Cards) -> None:
    open_card(page, cards, "shutoff")
    box = page.get_by_label("seat (port) diameter", exact=False).first
    expect(page.locator(".ostrel-headline")).to_contain_text("✓")
    box.fill("46 furlongs")
    says = page.locator(".ostrel-field", has=box).locator(".ostrel-problem")
    expect(says).to_contain_text("is not known here. This field asks for mm")
    expect(box).to_have_attribute("aria-invalid", "true")
    expect(page.locator(".ostrel-answer")).to_have_text(
        "No answer for these numbersCorrect what is marked above.Ask again"
    )
    expect(page.locator(".ostrel-formula")).to_have_text("")
    expect(page.locator("[data-part=says] text")).to_be_hidden()
    labs.screenshot(page, "card-bad-input")
    box.fill("46")
    expect(says).to_be_hidden()
    expect(page.locator(".ostrel-headline")).to_contain_text("✓")
    expect(page.locator("[data-part=value_1] text")).to_be_visible()


def test_units_switch_keeps_the_valve(page: Page, cards: Cards) -> None:
    open_card(page, cards, "bench_set")
    page.get_by_role("textbox", name="rated travel").fill("1,5 in")
    page.get_by_role("button", name="Show US units").click()
    expect(page.get_by_role("textbox", name="rated travel")).to_have_value("1.5")
    expect(page.get_by_role("textbox", name="effective area of the actuator")).to_have_value("74.4")  # 480 / 6.4516
    expect(page.locator(".ostrel-headline")).to_contain_text("psi")
    labs.screenshot(page, "card-us")
    page.get_by_role("button", name="Show metric units").click()
    expect(page.get_by_role("textbox", name="effective area of the actuator")).to_have_value("480")


def test_stroke_errors_to_take_along(page: Page, cards: Cards, tmp_path: Path) -> None:
    open_card(page, cards, "stroke_errors")
    for row, values in (("rising", (0.1, 25.1, 50.2, 75.1, 100)), ("falling", (0.2, 25.3, 50.4, 75.2, 100))):
        for place, value in zip((0, 25, 50, 75, 100), values, strict=True):
            page.get_by_label(f"as left, signal {row}: travel, at {place} %").fill(str(value))
    expect(page.locator(".ostrel-headline")).to_contain_text(
        "Within its limit: as left +0.4 % at worst, ±1 % allowed"
    )  # 50.4 − 50
    page.get_by_label("valve tag or job number").fill("LV-2112")
    page.get_by_role("button", name="Save page").click()
    links = page.locator(".ostrel-saved a")
    expect(links).to_have_count(3)
    labs.screenshot(page, "card-saved")
    with page.expect_download() as got:
        links.filter(has_text=".pdf").click()
    got.value.save_as(tmp_path / "sheet.pdf")
    written = sorted((cards.folder / FOLDER).glob("stroke_errors_LV-2112_*"))
    assert [path.suffix for path in written] == [".csv", ".html", ".pdf"]
    assert (tmp_path / "sheet.pdf").read_bytes() == written[2].read_bytes()
    assert "✗ outside its limit,✓ within its limit" in written[0].read_text("utf-8")


def test_files_of_an_earlier_save_are_let_go(browser: Browser, cards: Cards) -> None:
    page = browser.new_page()
    page.add_init_script("""
      window.held = new Set();
      const [make, revoke] = [URL.createObjectURL, URL.revokeObjectURL];
      URL.createObjectURL = (blob) => { const url = make.call(URL, blob); held.add(url); return url; };
      URL.revokeObjectURL = (url) => { held.delete(url); revoke.call(URL, url); };
    """)
    open_card(page, cards, "packing")
    before = page.evaluate("held.size")
    hrefs = []
    for _ in range(3):
        page.get_by_role("button", name="Save page").click()
        links = page.locator(".ostrel-saved a")
        expect(links).to_have_count(2)
        hrefs.append(links.first.get_attribute("href"))
        assert page.evaluate("held.size") == before + 2  # those on the page
    assert len(set(hrefs)) == 3
    page.close()


@pytest.mark.parametrize("name", NAMES)
def test_every_card_prints_on_one_sheet(page: Page, tmp_path: Path, name: str) -> None:
    about = (("valve tag or job", "FV-1204"), ("date", "2026-11-25"), ("name", "________________"))
    filled = {units: CardPage(card_named(name), units, tmp_path).filled for units in ("si", "us")}
    written = tmp_path / "card.html"
    written.write_text(printed_html(filled["si"], about, "A4"), "utf-8")
    page.goto(written.as_uri())  # as it is printed from; with the others only what stands there changes
    labs.screenshot(page, f"card-print-{name}")
    for units, each in filled.items():
        for paper in PAPERS:
            page.set_content(printed_html(each, about, paper))
            printed = page.pdf(prefer_css_page_size=True)
            assert len(re.findall(rb"/Type\s*/Page\b", printed)) == 1, (units, paper)


def test_find_by_word_and_open(page: Page, cards: Cards) -> None:
    page.goto(cards.url(), wait_until="domcontentloaded")
    page.get_by_label("Find by word").fill("drips")
    link = page.locator("#found").get_by_role("link", name="Is this leakage acceptable?")
    expect(link).to_be_visible()
    labs.screenshot(page, "card-index")
    link.click()  # in place: no second tab
    page.wait_for_selector(".ostrel-headline", timeout=labs.WAIT)
    assert page.url.startswith(cards.url("seat_leakage"))
    assert page.title() == "Is this leakage acceptable? · job card"
    page.go_back()
    expect(page.get_by_label("Find by word")).to_have_value("drips")


def test_what_was_typed_outlives_reload_and_back(page: Page, cards: Cards) -> None:
    open_card(page, cards, "shutoff")
    page.get_by_role("button", name="US units").click()
    box = page.get_by_label("seat (port) diameter, in", exact=True)
    expect(box).to_be_visible()
    box.fill("1.5")
    expect(page.locator(".ostrel-headline")).to_contain_text("✓")
    page.reload()
    expect(box).to_have_value("1.5")
    page.get_by_role("link", name="All cards").click()
    page.wait_for_selector("#word")
    page.go_back()
    expect(box).to_have_value("1.5")
    expect(page.locator(".ostrel-headline")).to_contain_text("✓")


def test_nothing_is_left_of_a_page_that_was_closed(browser: Browser, cards: Cards) -> None:
    def open_files() -> int:
        return len(psutil.Process(cards.server.pid).net_connections())

    before = open_files()
    context = browser.new_context()
    pages = [context.new_page() for _ in range(4)]
    for each in pages:
        open_card(each, cards, "packing")
    assert psutil.Process(cards.server.pid).children(recursive=True) == []  # one process serves them all
    assert open_files() > before
    context.close()
    end = time.monotonic() + 10
    while open_files() > before and time.monotonic() < end:
        time.sleep(0.1)
    assert open_files() <= before


def test_other_machines_need_the_token(tmp_path: Path) -> None:
    with running_cards(tmp_path, "--host=0.0.0.0") as cards:
        secret = re.search(r"token=(\w+)", cards.log.read_text())
        assert secret
        with pytest.raises(urllib.error.HTTPError, match="403"):
            urllib.request.urlopen(cards.url(), timeout=20)  # noqa: S310 - our own server
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        with opener.open(f"{cards.url()}?token={secret[1]}", timeout=20) as reply:
            assert reply.url == cards.url()  # the token stays in no address
        with opener.open(cards.url("packing"), timeout=20) as reply:
            assert reply.status == 200


# ---- in JupyterLab ------------------------------------------------------------------------------------------------


def test_from_the_start_page_to_a_card_and_its_lesson(browser: Browser, lab: Lab) -> None:
    page = open_lesson(browser, own_copy(lab, "start-to-card", badge=""), "00_start_here.ipynb")
    page.get_by_role("link", name="job card").click()
    index = page.locator(".jp-NotebookPanel", has=page.get_by_role("heading", name="Job cards"))
    expect(index).to_be_visible()
    wait_until_ready(page)
    index.get_by_role("textbox", name="Find by word").fill("packing")
    page.get_by_role("link", name="Packing rings and gland load").first.click()
    page.wait_for_function("location.pathname.endsWith('job_cards/packing.ipynb')", timeout=labs.WAIT)
    wait_until_ready(page)
    expect(page.locator(".ostrel-headline")).to_contain_text("Gland load")
    labs.screenshot(page, "card-in-lab")
    page.get_by_role("link", name="lesson 09").click()
    page.wait_for_function("location.pathname.endsWith('/09_packing_friction_hunting.ipynb')", timeout=labs.WAIT)
    page.context.close()
