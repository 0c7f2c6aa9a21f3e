"""What this apprentice has answered: one line of JSON for each event, appended, never rewritten.

Appending keeps two open lessons from overwriting each other, and a line cut short by a crash costs that line only.
"""

from __future__ import annotations

import functools
import json
import os
import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import asdict, dataclass, field
from datetime import datetime
from itertools import takewhile
from pathlib import Path
from typing import Any

from lessons.questions.renamed import present_id

FILE = ".progress.jsonl"
WORKING_COPY = ".lessons"  # the hidden folder that marks a working copy made by the launcher
ALONE = "alone"
UNITS = ("si", "us")
_BADGE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,19}")


@dataclass(frozen=True)
class Variant:
    """With whose numbers a question was shown: an answer to it is judged by them, whoever has signed on since."""

    question: str
    badge: str = ALONE
    units: str = ""  # "" where the question reads the same in both unit sets
    turn: int = 0

    def as_data(self) -> dict[str, Any]:
        """Return plain data for JSON."""
        return asdict(self)

    def same_numbers(self, other: Variant) -> bool:
        """Tell whether both have the same numbers; what is not known of an old answer stands for any."""
        units = self.units == other.units or "" in (self.units, other.units)
        badge = self.badge == other.badge or "" in (self.badge, other.badge)
        return units and badge and self.turn == other.turn


def variant_from_data(data: Any) -> Variant | None:
    """Return the variant that `Variant.as_data` described; None if it cannot be one."""
    if not (isinstance(data, Mapping) and isinstance(data.get("question"), str) and isinstance(data.get("turn"), int)):
        return None
    units = data.get("units")
    return Variant(present_id(data["question"]), _word(data, "badge"), units if units in UNITS else "", data["turn"])


@dataclass(frozen=True)
class QuestionHistory:
    """What is known of one question: tries on the present numbers, and how it ended."""

    turn: int = 0
    tries: int = 0
    texts: tuple[str, ...] = ()
    old_texts: tuple[str, ...] = ()
    solved: bool = False
    recorded: bool = False
    tags: tuple[str, ...] = ()
    last: str = ""
    hints: int = 0  # asked for on the present numbers


def wrong_in_a_row(tags: Sequence[str]) -> int:
    """Count the wrong tries since the last right one; what could not be read, or is only a prediction, is none.

    >>> wrong_in_a_row(["root_left_out", "right", "unreadable", "half_root"])
    1
    """
    tried = [tag for tag in tags if tag not in ("unreadable", "recorded")]
    return sum(1 for _ in takewhile(lambda tag: tag != "right", reversed(tried)))


@dataclass(frozen=True)
class Answered:
    """One answer as it was written down; `sure` is None where nothing was said of it."""

    variant: Variant
    text: str
    tag: str
    at: str
    sure: bool | None = None


@dataclass(frozen=True)
class Progress:
    """Who works here, in which units, and what became of each question."""

    badge: str = ALONE
    units: str = "si"
    answers: Mapping[str, Sequence[Answered]] = field(default_factory=dict)
    turns: Mapping[str, int] = field(default_factory=dict)  # question -> how often it had new numbers
    places: Mapping[str, str] = field(default_factory=dict)  # a lesson's place for repetition -> question
    hints: Mapping[str, Sequence[Answered]] = field(default_factory=dict)
    practice_goes: bool = True  # whether the practice history goes along with a hand-in

    def present(self, question_id: str) -> Variant:
        """Return the numbers a question would be shown with now."""
        return Variant(question_id, self.badge, self.units, self.turns.get(question_id, 0))

    def of(self, question_id: str) -> QuestionHistory:
        """Return the record of one question on its present numbers; an empty one if it was never answered."""
        return self.on(self.present(question_id))

    def on(self, variant: Variant) -> QuestionHistory:
        """Return the record of a question as it stands for one variant; what was answered to others is old."""
        every = self.answers.get(variant.question, ())
        if not every and variant.question not in self.hints:  # most questions, whenever they are counted
            return QuestionHistory(turn=variant.turn)
        here, elsewhere = list[Answered](), list[Answered]()
        for each in every:
            (here if each.variant.same_numbers(variant) else elsewhere).append(each)
        this_turn = [each for each in every if each.variant.turn == variant.turn]
        return QuestionHistory(
            turn=variant.turn,
            tries=sum(each.tag != "right" for each in here),
            texts=tuple(each.text for each in here),
            old_texts=tuple(each.text for each in elsewhere),
            solved=any(each.tag == "right" for each in every),
            recorded=bool(this_turn),
            tags=tuple(each.tag for each in every),
            last=this_turn[-1].at if this_turn else "",
            hints=sum(each.variant.same_numbers(variant) for each in self.hints.get(variant.question, ())),
        )

    def answered(self, question_id: str) -> bool:
        """Tell whether whoever works here has answered a question, in whichever units."""
        return any(each.variant.badge in ("", self.badge) for each in self.answers.get(question_id, ()))


def is_badge(text: str) -> bool:
    """Tell whether a text can be a badge: 1 to 20 letters, digits, hyphens or underscores, none of these two in front.

    >>> is_badge("4711"), is_badge("-4711"), is_badge("47 11")
    (True, False, False)
    """
    return _BADGE.fullmatch(text) is not None


def why_no_badge(text: str) -> str:
    """Say why a text cannot be a badge."""
    if not text:
        return "Type your badge number first. Without an instructor, any number will do."
    return f"“{text}” cannot be a badge number: use 1 to 20 letters, digits, hyphens or underscores."


def home(folder: Path) -> Path:
    """Return the folder whose progress counts: the working copy a lesson lies in, else the lesson's own folder."""
    return next((each for each in (folder, *folder.parents) if (each / WORKING_COPY).is_dir()), folder)


def load(folder: Path) -> Progress:
    """Read the progress of a folder; lines that cannot be read are passed over."""
    file = folder / FILE
    try:
        found = file.stat()
    except OSError:
        return Progress()
    return _read(file, found.st_mtime_ns, found.st_size)


@functools.lru_cache(maxsize=4)
def _read(file: Path, _modified: int, _size: int) -> Progress:
    """Read a file once as long as it stays as it is: an answer asks for it six times, and lines are only ever added."""
    return from_lines(_lines(file))


def from_lines(lines: Iterable[str]) -> Progress:
    """Read a history; lines that cannot be read are passed over."""
    answers: dict[str, list[Answered]] = {}
    hints: dict[str, list[Answered]] = {}
    turns: dict[str, int] = {}
    places: dict[str, str] = {}
    badge, units, practice_goes = ALONE, "si", True
    for event in map(_event, lines):
        what, question_id = event.get("what"), event.get("id")
        if what == "sign_on":
            badge, units = _word(event, "badge", badge), _word(event, "units", units)
        elif what == "practice":
            practice_goes = event.get("goes") is not False
        elif not isinstance(question_id, str):
            continue
        elif what == "new":
            turns[question_id] = turns.get(question_id, 0) + 1
        elif what == "again":
            places[_word(event, "place")] = question_id
        elif what in ("answer", "hint"):
            kept = answers if what == "answer" else hints
            kept.setdefault(question_id, []).append(_answered(event, turns.get(question_id, 0)))
    return Progress(badge, units if units in UNITS else "si", answers, turns, places, hints, practice_goes)


def _lines(file: Path) -> list[str]:
    try:
        text = file.read_text(encoding="utf-8", errors="replace")
    except OSError:
        return []
    return text.split("\n")  # not splitlines, which also splits at line breaks within an answer


def keep_sign_on(folder: Path, badge: str, units: str) -> None:
    """Write down who works here and in which units."""
    _append(folder, {"what": "sign_on", "badge": badge, "units": units})


def keep_practice_choice(folder: Path, goes: bool) -> None:
    """Write down whether the practice history goes along with a hand-in."""
    _append(folder, {"what": "practice", "goes": goes})


def record(
    folder: Path,
    question_id: str,
    text: str,
    tag: str,
    score: float,
    variant: Variant | None = None,
    *,
    sure: bool | None = None,
) -> None:
    """Write down an answer that was read and judged, with the variant it was judged by, and how sure it was given."""
    event = {"what": "answer", "id": question_id, "text": text, "tag": tag, "score": score}
    said = {} if sure is None else {"sure": sure}
    _append(folder, event | said | ({"variant": variant.as_data()} if variant else {}))


def record_hint(folder: Path, variant: Variant) -> None:
    """Write down that a hint was asked for."""
    _append(folder, {"what": "hint", "id": variant.question, "variant": variant.as_data()})


def new_numbers(folder: Path, question_id: str) -> None:
    """Write down that a question starts anew with the next variant."""
    _append(folder, {"what": "new", "id": question_id})


def put_in_place(folder: Path, place: str, question_id: str) -> None:
    """Write down that a question comes back at a lesson's place, with new numbers."""
    new_numbers(folder, question_id)
    _append(folder, {"what": "again", "place": place, "id": question_id})


def _answered(event: Mapping[str, Any], turn: int) -> Answered:
    """Read an answer; one from before variants were written down counts for whoever works here."""
    variant = variant_from_data(event.get("variant")) or Variant(event["id"], badge="", turn=turn)
    text, tag, at = (_word(event, name) for name in ("text", "tag", "at"))
    sure = event.get("sure")
    return Answered(variant, text, tag, at, sure if isinstance(sure, bool) else None)


def _word(event: Mapping[str, Any], name: str, otherwise: str = "") -> str:
    value = event.get(name, otherwise)
    return value if isinstance(value, str) else otherwise


def _event(line: str) -> dict[str, Any]:
    try:
        event = json.loads(line)
    except (ValueError, RecursionError):
        return {}
    if not isinstance(event, dict):
        return {}
    return event | {"id": present_id(event["id"])} if isinstance(event.get("id"), str) else event


def _append(folder: Path, event: dict[str, Any]) -> None:
    """Append one line with a single write, so that two writers cannot mix their lines."""
    at = datetime.now().astimezone().isoformat(timespec="milliseconds")
    line = json.dumps({"at": at, **event}, ensure_ascii=False)
    handle = os.open(folder / FILE, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o644)
    try:
        os.write(handle, ("\n" if _cut_short(folder) else "").encode() + line.encode("utf-8", "replace") + b"\n")
    finally:
        os.close(handle)


def _cut_short(folder: Path) -> bool:
    text = (folder / FILE).read_bytes()[-1:]
    return text not in (b"", b"\n")
