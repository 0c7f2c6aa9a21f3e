"""Takes in what came back: whose it is, which lesson it is, and which of several counts."""

from __future__ import annotations

import hashlib
import itertools
import re
from collections import Counter
from collections.abc import Container, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from tqdm import tqdm

from grading import workorders
from grading.course import plain
from grading.course.course import Course, CourseError, write_safely
from grading.given_out.given_out import GivenOut, given_out
from grading.giving_out.at_work import at_work
from grading.gradebook.gradebook import dues_of, opened
from grading.handins import received
from grading.handins.handin import HandIn, UnusableError, answered, answers, asked, read
from grading.handins.which_counts import Due
from grading.marking.copying_signs import shows_other
from grading.marking.settling import settle
from grading.taking_in.incoming import Item, fault, walk
from lessons.questions.question import Question

_COPY = re.compile(r"(?<![ _-])[ _-]*\(\d{1,2}\)(?=\.[A-Za-z]+$|$)")  # written by a browser that downloads a file again
_TIMES = re.compile(r"\d{4}-\d\d-\d\d[ T_]\d\d[:.]?\d\d[:.]?\d\d(\.\d+)?( UTC)?|\d{4}-\d\d-\d\d")


@dataclass
class Taken:
    """What came of one collecting."""

    new: int = 0
    known: int = 0
    refused: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)


@dataclass(frozen=True)
class Desk:
    """What is looked up for every file that comes in."""

    course: Course
    given_out: dict[str, GivenOut]  # by lesson
    homes: dict[str, str]  # question id -> lesson, of all lessons there are
    dues: dict[str, Due]


def take_in(course: Course, folder: Path, quiet: bool = False) -> Taken:
    """Take in all hand-ins of a folder; the folder itself is left as it is.

    Raises
    ------
    CourseError
        If there is nothing to read, or nothing was given out yet.
    """
    if not folder.exists():
        raise CourseError(
            f"There is no folder or file {folder}. Name the folder, zip or saved e-mail with the hand-ins."
        )
    with at_work(course, "take-in"):
        desk, taken = _desk(course), Taken()
        for item in tqdm(walk(folder), desc="take-in", unit=" file", disable=True if quiet else None):
            sentence = _taken(desk, item, taken)
            if sentence:
                taken.refused.append(f"{item.origin}: {sentence}")
                received.refuse(course, item.origin, sentence, item.data)
    return taken


def _taken(desk: Desk, item: Item, taken: Taken) -> str:
    """Take one item in, or return the sentence that says why it cannot be; the next one comes in either way."""
    try:
        _take(desk, item, taken)
    except UnusableError as problem:
        return str(problem)
    except Exception as problem:
        return fault(problem)
    return ""


def whose(names: tuple[str, ...], roster: Container[str], lessons: list[str]) -> str:
    """Return the badge that folder, zip or file are named by.

    Raises
    ------
    UnusableError
        If there is none, or there are two.

    >>> whose(("4711", "04_inherent_characteristic.ipynb"), {"4711", "04"}, ["04_inherent_characteristic"])
    '4711'
    >>> whose(("work of a-23 (2).ipynb",), {"A-23", "2"}, [])
    'A-23'
    """
    found = dict.fromkeys(badge for name in names for badge in _badges_in(name, roster, lessons))
    if not found:
        raise UnusableError(
            f"neither its name “{plain.line(names[-1], 60)}” nor its folder has a badge of roster.csv in it; "
            "rename it so that it begins with the badge, or add the badge to roster.csv, and take it in again"
        )
    if len(found) > 1:
        raise UnusableError(
            f"it names two badges, {' and '.join(found)}; rename it so that only one is left, and take it in again"
        )
    return next(iter(found))


def _badges_in(name: str, roster: Container[str], lessons: list[str]) -> Iterator[str]:
    name = _COPY.sub("", name)
    for lesson in lessons:  # their numbers and those of times are not badges
        name = name.replace(lesson, " ")
    name = _TIMES.sub(" ", re.sub(r"\.(ipynb|zip|eml)$", "", name, flags=re.IGNORECASE))
    words = list(itertools.islice(re.finditer(r"[A-Za-z0-9]+", name), 20))
    first = 0
    while first < len(words):
        # The longest run of words that is a badge: “a-12” before “a”.
        for last in reversed(range(first, len(words))):
            run = name[words[first].start() : words[last].end()]
            # The class list holds no two badges that differ in capitals only.
            badge = next((each for each in (run, run.upper(), run.lower()) if each in roster), "")
            if badge:
                yield badge
                first = last
                break
        first += 1


def which(handin: HandIn, desk: Desk) -> str:
    """Return the lesson that a hand-in belongs to, by the questions it answers.

    Raises
    ------
    UnusableError
        If it is none that was given out.
    """
    ids = [asked(cell.source) or (answered(cell.source) or ("",))[0] for cell in handin.cells]
    votes = Counter(desk.homes[each] for each in ids if each in desk.homes)
    lesson = votes.most_common(1)[0][0] if votes else handin.lesson
    if not lesson:
        raise UnusableError("it has no work order question in it; ask for the notebook from the work order's zip")
    if lesson not in desk.given_out:
        raise UnusableError(
            f"it is lesson {plain.line(lesson, 60)}, which was not given out here ({', '.join(desk.given_out)} were)"
        )
    return lesson


def _desk(course: Course) -> Desk:
    lessons = course.lessons()
    if not lessons:
        raise CourseError("No lesson has been given out yet, so none can come back. Give one out first: give-out 04")
    homes = {each.id: lesson for lesson in workorders.notebooks() for each in workorders.of_lesson(lesson)}
    out = {lesson: given_out(course, lesson) for lesson in lessons}
    homes |= {each.id: lesson for lesson in lessons for given in out[lesson].all for each in given.questions}
    with opened(course) as connection:
        return Desk(course, out, homes, {lesson: dues_of(connection, lesson) for lesson in lessons})


def _take(desk: Desk, item: Item, taken: Taken) -> None:
    course = desk.course
    badge = "" if item.problem else whose(item.names, course.roster, list(desk.given_out))
    if item.problem or item.data is None:
        raise UnusableError(item.problem)
    handin = read(item.data)
    lesson = which(handin, desk)
    received.adopt(course, lesson, badge)
    new = received.keep(course, lesson, badge, item.data, _entry(desk, item, handin, lesson, badge))
    received.forget_refusal(course, item.origin, item.data)
    settled = settle(course, desk.given_out[lesson], badge, desk.dues[lesson])
    taken.new += new
    taken.known += not new
    if new and settled:
        taken.notes += [f"{badge}, {lesson}: {note}" for note in (*settled.notes, *settled.doubts)]


def _entry(desk: Desk, item: Item, handin: HandIn, lesson: str, badge: str) -> received.Entry:
    data = item.data or b""
    digest = hashlib.sha256(data).hexdigest()
    questions, other, flag = _looked_at(desk, handin, lesson, badge)
    flags = [each for each in (flag, item.remark) if each]
    first = _first_with(desk.course, lesson, badge, digest)
    blank = not any(each.text.strip() for each in answers(handin, [q.id for q in questions]).values())
    if first != badge and not blank:
        flags.append(f"badge {first} handed in exactly the same file")
        other = other or first
    when, saved = _times(item)
    return received.Entry(digest, item.origin, when, flags, other, blank, saved)


def _times(item: Item) -> tuple[str, str]:
    """Return when it was handed in, and when the file was saved where only the hand-in itself tells the first."""
    if item.told is None or item.told > item.when:  # nobody hands in after the file is here
        return item.when.isoformat(), ""
    return item.told.isoformat(), item.when.isoformat()


def _looked_at(desk: Desk, handin: HandIn, lesson: str, badge: str) -> tuple[tuple[Question, ...], str, str]:
    """Return the questions it answers, and what it shows of another badge."""
    out = desk.given_out[lesson]
    if not any(badge in given.units for given in out.all):  # marking will say so
        return out.latest.questions, "", ""
    given, _ = out.of(handin.given_out, badge)
    return given.questions, *shows_other(handin, given.questions, given.person(desk.course.roster[badge]))


def _first_with(course: Course, lesson: str, badge: str, digest: str) -> str:
    """Return the badge that handed in these bytes first."""
    path = course.root / "received" / lesson / ".seen" / digest
    if not path.exists():
        write_safely(path, badge, lasting=False)
    return path.read_text(encoding="utf-8")
