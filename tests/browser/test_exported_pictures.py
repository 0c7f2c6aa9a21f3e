"""Live pictures on an exported page, where no kernel is: they move still, and are there without scripts and on paper."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser import lab as labs
from tests.browser.live_figures import CELLS
from tests.browser.seen_pictures import expected_curve, part, seen_curve, slider


@pytest.fixture(scope="module")
def exported(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A notebook run and exported as a page, as the README says."""
    folder = tmp_path_factory.mktemp("export")
    labs.write_notebook(folder / "live.ipynb", CELLS)
    command = [sys.executable, "-m", "nbconvert", "--to", "html", "--execute",
               "--ExecutePreprocessor.store_widget_state=False", str(folder / "live.ipynb")]  # fmt: skip
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return folder / "live.html"


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    page = browser.new_context(offline=True, viewport={"width": 1000, "height": 900}).new_page()
    yield page
    page.context.close()


def test_an_exported_page_still_moves(page: Page, exported: Path) -> None:
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
    page.context.close()


def test_an_exported_page_prints_with_picture_and_text(page: Page, exported: Path, tmp_path: Path) -> None:
    page.goto(exported.as_uri(), wait_until="domcontentloaded")
    expect(page.get_by_role("slider").first).to_be_visible()
    page.emulate_media(media="print")
    picture = page.locator(".ostrel-live").first
    expect(picture.locator("svg")).to_be_visible()
    expect(picture.get_by_text("travel 50 %")).to_be_visible()
    expect(picture.get_by_role("slider")).to_have_count(0)
    labs.screenshot(page, "live-print")
    assert len(page.pdf(path=tmp_path / "page.pdf")) > 10_000
    page.emulate_media(media="screen")
