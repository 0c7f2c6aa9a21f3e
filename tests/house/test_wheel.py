"""What an apprentice installs: numbers and lessons with their notebooks, and no keys of graded work."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.tidy import notebooks

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def names(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    folder = tmp_path_factory.mktemp("wheel")
    command = [
        sys.executable,
        "-m",
        "pip",
        "wheel",
        "--quiet",
        "--no-deps",
        "--no-build-isolation",
        "-w",
        str(folder),
        str(ROOT),
    ]
    subprocess.run(command, check=True, capture_output=True)
    (wheel,) = folder.glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        return set(archive.namelist())


def test_holds_every_notebook_and_what_the_pages_need(names: set[str]) -> None:
    wanted = {str(path.relative_to(ROOT)) for path in notebooks()}
    wanted |= {str(path.relative_to(ROOT)) for path in (ROOT / "lessons").rglob("*.[jc]s*") if path.suffix != ".py"}
    assert wanted <= names
    page = "share/jupyter/labextensions/ostrel-lesson-page"
    assert {
        name
        for name in names
        if name.endswith(("/data/" + page + "/package.json", "/data/" + page + "/static/remoteEntry.js"))
    }
    assert "valvecalc/py.typed" in names, "it tells whoever uses the numbers that they are typed"


def test_holds_no_keys_and_no_tests(names: set[str]) -> None:
    tops = {name.partition("/")[0] for name in names}
    assert {top for top in tops if not top.endswith((".dist-info", ".data"))} == {"valvecalc", "lessons"}
    assert not [name for name in names if "workorder" in name]
