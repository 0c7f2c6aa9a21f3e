"""The ideas of the course: how often each is asked for, and how often somebody has tried it."""

from __future__ import annotations

import functools
import importlib
from collections.abc import Mapping

from lessons.notebook import bank
from lessons.practice.ideas import IDEAS
from lessons.questions.progress import Progress
from lessons.questions.question import Question

ENOUGH = 7  # opportunities that take an idea from 65 to 80 % right: Koedinger 2023, from memory


@functools.cache
def ideas() -> Mapping[str, tuple[str, ...]]:
    """Return every idea with the questions that use it; a question without an idea stands for its lesson as a whole."""
    found = {idea: tuple(ids.split()) for idea, ids in IDEAS.items()}
    for lesson in bank.lessons():
        module = importlib.import_module(lesson.module)
        for idea, names in getattr(module, "IDEAS", {}).items():
            found[idea] = tuple(name if "." in name else f"{lesson.topic}.{name}" for name in names.split())
    named = {each for ids in found.values() for each in ids}
    for lesson in bank.lessons()[1:]:  # lesson 00 has none
        left = tuple(each for each in _asked() if each.startswith(f"{lesson.topic}.") and each not in named)
        found |= {lesson.title: left} if left else {}
    return found


def _asked() -> dict[str, Question]:
    return {**bank.practice_questions(), **bank.graded_questions()}


def opportunities() -> dict[str, int]:
    """Return how many questions of the course ask for each idea; what comes back is not counted."""
    return {idea: sum(each in _asked() for each in ids) for idea, ids in ideas().items()}


def tried(known: Progress) -> dict[str, int]:
    """Return how often somebody has tried each idea, from what is written down: every answer counts, returns too."""
    return {idea: sum(len(known.answers.get(each, ())) for each in ids) for idea, ids in ideas().items()}
