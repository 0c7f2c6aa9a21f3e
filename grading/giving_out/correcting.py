"""Takes corrected keys into what was given out, where apprentices saw the very same question."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from grading import workorders
from grading.course.course import Course, write_safely
from grading.given_out.decisions import to_mark_again
from grading.given_out.given_out import KEYS, Given, given_out
from grading.given_out.kept_question import kept
from grading.workorders import pool

_COMPARED = "compared.json"  # beside the givings-out of a lesson: what was found of the latest one
_SEEN = ("sheet", "names", "places")  # of a variant


def changes(course: Course, lesson: str) -> list[str]:
    """Tell which questions are no longer what was given out last; hand-ins are marked as it was given out."""
    latest = given_out(course, lesson).latest
    changed = [] if _same_code(course, latest) else _changed(course, latest)
    units = [
        f"{badge} ({given} was given out)"
        for badge, given in latest.units.items()
        if badge in course.roster and course.roster[badge].units != given
    ]
    said = []
    if changed:
        said.append(
            f"{lesson}: {', '.join(changed)} changed since {latest.day}. Hand-ins are marked by what was given out. "
            "If you corrected a key, mark --corrected marks these hand-ins with the new key."
        )
    if units:
        listed = ", ".join(units)
        said.append(f"{lesson}: roster.csv has other units than were given out: {listed}. Those given out count.")
    return said


def correct(course: Course, lesson: str, only: str = "") -> list[str]:
    """Put the keys as they are now, or one of them, in place of those given out; say for each that cannot be why.

    Hand-ins have to be marked again then.
    """
    said, changed = [], []
    for given in given_out(course, lesson).all:
        path = given.folder / KEYS
        data = json.loads(path.read_text(encoding="utf-8"))
        for number, (question, before, now) in enumerate(_pairs(course, given)):
            if only not in ("", question):
                continue
            changed.append(question)
            if now is None or _seen(before) != _seen(now):
                said.append(
                    f"{question}: what was given out on {given.day} was a different question from today's. "
                    "Apprentices are marked by the one they were given."
                )
            else:
                data["questions"][number] = now | {"dealt": before["dealt"], "points": before["points"]}
        write_safely(given.folder / f"{KEYS}.before", path.read_bytes(), mode=0o600)
        write_safely(path, json.dumps(data, ensure_ascii=False), mode=0o600)
    if only:
        to_mark_again(course, lesson, *changed)
    return list(dict.fromkeys(said))


def _same_code(course: Course, given: Given) -> bool:
    about = json.loads((given.folder / KEYS).read_text(encoding="utf-8")).get("source", {})
    return bool(about.get("made_by") == pool.made_by(course))


def _changed(course: Course, given: Given) -> list[str]:
    """Return the questions that changed; found once for each state of the code, as all are worked out for it."""
    of = hashlib.sha256(pool.made_by(course).encode() + (given.folder / KEYS).read_bytes()).hexdigest()
    path = given.folder.with_name(_COMPARED)
    kept, changed = _compared(path)
    if kept == of:
        return changed
    found = [each for each, before, now in _pairs(course, given) if now is None or _apart(before) != _apart(now)]
    write_safely(path, json.dumps({"of": of, "changed": found}), mode=0o600, lasting=False)
    return found


def _compared(path: Path) -> tuple[str, list[str]]:
    """Return of what the last comparison was, and what had changed; nothing where that is not there, or damaged."""
    try:
        about = json.loads(path.read_text(encoding="utf-8"))
        return str(about["of"]), [str(each) for each in about["changed"]]
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return "", []


def _pairs(course: Course, given: Given) -> Iterator[tuple[str, Mapping[str, Any], dict[str, Any] | None]]:
    """Give each question's id, its data as given out, and as they would be now."""
    data = json.loads((given.folder / KEYS).read_text(encoding="utf-8"))
    known = workorders.questions() | {name: question for name, (_, question) in pool.pool(course).items()}
    for before in data["questions"]:
        question = known.get(before["id"])
        now = kept(question, given.units) | {"dealt": before["dealt"]} if question else None
        yield before["id"], before, now


def _apart(question: Mapping[str, Any]) -> dict[str, Any]:
    """Return a question without the points: they may be the instructor's own."""
    plain = {name: value for name, value in question.items() if name not in ("points", "variants")}
    return plain | {"variants": [_without_points(each) for each in question["variants"]]}


def _seen(question: Mapping[str, Any]) -> Any:
    shown = (_without_points(each) for each in question["variants"])
    return [{units: [one[name] for name in _SEEN] for units, one in each.items()} for each in shown]


def _without_points(variant: Mapping[str, Any]) -> dict[str, Any]:
    return {
        units: one | {"sheet": {name: value for name, value in one["sheet"].items() if name != "points"}}
        for units, one in variant.items()
    }
