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
from grading.handins.choosing import notes
from grading.handins.received import entries
from grading.report.class_page import class_page
from grading.report.class_tally import ClassTally, tally
from grading.report.results import ApprenticeResult, needs_a_person, sheets
from lessons.questions.judge import OTHER, RIGHT, UNREADABLE

Table = tuple[list[str], list[list[str]]]  # head and rows


def write_tables(course: Course, lesson: str) -> Path:
    """Write the tables and the page of one lesson; return the page."""
    with at_work(course, "tables"):
        return _write(course, lesson)


def _write(course: Course, lesson: str) -> Path:
    order = [question.id for question in given_out(course, lesson).latest.questions]
    counted, people = tally(order), (["badge", "name", "points", *order, "remarks"], list[list[str]]())
    answers: Table = (["question", "badge", "points", "mistake", "answer", "read"], [])
    with opened(course) as connection:
        due, seen = dues_of(connection, lesson), set()
        for sheet in sheets(connection, lesson):
            seen.add(sheet.badge)
            counted.add(sheet)
            found = entries(course, lesson, sheet.badge)
            chosen = [entry for entry in found if entry.sha256 == sheet.sha256]
            told = notes(found, chosen[0], due.of(sheet.badge), course.counts) if chosen else ()
            people[1].append(_row(course, sheet, order, told))
            answers[1].extend(_answer_rows(sheet))
    people[1].extend(_absent(course, badge, order) for badge in sorted(course.roster) if badge not in seen)
    by_question, by_mistake = _by_question(counted), _by_mistake(counted)
    folder = course.root / "tables"
    for name, content in (
        ("apprentices", people),
        ("questions", by_question),
        ("mistakes", by_mistake),
        ("answers", answers),
    ):
        write_safely(folder / f"{lesson}_{name}.csv", "\ufeff" + plain.table([content[0], *content[1]]))
    head, rows = grades(course)
    write_safely(folder / "marks.csv", plain.table([head, *rows]))
    target = folder / f"{lesson}.html"
    waiting = list(needs_a_person(course, lesson))
    write_safely(target, class_page(lesson, counted, _names(course), waiting, (people, by_question, by_mistake)))
    return target


def grades(course: Course) -> Table:
    """Return all lessons' points of everybody in the class list, for a learning management system to take in.

    Who has no mark yet, or an answer that was not read yet, has an empty field, not a nought.
    """
    lessons = course.lessons()
    found: dict[str, dict[str, str]] = {badge: {} for badge in course.roster}
    heads = []
    with opened(course) as connection:
        for lesson in lessons:
            possible = sum(question.points for question in given_out(course, lesson).latest.questions)
            heads.append(f"{lesson} (of {possible:g})")
            for sheet in sheets(connection, lesson):
                if sheet.badge in found and sheet.results and not sheet.unread:
                    found[sheet.badge][lesson] = f"{sheet.score:g}"
    rows = [
        [badge, course.roster[badge].name, *(by_lesson.get(lesson, "") for lesson in lessons)]
        for badge, by_lesson in found.items()
    ]
    return ["badge", "name", *heads], rows


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
