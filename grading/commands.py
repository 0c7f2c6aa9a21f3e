"""The commands of the instructor's side: ostrel-class COMMAND, or python -m grading COMMAND."""

from __future__ import annotations

import argparse
import contextlib
import os
import sys
import tempfile
import traceback
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from grading import steps
from grading.course import plain
from grading.course.course import COUNTS, CourseError
from grading.course.roster import RosterError
from grading.given_out.decisions import EVERYBODY, NOBODY
from grading.steps import DONE, FAILED, LOOK, Say

__all__ = ["DONE", "FAILED", "LOOK", "main"]


def main(arguments: Sequence[str] | None = None, say: Say = print) -> int:
    """Run one command; return its exit code."""
    options = _parser().parse_args(arguments)
    try:
        return int(options.run(options, lambda sentence: say(plain.text(sentence))))
    except (CourseError, RosterError) as problem:
        return _failed(say, str(problem))
    except BrokenPipeError:
        _let_go_of_output()
        sys.stderr.write("What reads the output was closed, so the command stopped. Run it again and it goes on.\n")
        return FAILED
    except OSError as problem:
        return _failed(
            say,
            f"{problem.filename or 'A file'} cannot be read or written: {problem.strerror}. "
            "Everything done so far is kept. Put this right and run the command again.",
        )
    except KeyboardInterrupt:
        return _failed(say, "Stopped. Everything done so far is kept. Run the command again and it goes on from here.")
    except Exception as problem:
        place = _kept_fault(traceback.format_exc())
        said = f"A fault in this program stopped it ({problem!r}). What is written is kept. Please report {place}."
        return _failed(say, said)


def _failed(say: Say, sentence: str) -> int:
    """Say why a command failed, on the other stream where the output takes no words, as on a full disk."""
    try:
        say(plain.text(sentence))
        sys.stdout.flush()
    except OSError:
        _let_go_of_output()
        with contextlib.suppress(OSError):
            sys.stderr.write(f"{plain.text(sentence)}\n")
    return FAILED


def _let_go_of_output() -> None:
    """Send what is still to be printed nowhere, so that the end of the program does not stumble over it."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def _kept_fault(told: str) -> Path:
    """Keep what went wrong, for a report: here, or where this folder takes no file, among temporary ones."""
    for folder in (Path(), Path(tempfile.gettempdir())):
        with contextlib.suppress(OSError):
            place = (folder / "fault.txt").resolve()
            place.write_text(told, encoding="utf-8", errors="backslashreplace")
            return place
    return Path("fault.txt")


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
        added.set_defaults(run=run, command=name)
        added.add_argument("--course", default=argparse.SUPPRESS, **course)  # before or after the command
        for argument, about in arguments.items():
            added.add_argument(argument, **about)
    return parser


_FOLDER: dict[str, Any] = {"folder": {"type": Path, "help": "the folder to make; it must be new or empty"}}
_ALL: dict[str, Any] = {"lesson": {"nargs": "?", "default": "", "help": "one lesson, such as 04 (default: all)"}}
_SEVERAL: dict[str, Any] = {"action": "append", "default": []}
_ONE: dict[str, Any] = {
    "lesson": {"help": "name or number of the lesson, such as 04"},
    "question": {"help": "the question, such as inherent.w1"},
}
_COMMANDS: tuple[tuple[str, Callable[[argparse.Namespace, Say], int], str, dict[str, Any]], ...] = (
    ("new", steps.new_step, "make a course folder for a class", {
        **_FOLDER,
        "--gradebook": {
            "default": "",
            "help": "keep the marks in this database instead of a file in the folder, such as postgresql+psycopg://…",
        },
    }),
    ("give-out", steps.give_out_step, "make the zips of a lesson, one to send to each apprentice", {
        "lesson": {"help": "name or number of the lesson, such as 04"},
        "--due": {"default": "", "help": 'when it has to be handed in, such as "2030-03-01 16:00"'},
    }),
    ("take-in", steps.take_in_step, "take in what the class handed in", {
        "folder": {"type": Path, "help": "folder, zip, saved e-mail or mailbox with the hand-ins"},
    }),
    ("questions", steps.questions_step, "check and show your own questions, in the course's folder questions", {}),
    ("choose", steps.choose_step, "show the questions of a lesson and their points, leave some out, change points", {
        "lesson": {"help": "name or number of the lesson, such as 04"},
        "--leave-out": {**_SEVERAL, "metavar": "QUESTION", "help": "do not ask this question in this course"},
        "--take-back": {**_SEVERAL, "metavar": "QUESTION", "help": "ask it again"},
        "--points": {**_SEVERAL, "metavar": "QUESTION=POINTS", "help": "what it is worth, such as inherent.w1=3"},
    }),
    ("withdraw", steps.withdraw_step, "take a question that went out of the marks, and mark again", {
        **_ONE,
        "--points-for": {
            "choices": (NOBODY, EVERYBODY), "default": NOBODY,
            "help": "nobody (the default): it does not count; everybody: all who handed in have its points",
        },
        "--undo": {"action": "store_true", "help": "let it count again, as it was"},
    }),
    ("mend", steps.mend_step, "change what counts as right in a question that went out, and mark again", {
        **_ONE,
        "--tolerance": {"default": "", "metavar": "PERCENT", "help": "how far a number may be off, such as 5"},
        "--accept": {**_SEVERAL, "metavar": "WORDS", "help": "an option that is right too, in its own words"},
        "--corrected": {"action": "store_true", "help": "use the key that you corrected since it went out"},
        "--undo": {"action": "store_true", "help": "forget other tolerances and options, as it was given out"},
    }),
    ("due", steps.due_step, "set, move or clear when a lesson has to be handed in", {
        "lesson": {"help": "name or number of the lesson, such as 04"},
        "when": {"help": 'the due time, such as "2030-03-01 16:00" (a date alone: the end of that day), or none'},
        "--badge": {**_SEVERAL, "help": "only for this apprentice; may be given several times"},
    }),
    ("counts", steps.counts_step, "say which hand-in counts where somebody hands in several times", {
        "rule": {"choices": COUNTS, "help": "of those in time: the last, the first, or the one with most points"},
    }),
    ("mark", steps.mark_step, "mark every hand-in that is new or changed", {
        **_ALL,
        "--again": {"action": "store_true", "help": "mark every hand-in again, by what was given out"},
        "--corrected": {"action": "store_true", "help": "mark every hand-in again, with the keys you corrected"},
    }),
    ("hand-back", steps.hand_back_step, "write a page with marks and replies for each apprentice", _ALL),
    ("tables", steps.tables_step, "write the class page, the tables and marks.csv", _ALL),
    ("keys", steps.keys_step, "write a sheet with the right answers for each badge, for your eyes only", {
        **_ALL,
        "--badge": {**_SEVERAL, "help": "only for this apprentice; may be given several times"},
    }),
    ("demo", steps.demo_step, "try every step on an invented class", _FOLDER),
    ("compare", steps.compare_step, "compare the marks with those of nbgrader's own autograde", {
        **_ALL, "--sample": {"type": int, "default": 0, "help": "compare only this many hand-ins (default: all)"},
    }),
)  # fmt: skip
