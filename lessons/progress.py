"""What this apprentice has answered: one line of JSON for each event, appended, never rewritten.

Appending keeps two open lessons from overwriting each other, and a line cut short by a crash costs that line only.
"""

from __future__ import annotations

import json
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any

FILE = ".progress.jsonl"
WORKING_COPY = ".lessons"  # the hidden folder that marks a working copy made by the launcher
ALONE = "alone"


@dataclass(frozen=True)
class Record:
    """What is known of one question: tries on the present numbers, and how it ended."""

    turn: int = 0
    tries: int = 0
    texts: tuple[str, ...] = ()
    old_texts: tuple[str, ...] = ()
    solved: bool = False
    recorded: bool = False
    tags: tuple[str, ...] = ()
    last: str = ""


@dataclass(frozen=True)
class Progress:
    """Who works here, in which units, and what became of each question."""

    badge: str = ALONE
    units: str = "si"
    records: Mapping[str, Record] = field(default_factory=dict)
    places: Mapping[str, str] = field(default_factory=dict)  # a lesson's place for repetition -> question

    def of(self, question_id: str) -> Record:
        """Return the record of one question; an empty one if it was never answered."""
        return self.records.get(question_id, Record())


def home(folder: Path) -> Path:
    """Return the folder whose progress counts: the working copy a lesson lies in, else the lesson's own folder."""
    return next((each for each in (folder, *folder.parents) if (each / WORKING_COPY).is_dir()), folder)


def load(folder: Path) -> Progress:
    """Read the progress of a folder; lines that cannot be read are passed over."""
    progress = Progress()
    try:
        text = (folder / FILE).read_text(encoding="utf-8", errors="replace")
    except OSError:
        return progress
    events: dict[str, list[dict[str, Any]]] = {}
    places: dict[str, str] = {}
    badge, units = progress.badge, progress.units
    for line in text.split("\n"):  # not splitlines, which also splits at line breaks within an answer
        event = _event(line)
        what, question = event.get("what"), event.get("id")
        if what == "sign_on":
            badge, units = _word(event, "badge", badge), _word(event, "units", units)
        elif what in ("answer", "new") and isinstance(question, str):
            events.setdefault(question, []).append(event)
        elif what == "again" and isinstance(question, str):
            places[_word(event, "place")] = question
    records = {question: _record_of(each) for question, each in events.items()}
    return Progress(badge, units if units in ("si", "us") else "si", records, places)


def sign_on(folder: Path, badge: str, units: str) -> None:
    """Write down who works here and in which units."""
    _append(folder, {"what": "sign_on", "badge": badge, "units": units})


def record(folder: Path, question_id: str, text: str, tag: str, score: float) -> None:
    """Write down an answer that was read and judged."""
    _append(folder, {"what": "answer", "id": question_id, "text": text, "tag": tag, "score": score})


def new_numbers(folder: Path, question_id: str) -> None:
    """Write down that a question starts anew with the next variant."""
    _append(folder, {"what": "new", "id": question_id})


def put_in_place(folder: Path, place: str, question_id: str) -> None:
    """Write down that a question comes back at a lesson's place, with new numbers."""
    new_numbers(folder, question_id)
    _append(folder, {"what": "again", "place": place, "id": question_id})


def _record_of(events: Sequence[Mapping[str, Any]]) -> Record:
    """Return what a question's events come to; in lists, so that it takes twice as long for twice as many."""
    texts, old, tags = list[str](), list[str](), list[str]()
    turn, tries, solved, last = 0, 0, False, ""
    for event in events:
        if event["what"] == "new":
            old += texts
            turn, tries, last, texts = turn + 1, 0, "", []
            continue
        tags.append(_word(event, "tag"))
        texts.append(_word(event, "text"))
        tries += tags[-1] != "right"
        solved, last = solved or tags[-1] == "right", _word(event, "at")
    return Record(turn, tries, tuple(texts), tuple(old), solved, bool(texts), tuple(tags), last)


def _word(event: Mapping[str, Any], name: str, otherwise: str = "") -> str:
    value = event.get(name, otherwise)
    return value if isinstance(value, str) else otherwise


def _event(line: str) -> dict[str, Any]:
    try:
        event = json.loads(line)
    except (ValueError, RecursionError):
        return {}
    return event if isinstance(event, dict) else {}


def _append(folder: Path, event: dict[str, Any]) -> None:
    """Append one line with a single write, so that two writers cannot mix their lines."""
    line = json.dumps({"at": datetime.now().astimezone().isoformat(timespec="seconds"), **event}, ensure_ascii=False)
    handle = os.open(folder / FILE, os.O_WRONLY | os.O_CREAT | os.O_APPEND, 0o644)
    try:
        os.write(handle, ("\n" if _cut_short(folder) else "").encode() + line.encode("utf-8", "replace") + b"\n")
    finally:
        os.close(handle)


def _cut_short(folder: Path) -> bool:
    text = (folder / FILE).read_bytes()[-1:]
    return text not in (b"", b"\n")
