"""DEVELOPERS.md says of every command, heading, group of cards and live picture where its name comes from."""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path

import pytest

from grading.commands.parser import parser as grading_parser
from lessons.cards import NAMES, card_named
from lessons.notebook.figures import LIVE

ROOT = Path(__file__).parents[2]
SECTION = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").partition("## Names and where they come from")[2]
LISTED = SECTION.partition("\n## ")[0]
LAUNCHER = (ROOT / "lessons" / "jupyter" / "launch.py").read_text(encoding="utf-8")


def headings_that_come_back() -> list[str]:
    found: Counter[str] = Counter()
    for path in (ROOT / "lessons").glob("[0-9]*.ipynb"):
        cells = json.loads(path.read_text(encoding="utf-8"))["cells"]
        found.update(set(re.findall(r"^## (.*)$", "\n".join("".join(cell["source"]) for cell in cells), re.MULTILINE)))
    return [heading for heading, times in found.items() if times > 1]


@pytest.mark.parametrize(
    ("kind", "names", "at_least"),
    [
        (
            "commands",
            [f"`{name}`" for name in re.findall(r"^    ([a-z-]+) ", grading_parser().format_help(), re.MULTILINE)],
            11,
        ),
        (
            "options of the launcher",
            [f"`{name}`" for name in re.findall(r'add_argument\(\s*"(--[a-z-]+)"', LAUNCHER)],
            6,
        ),
        ("headings", headings_that_come_back(), 7),
        ("groups of cards", sorted({card_named(name).group for name in NAMES}), 5),
        ("live pictures", [f"`{name}`" for name in LIVE], 26),
    ],
)
def test_names_stand_in_the_tables(kind: str, names: list[str], at_least: int) -> None:
    assert len(names) >= at_least, f"the search for {kind} finds too few"
    assert [name for name in names if name not in LISTED] == []
