"""What keeps somebody out of a page: what axe-core finds, targets too small for a finger, motion nobody asked for."""

from __future__ import annotations

from importlib.resources import files

from playwright.sync_api import Locator, Page

AXE = (files("axe_playwright_python") / "axe.min.js").read_text("utf-8")
LESSON_TARGET, CARD_TARGET = 24, 44  # px: WCAG 2.2, 2.5.8 for lessons; 2.5.5 for gloves on a tablet
CONTROLS = "a[href], button, input, select, textarea, summary, [role=button], [role=menuitem]"


def violations(page: Page, *within: str) -> list[str]:
    """Return what axe-core finds, by all its rules that are no trial: rule, what is wrong, and where."""
    if not page.evaluate("typeof axe === 'object'"):
        page.evaluate(AXE)  # as a developer's tool would: the page's own policy lets no foreign script in
    found = page.evaluate(
        "async (within) => (await axe.run(within.length ? { include: within } : document, { resultTypes: ['violations'] })).violations",
        list(within),
    )
    return [
        f"{each['id']} ({each['impact']}): {each['help']}: {node['html'][:160]} {node['any'][:1] and node['any'][0]['message']}"
        for each in found
        for node in each["nodes"]
    ]


def too_small(where: Page | Locator, least: int) -> list[str]:
    """Return the controls that are smaller than they should be; a word within a sentence may be (2.5.8, inline)."""
    root = where.locator("body") if isinstance(where, Page) else where
    found: list[str] = root.evaluate(
        """(root, [controls, least]) => [...root.querySelectorAll(controls)]
            .filter((e) => e.getClientRects().length && getComputedStyle(e).visibility === "visible")
            .filter((e) => getComputedStyle(e).display !== "inline")
            .map((e) => [e, (e.matches("input[type=checkbox], input[type=radio]") && e.closest("label") || e).getBoundingClientRect()])
            .filter(([e, box]) => box.width < least - 0.5 || box.height < least - 0.5)
            .map(([e, box]) => `${box.width.toFixed(0)} x ${box.height.toFixed(0)}: ${e.outerHTML.slice(0, 90)}`)""",
        [CONTROLS, least],
    )
    return found


def moving(page: Page) -> list[str]:
    """Return what moves by itself although the reader asked for less motion."""
    found: list[str] = page.evaluate(
        "() => document.getAnimations().filter((a) => a.playState === 'running').map((a) => a.effect.target?.outerHTML.slice(0, 90))"
    )
    return found
