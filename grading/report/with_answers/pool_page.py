"""A page that shows the instructor's own questions with their answers, before anybody else sees them."""

from __future__ import annotations

from collections.abc import Mapping
from html import escape
from pathlib import Path

from grading.course.course import Course, write_safely
from grading.report.whole_page import page
from lessons.questions.judge import solution
from lessons.questions.question import Question, pose_variant
from lessons.units.quantities import Q, from_base, rounded_to
from lessons.units.readout import counted

_SHOWN = 3  # sets of numbers of each question


def write_pool_page(course: Course, found: Mapping[str, tuple[str, Question]]) -> Path:
    """Write the page; return where it is."""
    parts = ["<h1>Your own questions</h1><p>This page shows the answers. Keep it to yourself.</p>"]
    for name, (lesson, question) in found.items():
        sets = counted(len(question.variants), "set of numbers", "sets of numbers")
        parts.append(f"<h2>{escape(name)}, lesson {escape(lesson)}: {sets}</h2>")
        parts += [_shown(question, index) for index in range(_SHOWN)]
    target = course.root / "tables" / "own_questions.html"
    write_safely(target, page("Your own questions", "".join(parts)), mode=0o600)
    return target


def _shown(question: Question, index: int) -> str:
    this = pose_variant(question, index)
    wrong = "".join(
        f"<li>{escape(str(_answer(float(mistake.wrong(this.numbers)), question)))}: "
        f"{escape(mistake.says.format_map(this.words))} Credit {mistake.credit:g}.</li>"
        for mistake in question.mistakes
    )
    return (
        f"<section><p>{escape(this.sheet.text)}</p><p>{escape(this.words['working'])} {escape(solution(this))}</p>"
        f"<ul>{wrong}</ul></section>"
    )


def _answer(value: float, question: Question) -> Q:
    seen = from_base(value, question.unit)
    return Q(rounded_to(seen.value), seen.unit)
