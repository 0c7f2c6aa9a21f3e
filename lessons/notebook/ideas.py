"""The ideas of the course: how often each is asked for, and how often somebody has tried it."""

from __future__ import annotations

import functools
import importlib
from collections.abc import Mapping

from lessons.notebook import bank
from lessons.practice.ideas import IDEAS
from lessons.questions.progress import Progress

ENOUGH = 7  # opportunities that take an idea from 65 to 80 % right: Koedinger 2023, from memory


@functools.cache
def ideas() -> Mapping[str, tuple[str, ...]]:
    """Return every idea with the questions that use it, those of the lessons' own modules last."""
    found = {idea: tuple(ids.split()) for idea, ids in IDEAS.items()}
    for lesson in bank.lessons():
        module = importlib.import_module(lesson.module)
        for idea, names in getattr(module, "IDEAS", {}).items():
            found[idea] = tuple(name if "." in name else f"{lesson.topic}.{name}" for name in names.split())
    return found


def opportunities() -> dict[str, int]:
    """Return how many questions of the course ask for each idea; what comes back is not counted."""
    known = {**bank.practice_questions(), **bank.graded_questions()}
    return {idea: sum(each in known for each in ids) for idea, ids in ideas().items()}


def tried(known: Progress) -> dict[str, int]:
    """Return how often somebody has tried each idea, from what is written down: every answer counts, returns too."""
    return {idea: sum(len(known.answers.get(each, ())) for each in ids) for idea, ids in ideas().items()}
