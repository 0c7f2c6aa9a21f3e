"""Starts the instructor's commands."""

from __future__ import annotations

import io
import os
import sys
from importlib.util import find_spec

NEEDED = ("filelock", "nbformat", "nbgrader", "sqlalchemy", "tqdm")

if missing := [name for name in NEEDED if find_spec(name) is None]:
    print(f"Marking needs {', '.join(missing)}. In the project's folder, run: .venv/bin/pip install -e '.[grading]'")
    sys.exit(2)

from grading.commands import main  # noqa: E402 - only after the look for what it needs

# A program that starts this one may have closed them.
sys.stdout, sys.stderr = (stream or open(os.devnull, "w") for stream in (sys.stdout, sys.stderr))  # noqa: PTH123, SIM115

for stream in (sys.stdout, sys.stderr):
    # A screen or pipe that has no sign for a letter of a name shows a stand-in, and the command goes on.
    if isinstance(stream, io.TextIOWrapper):
        stream.reconfigure(errors="replace")

sys.exit(main())
