"""Writes a lesson of a working copy as a page, and prints that to PDF with the Chromium of the machine."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from pathlib import Path
from typing import Any

from lessons.jupyter.lesson_export import TEMPLATE, TEMPLATES
from lessons.jupyter.on_save import drop_widget_views

BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge")
MAC_BROWSERS = (
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
)
_LONGEST = 300  # s that a lesson may take to run, or a browser to print


class CannotKeepError(Exception):
    """A lesson that cannot be written as a page; its text is the sentence for the reader."""


def keep_lesson(folder: Path, name: str) -> list[str]:
    """Write a lesson of a working copy as a page and as a PDF beside it; return what was done, in sentences.

    Raises
    ------
    CannotKeepError
        If there is no such lesson, or it cannot be run or written.
    """
    lesson = _found(folder, name)
    page = lesson.with_suffix(".html")
    try:
        page.write_text(_html(lesson), encoding="utf-8")
    except OSError as problem:
        raise CannotKeepError(f"{page} cannot be written: {problem.strerror}.") from problem
    return [f"The lesson as a page: {page}", _printed(page)]


def _found(folder: Path, name: str) -> Path:
    found = sorted(path for path in folder.glob("*.ipynb") if path.name == name or path.stem.startswith(name))
    if len(found) != 1 or not name:
        there = ", ".join(sorted(path.stem.partition("_")[0] for path in folder.glob("[0-9][0-9]_*.ipynb")))
        raise CannotKeepError(f"There is no lesson “{name}” in {folder}. Give the number of one: {there}.")
    return found[0]


def _html(lesson: Path) -> str:
    import nbformat  # here and below, because each takes a second and the lessons start without them
    from nbconvert import HTMLExporter

    try:
        notebook = nbformat.read(lesson, as_version=4)
    except Exception as problem:
        raise CannotKeepError(
            f"{lesson.name} is damaged and cannot be read. Start with --fresh for a new one."
        ) from problem
    _run(notebook, lesson)
    drop_widget_views({"type": "notebook", "content": notebook})
    exporter = HTMLExporter(template_name=TEMPLATE, extra_template_basedirs=[str(TEMPLATES)])
    html, _ = exporter.from_notebook_node(notebook, resources={"metadata": {"name": lesson.stem}})
    return str(html)


def _run(notebook: Any, lesson: Path) -> None:
    """Run the lesson where it lies, as its page would, for pictures as they are today; its file is left alone."""
    from nbclient import NotebookClient

    client = NotebookClient(
        notebook,
        timeout=_LONGEST,
        kernel_name="python3",
        allow_errors=True,
        store_widget_state=False,
        resources={"metadata": {"path": str(lesson.parent)}},
    )
    try:
        client.execute(env=os.environ | {"JPY_SESSION_NAME": str(lesson)}, stderr=subprocess.DEVNULL)
    except Exception as problem:
        raise CannotKeepError(
            f"{lesson.name} could not be run, so there is nothing to show of it: {problem}"
        ) from problem


def _printed(page: Path) -> str:
    """Print a page to PDF; return a sentence, also where this machine has no browser that can."""
    browser = next((found for each in (*BROWSERS, *MAC_BROWSERS) if (found := shutil.which(each))), None)
    if browser is None:
        return "No PDF: no Chromium or Chrome was found here. Open the page in your browser and print it to a file."
    pdf = page.with_suffix(".pdf")
    with tempfile.TemporaryDirectory() as profile:
        command = [
            browser,
            "--headless",
            "--disable-gpu",
            "--no-first-run",
            "--disable-background-networking",
            *(["--no-sandbox"] if hasattr(os, "geteuid") and os.geteuid() == 0 else []),
            f"--user-data-dir={profile}",
            "--no-pdf-header-footer",
            f"--print-to-pdf={pdf}",
            page.as_uri(),
        ]
        try:
            subprocess.run(command, check=True, capture_output=True, timeout=_LONGEST)  # noqa: S603 - a browser found here, a page of ours
        except (OSError, subprocess.SubprocessError):
            return "No PDF: the browser could not print it. Open the page in your browser and print it to a file."
    return f"The lesson as a PDF: {pdf}" if pdf.is_file() else "No PDF: the browser wrote none."
