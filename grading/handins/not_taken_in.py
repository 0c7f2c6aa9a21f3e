"""What could not be taken in, kept as it came with the reason; some of it only waits for a word of the instructor."""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path

from grading.course import plain
from grading.course.course import Course, write_safely
from grading.course.times import instant, of_file
from grading.handins.files import read_plain
from grading.handins.handin import UnusableError
from grading.handins.received import record_of

_KEPT: dict[str, type] = {"origin": str, "sentence": str, "sha256": str, "key": str, "when": str, "told": str}
_ANSWERS = "whose.json"


@dataclass(frozen=True)
class AskedAbout:
    """A file whose owner the instructor has to name."""

    key: str
    origin: str
    sentence: str
    path: Path
    when: datetime
    told: datetime | None

    @property
    def data(self) -> bytes:
        """The file as it came."""
        return read_plain(self.path)


def refuse(
    course: Course,
    origin: str,
    sentence: str,
    data: bytes | None,
    *,
    key: str = "",
    when: datetime | None = None,
    told: datetime | None = None,
) -> None:
    """Keep a file that could not be taken in, with the sentence that says why; with `key`, as a question."""
    digest = hashlib.sha256(data if data is not None else origin.encode()).hexdigest()
    name = re.sub(r"[^A-Za-z0-9._-]+", "_", origin)[-60:].lstrip(".") or "file"
    mark = f"{digest[:12]}-{hashlib.sha256(origin.encode()).hexdigest()[:6]}"
    folder = _folder(course)
    if data is not None:
        write_safely(folder / f"{mark}_{name}", data, mode=0o444)
    about = {"origin": origin, "sentence": sentence, "sha256": digest, "key": key}
    about |= {"when": when.isoformat() if when else "", "told": told.isoformat() if told else ""}
    write_safely(folder / f"{mark}.json", json.dumps(about, ensure_ascii=False, indent=1))


class Refused:
    """What could not be taken in before, listed once while many files come in."""

    def __init__(self, course: Course) -> None:
        self._by_start: dict[str, list[Path]] = {}
        for path in sorted(_folder(course).glob("*.json")):
            self._by_start.setdefault(path.name.partition("-")[0], []).append(path)

    def knows(self, sha256: str) -> bool:
        """Tell whether a file may be on the list."""
        return sha256[:12] in self._by_start

    def forget(self, origin: str, sha256: str) -> None:
        """Take a file off the list of those not taken in, once it could be, perhaps under a new name."""
        for path in self._by_start.get(sha256[:12], ()):
            was = record_of(path, _KEPT).get("origin", origin)
            if was == origin or not Path(was.partition(" > ")[0]).exists():
                _forget(path)


def _forget(path: Path) -> None:
    for each in list(path.parent.glob(f"{path.stem}*")):
        each.unlink()


def refusals(course: Course) -> list[str]:
    """Return a sentence for each file that could not be taken in."""
    found = []
    for path in sorted(_folder(course).glob("*.json")):
        about = record_of(path, _KEPT)
        origin, sentence = about.get("origin", str(path)), about.get("sentence", "this record of a file is damaged")
        found.append(f"{origin}: {sentence}")
    return found


def key_of(names: Sequence[str], data: bytes) -> str:
    """Return how a file is called in the question whose it is: the same for the same file in another export."""
    own = [name for name in names if not name.lower().endswith(".zip")][-2:]  # an export has another name each time
    return hashlib.sha256("/".join(own).encode("utf-8", "replace") + b"\0" + data).hexdigest()[:8]


def open_questions(course: Course) -> list[AskedAbout]:
    """Return the files whose owners are to be named."""
    found = (_asked(path) for path in sorted(_folder(course).glob("*.json")))
    return [each for each in found if each is not None]


def _asked(path: Path) -> AskedAbout | None:
    about = record_of(path, _KEPT)
    file = next((each for each in path.parent.glob(f"{path.stem}_*") if each.is_file()), None)
    if not about.get("key") or file is None:
        return None
    when, told = (instant(partial(datetime.fromisoformat, about.get(name, ""))) for name in ("when", "told"))
    return AskedAbout(about["key"], about["origin"], about["sentence"], file, when or of_file(file), told)


def keep_answer(course: Course, key: str, badge: str) -> None:
    """Write down whose a file is; its question is answered."""
    answers = answers_given(course) | {key: badge}
    write_safely(_folder(course).parent / _ANSWERS, json.dumps(answers, indent=1))


def close(course: Course, key: str) -> None:
    """Take a question that was answered off the list."""
    for path in sorted(_folder(course).glob("*.json")):
        if record_of(path, _KEPT).get("key") == key:
            _forget(path)


def answers_given(course: Course) -> dict[str, str]:
    """Return whose the files are that were asked about, by key."""
    try:
        found = json.loads(read_plain(_folder(course).parent / _ANSWERS, 10_000_000).decode("utf-8"))
    except (UnusableError, ValueError, RecursionError):
        return {}
    words = found.items() if isinstance(found, dict) else ()
    return {plain.line(key): badge for key, badge in words if isinstance(badge, str)}


def listed(course: Course) -> Iterator[str]:
    """Give a sentence for each file whose owner is to be named."""
    for each in open_questions(course):
        yield f"{each.key}: {each.origin}: {each.sentence}"


def _folder(course: Course) -> Path:
    return course.root / "received" / "not_taken_in"
