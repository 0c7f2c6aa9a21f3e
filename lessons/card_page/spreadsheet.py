"""A table for a spreadsheet, a record or the marks of a class: no cell passes for a formula, whoever wrote it."""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Sequence

_NUMBER = re.compile(r"[-+]?[0-9]+([.,][0-9]+)?([eE][-+]?[0-9]+)?")
_SIGNS = "=+-@"  # what a spreadsheet takes for the start of a formula, in whichever width it is typed
# Where a new cell may begin: a spreadsheet set to a decimal comma splits at semicolons, not where this table does.
_BREAKS = re.compile(r"([;\t\r\n])")
# Categories of letters that are not seen: controls, formats, accents with nothing below, halves of a letter, blanks.
_UNSEEN = ("Cc", "Cf", "Cn", "Co", "Cs", "Me", "Mn", "Zl", "Zp", "Zs")
_FILLERS = "\u115f\u1160\u2800\u3164\uffa0"  # blanks that count as letters or symbols


def csv_text(rows: Iterable[Sequence[str]], separator: str = ",") -> str:
    r"""Write rows as CSV; numbers stay numbers.

    >>> csv_text([("tag", "=1+1"), ("error", "-0.9")])
    "tag,'=1+1\r\nerror,-0.9\r\n"
    """
    text = io.StringIO(newline="")
    csv.writer(text, delimiter=separator).writerows([harmless(cell) for cell in row] for row in rows)
    return text.getvalue()


def harmless(cell: str) -> str:
    """Put an apostrophe where a spreadsheet would begin to read a formula.

    >>> harmless("-3.5"), harmless(" ＝1+1"), harmless("3; @x"), harmless("a = b")
    ('-3.5', "' ＝1+1", "3;' @x", 'a = b')
    """
    if _NUMBER.fullmatch(cell):
        return cell
    parts = _BREAKS.split(cell)
    marked = "".join(f"'{part}" if _begins_a_formula(part) else part for part in parts)
    return f"'{marked}" if cell.startswith(("\t", "\r", "\n")) else marked


def _begins_a_formula(part: str) -> bool:
    seen = next((letter for letter in part if not _is_unseen(letter)), "")
    return bool(seen) and unicodedata.normalize("NFKC", seen) in _SIGNS


def _is_unseen(letter: str) -> bool:
    return letter in _FILLERS or unicodedata.category(letter) in _UNSEEN
