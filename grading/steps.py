"""What each of the instructor's commands does: one function a command, which returns the exit code."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable

from grading.course import plain
from grading.course.course import Course, CourseError, change_setting, new_course, open_course, write_safely
from grading.giving_out.at_work import at_work
from lessons.units.readout import counted

# Exit codes: nothing waits; something needs a person; the command could not be done.
DONE, LOOK, FAILED = 0, 1, 2
_LONGEST = 2_000  # letters of a sentence in a list
Say = Callable[[str], None]


def new_step(options: argparse.Namespace, say: Say) -> int:
    """Make a course folder."""
    course = new_course(options.folder, options.gradebook)
    say(f"Made {course.root}. Now write the class list in {course.root / 'roster.csv'}. README.txt explains the rest.")
    return DONE


def give_out_step(options: argparse.Namespace, say: Say) -> int:
    """Give a lesson out."""
    from grading.giving_out.give_out import find_lesson, give_out, parse_due

    course = open_course(options.course)
    lesson, notebook = find_lesson(options.lesson)
    due = parse_due(options.due) if options.due else None
    target = give_out(course, lesson, notebook, due, say)
    say(
        f"Gave out {lesson} to {counted(len(course.roster), 'apprentice')}. Send each the zip with their badge: "
        f"{target / 'BADGE.zip'}"
    )
    return DONE


def questions_step(options: argparse.Namespace, say: Say) -> int:
    """Check the instructor's own questions and write a page that shows them."""
    from grading.report.pool_page import write_pool_page
    from grading.workorders.pool import FOLDER, SAMPLE, pool

    course = open_course(options.course)
    with at_work(course, "questions", say):
        found = pool(course)
        if not found:
            sample = course.root / FOLDER / "sample.txt"
            write_safely(sample, SAMPLE)
            say(f"There is no question in {course.root / FOLDER} yet. {sample} shows how one is written.")
            return DONE
        say(f"{counted(len(found), 'question')} can be used. See them in {write_pool_page(course, found)}.")
    return DONE


def due_step(options: argparse.Namespace, say: Say) -> int:
    """Set, move or clear a due time, and give every hand-in the points that go with it."""
    from grading.giving_out.give_out import parse_due
    from grading.giving_out.put_out import put_zips_anew
    from grading.gradebook.gradebook import opened, set_due

    course = open_course(options.course)
    when = None if options.when.strip().lower() == "none" else parse_due(options.when)
    with at_work(course, "due", say):
        (lesson,) = _lessons(course, options.lesson)
        if strangers := [badge for badge in options.badge if badge not in course.roster]:
            raise CourseError(f"No such badge in roster.csv: {', '.join(strangers)}. Nothing was changed.")
        with opened(course) as connection:
            set_due(connection, lesson, when, options.badge)
        put_zips_anew(course, lesson)
        whom = f"badge {', '.join(options.badge)}" if options.badge else "the class"
        if when:
            say(f"{lesson} is now due at {when:%Y-%m-%d %H:%M %Z} for {whom}.")
        else:
            say(f"{lesson} now has no due time of its own for {whom}.")
        say(f"The zips in {course.root / 'to_send' / lesson} show it. Who has theirs already sees what it said before.")
        return _mark_lessons(course, [lesson], say)


def counts_step(options: argparse.Namespace, say: Say) -> int:
    """Set which of several hand-ins counts, and give every hand-in the points that go with it."""
    from grading.handins.which_counts import RULES

    course = open_course(options.course)
    with at_work(course, "counts", say):
        course = change_setting(course, "counts", options.rule)
        say(f"From now on {RULES[options.rule]}.")
        return _mark_lessons(course, course.lessons(), say)


def _mark_lessons(course: Course, lessons: Iterable[str], say: Say) -> int:
    for lesson in lessons:
        say(_marked(course, lesson))
    return list_for_a_person(course, say)


def _marked(course: Course, lesson: str, again: bool = False) -> str:
    """Mark a lesson and return what is to be told of it."""
    from grading.marking.mark_lesson import mark_lesson

    tally = mark_lesson(course, lesson, again)
    return f"{lesson}: {tally.marked} marked, {tally.unchanged} unchanged, {tally.unmarked} could not be marked."


def take_in_step(options: argparse.Namespace, say: Say) -> int:
    """Take in what came back."""
    from grading.taking_in.take_in import take_in

    course = open_course(options.course)
    with at_work(course, "take-in", say):
        taken = take_in(course, options.folder)
    for sentence in (*taken.refused, *taken.notes):
        say(sentence)
    say(f"{counted(taken.new, 'new hand-in')}, {taken.known} known already, {len(taken.refused)} not taken in.")
    return LOOK if taken.refused else DONE


def mark_step(options: argparse.Namespace, say: Say) -> int:
    """Mark what is new, or all."""
    from grading.giving_out.correcting import changes, correct
    from grading.giving_out.source_edits import not_out_yet

    course = open_course(options.course)
    with at_work(course, "mark", say):
        for lesson in _lessons(course, options.lesson):
            for sentence in correct(course, lesson) if options.corrected else ():
                say(sentence)
            marked = _marked(course, lesson, options.again or options.corrected)
            for sentence in (*changes(course, lesson), *not_out_yet(course, lesson), marked):
                say(sentence)
        return list_for_a_person(course, say)


def list_for_a_person(course: Course, say: Say, most: int = 20) -> int:
    """Write and tell what needs a person; return the exit code."""
    from grading.report.results import needs_a_person

    waiting = list(needs_a_person(course))
    write_safely(
        course.root / "needs_a_person.txt", "".join(f"{plain.line(sentence, _LONGEST)}\n" for sentence in waiting)
    )
    if waiting:
        needs = counted(len(waiting), "thing needs", "things need")
        say(f"{needs} a person. The whole list is in {course.root / 'needs_a_person.txt'}:")
    for sentence in waiting[:most]:
        say(f"- {sentence}")
    return LOOK if waiting else DONE


def hand_back_step(options: argparse.Namespace, say: Say) -> int:
    """Write a page for each apprentice."""
    from grading.report.pages_back import write_pages_back

    course = open_course(options.course)
    with at_work(course, "hand-back", say):
        for lesson in _lessons(course, options.lesson):
            say(f"{lesson}: {counted(write_pages_back(course, lesson), 'page')} in {course.root / 'handed_back'}.")
    return DONE


def tables_step(options: argparse.Namespace, say: Say) -> int:
    """Write the class page and tables."""
    from grading.report.class_tables import write_tables

    course = open_course(options.course)
    with at_work(course, "tables", say):
        pages = write_tables(course, *_lessons(course, options.lesson))
        say(f"Open {pages[0].with_name('index.html')}. From there you come to the lessons; the tables are beside it.")
        return list_for_a_person(course, say, most=0)


def keys_step(options: argparse.Namespace, say: Say) -> int:
    """Write the key sheets of a lesson."""
    from grading.report.key_sheets import FOLDER, write_key_sheets

    course = open_course(options.course)
    with at_work(course, "keys", say):
        for lesson in _lessons(course, options.lesson):
            sheets = write_key_sheets(course, lesson, options.badge)
            where = course.root / FOLDER / lesson
            say(f"{lesson}: {counted(len(sheets), 'key sheet')} in {where}. Keep them to yourself.")
    return DONE


def choose_step(options: argparse.Namespace, say: Say) -> int:
    """Say which questions of a lesson go out and what they are worth, or change that."""
    from grading.giving_out.choosing import choose, offered
    from grading.giving_out.give_out import find_lesson
    from grading.report.before_and_after import mark_before_and_after

    course = open_course(options.course)
    lesson, notebook = find_lesson(options.lesson)
    with at_work(course, "choose", say):
        worth = choose(course, lesson, notebook, options.leave_out, options.take_back, options.points)
        for question, goes_out in offered(course, lesson, notebook):
            much = counted(question.points, "point") if goes_out else "left out"
            say(f"{question.id}, {much}: {plain.line(question.text, 70)}")
        if lesson in course.lessons():
            if worth:
                mark_before_and_after(course, lesson, worth, lambda: None, say)
            if worth or options.leave_out or options.take_back:
                say(f"To send the change to the class: give-out {lesson.partition('_')[0]}")
    return DONE


def withdraw_step(options: argparse.Namespace, say: Say) -> int:
    """Withdraw a question that went out, or take that back, and mark again."""
    from grading.giving_out.choosing import withdraw

    who = "" if options.undo else options.points_for
    return _change_question(options, say, lambda course, lesson, question: withdraw(course, lesson, question, who))


def mend_step(options: argparse.Namespace, say: Say) -> int:
    """Change what counts as right in a question that went out, and mark again."""
    from grading.giving_out.choosing import mend
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
    from grading.giving_out.choosing import asked_in
    from grading.report.before_and_after import mark_before_and_after

    course = open_course(options.course)
    with at_work(course, options.command, say):
        (lesson,) = _lessons(course, options.lesson)
        question = asked_in(course, lesson, options.question)
        mark_before_and_after(course, lesson, [question], lambda: change(course, lesson, question), say)
        say("Pages and tables show it when you write them again: hand-back, tables.")
        return list_for_a_person(course, say, most=0)


def demo_step(options: argparse.Namespace, say: Say) -> int:
    """Try all of it on an invented class."""
    from grading.demo.demo import demo

    return demo(options.folder, say)


def compare_step(options: argparse.Namespace, say: Say) -> int:
    """Compare the marks with nbgrader's own."""
    from grading.marking.compare import compare

    course = open_course(options.course)
    found = [compare(course, lesson, options.sample, say) for lesson in _lessons(course, options.lesson)]
    if all(each is None for each in found):
        raise CourseError("Nothing was compared, because nothing is marked yet. Mark first: ostrel-class mark")
    differences = [sentence for each in found for sentence in each or ()]
    for sentence in differences:
        say(sentence)
    say("No difference." if not differences else f"{counted(len(differences), 'difference')}.")
    return LOOK if differences else DONE


def _lessons(course: Course, wanted: str) -> list[str]:
    lessons = course.lessons()
    found = [lesson for lesson in lessons if wanted in ("", lesson) or lesson.startswith(f"{wanted}_")]
    if not found:
        given = ", ".join(lessons) or "none yet"
        raise CourseError(
            f"No lesson {wanted} was given out in {course.root}. Given out so far: {given}.".replace("  ", " ")
        )
    return found
