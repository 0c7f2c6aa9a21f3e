"""What the marking page shows of one answer: question, answer, right answer and rubric beside each other.

It holds the key, so it is named by `FOR` and taken out of whatever is made for the apprentice.
"""

from __future__ import annotations

from html import escape
from typing import Any

from grading.given_out.judged_answers import LONGEST, Mark
from grading.given_out.right_answers import right_answer, rubric
from lessons.questions.markup import question_text
from lessons.questions.question import Posed
from lessons.units.readout import counted

FOR = {"for": "instructor"}  # metadata of an output with the key in it
_COLUMN = "width:33%;vertical-align:top;text-align:left;padding:.4em;border:1px solid #999"
_WORDS = "white-space:pre-wrap;overflow-wrap:anywhere;font-family:sans-serif;font-size:14px;line-height:1.4"
_sides: dict[int, tuple[Posed, str, str]] = {}  # by the id of the posed question, which is kept, so it stays its own


def beside(mark: Mark) -> dict[str, Any]:
    """Return the output of a cell that shows all a person needs to mark an answer, as a table and as plain text."""
    if mark.asked is None:
        return {"name": "stdout", "output_type": "stream", "text": f"{mark.reply.text}\n"}
    question, key = _both_sides(mark.asked)
    answer = "\n\n".join(filter(None, (mark.text[:LONGEST].strip() or "(nothing)", mark.reply.read, mark.reply.means)))
    points = counted(mark.points, "point")
    given = "It waits for you." if mark.waits else f"The program gave {mark.score:g} of {points}."
    columns = (
        ("The question, with this badge's numbers", question),
        ("The answer", f"{answer}\n\n{given}"),
        ("The right answer, and how the points fall", key),
    )
    table = (
        f'<table style="width:100%;table-layout:fixed"><tr>{_row("th", [name for name, _ in columns])}</tr>'
        f"<tr>{_row('td', [words for _, words in columns])}</tr></table>"
    )
    plain = "\n\n".join(f"{name}:\n{words}" for name, words in columns)
    data = {"text/html": table, "text/plain": plain}
    return {"output_type": "display_data", "data": data, "metadata": dict(FOR)}


def _row(kind: str, cells: list[str]) -> str:
    return "".join(f'<{kind} style="{_COLUMN}"><div style="{_WORDS}">{escape(each)}</div></{kind}>' for each in cells)


def _both_sides(this: Posed) -> tuple[str, str]:
    """Return question and key in words, put together once for all who have the same numbers."""
    known = _sides.get(id(this))
    if known is None:
        drawing = "\n(A drawing goes with it.)" if this.question.alt else ""
        key = "\n\n".join([right_answer(this), *rubric(this)])
        known = _sides[id(this)] = (this, question_text(this.sheet) + drawing, key)
    return known[1:]
