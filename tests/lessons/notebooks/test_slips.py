"""A cell of a lesson that is not one of the lesson's own runs nothing and says what to do; an author can still work."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lessons.notebook import calls, lesson_file, slips
from tests.lessons.notebooks.test_notebook import Run, run  # noqa: F401 - the fixture

OURS = [
    'from lessons.notebook import *\nbegin("inherent")',
    "import lessons.notebook as n",
    'ask("inherent.step")',
    'live("inherent", after="inherent.predict")\nlive("line")',
    'picture("globe_single", travel=0.3, names=False)',
    "sign_on()",
    "# only a remark",
    "   \n",
    "%%answer inherent.step\nexit",
    "%%answer inherent.step\n",
]
NOT_OURS = [
    *["exit", "quit", "open", "exit()", "quit()", "print", "help", "a", "b", "5", "60/100", "0.6", "-3", "x=60", "x", "open('left','w')", "[1]", "'text'", "...", "not_known"],
    "exit ", "  exit", "c, a, d, b", "c a d b", "1c 2a", "60 %", "Kv 40", "40 bar?", "?open", "open?", "open??", "?",
    "!touch left", "!!touch left", "%who", "%reset -f", "%%bash\ntouch left", "%%time\nexit", "%cd ..", "/exit", ",print a", ";print a",
    "%%Answer inherent.step\n60 %", "%% answer inherent.step\n60 %", "%%answerinherent.step\n60 %", "60 %\n%%answer inherent.step\n",
    "ask(exit())", "ask(open('left', 'w'))", "ask", "begin('inherent'); exit", "x = ask('inherent.step')", "lambda: 1",
    "def begin(topic): pass", "ask('inherent.step')\nimport os", "the plug is stuck\nand the packing is too tight", ">>> exit",
    "await x", "del ask", "assert False", "raise SystemExit", "while True: pass", "(" * 500, "\x00",
]  # fmt: skip


def guard() -> slips.Guard:
    made = slips.Guard(calls.__all__)
    made.on = True
    return made


def let_through(made: slips.Guard, cell: str) -> bool:
    lines = cell.splitlines(keepends=True)
    return "".join(made.looked_at(lines)).strip() == cell.strip()


@pytest.mark.parametrize("cell", OURS)
def test_our_own_cells_run(cell: str) -> None:
    assert let_through(guard(), cell)


@pytest.mark.parametrize("cell", NOT_OURS)
def test_nothing_else_runs(cell: str) -> None:
    assert not let_through(guard(), cell)


@given(st.text(max_size=80))
def test_whatever_is_typed_is_ours_or_does_not_run(cell: str) -> None:
    made = guard()
    ran = let_through(made, cell)
    assert not ran or not cell.strip() or cell.lstrip().startswith(("#", "%%answer", "import", "from"))


def test_an_author_can_work() -> None:
    made = guard()
    assert not let_through(made, "1 + 1")
    assert let_through(made, "import math\nmath.pi")
    assert let_through(made, "1 + 1")
    assert let_through(made, "%matplotlib inline")


def test_a_notebook_that_is_no_lesson_is_left_alone() -> None:
    assert let_through(slips.Guard(calls.__all__), "1 + 1")


def test_a_kernel_lives_through_them_all_and_has_run_none(run: Run, tmp_path: Path) -> None:  # noqa: F811
    *said, asked = run(*NOT_OURS, 'ask("inherent.step")')
    assert [each for each in said if "Nothing was run" not in each or "%%answer" not in each] == []
    assert "Practice" in asked
    assert not (tmp_path / "left").exists()


def test_a_lesson_is_known_by_its_file_before_it_is_begun(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "04.ipynb"
    monkeypatch.setenv("JPY_SESSION_NAME", str(path))
    assert not lesson_file.is_lesson()
    for source, lesson in [
        ('from lessons.notebook import *\nbegin("inherent")', True),
        (["from lessons.notebook import *\n", 'begin("inherent")'], True),
        ("from lessons.notebook import *\ncard('bench_set')", False),
        ("we begin(ners)", False),
        (5, False),
    ]:
        path.write_text(json.dumps({"cells": [{"source": source}]}), encoding="utf-8")
        assert lesson_file.is_lesson() == lesson, source
    for damaged in ("", "[]", '{"cells": 5}', '{"cells": [5]}', "\ufeff{"):
        path.write_text(damaged, encoding="utf-8")
        assert not lesson_file.is_lesson()
