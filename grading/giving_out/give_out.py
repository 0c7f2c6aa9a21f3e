"""Gives a lesson out: locked cells, each apprentice's numbers as data, a zip for each; keys stay here."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Callable, Iterable, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from grading import workorders
from grading.course.course import Course, CourseError
from grading.course.roster import Apprentice
from grading.given_out.given_out import dealt_before, keys_of
from grading.given_out.judged_answers import WRITTEN, posed_variant
from grading.giving_out.at_work import at_work
from grading.giving_out.building import build, came_back
from grading.giving_out.dealing import deal
from grading.giving_out.entering import refuse_other_questions
from grading.giving_out.put_out import TO_SEND, commit, finish
from grading.giving_out.source_edits import edited_base, keep_changed_work_order
from grading.gradebook.gradebook import opened
from grading.handins.handin import answer_grade_id, answered, ask_grade_id, asked
from lessons.jupyter.locks import locked
from lessons.notebook.still import drawing_of
from lessons.questions.question import Posed, Question


def find_lesson(name: str) -> tuple[str, Path]:
    """Return a lesson's full name and notebook, from its name or its number.

    Raises
    ------
    CourseError
        If there is none, or more than one.
    """
    known = workorders.notebooks()
    found = [lesson for lesson in known if lesson == name or lesson.startswith(f"{name}_")]
    if len(found) != 1:
        raise CourseError(f"There is no lesson “{name}”. The lessons are: {', '.join(known) or 'none yet'}.")
    return found[0], known[found[0]]


def give_out(
    course: Course, lesson: str, notebook: Path, due: datetime | None = None, say: Callable[[str], None] | None = None
) -> Path:
    """Give a lesson out to the class list; return the folder with the zips to send.

    It is built beside what was given out before, which stays in force until the new one is whole.

    Raises
    ------
    CourseError
        If the lesson has no graded questions, the gradebook refuses, or marks would lose their place.
    """
    with at_work(course, "give-out", say):
        base = edited_base(course, lesson, notebook)
        if not base.questions:
            raise CourseError(
                f"Lesson {lesson} has no work order, so there is nothing to hand in. Apprentices use it as it is."
            )
        with opened(course):  # a gradebook out of reach is told before the work
            pass
        prepared = prepare(base.notebook, lesson, base.questions)
        dealt = deal(base.questions, list(course.roster), course.secret, dealt_before(course, lesson))
        order = work_order(lesson, base.questions, course.roster.values(), dealt)
        made = build(course, lesson, base, prepared, order, keys_of(base.questions, course.roster.values(), dealt))
        refuse_other_questions(course, lesson, made.notebook, came_back(course, lesson))
        said = [*base.sentences, *keep_changed_work_order(course, lesson)]
        commit(course, lesson, made.id, made.files(due))
        finish(course)
    for sentence in said:
        (say or _unsaid)(sentence)
    return course.root / TO_SEND / lesson


def _unsaid(_sentence: str) -> None:
    """Say nothing: who calls from a program looks at what was written."""


def work_order(
    lesson: str, questions: Iterable[Question], people: Iterable[Apprentice], dealt: Mapping[str, Mapping[str, int]]
) -> str:
    """Return the numbers and words of each badge and the pictures as JSON: what may be seen, and no key.

    A picture is kept once for all badges that have it, by a name that says nothing but which one it is.
    """
    asked_here, pictures = list(questions), _Pictures()
    badges = {
        person.badge: {
            "units": person.units,
            "sheets": [
                _seen(posed_variant(question, dealt[question.id][person.badge], person.units), pictures)
                for question in asked_here
            ],
        }
        for person in people
    }
    return json.dumps({"lesson": lesson, "badges": badges, "pictures": pictures.by_name}, ensure_ascii=False)


def _seen(this: Posed, pictures: _Pictures) -> dict[str, Any]:
    """Return what an apprentice sees of a question."""
    data = this.sheet.as_data()
    return data if this.question.figure is None else data | {"picture": pictures.name_of(this)}


class _Pictures:
    """The pictures of a lesson; each variant is drawn once."""

    def __init__(self) -> None:
        self.by_name: dict[str, str] = {}
        self._drawn: dict[int, str] = {}

    def name_of(self, this: Posed) -> str:
        if id(this) not in self._drawn:
            svg = nameless(drawing_of(this))
            name = f"p{hashlib.sha256(svg.encode()).hexdigest()[:16]}"
            self.by_name[name] = svg
            self._drawn[id(this)] = name
        return self._drawn[id(this)]


def nameless(svg: str) -> str:
    """Take the names of parts out of a picture's source, where they would tell what the numbers in it ask.

    >>> nameless('<g id="plug"/><use href="#plug"/>').count("plug")
    0
    """
    mark = hashlib.sha256(svg.encode()).hexdigest()[:8]  # two pictures on one page must not share names
    names = {name: f"p{mark}-{n}" for n, name in enumerate(dict.fromkeys(re.findall(r'\bid="([^"]+)"', svg)))}
    svg = re.sub(r'\bid="([^"]+)"', lambda found: f'id="{names[found[1]]}"', svg)
    return re.sub(r'(?<=["(])#([^")]+)', lambda found: f"#{names.get(found[1], found[1])}", svg)


def prepare(notebook: dict[str, Any], lesson: str, questions: Iterable[Question]) -> dict[str, Any]:
    """Put in what nbgrader and JupyterLab need: what is marked, what is typed into, what is locked."""
    graded = {question.id: question for question in questions}
    prepared = locked(notebook)
    prepared["metadata"] = {**notebook.get("metadata", {}), "work_order": {"lesson": lesson}}
    for cell in prepared["cells"]:
        source = "".join(cell["source"])
        split = answered(source) if cell["cell_type"] == "code" else None
        question = graded.get(split[0] if split else asked(source))
        if question:
            cell["metadata"]["nbgrader"] = _nbgrader(question, is_answer=split is not None)
    return prepared


def _nbgrader(question: Question, is_answer: bool) -> dict[str, Any]:
    """Return nbgrader's own metadata: the cell that asks is marked, unless a person reads the answer."""
    marked = is_answer == (question.kind == WRITTEN)
    name = answer_grade_id(question.id) if is_answer else ask_grade_id(question.id)
    metadata = {
        "grade": marked,
        "grade_id": name,
        "locked": not is_answer,
        "schema_version": 3,
        "solution": is_answer,
    }
    return {**metadata, "points": question.points} if marked else metadata


def parse_due(text: str) -> datetime:
    """Read a due time in this machine's time zone; a date alone is the end of that day.

    Raises
    ------
    CourseError
        If it cannot be read.
    """
    if not re.fullmatch(r"\d{4}-\d\d-\d\d([ T]\d\d:\d\d)?", text.strip()):
        raise CourseError(f"“{text}” cannot be read as a due time. Write it like this: 2030-03-01 16:00")
    whole = text.strip() if ":" in text else f"{text.strip()} 23:59"
    try:
        return datetime.fromisoformat(whole).astimezone()
    except (OverflowError, ValueError):
        raise CourseError(f"“{text}” is not a date in the calendar.") from None
