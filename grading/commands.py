"""The commands of the instructor's side: ostrel-class COMMAND, or python -m grading COMMAND."""

from __future__ import annotations

import argparse
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from grading.course.course import Course, CourseError, new_course, open_course, write_safely
from grading.course.roster import RosterError
from grading.giving_out.at_work import at_work
from lessons.units.readout import counted

# Exit codes: nothing waits; something needs a person; the command could not be done.
DONE, LOOK, FAILED = 0, 1, 2
Say = Callable[[str], None]


def main(arguments: Sequence[str] | None = None, say: Say = print) -> int:
    """Run one command; return its exit code."""
    options = _parser().parse_args(arguments)
    try:
        return int(options.run(options, say))
    except (CourseError, RosterError) as problem:
        say(str(problem))
        return FAILED
    except OSError as problem:
        say(
            f"{problem.filename or 'A file'} cannot be read or written: {problem.strerror}. "
            "Everything done so far is kept. Put this right and run the command again."
        )
        return FAILED
    except KeyboardInterrupt:
        say("Stopped. Everything done so far is kept. Run the command again and it goes on from here.")
        return FAILED
    except Exception as problem:
        place = Path("fault.txt").resolve()
        place.write_text(traceback.format_exc(), encoding="utf-8", errors="backslashreplace")
        say(f"A fault in this program stopped it ({problem!r}). What is written is kept. Please report {place}.")
        return FAILED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="ostrel-class",
        description="Give out work orders to a class, take them in, mark them and hand them back.",
        epilog="Exit code 0: nothing is waiting. 1: something needs a person. 2: the command could not be carried out.",
    )
    course: dict[str, Any] = {"type": Path, "help": "the course folder (default: the current folder)"}
    parser.add_argument("--course", default=Path(), **course)
    commands = parser.add_subparsers(required=True, metavar="COMMAND")
    for name, run, told, arguments in _COMMANDS:
        added = commands.add_parser(name, help=told, description=told)
        added.set_defaults(run=run)
        added.add_argument("--course", default=argparse.SUPPRESS, **course)  # before or after the command
        for argument, about in arguments.items():
            added.add_argument(argument, **about)
    return parser


def _new(options: argparse.Namespace, say: Say) -> int:
    course = new_course(options.folder, options.gradebook)
    say(f"Made {course.root}. Now write the class list in {course.root / 'roster.csv'}. README.txt explains the rest.")
    return DONE


def _give_out(options: argparse.Namespace, say: Say) -> int:
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


def _take_in(options: argparse.Namespace, say: Say) -> int:
    from grading.taking_in.take_in import take_in

    course = open_course(options.course)
    with at_work(course, "take-in", say):
        taken = take_in(course, options.folder)
    for sentence in (*taken.refused, *taken.notes):
        say(sentence)
    say(f"{counted(taken.new, 'new hand-in')}, {taken.known} known already, {len(taken.refused)} not taken in.")
    return LOOK if taken.refused else DONE


def _mark(options: argparse.Namespace, say: Say) -> int:
    from grading.giving_out.correcting import changes, correct
    from grading.giving_out.source_edits import not_out_yet
    from grading.marking.mark_lesson import mark_lesson

    course = open_course(options.course)
    with at_work(course, "mark", say):
        for lesson in _lessons(course, options.lesson):
            for sentence in correct(course, lesson) if options.corrected else ():
                say(sentence)
            tally = mark_lesson(course, lesson, options.again or options.corrected)
            for sentence in (*changes(course, lesson), *not_out_yet(course, lesson)):
                say(sentence)
            say(f"{lesson}: {tally.marked} marked, {tally.unchanged} unchanged, {tally.unmarked} could not be marked.")
        return list_for_a_person(course, say)


def list_for_a_person(course: Course, say: Say, most: int = 20) -> int:
    """Write and tell what needs a person; return the exit code."""
    from grading.report.results import needs_a_person

    waiting = list(needs_a_person(course))
    write_safely(course.root / "needs_a_person.txt", "".join(f"{sentence}\n" for sentence in waiting))
    if waiting:
        needs = "1 thing needs" if len(waiting) == 1 else f"{len(waiting)} things need"
        say(f"{needs} a person. The whole list is in {course.root / 'needs_a_person.txt'}:")
    for sentence in waiting[:most]:
        say(f"- {sentence}")
    return LOOK if waiting else DONE


def _hand_back(options: argparse.Namespace, say: Say) -> int:
    from grading.report.pages_back import write_pages_back

    course = open_course(options.course)
    with at_work(course, "hand-back", say):
        for lesson in _lessons(course, options.lesson):
            say(f"{lesson}: {counted(write_pages_back(course, lesson), 'page')} in {course.root / 'handed_back'}.")
    return DONE


def _tables(options: argparse.Namespace, say: Say) -> int:
    from grading.report.class_tables import write_tables

    course = open_course(options.course)
    with at_work(course, "tables", say):
        for lesson in _lessons(course, options.lesson):
            say(f"Open {write_tables(course, lesson)}. The tables are beside it.")
        return list_for_a_person(course, say, most=0)


def _demo(options: argparse.Namespace, say: Say) -> int:
    from grading.demo.demo import demo

    return demo(options.folder, say)


def _compare(options: argparse.Namespace, say: Say) -> int:
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


_FOLDER: dict[str, Any] = {"folder": {"type": Path, "help": "the folder to make; it must be new or empty"}}
_ALL: dict[str, Any] = {"lesson": {"nargs": "?", "default": "", "help": "one lesson, such as 04 (default: all)"}}
_COMMANDS: tuple[tuple[str, Callable[[argparse.Namespace, Say], int], str, dict[str, Any]], ...] = (
    ("new", _new, "make a course folder for a class", {
        **_FOLDER,
        "--gradebook": {
            "default": "",
            "help": "keep the marks in this database instead of a file in the folder, such as postgresql+psycopg://…",
        },
    }),
    ("give-out", _give_out, "make the zips of a lesson, one to send to each apprentice", {
        "lesson": {"help": "name or number of the lesson, such as 04"},
        "--due": {"default": "", "help": 'when it has to be handed in, such as "2030-03-01 16:00"'},
    }),
    ("take-in", _take_in, "take in what the class handed in", {
        "folder": {"type": Path, "help": "folder, zip, saved e-mail or mailbox with the hand-ins"},
    }),
    ("mark", _mark, "mark every hand-in that is new or changed", {
        **_ALL,
        "--again": {"action": "store_true", "help": "mark every hand-in again, by what was given out"},
        "--corrected": {"action": "store_true", "help": "mark every hand-in again, with the keys you corrected"},
    }),
    ("hand-back", _hand_back, "write a page with marks and replies for each apprentice", _ALL),
    ("tables", _tables, "write the class page, the tables and marks.csv", _ALL),
    ("demo", _demo, "try every step on an invented class", _FOLDER),
    ("compare", _compare, "compare the marks with those of nbgrader's own autograde", {
        **_ALL, "--sample": {"type": int, "default": 0, "help": "compare only this many hand-ins (default: all)"},
    }),
)  # fmt: skip
