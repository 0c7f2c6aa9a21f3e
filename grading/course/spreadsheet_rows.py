"""A table as spreadsheets save it: comma, semicolon, tab or bar; with or without a mark first; UTF-8 or UTF-16."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Sequence
from functools import partial

_SEPARATORS = ",;\t|"
_MARKS = ((codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"), (codecs.BOM_UTF8, "utf-8-sig"))
_LINES = 20  # that are looked at to tell how the fields are divided
_MOST = 5_000_000  # bytes; a class of 10,000 has half a megabyte


class TableError(ValueError):
    """What was read is no table; its text is the rest of a sentence that begins with the file."""


def rows_of(data: bytes) -> list[list[str]]:
    r"""Return the rows of a table, or say what it is instead.

    Raises
    ------
    TableError
        If it is none, or its letters cannot be told.

    >>> rows_of("sep=;\r\nbadge;name\r\n1;Ada\r\n".encode("utf-16"))
    [[], ['badge', 'name'], ['1', 'Ada']]
    """
    if data.startswith((b"PK\x03\x04", b"\xd0\xcf\x11\xe0")):
        raise TableError("is a workbook of a spreadsheet. Open it there and save it as “CSV UTF-8”.")
    if len(data) > _MOST:
        raise TableError(f"has {len(data) / 1e6:.0f} MB. A class list has at most {_MOST / 1e6:.0f} MB.")
    words = _decoded(data)
    first, _, rest = words.partition("\n")
    said = first.strip().lower()
    if said.startswith("sep=") and len(said) <= len("sep=;"):  # some spreadsheets say there how the fields are divided
        separator, words = first.strip("\r\n")[4:] or "\t", f"\n{rest}"  # the lines keep their numbers
    else:
        separator = max(_SEPARATORS, key=partial(_told_by, words.splitlines()[:_LINES]))
    _refuse_open_quote(words, separator)
    try:
        return list(csv.reader(io.StringIO(words, newline=""), delimiter=separator))
    except (csv.Error, TypeError, ValueError) as problem:
        raise TableError(f"cannot be read as a table ({problem}). Save it again as “CSV UTF-8”.") from None


def _refuse_open_quote(words: str, separator: str) -> None:
    """Refuse a table in which a quotation mark is never closed: all lines behind it would be one field."""
    try:
        for _ in csv.reader(io.StringIO(words, newline=""), delimiter=separator, strict=True):
            pass
    except (csv.Error, TypeError, ValueError) as problem:
        if "unexpected end" in str(problem):
            raise TableError(
                'has a quotation mark (") that is never closed, so the lines behind it cannot be told apart. Close it, '
                "or take it out."
            ) from None


def _told_by(lines: Sequence[str], separator: str) -> tuple[int, int]:
    """Tell how well a separator fits: by how many lines have it, as a title or a name may have another in it."""
    return sum(separator in line for line in lines), lines[0].count(separator) if lines else 0


def _decoded(data: bytes) -> str:
    told = next((name for mark, name in _MARKS if data.startswith(mark)), "") or _without_mark(data)
    try:
        return data.decode(told)
    except UnicodeDecodeError:
        raise TableError("is not saved as UTF-8. In the spreadsheet, choose “CSV UTF-8” and save it again.") from None


def _without_mark(data: bytes) -> str:
    """Tell UTF-16 without its mark by the empty half of nearly every letter in its first line."""
    start = data[:200]
    if len(start) > 3 and start[1::2].count(0) > len(start) // 4:
        return "utf-16-le"
    return "utf-16-be" if len(start) > 3 and start[::2].count(0) > len(start) // 4 else "utf-8"
