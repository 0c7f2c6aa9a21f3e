"""What the marking page shows of one answer: question, answer, right answer and rubric beside each other.

It holds the key, so it is named by `FOR` and taken out of whatever is made for the apprentice.
"""

from __future__ import annotations

from html import escape
from typing import Any, NamedTuple

from grading.given_out.judged_answers import LONGEST, Mark
from grading.given_out.right_answers import right_answer, rubric
from grading.marking.drawings import as_image
from lessons.questions.markup import question_text
from lessons.questions.question import Posed
from lessons.units.readout import counted

FOR = {"for": "instructor"}  # metadata of an output with the key in it
_COLUMN = "width:33%;vertical-align:top;text-align:left;padding:.4em;border:1px solid #999"
_WORDS = "white-space:pre-wrap;overflow-wrap:anywhere;font-family:sans-serif;font-size:14px;line-height:1.4"
_COLUMNS = (
    "The question, with this badge's numbers",
    "The answer",
    "The right answer, and how the points fall",
)


def _cell(kind: str, words: str, drawing: str = "") -> str:
    return f'<{kind} style="{_COLUMN}"><div style="{_WORDS}">{escape(words)}</div>{drawing}</{kind}>'


class _Words(NamedTuple):
    """What one column says, as text and as a cell of the table."""

    plain: str
    cell: str

    @classmethod
    def of(cls, words: str) -> _Words:
        return cls(words, _cell("td", words))


_HEAD = f'<table style="width:100%;table-layout:fixed"><tr>{"".join(_cell("th", each) for each in _COLUMNS)}</tr>'
_DRAWING = "display:block;max-width:100%;background:#fff"
_sides: dict[tuple[int, str], tuple[Posed, _Words, _Words]] = {}  # by the id of the posed question, which is kept here


def beside(mark: Mark, drawing: str = "") -> dict[str, Any]:
    """Return the output of a cell that shows all a person needs to mark an answer, as a table and as plain text.

    `drawing` is the picture that the question is about, as SVG.
    """
    if mark.asked is None:
        return {"name": "stdout", "output_type": "stream", "text": f"{mark.reply.text}\n"}
    question, key = _both_sides(mark.asked, drawing)
    answer = "\n\n".join(filter(None, (mark.text[:LONGEST].strip() or "(nothing)", mark.reply.read, mark.reply.means)))
    points = counted(mark.points, "point")
    given = "It waits for you." if mark.waits else f"The program gave {mark.score:g} of {points}."
    columns = (question, _Words.of(f"{answer}\n\n{given}"), key)
    table = f"{_HEAD}<tr>{''.join(each.cell for each in columns)}</tr></table>"
    plain = "\n\n".join(f"{name}:\n{each.plain}" for name, each in zip(_COLUMNS, columns, strict=True))
    data = {"text/html": table, "text/plain": plain}
    return {"output_type": "display_data", "data": data, "metadata": dict(FOR)}


def _both_sides(this: Posed, drawing: str) -> tuple[_Words, _Words]:
    """Return question and key in words, put together once for all who have the same numbers."""
    known = _sides.get((id(this), drawing))
    if known is None:
        goes = "\n(A drawing goes with it.)" if this.question.alt else ""
        shown = as_image(drawing, this.question.alt, _DRAWING) if drawing else ""
        key = "\n\n".join([right_answer(this), *rubric(this)])
        asked = question_text(this.sheet)
        question = _Words(asked + goes, _cell("td", asked if shown else asked + goes, shown))
        known = _sides[(id(this), drawing)] = (this, question, _Words.of(key))
    return known[1:]
