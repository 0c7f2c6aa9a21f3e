"""The class at a glance, as a page and as tables: by apprentice, by question, by mistake."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from grading.course import plain
from grading.course.course import Course, write_safely
from grading.given_out.given_out import given_out
from grading.given_out.judged_answers import BLANK, MISSING
from grading.giving_out.at_work import at_work
from grading.gradebook.gradebook import dues_of, opened
from grading.handins.received import entries, refusals
from grading.handins.which_counts import Due, notes
from grading.report.class_page import class_page
from grading.report.class_tally import ClassTally, tally
from grading.report.course_page import LessonColumn, Standing, Table, course_page, marks_table, standing
from grading.report.results import ApprenticeResult, sheets, waits_in
from lessons.questions.judge import OTHER, RIGHT, UNREADABLE

FOLDER = "tables"


def write_tables(course: Course, *lessons: str) -> list[Path]:
    """Write the tables and the page of some lessons, and those of the whole course; return the lessons' pages.

    The gradebook is read once for each lesson, whatever is made of it.
    """
    with at_work(course, "tables"), opened(course) as connection:
        refused = [f"Not taken in: {sentence}." for sentence in refusals(course)]
        columns, waiting = [], list(refused)
        for lesson in course.lessons():
            read = ClassRead(course, lesson, dues_of(connection, lesson))
            for sheet in sheets(connection, lesson):
                read.add(sheet)
            columns.append(LessonColumn(lesson, read.possible, read.standings))
            waiting += read.waiting
            if lesson in lessons:
                _write(course, read, refused)
        folder = course.root / FOLDER
        head, rows = marks_table(course, columns)
        write_safely(folder / "marks.csv", plain.table([head, *rows]))
        write_safely(folder / "index.html", course_page(course, columns, len(waiting)))
    return [folder / f"{lesson}.html" for lesson in lessons]


class ClassRead:
    """All that the tables of one lesson are made of, gathered while its sheets pass by."""

    def __init__(self, course: Course, lesson: str, due: Due) -> None:
        questions = given_out(course, lesson).latest.questions
        self.lesson, self.order = lesson, [question.id for question in questions]
        self.possible = sum(question.points for question in questions)
        self.counted, self.standings = tally(self.order), dict[str, Standing]()
        self.people, self.answers, self.waiting = list[list[str]](), list[list[str]](), list[str]()
        self._course, self._due = course, due

    def add(self, sheet: ApprenticeResult) -> None:
        """Take in what one apprentice did."""
        course, due = self._course, self._due.of(sheet.badge)
        found = entries(course, self.lesson, sheet.badge)
        chosen = [entry for entry in found if entry.sha256 == sheet.sha256]
        told = notes(found, chosen[0], due, course.counts) if chosen else ()
        self.counted.add(sheet)
        self.standings[sheet.badge] = standing(sheet, due)
        self.people.append(_row(course, sheet, self.order, told))
        self.answers.extend(_answer_rows(sheet))
        self.waiting.extend(waits_in(course, self.lesson, sheet))


def _write(course: Course, read: ClassRead, refused: Sequence[str]) -> None:
    absent = (badge for badge in sorted(course.roster) if badge not in read.standings)
    people = ["badge", "name", "points", *read.order, "remarks"], [
        *read.people, *(_absent(course, badge, read.order) for badge in absent)
    ]  # fmt: skip
    answers = ["question", "badge", "points", "mistake", "answer", "read"], read.answers
    by_question, by_mistake = _by_question(read.counted), _by_mistake(read.counted)
    named = {"apprentices": people, "questions": by_question, "mistakes": by_mistake, "answers": answers}
    for name, (head, rows) in named.items():
        path = course.root / FOLDER / f"{read.lesson}_{name}.csv"
        write_safely(path, "\ufeff" + plain.table([head, *rows]))
    shown = class_page(
        read.lesson, read.counted, _names(course), [*refused, *read.waiting], (people, by_question, by_mistake)
    )
    write_safely(course.root / FOLDER / f"{read.lesson}.html", shown)


def _names(course: Course) -> dict[str, str]:
    return {badge: person.name for badge, person in course.roster.items()}


def _row(course: Course, sheet: ApprenticeResult, order: Sequence[str], notes: Iterable[str]) -> list[str]:
    person = course.roster.get(sheet.badge)
    scores = {result.question: "" if result.unread else f"{result.score:g}" for result in sheet.results}
    waits = (f"{each.question} is waiting for you: “{each.text.strip()[:40]}”" for each in sheet.results if each.waits)
    remarks = "; ".join([*sheet.remarks, *notes, *waits])
    points = f"{sheet.score:g}" if sheet.results else ""
    name = person.name if person else "(not in roster.csv)"
    return [sheet.badge, name, points, *(scores.get(each, "") for each in order), remarks]


def _answer_rows(sheet: ApprenticeResult) -> Iterator[list[str]]:
    for each in sheet.results:
        yield [each.question, each.badge, f"{each.score:g}", each.tag, each.text.strip(), each.read]


def _absent(course: Course, badge: str, order: Sequence[str]) -> list[str]:
    return [badge, course.roster[badge].name, "", *("" for _ in order), "nothing handed in"]


def _by_question(counted: ClassTally) -> Table:
    counts = ["right", "blank or missing", "unreadable", "wrong in another way", "not read yet"]
    head = ["question", "answers", "share earned", "tells who knows", *counts]
    return head, list(_question_rows(counted))


def _question_rows(counted: ClassTally) -> Iterator[list[str]]:
    for each in counted.questions.values():
        tells = each.discrimination
        left_out = each.tags.get(BLANK, 0) + each.tags.get(MISSING, 0)
        odd = (each.tags.get(UNREADABLE, 0), each.tags.get(OTHER, 0), each.unread)
        counts = (each.tags.get(RIGHT, 0), left_out, *odd)
        shown = [f"{each.difficulty:.2f}" if each.count else "", "" if tells is None else f"{tells:.2f}"]
        yield [each.id, str(each.count), *shown, *map(str, counts)]


def _by_mistake(counted: ClassTally) -> Table:
    rows = [
        [each.id, tag, str(count), str(each.count), each.means[tag]]
        for each in counted.questions.values()
        for tag, count in each.mistakes
    ]
    return ["question", "mistake", "how many", "of", "what it means"], sorted(rows, key=lambda row: -int(row[2]))
