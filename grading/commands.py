"""The commands of the instructor's side: python -m grading COMMAND."""

from __future__ import annotations

import argparse
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from grading.course.course import Course, CourseError, new_course, open_course, write_safely
from grading.course.roster import RosterError
from grading.giving_out.at_work import at_work

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
            "What is done is kept; mend this and run the command again."
        )
        return FAILED
    except KeyboardInterrupt:
        say("Stopped. What is done is kept; run the command again and it goes on from here.")
        return FAILED
    except Exception as problem:
        place = Path("fault.txt").resolve()
        place.write_text(traceback.format_exc(), encoding="utf-8", errors="backslashreplace")
        say(f"A fault in the program stopped it ({problem!r}). What is written stays; please report {place}.")
        return FAILED


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m grading",
        description="Give out, take in and mark work orders.",
        epilog="Exit code 0: nothing waits; 1: something needs a person; 2: the command could not be done.",
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
    say(f"Made {course.root}. Now write the class list into {course.root / 'roster.csv'}; README.txt tells the rest.")
    return DONE


def _release(options: argparse.Namespace, say: Say) -> int:
    from grading.giving_out.release import find_lesson, parse_due, release

    course = open_course(options.course)
    lesson, notebook = find_lesson(options.lesson)
    due = parse_due(options.due) if options.due else None
    target = release(course, lesson, notebook, due, say)
    say(f"Gave out {lesson} to {len(course.roster)} apprentices. Send them {target}.")
    return DONE


def _collect(options: argparse.Namespace, say: Say) -> int:
    from grading.taking_in.collect import collect

    course = open_course(options.course)
    with at_work(course, "collect", say):
        taken = collect(course, options.folder)
    for sentence in (*taken.refused, *taken.notes):
        say(sentence)
    say(f"{taken.new} new hand-ins, {taken.known} known already, {len(taken.refused)} not filed.")
    return LOOK if taken.refused else DONE


def _mark(options: argparse.Namespace, say: Say) -> int:
    from grading.giving_out.mending import changes, mend
    from grading.giving_out.source_edits import not_out_yet
    from grading.marking.mark_lesson import mark_lesson

    course = open_course(options.course)
    with at_work(course, "mark", say):
        for lesson in _lessons(course, options.lesson):
            for sentence in mend(course, lesson) if options.mended else ():
                say(sentence)
            tally = mark_lesson(course, lesson, options.again or options.mended)
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
        say(f"{len(waiting)} need a person; all are listed in {course.root / 'needs_a_person.txt'}:")
    for sentence in waiting[:most]:
        say(f"- {sentence}")
    return LOOK if waiting else DONE


def _feedback(options: argparse.Namespace, say: Say) -> int:
    from grading.report.feedback import write_feedback

    course = open_course(options.course)
    with at_work(course, "feedback", say):
        for lesson in _lessons(course, options.lesson):
            say(f"{lesson}: {write_feedback(course, lesson)} pages in {course.root / 'feedback'}.")
    return DONE


def _report(options: argparse.Namespace, say: Say) -> int:
    from grading.report.report import write_report

    course = open_course(options.course)
    with at_work(course, "report", say):
        for lesson in _lessons(course, options.lesson):
            say(f"Open {write_report(course, lesson)}; the tables lie beside it.")
        return list_for_a_person(course, say, most=0)


def _demo(options: argparse.Namespace, say: Say) -> int:
    from grading.demo.demo import demo

    return demo(options.folder, say)


def _compare(options: argparse.Namespace, say: Say) -> int:
    from grading.marking.compare import compare

    course = open_course(options.course)
    found = [compare(course, lesson, options.sample, say) for lesson in _lessons(course, options.lesson)]
    if all(each is None for each in found):
        raise CourseError("Nothing was compared. Mark first: python -m grading mark")
    differences = [sentence for each in found for sentence in each or ()]
    for sentence in differences:
        say(sentence)
    say("No difference." if not differences else f"{len(differences)} differences.")
    return LOOK if differences else DONE


def _lessons(course: Course, wanted: str) -> list[str]:
    lessons = course.lessons()
    found = [lesson for lesson in lessons if wanted in ("", lesson) or lesson.startswith(f"{wanted}_")]
    if not found:
        given = ", ".join(lessons) or "none yet"
        raise CourseError(f"No lesson {wanted} was given out in {course.root}; given out: {given}.".replace("  ", " "))
    return found


_FOLDER: dict[str, Any] = {"folder": {"type": Path}}
_ALL: dict[str, Any] = {"lesson": {"nargs": "?", "default": "", "help": "one lesson; all, if left out"}}
_COMMANDS: tuple[tuple[str, Callable[[argparse.Namespace, Say], int], str, dict[str, Any]], ...] = (
    ("new", _new, "make a course folder", {
        **_FOLDER, "--gradebook": {"default": "", "help": "database URL, if not SQLite in the folder"},
    }),
    ("release", _release, "give a lesson out to the class", {
        "lesson": {"help": "name or number, such as 04"},
        "--due": {"default": "", "help": 'due time, such as "2030-03-01 16:00"'},
    }),
    ("collect", _collect, "take in what came back", {
        "folder": {"type": Path, "help": "folder, zip, saved e-mail or mailbox"},
    }),
    ("mark", _mark, "mark what is new", {
        **_ALL,
        "--again": {"action": "store_true", "help": "mark all anew, as it was given out"},
        "--mended": {"action": "store_true", "help": "mark all anew with the keys of now, after one was mended"},
    }),
    ("feedback", _feedback, "write a page for each apprentice", _ALL),
    ("report", _report, "write the class tables", _ALL),
    ("demo", _demo, "try all of it on an invented class", _FOLDER),
    ("compare", _compare, "hold the marks against nbgrader's own autograde", {
        **_ALL, "--sample": {"type": int, "default": 0, "help": "only so many hand-ins (default: all)"},
    }),
)  # fmt: skip
