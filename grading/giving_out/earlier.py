"""Takes over lessons that an earlier version of this program gave out without keeping their keys."""

from __future__ import annotations

import json
from datetime import UTC, datetime
from typing import Any

from grading import workorders
from grading.course.course import Course, write_safely
from grading.course.folder_texts import FEEDBACK_SETTINGS, FOLDER_SETTINGS, NBGRADER_SETTINGS
from grading.course.roster import Apprentice
from grading.given_out.given_out import KEYS, is_kept, keys_of
from grading.given_out.judged_answers import posed
from grading.giving_out.dealing import deal
from grading.giving_out.put_out import commit
from lessons.questions.question import Question

# What an earlier version of this program called the folders of a course.
_FORMER = {
    "source": "lessons",
    "release": "as_sent",
    "submitted": "handed_in",
    "autograded": "marked",
    "feedback": "handed_back",
    "handout": "to_send",
    "report": "tables",
    "received/not_filed": "received/not_taken_in",
}
# By what each part of the marking library's settings is known in a course's own file.
_SIGNS = {"source_directory": FOLDER_SETTINGS, "WithoutKeys": FEEDBACK_SETTINGS}


def settle_folders(course: Course) -> None:
    """Give an earlier course the folders and settings of today; cut short, it goes on the next time."""
    path = course.root / "nbgrader_config.py"
    settings = path.read_text(encoding="utf-8", errors="replace") if path.exists() else ""
    missing = [text for sign, text in _SIGNS.items() if sign not in settings]
    if not missing:
        return
    if FOLDER_SETTINGS in missing:
        for before, now in _FORMER.items():
            if (course.root / before).is_dir() and not (course.root / now).exists():
                (course.root / before).rename(course.root / now)
    write_safely(path, "\n".join([settings.rstrip(), *missing]) if settings else NBGRADER_SETTINGS)


def take_over(course: Course) -> None:
    """Keep the keys of lessons given out before there were any kept, where every sheet is still what was given out."""
    for lesson in course.lessons():
        if is_kept(course, lesson):
            continue
        folder = course.root / "as_sent" / lesson
        order = json.loads((folder / "workorder.json").read_text(encoding="utf-8"))
        questions = _questions(order)
        if not questions or not all(_as_given(order, each) for each in questions):
            continue
        people = [Apprentice(badge, "", about["units"]) for badge, about in order["badges"].items()]
        when = datetime.fromtimestamp((folder / "workorder.json").stat().st_mtime, UTC).isoformat()
        dealt = deal(questions, list(order["badges"]), "", {})
        keys = keys_of(questions, people, dealt) | {"lesson": lesson, "when": when, "source": {}}
        notebook = (folder / f"{lesson}.ipynb").read_bytes()
        kept = {KEYS: json.dumps(keys).encode(), f"{lesson}.ipynb": notebook}
        commit(course, lesson, "0-earlier", kept | {"workorder.json": (folder / "workorder.json").read_bytes()})


def _questions(order: dict[str, Any]) -> list[Question]:
    """Return the questions of a work order; none if one of them is gone."""
    ids = dict.fromkeys(sheet["id"] for about in order["badges"].values() for sheet in about["sheets"])
    known = workorders.questions()
    return [known[each] for each in ids] if ids.keys() <= known.keys() else []


def _as_given(order: dict[str, Any], question: Question) -> bool:
    """Tell whether each badge would be given the very sheet it was given."""
    return all(
        _seen(sheet) == _seen(json.loads(json.dumps(posed(question, badge, about["units"]).sheet.as_data())))
        for badge, about in order["badges"].items()
        for sheet in about["sheets"]
        if sheet["id"] == question.id
    )


def _seen(sheet: dict[str, Any]) -> dict[str, Any]:
    return {name: value for name, value in sheet.items() if name not in ("svg", "picture")}
