"""A Python process that has loaded what a lesson needs, and waits for the next lesson that is opened.

It is told on a line of its standard input which kernel to become, and ends when no more lines can come, as when the
server has ended. On Linux a copy of it becomes the kernel, and it tells the number of the copy; it waits on, so that
each lesson opens as soon, and none costs the loading. Elsewhere a copy is not safe: it becomes the kernel itself.
From there on the kernel starts as any other does.
"""

from __future__ import annotations

import contextlib
import gc
import importlib
import io
import json
import os
import signal
import sys
import warnings
from collections.abc import Mapping
from pathlib import Path
from typing import Any, TextIO

COPIES = sys.platform == "linux" and hasattr(os, "pidfd_open")
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
    if COPIES:
        os.environ["JPY_PARENT_PID"] = str(os.getpid())  # read when the kernel's module is loaded: with me they end
        with os.fdopen(os.dup(1), "w") as numbers:
            os.dup2(2, 1)  # what is said while loading, or by a kernel, is no number of a copy
            get_ready()
            copy_for_each_line(numbers)
        return
    get_ready()
    if line := sys.stdin.readline():
        become(json.loads(line))


def copy_for_each_line(numbers: TextIO) -> None:
    """Copy this process for each line that comes, and tell the number of the copy; the copy becomes the kernel."""
    signal.signal(signal.SIGCHLD, _see_off)
    gc.freeze()  # what is loaded here stays in memory that all copies share
    for line in sys.stdin:
        pid = _copy()
        if not pid:
            signal.signal(signal.SIGCHLD, signal.SIG_DFL)
            os.setsid()
            numbers.close()
            become(json.loads(line))
            os._exit(0)
        numbers.write(f"{pid}\n")
        numbers.flush()


def _copy() -> int:
    with warnings.catch_warnings():  # of threads: the one of the mathematics knows how to be copied
        warnings.simplefilter("ignore", DeprecationWarning)  # here only: in a lesson they are as Python has them
        return os.fork()


def _see_off(*_: object) -> None:
    with contextlib.suppress(ChildProcessError):
        while os.waitpid(-1, os.WNOHANG)[0]:
            pass


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
