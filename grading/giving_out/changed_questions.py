"""What an instructor may decide about the questions of a lesson, before and after it went out, and what is refused."""

from __future__ import annotations

import math
from collections.abc import Sequence
from pathlib import Path

from grading import workorders
from grading.course.course import Course, CourseError
from grading.given_out.decisions import decide, decisions, to_mark_again
from grading.given_out.given_out import given_out, is_kept
from grading.given_out.kept_question import GivenQuestion
from grading.giving_out.building import came_back
from grading.giving_out.source_edits import edited_base
from grading.workorders import pool
from lessons.questions.progress import UNITS
from lessons.questions.question import Question
from lessons.units.readout import counted

_MOST_POINTS = 100.0


def offered(course: Course, lesson: str, notebook: Path) -> list[tuple[Question, bool]]:
    """Return the questions a lesson can ask in this course, each with whether it goes out."""
    asked = {question.id: question for question in edited_base(course, lesson, notebook).questions}
    out = {name for name, decision in decisions(course, lesson).items() if decision.asked is False}
    known = workorders.questions() | {each.id: each for each in pool.own_of_lesson(course, lesson)}
    left = [known[name] for name in out if name in known and name not in asked]
    every = [*asked.values(), *(each for each in workorders.in_notebook(notebook) if each.id not in asked)]
    all_of_it = {each.id: each for each in [*every, *left]}
    return [(question, name in asked) for name, question in all_of_it.items()]


def choose_questions(
    course: Course, lesson: str, notebook: Path, left_out: Sequence[str], back: Sequence[str], points: Sequence[str]
) -> list[str]:
    """Write down which questions go out and what they are worth; return those whose points were set.

    Raises
    ------
    CourseError
        If a question is not known or cannot be left out any more, or points are none; nothing is changed then.
    """
    found = offered(course, lesson, notebook)
    if not found:
        raise CourseError(f"Lesson {lesson} has no work order, so there is nothing to choose.")
    left_out, back = ([each.strip().lower() for each in some] for some in (left_out, back))
    worth = dict(_points(each) for each in points)
    _refuse_unknown(lesson, [*left_out, *back, *worth], {question.id for question, _ in found})
    asked = {question.id for question, out in found if out}
    if (left_out or back) and (count := came_back(course, lesson)):
        raise CourseError(
            f"{counted(count, 'hand-in')} of {lesson} came back already, so its questions stay. To take one out of the "
            f"marks: withdraw {lesson.partition('_')[0]} {[*left_out, *back][0]}. Nothing was changed."
        )
    if not (asked | set(back)) - set(left_out):
        raise CourseError(f"{lesson} would have no question left. Nothing was changed.")
    for name, is_asked in (*((each, False) for each in left_out), *((each, True) for each in back)):
        decide(course, lesson, name, asked=is_asked)
    for name, value in worth.items():
        decide(course, lesson, name, points=value)
    if worth and is_kept(course, lesson):
        to_mark_again(course, lesson, *worth)
    return list(worth)


def withdraw(course: Course, lesson: str, question: str, who: str) -> None:
    """Withdraw a question that went out: its points go to nobody or to everybody; or take that back with neither."""
    decide(course, lesson, question, withdrawn=who)
    to_mark_again(course, lesson, question)


def mend(course: Course, lesson: str, question: str, tolerance: str, accepted: Sequence[str]) -> None:
    """Widen what counts as right in a question that went out; with neither, as it was given out.

    Raises
    ------
    CourseError
        If the question is of another kind, or the words fit no option or several; nothing is changed then.
    """
    asked = next(each for each in given_out(course, lesson).latest.questions if each.id == question)
    changes: dict[str, float | tuple[str, ...] | None] = {}
    if tolerance:
        changes["tolerance"] = _tolerance(asked, tolerance)
    if accepted:
        changes["accepted"] = tuple(dict.fromkeys([*asked.accepted, *(_option(asked, words) for words in accepted)]))
    decide(course, lesson, question, **(changes or {"tolerance": None, "accepted": ()}))
    to_mark_again(course, lesson, question)


def question_asked(course: Course, lesson: str, question: str) -> str:
    """Return the id of a question that went out, however its capitals were typed.

    Raises
    ------
    CourseError
        If the lesson asks no such question.
    """
    known = [each.id for each in given_out(course, lesson).latest.questions]
    found = next((each for each in known if each.lower() == question.strip().lower()), "")
    if not found:
        _refuse_unknown(lesson, [question], set(known))
    return found


def _refuse_unknown(lesson: str, named: Sequence[str], known: set[str]) -> None:
    if strange := [each for each in named if each not in known]:
        raise CourseError(
            f"{lesson} has no question {', '.join(strange)}. It has {', '.join(sorted(known))}. Nothing was changed."
        )


def _points(text: str) -> tuple[str, float]:
    """Read points such as inherent.w1=3."""
    name, _, said = text.partition("=")
    try:
        value = float(said.strip().replace(",", "."))
    except ValueError:
        value = math.nan
    if not 0 < value <= _MOST_POINTS:
        raise CourseError(
            f"“{text}” does not say points. Write the question and its points, more than 0 and at most "
            f"{_MOST_POINTS:g}, like this: inherent.w1=3. To ask a question no more, use --leave-out. "
            "Nothing was changed."
        )
    return name.strip().lower(), value


def _tolerance(asked: Question, text: str) -> float:
    if asked.kind != "number":
        raise CourseError(f"{asked.id} asks for no number, so it has no tolerance. Nothing was changed.")
    try:
        value = float(text.strip().removesuffix("%").strip().replace(",", ".")) / 100
    except ValueError:
        value = math.nan
    if not 0.001 <= value <= 0.5:
        raise CourseError(
            f"“{text}” is no tolerance. Write it in per cent of the right answer, from 0.1 to 50, like this: 5. "
            "Nothing was changed."
        )
    return value


def _option(asked: GivenQuestion, words: str) -> str:
    if asked.kind != "choice":
        raise CourseError(
            f"Another right answer can be named for a question with one right option only; {asked.id} is of kind "
            f"“{asked.kind}”. Withdraw it, or give the points on the marking page. Nothing was changed."
        )
    texts = _texts(asked)
    wanted = " ".join(words.lower().split())
    found = [name for name, said in texts.items() if wanted and any(wanted in each for each in said)]
    same = [name for name in found if wanted in texts[name]] or found
    if len(same) != 1:
        shown = "; ".join(each.text for each in asked.options)
        raise CourseError(
            f"“{words}” fits {counted(len(same), 'option')} of {asked.id}. Letters differ from badge to badge, so "
            f"write the words of one option. They are: {shown}. Nothing was changed."
        )
    return same[0]


def _texts(asked: GivenQuestion) -> dict[str, set[str]]:
    """Return the words of each option, as somebody was given them."""
    texts: dict[str, set[str]] = {each.name: set() for each in asked.options}
    for index in set(asked.dealt.values()):
        for units in UNITS:
            this = asked.pose(index, units)
            for letter, said in this.sheet.options:
                texts[this.names[letter]].add(" ".join(said.lower().split()))
    return texts
