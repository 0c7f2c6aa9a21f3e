"""Makes a working copy of the lessons and opens JupyterLab on it."""

from __future__ import annotations

import argparse
import json
import os
import runpy
import shutil
import sys
from importlib.util import find_spec
from pathlib import Path

from lessons.jupyter import card_server
from lessons.questions.progress import WORKING_COPY

LESSONS = Path(__file__).parents[1]
START = "00_start_here.ipynb"

# Jupyter asks about news and updates at the first start, which is noise in a lesson and fails without a network.
QUIET = {"fetchNews": "false", "checkForUpdates": False, "doNotDisturbMode": True}
# Every cell stays in the page, so that a live picture does not blank when it is scrolled out of sight.
WHOLE_PAGE = {"windowingMode": "none", "recordTiming": False}
SETTINGS = {
    "@jupyterlab/apputils-extension/notification": QUIET,
    "@jupyterlab/notebook-extension/tracker": WHOLE_PAGE,
}
# So that `ask` and an answer work even before Run All Cells.
STARTUP = "from lessons.notebook import *\nfrom lessons.notebook import calls as _lesson\n_lesson.ready()\n"


def main(arguments: list[str] | None = None) -> int:
    """Run `python -m lessons`: copy what is missing, then open JupyterLab. Returns an exit code."""
    options = _parser().parse_args(arguments)
    folder = Path(options.to).expanduser().resolve()
    try:
        new, kept = working_copy(folder)
    except OSError as problem:
        print(f"The working copy cannot be made in {folder}: {problem.strerror}. Choose another with --to FOLDER.")
        return 1
    print(f"Lessons in {folder}: {new} new, {kept} kept as you left them.")
    if options.cards:
        return card_server.serve(folder, browser=not options.no_browser, port=options.port, host=options.host)
    return open_lab(folder, browser=not options.no_browser, port=options.port)


def classroom(arguments: list[str] | None = None) -> int:
    """Run the instructor's commands, where the clone that holds them is installed."""
    if find_spec("grading") is None:
        print("Marking needs a clone of the project: its keys are not part of this package. See README.md there.")
        return 1
    if arguments is not None:
        sys.argv[1:] = arguments
    # By name and not by import: the lessons never import the instructor's side.
    runpy.run_module("grading", run_name="__main__")
    return 0


def working_copy(folder: Path) -> tuple[int, int]:
    """Copy the lessons that are not there yet; return how many were new and how many were kept.

    Raises
    ------
    OSError
        If the folder cannot be written.
    """
    new = kept = 0
    folder.mkdir(parents=True, exist_ok=True)
    for lesson in sorted(LESSONS.rglob("*.ipynb")):
        target = folder / lesson.relative_to(LESSONS)
        if ".ipynb_checkpoints" in lesson.parts:
            continue
        if target.exists():
            kept += 1
            continue
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(lesson, target)
        new += 1
    _write_settings(folder / WORKING_COPY)
    return new, kept


def open_lab(folder: Path, *, browser: bool, port: int) -> int:
    """Open JupyterLab on a working copy and stay until it ends; return an exit code."""
    hidden = folder / WORKING_COPY
    os.environ["JUPYTERLAB_SETTINGS_DIR"] = str(hidden / "settings")
    os.environ["JUPYTERLAB_WORKSPACES_DIR"] = str(hidden / "workspaces")
    os.environ["IPYTHONDIR"] = str(hidden / "ipython")
    from jupyterlab.labapp import LabApp  # here, because it takes a second and `--help` should not wait for it

    LabApp.launch_instance(lab_arguments(folder, browser=browser, port=port))
    return 0


def lab_arguments(folder: Path, *, browser: bool, port: int) -> list[str]:
    """Return the command line of JupyterLab for a working copy."""
    arguments = [
        f"--ServerApp.root_dir={folder}",
        f"--ServerApp.port={port}",
        f"--LabApp.default_url=/lab/tree/{START}",
        # Without it a slider's messages wait up to 40 ms for the network to fill a packet.
        "--ServerApp.kernel_websocket_connection_class=lessons.jupyter.fast_socket.PromptWebsocketConnection",
        # Without it a reopened lesson shows "model not found" where its live pictures were.
        "--ContentsManager.pre_save_hook=lessons.jupyter.on_save.drop_widget_views",
    ]
    # In a container or a virtual machine people work as root; Jupyter refuses that unless told.
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    return [*arguments, *(["--allow-root"] if is_root else []), *([] if browser else ["--no-browser"])]


def _write_settings(hidden: Path) -> None:
    """Keep the working copy's settings apart from the reader's own Jupyter."""
    for name, settings in SETTINGS.items():
        path = hidden / "settings" / f"{name}.jupyterlab-settings"
        if not path.exists():
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_text(json.dumps(settings, indent=1), encoding="utf-8")
    startup = hidden / "ipython" / "profile_default" / "startup" / "00_lessons.py"
    startup.parent.mkdir(parents=True, exist_ok=True)
    startup.write_text(STARTUP, encoding="utf-8")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m lessons", description="Open the valve lessons in JupyterLab.")
    parser.add_argument("--to", default="my-lessons", metavar="FOLDER", help="your working copy (default: my-lessons)")
    parser.add_argument("--no-browser", action="store_true", help="only print the address, open no browser")
    parser.add_argument("--port", type=int, default=8888, help="port to listen on (default: 8888)")
    card_server.add_options(parser)
    return parser
