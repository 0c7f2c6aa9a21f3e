"""Slips of the hand in an answer cell, such as a deleted first line, answered with a sentence and no traceback."""

from __future__ import annotations

import ast
from collections.abc import Callable
from pathlib import Path
from typing import Any

LOST_NAME = (
    "The first line of this cell must name its question, such as %%answer inherent.step. "
    "Press Ctrl+Z until it is back, or copy the name from the question's cell above."
)
LOST_LINE = (
    "This cell has lost its first line, so the answer cannot be matched to its question. "
    "It begins with %%answer and the name of the question. Press Ctrl+Z until it is back."
)
NOT_RUN = "This lesson has not been started in this session yet. In the menu choose Run, then Run All Cells."


def answer_with_a_sentence(shell: Any, say: Callable[[str], None]) -> None:
    """Have a cell that is not Python, or names things that are not there, answered with a sentence."""

    def on_name_error(shell: Any, etype: type, value: BaseException, trace: Any, tb_offset: int | None = None) -> None:
        # Only where the cell itself slipped: a NameError from inside the lessons' own code is a defect to be seen.
        if not Path(_file(trace)).exists():
            say(NOT_RUN if getattr(value, "name", "") in ("ask", "begin", "live") else LOST_LINE)
        else:
            shell.showtraceback((etype, value, trace), tb_offset=tb_offset)

    shell.set_custom_exc((NameError,), on_name_error)
    shell.input_transformers_cleanup.append(_answerable)


def _file(trace: Any) -> str:
    while trace.tb_next is not None:
        trace = trace.tb_next
    return str(trace.tb_frame.f_code.co_filename)


def _answerable(lines: list[str]) -> list[str]:
    """Let a blank answer through, and turn a cell that is no Python into a call that says so."""
    text = "".join(lines)
    if text.startswith("%%answer") and not "".join(lines[1:]).strip():
        return [lines[0].rstrip("\n") + "\n", "\n"]  # IPython refuses a cell magic with nothing at all below it
    if not text.strip() or text.lstrip().startswith(("%", "!", "?")) or text.rstrip().endswith("?"):
        return lines
    try:
        ast.parse(text)
    except (SyntaxError, ValueError):
        return ["__import__('lessons.notebook').notebook._say(__import__('lessons.slips').slips.LOST_LINE)\n"]
    return lines
