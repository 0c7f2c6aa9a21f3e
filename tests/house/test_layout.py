"""The shape of the project: what may import what, how large a room may be, and what lies at the top."""

from __future__ import annotations

import ast
import functools
import re
import shutil
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
MAY_IMPORT = {
    "valvecalc": {"valvecalc"},
    "lessons": {"valvecalc", "lessons"},
    "grading": {"valvecalc", "lessons", "grading"},
}
OWN = set(MAY_IMPORT) | {"tests"}
MODULES = [path for folder in MAY_IMPORT for path in sorted((ROOT / folder).rglob("*.py"))]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "lessons", "valvecalc", "tests", "grading"}
MOST_MODULE_LINES, MOST_FUNCTION_LINES, MOST_ENTRIES = 250, 40, 15


def name(path: Path) -> str:
    return str(path.relative_to(ROOT))


@functools.cache
def tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


@functools.cache
def parts(node: ast.AST) -> tuple[ast.AST, ...]:
    """Return what the checks look at, of all that a module or function is made of."""
    kinds = (ast.Import, ast.ImportFrom, ast.Module, ast.ClassDef, ast.FunctionDef)
    return tuple(each for each in ast.walk(node) if isinstance(each, kinds))


def imported(module: ast.AST) -> set[str]:
    names = {alias.name for node in parts(module) if isinstance(node, ast.Import) for alias in node.names}
    names |= {node.module or "" for node in parts(module) if isinstance(node, ast.ImportFrom) and not node.level}
    return {each.partition(".")[0] for each in names}


def code_lines(node: ast.Module | ast.FunctionDef, lines: int) -> int:
    """Count the lines of a module or function without the docstrings in it: they are read, not run."""
    said = 0
    for part in parts(node):
        if isinstance(part, ast.Module | ast.ClassDef | ast.FunctionDef) and ast.get_docstring(part) is not None:
            said += (part.body[0].end_lineno or 0) - part.body[0].lineno + 1
    return lines - said


def test_imports_run_one_way() -> None:
    used = {path: imported(tree(path)) & OWN for path in MODULES}
    back = {name(path): own - MAY_IMPORT[path.relative_to(ROOT).parts[0]] for path, own in used.items()}
    assert {path: own for path, own in back.items() if own} == {}


def test_the_import_check_can_fail() -> None:
    assert imported(ast.parse("from grading.course.course import x\nimport numpy as np")) == {"grading", "numpy"}


def test_the_numbers_need_numpy_only() -> None:
    used = {each for path in MODULES if path.is_relative_to(ROOT / "valvecalc") for each in imported(tree(path))}
    assert not used & {"matplotlib", "pint", "scipy", "IPython", "ipywidgets", "anywidget", "json", "pathlib", "os"}


def test_only_one_module_imports_ipython() -> None:
    users = {name(path) for path in MODULES if "IPython" in imported(tree(path))}
    assert users == {"lessons/notebook/calls.py"}


def long_functions(path: Path) -> list[str]:
    functions = [node for node in parts(tree(path)) if isinstance(node, ast.FunctionDef)]
    return [f.name for f in functions if code_lines(f, (f.end_lineno or 0) - f.lineno + 1) > MOST_FUNCTION_LINES]


def test_rooms_are_small() -> None:
    code = [path for path in MODULES if not {"practice", "workorders"} & set(path.parts)]  # not prose and numbers
    sizes = {name(path): code_lines(tree(path), len(path.read_text(encoding="utf-8").splitlines())) for path in code}
    assert len(sizes) > 200
    assert {path: lines for path, lines in sizes.items() if lines >= MOST_MODULE_LINES} == {}
    assert {name(path): long for path in MODULES if (long := long_functions(path))} == {}


def test_docstrings_are_not_counted_as_code() -> None:
    text = '"""A module."""\n\n\ndef f() -> int:\n    """Say\n\n    more.\n    """\n    return 1\n'
    module = ast.parse(text)
    assert code_lines(module, len(text.splitlines())) == 4
    (function,) = (node for node in module.body if isinstance(node, ast.FunctionDef))
    assert code_lines(function, 6) == 2


def test_no_module_and_no_notebook_is_taken_for_a_test() -> None:
    """The test runner collects what is called test_* or *_test; a notebook follows the module it is named after."""
    notebooks = (ROOT / "lessons").rglob("*.ipynb")
    named = [*MODULES, *(each for each in notebooks if ".ipynb_checkpoints" not in each.parts)]
    assert len(named) > len(MODULES) > 200
    assert [name(each) for each in named if each.stem.startswith("test_") or each.stem.endswith("_test")] == []


@functools.cache
def room(path: Path) -> str:
    """A folder is a room; a module beside rooms of its own package stands for itself."""
    folder = path.parent
    beside_rooms = any((each / "__init__.py").exists() for each in folder.iterdir() if each.is_dir())
    return name(path) if beside_rooms else name(folder)


@functools.cache
def module_path(dotted: str) -> Path | None:
    base = ROOT.joinpath(*dotted.split("."))
    return next((each for each in (base.with_suffix(".py"), base / "__init__.py") if each.exists()), None)


def rooms_used(path: Path) -> set[str]:
    """Return the rooms that a module takes something from, imports within functions included."""
    found = set()
    for node in parts(tree(path)):
        if isinstance(node, ast.ImportFrom) and node.module:
            targets = [module_path(f"{node.module}.{alias.name}") or module_path(node.module) for alias in node.names]
        else:
            targets = [module_path(alias.name) for alias in node.names] if isinstance(node, ast.Import) else []
        found |= {room(each) for each in targets if each}
    return found - {room(path)}


def circles(uses: dict[str, set[str]]) -> list[str]:
    """Return the rooms that lead back to themselves."""

    def reached(start: str) -> set[str]:
        seen, left = set(), list(uses.get(start, ()))
        while left:
            each = left.pop()
            if each not in seen:
                seen.add(each)
                left += uses.get(each, ())
        return seen

    return sorted(each for each in uses if each in reached(each))


def test_no_room_leads_back_to_itself() -> None:
    uses: dict[str, set[str]] = {}
    for path in MODULES:
        uses.setdefault(room(path), set()).update(rooms_used(path))
    assert len(uses) > 30
    assert circles(uses) == []


def test_the_search_for_circles_can_fail() -> None:
    assert circles({"a": {"b"}, "b": {"c"}, "c": {"b"}}) == ["b", "c"]


ROOMS = sorted({path.parent for path in MODULES if not path.is_relative_to(ROOT / "valvecalc")})


FOLDERS = sorted({path.parent for top in ("lessons", "grading", "tests/grading") for path in (ROOT / top).rglob("*.*")})


@pytest.mark.parametrize("folder", ROOMS, ids=name)
def test_a_room_says_in_two_sentences_what_lives_there_and_what_may_not(folder: Path) -> None:
    said = ast.get_docstring(tree(folder / "__init__.py")) or ""
    assert len(re.findall(r"\.(?=\s|$)", said)) >= 2, said


def test_every_folder_has_few_entries_beside_notebooks() -> None:
    """Those without Python too, such as the scripts of a page."""
    shown = [
        each
        for each in FOLDERS
        if not any(part.startswith((".", "__pycache")) for part in each.relative_to(ROOT).parts)
    ]
    assert len(shown) > len(ROOMS)
    entries = {
        name(folder): [
            each
            for each in folder.iterdir()
            if each.suffix != ".ipynb" and not each.name.startswith((".", "__pycache"))
        ]
        for folder in shown
    }
    assert {room: len(inside) for room, inside in entries.items() if len(inside) >= MOST_ENTRIES} == {}


def test_nothing_else_at_the_top() -> None:
    git = shutil.which("git")
    listed = [git, "-C", str(ROOT), "ls-files"] if git else []
    tracked = subprocess.run(listed, capture_output=True, text=True, check=False).stdout.split() if git else []
    if not tracked:
        pytest.skip("no git here, or not a checkout: what lies at the top cannot be told from what was left there")
    top = {path.partition("/")[0] for path in tracked}
    assert {each for each in top if not each.startswith(".")} == TOP


def test_every_dependency_has_a_lower_bound() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = [
        *project["dependencies"],
        *(each for extra in project["optional-dependencies"].values() for each in extra),
    ]
    assert [each for each in wanted if ">=" not in each and not each.startswith(project["name"])] == []
