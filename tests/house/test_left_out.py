"""The test command on a machine without git, Chromium, psycopg: what needs them is left out, and the run says so."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def run(folder: Path, *arguments: str) -> str:
    """Run pytest where no program is found by its name and no driver of PostgreSQL can be imported."""
    (folder / "psycopg.py").write_text("raise ImportError('not installed')\n")
    nothing = folder / "bin"
    nothing.mkdir()
    environment = os.environ | {
        "PATH": str(nothing),
        "PYTHONPATH": f"{folder}{os.pathsep}{ROOT}",
        "CHROMIUM": str(nothing / "chromium"),
    }
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "-n", "0", *arguments]
    ran = subprocess.run(command, cwd=ROOT, env=environment, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stdout[-3000:] + ran.stderr[-1000:]
    return ran.stdout


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("tests/house/test_layout.py", "-k", "top"), "1 test: no git here, or not a checkout: "),
        (
            ("tests/grading/gradebook/test_gradebook.py", "-k", "postgresql_server"),
            "1 test: the driver psycopg is not installed",
        ),
        (("tests/browser/test_requests.py", "--override-ini", "addopts="), "3 tests: no Chromium at "),
        (("tests/house/test_left_out.py", "-k", "nothing_is_said"), "tests/browser: they need Chromium"),
    ],
)
def test_what_a_machine_lacks_is_left_out_and_said(arguments: tuple[str, ...], said: str, tmp_path: Path) -> None:
    _, found, end = run(tmp_path, *arguments).partition(" left out ")
    assert found
    assert said in end


def test_nothing_is_said_where_nothing_is_left_out() -> None:
    command = [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", "--override-ini", "addopts=",
               "tests/house/test_layout.py", "-k", "can_fail"]  # fmt: skip
    ran = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    assert "left out" not in ran.stdout
