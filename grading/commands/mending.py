"""What the commands do that choose questions, or put right what was wrong in one that was given out."""

from __future__ import annotations

import argparse
from collections.abc import Callable

from grading.commands.usual import DONE, Say, lessons_of, list_for_a_person
from grading.course import plain
from grading.course.course import Course, CourseError, open_course
from grading.giving_out.at_work import at_work
from lessons.units.readout import counted


def choose_step(options: argparse.Namespace, say: Say) -> int:
    """Say which questions of a lesson go out and what they are worth, or change that."""
    from grading.giving_out.changed_questions import choose_questions, offered
    from grading.giving_out.give_out import find_lesson

    course = open_course(options.course)
    lesson, notebook = find_lesson(options.lesson)
    with at_work(course, "choose", say):
        worth = choose_questions(course, lesson, notebook, options.leave_out, options.take_back, options.points)
        for question, goes_out in offered(course, lesson, notebook):
            much = counted(question.points, "point") if goes_out else "left out"
            say(f"{question.id}, {much}: {plain.line(question.text, 70)}")
        if lesson in course.lessons():
            if worth:
                from grading.report.before_and_after import mark_before_and_after

                mark_before_and_after(course, lesson, worth, lambda: None, say)
            if worth or options.leave_out or options.take_back:
                say(f"To send the change to the class: give-out {lesson.partition('_')[0]}")
    return DONE


def withdraw_step(options: argparse.Namespace, say: Say) -> int:
    """Withdraw a question that went out, or take that back, and mark again."""
    from grading.giving_out.changed_questions import withdraw

    who = "" if options.undo else options.points_for
    return _change_question(options, say, lambda course, lesson, question: withdraw(course, lesson, question, who))


def mend_step(options: argparse.Namespace, say: Say) -> int:
    """Change what counts as right in a question that went out, and mark again."""
    from grading.giving_out.changed_questions import mend
    from grading.giving_out.correcting import correct

    if not (options.tolerance or options.accept or options.corrected or options.undo):
        raise CourseError(
            "Say what is to be mended: --tolerance, --accept, --corrected, or --undo. Nothing was changed."
        )

    def change(course: Course, lesson: str, question: str) -> None:
        for sentence in correct(course, lesson, question) if options.corrected else ():
            say(sentence)
        if options.undo or options.tolerance or options.accept:
            mend(course, lesson, question, options.tolerance, options.accept)

    return _change_question(options, say, change)


def _change_question(options: argparse.Namespace, say: Say, change: Callable[[Course, str, str], None]) -> int:
    from grading.giving_out.changed_questions import question_asked
    from grading.report.before_and_after import mark_before_and_after

    course = open_course(options.course)
    with at_work(course, options.command, say):
        (lesson,) = lessons_of(course, options.lesson)
        question = question_asked(course, lesson, options.question)
        mark_before_and_after(course, lesson, [question], lambda: change(course, lesson, question), say)
        say("Pages and tables show it when you write them again: hand-back, tables.")
        return list_for_a_person(course, say, most=0)
