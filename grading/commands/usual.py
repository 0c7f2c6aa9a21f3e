"""What the commands do from a new course to its tables: one function a command, which returns the exit code."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from grading.course import plain
from grading.course.course import Course, CourseError, change_setting, new_course, open_course, write_safely
from grading.giving_out.at_work import at_work
from lessons.units.readout import counted

if TYPE_CHECKING:
    from grading.report.handing_back.letters import Letters

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
    if course.exchange:
        say(f"Gave out {lesson} to {counted(len(course.roster), 'apprentice')}. {_sent(course)}")
        return DONE
    say(
        f"Gave out {lesson} to {counted(len(course.roster), 'apprentice')}. Send each the zip with their badge: "
        f"{target / 'BADGE.zip'}"
    )
    return DONE


def questions_step(options: argparse.Namespace, say: Say) -> int:
    """Check the instructor's own questions and write a page that shows them."""
    from grading.report.with_answers.pool_page import write_pool_page
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
        (lesson,) = lessons_of(course, options.lesson)
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


def _sent(course: Course) -> str:
    """Send what is new to the apprentices on the hub; return the sentence that says so."""
    from grading.hub.school_boxes import send

    changed = send(course)
    return f"{counted(changed, 'file')} changed in the boxes of the hub. An open lesson shows it after the next answer."


def _mark_lessons(course: Course, lessons: Iterable[str], say: Say) -> int:
    for lesson in lessons:
        say(_marked(course, lesson))
    return list_for_a_person(course, say)


def _marked(course: Course, lesson: str, again: bool = False) -> str:
    """Mark a lesson and return what is to be told of it."""
    from grading.marking.mark_lesson import mark_lesson

    tally = mark_lesson(course, lesson, again)
    return f"{lesson}: {tally.marked} marked, {tally.unchanged} unchanged, {tally.unmarked} could not be marked."


def mark_step(options: argparse.Namespace, say: Say) -> int:
    """Mark what is new, or all."""
    from grading.giving_out.correcting import changes, correct
    from grading.giving_out.source_edits import not_out_yet

    course = open_course(options.course)
    with at_work(course, "mark", say):
        for lesson in lessons_of(course, options.lesson):
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
    from grading.report.handing_back.letters import write_letters
    from grading.report.handing_back.pages_back import write_pages_back

    course = open_course(options.course)
    with at_work(course, "hand-back", say):
        for lesson in lessons_of(course, options.lesson):
            say(f"{lesson}: {counted(write_pages_back(course, lesson), 'page')} in {course.root / 'handed_back'}.")
            if options.mail:
                _say_letters(course, write_letters(course, lesson), lesson, say)
    if course.exchange:
        say(_sent(course))
    return DONE


def _say_letters(course: Course, letters: Letters, lesson: str, say: Say) -> None:
    say(f"{lesson}: {counted(letters.count, 'e-mail')} to send in {course.root / 'to_mail' / lesson}.")
    for sentence in letters.without:
        say(f"No e-mail: {sentence}.")


def tables_step(options: argparse.Namespace, say: Say) -> int:
    """Write the class page and tables."""
    from grading.report.class_tables import write_tables

    course = open_course(options.course)
    with at_work(course, "tables", say):
        pages = write_tables(course, *lessons_of(course, options.lesson))
        say(f"Open {pages[0].with_name('index.html')}. From there you come to the lessons; the tables are beside it.")
        return list_for_a_person(course, say, most=0)


def keys_step(options: argparse.Namespace, say: Say) -> int:
    """Write the key sheets of a lesson."""
    from grading.report.with_answers.key_sheets import FOLDER, write_key_sheets

    course = open_course(options.course)
    with at_work(course, "keys", say):
        for lesson in lessons_of(course, options.lesson):
            sheets = write_key_sheets(course, lesson, options.badge)
            where = course.root / FOLDER / lesson
            say(f"{lesson}: {counted(len(sheets), 'key sheet')} in {where}. Keep them to yourself.")
    return DONE


def demo_step(options: argparse.Namespace, say: Say) -> int:
    """Try all of it on an invented class."""
    from grading.demo.demo import demo

    return demo(options.folder, say)


def compare_step(options: argparse.Namespace, say: Say) -> int:
    """Compare the marks with nbgrader's own."""
    from grading.marking.compare import compare

    course = open_course(options.course)
    found = [compare(course, lesson, options.sample, say) for lesson in lessons_of(course, options.lesson)]
    if all(each is None for each in found):
        raise CourseError("Nothing was compared, because nothing is marked yet. Mark first: ostrel-class mark")
    differences = [sentence for each in found for sentence in each or ()]
    for sentence in differences:
        say(sentence)
    say("No difference." if not differences else f"{counted(len(differences), 'difference')}.")
    return LOOK if differences else DONE


def lessons_of(course: Course, wanted: str) -> list[str]:
    """Return the lessons given out that a command is for: all, or the one that was named."""
    lessons = course.lessons()
    found = [lesson for lesson in lessons if wanted in ("", lesson) or lesson.startswith(f"{wanted}_")]
    if not found:
        given = ", ".join(lessons) or "none yet"
        raise CourseError(
            f"No lesson {wanted} was given out in {course.root}. Given out so far: {given}.".replace("  ", " ")
        )
    return found
