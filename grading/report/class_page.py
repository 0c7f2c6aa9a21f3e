"""The report as a page: first what to do, then pictures, then the tables."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape

from grading.report.charts import ORANGE, bars, shares
from grading.report.class_tally import ClassTally, QuestionTally
from grading.report.questions_in_words import QuestionsInWords
from grading.report.whole_page import page, page_table
from lessons.notebook import bank
from lessons.units.readout import counted

_MOST = 12  # mistakes in the picture; the table has them all
_CAME = ("right", "blank or missing", "unreadable", "wrong in another way", "not read yet")
_QUESTION_HEAD = ("No.", "Asks", "Share earned", "Tells who knows", "What came", "Name for commands")


def class_page(
    lesson: str,
    counted: ClassTally,
    names: Mapping[str, str],
    waiting: Sequence[str],
    people: Sequence[Sequence[str]],
    questions: Sequence[Sequence[str]],
    words: QuestionsInWords,
) -> str:
    """Return the page of one lesson; `people` and `questions` are rows of its tables."""
    title = f"{bank.title_of(lesson)}: the class"
    parts = [f'<p><a href="index.html">The course</a></p><h1>{escape(title)}</h1>']
    parts.append(f"<p>Apprentices with marks: {counted.marked} of {len(names)}.</p>")
    parts += _list("Needs a person", waiting, "Nothing is waiting for you.")
    again = [f"Question {words.long(question)} {_begun(why)}" for question, why in counted.teach_again()]
    parts += _list("Teach again", again, "There is nothing that the class as a whole has not understood.")
    stuck = [f"{badge} {names.get(badge, '')}: {words.said(why)}" for badge, why in counted.stuck]
    parts += _list("Who is stuck", stuck, "Everybody has at least half of the points.")
    parts += ["<h2>Pictures</h2>", *_pictures(counted, words)]
    mistakes = sorted(_mistakes(counted), key=lambda row: -row[1])
    parts += [
        "<h2>Mistakes</h2>",
        page_table(
            ("Question", "How many", "What it means"),
            (
                [_begun(words.short(each.id)), f"{count} of {each.count}", escape(each.means[tag])]
                for each, count, tag in mistakes
            ),
        ),
    ]
    parts += ["<h2>Questions</h2>", page_table(_QUESTION_HEAD, (_question_row(row, words) for row in questions))]
    parts.append(
        "<p>“Share earned” is the part of its points that the class earned: 1 means all had it right. “Tells who "
        "knows” is the correlation with the points on the other questions. If it is near 0 or below, ask yourself "
        "whether the question is clear. It is empty for fewer than five apprentices, or where all earned the same.</p>"
    )
    head = ["Badge", "Name", "Points", *map(str, words.number.values()), "Remarks that are not in the list above"]
    parts += ["<h2>Apprentices</h2>", page_table(head, (list(map(escape, row)) for row in people), many=True)]
    return page(title, "\n".join(parts), sideways=True)


def _question_row(row: Sequence[str], words: QuestionsInWords) -> list[str]:
    question, answers, earned, tells, *counts, asks = row
    named = zip(counts, _CAME, strict=True)
    came = [counted(int(answers), "answer"), *(f"{count} {what}" for count, what in named if count != "0")]
    return [str(words.number.get(question, "")), *map(escape, (asks, earned, tells, ", ".join(came), question))]


def _begun(sentence: str) -> str:
    return sentence[:1].upper() + sentence[1:]


def _mistakes(counted: ClassTally) -> Iterator[tuple[QuestionTally, int, str]]:
    yield from ((each, count, tag) for each in counted.questions.values() for tag, count in each.mistakes)


def _pictures(counted: ClassTally, words: QuestionsInWords) -> Iterator[str]:
    questions = [each for each in counted.questions.values() if each.count]
    yield shares(
        "Who earned all, some or none of the points",
        [(words.long(each.id), each.full, each.count - each.full - each.none, each.none) for each in questions],
    )
    found = sorted(_mistakes(counted), key=lambda row: -row[1])[:_MOST]
    rows = [
        (f"{_begun(words.short(each.id))}. {each.means[tag]}", count, f"{count} of {each.count}")
        for each, count, tag in found
    ]
    yield bars("The most frequent mistakes", rows, max((each.count for each in questions), default=0), ORANGE)
    tenths = [
        (f"{10 * i} to {10 * i + 10} % of the points", count, str(count)) for i, count in enumerate(counted.tenths)
    ]
    yield bars("How many apprentices earned how much", tenths, max(counted.tenths))


def _list(title: str, sentences: Sequence[str], none: str) -> list[str]:
    if not sentences:
        return [f"<h2>{title}</h2><p>{none}</p>"]
    listed = "".join(f"<li>{escape(sentence)}</li>" for sentence in sentences)
    return [f"<h2>{title}</h2><ul>{listed}</ul>"]
