"""What runs on this machine, looked at while processes come and go: one that ends at that moment is no error."""

from __future__ import annotations

import contextlib

import psutil


def command(process: psutil.Process) -> str:
    """Return the command line of a process; nothing where it has ended, a zombie too."""
    try:
        return " ".join(process.cmdline())
    except psutil.Error:
        return ""


def user(process: psutil.Process) -> str:
    """Return who a process runs as; nothing where it has ended."""
    try:
        return str(process.username())
    except psutil.Error:
        return ""


def running(words: str, who: str | None = None) -> list[psutil.Process]:
    """Return the processes with these words in their command line, of one user or of all."""
    return [each for each in psutil.process_iter() if words in command(each) and who in (None, user(each))]


def kernels(server: int) -> list[psutil.Process]:
    """Return the kernels, spare ones too, that a server started."""
    children = psutil.Process(server).children(recursive=True)
    return [each for each in children if any(words in command(each) for words in ("ipykernel", "spare_process"))]


def kill_kernels(server: int) -> None:
    """Kill the kernels of a server, as a machine that runs out of memory does."""
    for each in kernels(server):
        with contextlib.suppress(psutil.Error):
            each.kill()
