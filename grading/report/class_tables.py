"""The class at a glance, as a page and as tables: by apprentice, by question, by mistake."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path

from grading.course import plain
from grading.course.course import Course, write_safely
from grading.given_out.given_out import given_out
from grading.given_out.judged_answers import BLANK, MISSING
from grading.giving_out.at_work import at_work
from grading.gradebook.gradebook import dues_of, opened
from grading.handins.not_taken_in import refusals
from grading.handins.received import entries
from grading.handins.which_counts import Due, notes
from grading.report.class_page import class_page
from grading.report.class_tally import ClassTally, tally
from grading.report.course_page import LessonColumn, Standing, Table, course_page, marks_table, standing
from grading.report.learning.histories import LEARNING, histories
from grading.report.questions_in_words import QuestionsInWords
from grading.report.results import ApprenticeResult, Result, sheets, waits_in
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
            columns.append(LessonColumn(lesson, read.possible, _listed(course, read.standings), read.due.whole))
            waiting += read.waiting
            if lesson in lessons:
                _write(course, read)
        folder = course.root / FOLDER
        head, rows = marks_table(course, columns)
        write_safely(folder / "marks.csv", plain.table([head, *rows]))
        learned = _write_learning(course)
        write_safely(folder / "index.html", course_page(course, columns, refused, len(waiting), learned))
    return [folder / f"{lesson}.html" for lesson in lessons]


def _write_learning(course: Course) -> bool:
    """Write how practice went where any history came in; return whether there was one."""
    read = histories(course)
    if read:
        from grading.report.learning.learning_page import write_learning  # loads numpy, and every lesson

        if write_learning(course, read):
            return True
    for ending in ("html", "csv"):
        (course.root / FOLDER / f"{LEARNING}.{ending}").unlink(missing_ok=True)
    return False


class ClassRead:
    """All that the tables of one lesson are made of, gathered while its sheets pass by."""

    def __init__(self, course: Course, lesson: str, due: Due) -> None:
        questions = given_out(course, lesson).latest.questions
        self.lesson, self.words = lesson, QuestionsInWords(questions)
        self.order = [question.id for question in questions]
        self.possible = sum(question.points for question in questions)
        self.counted, self.standings = tally(self.order), dict[str, Standing]()
        self.people, self.answers, self.waiting = list[list[str]](), list[list[str]](), list[str]()
        self.noted = list[list[str]]()  # the rows of `people`, without what is in `waiting`
        self.due, self._course = due, course

    def add(self, sheet: ApprenticeResult) -> None:
        """Take in what one apprentice did."""
        course, due = self._course, self.due.of(sheet.badge)
        found = entries(course, self.lesson, sheet.badge)
        chosen = [entry for entry in found if entry.sha256 == sheet.sha256]
        told = list(notes(found, chosen[0], due, course.counts)) if chosen else []
        waits = list(waits_in(course, self.lesson, sheet, self.words))
        self.counted.add(sheet)
        self.standings[sheet.badge] = standing(sheet, due)
        row = _row(course, sheet, self.order)
        to_read = [_waits_in_row(each) for each in sheet.results if each.waits]
        self.people.append([*row, self._remarks([*sheet.remarks, *told, *to_read])])
        self.noted.append([*row, self._remarks([*([] if waits else sheet.remarks), *told])])
        self.answers.extend(_answer_rows(sheet))
        self.waiting.extend(waits)

    def _remarks(self, sentences: Iterable[str]) -> str:
        return self.words.said("; ".join(dict.fromkeys(sentences)))

    def absent(self) -> list[list[str]]:
        """Return the rows of those who handed nothing in."""
        missing = (person for badge, person in sorted(self._course.roster.items()) if badge not in self.standings)
        return [[each.badge, each.name, "", *("" for _ in self.order), "nothing handed in"] for each in missing]


def _write(course: Course, read: ClassRead) -> None:
    head = ["badge", "name", "points", *read.order, "remarks"]
    answers = ["question", "badge", "points", "mistake", "answer", "read"], read.answers
    by_question, by_mistake = _by_question(read.counted, read.words), _by_mistake(read.counted, read.words)
    people = head, [*read.people, *read.absent()]
    named = {"apprentices": people, "questions": by_question, "mistakes": by_mistake, "answers": answers}
    for name, (columns, rows) in named.items():
        path = course.root / FOLDER / f"{read.lesson}_{name}.csv"
        write_safely(path, "\ufeff" + plain.table([columns, *rows]))
    noted = [*read.noted, *read.absent()]
    shown = class_page(read.lesson, read.counted, _names(course), read.waiting, noted, by_question[1], read.words)
    write_safely(course.root / FOLDER / f"{read.lesson}.html", shown)


def _listed(course: Course, standings: Mapping[str, Standing]) -> dict[str, Standing]:
    return {badge: each for badge, each in standings.items() if badge in course.roster}


def _names(course: Course) -> dict[str, str]:
    return {badge: person.name for badge, person in course.roster.items()}


def _row(course: Course, sheet: ApprenticeResult, order: Sequence[str]) -> list[str]:
    person = course.roster.get(sheet.badge)
    scores = {result.question: "" if result.unread else f"{result.score:g}" for result in sheet.results}
    points = f"{sheet.score:g}" if sheet.results else ""
    name = person.name if person else "(not in roster.csv)"
    return [sheet.badge, name, points, *(scores.get(each, "") for each in order)]


def _waits_in_row(result: Result) -> str:
    return f"{result.question} is waiting for you: “{result.text.strip()[:40]}”"


def _answer_rows(sheet: ApprenticeResult) -> Iterator[list[str]]:
    for each in sheet.results:
        yield [each.question, each.badge, f"{each.score:g}", each.tag, each.text.strip(), each.read]


def _by_question(counted: ClassTally, words: QuestionsInWords) -> Table:
    counts = ["right", "blank or missing", "unreadable", "wrong in another way", "not read yet"]
    head = ["question", "answers", "share earned", "tells who knows", *counts, "in words"]
    return head, [[*row, words.long(row[0]).partition(" ")[2]] for row in _question_rows(counted)]


def _question_rows(counted: ClassTally) -> Iterator[list[str]]:
    for each in counted.questions.values():
        tells = each.discrimination
        left_out = each.tags.get(BLANK, 0) + each.tags.get(MISSING, 0)
        odd = (each.tags.get(UNREADABLE, 0), each.tags.get(OTHER, 0), each.unread)
        counts = (each.tags.get(RIGHT, 0), left_out, *odd)
        shown = [f"{each.difficulty:.2f}" if each.count else "", "" if tells is None else f"{tells:.2f}"]
        yield [each.id, str(each.count), *shown, *map(str, counts)]


def _by_mistake(counted: ClassTally, words: QuestionsInWords) -> Table:
    rows = [
        [each.id, tag, str(count), str(each.count), each.means[tag], words.long(each.id)]
        for each in counted.questions.values()
        for tag, count in each.mistakes
    ]
    head = ["question", "mistake", "how many", "of", "what it means", "question in words"]
    return head, sorted(rows, key=lambda row: -int(row[2]))
