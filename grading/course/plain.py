"""Foreign words made plain: what came from outside is shown as text wherever it is shown, and never obeyed."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence

from lessons.card_page.spreadsheet import csv_text
from lessons.units.readout import counted

LONGEST_LINE = 300  # letters of a name, a subject or a sentence that are shown
_BREAKS = re.compile("\r\n?|[\x0b\x0c\x1c-\x1e\x85\u2028\u2029]")
_KEPT = "\n\t\u200c\u200d"  # the last two join letters in some alphabets, and do nothing else
# Controls, signs that are not seen or turn the reading direction round, halves of letters, letters that are none.
_UNSEEN = ("Cc", "Cf", "Cs", "Co", "Cn")
# Letters and symbols that show nothing: fillers, and marks that only keep others apart.
_FILLERS = frozenset("\u034f\u115f\u1160\u17b4\u17b5\u180b\u180c\u180d\u2800\u3164\uffa0")


class _Plain(dict[int, int | None]):
    """Says of each letter whether it stays; looked up once for each there is."""

    def __missing__(self, letter: int) -> int | None:
        seen = unicodedata.category(chr(letter)) not in _UNSEEN and chr(letter) not in _FILLERS
        stays = chr(letter) in _KEPT or seen
        self[letter] = letter if stays else None
        return self[letter]


_plain = _Plain()


def text(value: str) -> str:
    r"""Return words without what cannot be stored or seen; every line break is a plain one.

    All that is written for people goes through this, or through `line` or `table`, which use it.

    >>> text("60\x1b[2J %\r\n\u202eabc")
    '60[2J %\nabc'
    """
    if value.replace("\n", "").isprintable() and (value.isascii() or _FILLERS.isdisjoint(value)):
        return value  # most words are; the rest is for those that are not
    whole = value.encode("utf-8", "replace").decode("utf-8")  # half characters: no file or database takes them
    return _BREAKS.sub("\n", whole).translate(_plain)


def table(rows: Iterable[Sequence[str]], separator: str = ",") -> str:
    r"""Return a table for a spreadsheet, with nothing in a cell that is not seen or would be worked out.

    >>> table([["=1\x07", "\u202e-2"]])
    "'=1,-2\r\n"
    """
    return csv_text(([text(cell) for cell in row] for row in rows), separator)


def line(value: str, most: int = LONGEST_LINE) -> str:
    r"""Return words on one line of at most so many letters, for lists, names and sentences.

    >>> line("two\nlines \udcff"), line("abcdef", 3)
    ('two lines �', 'abc…')
    """
    return "".join(map(_on_a_line, value[:most])) + ("…" if len(value) > most else "")


def _on_a_line(letter: str) -> str:
    if letter.isprintable() and letter not in _FILLERS:
        return letter
    return " " if letter.isspace() else "\ufffd"


def cut(value: str, most: int) -> str:
    r"""Return words of a bearable length; a cut one stays longer than the limit, and says so.

    >>> cut("abcdef", 6), cut("abcdef", 4)
    ('abcdef', 'abcd\n… The file that was handed in has 2 characters more.')
    """
    left_out = len(value) - most
    return (
        value
        if left_out <= 0
        else f"{value[:most]}\n… The file that was handed in has {counted(left_out, 'character')} more."
    )
