"""The text of a path as the page writes it, worked by hand; and that nothing but what stands still loses its group."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

import lessons
from lessons.live.page_script import page_script

ROOM = Path(lessons.__file__).parent / "live" / "page_side"
PATH = """([script, points, codes, closed]) => {
  const pathText = new Function(script.replaceAll(/^export /gm, "") + "; return pathText;")();
  const f = new Float32Array(points.map((value) => value ?? NaN));
  return pathText(f, 0, f.length, { codes, closed });
}"""
MANY = """(script) => {
  const pathText = new Function(script.replaceAll(/^export /gm, "") + "; return pathText;")();
  const f = new Float32Array(20000).map((_, k) => Math.sin(k) * 10 ** (k % 6));
  const read = pathText(f, 0, f.length, { codes: "", closed: false }).match(/-?\\d+\\.\\d\\d/g).map(Number);
  return [read.length, Math.max(...read.map((value, k) => Math.abs(value - f[k])))];
}"""
DRAW = """([script, svg, parts]) => {
  const drawing = new Function(script.replaceAll(/^export /gm, "") + "; return drawing;")();
  const holder = document.createElement("div");
  drawing(holder, svg, parts);
  return holder.querySelector("svg").innerHTML.replaceAll(/ id="[^"]*"/g, "");
}"""


@pytest.fixture(scope="module")
def blank(browser: Browser) -> Page:
    return browser.new_page()


@pytest.mark.parametrize(
    ("points", "codes", "closed", "text"),
    [
        ([0, -0.001, 1.5, -2.25], "", False, "M0.00 0.00L1.50 -2.25"),
        (
            [1234.5625, 99.9990],
            "",
            False,
            "M1234.56 100.00",
        ),  # 1234.5625 is a float32; 99.999 rounds into a third digit
        ([1e9, -1e9], "", False, "M10000000.00 -10000000.00"),  # far off the page, and still a number
        ([1, 2, None, 3, 4, 5, 6, 7, None, None], "", True, "M1.00 2.00ZM4.00 5.00L6.00 7.00Z"),
        ([None, None], "", True, ""),
        ([], "", False, ""),
        ([1, 2, 3, 4, 5, 6, 7, 8, 0, 0], "MC--Z", False, "M1.00 2.00C3.00 4.00 5.00 6.00 7.00 8.00Z"),
        ([1, 2, None, 4], "ML", False, ""),  # a curve with a gap is left out
        ([1, 2, 3, 4], "MLL", False, "M1.00 2.00L3.00 4.00"),  # another number of vertices: a plain line
    ],
)
def test_the_text_of_a_path(blank: Page, points: list[float | None], codes: str, closed: bool, text: str) -> None:
    assert blank.evaluate(PATH, [page_script(ROOM / "path_text.js"), points, codes, closed]) == text


def test_each_number_is_within_half_of_its_last_digit(blank: Page) -> None:
    count, worst = blank.evaluate(MANY, page_script(ROOM / "path_text.js"))
    assert count == 20000
    assert worst < 0.00501


def test_only_groups_that_do_nothing_are_taken_away(blank: Page) -> None:
    svg = (
        '<svg viewBox="0 0 72 36"><g id="figure"><g id="still"><path d="M0 0"></path></g><g id="faint" opacity="0.5"><path d="M1 1"></path></g>'
        '<g id="curve"><g id="inner"><path d="M2 2"></path></g></g></g></svg>'
    )
    curve = {"name": "curve", "kind": "line", "outline": True, "marker": False, "points": True, "words": False}
    left = (
        '<path d="M0 0"></path><g opacity="0.5"><path d="M1 1"></path></g>'
        '<g data-part="curve"><g><path d="M2 2"></path></g></g>'
    )
    assert blank.evaluate(DRAW, [page_script(ROOM / "drawing.js"), svg, [curve]]) == left
