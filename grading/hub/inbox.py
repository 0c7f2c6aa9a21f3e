"""Reads what was handed in through the hub's exchange. Whose it is says the machine, not a name that can be chosen."""

from __future__ import annotations

import os
import pwd
from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path

from grading.course import plain
from grading.course.course import Course, CourseError
from grading.course.times import instant
from grading.hub.school import user_of
from grading.hub.school_boxes import INBOUND
from grading.taking_in.incoming import Item, fault, walk


def inbound(course: Course) -> Path:
    """Return the folder in which hand-ins arrive.

    Raises
    ------
    CourseError
        If the course is on no hub.
    """
    if not course.exchange:
        raise CourseError(
            "This course is on no hub, so nothing arrives by itself. Name the folder, zip or saved e-mail with the "
            "hand-ins: take-in FOLDER"
        )
    return Path(course.exchange) / INBOUND


def handed_in(course: Course) -> Iterator[Item]:
    """Give everything in the exchange, each under the badge of the user who put it there."""
    badges = {user_of(badge): badge for badge in course.roster}
    folder = inbound(course)
    try:
        names = sorted(os.listdir(folder))  # noqa: PTH208 - names only
    except OSError as problem:
        raise CourseError(f"The exchange {folder} cannot be read: {problem.strerror}.") from problem
    for name in names:
        yield from _under_owner(folder / name, badges)


def _under_owner(path: Path, badges: dict[str, str]) -> Iterator[Item]:
    try:
        owner, said = _owner(path), path.name.partition("+")[0]
        for item in walk(path):
            yield _timed(_named(item, owner, said, badges))
    except OSError as problem:  # taken away while it was read
        yield Item(str(path), (path.name,), datetime.now(UTC), None, fault(problem))


def _owner(path: Path) -> str:
    number = path.lstat().st_uid
    try:
        return pwd.getpwuid(number).pw_name
    except KeyError:
        return f"number {number}"


def _named(item: Item, owner: str, said: str, badges: dict[str, str]) -> Item:
    """Return an item under the badge of its owner, or with the sentence that says why it is nobody's."""
    if owner not in badges:
        problem = f"user {owner} put it into the exchange, who is not in roster.csv"
        return replace(item, problem=item.problem or problem, names=(item.names[-1],))
    if said != owner:
        problem = (
            f"it lies in the exchange under the name of {plain.line(said, 40)}, but user {owner} put it there; "
            "ask both, and take in the file itself"
        )
        return replace(item, problem=item.problem or problem, names=(item.names[-1],))
    return replace(item, names=(badges[owner],))


def _timed(item: Item) -> Item:
    """Take the time of the machine for when it came: that in the folder's name can be chosen."""
    path = Path(item.origin.partition(" > ")[0])
    came = instant(lambda: datetime.fromtimestamp(path.lstat().st_ctime, UTC))
    return replace(item, when=came, told=item.told or item.when) if came and not item.problem else item
