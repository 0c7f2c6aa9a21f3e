"""Runs the whole way on an invented class in a minute, and compares the marks with those that must be."""

from __future__ import annotations

import io
import json
import os
import time
import zipfile
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from email.message import EmailMessage
from email.utils import format_datetime
from pathlib import Path

from tqdm import tqdm

from grading import workorders
from grading.course import plain
from grading.course.course import Course, new_course, write_safely
from grading.course.roster import Apprentice
from grading.demo.demo_class import Planned, filled_in, people, plans
from grading.given_out.given_out import given_out
from grading.giving_out.give_out import give_out
from grading.gradebook.gradebook import opened
from grading.marking.mark_lesson import mark_lesson
from grading.report.class_tables import write_tables
from grading.report.handing_back.pages_back import write_pages_back
from grading.report.results import needs_a_person, sheets
from grading.taking_in.take_in import take_in
from lessons.units.readout import counted

Expected = dict[tuple[str, str, str], float]  # lesson, badge, question -> points


def demo(folder: Path, say: Callable[[str], None]) -> int:
    """Make the class, run every step, compare the marks; return 0 if all are as they must be."""
    started = time.monotonic()
    course = new_course(folder)
    write_safely(course.root / "roster.csv", roster_csv(people()))
    lessons = {lesson: path for lesson, path in workorders.notebooks().items() if workorders.of_lesson(lesson)}
    expected: Expected = {}
    back = course.root / "came_back"
    with tqdm(total=5 * len(lessons), desc="demo", unit=" step", disable=None) as bar:
        for lesson, path in lessons.items():
            give_out(course, lesson, path)
            bar.update()
        for number, lesson in enumerate(lessons):
            expected |= hand_in_answers(course, back, lesson, spoil=number == 0)
        refused = take_in(course, back, quiet=True).refused
        bar.update(len(lessons))
        for lesson in lessons:
            for step in (mark_lesson, write_pages_back):
                step(course, lesson, quiet=True)
                bar.update()
        write_tables(course, *lessons)
        bar.update(len(lessons))
    differences = list(compare_marks(course, expected))
    _tell(course, expected, refused, differences, time.monotonic() - started, say)
    return 1 if differences else 0


def hand_in_answers(course: Course, back: Path, lesson: str, spoil: bool) -> Expected:
    """Hand in for everybody, in all the forms files come back in; return the points that must come out."""
    questions = given_out(course, lesson).latest.questions  # with the numbers that were dealt
    released = json.loads((course.root / "as_sent" / lesson / f"{lesson}.ipynb").read_text(encoding="utf-8"))
    expected: Expected = {}
    rows = []
    for i, person in enumerate(course.roster.values()):
        planned = plans(questions, person, i)
        data = filled_in(released, planned)
        if spoil:
            planned, data = _spoiled(back, lesson, i, planned, data)
        if data:
            _put(back, lesson, person, i, data)
        expected |= {(lesson, person.badge, each.question): each.points * each.share for each in planned}
        rows += [
            [lesson, person.badge, each.question, each.way, each.text, f"{each.points * each.share:g}"]
            for each in planned
        ]
    head = ["lesson", "badge", "question", "way", "answer", "points"]
    write_safely(course.root / f"expected_{lesson}.csv", plain.table([head, *rows]))
    return expected


def _spoiled(back: Path, lesson: str, i: int, planned: list[Planned], data: bytes) -> tuple[list[Planned], bytes]:
    """Let some hand-ins of the first lesson go wrong, each in a way that happens."""
    if i == 6:  # an earlier version comes in too; the later one counts
        _write(back / "4707_early" / f"{lesson}.ipynb", filled_in(json.loads(data), []), 1)
    if i == 7:  # the cell of the first answer was deleted
        notebook = json.loads(data)
        first = planned[0].question
        notebook["cells"] = [c for c in notebook["cells"] if not "".join(c["source"]).startswith(f"%%answer {first}")]
        return [Planned(first, "missing", "", 0.0, planned[0].points), *planned[1:]], json.dumps(notebook).encode()
    if i == 8:  # the wrong lesson
        _write(back / "4709.ipynb", (workorders.notebooks()["00_start_here"]).read_bytes(), 2)
        return [], b""
    if i == 9:  # cut short on the way
        _write(back / "4710.ipynb", data[: len(data) // 2], 2)
        return [], b""
    if i == 10:  # a stranger to the class hands in too
        _write(back / "9999.ipynb", data, 2)
    return planned, data


def _put(back: Path, lesson: str, person: Apprentice, i: int, data: bytes) -> None:
    name = f"{person.badge}_{lesson}"
    if i % 4 == 1:
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr(f"{lesson}/{lesson}.ipynb", data)
        _write(back / f"{name}.zip", packed.getvalue(), 2)
    elif i % 4 == 2:
        _write(back / person.badge / f"{lesson}.ipynb", data, 2)
    elif i % 4 == 3:
        message = EmailMessage()
        message["Subject"], message["Date"] = f"Work order {person.badge}", format_datetime(datetime.now(UTC))
        message.set_content("Here it is.")
        message.add_attachment(data, maintype="application", subtype="octet-stream", filename=f"{lesson}.ipynb")
        _write(back / f"mail_{i}_{lesson}.eml", message.as_bytes(), 2)
    else:
        _write(back / f"{name}.ipynb", data, 2)


def _write(path: Path, data: bytes, hour: int) -> None:
    write_safely(path, data, lasting=False)
    when = time.time() - 86400 + 3600 * hour
    os.utime(path, (when, when))


def compare_marks(course: Course, expected: Expected) -> Iterator[str]:
    """Give a sentence for every mark that is not the one that must come out."""
    found: Expected = {}
    with opened(course) as connection:
        for lesson in {key[0] for key in expected}:
            for sheet in sheets(connection, lesson):
                found |= {(lesson, sheet.badge, result.question): result.score for result in sheet.results}
    for key in sorted(expected.keys() | found.keys()):
        must, is_now = expected.get(key), found.get(key)
        if must is None or is_now is None or abs(must - is_now) > 1e-9:
            yield f"{' '.join(key)}: should be {must}, is {is_now}"


def roster_csv(class_list: list[Apprentice]) -> str:
    """Return the class list as a file."""
    return "badge,name,units\n" + "".join(f"{each.badge},{each.name},{each.units}\n" for each in class_list)


def _tell(
    course: Course,
    expected: Expected,
    refused: list[str],
    differences: list[str],
    took: float,
    say: Callable[[str], None],
) -> None:
    waiting = list(needs_a_person(course))
    say(
        f"Marked: {counted(len(expected), 'answer')} of an invented class of {len(course.roster)}, in {took:.1f} s, "
        "with all the steps before and after."
    )
    say(
        f"{counted(len(refused), 'file')} could not be taken in, and {counted(len(waiting), 'point')} on the list "
        "of what needs a person. Both are meant to happen here:"
    )
    for sentence in waiting:
        say(f"- {sentence}")
    say(f"Look at the pages in {course.root / 'tables'} and {course.root / 'handed_back'}.")
    for sentence in differences:
        say(f"WRONG: {sentence}")
    say(f"{counted(len(differences), 'mark')} not as expected." if differences else "Every mark is as expected.")
