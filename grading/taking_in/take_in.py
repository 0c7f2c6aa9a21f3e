"""Takes in what came back: whose it is, which lesson it is, and which of several counts."""

from __future__ import annotations

import functools
import hashlib
import os
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from pathlib import Path

from tqdm import tqdm

from grading import workorders
from grading.course import plain
from grading.course.course import Course, CourseError
from grading.course.moves import earlier
from grading.given_out.given_out import GivenOut, given_out
from grading.given_out.judged_answers import is_blank
from grading.giving_out.at_work import at_work
from grading.gradebook.gradebook import dues_of, opened
from grading.handins import received
from grading.handins.handin import HandIn, UnusableError, answered, answers, asked, read
from grading.handins.not_taken_in import (
    Refused,
    answers_given,
    close,
    keep_answer,
    key_of,
    open_questions,
    refuse,
)
from grading.handins.which_counts import Due
from grading.marking.copying_signs import shows_other
from grading.marking.settling import settle
from grading.taking_in.incoming import Item, fault, walk
from grading.taking_in.owners import Owner, Owners, UnsureError
from lessons.notebook.bank import is_work_order
from lessons.questions.question import Question


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
    homes: dict[str, str]  # question id -> lesson, of the lessons given out
    dues: dict[str, Due]
    owners: Owners
    answered: Mapping[str, str]  # whose a file is that the instructor was asked about
    refused: Refused  # what could not be taken in before
    waits: bool = True  # for the disk at each file, and not once for many
    seen: dict[str, dict[str, str]] = field(default_factory=dict)  # lesson -> checksum -> who handed it in first

    def first_with(self, lesson: str) -> dict[str, str]:
        """Return who handed in each file of a lesson first."""
        if lesson not in self.seen:
            self.seen[lesson] = received.first_with(self.course, lesson)
        return self.seen[lesson]

    def home(self, question: str) -> str:
        """Return the lesson that a graded question belongs to, or nothing."""
        return self.homes.get(question) or (_other_homes().get(question, "") if _is_graded(question) else "")


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
    return take_in_items(course, walk(folder), quiet)


def take_in_items(course: Course, items: Iterable[Item], quiet: bool = False) -> Taken:
    """Take in hand-ins, wherever they came from.

    Raises
    ------
    CourseError
        If nothing was given out yet.
    """
    with at_work(course, "take-in"):
        desk, taken = replace(_desk(course), waits=not hasattr(os, "sync")), Taken()
        try:
            for item in tqdm(items, desc="take-in", unit=" file", disable=True if quiet else None):
                _taken(desk, item, taken)
        finally:
            if taken.new and not desk.waits:
                os.sync()  # before anybody is told that they are kept
    return taken


def _taken(desk: Desk, item: Item, taken: Taken) -> None:
    """Take one item in, or keep it with the sentence that says why it cannot be; the next one comes in either way."""
    key = ""
    try:
        _take(desk, item, taken)
        return
    except UnsureError as problem:
        key = key_of(item.names, item.data or b"")
        perhaps = problem.badges[0] if problem.badges else "BADGE"
        sentence = f"{problem}. Whose is it? Answer with: whose {key} {perhaps}"
    except UnusableError as problem:
        sentence = str(problem)
    except Exception as problem:
        sentence = fault(problem)
    taken.refused.append(f"{item.origin}: {sentence}")
    refuse(desk.course, item.origin, sentence, item.data, key=key, when=item.when, told=item.told)


def which(handin: HandIn, desk: Desk) -> str:
    """Return the lesson that a hand-in belongs to, by the questions it answers.

    Raises
    ------
    UnusableError
        If it is none that was given out.
    """
    ids = [asked(cell.source) or (answered(cell.source) or ("",))[0] for cell in handin.cells]
    votes = Counter(filter(None, map(desk.home, ids)))
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
    out = {lesson: given_out(course, lesson) for lesson in lessons}
    homes = {each.id: lesson for lesson in lessons for given in out[lesson].all for each in given.questions}
    with opened(course) as connection:
        dues = {lesson: dues_of(connection, lesson) for lesson in lessons}
    owners = Owners(course.roster, lessons, earlier(course.moves))
    return Desk(course, out, homes, dues, owners, answers_given(course), Refused(course))


_is_graded = functools.lru_cache(maxsize=1_000)(is_work_order)  # a class asks for the same ones over and over


@functools.cache
def _other_homes() -> dict[str, str]:
    """Return the lesson of every question there is; loads them all, so it is asked for only where it has to be."""
    return {each.id: lesson for lesson in workorders.notebooks() for each in workorders.of_lesson(lesson)}


def _take(desk: Desk, item: Item, taken: Taken) -> None:
    course = desk.course
    if item.problem or item.data is None:
        raise UnusableError(item.problem)
    owner = _owner(desk, item)
    badge, data, handin = owner.badge, item.data, read(item.data)
    lesson = which(handin, desk)
    doubts = (item.remark, owner.doubt, _passed_on_in_time(item, desk.dues[lesson].of(badge)))
    item = replace(item, remark="; ".join(filter(None, doubts)))
    there, before = received.adopt(course, lesson, badge), received.entries(course, lesson, badge)
    entry = _entry(desk, item, handin, lesson, badge)
    lasting = desk.waits or desk.refused.knows(entry.sha256)  # for the copy among those not taken in goes then
    new = received.keep(course, lesson, badge, data, entry, lasting)
    desk.refused.forget(item.origin, entry.sha256)
    found = before if not new else received.entries(course, lesson, badge) if before else [entry]
    settled = settle(course, desk.given_out[lesson], badge, desk.dues[lesson], found, there, {entry.sha256: data})
    taken.new += new
    taken.known += not new
    if new and settled:
        said = filter(None, (owner.note, *settled.notes, *settled.doubts))
        taken.notes += [f"{badge}, {lesson}: {note}" for note in said]


def _passed_on_in_time(item: Item, due: datetime | None) -> str:
    """Return a sentence where only a mail that was passed on says that it was sent in time."""
    if not (due and item.passed_on and item.passed_on <= due < item.when):
        return ""
    sent = item.passed_on.astimezone().strftime("%Y-%m-%d %H:%M")
    return (
        f"it came after the due time, in a mail that was passed on; that one says it was sent at {sent}. If you "
        "believe it, give this badge another due time"
    )


def _owner(desk: Desk, item: Item) -> Owner:
    """Return whose an item is, as the instructor said when asked."""
    told = desk.answered.get(key_of(item.names, item.data or b""), "") if desk.answered else ""
    if told in desk.course.roster:
        return Owner(told)
    return desk.owners.of(item.names, item.sender, item.mentioned)


def take_as(course: Course, key: str, badge: str) -> Taken:
    """Take in a file that the instructor was asked about, now that he said whose it is.

    Raises
    ------
    CourseError
        If there is no such question, or no such badge.
    """
    with at_work(course, "whose"):
        desk, taken = _desk(course), Taken()
        asked_about = next((each for each in open_questions(course) if each.key == key), None)
        if badge not in course.roster:
            raise CourseError(f"There is no badge {plain.line(badge, 20)} in roster.csv. Nothing was changed.")
        if asked_about is None:
            raise CourseError(
                f"No file {plain.line(key, 20)} waits for its owner. The command whose lists those that do."
            )
        keep_answer(course, key, badge)
        when, told = asked_about.when, asked_about.told
        _taken(desk, Item(asked_about.origin, (badge,), when, asked_about.data, told=told), taken)
        if taken.new or taken.known:
            close(course, key)
    return taken


def _entry(desk: Desk, item: Item, handin: HandIn, lesson: str, badge: str) -> received.Entry:
    data = item.data or b""
    digest = hashlib.sha256(data).hexdigest()
    questions, other, flag = _looked_at(desk, handin, lesson, badge)
    flags = [each for each in (flag, item.remark) if each]
    first = desk.first_with(lesson).setdefault(digest, badge)
    found = answers(handin, [each.id for each in questions])
    blank = all(is_blank(each, found[each.id].text) for each in questions)
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
    own = [was for was, now in desk.owners.earlier.items() if now == badge]
    return given.questions, *shows_other(handin, given.questions, given.person(desk.course.roster[badge]), own)
