"""How many wrong workings get their true cause, measured over every variant in both unit sets, on a list of its own."""

from __future__ import annotations

import math
import re
from collections import Counter

from lessons.notebook import bank
from lessons.questions.judge import OTHER, RIGHT, UNREADABLE, judge
from lessons.questions.question import Posed, pose_variant
from lessons.units.quantities import plain_number, rounded_to
from tests.lessons.questions.wrong_rows import ROWS

QUESTIONS = {**bank.practice_questions(), **bank.graded_questions()}
BAR_CM2, BAR_MM2 = {"si": 10.0, "us": 1.0}, {"si": 0.1, "us": 1.0}
ATMOSPHERE = {"si": 1.01325, "us": 14.696}
NAMED, UNNAMED, FALSE, ACCEPTED = "named", "unnamed", "false", "accepted"


def typed(posed: Posed, working: str, digits: int) -> str | None:
    """What somebody types who works like this, rounded as people round."""
    names = {
        "U": BAR_CM2[posed.units],
        "V": BAR_MM2[posed.units],
        "A": ATMOSPHERE[posed.units],
        "pi": math.pi,
        "sqrt": math.sqrt,
        "log": math.log,
        "log10": math.log10,
        "max": max,
        "min": min,
    }
    try:
        value = eval(working, names | dict(posed.numbers.in_formulas.trade))  # noqa: S307 - our own rows
    except (ZeroDivisionError, ValueError):
        return None
    return f"{plain_number(rounded_to(value, digits))} {posed.sheet.unit}"


def verdict(posed: Posed, answer: str, pattern: str) -> str:
    reply = judge(posed, answer)
    if reply.tag == RIGHT:
        return ACCEPTED
    if not pattern:  # nobody can tell what was done: a named cause would be a guess
        return UNNAMED
    if reply.tag in (OTHER, UNREADABLE, "sign", "power_of_ten", "fraction_for_percent"):
        return NAMED if re.search(pattern, reply.means) and reply.tag != OTHER else UNNAMED
    return NAMED if re.search(pattern, reply.means, re.IGNORECASE) else FALSE


def test_most_wrong_workings_are_named_and_hardly_any_is_false() -> None:
    found: Counter[str] = Counter()
    where: dict[str, Counter[tuple[str, str]]] = {UNNAMED: Counter(), FALSE: Counter(), ACCEPTED: Counter()}
    for question_id, rows in ROWS.items():
        question = QUESTIONS[question_id]
        for index in range(len(question.variants)):
            for units in ("si", "us"):
                posed = pose_variant(question, index, units)
                for working, pattern in rows:
                    answer = typed(posed, working, 4)
                    if answer is not None and pattern:
                        what = verdict(posed, answer, pattern)
                        found[what] += 1
                        if what != NAMED:
                            where[what][question_id, working] += 1
    total = sum(found.values())
    told = {what: counted.most_common(20) for what, counted in where.items()}
    assert total > 5000
    assert found[NAMED] >= 0.95 * total, told
    assert found[FALSE] < 0.01 * total, told
    assert found[ACCEPTED] == 0, told


def test_the_measure_can_fail() -> None:
    posed = pose_variant(QUESTIONS["drop.flow"], 0)  # Kv 40 at 4 bar: 80 m³/h
    assert verdict(posed, "80 m³/h", "root") == ACCEPTED
    assert verdict(posed, "160 m³/h", "root|itself") == NAMED
    assert verdict(posed, "160 m³/h", "density") == FALSE
    assert verdict(posed, "123 m³/h", "root") == UNNAMED
