"""What the commands do that deal with what came in, and with whose it is."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from grading.commands.usual import DONE, FAILED, LOOK, Say
from grading.course.course import CourseError, open_course
from grading.giving_out.at_work import at_work
from lessons.units.readout import counted

if TYPE_CHECKING:
    from grading.taking_in.take_in import Taken


def take_in_step(options: argparse.Namespace, say: Say) -> int:
    """Take in what came back: from a folder, or on a hub from its exchange."""
    from grading.hub.inbox import handed_in, inbound
    from grading.taking_in.take_in import take_in, take_in_items

    course = open_course(options.course)
    if options.folder is None:
        inbound(course)  # said before anything is waited for
    with at_work(course, "take-in", say):
        taken = take_in(course, options.folder) if options.folder else take_in_items(course, handed_in(course))
    return _told(taken, say)


def _told(taken: Taken, say: Say) -> int:
    for sentence in (*taken.refused, *taken.notes):
        say(sentence)
    say(f"{counted(taken.new, 'new hand-in')}, {taken.known} known already, {len(taken.refused)} not taken in.")
    return LOOK if taken.refused else DONE


def whose_step(options: argparse.Namespace, say: Say) -> int:
    """Say whose a file is, or list those that wait for it."""
    from grading.handins.not_taken_in import listed
    from grading.taking_in.take_in import take_as

    course = open_course(options.course)
    if options.file and not options.badge:
        raise CourseError(f"Say whose it is too: whose {options.file} BADGE")
    if options.file:
        return _told(take_as(course, options.file, options.badge), say)
    waiting = list(listed(course))
    for sentence in waiting:
        say(sentence)
    say(f"{counted(len(waiting), 'file waits', 'files wait')} for a name.")
    return LOOK if waiting else DONE


def badge_step(options: argparse.Namespace, say: Say) -> int:
    """Give marks, numbers and hand-ins to a new badge."""
    from grading.giving_out.new_badge import change_badge

    lessons = change_badge(open_course(options.course), options.was, options.now)
    say(f"What badge {options.was} had is now of badge {options.now}: numbers, hand-ins and marks.")
    if lessons:
        say(f"Who still works on {', '.join(lessons)} needs the zip of the new badge: give it out again.")
    return DONE


def welcome_step(options: argparse.Namespace, say: Say) -> int:
    """Start a hub for the course, and become it."""
    from grading.hub.welcome import turn_into, welcome

    course = open_course(options.folder)
    folder = options.school.resolve()
    reached = {name: getattr(options, name) for name in ("host", "port", "cert", "key")}
    command = welcome(course, folder, say, renew=options.new_password, idle=options.idle * 60, **reached)
    turn_into(command, folder / "hub")
    return FAILED  # not reached: this process is the hub by now
