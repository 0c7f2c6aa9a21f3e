"""The lesson's own file, as the page last saved it: which boxes hold an answer, and which numbers stand on the page.

The kernel learns the file's name from Jupyter. Where it does not, as under a test or in another editor, nothing is
known of a file, and nothing here claims otherwise.
"""

from __future__ import annotations

import functools
import json
import os
import re
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path
from typing import Any

from lessons.questions.progress import Progress, Variant, variant_from_data

VARIANT = "variant"  # in an output's metadata: the variant of the question shown there
_BOX = re.compile(r"%%answer[ \t]+(\S+)[ \t]*(?:\n|$)")
_BEGIN = re.compile(r"^begin\(", re.MULTILINE)


def path() -> Path | None:
    """Return the file of the lesson this kernel works for, if Jupyter has told its name and it is there."""
    name = os.environ.get("JPY_SESSION_NAME", "")
    return Path(name) if name.endswith(".ipynb") and Path(name).is_file() else None


def is_lesson() -> bool:
    """Tell whether the file is a lesson: one of its cells calls `begin`."""
    return any(_BEGIN.search(_source(cell)) for cell in _cells())


def shown_variant(question_id: str) -> Variant | None:
    """Return the variant of a question as the file shows it, from whichever kernel; None if it shows none."""
    for cell in _cells():
        if _source(cell).strip() == f'ask("{question_id}")':
            for output in cell.get("outputs") or ():
                metadata = output.get("metadata") if isinstance(output, dict) else None
                found = variant_from_data(metadata.get(VARIANT)) if isinstance(metadata, dict) else None
                if found:
                    return found
    return None


def missing(known: Progress, topic: str) -> set[str]:
    """Return the questions of a lesson whose answers are not in the file, though it was saved after they were given."""
    if not (lesson := path()) or not _cells():
        return set()
    saved, boxes = lesson.stat().st_mtime, _boxes()
    answered = [each for each in known.answers if each.startswith(f"{topic}.") and known.of(each).texts]
    return {each for each in answered if not boxes.get(each, "") and _before(known.of(each).last, saved)}


def _before(when: str, saved: float) -> bool:
    try:
        return datetime.fromisoformat(when).timestamp() < saved
    except ValueError:
        return False


def _boxes() -> Mapping[str, str]:
    """Return what stands in each answer box; of several for one question the filled one."""
    boxes: dict[str, str] = {}
    for cell in _cells():
        if found := _BOX.match(_source(cell)):
            boxes[found[1]] = boxes.get(found[1]) or _source(cell)[found.end() :].strip()
    return boxes


def _source(cell: Mapping[str, Any]) -> str:
    source = cell.get("source", "")
    return "".join(map(str, source)) if isinstance(source, list) else str(source)


def _cells() -> list[dict[str, Any]]:
    return _read(*stamp(path()))


def stamp(file: Path | None) -> tuple[Path | None, int, int]:
    """Return what changes when a file is written."""
    try:
        found = file.stat() if file else None
    except OSError:
        found = None
    return (file, found.st_mtime_ns, found.st_size) if found else (None, 0, 0)


@functools.lru_cache(maxsize=1)
def _read(file: Path | None, _modified: int, _size: int) -> list[dict[str, Any]]:
    try:
        cells = json.loads(file.read_text(encoding="utf-8"))["cells"] if file else []
    except (OSError, ValueError, KeyError, TypeError, RecursionError):
        return []
    return [cell for cell in cells if isinstance(cell, dict)] if isinstance(cells, list) else []
