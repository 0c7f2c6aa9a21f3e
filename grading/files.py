"""Opens files that came from outside: plain files only, no links followed, never more than fits."""

from __future__ import annotations

import os
import stat
from pathlib import Path

from grading.handin import MAX_BYTES, UnusableError

# Windows has neither of the last two, nor what they are against; it needs O_BINARY instead.
_FLAGS = os.O_RDONLY | sum(getattr(os, name, 0) for name in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY"))


def read_plain(path: Path, limit: int = MAX_BYTES) -> bytes:
    """Return the bytes of a plain file.

    Raises
    ------
    UnusableError
        With a sentence, if it is a link, a device, too large, or cannot be opened.
    """
    try:
        # O_NONBLOCK: opening a named pipe would wait for ever.
        handle = os.open(path, _FLAGS)
    except OSError as problem:
        if path.is_symlink():
            raise UnusableError(
                "it is a link to another file, which is not followed; ask for the file itself"
            ) from None
        raise UnusableError(f"it cannot be opened ({problem.strerror})") from None
    with os.fdopen(handle, "rb") as file:
        about = os.fstat(file.fileno())
        if not stat.S_ISREG(about.st_mode):
            raise UnusableError("it is not a file with content; ask for the notebook itself")
        if about.st_size > limit:
            raise UnusableError(
                f"the file has {about.st_size / 1e6:.0f} MB and is not opened above {limit / 1e6:.0f} MB; "
                "ask for it again, saved after Edit > Clear Outputs of All Cells"
            )
        return file.read(limit)
