"""What runs on this machine, looked at while processes come and go: one that ends at that moment is no error."""

from __future__ import annotations

import contextlib
import re

import psutil


def arguments(process: psutil.Process) -> list[str]:
    """Return the words of a process's command line; none where it has ended, a zombie too."""
    try:
        return list(process.cmdline())
    except psutil.Error:
        return []


def command(process: psutil.Process) -> str:
    """Return the command line of a process as one text."""
    return " ".join(arguments(process))


def user(process: psutil.Process) -> str:
    """Return who a process runs as; nothing where it has ended."""
    try:
        return str(process.username())
    except psutil.Error:
        return ""


def running(argument: str, who: str | None = None) -> list[psutil.Process]:
    """Return the processes with this argument in their command line, of one user or of all."""
    return [each for each in psutil.process_iter() if argument in arguments(each) and who in (None, user(each))]


def kernels(server: int) -> list[psutil.Process]:
    """Return the kernels, spare ones too, that a server started."""
    children = psutil.Process(server).children(recursive=True)
    return [each for each in children if re.search("ipykernel|spare_process", command(each))]


def kill_kernels(server: int) -> None:
    """Kill the kernels of a server, as a machine that runs out of memory does."""
    for each in kernels(server):
        with contextlib.suppress(psutil.Error):
            each.kill()
