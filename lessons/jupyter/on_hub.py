"""Starts the server of one apprentice on a hub: makes the working copy, signs on, fetches what the instructor sent.

The hub runs this as the apprentice's own user of the machine; nothing here has other rights.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path

from lessons.jupyter import from_instructor
from lessons.jupyter.launch import START, leave_out_what_lessons_do_not_use, lesson_options, own_settings
from lessons.jupyter.working_copy import working_copy
from lessons.questions import progress

IDLE = "OSTREL_IDLE"  # the variable that says after how many seconds a kernel nobody uses ends


def main() -> None:
    """Prepare the working copy, then serve it behind the hub until the hub stops it."""
    folder = Path.home() / "my-lessons"
    make_ready(folder)
    own_settings(folder)
    leave_out_what_lessons_do_not_use()
    os.chdir(folder)
    sys.argv[1:] = [*sys.argv[1:], *hub_options(folder)]
    from jupyterhub.singleuser import main as serve  # here, because a machine without a hub has none

    serve()


def make_ready(folder: Path) -> None:
    """Make or complete a working copy, signed on with the badge of the class list."""
    working_copy(folder)
    box = from_instructor.box()
    if box is None:
        return
    about, known = from_instructor.about(box), progress.load(folder)
    if known.badge != about["badge"]:
        units = about["units"] if known.badge == progress.ALONE else known.units
        progress.keep_sign_on(folder, about["badge"], units)
    from_instructor.fetch(folder)


def hub_options(folder: Path) -> list[str]:
    """Return the command line of a server behind the hub."""
    idle = int(os.environ.get(IDLE, "3600"))
    return [
        *lesson_options(),
        f"--ServerApp.root_dir={folder}",
        f"--ServerApp.default_url=/lab/tree/{START}",
        # An apprentice types answers; a shell on the school's machine is not needed for that.
        "--ServerApp.terminals_enabled=False",
        # A kernel is most of what an apprentice costs. Its lesson says that it stopped, and starts it again.
        f"--MappingKernelManager.cull_idle_timeout={idle}",
        f"--MappingKernelManager.cull_interval={max(1, idle // 10)}",
        "--MappingKernelManager.cull_connected=True",
        # The hub sees that an open tab still asks, and takes it for work; the server itself knows better.
        f"--ServerApp.shutdown_no_activity_timeout={2 * idle}",
    ]


if __name__ == "__main__":
    main()
