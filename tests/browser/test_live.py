"""Live pictures in a real JupyterLab: keyboard, readouts, lock, units, and what they say when no kernel answers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser import lab as labs
from tests.browser.lab import Lab
from tests.browser.live_figures import CELLS
from tests.browser.losing import asleep, cull_in_lab, kill, stop
from tests.browser.seen_pictures import expected_curve, part, seen_curve, slider

MORE_CELLS = [
    "print('values', live.values)",
    "closed.locked = False",
    """move = live._moving._move
def fussy(**values):
    if values['travel'] > 0.9:
        raise ValueError("the valve chokes here.")
    return move(**values)
live._moving._move = fussy""",
]
SAYS, UNLOCK, FUSSY = range(len(CELLS), len(CELLS) + len(MORE_CELLS))
LIMIT = 3000  # ms after a change until the picture must say that nothing answers


@pytest.fixture(scope="module")
def lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Lab]:
    with labs.running_lab(tmp_path_factory.mktemp("lab")) as running:
        yield running


@pytest.fixture(scope="module")
def page(browser: Browser, lab: Lab) -> Iterator[Page]:
    """The notebook with its first three cells run."""
    labs.write_notebook(lab.folder / "live.ipynb", [*CELLS, *MORE_CELLS])
    opened = labs.open_notebook(browser, lab, "live.ipynb")
    for number in range(len(CELLS)):
        labs.run_cell(opened, number)
    expect(opened.locator(".ostrel-live")).to_have_count(2)
    yield opened
    opened.context.close()


@pytest.fixture
def picture(page: Page) -> Locator:
    """The first picture, with its sliders where they are at the start."""
    found = page.locator(".ostrel-live").first
    bring(found, "travel", 50)
    bring(found, "rangeability", 6)
    expect(slider(found, "rangeability")).to_have_attribute("aria-valuetext", "50")
    page.wait_for_timeout(300)  # until it stands there
    return found


def bring(picture: Locator, name: str, place: int) -> None:
    """Bring a slider to one of its places, counted from 0."""
    moved = "(s, place) => { s.value = place; s.dispatchEvent(new Event('input')); }"
    slider(picture, name).evaluate(moved, place)


def test_arrow_keys_move_the_curve_to_where_python_puts_it(page: Page, picture: Locator) -> None:
    assert np.allclose(seen_curve(picture), expected_curve(0.5, 50), atol=0.02)
    control = slider(picture, "rangeability")
    control.focus()
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
    expect(control).to_have_attribute("aria-valuetext", "30")
    expect(picture.locator(".ostrel-row").nth(1)).to_have_text("rangeability 30")
    labs.wait_until_idle(page)
    page.wait_for_timeout(500)
    assert not np.allclose(seen_curve(picture), expected_curve(0.5, 50), atol=1)
    assert np.allclose(seen_curve(picture), expected_curve(0.5, 30), atol=0.02)


def layouts(page: Page, keys: int) -> list[dict[str, Any]]:
    """Press arrow keys, to and fro; return what the browser laid out, from its own trace."""
    tracer, events, ended = page.context.new_cdp_session(page), list[dict[str, Any]](), list[object]()
    tracer.on("Tracing.dataCollected", lambda some: events.extend(some["value"]))
    tracer.on("Tracing.tracingComplete", lambda said: ended.append(said))
    tracer.send("Tracing.start", {"transferMode": "ReportEvents", "categories": "devtools.timeline"})
    for key in range(keys):
        page.keyboard.press("ArrowRight" if key % 2 else "ArrowLeft")
        page.wait_for_timeout(50)
    tracer.send("Tracing.end")
    while not ended:
        page.wait_for_timeout(20)
    return [each["args"]["beginData"] for each in events if each["name"] == "Layout" and each.get("ph") == "X"]


@pytest.mark.parametrize("name", ["travel", "rangeability"])
def test_a_slider_lays_out_its_picture_alone_and_not_the_whole_page(page: Page, picture: Locator, name: str) -> None:
    slider(picture, name).focus()
    page.wait_for_timeout(500)
    done = layouts(page, keys=6)  # JupyterLab's own status line is laid out too, with the whole page
    assert sum(each["partialLayout"] for each in done) >= 6


def test_the_number_in_the_picture_and_the_readout_follow(page: Page, picture: Locator) -> None:
    control = slider(picture, "travel")
    control.focus()
    page.keyboard.press("End")
    expect(part(picture, "flow").locator("text")).to_have_text("120.0 m³/h")  # full flow at full travel, by definition
    expect(control).to_have_attribute("aria-valuetext", "100 %")
    expect(picture.locator(".ostrel-row").first).to_have_text("travel 100 %")
    labs.screenshot(page, "live-end")


def test_python_sees_the_values(page: Page, picture: Locator) -> None:
    slider(picture, "travel").focus()
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    expect(picture.locator(".ostrel-row").first).to_have_text("travel 1 %")
    page.wait_for_timeout(500)
    assert "'travel': 0.01" in labs.run_cell(page, SAYS).inner_text()


def test_letters_on_a_slider_are_not_commands_of_the_notebook(page: Page, picture: Locator) -> None:
    cells = page.locator(".jp-Notebook .jp-CodeCell")
    before = cells.count()
    slider(picture, "travel").focus()
    for key in "bdda":
        page.keyboard.press(key)
    assert cells.count() == before


def test_drag_follows_the_pointer(page: Page, picture: Locator) -> None:
    box = slider(picture, "travel").bounding_box()
    assert box is not None
    y = box["y"] + box["height"] / 2
    page.mouse.move(box["x"] + 8, y)
    page.mouse.down()
    for k in range(1, 21):
        page.mouse.move(box["x"] + 8 + (box["width"] - 16) * k / 20, y)
    expect(part(picture, "flow").locator("text")).to_have_text("120.0 m³/h")
    page.mouse.up()
    page.wait_for_timeout(300)
    assert "'travel': 1.0" in labs.run_cell(page, SAYS).inner_text()


def test_units_switch_without_running_anything(page: Page, picture: Locator) -> None:
    slider(picture, "travel").focus()
    page.keyboard.press("End")
    picture.get_by_role("button", name="Show US units").click()
    expect(part(picture, "flow").locator("text")).to_have_text("528.3 gpm")  # 120 m³/h · 1000 / 60 / 3.785412
    expect(part(picture, "y_label").locator("text")).to_have_text("flow [gpm]")
    expect(part(picture, "y_tick_1").locator("text")).to_have_text("100")
    labs.screenshot(page, "live-us")
    slider(picture, "travel").focus()
    page.keyboard.press("Home")
    expect(part(picture, "flow").locator("text")).to_have_text("10.6 gpm")  # 528.3 / rangeability 50
    picture.get_by_role("button", name="Show metric units").click()
    expect(part(picture, "flow").locator("text")).to_have_text("2.4 m³/h")


def test_locked_until_python_says_otherwise(page: Page) -> None:
    picture = page.locator(".ostrel-live").nth(1)
    expect(slider(picture, "travel")).to_be_disabled()
    expect(picture.locator("svg")).to_be_visible()
    said = "Predict first: answer the question above, then the sliders unlock."
    expect(picture.get_by_text(said)).to_be_visible()
    picture.scroll_into_view_if_needed()
    labs.screenshot(page, "live-locked")
    labs.run_cell(page, UNLOCK)
    expect(slider(picture, "travel")).to_be_enabled()
    expect(picture.get_by_text(said)).to_have_count(0)
    slider(picture, "travel").focus()
    page.keyboard.press("End")
    expect(part(picture, "flow").locator("text")).to_have_text("120.0 m³/h")


def test_the_picture_has_a_name_for_those_who_do_not_see_it(page: Page) -> None:
    expect(page.get_by_role("img", name="Flow against travel, with the valve's place on it")).to_have_count(2)


# ---- without a kernel ---------------------------------------------------------------------------------------------


@pytest.fixture
def alive(page: Page) -> Locator:
    """The first picture, made anew by the kernel of now; each test leaves one that runs."""
    return shown_anew(page)


def shown_anew(page: Page) -> Locator:
    """Run the first two cells again."""
    for number in range(2):
        labs.run_cell(page, number)
    return page.locator(".ostrel-live").first


def says(picture: Locator, words: str, *, within: int = LIMIT) -> None:
    """Hold that the picture says so once the time is over, and looks like it; not "in the end", but then."""
    picture.page.wait_for_timeout(within)
    assert words in picture.locator(".ostrel-note").inner_text()
    assert "behind" in (picture.get_attribute("class") or "")


def test_a_picture_that_does_not_belong_to_its_sliders_says_so(page: Page, lab: Lab, alive: Locator) -> None:
    flow = part(alive, "flow").locator("text")
    with asleep(lab):
        bring(alive, "travel", 100)
        says(alive, "working…", within=700)
        says(alive, "No answer")
        assert alive.get_by_role("button", name="Ask again").is_visible()
    expect(flow).to_have_text("120.0 m³/h")  # it comes back by itself
    expect(alive.locator(".ostrel-note")).to_have_text("")
    assert (alive.get_attribute("class") or "") == "ostrel-live"
    labs.run_cell(page, FUSSY)
    alive.get_by_role("button", name="Show US units").click()
    says(alive, "The picture cannot be drawn at this value: the valve chokes here.", within=1000)
    bring(alive, "travel", 80)
    expect(alive.locator(".ostrel-note")).to_have_text("")


def says_that_nothing_answers(picture: Locator, name: str) -> None:
    for place in range(10, 18):
        bring(picture, "rangeability", place)  # no frames of it were sent ahead
    says(picture, "No answer")
    labs.screenshot(picture.page, f"live-no-answer-{name}")


def test_a_saved_notebook_reopened_without_its_kernel_still_moves(page: Page, lab: Lab, alive: Locator) -> None:
    labs.save(page)
    assert "widget-view" not in (lab.folder / "live.ipynb").read_text("utf-8")
    cull_in_lab(lab)
    says_that_nothing_answers(alive, "cull_in_lab")
    expect(alive.get_by_text("the picture no longer follows the sliders")).to_be_visible()
    labs.stop_kernels(lab)
    labs.open_in(page, lab, "live.ipynb")
    again = page.locator(".ostrel-live").first
    slider(again, "travel").focus()
    page.keyboard.press("End")
    expect(part(again, "flow").locator("text")).to_have_text("120.0 m³/h")
    labs.screenshot(page, "live-reopened")


def test_a_picture_whose_kernel_or_server_is_gone_says_so(page: Page, lab: Lab, alive: Locator) -> None:
    """The kernel is killed; then the server is, so that this is the last test here."""
    kill(lab)
    says_that_nothing_answers(alive, "kill")
    page.locator(".jp-Dialog", has_text="Kernel Restarting").locator(".jp-mod-accept").click(timeout=labs.WAIT)
    labs.wait_until_idle(page)
    labs.run_cell(page, SAYS)  # says nothing as yet; but from here on no cell gets the number it had
    shown_anew(page)
    stop(lab)
    says_that_nothing_answers(alive, "stop")
