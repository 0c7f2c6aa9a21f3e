"""Every public function of valvecalc reaches a reader: a lesson, a card, a picture or the marking calls it."""

from __future__ import annotations

import ast
from pathlib import Path

ROOT = Path(__file__).parents[2]
MODULES = sorted((ROOT / "valvecalc").glob("*.py"))


def words(node: ast.AST) -> set[str]:
    """Return every name that stands in a piece of code."""
    found = {each.id for each in ast.walk(node) if isinstance(each, ast.Name)}
    found |= {each.attr for each in ast.walk(node) if isinstance(each, ast.Attribute)}
    imports = (each for each in ast.walk(node) if isinstance(each, ast.ImportFrom))
    return found | {alias.name for each in imports for alias in each.names}


def unreached(functions: dict[str, set[str]], called: set[str]) -> list[str]:
    """Return the functions that are neither called nor named by one that is."""
    left = dict(functions)
    while reached := left.keys() & called:
        called = called.union(*(left.pop(name) for name in reached))
    return sorted(left)


def test_no_function_is_there_for_its_tests_only() -> None:
    trees = [ast.parse(path.read_text(encoding="utf-8")) for path in MODULES]
    functions: dict[str, set[str]] = {}
    for each in (n for tree in trees for n in tree.body if isinstance(n, ast.FunctionDef)):
        functions.setdefault(each.name, set()).update(words(each))  # a helper's name may stand in two modules
    paths = [path for folder in ("lessons", "grading") for path in (ROOT / folder).rglob("*.py")]
    called = set().union(*(words(ast.parse(path.read_text(encoding="utf-8"))) for path in paths))
    assert len(functions) > 100
    assert unreached(functions, called) == ["__dir__", "__getattr__"]


def test_the_search_can_fail() -> None:
    assert unreached({"a": {"b"}, "b": set(), "c": {"a"}}, {"a"}) == ["c"]
