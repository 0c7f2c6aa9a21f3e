"""Tidying: the form notebooks are stored in; and what of a new lesson is still to be written."""

from __future__ import annotations

import json
from pathlib import Path

import nbformat
import pytest
from nbformat.v4 import new_code_cell, new_markdown_cell, new_notebook, new_output

from lessons.jupyter.locks import locked
from tests import tidy


def edited() -> nbformat.NotebookNode:
    """A lesson as an author leaves it in JupyterLab: run, answered, with what the page wrote into it."""
    output = new_output("stream", text="Right.")
    return new_notebook(
        metadata={"widgets": {}, "kernelspec": {"name": "other", "display_name": "Other"}},
        cells=[
            new_markdown_cell("\n# 14 · Title \n\n", metadata={"editable": False, "tags": ["x"]}),
            new_code_cell('ask("trim.parts")\n', metadata={"trusted": True}, execution_count=3, outputs=[output]),
            new_code_cell("%%answer trim.parts\n1a 2b", metadata={"deletable": False}, execution_count=4),
            new_code_cell('ask("trim.parts")', metadata={"jupyter": {"source_hidden": True}}),
        ],
    )


def test_what_the_author_wrote_stays_and_nothing_else() -> None:
    notebook = json.loads(tidy.stored(edited()))
    assert [("".join(cell["source"]), cell["id"]) for cell in notebook["cells"][1:]] == [
        ('ask("trim.parts")', "ask-trim-parts"),
        ("%%answer trim.parts\n", "answer-trim-parts"),
        ('ask("trim.parts")', "ask-trim-parts-again"),
    ]
    assert "".join(notebook["cells"][0]["source"]) == "# 14 · Title"
    assert [cell["metadata"] for cell in notebook["cells"]] == [{}] * 4
    assert [(c["outputs"], c["execution_count"]) for c in notebook["cells"] if c["cell_type"] == "code"] == [
        ([], None)
    ] * 3
    assert notebook["metadata"] == tidy.KERNEL


def test_tidy_is_done_once() -> None:
    once = tidy.stored(edited())
    assert tidy.stored(nbformat.reads(once, as_version=4)) == once


def test_the_locks_of_a_working_copy_go() -> None:
    """A lesson copied back from a working copy is stored as the packaged one."""
    once = tidy.stored(edited())
    copy = json.dumps(locked(json.loads(once)))
    assert tidy.stored(nbformat.reads(copy, as_version=4)) == once


# ---- what is still to be written ----------------------------------------------------------------------------------


def test_nothing_of_a_lesson_is_left_to_be_written() -> None:
    """What the command for a new lesson leaves to its author is written before the lesson is given to anybody."""
    assert tidy.to_write(tidy.ROOT) == []


@pytest.mark.parametrize(
    ("file", "text", "found"),
    [
        ("README.md", "one\n| 14 | Title | TODO: what it is for |\n", ["README.md:2: TODO: what it is for |"]),
        ("lessons/practice/work/x.py", "# TODO: a key\n", ["lessons/practice/work/x.py:1: TODO: a key"]),
        ("grading/workorders/x.py", "a\n# TODO\n", ["grading/workorders/x.py:2: TODO"]),
        ("tests/by_hand/x.py", "ROWS = []  # TODO: rows", ["tests/by_hand/x.py:1: TODO: rows"]),
        ("lessons/x.py", "TODOS = 'todo'  # nothing to do", []),
        ("tests/test_x.py", "# TODO: not a lesson's", []),
        ("lessons/x.js", "// TODO", []),
    ],
)
def test_placeholders_are_found_where_a_lesson_is_written(
    tmp_path: Path, file: str, text: str, found: list[str]
) -> None:
    tree(tmp_path, file, text)
    assert tidy.to_write(tmp_path) == found


def test_placeholders_of_a_notebook_are_found_by_cell(tmp_path: Path) -> None:
    cells = [new_markdown_cell("# Title"), new_markdown_cell("## Words\n\nTODO: words\nmore")]
    tree(tmp_path, "lessons/14_x.ipynb", nbformat.writes(new_notebook(cells=cells)))
    assert tidy.to_write(tmp_path) == ["lessons/14_x.ipynb:cell 2: TODO: words"]


def tree(root: Path, file: str, text: str) -> None:
    for folder in ("lessons", "grading", "tests/by_hand"):
        (root / folder).mkdir(parents=True, exist_ok=True)
    (root / "README.md").write_text("", encoding="utf-8")
    (root / file).parent.mkdir(parents=True, exist_ok=True)
    (root / file).write_text(text, encoding="utf-8")


# ---- the command --------------------------------------------------------------------------------------------------


def test_check_says_what_is_untidy_and_changes_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    tree(tmp_path, "lessons/14_x.ipynb", nbformat.writes(edited()))
    path = tmp_path / "lessons" / "14_x.ipynb"
    monkeypatch.setattr(tidy, "notebooks", lambda: [path])
    monkeypatch.setattr(tidy, "ROOT", tmp_path)
    before = path.read_bytes()
    assert tidy.main(["--check"]) == 1
    assert "lessons/14_x.ipynb is not tidy" in capsys.readouterr().out
    assert path.read_bytes() == before
    assert tidy.main([]) == 0
    assert "tidied 14_x.ipynb" in capsys.readouterr().out
    assert path.read_text(encoding="utf-8") == tidy.stored(edited())
    assert tidy.main(["--check"]) == 0
