"""Times that came from outside: only such as every calendar and time zone here can hold."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

# A year off both ends of what a clock could say, so that no time zone leads out of the calendar.
_FIRST, _LAST = datetime(1971, 1, 1, tzinfo=UTC), datetime(2199, 1, 1, tzinfo=UTC)


def instant(told: Callable[[], datetime]) -> datetime | None:
    """Return a time in UTC, or None where what was told is none, or lies beyond 1971 to 2198.

    >>> instant(lambda: datetime.fromisoformat("2030-03-01 16:00+01:00"))
    datetime.datetime(2030, 3, 1, 15, 0, tzinfo=datetime.timezone.utc)
    >>> instant(lambda: datetime.fromisoformat("0001-01-01 00:00+14:00"))
    """
    try:
        found = told().astimezone(UTC)
    except (OverflowError, OSError, TypeError, ValueError):
        return None
    return found if _FIRST <= found < _LAST else None


def of_file(path: Path) -> datetime:
    """Return when a file was last written, or now where that cannot be."""
    return instant(lambda: datetime.fromtimestamp(path.lstat().st_mtime, UTC)) or datetime.now(UTC)
