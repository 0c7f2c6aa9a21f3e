"""Foreign words made plain: what came from outside is shown as text wherever it is shown, and never obeyed."""

from __future__ import annotations

import re

LONGEST_LINE = 300  # letters of a name, a subject or a sentence that are shown
_BREAKS = re.compile("\r\n?|[\x0b\x0c\x1c-\x1e\x85\u2028\u2029]")
# No keyboard has these. They move the cursor of a terminal, turn the reading direction round, or are not seen at all.
_UNSEEN = re.compile(
    "[\x00-\x08\x0e-\x1f\x7f-\x84\x86-\x9f\u200b\u200e\u200f\u202a-\u202e\u2060-\u2064\u2066-\u206f\ufeff]"
)


def text(value: str) -> str:
    r"""Return words without what cannot be stored or seen; every line break is a plain one.

    >>> text("60\x1b[2J %\r\n\u202eabc")
    '60[2J %\nabc'
    """
    whole = value.encode("utf-8", "replace").decode("utf-8")  # half characters: no file or database takes them
    return _UNSEEN.sub("", _BREAKS.sub("\n", whole))


def line(value: str, most: int = LONGEST_LINE) -> str:
    r"""Return words on one line of at most so many letters, for lists, names and sentences.

    >>> line("two\nlines \udcff"), line("abcdef", 3)
    ('two lines �', 'abc…')
    """
    shown = (letter if letter.isprintable() else " " if letter.isspace() else "\ufffd" for letter in value[:most])
    return "".join(shown) + ("…" if len(value) > most else "")


def cut(value: str, most: int) -> str:
    r"""Return words of a bearable length; a cut one stays longer than the limit, and says so.

    >>> cut("abcdef", 6), cut("abcdef", 4)
    ('abcdef', 'abcd\n… 2 more characters are in the file that was handed in.')
    """
    left_out = len(value) - most
    return (
        value if left_out <= 0 else f"{value[:most]}\n… {left_out} more characters are in the file that was handed in."
    )
