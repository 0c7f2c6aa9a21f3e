"""Handed-in notebooks as data: what is read, and the sentence when it cannot be."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from grading.handins.handin import MAX_BYTES, HandedInAnswer, UnusableError, answer_grade_id, answers, read

W1, W2 = "inherent.w1", "inherent.w2"


def cell(source: Any, grade_id: str = "", kind: str = "code") -> dict[str, Any]:
    metadata = {"nbgrader": {"grade_id": grade_id}} if grade_id else {}
    return {"cell_type": kind, "metadata": metadata, "source": source}


def notebook(*cells: Any) -> bytes:
    return json.dumps({"cells": list(cells), "metadata": {}, "nbformat": 4}).encode()


OWN1, OWN2 = answer_grade_id(W1), answer_grade_id(W2)

# what stands in the cells -> the text that counts for w1, and a word of the remark
FOUND = [
    ("plain", [cell(f"%%answer {W1}\n60 %")], "60 %", ""),
    ("as a list of lines", [cell([f"%%answer {W1}\n", "60 %"])], "60 %", ""),
    ("blanks around the name", [cell(f"\n%%answer  {W1}  \n 60 %")], " 60 %", ""),
    ("turned into text", [cell(f"%%answer {W1}\n60 %", kind="markdown")], "60 %", ""),
    ("nothing typed", [cell(f"%%answer {W1}")], "", ""),
    ("same words twice", [cell(f"%%answer {W1}\n60 %"), cell(f"%%answer {W1}\n60  %")], "60  %", ""),
    ("other words below", [cell(f"%%answer {W1}\n60 %"), cell(f"%%answer {W1}\n70 %")], "70 %", "the answers differ"),
    (
        "own place before a new cell",
        [cell(f"%%answer {W1}\n60 %", OWN1), cell(f"%%answer {W1}\n70 %")],
        "60 %",
        "the answers differ",
    ),
    ("an empty double", [cell(f"%%answer {W1}\n60 %"), cell(f"%%answer {W1}\n ")], "60 %", ""),
    (
        "in another's place",
        [cell(f"%%answer {W1}\n60 %", OWN1), cell(f"%%answer {W1}\n70 %", OWN2)],
        "60 %",
        "the answers differ",
    ),
    ("first line lost", [cell("60 %", OWN1)], "60 %", "first line"),
    ("first line garbled", [cell("%answer inherent\n60 %", OWN1)], "60 %", "first line"),
    ("cell deleted", [cell("60 %")], "", "missing"),
]


@pytest.mark.parametrize(("cells", "text", "remark"), [row[1:] for row in FOUND], ids=[row[0] for row in FOUND])
def test_the_answer_that_counts(cells: list[Any], text: str, remark: str) -> None:
    found = answers(read(notebook(*cells)), [W1, W2])[W1]
    assert found.text == text
    assert remark in found.remark if remark else not found.remark


def test_a_missing_cell_is_told_from_an_empty_one() -> None:
    assert answers(read(notebook(cell(f"%%answer {W1}\n"))), [W1])[W1] == HandedInAnswer()
    assert not answers(read(notebook()), [W1])[W1].found


UNUSABLE = [
    ("empty", b"", "empty"),
    ("blank", b"  \n", "empty"),
    ("cut short", notebook(cell("x"))[:40], "cut short"),
    ("no JSON", b"PK\x03\x04 something", "not valid JSON"),
    ("a list", b"[1, 2]", "not a notebook"),
    ("no cells", b'{"metadata": {}}', "no list of cells"),
    ("cells are words", b'{"cells": "none"}', "no list of cells"),
    ("deep", b"[" * 200_000, "nested"),
    ("deep object", b'{"cells":' + b'{"a":' * 200_000, "nested"),
    ("a number without end", b'{"cells": ' + b"9" * 10_000 + b"}", "not valid JSON"),
    ("too many cells", notebook(*[1] * 3_000), "3000 cells"),
    ("large", b"x" * (MAX_BYTES + 1), "20 MB"),
]


@pytest.mark.parametrize(("data", "said"), [row[1:] for row in UNUSABLE], ids=[row[0] for row in UNUSABLE])
def test_what_is_no_notebook_gets_a_sentence(data: bytes, said: str) -> None:
    with pytest.raises(UnusableError) as problem:
        read(data)
    assert said in str(problem.value)


ODD = [
    ("cell is a number", [1, cell(f"%%answer {W1}\n60 %")]),
    ("source is a number", [cell(5), cell(f"%%answer {W1}\n60 %")]),
    ("no source", [{"cell_type": "code"}, cell(f"%%answer {W1}\n60 %")]),
    ("metadata is a list", [{**cell(f"%%answer {W1}\n60 %"), "metadata": [1]}]),
    ("nbgrader is a word", [{**cell(f"%%answer {W1}\n60 %"), "metadata": {"nbgrader": "x"}}]),
    ("outputs are a word", [{**cell(f"%%answer {W1}\n60 %"), "outputs": "x"}]),
    ("no kind", [{"source": f"%%answer {W1}\n60 %"}]),
]


@pytest.mark.parametrize("cells", [row[1] for row in ODD], ids=[row[0] for row in ODD])
def test_odd_cells_do_not_hide_an_answer(cells: list[Any]) -> None:
    assert answers(read(notebook(*cells)), [W1])[W1].text == "60 %"


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-32"])
def test_encodings_of_json_are_read(encoding: str) -> None:
    data = json.dumps({"cells": [cell(f"%%answer {W1}\n37,5 °C")]}, ensure_ascii=False).encode(encoding)
    handin = read(data)
    assert (answers(handin, [W1])[W1].text, handin.remark) == ("37,5 °C", "")


def test_a_wrong_encoding_is_read_and_said() -> None:
    handin = read(json.dumps({"cells": [cell(f"%%answer {W1}\n37,5 °C")]}, ensure_ascii=False).encode("cp1252"))
    assert answers(handin, [W1])[W1].text == "37,5 °C"
    assert "UTF-8" in handin.remark


def test_what_no_file_or_database_can_hold_is_taken_out() -> None:
    data = b'{"cells": [{"cell_type": "code", "source": "%%answer inherent.w1\\n6\\u00000 \\ud800%"}]}'
    assert answers(read(data), [W1])[W1].text == "60 ?%"


@given(st.binary(max_size=400))
def test_any_bytes_are_read_or_refused_with_a_sentence(data: bytes) -> None:
    try:
        read(data)
    except UnusableError as problem:
        assert len(str(problem)) > 20


_JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(["cells", "source", "metadata", "nbgrader", "grade_id", "outputs", "cell_type", "id"]),
            inner,
            max_size=5,
        )
    ),
    max_leaves=25,
)


@given(st.lists(_JSON, max_size=5))
def test_any_cells_are_read(cells: list[Any]) -> None:
    handin = read(json.dumps({"cells": cells}).encode())
    assert set(answers(handin, [W1, W2])) == {W1, W2}
