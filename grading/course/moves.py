"""Badges that changed in mid-course: marks, numbers and hand-ins go with them to the new one."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from typing import TypeVar

MOVES = "badges.json"
_Value = TypeVar("_Value")


@dataclass(frozen=True)
class Move:
    """One badge that became another; what was given out before `at` knows the old one."""

    was: str
    now: str
    at: str  # ISO, UTC


def read_moves(path: Path) -> tuple[Move, ...]:
    """Read the changes of badges; none where the file is missing.

    Raises
    ------
    ValueError
        If the file is damaged: without it marks would go to the wrong badge.
    """
    try:
        return tuple(Move(**each) for each in json.loads(path.read_text(encoding="utf-8")))
    except FileNotFoundError:
        return ()
    except (TypeError, ValueError) as problem:
        raise ValueError(f"{path} is damaged ({problem}). Put it back from a backup.") from problem


def moves_text(moves: Iterable[Move]) -> str:
    """Return changes of badges as they are kept."""
    return json.dumps([asdict(each) for each in moves], indent=1) + "\n"


def moved(by_badge: Mapping[str, _Value], moves: Iterable[Move], when: datetime) -> dict[str, _Value]:
    """Return what was kept by badge at some time, by the badges of today.

    >>> moves = [Move("4711", "5711", "2030-03-01T00:00:00+00:00")]
    >>> moved({"4711": "si"}, moves, datetime.fromisoformat("2030-01-01T00:00:00+00:00"))
    {'5711': 'si'}
    """
    found = dict(by_badge)
    for each in moves:
        if datetime.fromisoformat(each.at) > when and each.was in found:
            found = {each.now if badge == each.was else badge: value for badge, value in found.items()}
    return found


def earlier(moves: Iterable[Move]) -> dict[str, str]:
    """Return which badge of today a badge of earlier stands for.

    >>> earlier([Move("1", "2", ""), Move("2", "3", "")])
    {'1': '3', '2': '3'}
    """
    found: dict[str, str] = {}
    for each in moves:
        found = {was: each.now if now == each.was else now for was, now in found.items()} | {each.was: each.now}
    return found
