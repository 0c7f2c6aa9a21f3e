"""What was given out, kept as data with its keys: hand-ins are judged by it, whatever becomes of the questions.

Each giving-out of a lesson has a folder `given_out/<lesson>/<id>` that is never changed: `keys.json`, the notebook as
it went out, and the notebook as it was written into source/. It stays with the instructor.
"""

from __future__ import annotations

import functools
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from grading.course import plain
from grading.course.course import Course, CourseError
from grading.course.moves import Move, moved
from grading.course.roster import Apprentice
from grading.given_out.decisions import NOBODY, Decision, decisions
from grading.given_out.kept_question import GivenQuestion, kept, question_from
from grading.handins.handin import UnusableError, answer_grade_id, ask_grade_id
from lessons.questions.question import Question

FOLDER, KEYS, SOURCE = "given_out", "keys.json", "source.ipynb"
FORM = 1  # of keys.json


@dataclass(frozen=True)
class Given:
    """One giving-out of a lesson."""

    id: str
    when: datetime
    units: Mapping[str, str]  # badge -> unit set
    questions: tuple[GivenQuestion, ...]
    folder: Path

    def person(self, person: Apprentice) -> Apprentice:
        """Return somebody with the units that were given out."""
        units = self.units.get(person.badge, person.units)
        return person if units == person.units else replace(person, units=units)

    def seen_by(self, badge: str) -> list[tuple[str, float, Any]]:
        """Return all that decides the marks of one badge, to be compared."""
        units = self.units[badge]
        return [(each.id, each.tolerance, each.kept[each.dealt[badge]][units]) for each in self.questions]

    def decided(self, made: Mapping[str, Decision], points: Mapping[str, float]) -> Given:
        """Return it with the points of the latest giving-out, and what the instructor decided since."""
        questions = (replace(each, points=points.get(each.id, each.points)) for each in self.questions)
        return replace(self, questions=tuple(_decided(each, made.get(each.id, Decision())) for each in questions))

    def by_badges_of_today(self, moves: Sequence[Move]) -> Given:
        """Return it with the badges that changed since."""
        questions = (replace(each, dealt=moved(each.dealt, moves, self.when)) for each in self.questions)
        return replace(self, questions=tuple(questions), units=moved(self.units, moves, self.when))

    def text(self, question_id: str, badge: str) -> str:
        """Return what a question said to a badge; nothing if it was not asked."""
        found = next((each for each in self.questions if each.id == question_id), None)
        if found is None or badge not in self.units:
            return ""
        said: str = found.kept[found.dealt[badge]][self.units[badge]]["sheet"]["text"]
        return said

    @property
    def most_points(self) -> dict[str, float]:
        """The points of each question, by the cells that may be its marked one."""
        names = (ask_grade_id, answer_grade_id)
        return {name(each.id): each.points for each in self.questions for name in names}

    @property
    def number(self) -> int:
        """Which one it is of its lesson, from 1; 0 for one that was taken over from an earlier version."""
        return int(self.id.partition("-")[0])

    @property
    def day(self) -> str:
        """When it was given out, for a sentence."""
        return self.when.astimezone().strftime("%Y-%m-%d %H:%M")


@dataclass(frozen=True)
class GivenOut:
    """All givings-out of one lesson, the latest last."""

    lesson: str
    all: tuple[Given, ...]

    @property
    def latest(self) -> Given:
        """The one in force."""
        return self.all[-1]

    def named(self, name: str) -> Given:
        """Return one by its id; the oldest for a hand-in that was marked before ids were noted."""
        return next((given for given in self.all if given.id == name), self.all[0])

    def of(self, name: str, badge: str) -> tuple[Given, str]:
        """Return the giving-out that a hand-in answers, and a remark if that is not certain.

        Raises
        ------
        UnusableError
            If the badge was on no list.
        """
        known = [given for given in self.all if badge in given.units]
        if not known:
            raise UnusableError(
                f"badge {badge} was not in roster.csv when {self.lesson} was given out, so it has no numbers; "
                f"give it out again (give-out {self.lesson.partition('_')[0]}), send the new zip, and mark again"
            )
        if not name and self.all[0].number > 1:
            raise UnusableError(
                "it does not say which work order it answers, and the first one was made by an earlier version of this "
                f"program, which kept no keys, before questions changed; mark it by hand, or ask for the one of "
                f"{self.latest.day}"
            )
        named = [given for given in known if given.id == name or (not name and given.number == 0)]
        given = (named or known)[-1]
        if named or (not name and all(each.seen_by(badge) == given.seen_by(badge) for each in known)):
            return given, ""
        if not name:
            which = "does not say which work order it answers"
        elif any(each.id == name for each in self.all):
            which = "answers a work order from before this badge was in roster.csv"
        else:
            which = f"answers a work order that is not kept here ({plain.line(name, 20)})"
        return given, f"it {which}; it was marked by the one of {given.day}"


def folder_of(course: Course, lesson: str) -> Path:
    """Return where the givings-out of a lesson are kept."""
    return course.root / FOLDER / lesson


def is_kept(course: Course, lesson: str) -> bool:
    """Tell whether a lesson was given out with its keys kept."""
    return bool(_kept_files(course, lesson))


def given_out(course: Course, lesson: str) -> GivenOut:
    """Return what was given out of a lesson.

    Raises
    ------
    CourseError
        If nothing is kept of it, or it cannot be read.
    """
    files = _kept_files(course, lesson)
    if not files:
        raise CourseError(
            f"Hand-ins of {lesson} cannot be judged by what was given out, because its keys are not in "
            f"{folder_of(course, lesson)}. If the folder was lost, put it back from a backup. If an earlier version of "
            "this program gave the lesson out, its questions have changed since then: mark with that version."
        )
    made = tuple(decisions(course, lesson).items())
    all_given = [_loaded(path, path.stat().st_mtime_ns) for path in files]
    points = tuple((each.id, each.points) for each in all_given[-1].questions)
    now = (made, course.moves)
    return GivenOut(lesson, tuple(_of_today(path, path.stat().st_mtime_ns, points, *now) for path in files))


@functools.lru_cache(maxsize=64)
def _of_today(
    path: Path,
    changed: int,
    points: tuple[tuple[str, float], ...],
    made: tuple[tuple[str, Decision], ...],
    moves: tuple[Move, ...],
) -> Given:
    """Return a giving-out as it counts, by the badges of today: the gradebook has one scale, that of the latest."""
    return _loaded(path, changed).decided(dict(made), dict(points)).by_badges_of_today(moves)


def _decided(question: GivenQuestion, decision: Decision) -> GivenQuestion:
    points = question.points if decision.points is None else decision.points
    return replace(
        question,
        points=0.0 if decision.withdrawn == NOBODY else points,
        tolerance=question.tolerance if decision.tolerance is None else decision.tolerance,
        withdrawn=decision.withdrawn,
        accepted=decision.accepted,
    )


def dealt_before(course: Course, lesson: str) -> dict[str, Mapping[str, int]]:
    """Return by question who was dealt which variant last; nothing if the lesson was never given out."""
    questions = given_out(course, lesson).latest.questions if is_kept(course, lesson) else ()
    return {question.id: question.dealt for question in questions}


def _kept_files(course: Course, lesson: str) -> list[Path]:
    return sorted(
        folder_of(course, lesson).glob(f"[0-9]*/{KEYS}"), key=lambda path: int(path.parent.name.partition("-")[0])
    )


@functools.lru_cache(maxsize=64)
def _loaded(path: Path, _changed: int) -> Given:
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
        if data["form"] > FORM:
            raise CourseError(
                f"{path} was written by a later version of this program. Use that version for this course."
            )
        questions = tuple(question_from(each) for each in data["questions"])
        when = datetime.fromisoformat(data["when"])
        return Given(path.parent.name, when, data["badges"], questions, path.parent)
    except (ValueError, KeyError, TypeError, AttributeError) as problem:
        raise CourseError(f"{path} is damaged ({problem!r}). Put it back from a backup.") from problem


def keys_of(
    questions: Iterable[Question], people: Iterable[Apprentice], dealt: Mapping[str, Mapping[str, int]]
) -> dict[str, Any]:
    """Return as plain data all that judging needs: holds the keys, so it never leaves the instructor's side."""
    badges = {person.badge: person.units for person in people}
    data = [kept(question, badges) | {"dealt": dict(dealt[question.id])} for question in questions]
    return {"form": FORM, "badges": badges, "questions": data}
