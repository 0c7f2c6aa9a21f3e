"""A key sheet for each badge: its questions with its numbers, the right answers and how the points fall, on one page.

For the instructor only: it goes into a folder of its own that nothing else is sent from.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from pathlib import Path

from grading.course.course import Course, CourseError, write_safely
from grading.course.roster import Apprentice
from grading.given_out.given_out import Given, given_out
from grading.given_out.judged_answers import posed
from grading.given_out.right_answers import right_answer, rubric
from grading.marking.drawings import Drawings, as_image
from grading.report.whole_page import page
from lessons.questions.markup import question_text
from lessons.questions.question import Posed, Question
from lessons.units.readout import counted

FOLDER = "key_sheets"
_ROOM = 100  # mm of height for all drawings of a sheet, so that it still fits its page
_DRAWING = "display:block;max-width:100%;max-height:{:.0f}mm"
# Two columns of small print: the longest lesson has to fit one page of A4 or Letter.
_STYLE = """<style>body{font-size:11px;line-height:1.25;max-width:72em;margin:1em auto}h1{font-size:1.3em;margin:.2em 0}
.keys{columns:2;column-gap:1.5em}.keys section{border:0;border-top:1px solid #777;border-radius:0;padding:.2em 0;
margin:0;break-inside:avoid}.keys h2{font-size:1em}.keys p{margin:.15em 0;white-space:pre-wrap}
.keys p.small{color:#333;font-size:.9em}
@page{margin:9mm}@media print{body{font-size:10.5px;margin:0;padding:0}}</style>"""


def write_key_sheets(course: Course, lesson: str, badges: Sequence[str] = ()) -> list[Path]:
    """Write the sheets of a lesson as it was given out last, for some badges or for all; return where they are.

    Raises
    ------
    CourseError
        If the lesson was not given out to one of the badges.
    """
    given = given_out(course, lesson).latest
    if strangers := [badge for badge in badges if badge not in given.units]:
        raise CourseError(f"{lesson} was not given out to {', '.join(strangers)}, so there is no key for them.")
    folder = course.root / FOLDER / lesson
    folder.mkdir(parents=True, exist_ok=True)
    for each in (folder.parent, folder):
        each.chmod(0o700)
    written, drawings = [], Drawings(course)
    for badge in badges or given.units:
        person = given.person(course.roster.get(badge) or Apprentice(badge, "(not in roster.csv)", given.units[badge]))
        written.append(folder / f"{badge}.html")
        write_safely(
            written[-1], key_sheet(lesson, given, person, drawings.of(given, badge)), mode=0o600, lasting=False
        )
    return written


def key_sheet(lesson: str, given: Given, person: Apprentice, drawings: Mapping[str, str]) -> str:
    """Return the page of one badge; `drawings` are those of its questions, as SVG."""
    title = f"Key: {lesson.replace('_', ' ')}, badge {person.badge}"
    points = counted(sum(each.points for each in given.questions), "point")
    parts = [
        f"{_STYLE}<h1>{escape(title)}, {escape(person.name)}</h1><p>For the instructor only. {escape(points)}. "
        f'Given out {given.day}, units {escape(person.units)}.</p><div class="keys">'
    ]
    style = _DRAWING.format(min(34.0, _ROOM / max(len(drawings), 1)))
    for each in given.questions:
        drawing = as_image(drawings[each.id], each.alt, style) if each.id in drawings else ""
        parts.append(_section(each, posed(each, person.badge, person.units), drawing))
    return page(title, "".join([*parts, "</div>"]))


def _section(question: Question, this: Posed, drawing: str) -> str:
    missing = " (with a drawing)" if question.alt and not drawing else ""
    said = "".join(f'<p class="small">{escape(each)}</p>' for each in rubric(this))
    return (
        f"<section><h2>{escape(question.id)}, {escape(counted(question.points, 'point'))}{missing}</h2>"
        f"<p>{escape(question_text(this.sheet))}</p>{drawing}<p><b>{escape(right_answer(this))}</b></p>{said}</section>"
    )
