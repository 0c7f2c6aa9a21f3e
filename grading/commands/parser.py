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

from grading.commands import arrivals, learning_systems, mending, usual
from grading.commands.usual import FAILED, Say
from grading.course import plain
from grading.course.course import COUNTS, CourseError
from grading.course.roster import RosterError
from grading.given_out.decisions import EVERYBODY, NOBODY
from grading.hub.school import ROOT


def main(arguments: Sequence[str] | None = None, say: Say = print) -> int:
    """Run one command; return its exit code."""
    options = parser().parse_args(arguments)
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


def parser() -> argparse.ArgumentParser:
    """Return what reads the command line of every command."""
    made = argparse.ArgumentParser(
        prog="ostrel-class",
        description="Give out work orders to a class, take them in, mark them and hand them back.",
        epilog="Exit code 0: nothing is waiting. 1: something needs a person. 2: the command could not be carried out.",
    )
    course: dict[str, Any] = {"type": Path, "help": "the course folder (default: the current folder)"}
    made.add_argument("--course", default=Path(), **course)
    commands = made.add_subparsers(required=True, metavar="COMMAND")
    for name, run, told, arguments in _COMMANDS:
        added = commands.add_parser(name, help=told, description=f"{told[0].upper()}{told[1:]}.")
        added.set_defaults(run=run, command=name)
        added.add_argument("--course", default=argparse.SUPPRESS, **course)  # before or after the command
        for argument, about in arguments.items():
            added.add_argument(argument, **about)
    return made


_FOLDER: dict[str, Any] = {"folder": {"type": Path, "help": "the folder to make; it must be new or empty"}}
_ALL: dict[str, Any] = {"lesson": {"nargs": "?", "default": "", "help": "one lesson, such as 04 (default: all)"}}
_SEVERAL: dict[str, Any] = {"action": "append", "default": []}
_ONE: dict[str, Any] = {
    "lesson": {"help": "name or number of the lesson, such as 04"},
    "question": {"help": "the question, such as inherent.w1"},
}
_COMMANDS: tuple[tuple[str, Callable[[argparse.Namespace, Say], int], str, dict[str, Any]], ...] = (
    ("new", usual.new_step, "make a course folder for a class", {
        **_FOLDER,
        "--gradebook": {
            "default": "",
            "help": "keep the marks in this database instead of a file in the folder, such as postgresql+psycopg://…",
        },
    }),
    ("give-out", usual.give_out_step, "make the zips of a lesson, one to send to each apprentice", {
        "lesson": {"help": "name or number of the lesson, such as 04"},
        "--due": {"default": "", "help": 'when it has to be handed in, such as "2030-03-01 16:00"'},
    }),
    ("take-in", arrivals.take_in_step, "take in what the class handed in", {
        "folder": {
            "type": Path, "nargs": "?",
            "help": "folder, zip, saved e-mail or mailbox with the hand-ins (default: what arrived on the hub)",
        },
    }),
    ("whose", arrivals.whose_step, "say whose a file is, where take-in could not tell; alone: list these files", {
        "file": {"nargs": "?", "default": "", "help": "the letters that take-in gave the file, such as 3fa2bc12"},
        "badge": {"nargs": "?", "default": "", "help": "the badge of the apprentice who handed it in"},
    }),
    ("badge", arrivals.badge_step, "give marks, numbers and hand-ins of a badge to the one that took its place", {
        "was": {"help": "the badge of earlier"},
        "now": {"help": "the badge of today, as it stands in roster.csv"},
    }),
    ("questions", usual.questions_step, "check and show your own questions, in the course's folder questions", {}),
    ("choose", mending.choose_step, "show a lesson's questions and points, leave some out, change points", {
        "lesson": {"help": "name or number of the lesson, such as 04"},
        "--leave-out": {**_SEVERAL, "metavar": "QUESTION", "help": "do not ask this question in this course"},
        "--take-back": {**_SEVERAL, "metavar": "QUESTION", "help": "ask it again"},
        "--points": {**_SEVERAL, "metavar": "QUESTION=POINTS", "help": "what it is worth, such as inherent.w1=3"},
    }),
    ("withdraw", mending.withdraw_step, "stop counting a question that was given out, and mark again", {
        **_ONE,
        "--points-for": {
            "choices": (NOBODY, EVERYBODY), "default": NOBODY,
            "help": "nobody (the default): it does not count; everybody: all who handed in have its points",
        },
        "--undo": {"action": "store_true", "help": "let it count again, as it was"},
    }),
    ("mend", mending.mend_step, "change what counts as right in a question that was given out, and mark again", {
        **_ONE,
        "--tolerance": {"default": "", "metavar": "PERCENT", "help": "how far a number may be off, such as 5"},
        "--accept": {**_SEVERAL, "metavar": "WORDS", "help": "an option that is right too, in its own words"},
        "--corrected": {"action": "store_true", "help": "use the key that you corrected since it went out"},
        "--undo": {"action": "store_true", "help": "forget other tolerances and options, as it was given out"},
    }),
    ("due", usual.due_step, "set, move or clear the time by which a lesson has to be handed in", {
        "lesson": {"help": "name or number of the lesson, such as 04"},
        "when": {"help": 'the due time, such as "2030-03-01 16:00" (a date alone: the end of that day), or none'},
        "--badge": {**_SEVERAL, "help": "only for this apprentice; may be given several times"},
    }),
    ("counts", usual.counts_step, "say which hand-in counts where somebody hands in several times", {
        "rule": {"choices": COUNTS, "help": "of those in time: the last, the first, or the one with most points"},
    }),
    ("mark", usual.mark_step, "mark every hand-in that is new or changed", {
        **_ALL,
        "--again": {"action": "store_true", "help": "mark every hand-in again, by what was given out"},
        "--corrected": {"action": "store_true", "help": "mark every hand-in again, with the keys you corrected"},
    }),
    ("hand-back", usual.hand_back_step, "write a page with marks and replies for each apprentice", {
        **_ALL, "--mail": {"action": "store_true", "help": "write an e-mail to send to each, too, with the page in it"},
    }),
    ("tables", usual.tables_step, "write the course page, a page for each lesson, the tables and marks.csv", _ALL),
    ("marks", learning_systems.marks_step, "write the marks for another program, in the columns it wants", {
        "--column": {**_SEVERAL, "metavar": "HEAD=COLUMN", "help": (
            "a column, as often as you like, in this order: badge, name, first, last, mail, units, a lesson such as 04 "
            "(points), 04%% (per cent) or 04/late, total, total%%; HEAD is what it is called there"
        )},
        "--separator": {"choices": ("comma", "semicolon", "tab"), "default": "comma", "help": "between the columns"},
        "--decimal": {"choices": ("point", "comma"), "default": "point", "help": "the sign in 6.5 or 6,5"},
        "--bom": {"action": "store_true", "help": "begin with the byte mark by which some programs know UTF-8"},
    }),
    ("practice", learning_systems.practice_step, "write practice questions for a learning system, as QTI 2.1", {
        "lesson": {"help": "name or number of the lesson, such as 04"},
        "file": {"type": Path, "help": "the zip to write"},
        "--units": {"choices": ("si", "us"), "default": "si", "help": "metric or US units"},
        "--sets": {"type": int, "default": 3, "help": "sets of numbers of each question, 1 to 12 (default: 3)"},
    }),
    ("keys", usual.keys_step, "write a sheet with the right answers for each badge, for your eyes only", {
        **_ALL,
        "--badge": {**_SEVERAL, "help": "only for this apprentice; may be given several times"},
    }),
    ("demo", usual.demo_step, "try every step on an invented class", _FOLDER),
    ("welcome", arrivals.welcome_step, "start a hub, where the class works in a browser", {
        "folder": {"type": Path, "metavar": "COURSE", "help": "the course folder"},
        "--school": {
            "type": Path, "default": ROOT, "metavar": "FOLDER",
            "help": "where the work of apprentices and the exchange are kept (default: %(default)s)",
        },
        "--host": {"default": "127.0.0.1", "help": "address to listen on (default: this machine only)"},
        "--port": {"type": int, "default": 8000, "help": "port to listen on (default: 8000)"},
        "--cert": {"default": "", "metavar": "FILE", "help": "certificate for https, wanted where others connect"},
        "--key": {"default": "", "metavar": "FILE", "help": "key of the certificate"},
        "--idle": {"type": int, "default": 60, "metavar": "MINUTES", "help": "when unused kernels end (default: 60)"},
        "--new-password": {
            "action": "append", "default": [], "metavar": "BADGE",
            "help": "print a slip with a new password; may be given several times",
        },
    }),
    ("compare", usual.compare_step, "compare the marks with those of nbgrader's own autograde", {
        **_ALL, "--sample": {"type": int, "default": 0, "help": "compare only this many hand-ins (default: all)"},
    }),
)  # fmt: skip
