"""The README says nothing that is not so: its commands, its table of lessons, its pictures and its example."""

from __future__ import annotations

import doctest
import re
from pathlib import Path

from grading.commands.parser import parser as grading_parser
from lessons.notebook import bank

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")


def test_example_runs() -> None:
    result = doctest.testfile(str(ROOT / "README.md"), module_relative=False)
    assert (result.failed, result.attempted) == (0, 2)


def test_lists_every_lesson() -> None:
    rows = re.findall(r"^\| (\d\d) \| ([^|]+) \|", README, re.MULTILINE)
    assert [" ".join(row) for row in rows] == [lesson.title for lesson in bank.lessons()]


def test_pictures_are_there() -> None:
    pictures = re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README)
    assert pictures
    assert [each for each in pictures if not (ROOT / each).exists()] == []


def test_commands_of_the_instructor_exist() -> None:
    named = set(re.findall(r"ostrel-class (?:--\S+ \S+ )?([a-z-]+)", README))
    known = grading_parser().format_help()
    assert named
    assert [each for each in named if not re.search(rf"^\s+{each}\s", known, re.MULTILINE)] == []


def test_set_up_commands_are_one_line_each() -> None:
    lines = [line for line in README.splitlines() if line.startswith("python3 -m venv")]
    assert [line.rsplit(" ", 1)[1] for line in lines] == ["lessons", "pytest"]
