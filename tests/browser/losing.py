"""Ways in which a page loses what answers it: the kernel is killed, ended, or busy; the server stops."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator

import psutil

from tests.browser.card_pages import Cards
from tests.browser.lab import Lab, end_all
from tests.processes import kernels, kill_kernels


def kill(server: Cards | Lab) -> None:
    kill_kernels(server.server.pid)


def stop(server: Cards | Lab) -> None:
    server.server.kill()
    server.server.wait()


def cull_in_lab(server: Cards | Lab) -> None:
    assert isinstance(server, Lab)
    end_all(server, "kernels")


@contextlib.contextmanager
def asleep(server: Cards | Lab) -> Iterator[None]:
    """Kernels that do nothing for a while, as when they are busy with something else."""
    sleeping = kernels(server.server.pid) or [psutil.Process(server.server.pid)]  # cards need no kernel
    for kernel in sleeping:
        kernel.suspend()
    try:
        yield
    finally:
        for kernel in sleeping:
            kernel.resume()
