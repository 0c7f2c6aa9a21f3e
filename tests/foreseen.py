"""Shows what a question foresees: its working, and each wrong working with the number it leads to and what is said.

`python -m tests.foreseen QUESTION [VARIANT] [si or us]`, such as `python -m tests.foreseen drop.flow 0 us`.
"""

from __future__ import annotations

import sys

from lessons.notebook import bank
from lessons.questions.foreseen import foreseen
from lessons.questions.judge import right_number, solution
from lessons.questions.question import Posed, pose_variant
from lessons.units.readout import to_digits


def shown(question_id: str, variant: int = 0, units: str = "si") -> list[str]:
    """Return the lines to print for a question."""
    question = bank.question(question_id)
    if question is None or question.kind != "number":
        return [f"There is no question “{question_id}” that asks for a number."]
    posed = pose_variant(question, variant, units)
    lines = [posed.sheet.text, solution(posed), ""]
    for value, mistake in [(float(each.wrong(posed.numbers)), each) for each in foreseen(question)]:
        near = " (counts as right here: change the numbers)" if _is_near(value, posed) else ""
        number = to_digits(value, question.unit, units, 4)
        lines.append(f"{number:>16}  {mistake.tag}: {mistake.says.format_map(posed.words)}{near}")
    return lines


def _is_near(value: float, posed: Posed) -> bool:
    right = right_number(posed)
    return abs(value - right) <= posed.question.tolerance * abs(right)


if __name__ == "__main__":
    print("\n".join(shown(sys.argv[1], *(int(each) for each in sys.argv[2:3]), *sys.argv[3:4])))
