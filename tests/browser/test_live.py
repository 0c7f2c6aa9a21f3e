"""Live pictures in a real JupyterLab and on an exported page: keyboard, readouts, lock, units, no kernel."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.browser import lab as labs
from tests.browser.live_figures import curve_picture

ROOT = Path(__file__).resolve().parents[2]
CELLS = [
    f"import sys; sys.path.insert(0, {str(ROOT)!r})\nfrom tests.browser.live_figures import curve_picture",
    "live = curve_picture()\nlive",
    "closed = curve_picture(locked=True)\nclosed",
    "print('values', live.values)",
    "closed.locked = False",
]


@pytest.fixture(scope="module")
def lab(tmp_path_factory: pytest.TempPathFactory) -> Iterator[labs.Lab]:
    with labs.running_lab(tmp_path_factory.mktemp("lab")) as running:
        yield running


@pytest.fixture(scope="module")
def page(browser: Browser, lab: labs.Lab) -> Page:
    """The notebook with its first three cells run."""
    labs.write_notebook(lab.folder / "live.ipynb", CELLS)
    opened = labs.open_notebook(browser, lab, "live.ipynb")
    for number in range(3):
        labs.run_cell(opened, number)
    expect(opened.locator(".ostrel-live")).to_have_count(2, timeout=labs.WAIT)
    return opened


def part(picture: Locator, name: str) -> Locator:
    return picture.locator(f"[data-part='{name}']")


def seen_curve(picture: Locator) -> np.ndarray:
    d = part(picture, "curve").locator("path").first.get_attribute("d") or ""
    return np.array(re.findall(r"-?[\d.]+", d), dtype=float).reshape(-1, 2)


def expected_curve(travel: float, rangeability: float) -> np.ndarray:
    """Where matplotlib itself puts the curve: its transform, in points, y down."""
    figure = curve_picture()._moving.figure(travel=travel, rangeability=rangeability)
    line = next(line for line in figure.axes[0].lines if line.get_gid() == "curve")
    on_page = line.get_transform().transform(line.get_xydata()) * 72 / figure.dpi
    return np.column_stack([on_page[:, 0], figure.get_figheight() * 72 - on_page[:, 1]])


def slider(picture: Locator, name: str) -> Locator:
    return picture.get_by_role("slider", name=name, exact=True)


def test_arrow_keys_move_the_curve_to_where_python_puts_it(page: Page) -> None:
    picture = page.locator(".ostrel-live").first
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
def test_a_slider_lays_out_its_picture_alone_and_not_the_whole_page(page: Page, name: str) -> None:
    slider(page.locator(".ostrel-live").first, name).focus()
    page.wait_for_timeout(500)
    done = layouts(page, keys=6)  # JupyterLab's own status line is laid out too, with the whole page
    assert sum(each["partialLayout"] for each in done) >= 6


def test_the_number_in_the_picture_and_the_readout_follow(page: Page) -> None:
    picture = page.locator(".ostrel-live").first
    control = slider(picture, "travel")
    control.focus()
    page.keyboard.press("End")
    expect(part(picture, "flow").locator("text")).to_have_text("120.0 m³/h")  # full flow at full travel, by definition
    expect(control).to_have_attribute("aria-valuetext", "100 %")
    expect(picture.locator(".ostrel-row").first).to_have_text("travel 100 %")
    labs.screenshot(page, "live-end")


def test_python_sees_the_values(page: Page) -> None:
    picture = page.locator(".ostrel-live").first
    slider(picture, "travel").focus()
    page.keyboard.press("Home")
    page.keyboard.press("ArrowRight")
    expect(picture.locator(".ostrel-row").first).to_have_text("travel 1 %")
    page.wait_for_timeout(500)
    assert "'travel': 0.01" in labs.run_cell(page, 3).inner_text()


def test_letters_on_a_slider_are_not_commands_of_the_notebook(page: Page) -> None:
    cells = page.locator(".jp-Notebook .jp-CodeCell")
    before = cells.count()
    slider(page.locator(".ostrel-live").first, "travel").focus()
    for key in "bdda":
        page.keyboard.press(key)
    assert cells.count() == before


def test_drag_follows_the_pointer(page: Page) -> None:
    picture = page.locator(".ostrel-live").first
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
    assert "'travel': 1.0" in labs.run_cell(page, 3).inner_text()


def test_units_switch_without_running_anything(page: Page) -> None:
    picture = page.locator(".ostrel-live").first
    slider(picture, "travel").focus()
    page.keyboard.press("End")
    picture.get_by_role("button", name="Show US units").click()
    expect(part(picture, "flow").locator("text")).to_have_text("528.3 gpm")  # 120 m³/h · 1000 / 60 / 3.785412
    expect(part(picture, "y_label").locator("text")).to_have_text("flow [gpm]")
    expect(part(picture, "y_tick_1").locator("text")).to_have_text("100")
    labs.screenshot(page, "live-us")
    slider(picture, "travel").focus()
    page.keyboard.press("Home")
    expect(part(picture, "flow").locator("text")).to_have_text("17.6 gpm")  # 528.3 / rangeability 30
    picture.get_by_role("button", name="Show metric units").click()
    expect(part(picture, "flow").locator("text")).to_have_text("4.0 m³/h")


def test_locked_until_python_says_otherwise(page: Page) -> None:
    picture = page.locator(".ostrel-live").nth(1)
    expect(slider(picture, "travel")).to_be_disabled()
    expect(picture.locator("svg")).to_be_visible()
    said = "Predict first: answer the question above, then the sliders unlock."
    expect(picture.get_by_text(said)).to_be_visible()
    picture.scroll_into_view_if_needed()
    labs.screenshot(page, "live-locked")
    labs.run_cell(page, 4)
    expect(slider(picture, "travel")).to_be_enabled()
    expect(picture.get_by_text(said)).to_have_count(0)
    slider(picture, "travel").focus()
    page.keyboard.press("End")
    expect(part(picture, "flow").locator("text")).to_have_text("120.0 m³/h")


def test_the_picture_has_a_name_for_those_who_do_not_see_it(page: Page) -> None:
    expect(page.get_by_role("img", name="Flow against travel, with the valve's place on it")).to_have_count(2)


# ---- without a kernel ---------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def exported(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A notebook run and exported as a page, as the README says."""
    folder = tmp_path_factory.mktemp("export")
    labs.write_notebook(folder / "live.ipynb", CELLS[:3])
    command = [sys.executable, "-m", "nbconvert", "--to", "html", "--execute",
               "--ExecutePreprocessor.store_widget_state=False", str(folder / "live.ipynb")]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return folder / "live.html"


def test_an_exported_page_still_moves(browser: Browser, exported: Path) -> None:
    context = browser.new_context(offline=True, viewport={"width": 1000, "height": 900})
    page = context.new_page()
    page.goto(exported.as_uri(), wait_until="domcontentloaded")
    expect(page.locator(".ostrel-live")).to_have_count(2)
    expect(page.get_by_role("slider")).to_have_count(2)  # the locked picture stays still
    expect(page.get_by_text("Predict first: run all cells")).to_be_visible()
    picture = page.locator(".ostrel-live").first
    control = slider(picture, "rangeability")
    control.focus()
    for _ in range(4):
        page.keyboard.press("ArrowLeft")
    assert np.allclose(seen_curve(picture), expected_curve(0.5, 30), atol=0.05)
    picture.get_by_role("button", name="Show US units").click()
    slider(picture, "travel").focus()
    page.keyboard.press("End")
    expect(part(picture, "flow").locator("text")).to_have_text("528.3 gpm")
    expect(picture.locator(".ostrel-row").first).to_have_text("travel 100 %")
    labs.screenshot(page, "live-exported")


def test_an_exported_page_shows_the_picture_and_its_text_without_scripts(browser: Browser, exported: Path) -> None:
    page = browser.new_context(offline=True, java_script_enabled=False).new_page()
    page.goto(exported.as_uri(), wait_until="domcontentloaded")
    words = page.locator("body").inner_text()
    assert "travel 50 %" in words
    assert "rangeability 50" in words
    assert page.locator("svg[role=img] [id=curve] path").first.is_visible()


def test_an_exported_page_prints_with_picture_and_text(browser: Browser, exported: Path, tmp_path: Path) -> None:
    page = browser.new_context(offline=True).new_page()
    page.goto(exported.as_uri(), wait_until="domcontentloaded")
    expect(page.get_by_role("slider").first).to_be_visible()
    page.emulate_media(media="print")
    picture = page.locator(".ostrel-live").first
    expect(picture.locator("svg")).to_be_visible()
    expect(picture.get_by_text("travel 50 %")).to_be_visible()
    expect(picture.get_by_role("slider")).to_have_count(0)
    labs.screenshot(page, "live-print")
    assert len(page.pdf(path=tmp_path / "page.pdf")) > 10_000


def test_a_saved_notebook_reopened_without_its_kernel_still_moves(page: Page, browser: Browser, lab: labs.Lab) -> None:
    labs.run_cell(page, 1)  # as at the start
    labs.save(page)
    assert "widget-view" not in (lab.folder / "live.ipynb").read_text("utf-8")
    labs.stop_kernels(lab)
    slider(page.locator(".ostrel-live").first, "rangeability").focus()
    page.keyboard.press("End")
    expect(page.locator(".ostrel-live").first.get_by_text("the picture no longer follows the sliders")).to_be_visible(
        timeout=10_000
    )
    again = labs.open_notebook(browser, lab, "live.ipynb")
    picture = again.locator(".ostrel-live").first
    slider(picture, "travel").focus()
    again.keyboard.press("End")
    expect(part(picture, "flow").locator("text")).to_have_text("120.0 m³/h")
    labs.screenshot(again, "live-reopened")
