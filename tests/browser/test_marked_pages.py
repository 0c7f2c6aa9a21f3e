"""Hostile hand-ins opened where the README sends an instructor: formgrader, JupyterLab, feedback and report. Nothing runs."""

from __future__ import annotations

import json
import urllib.request
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

import tests.grading.conftest  # noqa: F401 - a gradebook asks no program of its own for the version of its tables
from grading.course.course import Course
from grading.course.roster import Apprentice
from grading.marking.mark_lesson import mark_lesson
from grading.report.class_tables import write_tables
from grading.report.handing_back.pages_back import write_pages_back
from grading.taking_in.take_in import take_in
from tests.browser import lab as labs
from tests.grading.classroom import CLASS, LESSON, classroom, notebook_of, put
from tests.grading.marking.hostile_cells import ADDED, CHANGES

ADA, BEN, CLEO, DAN = CLASS
HANDED_IN = {
    ADA: ("widgets and their state",),
    BEN: ("every answer", "every output"),
    CLEO: ("every locked cell",),
    DAN: ("answers as markdown", "cells added"),
}
# What runs in the formgrader if a hand-in lies there as it came -> its trace
RUNS = {
    "script": "script",
    "onerror": "onerror",
    "svg": "svg",
    "iframe": "iframe",
    "details": "details",
    "html output": "html",
    "javascript output": "javascript",
    "image": "image.png",
    "markdown output": "markdown",
    "code fence": "fence",
}
# Elements and attributes with which words would do something at a click; the formgrader's own are left out.
DOES_SOMETHING = (
    "#notebook script, #notebook iframe, #notebook object, #notebook form, #notebook svg:not([role=img]), #notebook [onerror],"
    " #notebook [onload], #notebook [ontoggle], #notebook [onmouseover], a[href^='javascript:' i], [srcdoc]"
)


@dataclass(frozen=True)
class Place:
    """A marked course and the server that shows it."""

    course: Course
    lab: labs.Lab

    def url(self, path: str) -> str:
        return f"http://127.0.0.1:{self.lab.port}/{path}{'&' if '?' in path else '?'}token={self.lab.token}"


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Place]:
    folder = tmp_path_factory.mktemp("marked")
    course = classroom(folder)
    for person, changes in HANDED_IN.items():
        notebook = notebook_of(course, person)
        for name in changes:
            CHANGES[name](notebook)
        put(folder / "back", f"{person.badge}.ipynb", notebook)
    take_in(course, folder / "back", quiet=True)
    assert mark_lesson(course, LESSON, quiet=True).marked == len(HANDED_IN)
    write_pages_back(course, LESSON, quiet=True)
    write_tables(course, LESSON)
    options = ("--ServerApp.disable_check_xsrf=True", "--LabApp.expose_app_in_browser=True")
    with labs.running_lab(folder, *options, root="course", cwd=course.root) as lab:
        yield Place(course, lab)


@dataclass(frozen=True)
class Seen:
    """A page, and what asked for a canary's address while it was open."""

    page: Page
    canaries: set[str]


def watched(browser: Browser) -> Seen:
    """Open an empty page whose requests and dialogs are noted."""
    context = browser.new_context(viewport={"width": 1200, "height": 1600})
    found = Seen(context.new_page(), set())
    context.on(
        "request",
        lambda sent: (
            found.canaries.add(sent.url.split("/canary/")[1].split("?")[0]) if "/canary/" in sent.url else None
        ),
    )
    found.page.on("dialog", lambda dialog: found.canaries.add(dialog.message))
    return found


@pytest.fixture(scope="module")
def watched_page(browser: Browser) -> Iterator[Seen]:
    found = watched(browser)
    yield found
    found.page.context.close()


@pytest.fixture
def seen(watched_page: Seen) -> Seen:
    """The page, empty, and nothing noted."""
    watched_page.page.goto("about:blank")
    watched_page.canaries.clear()
    return watched_page


@pytest.fixture(scope="module")
def in_lab(browser: Browser, place: Place) -> Iterator[Seen]:
    """JupyterLab, in which each test opens a notebook of its own; nobody else's have asked for anything."""
    found = watched(browser)
    found.page.goto(place.url("lab?reset"), wait_until="domcontentloaded", timeout=labs.WAIT)
    found.page.wait_for_function("window.jupyterapp?.shell.isEmpty('main') === false", timeout=labs.WAIT)
    yield found
    found.page.context.close()


def submission(place: Place, badge: str) -> str:
    """Return the formgrader's page of one marked notebook, as the lists of the formgrader link to it."""
    address = place.url(f"formgrader/api/submitted_notebooks/{LESSON}/{LESSON}")
    with urllib.request.urlopen(address, timeout=60) as reply:  # noqa: S310 - our own server
        listed = json.load(reply)
    (found,) = [each["id"] for each in listed if each["student"] == badge]
    return place.url(f"formgrader/submissions/{found}/")


def stay(page: Page) -> None:
    """Give what is on the page time to act, and move over all of it."""
    page.wait_for_timeout(1500)
    for element in page.locator("#notebook a").all()[:40]:
        element.dispatch_event("mouseover")
    page.wait_for_timeout(500)


@pytest.mark.parametrize("person", HANDED_IN, ids=lambda person: str(HANDED_IN[person]))
def test_nothing_runs_in_the_formgrader(place: Place, seen: Seen, person: Apprentice) -> None:
    seen.page.goto(submission(place, person.badge), wait_until="load", timeout=labs.WAIT)
    stay(seen.page)
    assert seen.canaries == set()
    assert seen.page.locator(DOES_SOMETHING).count() == 0
    assert "canary" in seen.page.locator("#notebook").first.inner_text()  # the words themselves are there to be read
    labs.screenshot(seen.page, f"marked-{person.badge}")


def test_the_same_handin_unmarked_does_run_there(place: Place, seen: Seen) -> None:
    """So that the test above can fail: what was handed in, put where the marked notebook lies."""
    target = place.course.autograded(ADA.badge, LESSON)
    kept = target.read_bytes()
    notebook = json.loads(kept)
    notebook["cells"] = [{**ADDED[name], "id": name.replace(" ", "-")} for name in RUNS]
    target.write_text(json.dumps(notebook))
    try:
        seen.page.goto(submission(place, ADA.badge), wait_until="load", timeout=labs.WAIT)
        stay(seen.page)
    finally:
        target.write_bytes(kept)
    assert set(RUNS.values()) <= seen.canaries


@pytest.mark.parametrize(
    "path",
    [
        f"formgrader/gradebook/{LESSON}/{LESSON}",
        f"formgrader/manage_submissions/{LESSON}",
        "formgrader/manage_students",
    ],
)
def test_nothing_runs_in_the_formgraders_lists(place: Place, seen: Seen, path: str) -> None:
    seen.page.goto(place.url(path), wait_until="load", timeout=labs.WAIT)
    stay(seen.page)
    assert seen.canaries == set()


@pytest.mark.parametrize("person", HANDED_IN, ids=lambda person: str(HANDED_IN[person]))
def test_nothing_runs_in_jupyterlab(place: Place, in_lab: Seen, person: Apprentice) -> None:
    notebook = place.course.autograded(person.badge, LESSON).relative_to(place.course.root)
    page = in_lab.page
    page.evaluate(
        "async (path) => { await window.jupyterapp.commands.execute('docmanager:open', { path }); }", str(notebook)
    )
    shown = page.locator(".jp-NotebookPanel:not(.lm-mod-hidden)")
    shown.locator(".jp-Notebook .jp-Cell").first.wait_for(timeout=labs.WAIT)
    labs.wait_until_idle(page)
    labs.run_all(page)  # what was added does nothing even then
    assert in_lab.canaries == set()
    assert shown.locator(".jp-Notebook .jp-Cell").count()
    assert page.locator(".jp-Notebook iframe, .jp-Notebook script").count() == 0
    assert not list(place.course.root.rglob("canary"))


@pytest.mark.parametrize(
    "name", [*(f"handed_back/{person.badge}/{LESSON}/{LESSON}.html" for person in CLASS), f"tables/{LESSON}.html"]
)
def test_nothing_runs_in_the_pages_we_write(place: Place, seen: Seen, name: str) -> None:
    path: Path = place.course.root / name
    seen.page.goto(path.as_uri(), wait_until="load")
    stay(seen.page)
    assert seen.canaries == set()
    assert (
        seen.page.locator("script, iframe, object, form, img, [onerror], [onload], a[href^='javascript:' i]").count()
        == 0
    )
