"""What the lesson page asks the kernel: how the course stands, what a word finds or means, where the file is."""

from __future__ import annotations

import os
from collections.abc import Mapping
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

from lessons.jupyter import from_instructor
from lessons.jupyter.lesson_page import exchange, practice_history
from lessons.notebook import bank, hand_in_by, lesson_file, overview
from lessons.questions import progress
from lessons.questions.page_data import MIME
from lessons.questions.progress import Progress
from lessons.questions.repetition import due

CARDS = "job_cards/index.ipynb"
GLOSSARY = "glossary.ipynb"
REFRESHER = "refresher.ipynb"


class Told:
    """Plain data as the kernel's answer to the page."""

    def __init__(self, data: Any) -> None:
        self._data = data

    def _repr_mimebundle_(self, **_kwargs: Any) -> dict[str, Any]:
        return {MIME: self._data}

    def __repr__(self) -> str:
        return "data for the lesson page"


def course(topic: str) -> Told:
    """Tell what is done, comes back and deserves a second look in each lesson; and how the lesson `topic` stands."""
    home, here = _home(), Path.cwd()
    known = progress.load(home)
    waiting = set(due(bank.practice_questions(), known, datetime.now().astimezone()))
    shaky = overview.shaky_questions(known)
    hand_in = hand_in_by.all_due(home, known.badge) | hand_in_by.all_due(here, known.badge)
    rows = [
        _row(lesson, known, waiting, shaky, topic)
        | {"handIn": hand_in_by.in_words(hand_in[lesson.notebook]) if lesson.notebook in hand_in else ""}
        | {"path": _link(home, here, f"{lesson.notebook}.ipynb")}
        for lesson in bank.lessons()
    ]
    return Told(
        {
            "badge": "" if known.badge == progress.ALONE else known.badge,
            "units": known.units,
            "lessons": rows,
            "next": next((after for before, after in pairwise(rows) if before["here"]), None),
            "refresher": _link(home, here, REFRESHER),
            "due": len(waiting),
            "glossary": _link(home, here, GLOSSARY),
            "cards": _link(home, here, CARDS),
            "sent": _sent(home, here),
        }
    )


def words() -> Told:
    """Tell what each word of the glossary means, and the lesson that explains it."""
    home, here = _home(), Path.cwd()
    return Told(
        {
            term: {"said": said, "lesson": lesson.title, "path": _link(home, here, f"{lesson.notebook}.ipynb")}
            for lesson in bank.lessons()
            for term, said in lesson.terms.items()
        }
    )


def find(text: str) -> Told:
    """Tell what a word finds in lessons, glossary and cards."""
    from lessons.notebook import search  # here, because it loads the cards, and few look for anything

    home, here = _home(), Path.cwd()
    return Told(
        [
            {"kind": kind, "found": [_found(page, home, here) for page in pages]}
            for kind, pages in search.by_kind(text).items()
        ]
    )


def take_sign_on(badge: str, units: str) -> Told:
    """Write down who works here and in which units; say what is wrong with the badge, if anything is."""
    badge = badge.strip()
    if badge and not progress.is_badge(badge):
        return Told({"wrong": progress.why_no_badge(badge)})
    progress.keep_sign_on(_home(), badge or progress.ALONE, "us" if units == "us" else "si")
    return Told({"wrong": ""})


def where() -> Told:
    """Tell where the lesson's file lies on this machine, and which course's exchange takes it, if one does."""
    found = lesson_file.path()
    return Told({"file": str(found) if found else "", "exchange": exchange.course_of(Path.cwd())})


def practice_to_hand_in() -> Told:
    """Give the practice history that goes along with a hand-in, and the name the notebook keeps it under."""
    known = progress.load(_home())
    history = practice_history.to_hand_in(known, bank.practice_questions())
    return Told({"name": practice_history.METADATA, "goes": known.practice_goes, "history": history})


def let_practice_go(goes: bool) -> Told:
    """Write down whether the practice history goes along with hand-ins."""
    progress.keep_practice_choice(_home(), goes)
    return practice_to_hand_in()


def hand_in_lesson() -> Told:
    """Put the lesson as it was saved into the exchange."""
    at, wrong = exchange.put_into_exchange(Path.cwd())
    return Told({"sent": at, "wrong": wrong})


def _row(
    lesson: bank.Lesson, known: Progress, waiting: set[str], shaky: Mapping[str, str], topic: str
) -> dict[str, Any]:
    asked = bank.to_solve(lesson.questions)
    here = lesson.topic == topic
    lost = lesson_file.missing(known, topic) if here else set()
    return {
        "topic": lesson.topic,
        "title": lesson.title,
        "here": here,
        "solved": bank.how_many_solved(asked, known, lost),
        "asked": len(asked),
        "orders": len([each for each in bank.answered_orders(lesson.topic, known) if each not in lost]),
        "due": len(waiting.intersection(asked)),
        "again": [{"question": each, "idea": shaky[each]} for each in asked if each in shaky],
    }


def _sent(home: Path, here: Path) -> list[dict[str, str]]:
    """Tell what the instructor sent; what has come since the last look is fetched first."""
    from_instructor.fetch(home)
    return [
        {
            "title": each.lesson.replace("_", " "),
            "path": os.path.relpath(each.notebook, here).replace(os.sep, "/"),
            "page": each.page.relative_to(home).as_posix() if each.page else "",
        }
        for each in from_instructor.sent(home)
    ]


def _found(page: Any, home: Path, here: Path) -> dict[str, str]:
    path = os.path.normpath(f"job_cards/{page.path}")  # the search counts from the folder of the cards
    return {"title": page.title, "line": page.line, "path": _link(home, here, path)}


def _link(home: Path, here: Path, path: str) -> str:
    """Return the way from this lesson's folder; what lies beside the lesson, as in a work order, goes first."""
    if (here / Path(path).name).is_file():
        return Path(path).name
    return os.path.relpath(home / path, here).replace(os.sep, "/")


def _home() -> Path:
    return progress.home(Path.cwd())
