"""Deals the variants of questions to a class by a secret of the course, so that nobody can work out who has what."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping, Sequence

from grading.given_out.judged_answers import index_of
from lessons.questions.question import Question

Dealt = dict[str, dict[str, int]]  # question -> badge -> variant


def deal(
    questions: Iterable[Question], badges: Sequence[str], secret: str, before: Mapping[str, Mapping[str, int]]
) -> Dealt:
    """Return which variant of each question each badge gets; `before` is what was dealt earlier, and stays.

    A course of before there were secrets deals by badge alone, as it always did.
    """
    if not secret:
        return {question.id: {badge: index_of(question, badge) for badge in badges} for question in questions}
    return {
        question.id: _dealt(badges, len(question.variants), f"{secret}|{question.id}", before.get(question.id, {}))
        for question in questions
    }


def _dealt(badges: Sequence[str], count: int, seed: str, before: Mapping[str, int]) -> dict[str, int]:
    """Give each badge the least used variant that neither neighbour on the list has."""
    dealt = {badge: before[badge] for badge in badges if before.get(badge, count) < count}
    used = [0] * count
    for index in dealt.values():
        used[index] += 1
    for place, badge in enumerate(badges):
        if badge not in dealt:
            beside = {dealt.get(each) for each in (*badges[max(0, place - 1) : place], *badges[place + 1 : place + 2])}
            dealt[badge] = _least_used(used, beside, _start(seed, badge, count))
            used[dealt[badge]] += 1
    return {badge: dealt[badge] for badge in badges}


def _least_used(used: Sequence[int], beside: set[int | None], start: int) -> int:
    count = len(used)
    return min(range(count), key=lambda index: (index in beside, used[index], (index - start) % count))


def _start(seed: str, badge: str, count: int) -> int:
    return int(hashlib.sha256(f"{seed}|{badge}".encode()).hexdigest(), 16) % count
