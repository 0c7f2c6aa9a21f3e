"""Slips of the hand in an answer cell, such as a deleted first line, answered with a sentence; nothing of them is run.

In a lesson only what is ours is run as Python: calls of what a lesson calls (`ask`, `live`, …) with plain values, and
imports from `lessons`. Anything else is most likely an answer that lost its first line, and "exit" would end the
kernel. Who writes lessons needs more: a cell that begins with any other import, which no answer does, is run, and so is
every cell after it until the kernel is started anew.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Callable, Collection
from pathlib import Path
from typing import Any

LOST_NAME = (
    "The first line of this cell must name its question, such as %%answer inherent.step. "
    "Press Ctrl+Z until it is back, or copy the name from the question's cell above."
)
LOST_LINE = (
    "Nothing was run: this cell has lost its first line, so the answer cannot be matched to its question. "
    "It begins with %%answer and the name of the question. Press Ctrl+Z until it is back."
)
BESIDE = "Type the answer below the first line, not on it: the first line holds %%answer and the question's name only."
NOT_RUN = "This lesson has not started yet. Reload the page; in another editor, run its cells from the top."
_OURS, _AUTHORS, _NOBODYS = "ours", "an author's", "nobody's"


class Guard:
    """Stands before a kernel and lets through, in a lesson, only what is ours."""

    def __init__(self, ours: Collection[str]) -> None:
        self.on = False  # the kernel is that of a lesson
        self._ours = frozenset(ours)
        self._author = False

    def stand_before(self, shell: Any, say: Callable[[str], None]) -> None:
        """Have this guard look at every cell that the shell is to run."""

        def on_name_error(shell: Any, etype: type, value: BaseException, trace: Any, tb_offset: Any = None) -> None:
            # Only where the cell itself slipped: a NameError from inside the lessons' own code is a defect to be seen.
            if getattr(value, "name", "") in self._ours and not Path(_file(trace)).exists():
                say(NOT_RUN)
            else:
                shell.showtraceback((etype, value, trace), tb_offset=tb_offset)

        shell.set_custom_exc((NameError,), on_name_error)
        shell.input_transformers_cleanup.append(self.looked_at)

    def looked_at(self, lines: list[str]) -> list[str]:
        """Let a cell through, or turn it into a call that says what is wrong with it."""
        text = "".join(lines)
        if re.match(r"%%answer(\s|$)", text):
            # IPython refuses a cell magic with nothing at all below it; a blank answer is none.
            return lines if "".join(lines[1:]).strip() else [lines[0].rstrip("\n") + "\n", "\n"]
        if not self.on or self._author:
            return lines
        whose = self._whose(text)
        self._author = whose == _AUTHORS
        if whose == _NOBODYS:
            return ["from lessons.notebook import calls as _calls, slips as _slips; _calls._say(_slips.LOST_LINE)\n"]
        return lines

    def _whose(self, text: str) -> str:
        try:
            statements = ast.parse(text).body
        except (SyntaxError, ValueError, RecursionError, MemoryError, SystemError):
            return _NOBODYS
        if all(_is_ours(each, self._ours) for each in statements):
            return _OURS
        return _AUTHORS if isinstance(statements[0], ast.Import | ast.ImportFrom) else _NOBODYS


def _is_ours(statement: ast.stmt, ours: Collection[str]) -> bool:
    """Tell whether a statement imports from the lessons, or calls one of their functions with plain values."""
    if isinstance(statement, ast.ImportFrom):
        return _from_lessons(statement.module or "")
    if isinstance(statement, ast.Import):
        return all(_from_lessons(each.name) for each in statement.names)
    call = statement.value if isinstance(statement, ast.Expr) else None
    if not (isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id in ours):
        return False
    return all(_is_plain(each) for each in (*call.args, *(keyword.value for keyword in call.keywords)))


def _from_lessons(module: str) -> bool:
    return module.partition(".")[0] == "lessons"


def _is_plain(value: ast.expr) -> bool:
    try:
        ast.literal_eval(value)
    except (ValueError, TypeError, SyntaxError, RecursionError, MemoryError, SystemError):
        return False
    return True


def _file(trace: Any) -> str:
    while trace.tb_next is not None:
        trace = trace.tb_next
    return str(trace.tb_frame.f_code.co_filename)
