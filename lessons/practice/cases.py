"""Variants of a question about cases: each shows one case and carries the name of what is right for it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence


def in_turn(word: str, cases: Mapping[str, Sequence[str]]) -> tuple[dict[str, str], ...]:
    """Return a variant for each case, the right options taking turns, so that neighbours differ.

    >>> in_turn("seen", {"dry": ("dust", "rust"), "wet": ("drops",)})
    ({'seen': 'dust', 'right': 'dry'}, {'seen': 'drops', 'right': 'wet'}, {'seen': 'rust', 'right': 'dry'})
    """
    longest = max(map(len, cases.values()))
    return tuple(
        {word: case, "right": right}
        for turn in range(longest)
        for right, all_cases in cases.items()
        for case in all_cases[turn : turn + 1]
    )
