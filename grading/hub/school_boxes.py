"""The course's exchange on the hub: where hand-ins are put, and a box for each apprentice with what is sent to them.

`inbound` is nbgrader's: everybody may put something in, nobody but the instructor can look in or take something out
that is another's. A box belongs to the instructor and may be read by one apprentice.
"""

from __future__ import annotations

import json
import pwd
import shutil
from collections.abc import Iterator
from pathlib import Path

from grading.course.course import Course, CourseError, write_safely
from grading.course.roster import Apprentice
from grading.giving_out.put_out import TO_SEND
from grading.hub.school import School, user_of
from lessons.jupyter.from_instructor import ABOUT, MARKED, ORDERS

INBOUND, OUTBOUND, BOXES = "inbound", "outbound", "boxes"


def make_exchange(school: School) -> None:
    """Make the folders of the exchange and the boxes, each with the owner and mode that keeps it apart."""
    owner, place = pwd.getpwnam(school.teacher), school.exchange
    for folder in (place, place / BOXES):
        folder.mkdir(parents=True, exist_ok=True)
    (place / BOXES).chmod(0o711)
    # Sticky: without it whoever guesses a name could take away what another handed in.
    for name, mode in ((INBOUND, 0o1733), (OUTBOUND, 0o755)):
        _folder(place / name, owner.pw_uid, owner.pw_gid, mode)
    for user in school.users():
        for name in ("", ORDERS, MARKED):
            _folder(place / BOXES / user / name, owner.pw_uid, pwd.getpwnam(user).pw_gid, 0o2750)


def _folder(path: Path, owner: int, group: int, mode: int) -> None:
    path.mkdir(exist_ok=True)
    shutil.chown(path, owner, group)
    path.chmod(mode)


def send(course: Course) -> int:
    """Put into each box what was given out and marked, and take out what no longer is; return how many files changed.

    Raises
    ------
    CourseError
        If the exchange that the course is to use is not there.
    """
    if not course.exchange:
        return 0
    place = Path(course.exchange)
    if not (place / BOXES).is_dir():
        raise CourseError(f"The exchange of the hub is not in {place} any more. Start the hub again: welcome COURSE")
    for lesson in course.lessons():
        (place / OUTBOUND / lesson).mkdir(exist_ok=True)  # so that its hand-ins are taken
    return sum(
        _fill(course, box, person)
        for person in course.roster.values()
        if (box := place / BOXES / user_of(person.badge)).is_dir()  # whoever is new gets one when the hub starts
    )


def _fill(course: Course, box: Path, person: Apprentice) -> int:
    wanted = {
        box / ABOUT: _about(course, person),
        **dict(_orders(course, box, person)),
        **dict(_pages(course, box, person)),
    }
    changed = 0
    for path, data in wanted.items():
        if not path.is_file() or path.read_bytes() != data:
            write_safely(path, data, mode=0o640, lasting=False)
            changed += 1
    for path in [*(box / ORDERS).iterdir(), *(box / MARKED).iterdir()]:
        if path not in wanted:
            path.unlink()
            changed += 1
    return changed


def _about(course: Course, person: Apprentice) -> bytes:
    told = {"badge": person.badge, "units": person.units, "course": Path(course.exchange).name}
    return json.dumps(told).encode()


def _orders(course: Course, box: Path, person: Apprentice) -> Iterator[tuple[Path, bytes]]:
    for lesson in course.lessons():
        packed = course.root / TO_SEND / lesson / f"{person.badge}.zip"
        notebook = course.root / "as_sent" / lesson / f"{lesson}.ipynb"
        given_out = json.loads(notebook.read_text(encoding="utf-8"))["metadata"]["work_order"].get("given_out", "0-")
        if packed.is_file():
            yield box / ORDERS / f"{given_out}+{lesson}.zip", packed.read_bytes()


def _pages(course: Course, box: Path, person: Apprentice) -> Iterator[tuple[Path, bytes]]:
    for page in (course.root / "handed_back" / person.badge).glob("*/*.html"):
        yield box / MARKED / page.name, page.read_bytes()
