"""What the commands do that write for other programs: practice questions, and marks in columns of one's choice."""

from __future__ import annotations

import argparse

from grading.commands.usual import DONE, Say
from grading.course.course import open_course
from grading.giving_out.at_work import at_work
from lessons.units.readout import counted


def practice_step(options: argparse.Namespace, say: Say) -> int:
    """Write the practice questions of a lesson for a learning system."""
    from grading.giving_out.qti.package import write_practice

    count = write_practice(options.lesson, options.file, options.units, options.sets)
    say(f"{counted(count, 'practice question')} in {options.file}. Graded questions are not in it.")
    return DONE


def marks_step(options: argparse.Namespace, say: Say) -> int:
    """Write the marks in the columns that another program wants."""
    from grading.report.marks_out import write_marks

    course = open_course(options.course)
    with at_work(course, "marks", say):
        path = write_marks(course, options.column, options.separator, options.bom, options.decimal)
    say(f"Wrote {path}. Who has no mark yet has an empty field.")
    return DONE
