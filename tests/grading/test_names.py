"""Whose a file is, by the names of file, folder, zip or subject."""

from __future__ import annotations

import pytest

from grading.handins.handin import UnusableError
from grading.taking_in.take_in import whose

ROSTER = {"4711", "4712", "04", "2026", "a-12", "a", "Jo_1"}
LESSONS = ["04_inherent_characteristic"]

NAMED = [
    (("4711.ipynb",), "4711"),
    (("4711", "04_inherent_characteristic.ipynb"), "4711"),
    (("4711_04_inherent_characteristic.ipynb",), "4711"),
    (("04_inherent_characteristic (4711).ipynb",), "4711"),
    (("04_inherent_characteristic-4711-1.ipynb",), "4711"),
    (("04.ipynb",), "04"),
    (("4711+04_inherent_characteristic+2026-01-02 03:04:05.678901 UTC+x", "04_inherent_characteristic.ipynb"), "4711"),
    (("4711 2026-01-02.zip", "04_inherent_characteristic", "04_inherent_characteristic.ipynb"), "4711"),
    (("a-12.ipynb",), "a-12"),
    (("Jo_1.IPYNB",), "Jo_1"),
    (("Work order, badge 4711: done", "Untitled.ipynb"), "4711"),
    (("4711", "4711.ipynb"), "4711"),
    (("A-12.ipynb",), "a-12"),  # as somebody types it
    (("4711 (2).ipynb",), "4711"),
]
UNNAMED = [
    (("homework.ipynb",), "has a badge of roster.csv"),
    (("47112.ipynb",), "has a badge of roster.csv"),
    (("x4711.ipynb",), "has a badge of roster.csv"),
    (("04_inherent_characteristic.ipynb",), "has a badge of roster.csv"),
    (("4711", "4712.ipynb"), "two badges, 4711 and 4712"),
    (("4711_4712.ipynb",), "two badges, 4711 and 4712"),
]


@pytest.mark.parametrize(("names", "badge"), NAMED)
def test_a_badge_is_found(names: tuple[str, ...], badge: str) -> None:
    assert whose(names, ROSTER, LESSONS) == badge


@pytest.mark.parametrize(("names", "said"), UNNAMED)
def test_a_name_without_one_clear_badge_gets_a_sentence(names: tuple[str, ...], said: str) -> None:
    with pytest.raises(UnusableError, match=said):
        whose(names, ROSTER, LESSONS)
