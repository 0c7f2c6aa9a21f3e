"""Processes of their own for tests, forked from this one: they have loaded already what takes a new one seconds."""

from __future__ import annotations

import os
import sys
import traceback
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TextIO

from grading.gradebook.gradebook import _engine


@dataclass
class Forked:
    """A process at work; what it says goes into one pipe, its errors too."""

    pid: int
    stdin: TextIO
    stdout: TextIO
    _ended: list[int] = field(default_factory=list)

    def tell(self, line: str) -> None:
        self.stdin.write(f"{line}\n")
        self.stdin.flush()

    def ended(self) -> bool:
        """Tell whether it has ended already."""
        if not self._ended:
            pid, status = os.waitpid(self.pid, os.WNOHANG)
            self._ended += [os.waitstatus_to_exitcode(status)] if pid else []
        return bool(self._ended)

    def end(self) -> tuple[int, str]:
        """Wait until it ends; return its exit code, or the signal that ended it as a negative number, and what it said."""
        said = self.stdout.read()
        if not self.ended():
            self._ended.append(os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1]))
        self.stdin.close()
        self.stdout.close()
        return self._ended[0], said


def forked(work: Callable[[], int]) -> Forked:
    """Do some work in a process of its own, with a connection of its own to the gradebook."""
    (listens, tells), (hears, says) = os.pipe(), os.pipe()
    sys.stdout.flush()
    sys.stderr.flush()
    pid = os.fork()
    if not pid:
        code = 70
        try:
            for end, number in ((listens, 0), (says, 1), (says, 2)):
                os.dup2(end, number)
            sys.stdin = open(0, closefd=False, encoding="utf-8")  # noqa: SIM115 - the pipes, until it ends
            sys.stdout = sys.stderr = open(1, "w", buffering=1, closefd=False, encoding="utf-8")  # noqa: SIM115
            _engine.cache_clear()
            code = work()
        except BaseException:
            traceback.print_exc()
        finally:
            sys.stdout.flush()
            os._exit(code)
    os.close(listens)
    os.close(says)
    return Forked(pid, os.fdopen(tells, "w", encoding="utf-8"), os.fdopen(hears, encoding="utf-8"))
