"""The pages of lesson 00 and of the glossary: what is done, what is due, which ideas are shaky, what a word means."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from lessons.notebook import bank, hand_in_by
from lessons.questions.progress import Progress, wrong_in_a_row
from lessons.questions.question import pose
from lessons.questions.repetition import due

SHAKY = 2  # wrong tries after which an idea counts as shaky, until it is solved on newer numbers
MOST_SHAKY = 5


def dashboard_text(known: Progress, now: datetime, hand_in: Mapping[str, datetime] | None = None) -> str:
    """Return in Markdown what is done and due in each lesson; below it work orders and shaky ideas."""
    waiting = set(due(bank.practice_questions(), known, now))
    rows = [_row(lesson, known, waiting) for lesson in bank.lessons() if lesson.topic != "start"]
    head = "| lesson | practice solved | work order answered | comes back today |\n| --- | --- | --- | --- |"
    return "\n".join([head, *rows]) + "\n\n" + _work_orders(hand_in or {}, now) + _shaky(known)


def _work_orders(hand_in: Mapping[str, datetime], now: datetime) -> str:
    """Say when each work order has to be handed in; nothing where none has a time."""
    titles = {lesson.notebook: lesson.title for lesson in bank.lessons()}
    words = {True: "hand in by", False: "was to be handed in by"}
    lines = [
        f"- {titles.get(name, name)}: {words[when > now]} {hand_in_by.in_words(when)}" for name, when in hand_in.items()
    ]
    return "**Work orders:**\n\n" + "\n".join(lines) + "\n\n" if lines else ""


def glossary_text() -> str:
    """Return every word the lessons explain, in Markdown, with a link back to its lesson."""
    words = [(term, said, lesson) for lesson in bank.lessons() for term, said in lesson.terms.items()]
    lines = [
        f"**{term}**: {said} ([{lesson.title}]({lesson.notebook}.ipynb))"
        for term, said, lesson in sorted(words, key=lambda word: word[0].lower())
    ]
    return "\n\n".join(lines)


def _row(lesson: bank.Lesson, known: Progress, waiting: set[str]) -> str:
    ids = bank.to_solve(lesson.questions)
    solved = bank.how_many_solved(ids, known)
    orders = len(bank.answered_orders(lesson.topic, known))
    again = len(waiting.intersection(ids))
    done = "✓ " if solved == len(ids) else ""
    link = f"[{lesson.title}]({lesson.notebook}.ipynb)"
    return f"| {link} | {done}{solved} of {len(ids)} | {orders or '–'} | {again or '–'} |"


def shaky_questions(known: Progress) -> dict[str, str]:
    """Return the ideas of questions that went wrong more than once since they were last right, worst first, by id."""
    trouble = []
    for question in (each for lesson in bank.lessons() for each in lesson.questions):
        record = known.of(question.id)
        wrong = wrong_in_a_row(record.tags)
        if wrong >= SHAKY:
            words = pose(question, known.badge, known.units, record.turn).words
            trouble.append((-wrong, question.id, question.idea.format_map(words)))
    return {question_id: idea for _, question_id, idea in sorted(trouble)[:MOST_SHAKY]}


def _shaky(known: Progress) -> str:
    trouble = shaky_questions(known)
    if not trouble:
        return "Nothing needs another look yet."
    titles = {question.id: lesson.title for lesson in bank.lessons() for question in lesson.questions}
    return "**Look at these again:**\n\n" + "\n".join(f"- {titles[each]}: {idea}" for each, idea in trouble.items())
