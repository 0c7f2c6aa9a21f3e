"""Opens files that came from outside: plain files only, no links followed, never more than fits."""

from __future__ import annotations

import os
import stat
from pathlib import Path
from typing import BinaryIO

from grading.handins.handin import MAX_BYTES, UnusableError

# Windows has neither of the last two, nor what they are against; it needs O_BINARY instead.
_FLAGS = os.O_RDONLY | sum(getattr(os, name, 0) for name in ("O_NOFOLLOW", "O_NONBLOCK", "O_BINARY"))


def read_plain(path: Path, limit: int = MAX_BYTES) -> bytes:
    """Return the bytes of a plain file.

    Raises
    ------
    UnusableError
        With a sentence, if it is a link, a device, too large, or cannot be opened.
    """
    handle, size = _opened(path)
    try:
        if size > limit:
            raise UnusableError(
                f"the file has {size / 1e6:.0f} MB, more than the {limit / 1e6:.0f} MB that are opened; "
                "ask for it again, saved after Edit > Clear Outputs of All Cells"
            )
        data = os.read(handle, size)
        while len(data) < size and (more := os.read(handle, size - len(data))):  # some systems give it in pieces
            data += more
        return data
    finally:
        os.close(handle)


def open_plain(path: Path) -> BinaryIO:
    """Open a plain file of any size.

    Raises
    ------
    UnusableError
        With a sentence, if it is a link, a device, or cannot be opened.
    """
    return os.fdopen(_opened(path)[0], "rb")


def _opened(path: Path) -> tuple[int, int]:
    """Return a plain file, open, and its size."""
    try:
        # O_NONBLOCK: opening a named pipe would wait for ever.
        handle = os.open(path, _FLAGS)
    except OSError as problem:
        if path.is_symlink():
            raise UnusableError(
                "it is a link to another file or folder, and links are not followed; ask for the file itself"
            ) from None
        raise UnusableError(f"it cannot be opened ({problem.strerror})") from None
    about = os.fstat(handle)
    if not stat.S_ISREG(about.st_mode):
        os.close(handle)
        raise UnusableError("it is not a file with content; ask for the notebook itself")
    return handle, about.st_size
