"""What a hand-in adds is plain text in the marked notebook: whatever it is there, it neither shows nor does anything else."""

from __future__ import annotations

import copy
import json
import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from grading.given_out.judged_answers import mark_answers
from grading.handins.handin import answers, read
from grading.marking.marked_notebook import Template, marked_notebook
from tests.grading.classroom import CLASS, QUESTIONS, classroom, code, notebook_of, released
from tests.grading.marking.hostile_cells import ADDED, CHANGES

ADA = CLASS[0]
W1, W2 = (question.id for question in QUESTIONS[:2])
IDS = [question.id for question in QUESTIONS]
FIRST_LINE = re.compile(r"%%answer( # [\w .,]*| [\w.]+)?")


@pytest.fixture(scope="module")
def given_out(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    return released(classroom(tmp_path_factory.mktemp("plain")))


def marked(given_out: dict[str, Any], notebook: dict[str, Any]) -> dict[str, Any]:
    handin = read(json.dumps(notebook).encode())
    made = marked_notebook(Template(json.dumps(given_out)), handin, mark_answers(handin, QUESTIONS, ADA))
    shown: dict[str, Any] = json.loads(made)
    return shown


def does_nothing(source: str) -> bool:
    """Tell whether a code cell is an answer below a first line without code, or comment lines only."""
    lines = source.split("\n")
    return FIRST_LINE.fullmatch(lines[0]) is not None or all(line.startswith("#") for line in lines)


OUR_TAGS = ("table", "tr", "th", "td", "div")


def assert_plain(given_out: dict[str, Any], shown: dict[str, Any]) -> None:
    """Hold every cell against the release: it is one of its cells, or text."""
    assert {key: shown[key] for key in shown if key != "cells"} == {
        key: given_out[key] for key in given_out if key != "cells"
    }
    ours = {cell["id"]: cell for cell in given_out["cells"]}
    assert [cell["id"] for cell in shown["cells"] if cell["id"] in ours] == list(ours)
    for cell in shown["cells"]:
        source, its = "".join(cell["source"]), ours.get(cell["id"])
        if its is None:
            assert (cell["cell_type"], cell["outputs"]) == ("code", [])
            assert cell["metadata"] == {"editable": False, "deletable": False}
            assert does_nothing(source)
            continue
        assert cell["cell_type"] == its["cell_type"]
        assert cell["metadata"] == its["metadata"]
        assert cell.get("attachments") == its.get("attachments")
        assert source == "".join(its["source"]) or (source.startswith("%%answer") and does_nothing(source))
        for output in cell.get("outputs", ()):
            html = output.get("data", {}).get("text/html", "")
            assert output["output_type"] == "stream" or set(output["data"]) <= {"text/plain", "text/html"}
            # The table that a person marks by is ours; the words in it are text.
            assert set(re.findall(r"<(/?\w*)", html)) <= {f"{end}{tag}" for tag in OUR_TAGS for end in ("", "/")}
            assert set(re.findall(r"<[^>]*?\s([\w-]+)=", html)) <= {"style"}


def with_(given_out: dict[str, Any], change: Callable[[dict[str, Any]], Any]) -> dict[str, Any]:
    notebook = copy.deepcopy(given_out)
    change(notebook)
    return notebook


@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES)
def test_what_a_handin_adds_is_text(given_out: dict[str, Any], change: Callable[[dict[str, Any]], Any]) -> None:
    assert_plain(given_out, marked(given_out, with_(given_out, change)))


@pytest.mark.parametrize("name", ADDED)
def test_the_words_of_an_added_cell_are_still_there(given_out: dict[str, Any], name: str) -> None:
    notebook = with_(given_out, lambda made: made["cells"].append(ADDED[name]))
    shown = marked(given_out, notebook)
    assert_plain(given_out, shown)
    assert "".join(ADDED[name]["source"]).split("\n")[-1] in shown["cells"][-1]["source"]


# Code in an answer's cell or first line: IPython works out {…} and $name in the first line of a magic.
CODE = {
    "no first line": "import os; os.system('touch canary')",
    "shell": "!touch canary",
    "another magic": "%%bash\ntouch canary",
    "expression in the first line": f"%%answer {W1} {{open('canary', 'w')}}\n60 %",
    "expression for a name": "%%answer {open('canary','w')}\n60 %",
    "name glued on": f"%%answer {W1}{{open('canary','w')}}\n60 %",
    "garbled": "%answer inherent {open('canary','w')}\n60 %",
    "other line ends": f"%%answer {W1}\r60 %\u2028!touch canary\x0bopen('canary', 'w')",
}


@pytest.mark.parametrize("source", CODE.values(), ids=CODE)
@pytest.mark.parametrize("place", ["in the answer's place", "added", "in the question's place"])
def test_code_where_an_answer_stands_is_text(given_out: dict[str, Any], source: str, place: str) -> None:
    notebook = copy.deepcopy(given_out)
    if place == "added":
        notebook["cells"].append(code(source))
    else:
        start = f"%%answer {W1}" if place == "in the answer's place" else f'ask("{W1}")'
        next(cell for cell in notebook["cells"] if "".join(cell["source"]).startswith(start))["source"] = source
    assert_plain(given_out, marked(given_out, notebook))


_SOURCES = st.one_of(
    st.text(max_size=40),
    st.sampled_from(list(CODE.values())),
    st.builds(
        "%%answer {}{}\n{}".format,
        st.sampled_from([W1, W2, "x"]),
        st.sampled_from(["", " ", " {1}", "{1}"]),
        st.text(max_size=20),
    ),
)
_CELLS = st.lists(
    st.tuples(
        _SOURCES, st.sampled_from(["code", "markdown", "raw"]), st.sampled_from([0, 1, 2, 3, 4, 5, None]), st.booleans()
    ),
    max_size=8,
)


@given(_CELLS)
@settings(deadline=None)
def test_any_cells_are_plain_and_their_answers_are_read_alike(given_out: dict[str, Any], cells: list[Any]) -> None:
    """What is marked is what the marked notebook shows, so a person and nbgrader see what was judged."""
    graded = [cell for cell in given_out["cells"] if "nbgrader" in cell["metadata"]]
    notebook = copy.deepcopy(given_out)
    taken: set[int] = set()
    for number, (source, kind, place, first) in enumerate(cells):
        made = {"cell_type": kind, "id": f"new-{number}", "metadata": {}, "source": source}
        if place is not None and place < len(graded) and place not in taken:
            taken.add(place)  # changed where it stands
            target = next(cell for cell in notebook["cells"] if cell["id"] == graded[place]["id"])
            target |= {"source": source, "cell_type": kind}
        else:
            notebook["cells"].insert(0 if first else len(notebook["cells"]), made)
    shown = marked(given_out, notebook)
    assert_plain(given_out, shown)
    handed_in, again = (answers(read(json.dumps(each).encode()), IDS) for each in (notebook, shown))
    assert {each: found.text.strip() for each, found in handed_in.items()} == {
        each: found.text.strip() for each, found in again.items()
    }


def test_a_doubled_answer_is_shown_below_and_the_right_one_in_its_place(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    notebook = notebook_of(course, ADA)
    place = next(n for n, cell in enumerate(notebook["cells"]) if "".join(cell["source"]).startswith(f"%%answer {W1}"))
    doubled = {**copy.deepcopy(notebook["cells"][place]), "id": "doubled", "source": f"%%answer {W1}\n1 %"}
    notebook["cells"].insert(place + 1, doubled)
    handin = read(json.dumps(notebook).encode())
    cells = marked(released(course), notebook)["cells"]
    (own,) = [
        cell
        for cell in cells
        if cell["metadata"].get("nbgrader", {}).get("grade_id") == doubled["metadata"]["nbgrader"]["grade_id"]
    ]
    assert own["source"] == f"%%answer {W1}\n{answers(handin, [W1])[W1].text}"
    assert sum(f"%%answer {W1}\n" in cell["source"] for cell in cells) == 2
