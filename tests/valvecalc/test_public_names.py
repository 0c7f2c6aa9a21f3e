"""Every public function of valvecalc is typed and documented alike, with parameters from the symbols table."""

import doctest
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from pathlib import Path

import pytest

import valvecalc

SECTIONS = ("Parameters", "Returns", "Raises", "Notes", "Examples")
DEVELOPERS = Path(__file__).parents[2] / "DEVELOPERS.md"


def symbols(text):
    """Parameter names of the first column of the symbols table."""
    table = text.split("## Symbols", 1)[1].split("\n## ", 1)[0]
    rows = [line.split("|")[1] for line in table.splitlines() if line.startswith("| `")]
    return {name for row in rows for name in re.findall(r"`(\w+)`", row)}


def sections(docstring):
    """Text under each underlined heading of a docstring."""
    parts = re.split(r"^(\w+)\n-+\n", docstring, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def entries(section):
    """Each entry of a Parameters or Returns section: its heading line and the text below it."""
    parts = re.split(r"^(?=\S)", section, flags=re.MULTILINE)
    return [part for part in parts if part.strip()]


def complaints(function, known):
    """What this function lacks, one sentence each; empty if it is as it should be."""
    missing = []
    signature = inspect.signature(function)
    missing += [
        f"parameter {name} has no type"
        for name, parameter in signature.parameters.items()
        if parameter.annotation is inspect.Parameter.empty
    ]
    missing += [f"parameter {name} is not in the symbols table" for name in signature.parameters if name not in known]
    if signature.return_annotation is inspect.Signature.empty:
        missing.append("the result has no type")
    doc = inspect.getdoc(function) or ""
    found = sections(doc)
    missing += [f"docstring has no section {name}" for name in SECTIONS if name not in found]
    missing += unit_complaints(list(signature.parameters), found)
    if "Error" not in found.get("Raises", ""):
        missing.append("Raises names no error")
    notes = found.get("Notes", "")
    missing += [
        f"Notes has no line with words after {start}"
        for start in ("Equation:", "Source:")
        if not re.search(rf"^{start} \S", notes, flags=re.MULTILINE)
    ]
    examples = doctest.DocTestParser().get_examples(found.get("Examples", ""))
    if not any(example.want for example in examples):
        missing.append("Examples has no doctest with a result")
    return missing


def unit_complaints(parameters, found):
    """Parameters left out of the docstring, and parameters and results without a [unit]."""
    missing, described = [], {}
    for entry in entries(found.get("Parameters", "")):
        heading = entry.split(" :", 1)[0].split("\n", 1)[0]
        described |= {name.strip(): entry for name in heading.split(",")}
    for name in parameters:
        if name not in described:
            missing.append(f"parameter {name} is not described")
        elif not re.search(r"\[[^\]]+\]", described[name]):
            missing.append(f"parameter {name} has no [unit]")
    if not re.search(r"\[[^\]]+\]", found.get("Returns", "")):
        missing.append("Returns has no [unit]")
    return missing


def public_functions(package):
    """Every function defined in a module of the package whose name does not start with an underscore."""
    for info in pkgutil.iter_modules(package.__path__):
        module = importlib.import_module(f"{package.__name__}.{info.name}")
        for name, member in inspect.getmembers(module, inspect.isfunction):
            if member.__module__ == module.__name__ and not name.startswith("_"):
                yield pytest.param(member, id=f"{info.name}.{name}")


FUNCTIONS = list(public_functions(valvecalc))
KNOWN = symbols(DEVELOPERS.read_text(encoding="utf-8"))


@pytest.mark.parametrize("function", FUNCTIONS)
def test_public_function(function):
    assert complaints(function, KNOWN) == []


def test_no_symbol_is_left_behind():
    used = {name for param in FUNCTIONS for name in inspect.signature(param.values[0]).parameters}
    assert KNOWN - used == set()


def test_the_walk_finds_the_functions():
    found = {param.id for param in FUNCTIONS}
    assert {"characteristic.linear", "installed.installed_flow", "checks.in_range"} <= found
    assert "installed.linear" not in found, "an imported function is counted where it is defined"


def test_every_module_comes_with_the_package():
    modules = {info.name for info in pkgutil.iter_modules(valvecalc.__path__)}
    assert modules == set(valvecalc.__all__)
    assert all(getattr(valvecalc, name).__name__ == f"valvecalc.{name}" for name in modules)
    with pytest.raises(AttributeError, match="has no module nozzle; it has actuator"):
        _ = valvecalc.nozzle


def test_the_import_brings_no_heavy_library():
    """What a lesson pays for: importing everything loads numpy and the standard library, nothing else."""
    code = "import sys, valvecalc; [getattr(valvecalc, name) for name in valvecalc.__all__]; print(*sys.modules)"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    top = {name.split(".")[0] for name in loaded}
    # The rest of the names are what the interpreter itself starts with, here and in any environment.
    bare = subprocess.run([sys.executable, "-c", "import sys; print(*sys.modules)"], capture_output=True, text=True)
    foreign = top - set(sys.stdlib_module_names) - {name.split(".")[0] for name in bare.stdout.split()}
    assert foreign == {"numpy", "valvecalc"}


GOOD_DOC = """Kv of something.

Parameters
----------
kv : array_like
    Flow coefficient [m³/h at 1 bar].

Returns
-------
numpy.ndarray
    The same [m³/h at 1 bar].

Raises
------
ValueError
    If negative.

Notes
-----
Equation: Kv = Kv.
Source: identity.

Examples
--------
>>> 1 + 1
2
"""


def _good(kv: float) -> float:
    return kv


def _untyped(kv):
    return kv


def _two(kv: float, cv: float) -> float:
    return kv * cv


# What is spoilt in a good docstring, or which other function wears it: what the checker has to say.
SPOILT = [
    (_good, "", "", []),
    (_good, "[m³/h at 1 bar].\n\nReturns", ".\n\nReturns", ["parameter kv has no [unit]"]),
    (_good, "same [m³/h at 1 bar]", "same", ["Returns has no [unit]"]),
    (_good, "Equation: Kv = Kv.", "Equation:", ["Notes has no line with words after Equation:"]),
    (_good, "Source: identity.", "See Source: x.", ["Notes has no line with words after Source:"]),
    (_good, ">>> 1 + 1\n2", "1 + 1 is 2", ["Examples has no doctest with a result"]),
    (_good, ">>> 1 + 1\n2", ">>> x = 2", ["Examples has no doctest with a result"]),
    (_good, "ValueError\n    If", "Only\n    If", ["Raises names no error"]),
    (_good, "Raises\n------", "Raises", ["docstring has no section Raises", "Raises names no error"]),
    (_untyped, "", "", ["parameter kv has no type", "the result has no type"]),
    (_two, "", "", ["parameter cv is not in the symbols table", "parameter cv is not described"]),
]


@pytest.mark.parametrize(("function", "good", "bad", "said"), SPOILT)
def test_the_checker_sees_what_is_missing(function, good, bad, said):
    assert good in GOOD_DOC

    def spoilt():
        """To be replaced."""

    spoilt.__doc__ = GOOD_DOC.replace(good, bad) if good else GOOD_DOC
    spoilt.__signature__ = inspect.signature(function)
    assert complaints(spoilt, {"kv"}) == said


def test_a_function_without_docstring_fails_in_everything():
    assert len(complaints(_untyped, set())) >= 10


def test_the_symbols_table_is_read():
    assert symbols("x\n## Symbols\n| `p1`, `p2` | P | a `b` | Pa |\n\n## Next\n| `z` | | | |\n") == {"p1", "p2"}
    assert {"travel", "phi", "pressure_drop_ratio"} <= KNOWN
