"""When work orders have to be handed in: in the course's time and, where it differs, in this machine's."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from lessons.notebook import bank


def time_for(folder: Path, badge: str) -> datetime | None:
    """Return when the work order in a folder has to be handed in by a badge; None if at any time."""
    return _time_in(_order(folder / bank.RELEASED), badge)


def all_due(home: Path, badge: str) -> dict[str, datetime]:
    """Return by lesson when each work order in a working copy has to be handed in, the next one first."""
    found: dict[str, datetime] = {}
    for path in (found_at for depth in ("", "*/", "*/*/") for found_at in home.glob(f"{depth}{bank.RELEASED}")):
        order = _order(path)
        when, lesson = _time_in(order, badge), order.get("lesson")
        if when and isinstance(lesson, str):
            found[lesson] = when
    return dict(sorted(found.items(), key=lambda each: each[1]))


def in_words(when: datetime) -> str:
    """Return a due time in words, with the zone it was set in.

    >>> in_words(datetime.fromisoformat("2030-03-01T16:00+00:00")).partition(",")[0]
    'Friday 1 March 2030'
    """
    told = f"{when:%A} {when.day} {when:%B %Y, %H:%M} ({_zone(when)})"
    here = when.astimezone()
    return told if here.utcoffset() == when.utcoffset() else f"{told}, here {here:%A} {here.day} {here:%B, %H:%M}"


def _zone(when: datetime) -> str:
    """Return the distance to world time, which nobody can mistake as letters of a zone can be."""
    offset = f"{when:%z}"
    return f"UTC{offset[:3]}:{offset[3:5]}" if offset.strip("+-0") else "UTC"


def _order(path: Path) -> dict[str, Any]:
    try:
        order = bank.released(path.parent)
    except ValueError:  # the questions say what is wrong with it
        order = None
    return order or {}


def _time_in(order: Mapping[str, Any], badge: str) -> datetime | None:
    about = order.get("badges", {}).get(badge)
    told = about.get("due") if isinstance(about, dict) else None if order.get("badges") else order.get("due")
    try:
        when = datetime.fromisoformat(told) if isinstance(told, str) else None
        return when.astimezone(when.tzinfo) if when and when.tzinfo and 1971 < when.year < 9000 else None
    except (ValueError, OverflowError):
        return None
