"""No cell of a table that leaves this program is a formula, whoever wrote it and whichever way a spreadsheet splits it.

What starts a formula, and that a tab or a line break in front does not stop it: the CSV Injection page of the OWASP
community (equals, plus, minus, at, tab, carriage return, line feed, full-width forms; also after a field separator).
"""

from __future__ import annotations

import csv
import io
import itertools
import unicodedata

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lessons.card_page.spreadsheet import csv_text, harmless

BEFORE = {
    "nothing": "",
    "a blank": " ",
    "blanks": "   ",
    "a tab": "\t",
    "a carriage return": "\r",
    "a line feed": "\n",
    "a form feed": "\f",
    "a null": "\0",
    "a no-break space": "\u00a0",
    "an ideographic space": "\u3000",
    "a zero-width space": "\u200b",
    "a byte order mark": "\ufeff",
    "a right-to-left override": "\u202e",
    "a soft hyphen": "\u00ad",
    "a variation selector": "\ufe0f",
    "a Hangul filler": "\u3164",
    "a Braille blank": "\u2800",
    "several of them": " \u200b\t\u00a0",
    "a cell of a table split at semicolons": "Ada;",
    "the same with a blank": "3; ",
    "a line of its own": "two\n",
    "a cell of a table split at tabs": "x\t",
}
SIGNS = "=+-@＝＋－＠﹦﹢﹣﹫"
REST = ("1+1", 'HYPERLINK("x")', "cmd|' /C calc'!A0", "SUM(A1)")


@pytest.mark.parametrize("before", BEFORE.values(), ids=BEFORE)
def test_formulas_are_made_words(before: str) -> None:
    for sign, rest in itertools.product(SIGNS, REST):
        assert starts_of_formulas(harmless(before + sign + rest)) == []
        assert starts_of_formulas(before + sign + rest) != []  # the search below can fail


@pytest.mark.parametrize(
    "value", ["-3.5", "+2", "0.5", "a=b", "4711", "1e5", "-2,5", "", "3 - 1", "b; a", "@"[1:], "“=1”"]
)
def test_numbers_and_words_stay(value: str) -> None:
    assert harmless(value) == value


@given(st.text(st.sampled_from(SIGNS + " ;\t\r\n\u200b\ufeff'\"a1"), max_size=12) | st.text(max_size=30))
@example("1\r\r=")
def test_nothing_that_is_typed_is_a_formula(value: str) -> None:
    kept = harmless(value)
    assert kept.replace("'", "") == value.replace("'", "")  # apostrophes come in, nothing goes
    assert starts_of_formulas(kept) == [] or is_number(value)


@given(
    st.lists(
        st.lists(st.text(st.characters(exclude_categories=["Cs"]), max_size=8), min_size=1, max_size=3), max_size=3
    )
)
def test_a_table_is_read_back_as_it_was(rows: list[list[str]]) -> None:
    assert list(csv.reader(io.StringIO(csv_text(rows), newline=""))) == [
        [harmless(cell) for cell in row] for row in rows
    ]


def is_number(text: str) -> bool:
    try:
        float(text.replace(",", "."))
    except ValueError:
        return False
    return text.isascii() and not text.isspace()


def starts_of_formulas(cell: str) -> list[str]:
    """Split a cell wherever any spreadsheet may, and return the pieces that begin with a sign, unseen letters left out."""
    found = []
    for piece in cell.replace("\t", ";").replace("\r", ";").replace("\n", ";").split(";"):
        letters = unicodedata.normalize("NFKC", piece)
        seen = [
            each
            for each in letters
            if each.isprintable() and not each.isspace() and each not in "\u3164\u1160\u2800\ufe0f"
        ]
        if seen and seen[0] in "=+-@":
            found.append(piece)
    return found
