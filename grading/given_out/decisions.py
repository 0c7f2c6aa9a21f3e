"""What the instructor decided about a lesson's questions: left out, points, withdrawn, another tolerance or answer.

It lies in one file of the course, beside what was given out and not in it: a decision can be taken back, and what was
given out stays as it was.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import asdict, dataclass, fields, replace
from typing import Any

from grading.course.course import Course, CourseError, write_safely

FILE = "decisions.json"
NOBODY, EVERYBODY = "nobody", "everybody"  # who has the points of a question that was withdrawn


@dataclass(frozen=True)
class Decision:
    """What was decided about one question; what is None or empty is as the question has it."""

    points: float | None = None
    asked: bool | None = None  # whether it goes out
    withdrawn: str = ""  # nobody or everybody
    tolerance: float | None = None
    accepted: tuple[str, ...] = ()  # names of options that count as right too


def decisions(course: Course, lesson: str) -> Mapping[str, Decision]:
    """Return what was decided about the questions of a lesson, by question.

    Raises
    ------
    CourseError
        If the file is damaged.
    """
    return {question: _decision(said, course) for question, said in _all(course)["decided"].get(lesson, {}).items()}


def decide(course: Course, lesson: str, question: str, **said: Any) -> None:
    """Write down a decision; what is not named stays as it was decided before."""
    now = replace(decisions(course, lesson).get(question, Decision()), **said)
    usual = asdict(Decision())
    kept = {name: value for name, value in asdict(now).items() if value != usual[name]}
    whole = _all(course)
    of_lesson = {**whole["decided"].get(lesson, {}), question: kept}
    whole["decided"][lesson] = {name: each for name, each in of_lesson.items() if each}
    _write(course, whole)


def to_mark_again(course: Course, lesson: str, *questions: str) -> list[str]:
    """Note that hand-ins have to be marked again for some questions; return all that are noted, until it was done."""
    whole = _all(course)
    noted = list(dict.fromkeys([*whole["to_mark"].get(lesson, []), *questions]))
    if questions:
        _write(course, whole | {"to_mark": {**whole["to_mark"], lesson: noted}})
    return noted


def marked_again(course: Course, lesson: str) -> None:
    """Note that all hand-ins of a lesson are marked by what is decided."""
    whole = _all(course)
    if whole["to_mark"].pop(lesson, None):
        _write(course, whole)


def _write(course: Course, whole: Mapping[str, Any]) -> None:
    write_safely(course.root / FILE, json.dumps(whole, ensure_ascii=False, indent=1) + "\n", mode=0o600)


def _all(course: Course) -> dict[str, dict[str, Any]]:
    path = course.root / FILE
    try:
        whole = json.loads(path.read_text(encoding="utf-8")) if path.exists() else {}
        found: dict[str, dict[str, Any]] = {name: dict(whole.get(name, {})) for name in ("decided", "to_mark")}
        right = all(isinstance(whole.get(name, {}), dict) for name in found)
        right = right and all(isinstance(one, dict) for each in found["decided"].values() for one in each.values())
        right = right and all(isinstance(one, str) for each in found["to_mark"].values() for one in each)
    except (ValueError, TypeError, AttributeError, RecursionError):
        right = False
    if not right:
        raise _damaged(course)
    return found


def _decision(said: Mapping[str, Any], course: Course) -> Decision:
    known = {each.name: said[each.name] for each in fields(Decision) if each.name in said}
    try:
        numbers = [float(known[name]) for name in ("points", "tolerance") if known.get(name) is not None]
        names = tuple(map(str, known.pop("accepted", ())))
    except (TypeError, ValueError):
        raise _damaged(course) from None
    if any(not 0 < each < 1e6 for each in numbers) or known.get("withdrawn", "") not in ("", NOBODY, EVERYBODY):
        raise _damaged(course)
    return Decision(**known, accepted=names)


def _damaged(course: Course) -> CourseError:
    return CourseError(
        f"{course.root / FILE} is damaged. It says which questions you left out, withdrew or changed. Put it back "
        "from a backup, or delete it, decide anew, and use mark --again. Nothing was changed."
    )
