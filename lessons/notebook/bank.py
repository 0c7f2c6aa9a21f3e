"""Finds a question by its id: practice questions here, graded ones where their keys are at home."""

from __future__ import annotations

import functools
import importlib
import importlib.util
import json
import pkgutil
import re
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from lessons import practice
from lessons.questions.progress import Progress
from lessons.questions.question import Question, QuestionSheet, sheet_from_data
from lessons.questions.repetition import REFRESHER
from lessons.units.readout import counted

# Graded questions live with the instructor's side, which the wheel leaves out. It is looked up by name, so that the
# lessons work without it: an apprentice with the wheel has no keys, one with a clone works alone with full replies.
GRADED = "grading.workorders"
RELEASED = "workorder.json"
PACKAGE = Path(practice.__file__).parents[1]  # where the notebooks lie
_DAMAGED = f"The file {RELEASED} beside this notebook is damaged: unpack the zip once more."
_NO_NUMBERS = (
    "Your numbers are not in what the exchange gave you. They come in the zip that your instructor sends you. Unpack "
    "it into this folder, over what is here, and open the lesson again."
)


@dataclass(frozen=True)
class Lesson:
    """A lesson as the notebooks know it: its topic, its notebook, the words it explains, its practice questions."""

    topic: str
    notebook: str
    terms: Mapping[str, str]
    questions: tuple[Question, ...]
    module: str  # the dotted name of its practice module

    @property
    def title(self) -> str:
        """Number and title, as every page names the lesson."""
        return title_of(self.notebook)


@functools.cache
def title_of(notebook: str) -> str:
    """Return number and title of a lesson from its own heading; for a notebook of somebody else, its name in words.

    >>> title_of("17_air_supply_speed_and_failure"), title_of("90_our_own")
    ('17 Air: supply, speed and failure', '90 our own')
    """
    path = PACKAGE / f"{notebook}.ipynb"
    if not path.is_file():
        return notebook.replace("_", " ")
    first = json.loads(path.read_text(encoding="utf-8"))["cells"][0]
    return "".join(first["source"]).partition("\n")[0].removeprefix("# ").replace(" · ", " ")


@functools.cache
def lessons() -> tuple[Lesson, ...]:
    """Return every lesson, in order."""
    rooms = [found.name for found in pkgutil.iter_modules(practice.__path__, f"{practice.__name__}.") if found.ispkg]
    paths = [(room, importlib.import_module(room).__path__) for room in rooms]
    names = [found.name for room, path in paths for found in pkgutil.iter_modules(path, f"{room}.")]
    modules = {name.rpartition(".")[2]: importlib.import_module(name) for name in names}
    found = [Lesson(topic, m.LESSON, m.TERMS, m.QUESTIONS, m.__name__) for topic, m in modules.items()]
    return tuple(sorted(found, key=lambda lesson: lesson.notebook))


@functools.cache
def practice_questions() -> dict[str, Question]:
    """Return every practice question by id, in the order of the lessons."""
    return {question.id: question for lesson in lessons() for question in lesson.questions}


def earlier_questions(topic: str) -> dict[str, Question]:
    """Return the practice questions of the lessons before this one; of all lessons for the refresher."""
    if topic == REFRESHER:
        return practice_questions()
    here = next(lesson.notebook for lesson in lessons() if lesson.topic == topic)
    return {q.id: q for lesson in lessons() if lesson.notebook < here for q in lesson.questions}


def is_work_order(question_id: str) -> bool:
    """Tell whether a question is graded, by its id.

    >>> is_work_order("installed.w1"), is_work_order("installed.flow"), is_work_order("installed.again1")
    (True, False, False)
    """
    return re.fullmatch(r"\w+\.w\d+", question_id) is not None


@functools.cache
def graded_questions() -> dict[str, Question]:
    """Return every graded question by id; none where the instructor's side is not installed."""
    if importlib.util.find_spec(GRADED.partition(".")[0]) is None:
        return {}
    questions: dict[str, Question] = importlib.import_module(GRADED).questions()
    return questions


def question(question_id: str) -> Question | None:
    """Return the question with its key, if this machine has it."""
    return practice_questions().get(question_id) or graded_questions().get(question_id)


def on_the_list(folder: Path, badge: str) -> bool:
    """Tell whether a badge may work here: always, but for a work order that knows other badges only."""
    try:
        order = released(folder)
    except ValueError:
        return True  # the questions will say what is wrong
    return not order or not order["badges"] or badge in order["badges"]


def released(folder: Path) -> dict[str, Any] | None:
    """Return the work order that lies in a folder, or None.

    Raises
    ------
    ValueError
        If it is broken.
    """
    path = folder / RELEASED
    if not path.exists():
        return None
    try:
        order = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        order = None
    if not (isinstance(order, dict) and isinstance(order.get("badges"), dict)):
        raise ValueError(_DAMAGED)
    return order


def _sheets(order: dict[str, Any], badge: str) -> list[QuestionSheet]:
    """Return the sheets of one badge, each with its picture, which the work order holds once for all badges."""
    given = order["badges"][badge]["sheets"]
    return [sheet_from_data(d | {"svg": order["pictures"][d["picture"]]} if "picture" in d else d) for d in given]


def released_sheet(folder: Path, badge: str, question_id: str) -> QuestionSheet | None:
    """Return the sheet the instructor released for a badge, or None where no release lies in the folder.

    Raises
    ------
    ValueError
        If there is a release, but it is broken or knows no such badge or question.
    """
    order = released(folder)
    if order is None:
        return None
    if not order["badges"]:
        raise ValueError(_NO_NUMBERS)
    if badge not in order["badges"]:
        raise ValueError(f"Badge {badge} is not on this work order's list. Check the badge in lesson 00.")
    try:
        sheets = _sheets(order, badge)
    except (AttributeError, KeyError, IndexError, RecursionError, TypeError, ValueError):
        raise ValueError(_DAMAGED) from None
    for sheet in sheets:
        if sheet.id == question_id:
            return sheet
    if not is_work_order(question_id):
        return None
    raise ValueError(f"Your work order has no question {question_id}. Ask your instructor for a new copy.")


def why_missing(question_id: str) -> str:
    """Say what to do where a question is not to be found."""
    topic = question_id.partition(".")[0]
    if any(lesson.topic == topic for lesson in lessons()) and is_work_order(question_id):
        return (
            f"The numbers of work order {question_id} come from your instructor: put this notebook and the file "
            f"{RELEASED} from the work order's zip in one folder."
        )
    return f"There is no question named “{question_id}”. Press Ctrl+Z until the first line of the cell is as it was."


def answered_orders(topic: str, known: Progress) -> list[str]:
    """Return the work order questions of a lesson that this badge has answered."""
    orders = [each for each in known.answers if each.startswith(f"{topic}.") and is_work_order(each)]
    return [each for each in orders if known.answered(each)]


def to_solve(questions: Iterable[Question]) -> list[str]:
    """Return the names of the questions that can be solved: a prediction is neither right nor wrong."""
    return [each.id for each in questions if each.kind != "predict"]


def how_many_solved(ids: Iterable[str], known: Progress, missing: Collection[str] = ()) -> int:
    """Count the questions that are solved; one whose answer is missing from the lesson's file is not."""
    return sum(known.of(each).solved and each not in missing for each in ids)


def topic_tally(topic: str, known: Progress, missing: Collection[str] = ()) -> str:
    """Tell how many questions of a lesson are solved, and how many there are in all lessons.

    Those whose answers are missing from the lesson's file do not count.
    """

    def solved(prefix: str) -> str:
        ids = [each for each in to_solve(practice_questions().values()) if each.startswith(prefix)]
        return f"{how_many_solved(ids, known, missing)} of {len(ids)}"

    if topic == REFRESHER:
        return f"all lessons: {solved('')} solved"
    orders = [each for each in answered_orders(topic, known) if each not in missing]
    answered = f", {counted(len(orders), 'work order question')} answered" if orders else ""
    return f"this lesson: {solved(f'{topic}.')} practice solved{answered} · all lessons: {solved('')} solved"
