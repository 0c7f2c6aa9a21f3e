"""One name stands for one thing: public functions and classes, and the names of modules, over all three packages."""

from __future__ import annotations

import ast
from collections import defaultdict
from collections.abc import Iterable
from itertools import combinations
from pathlib import Path

ROOT = Path(__file__).parents[2]
MODULES = [path for top in ("valvecalc", "lessons", "grading") for path in sorted((ROOT / top).rglob("*.py"))]

MEANT_TWICE = {
    "main": "what a command line calls: python -m lessons and python -m grading",
}
# Rooms with one module per topic of the trade. A topic has the same name in all of them: the room says what of it is meant.
BY_TOPIC = ("valvecalc", "lessons/practice", "lessons/cards", "lessons/pictures", "grading/workorders")


def public_names(source: str) -> list[str]:
    """Return the functions and classes that a module defines for others."""
    found = (node for node in ast.parse(source).body if isinstance(node, ast.FunctionDef | ast.ClassDef))
    return [node.name for node in found if not node.name.startswith("_")]


def doubled(found: Iterable[tuple[str, str]]) -> dict[str, list[str]]:
    """Return the names that stand in more than one place, with their places."""
    places: dict[str, list[str]] = defaultdict(list)
    for name, place in found:
        places[name].append(place)
    return {name: here for name, here in places.items() if len(here) > 1}


def same_topic(one: str, other: str) -> bool:
    rooms = [next((room for room in BY_TOPIC if path.startswith(room + "/")), None) for path in (one, other)]
    return None not in rooms and rooms[0] != rooms[1]


def test_a_public_name_stands_for_one_thing() -> None:
    found = [(name, str(path.relative_to(ROOT))) for path in MODULES for name in public_names(path.read_text("utf-8"))]
    assert len(found) > 500
    twice = doubled(found)
    assert {name: places for name, places in twice.items() if name not in MEANT_TWICE} == {}
    assert set(MEANT_TWICE) <= set(twice)  # an exception that is needed no longer goes


def test_a_module_name_stands_for_one_topic() -> None:
    found = [(path.stem, str(path.relative_to(ROOT))) for path in MODULES if not path.stem.startswith("__")]
    twice = doubled(found)
    mixed = {name: here for name, here in twice.items() if not all(same_topic(*pair) for pair in combinations(here, 2))}
    assert mixed == {}


def test_the_search_can_fail() -> None:
    assert public_names("class Sheet: ...\ndef _own(): ...\ndef say(): ...") == ["Sheet", "say"]
    assert doubled([("say", "a.py"), ("say", "b.py"), ("tell", "a.py")]) == {"say": ["a.py", "b.py"]}
    assert same_topic("lessons/cards/drive/packing.py", "valvecalc/packing.py")
    assert not same_topic("lessons/practice/valve/drop/names.py", "lessons/practice/valve/bodies/names.py")
    assert not same_topic("lessons/card_page/files.py", "grading/handins/files.py")
