"""Judges an answer: pure, so that a lesson, the marking of a class and a test all get the same reply."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from lessons.questions import read_number, reading
from lessons.questions.judge_number import OTHER as OTHER
from lessons.questions.judge_number import RIGHT as RIGHT
from lessons.questions.judge_number import fill, judge_number
from lessons.questions.judge_number import right_number as right_number
from lessons.questions.question import Posed, QuestionSheet
from lessons.questions.read_number import Unreadable
from lessons.units.quantities import Q, from_base, plain_number, rounded_to
from lessons.units.readout import counted

UNREADABLE = "unreadable"
HINT = "hint"
RECORDED = "recorded"
TRIES_BEFORE_NEW_NUMBERS = 4
_UNJUDGED = {
    "predict": "Your prediction is written down.",
    "written": "Your answer is written down. A person will mark it.",
}
_NO_HINTS = "A work order gives no hints. The lesson above it works through the same ideas."


@dataclass(frozen=True)
class Reply:
    """What to say to an answer: what was read, what it means, what to do next.

    `score` is from 0 to 1; `tag` is "right", "recorded", "unreadable", "other" or the tag of a mistake; `fresh` tells
    that the next try gets new numbers.
    """

    score: float
    tag: str
    read: str
    means: str = ""
    next: str = ""
    fresh: bool = False

    @property
    def text(self) -> str:
        """The three parts as one text."""
        return " ".join(part for part in (self.read, self.means, self.next) if part)


def judge(posed: Posed, text: str, tries: int = 0, hints: int = 0) -> Reply:
    """Judge one answer, after so many wrong tries and hints before it; a cry for help gets the next hint."""
    if reading.asks_for_hint(text) and posed.question.kind not in _UNJUDGED:
        return Reply(0.0, HINT, "", next=_hint(posed, tries + hints))
    answer = read_answer(posed.sheet, text)
    if isinstance(answer, Unreadable):
        return Reply(0.0, UNREADABLE, answer.reason, next="This does not count as a try.")
    read = _echo(posed.sheet, answer)
    if posed.question.kind in _UNJUDGED:
        return Reply(1.0, RECORDED, read, _UNJUDGED[posed.question.kind], fill(posed.question.why, posed))
    score, tag, means = _JUDGES[posed.question.kind](posed, answer)
    if tag == RIGHT:
        return Reply(1.0, RIGHT, read, "Right.", fill(posed.question.why, posed))
    fresh = tries + 1 >= TRIES_BEFORE_NEW_NUMBERS
    then = f"{solution(posed)}{_said(posed)} Now try it with new numbers." if fresh else _hint(posed, tries + hints)
    return Reply(score, tag, read, means or "That is not it.", then, fresh)


def acknowledge(sheet: QuestionSheet, text: str) -> Reply:
    """Reply to an answer without knowing the key: what was read, and whether it is plausible."""
    if reading.asks_for_hint(text) and sheet.kind not in _UNJUDGED:
        return Reply(0.0, UNREADABLE, _NO_HINTS, next="Nothing is lost. Type your answer when you have one.")
    answer = read_answer(sheet, text)
    if isinstance(answer, Unreadable):
        return Reply(0.0, UNREADABLE, answer.reason, next="Nothing is lost. Type it again.")
    means = ""
    if sheet.plausible and isinstance(answer, Q):
        low, high = sheet.plausible
        if not low <= answer.value <= high:
            allowed = f"{plain_number(low)} to {plain_number(high)} {answer.unit}".strip()
            means = f"That is outside {allowed}. Look at it once more."
    return Reply(
        0.0, RECORDED, _echo(sheet, answer), means, "It is marked after you hand it in. Until then you may change it."
    )


def read_answer(sheet: QuestionSheet, text: str) -> Any:
    """Read an answer as this kind of question takes it: a Q, letters, pairs, or Unreadable."""
    text = text if sheet.kind == "written" else reading.sureness(text)[0]
    if sheet.kind == "written":
        return text.strip() or Unreadable("There is no answer yet. Type it below the first line and press Shift+Enter.")
    if sheet.kind == "number":
        return read_number.number(text, sheet.unit)
    if sheet.kind == "match":
        return reading.pairs(text, tuple(number for number, _ in sheet.places), sheet.options)
    wanted = {"several": None, "order": len(sheet.options)}.get(sheet.kind, 1)
    return reading.picked(text, sheet.options, how_many=wanted)


def _echo(sheet: QuestionSheet, answer: Any) -> str:
    if isinstance(answer, str):
        return f"Read: {counted(len(answer.split()), 'word')}."
    if isinstance(answer, Q):
        return f"Read as {Q(rounded_to(answer.value, 5), answer.unit)}."
    if isinstance(answer, dict):
        return f"Read as {' '.join(place + letter for place, letter in answer.items())}."
    if len(answer) == 1:
        return f"Read as {answer[0]}: {dict(sheet.options)[answer[0]]}."
    return f"Read as {' '.join(answer)}."


def _judge_choice(posed: Posed, answer: tuple[str, ...]) -> tuple[float, str, str]:
    picked, key = posed.names[answer[0]], posed.right
    if picked == key:
        return 1.0, RIGHT, ""
    says = next(option.says for option in posed.question.options if option.name == picked)
    return 0.0, picked, fill(says, posed)


def _judge_several(posed: Posed, answer: tuple[str, ...]) -> tuple[float, str, str]:
    picked, key = {posed.names[letter] for letter in answer}, set(posed.right)
    if picked == key:
        return 1.0, RIGHT, ""
    extra, missing = picked - key, key - picked
    # What is ticked wrongly weighs as much as ticking it right is worth: all letters, or any by chance, earn nothing.
    others = len(posed.question.options) - len(key)
    score = max(0.0, len(key & picked) / len(key) - (len(extra) / others if others else 0.0))
    for option in posed.question.options:
        if option.name in extra:
            return score, option.name, fill(option.says, posed)
    return score, "incomplete", f"All you picked belongs there. Still missing: {counted(len(missing), 'option')}."


def _judge_order(posed: Posed, answer: tuple[str, ...]) -> tuple[float, str, str]:
    picked, key = [posed.names[letter] for letter in answer], list(posed.right)
    if picked == key:
        return 1.0, RIGHT, ""
    # Partial credit counts the steps that follow the right step; a half-right order is no proof of knowing it.
    followed = len(set(pairwise(key)) & set(pairwise(picked)))
    score = 0.5 * followed / (len(key) - 1)
    for mistake in posed.question.mistakes:
        if picked == list(mistake.wrong(posed.numbers)):
            return score, mistake.tag, fill(mistake.says, posed)
    first = next(i for i, (a, b) in enumerate(zip(picked, key, strict=True)) if a != b)
    said = f"From the start, {counted(first, 'step is', 'steps are')} in place."
    return score, "order", said if first else "Your first step does not come first."


def _judge_match(posed: Posed, answer: dict[str, str]) -> tuple[float, str, str]:
    key = posed.right
    wrong = [place for place, letter in answer.items() if key[posed.places[place]] != posed.names[letter]]
    if not wrong:
        return 1.0, RIGHT, ""
    right = len(answer) - len(wrong)
    tag = "swapped" if len(wrong) == 2 else "match"
    return right / len(answer), tag, f"Right: {right} of {len(answer)}. Look again at {', '.join(wrong)}."


_JUDGES: Mapping[str, Callable[[Posed, Any], tuple[float, str, str]]] = {
    "number": judge_number,
    "choice": _judge_choice,
    "several": _judge_several,
    "order": _judge_order,
    "match": _judge_match,
}


def _hint(posed: Posed, given: int) -> str:
    """Return the next rung of help: the idea, the step with these numbers, an example."""
    rungs = (fill(posed.question.idea, posed), fill(posed.question.step, posed), _example(posed))
    return rungs[min(given, 2)] or rungs[0]


def _example(posed: Posed) -> str:
    """Return a worked example with other numbers, with its working where there is one."""
    working = posed.other_words.get("working")
    return (
        f"The same with other numbers. {working}" if working else posed.question.example.format_map(posed.other_words)
    )


def solution(posed: Posed) -> str:
    """Return the right answer as a sentence, with its working where there is one."""
    working = posed.words.get("working")
    return f"{_answer(posed)} This is how. {working}" if working else _answer(posed)


def _said(posed: Posed) -> str:
    """Return the right options in words and why they are right; nothing for a number, which has its working."""
    if posed.question.kind == "number":
        return ""
    keyed = {posed.right} if posed.question.kind == "choice" else posed.right
    texts = [text for letter, text in posed.sheet.options if posed.names[letter] in keyed]
    named = f" That is: {'; '.join(texts)}." if posed.question.kind in ("choice", "several") else ""
    return f"{named} {fill(posed.question.why, posed)}"


def _answer(posed: Posed) -> str:
    question = posed.question
    key = posed.right
    letter = {name: letter for letter, name in posed.names.items()}
    if question.kind == "number":
        return f"The answer was {shown_answer(posed)}."
    if question.kind == "match":
        return f"The answer was {' '.join(f'{n}{letter[key[place]]}' for n, place in posed.places.items())}."
    names = [key] if isinstance(key, str) else sorted(key, key=letter.__getitem__) if isinstance(key, set) else key
    return f"The answer was {' '.join(letter[name] for name in names)}."


def shown_answer(posed: Posed) -> str:
    """Return the right answer of a number question as it is shown."""
    answer = from_base(right_number(posed), posed.sheet.unit)
    return str(Q(rounded_to(answer.value, posed.question.digits), answer.unit)).replace("-", "−")
