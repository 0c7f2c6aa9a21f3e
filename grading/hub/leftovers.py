"""What a hub began and could not end, because it was killed or failed at its start: found, stopped, and said why."""

from __future__ import annotations

import logging
import sys
from collections import deque
from collections.abc import Iterable, Iterator
from contextlib import suppress
from typing import ClassVar

import psutil

from grading.hub.school import School

_PATIENCE = 5  # s for a process to end by itself


class LastWords(logging.Handler):
    """Keeps the last errors that the hub wrote down."""

    said: ClassVar[deque[logging.LogRecord]] = deque(maxlen=20)

    def emit(self, record: logging.LogRecord) -> None:
        """Keep one."""
        self.said.append(record)


def stop_leftovers(school: School) -> int:
    """Stop proxy and services of a hub that is gone; return how many there were. Apprentices' servers stay."""
    return _stopped(list(_leftovers(school)))


def _stopped(found: list[psutil.Process]) -> int:
    for each in found:
        with suppress(psutil.Error):  # it ended by itself
            each.terminate()
    _, left = psutil.wait_procs(found, timeout=_PATIENCE)
    for each in left:
        with suppress(psutil.Error):
            each.kill()
    return len(found)


def end_well(school: School, said: Iterable[logging.LogRecord]) -> None:
    """Run when the hub ends: where it left something behind, stop that, and say what was wrong."""
    _stopped([each for each in psutil.process_iter() if _draws(each, school)])  # as it should be, so nothing is said
    left = stop_leftovers(school)
    if not left and not any(each.levelno >= logging.CRITICAL for each in said):
        return
    reasons = [line for each in said if (line := each.getMessage().strip())]
    why = reasons[-1].splitlines()[0].rstrip(".") if reasons else "it did not say why"
    sys.stderr.write(
        f"\nThe hub stopped, because something went wrong: {why}. Its proxy and helpers are stopped too, and nothing "
        "that was written is lost. Put it right - the lines above say more - and start it again.\n"
    )


def _leftovers(school: School) -> Iterator[psutil.Process]:
    hub, pid = f":{school.ports[0]}/hub/api", _proxy_pid(school)
    for each in psutil.process_iter():
        try:
            told = each.environ()
        except psutil.Error:  # ended meanwhile
            continue
        if _draws(each, school):
            yield each
        is_service = "JUPYTERHUB_SERVICE_NAME" in told and told.get("JUPYTERHUB_API_URL", "").endswith(hub)
        if is_service or (each.pid == pid and "CONFIGPROXY_AUTH_TOKEN" in told):
            yield each


def _draws(process: psutil.Process, school: School) -> bool:
    """Tell whether this is what draws the school's pictures ahead."""
    try:
        return process.username() == "root" and str(school.pictures) in process.cmdline()
    except psutil.Error:
        return False


def _proxy_pid(school: School) -> int | None:
    try:
        return int((school.hub / "proxy.pid").read_text().split()[0])
    except (OSError, ValueError, IndexError):
        return None
