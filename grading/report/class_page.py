"""The report as a page: first what to do, then pictures, then the tables."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape

from grading.report.charts import ORANGE, bars, shares
from grading.report.class_tally import ClassTally
from grading.report.pages_back import page, wide
from lessons.notebook import bank

Table = tuple[list[str], list[list[str]]]
_MOST = 12  # mistakes in the picture; the table has them all


def class_page(
    lesson: str,
    counted: ClassTally,
    names: Mapping[str, str],
    waiting: Sequence[str],
    tables: Sequence[Table],
) -> str:
    """Return the page of one lesson."""
    people, questions, mistakes = tables
    parts = [f'<p><a href="index.html">The course</a></p><h1>{escape(bank.title_of(lesson))}: the class</h1>']
    parts.append(f"<p>Apprentices with marks: {counted.marked} of {len(names)}.</p>")
    parts += _list("Needs a person", waiting, "Nothing is waiting for you.")
    again = [f"{question}: {why}" for question, why in counted.teach_again()]
    parts += _list("Teach again", again, "There is nothing that the class as a whole has not understood.")
    stuck = [f"{badge} {names.get(badge, '')}: {why}" for badge, why in counted.stuck]
    parts += _list("Who is stuck", stuck, "Everybody has at least half of the points.")
    parts += ["<h2>Pictures</h2>", *_pictures(counted)]
    parts += ["<h2>Mistakes</h2>", _html("Mistakes", mistakes), "<h2>Questions</h2>", _html("Questions", questions)]
    parts.append(
        "<p>“Share earned” is the part of its points that the class earned: 1 means all had it right. “Tells who "
        "knows” is the correlation with the points on the other questions. If it is near 0 or below, ask yourself "
        "whether the question is clear. It is empty for fewer than five apprentices, or where all earned the same.</p>"
    )
    parts += ["<h2>Apprentices</h2>", _html("Apprentices", people)]
    return page(f"{bank.title_of(lesson)}: the class", "\n".join(parts))


def _pictures(counted: ClassTally) -> Iterator[str]:
    questions = [each for each in counted.questions.values() if each.count]
    yield shares("Who earned all, some or none of the points", [
        (each.id, each.full, each.count - each.full - each.none, each.none) for each in questions
    ])  # fmt: skip
    found = [(each, tag, count) for each in questions for tag, count in each.mistakes]
    found.sort(key=lambda row: -row[2])
    rows = [
        (f"{each.id} {tag}".replace("_", " "), count, f"{count} of {each.count}") for each, tag, count in found[:_MOST]
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


def _html(name: str, content: Table) -> str:
    head, rows = content
    if not rows:
        return "<p>None.</p>"
    first = "".join(f"<th>{escape(each)}</th>" for each in head)
    body = "".join(f"<tr>{''.join(f'<td>{escape(str(value))}</td>' for value in row)}</tr>" for row in rows)
    return wide(name, f"<table><tr>{first}</tr>{body}</table>")
