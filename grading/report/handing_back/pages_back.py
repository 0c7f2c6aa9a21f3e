"""One plain page for each apprentice: what was read, what it means, what to look at again. Holds no key."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from html import escape

from tqdm import tqdm

from grading.course.course import Course, write_safely
from grading.course.roster import Apprentice
from grading.given_out.given_out import given_out
from grading.given_out.judged_answers import BLANK, MISSING, WITHDRAWN, WRITTEN, posed
from grading.giving_out.at_work import at_work
from grading.gradebook.gradebook import opened
from grading.marking.drawings import Drawings
from grading.report.questions_in_words import QuestionsInWords
from grading.report.results import ApprenticeResult, Result, sheets
from grading.report.whole_page import page
from lessons.notebook import bank
from lessons.questions.judge import RIGHT, UNREADABLE
from lessons.questions.markup import question_text
from lessons.questions.question import Question
from lessons.units.readout import counted


def write_pages_back(course: Course, lesson: str, quiet: bool = False) -> int:
    """Write the page of everybody who was marked; return how many."""
    count = 0
    with at_work(course, "hand-back"), opened(course) as connection:
        known = given_out(course, lesson)
        drawings = Drawings(course)
        for sheet in tqdm(sheets(connection, lesson), desc="hand-back", unit=" page", disable=True if quiet else None):
            person = course.roster.get(sheet.badge)
            if person and sheet.results:
                given = known.named(sheet.given_out)
                questions: dict[str, Question] = {question.id: question for question in given.questions}
                target = course.root / "handed_back" / sheet.badge / lesson / f"{lesson}.html"
                text = page_back(lesson, given.person(person), sheet, questions, drawings.of(given, sheet.badge))
                write_safely(target, text, lasting=False)
                count += 1
    return count


def page_back(
    lesson: str,
    person: Apprentice,
    sheet: ApprenticeResult,
    questions: Mapping[str, Question],
    drawings: Mapping[str, str],
) -> str:
    """Return the page of one apprentice; `drawings` are the pictures of questions, as SVG."""
    order = list(questions)
    results = sorted(
        (each for each in sheet.results if each.question in questions), key=lambda r: order.index(r.question)
    )
    total = sum(result.points for result in results if not result.unread)
    unread = sum(result.points for result in results if result.unread)
    still = f". Your instructor still has to mark {unread:g} more" if unread else ""
    title = f"{bank.title_of(lesson)}: {person.name}"
    body = [
        f"<h1>{escape(title)}</h1><p>Badge {escape(person.badge)}. "
        f"You have <b>{sheet.score:g} of {counted(total, 'point')}</b>{still}.</p>"
    ]
    words = QuestionsInWords(questions.values())
    body += [
        _section(result, questions[result.question], person, words, drawings.get(result.question, ""))
        for result in results
    ]
    body += _review(results, questions, person, words)
    return page(title, "\n".join(body))


def _section(result: Result, question: Question, person: Apprentice, words: QuestionsInWords, drawing: str) -> str:
    this = posed(question, person.badge, person.units)
    was_read = result.tag == WRITTEN and not result.unread
    by_person = result.by_hand and not was_read  # then what the program made of it is beside the point
    rows = [
        ("The question, with your numbers", question_text(this.sheet)),
        ("You wrote", result.text.strip() or "(nothing)"),
        ("Who marked it", "Your instructor looked at this answer and gave it these points." if result.by_hand else ""),
        ("What was read", "" if by_person and result.tag == UNREADABLE else result.read),
        ("What it means", "" if was_read or by_person else result.means),
        ("What a full answer says", question.why.format_map(this.words) if was_read else ""),
        ("Why" if result.tag == RIGHT else "What to do next", _next(result)),
        ("Your instructor says", result.comment),
    ]
    listed = "".join(f"<dt>{escape(name)}</dt><dd>{escape(text)}</dd>" for name, text in rows if text)
    by_hand = " (by your instructor)" if result.by_hand or result.extra else ""
    marks = f"{result.score:g} of {counted(result.points, 'point')}{by_hand}"
    waits = f"no mark yet, worth {counted(result.points, 'point')}"
    head = f"Question {words.number[result.question]}: {waits if result.unread else marks}"
    shown = f"<dd>{drawing}</dd>" if drawing else ""
    listed = listed.replace("</dd>", f"</dd>{shown}", 1)  # below the question's own words
    name = escape(result.question, quote=True)
    return f'<section id="{name}" class="{_look(result)}"><h2>{escape(head)}</h2><dl>{listed}</dl></section>'


def _look(result: Result) -> str:
    if result.tag == WITHDRAWN or result.unread or (result.tag in (BLANK, MISSING) and not result.by_hand):
        return "waits"
    return "right" if _full(result) or (result.tag == RIGHT and not result.by_hand) else "wrong"


def _full(result: Result) -> bool:
    """Tell whether a person gave all the points, whatever the program made of the answer."""
    return result.by_hand and result.score >= result.points


def _next(result: Result) -> str:
    """Return the advice; what judge says to somebody still at it makes no sense on a marked page."""
    if result.tag != RIGHT and (_full(result) or (result.by_hand and result.tag in (UNREADABLE, BLANK, MISSING))):
        return ""
    if result.tag == UNREADABLE:
        return "Ask your instructor to look at what you wrote. Lesson 00 shows how to type an answer."
    return result.next


def _review(
    results: list[Result], questions: Mapping[str, Question], person: Apprentice, words: QuestionsInWords
) -> Iterator[str]:
    short = (each for each in results if each.score < each.points and not each.unread)
    missed = [each for each in short if each.by_hand or each.tag not in (RIGHT, WITHDRAWN)]
    if not missed:
        yield "<p>You have nothing to look at again. Well done.</p>"
        return
    ideas = dict.fromkeys(_idea(questions[each.question], person) for each in missed if questions[each.question].idea)
    names = ", ".join(words.short(each.question) for each in missed)
    yield f"<h2>Look at again</h2><p>Before the next lesson, work through these once more: {escape(names)}.</p><ul>"
    yield "".join(f"<li>{escape(idea)}</li>" for idea in ideas)
    yield "</ul>"


def _idea(question: Question, person: Apprentice) -> str:
    return question.idea.format_map(posed(question, person.badge, person.units).words)
