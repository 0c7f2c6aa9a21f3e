"""Marks all hand-ins of a lesson, some in each transaction, so that it can be stopped at any moment and go on.

Each is judged by what was given out to its apprentice, never by what the questions have become since.
"""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime

from sqlalchemy import Connection
from sqlalchemy.exc import OperationalError
from tqdm import tqdm

from grading.course import plain
from grading.course.course import Course, CourseError, write_safely
from grading.given_out.decisions import marked_again, to_mark_again
from grading.given_out.given_out import Given, GivenOut, given_out
from grading.given_out.judged_answers import Mark, forget_replies, mark_answers
from grading.giving_out.at_work import at_work
from grading.gradebook.gradebook import Ids, dues_of, ids_of, many_small_writes, opened, set_most_points
from grading.handins.files import read_plain
from grading.handins.handin import UnusableError, answer_grade_id, ask_grade_id, read
from grading.handins.received import STAMP, STAMP_FILE, Entry, badges_of, entries
from grading.handins.which_counts import Due
from grading.marking.copying_signs import fits_others, shows_other_giving_out
from grading.marking.drawings import Drawings
from grading.marking.marked_notebook import Template, marked_notebook
from grading.marking.settling import Settled, settle
from grading.marking.store import Known, Outcome, answers_before, forget_gone, save, what_is_known

AT_ONCE = 100  # hand-ins written into the gradebook together; a run that is cut off does at most so many twice


@dataclass
class Tally:
    """What came of one marking run."""

    marked: int = 0
    unchanged: int = 0
    unmarked: int = 0


@dataclass(frozen=True)
class Job:
    """All that is the same for every hand-in of one lesson."""

    course: Course
    lesson: str
    given_out: GivenOut
    connection: Connection
    ids: Ids
    again: bool
    due: Due
    known: Known
    drawings: Drawings
    meant: Sequence[str] = ()  # questions whose points may change, because the instructor changed the question
    templates: dict[str, Template] = field(default_factory=dict)

    def template(self, given: Given) -> Template:
        """Return the notebook of a giving-out, looked into once."""
        if given.id not in self.templates:
            text = (given.folder / f"{self.lesson}.ipynb").read_text(encoding="utf-8")
            self.templates[given.id] = Template(text)
        return self.templates[given.id]


@dataclass(frozen=True)
class ComeIn:
    """One hand-in that is to be marked, read once."""

    data: bytes
    sha256: str
    kept: Sequence[Entry]  # all that this badge handed in
    doubts: Sequence[str]  # about which of them counts
    the_same: bool  # as was marked last time
    when: datetime | None  # it was handed in


def mark_lesson(course: Course, lesson: str, again: bool = False, quiet: bool = False) -> Tally:
    """Mark every hand-in of a lesson that is new or changed; with `again`, every one."""
    with at_work(course, "mark"), opened(course) as connection:
        forget_replies()
        badges = badges_of(course, lesson)
        ids, out = ids_of(connection, lesson), given_out(course, lesson)
        set_most_points(connection, ids, out.latest.most_points)
        meant = to_mark_again(course, lesson)
        due, known = dues_of(connection, lesson), what_is_known(connection, ids, lesson)
        job = Job(course, lesson, out, connection, ids, again or bool(meant), due, known, Drawings(course), meant)
        with many_small_writes(connection):
            tally = _mark_all(job, tqdm(badges, desc=lesson, unit=" hand-in", disable=True if quiet else None))
            forget_gone(connection, lesson, [_shown(badge) for badge in badges])
            if hasattr(os, "sync"):
                os.sync()  # the marked notebooks, which were not waited for one by one
        marked_again(course, lesson)
    return tally


def _shown(badge: str) -> str:
    """Return a badge as it can be stored: the folder it stands on may have been put there by anybody."""
    return plain.line(badge, 100)


def _mark_all(job: Job, badges: Iterable[str]) -> Tally:
    tally, waiting = Tally(), list[Outcome]()
    for badge in badges:
        outcome = _mark_one(job, badge)
        tally.unchanged += outcome is None
        waiting += [outcome] if outcome else []
        if len(waiting) >= AT_ONCE:
            _store(job, waiting, tally)
            waiting = []
    _store(job, waiting, tally)
    return tally


def _store(job: Job, outcomes: Sequence[Outcome], tally: Tally) -> None:
    """Write some hand-ins together; where that does not work, each by itself, so that none keeps another from it."""
    try:
        before = answers_before(job.connection, job.known, job.lesson, [each.badge for each in outcomes])
        outcomes = [_with_changes(job, each, before.get(each.badge, {})) for each in outcomes]
        save(job.connection, job.ids, job.known, outcomes, before)
    except OperationalError:
        raise  # the gradebook itself: the others would fare no better
    except Exception as problem:
        job.connection.rollback()
        if len(outcomes) == 1 and outcomes[0].marks:
            outcomes = [_unmarked(job, outcomes[0].badge, outcomes[0].sha256, _fault(problem))]
        elif len(outcomes) == 1:
            raise
        for each in outcomes:
            _store(job, [each], tally)
        return
    marked = sum(bool(each.marks) for each in outcomes)
    tally.marked += marked
    tally.unmarked += len(outcomes) - marked


def _unmarked(job: Job, badge: str, sha256: str, remark: str) -> Outcome:
    return Outcome(job.lesson, _shown(badge), "", sha256, None, (), [remark])


def _fault(problem: Exception) -> str:
    return f"a fault in this program kept it from being marked ({plain.line(repr(problem))}); please report it"


def _mark_one(job: Job, badge: str) -> Outcome | None:
    """Mark one hand-in, None if it was marked before; whatever is wrong with it keeps no other from being marked."""
    sha256 = "unreadable"
    try:
        kept = entries(job.course, job.lesson, badge)
        data = _bytes(job, badge)
        sha256 = hashlib.sha256(data).hexdigest()
        settled = _settled(job, badge, sha256, kept)
        doubts, when = (settled.doubts, settled.entry.handed_in) if settled else ((), None)
        if settled and settled.entry.sha256 != sha256:
            data, sha256 = _bytes(job, badge), settled.entry.sha256
        before, said = job.known.dealt_with(badge)
        if before == sha256 and set(doubts) <= set(said) and not job.again and _done(job, badge):
            return None
        this = ComeIn(data, sha256, kept, doubts, before == sha256, when or _handed_in(job, badge))
        return _mark_data(job, badge, this)
    except CourseError:
        raise  # the course itself: the others would fare no better
    except UnusableError as problem:
        remark = str(problem)
    except Exception as problem:
        remark = _fault(problem)
    return _unmarked(job, badge, sha256, remark)


def _settled(job: Job, badge: str, there: str, kept: Sequence[Entry]) -> Settled | None:
    """Put the hand-in that counts in its place, by the due time and the rule of now.

    What somebody else put there stays there, and is said.
    """
    known = there in {entry.sha256 for entry in kept}
    return settle(job.course, job.given_out, badge, job.due, kept, there) if known else None


def _done(job: Job, badge: str) -> bool:
    target = job.course.autograded(badge, job.lesson)
    return target.exists() and target.stat().st_size > 0


def _bytes(job: Job, badge: str) -> bytes:
    if badge not in job.course.roster:
        raise UnusableError(
            f"badge {_shown(badge)} is not in roster.csv; add it and mark again. If the apprentice has another badge "
            f"now, say which: badge {_shown(badge)} NEW"
        )
    path = job.course.submitted(badge, job.lesson)
    folder = path.parent
    if folder.is_symlink() or folder.parent.is_symlink():
        raise UnusableError("its folder is a link to another place, and links are not followed")
    try:
        return read_plain(path)
    except UnusableError:
        if not path.exists() and not path.is_symlink():
            raise UnusableError(f"the folder {folder} holds no {path.name}") from None
        raise


def _mark_data(job: Job, badge: str, this: ComeIn) -> Outcome:
    handin = read(this.data)
    given, remark = job.given_out.of(handin.given_out, badge)
    _check_places(job, given)
    person = given.person(job.course.roster[badge])
    marks = mark_answers(handin, given.questions, person)
    remarks = [remark, *this.doubts, handin.remark, *(each.remark for each in marks), *_kept_remarks(this)]
    remarks += fits_others(marks, given, person)
    if len(job.given_out.all) > 1:
        remarks.append(shows_other_giving_out(handin, given, job.given_out.all, badge))
    # The notebook first and the gradebook last: who is in the gradebook is done with, whenever a run ends.
    target = job.course.autograded(badge, job.lesson)
    notebook = marked_notebook(job.template(given), handin, marks, job.drawings.of(given, badge))
    write_safely(target, notebook, mode=0o600, lasting=False)
    return Outcome(
        job.lesson, badge, person.name, this.sha256, this.when, marks, remarks, given.id, the_same=this.the_same
    )


def _with_changes(job: Job, outcome: Outcome, before: Mapping[str, tuple[float, str]]) -> Outcome:
    """Return an outcome with what there is to say of it, each sentence once."""
    unmeant = [mark for mark in outcome.marks if mark.question not in job.meant]
    changed = _changed(before, unmeant) if outcome.the_same else []
    return replace(outcome, remarks=list(dict.fromkeys(filter(None, (*outcome.remarks, *changed)))))


def _check_places(job: Job, given: Given) -> None:
    """Refuse a hand-in of a giving-out with questions that the gradebook has no place for any more."""
    asked = [each.id for each in given.questions]
    lost = [each for each in asked if not {ask_grade_id(each), answer_grade_id(each)} & job.ids.grades.keys()]
    if lost:
        raise UnusableError(
            f"it answers the work order of {given.day}, but {', '.join(lost)} is no longer in the lesson; send "
            "the new zip and ask for that one, or mark this one by hand"
        )


def _changed(before: Mapping[str, tuple[float, str]], marks: Sequence[Mark]) -> list[str]:
    """Tell where the same answers get other points than last time: a mark never changes unsaid."""
    changes = [
        f"{mark.question} from {before[mark.question][0]:g} to {mark.score:g}"
        for mark in marks
        if mark.question in before and abs(before[mark.question][0] - mark.score) > 1e-9
    ]
    return [f"when it was marked again, the same answers got other points: {', '.join(changes)}"] if changes else []


def _handed_in(job: Job, badge: str) -> datetime | None:
    path = job.course.submitted(badge, job.lesson).with_name(STAMP_FILE)
    try:
        return datetime.strptime(path.read_text(encoding="utf-8").strip(), STAMP).replace(tzinfo=UTC)
    except (OSError, ValueError):
        return None


def _kept_remarks(this: ComeIn) -> Iterable[str]:
    """Return what was seen when this hand-in came in, and whether it is still the file that came in."""
    found = [entry for entry in this.kept if entry.sha256 == this.sha256]
    if this.kept and not found:
        return ["the file in handed_in/ is not the one that came in; somebody changed it or put it there"]
    return [remark for entry in found[-1:] for remark in entry.flags]
