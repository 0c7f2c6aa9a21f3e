"""Opens the notebooks of the project in JupyterLab, as they are in git and without locks: `python -m tests.edit`.

What is typed there to try a lesson, and what JupyterLab keeps for itself, stays in the hidden folder `.author`, which may
be deleted at any time: it holds links to the notebooks, and a save goes through the link into the notebook itself.
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from lessons.jupyter.launch import open_lab
from lessons.jupyter.working_copy import LESSONS, add_settings, packaged

FOLDER = LESSONS.parent / ".author"


def linked(folder: Path) -> Path:
    """Make a folder of links to the notebooks of the project; links to notebooks that are gone go too."""
    for old in folder.rglob("*.ipynb"):
        if old.is_symlink():
            old.unlink()
    for notebook in packaged():
        link = folder / notebook.relative_to(LESSONS)
        link.parent.mkdir(parents=True, exist_ok=True)
        link.symlink_to(notebook)
    add_settings(folder)
    return folder


def main(arguments: list[str] | None = None) -> int:
    """Open JupyterLab on the notebooks themselves and stay until it ends; return an exit code."""
    parser = argparse.ArgumentParser(prog="python -m tests.edit", description="Edit the lessons in JupyterLab.")
    parser.add_argument("--no-browser", action="store_true", help="only print the address, open no browser")
    parser.add_argument("--port", type=int, default=8888, help="port to listen on (default: 8888)")
    options = parser.parse_args(arguments)
    print("These are the notebooks of the project itself. Afterwards run: python -m tests.tidy")
    return open_lab(linked(FOLDER), browser=not options.no_browser, port=options.port)


if __name__ == "__main__":
    sys.exit(main())
