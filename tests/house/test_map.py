"""The tree in DEVELOPERS.md is the tree there is: what it names exists, and no room is missing from it."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
DEEPEST = 2  # how far below the top every room has to be named


def named(text: str) -> set[str]:
    """Return the paths of a tree in which each level is two spaces deeper, and two spaces part names and words."""
    paths, above = set(), {0: ""}
    for line in filter(None, text.splitlines()):
        depth, names = len(line) - len(line.lstrip()), re.split(r"\s{2,}", line.strip())[0]
        if depth > 2 * DEEPEST:
            continue  # words that go on from the line above
        here = [above[depth] + each for each in names.split()]
        paths.update(here)
        above[depth + 2] = here[0]
    return paths


def tree() -> set[str]:
    house = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## The house")[2]
    return named(house.split("```")[1])


def there(path: str) -> bool:
    """Tell whether a room is a folder, and a module a file of that name or a Python file."""
    place = ROOT / path
    return place.is_dir() if path.endswith("/") else place.is_file() or place.with_suffix(".py").is_file()


def test_what_the_tree_names_is_there() -> None:
    assert [path for path in sorted(tree()) if not there(path)] == []


def test_no_room_is_missing() -> None:
    rooms = {f"{top}/" for top in ("valvecalc", "lessons", "grading", "tests")}
    rooms |= {f"{each.parent.parent.name}/{each.parent.name}/" for each in ROOT.glob("*/*/__init__.py")}
    assert sorted(each for each in rooms - tree() if not each.startswith(".")) == []


def test_the_check_can_fail() -> None:
    tree = "top/      what is there\n            and more words\n  a/ b      two\n    c.py    one\n"
    assert named(tree) == {"top/", "top/a/", "top/b", "top/a/c.py"}
    assert not there("lessons/nowhere/")
