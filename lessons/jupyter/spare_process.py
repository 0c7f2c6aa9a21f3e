"""A Python process that has loaded what a lesson needs, and waits to become the kernel of the next lesson opened.

It is told on one line of its standard input which kernel to become, and ends if that line never comes, as when the
server has ended. From there on it starts as any other kernel does.
"""

from __future__ import annotations

import contextlib
import importlib
import io
import json
import os
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

_NEEDED = (
    "ipykernel.kernelapp",
    "anywidget",
    "lessons.notebook.calls",
    "lessons.notebook.figures",
    "lessons.live.moving_picture",
    "lessons.pictures.cutaways.catalogue",
    "lessons.pictures.cutaways.paper",
    "lessons.jupyter.lesson_page.page_calls",
)


def main() -> None:
    """Load, wait, and become what is asked for."""
    get_ready()
    line = sys.stdin.readline()
    if line:
        become(json.loads(line))


def get_ready() -> None:
    """Load what lessons use; what cannot be loaded here is loaded, or complained of, by the lesson itself."""
    sys.modules["debugpy"] = None  # type: ignore[assignment]  # as in `kernel.json`: no lesson needs a debugger
    os.environ.setdefault("MPLBACKEND", "module://matplotlib_inline.backend_inline")  # as a kernel sets it
    for name in _NEEDED:
        with contextlib.suppress(Exception):
            importlib.import_module(name)
    for first in (_draw, _convert, _find_questions):
        with contextlib.suppress(Exception):
            first()


def become(told: Mapping[str, Any]) -> None:
    """Run the kernel of a connection file, in the folder and with the variables it is to have."""
    os.chdir(told["cwd"])
    os.environ.clear()
    os.environ.update(told["env"])
    sys.argv = ["ipykernel_launcher", *told["arguments"]]
    if sys.path and sys.path[0] == told["started_in"]:
        del sys.path[0]  # put there by `-m`; a kernel's own folder comes there by itself
    with Path(os.devnull).open() as nothing:
        os.dup2(nothing.fileno(), 0)
    from ipykernel import kernelapp  # here, where it is loaded already

    kernelapp.launch_new_instance()


def _draw() -> None:
    """Draw something: that finds the fonts and loads the writer of SVG."""
    from matplotlib.figure import Figure  # here, where it has been loaded

    figure = Figure()
    figure.subplots().set(title="0", xlabel="1")
    figure.savefig(io.BytesIO(), format="svg")


def _convert() -> None:
    """Convert a pressure: that makes the table of units, which takes longer than all else."""
    from lessons.units.quantities import from_base  # here, where it has been loaded

    from_base(1e5, "bar")


def _find_questions() -> None:
    """Load the questions of practice, and where they are here those of the work orders."""
    from lessons.notebook import bank  # here, where it has been loaded

    bank.practice_questions()
    bank.graded_questions()


if __name__ == "__main__":
    main()
