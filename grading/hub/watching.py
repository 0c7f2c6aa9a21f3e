"""Who is where, stuck or done, from what each apprentice's practice history says. It is read as data."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from grading.course.roster import Apprentice
from grading.handins.files import read_plain
from grading.handins.handin import UnusableError
from grading.hub.school import School
from lessons.notebook import bank
from lessons.notebook.overview import SHAKY
from lessons.questions import progress
from lessons.questions.progress import Answered, Progress

_MOST = 5_000_000  # bytes of a history: years of work
QUIET = timedelta(minutes=10)
STUCK, AT_WORK, DONE, AWAY, UNKNOWN = "stuck", "at work", "lesson done", "quiet", "not begun"
ORDER = (STUCK, AT_WORK, DONE, AWAY, UNKNOWN)  # who may need the instructor comes first


@dataclass(frozen=True)
class Place:
    """Where one apprentice is."""

    person: Apprentice
    state: str = UNKNOWN
    lesson: str = ""
    question: str = ""
    solved: int = 0  # practice questions of that lesson
    asked: int = 0
    wrong: int = 0  # tries in a row on that question
    typed: str = ""
    at: datetime | None = None
    remark: str = ""


def class_now(school: School, now: datetime) -> list[Place]:
    """Return where everybody on the class list is, those who may need somebody first."""
    places = [_place(school, user, person, now) for user, person in school.users().items()]
    return sorted(places, key=lambda each: (ORDER.index(each.state), each.person.name))


def _place(school: School, user: str, person: Apprentice, now: datetime) -> Place:
    path = school.home(user) / "my-lessons" / progress.FILE
    if not path.exists():
        return Place(person)
    try:
        text = read_plain(path, _MOST).decode("utf-8", "replace")
    except (UnusableError, OSError) as problem:
        return Place(person, remark=f"the history cannot be read: {problem}")
    return place_of(person, progress.from_lines(text.split("\n")), now)


def place_of(person: Apprentice, known: Progress, now: datetime) -> Place:
    """Return where an apprentice is by their history."""
    last = _last(known)
    if last is None:
        return Place(person)
    question, answered, at = last
    lesson = _lesson_of(question)
    ids = bank.to_solve(lesson.questions) if lesson else []
    solved = bank.how_many_solved(ids, known)
    wrong = progress.wrong_in_a_row([each.tag for each in known.answers[question]])
    state = _state(wrong, bool(ids) and solved == len(ids), now - at)
    title = lesson.title if lesson else ""
    return Place(person, state, title, question, solved, len(ids), wrong, answered.text, at)


def _state(wrong: int, done: bool, since: timedelta) -> str:
    if since > QUIET:
        return AWAY
    return STUCK if wrong >= SHAKY else DONE if done else AT_WORK


def _last(known: Progress) -> tuple[str, Answered, datetime] | None:
    found = [
        (question, each, at)
        for question, answers in known.answers.items()
        for each in answers
        if (at := _time(each.at))
    ]
    # At the same moment the question that was begun later is the one somebody went on to.
    _, last = max(enumerate(found), key=lambda each: (each[1][2], each[0]), default=(0, None))
    return last


def _time(text: str) -> datetime | None:
    try:
        at = datetime.fromisoformat(text)
    except ValueError:
        return None
    return at if at.tzinfo else None


def _lesson_of(question: str) -> bank.Lesson | None:
    topic = question.partition(".")[0]
    return next((lesson for lesson in bank.lessons() if lesson.topic == topic), None)
