"""How a page asks Python, against thousands of random turns: what counts as shown is always that of the inputs."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

import lessons

SCRIPT = Path(lessons.__file__).parent / "live" / "page_side" / "requests.js"
# A page with one input, v, of four values. Python answers in order, late, or not at all; another view may change v; a
# slider may have its answers there ahead. `keeps` is how a page treats a reply whose inputs have moved on: a card
# ignores it, a picture draws it. After each turn: in state "shown" what is displayed is that of v. In the end, with
# Python there again, v is answered.
PLAY = """([script, keeps, first, count]) => {
  const requests = new Function(script.replaceAll(/^export /gm, "") + "; return requests;")();
  let seed;
  const random = () => { seed = (seed * 1664525 + 1013904223) % 4294967296; return seed / 4294967296; };
  const any = (count) => Math.floor(random() * count);
  const play = () => {
    const timers = new Map();
    let next = 1;
    const real = [window.setTimeout, window.clearTimeout];
    window.setTimeout = (call) => { timers.set(next, call); return next++; };
    window.clearTimeout = (id) => { timers.delete(id); };
    const fire = () => { const [id, call] = [...timers][0] ?? []; if (id) { timers.delete(id); call(); } };
    const counts = { shown: 0, working: 0, silent: 0 }, asked = [];
    let v = 0, displayed = 0, told = "", alive = true;
    const model = { send(message) {
      if (alive) asked.push(message);
      else if (any(2)) throw new Error("no kernel");
    } };
    const page = requests(model, () => ({ v }), (state) => { told = state; });
    const show = (reply, fits, mine) => {
      if (!mine) v = reply.v;
      if (fits || keeps) displayed = reply.v;
    };
    const deliver = () => { const message = asked.shift(); if (message) page.heard({ ...message }, show); };
    const turns = [
      () => { v = any(4); page.ask(); }, () => { v = any(4); page.ask(); }, () => { v = any(4); page.ask(); },
      deliver, deliver, deliver, deliver,
      () => { asked.shift(); },
      () => { alive = !alive; if (!alive && any(2)) asked.length = 0; },
      () => { page.heard({ from: any(2) ? "another" : "", seq: any(9), v: any(4) }, show); },
      () => { if (page.isSilent()) return; v = any(4); displayed = v; page.took(); if (any(2)) page.ask(); },
      fire,
      () => { if (told === "silent") page.again(); },
    ];
    const wrong = [];
    for (let turn = 0; turn < 200; turn++) {
      const which = any(turns.length);
      turns[which]();
      if (told) counts[told]++;
      if (told === "shown" && displayed !== v) wrong.push([turn, which, displayed, v]);
    }
    alive = true;
    for (let turn = 0; turn < 60; turn++) { deliver(); if (!asked.length) fire(); }
    const answered = told === "shown" ? displayed === v : !told;
    [window.setTimeout, window.clearTimeout] = real;
    return { wrong, answered, counts };
  };
  return [...Array(count).keys()].map((each) => { seed = first + each; return play(); });
}"""


@pytest.fixture(scope="module")
def page(browser: Browser) -> Iterator[Page]:
    page = browser.new_page()
    yield page
    page.close()


@pytest.mark.parametrize("keeps", [False, True], ids=["card", "picture"])
def test_what_counts_as_shown_is_that_of_the_inputs(page: Page, keeps: bool) -> None:
    script, seen = SCRIPT.read_text("utf-8"), {"shown": 0, "working": 0, "silent": 0}
    for seed, found in enumerate(page.evaluate(PLAY, [script, keeps, 0, 1500])):
        assert found["wrong"] == [], (seed, found["wrong"][:3])
        assert found["answered"], seed
        seen = {state: seen[state] + found["counts"][state] for state in seen}
    assert min(seen.values()) > 1000, f"each state was reached often: {seen}"


def test_the_play_can_fail(page: Page) -> None:
    """With the fault that a reply to old inputs counts as shown the play finds it."""
    script = SCRIPT.read_text("utf-8")
    broken = script.replace('belongs = fits ? now() : "";', "belongs = fits ? now() : asked.get(reply.seq);")
    assert broken != script
    assert any(found["wrong"] for found in page.evaluate(PLAY, [broken, False, 0, 200]))
