"""Gives a lesson out: locked cells, this class's numbers as data, one zip; keys stay here."""

from __future__ import annotations

import hashlib
import io
import json
import re
import shutil
import zipfile
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import Any

from grading import workorders
from grading.course import Course, CourseError, write_safely
from grading.gradebook import opened, set_due
from grading.handin import answer_grade_id, answered, ask_grade_id, asked
from grading.marking import WRITTEN, posed
from grading.roster import Apprentice
from lessons.question import Posed, Question
from lessons.still import drawing_of

DATA = "workorder.json"


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


def release(course: Course, lesson: str, notebook: Path, due: datetime | None = None) -> Path:
    """Give a lesson out to the class list; return the zip to send.

    Raises
    ------
    CourseError
        If the lesson has no graded questions, or the gradebook refuses.
    """
    questions = workorders.in_notebook(notebook)
    if not questions:
        raise CourseError(
            f"Lesson {lesson} has no work order, so there is nothing to hand in; use it as it is."
        )
    with opened(course):  # a gradebook out of reach is told plainly here; nbgrader would guess at the cause
        pass
    source = course.root / "source" / lesson
    prepared = prepare(json.loads(notebook.read_text(encoding="utf-8")), lesson, questions)
    write_safely(source / f"{lesson}.ipynb", json.dumps(prepared, ensure_ascii=False, indent=1) + "\n")
    write_safely(source / DATA, work_order(lesson, questions, course.roster.values()))
    generate(course, lesson)
    if due:
        _set_due(course, lesson, due)
    return _zip(course, lesson)


def work_order(lesson: str, questions: Iterable[Question], people: Iterable[Apprentice]) -> str:
    """Return the numbers and words of each badge and the pictures as JSON: what may be seen, and no key.

    A picture is kept once for all badges that have it, by a name that says nothing but which one it is.
    """
    asked_here, pictures = list(questions), _Pictures()
    badges = {
        person.badge: {
            "units": person.units,
            "sheets": [_seen(posed(question, person.badge, person.units), pictures) for question in asked_here],
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
    notebook["metadata"] = {**notebook.get("metadata", {}), "work_order": {"lesson": lesson}}
    for cell in notebook["cells"]:
        source = "".join(cell["source"])
        metadata = cell.setdefault("metadata", {})
        split = answered(source) if cell["cell_type"] == "code" else None
        metadata["deletable"] = False
        if split is None:
            metadata["editable"] = False
        question = graded.get(split[0] if split else asked(source))
        if question:
            metadata["nbgrader"] = _nbgrader(question, is_answer=split is not None)
    return notebook


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


def generate(course: Course, lesson: str) -> None:
    """Have nbgrader write the release and enter the lesson into the gradebook."""
    from grading.nbgrader_calls import run  # takes two seconds to load, which marking does not need

    shutil.rmtree(course.root / "release" / lesson, ignore_errors=True)
    run(course, "GenerateAssignment", lesson)


def _set_due(course: Course, lesson: str, due: datetime) -> None:
    with opened(course) as connection:
        set_due(connection, lesson, due)


def _zip(course: Course, lesson: str) -> Path:
    """Pack the release; the same content gives the same bytes."""
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for path in sorted((course.root / "release" / lesson).iterdir()):
            entry = zipfile.ZipInfo(f"{lesson}/{path.name}", date_time=(2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o644 << 16
            archive.writestr(entry, path.read_bytes())
    target = course.root / "handout" / f"{lesson}.zip"
    write_safely(target, packed.getvalue())
    return target


def parse_due(text: str) -> datetime:
    """Read a due time in this machine's time zone.

    Raises
    ------
    CourseError
        If it cannot be read.
    """
    if not re.fullmatch(r"\d{4}-\d\d-\d\d([ T]\d\d:\d\d)?", text.strip()):
        raise CourseError(f"“{text}” cannot be read as a due time. Write it like this: 2030-03-01 16:00")
    try:
        return datetime.fromisoformat(text.strip()).astimezone()
    except (OverflowError, ValueError):
        raise CourseError(f"“{text}” is not a day and time of the calendar.") from None
