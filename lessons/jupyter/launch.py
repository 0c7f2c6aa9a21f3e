"""Makes a working copy of the lessons and opens JupyterLab on it."""

from __future__ import annotations

import argparse
import os
import runpy
import sys
from importlib.util import find_spec
from pathlib import Path

from lessons.jupyter.lesson_export import TEMPLATE, TEMPLATES
from lessons.jupyter.lesson_page import EXTENSIONS, LAB_SETTINGS
from lessons.jupyter.working_copy import Made, working_copy
from lessons.questions.progress import WORKING_COPY

START = "00_start_here.ipynb"


def main(arguments: list[str] | None = None) -> int:
    """Run `python -m lessons`: copy what is missing, then open JupyterLab. Returns an exit code."""
    options = _parser().parse_args(arguments)
    folder = Path(options.to).expanduser().resolve()
    try:
        made = working_copy(folder, fresh=options.fresh)
    except OSError as problem:
        print(why_not_written(folder, problem))
        return 1
    print("\n".join(told_at_start(folder, made)))
    stay_off_home(folder / WORKING_COPY)
    if options.keep:
        return _keep(folder, options.keep)
    if options.cards:
        from lessons.jupyter.card_server.server import serve  # here, because it loads all cards, and lessons need none

        return serve(folder, browser=not options.no_browser, port=options.port, host=options.host)
    return open_lessons(folder, browser=not options.no_browser, port=options.port)


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


def _keep(folder: Path, name: str) -> int:
    from lessons.jupyter.lesson_export.kept_page import CannotKeepError, keep_lesson  # here, because lessons do without

    try:
        print("\n".join(keep_lesson(folder, name)))
    except CannotKeepError as problem:
        print(problem)
        return 1
    return 0


def told_at_start(folder: Path, made: Made) -> list[str]:
    """Say what became of the lessons in a working copy."""
    renewed = f", {made.renewed} with new text" if made.renewed else ""
    said = [f"Lessons in {folder}: {made.new} new, {made.kept} kept as you left them{renewed}."]
    if made.carried:
        said.append(f"Answers of yours that stand in the new text: {made.carried}.")
    if made.homeless:
        said.append(f"Answers to questions that are gone: {made.homeless}. They are in the old files.")
    if made.gone:
        said.append(f"Lessons that are no longer in the course: {made.gone}.")
    if made.aside:
        said.append(f"Old files put aside whole, with what you typed: {made.aside}, in {made.aside_in}")
        said.append("What you answered is written down too, and comes back into its box when a lesson runs.")
    return said


def why_not_written(folder: Path, problem: OSError) -> str:
    """Say why a working copy could not be made or brought up to date, and what to do."""
    why = problem.strerror or str(problem)
    if not (folder / WORKING_COPY).is_dir():
        return f"The working copy cannot be made in {folder}: {why}. Choose another with --to FOLDER."
    return (
        f"The lessons in {folder} cannot be brought up to date: {why}. Nothing you typed is lost. "
        "Make room, or get the right to write there, and start again: it goes on where it stopped. "
        "Or choose another folder with --to FOLDER."
    )


def stay_off_home(hidden: Path) -> None:
    """Where the home folder cannot be written, let Jupyter and matplotlib keep their files in the working copy."""
    from jupyter_core import paths  # here, because `--help` should not wait for it

    usual = {
        "JUPYTER_DATA_DIR": paths.jupyter_data_dir(),
        "JUPYTER_RUNTIME_DIR": paths.jupyter_runtime_dir(),
        "JUPYTER_CONFIG_DIR": paths.jupyter_config_dir(),
        "MPLCONFIGDIR": str(Path(os.environ.get("MPLCONFIGDIR", "~/.config/matplotlib")).expanduser()),
    }
    for name, folder in usual.items():
        if not _can_be_written(Path(folder)):
            os.environ[name] = str(hidden / "home" / name.lower())


def _can_be_written(folder: Path) -> bool:
    there = next(each for each in (folder, *folder.parents) if each.exists())
    return there.is_dir() and os.access(there, os.W_OK)


def open_lessons(folder: Path, *, browser: bool, port: int) -> int:
    """Open JupyterLab for whoever works through lessons: sooner, for it leaves out what lessons do not use."""
    leave_out_what_lessons_do_not_use()
    from lessons.jupyter.spare_kernel import keep_spare  # here, because it loads a library that `--help` does without

    keep_spare()  # first, so that it gets ready while the server starts
    return open_lab(folder, browser=browser, port=port)


def leave_out_what_lessons_do_not_use() -> None:
    """Have JupyterLab load less, so that a lesson opens sooner, and kernels no debugger, which takes 7 MB of each."""
    for name in ("JUPYTER_CONFIG_PATH", "JUPYTER_PATH"):
        known = filter(None, [os.environ.get(name)])
        os.environ[name] = os.pathsep.join([str(LAB_SETTINGS), *known])


def open_lab(folder: Path, *, browser: bool, port: int) -> int:
    """Open JupyterLab on a working copy and stay until it ends; return an exit code."""
    own_settings(folder)
    from jupyterlab.labapp import LabApp  # here, because it takes a second and `--help` should not wait for it

    LabApp.launch_instance(lab_arguments(folder, browser=browser, port=port))
    return 0


def own_settings(folder: Path) -> None:
    """Let JupyterLab and its kernels use the settings of a working copy, and not the reader's own."""
    hidden = folder / WORKING_COPY
    os.environ["JUPYTERLAB_SETTINGS_DIR"] = str(hidden / "settings")
    os.environ["JUPYTERLAB_WORKSPACES_DIR"] = str(hidden / "workspaces")
    os.environ["IPYTHONDIR"] = str(hidden / "ipython")


def lab_arguments(folder: Path, *, browser: bool, port: int) -> list[str]:
    """Return the command line of JupyterLab for a working copy."""
    arguments = [
        f"--ServerApp.root_dir={folder}",
        f"--ServerApp.port={port}",
        f"--LabApp.default_url=/lab/tree/{START}",
        *lesson_options(),
    ]
    # In a container or a virtual machine people work as root; Jupyter refuses that unless told.
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    return [*arguments, *(["--allow-root"] if is_root else []), *([] if browser else ["--no-browser"])]


def lesson_options() -> list[str]:
    """Return what every server of lessons is told, wherever it runs."""
    return [
        # The page without code that a lesson is; it is found here, so that nothing has to be installed.
        f"--LabApp.extra_labextensions_path={EXTENSIONS}",
        # What File > Save and Export makes is a page without code, that asks no other server for scripts.
        f"--HTMLExporter.template_name={TEMPLATE}",
        f"--HTMLExporter.extra_template_basedirs={TEMPLATES}",
        # Without it a slider's messages wait up to 40 ms for the network to fill a packet.
        "--ServerApp.kernel_websocket_connection_class=lessons.jupyter.fast_socket.PromptWebsocketConnection",
        # Without it a reopened lesson shows "model not found" where its live pictures were.
        "--ContentsManager.pre_save_hook=lessons.jupyter.on_save.drop_widget_views",
        "--ServerApp.contents_manager_class=lessons.jupyter.on_save.OneSaveAtATime",
    ]


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m lessons", description="Open the valve lessons in JupyterLab.")
    parser.add_argument("--to", default="my-lessons", metavar="FOLDER", help="your working copy (default: my-lessons)")
    parser.add_argument(
        "--fresh",
        action="store_true",
        help="show all lessons as they come; those that differ in your working copy are put aside there, never deleted",
    )
    parser.add_argument(
        "--keep",
        metavar="LESSON",
        help="write a lesson, such as 04, as a page that needs no network and, with Chromium or Chrome here, as a PDF",
    )
    parser.add_argument("--no-browser", action="store_true", help="only print the address, open no browser")
    parser.add_argument("--port", type=int, default=8888, help="port to listen on (default: 8888)")
    parser.add_argument("--cards", action="store_true", help="only the job cards, as pages without code")
    parser.add_argument(
        "--host",
        default="localhost",
        metavar="ADDRESS",
        help="with --cards: address to listen on; 0.0.0.0 lets a tablet in, with a token",
    )
    return parser
