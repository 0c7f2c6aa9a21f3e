"""Everything a reader can meet: the words of notebooks, questions, cards, pictures, advice and glossary, as strings."""

from __future__ import annotations

import ast
import json
from collections.abc import Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).parents[2]
SPOKEN = (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)


@cache
def reader_text() -> tuple[tuple[str, str], ...]:
    """Return (where it stands, what it says) for every notebook cell and every string of the code, docstrings left out."""
    return (*_notebooks(), *_modules(), ("README.md", (ROOT / "README.md").read_text(encoding="utf-8")))


def strings(code: str) -> Iterator[tuple[int, str]]:
    """Give line and words of every string, with `{}` for what an f-string fills in.

    >>> list(strings("'''Doc.'''\\nx = f'leaks {p} ' 'of it'"))
    [(2, 'leaks {} of it')]
    """
    tree = ast.parse(code)
    skip = {id(node.body[0].value) for node in ast.walk(tree) if isinstance(node, SPOKEN) and _has_docstring(node)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            skip |= {id(part) for part in ast.walk(node) if isinstance(part, ast.Constant)}
            yield node.lineno, "".join(v.value if isinstance(v, ast.Constant) else "{}" for v in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in skip:
            yield node.lineno, node.value


def _has_docstring(node: ast.AST) -> bool:
    first = next(iter(node.body), None)
    return isinstance(first, ast.Expr) and isinstance(first.value, ast.Constant)


def _modules() -> Iterator[tuple[str, str]]:
    for folder in ("lessons", "grading"):
        for path in sorted((ROOT / folder).rglob("*.py")):
            for line, words in strings(path.read_text(encoding="utf-8")):
                yield f"{path.relative_to(ROOT)}:{line}", words


def _notebooks() -> Iterator[tuple[str, str]]:
    for path in sorted((ROOT / "lessons").rglob("*.ipynb")):
        if ".ipynb_checkpoints" not in path.parts:
            for number, cell in enumerate(json.loads(path.read_text(encoding="utf-8"))["cells"]):
                yield f"{path.relative_to(ROOT)}, cell {number}", "".join(cell["source"])
