"""The class list: what is read, and the sentence for each line that is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest

from grading.course.roster import SAMPLE, Apprentice, RosterError, read_roster


def roster(folder: Path, content: str | bytes) -> dict[str, Apprentice]:
    path = folder / "roster.csv"
    path.write_bytes(content.encode() if isinstance(content, str) else content)
    return read_roster(path)


READ = [
    ("the sample", SAMPLE, [("4711", "Ada Example", "si"), ("4712", "Ben Example", "us")]),
    ("no units", "badge,name\n1,A B\n", [("1", "A B", "si")]),
    ("empty units", "badge,name,units\n1,A B,\n", [("1", "A B", "si")]),
    ("capitals, blanks, empty lines", " Badge , NAME ,units\n\n 1 , A B , US \n,,\n", [("1", "A B", "us")]),
    ("a spreadsheet's mark and semicolons", "\ufeffbadge;name;units\n1;Ana Çelik;si\n", [("1", "Ana Çelik", "si")]),
    ("a comma in a name", 'badge,name\n1,"B, A"\n', [("1", "B, A", "si")]),
    ("another column", "name,badge,shift\nA B,1,night\n", [("1", "A B", "si")]),
]


@pytest.mark.parametrize(("content", "people"), [row[1:] for row in READ], ids=[row[0] for row in READ])
def test_class_lists_are_read(tmp_path: Path, content: str, people: list[tuple[str, str, str]]) -> None:
    assert [(p.badge, p.name, p.units) for p in roster(tmp_path, content).values()] == people


WRONG = [
    ("no such column", "number,name\n1,A\n", ["line 1", "badge, name and units"]),
    ("empty file", "", ["line 1"]),
    ("a badge twice", "badge,name\n1,A\n2,B\n1,C\n", ["line 4", "is already in line 2"]),
    ("twice but for capitals", "badge,name\na1,A\nA1,B\n", ["line 3", "line 2"]),
    ("no name", "badge,name\n1,\n", ["line 2", "no name"]),
    ("a path as badge", "badge,name\n../4711,A\n", ["line 2", "../4711", "letters, digits"]),
    ("a badge too long", f"badge,name\n{'1' * 21},A\n", ["line 2", "1 to 20"]),
    ("a formula as badge", "badge,name\n=1+1,A\n", ["line 2"]),
    ("strange units", "badge,name,units\n1,A,metric\n", ["line 2", "“metric”", "si or us"]),
    ("two lines wrong", "badge,name\n?,A\n1,\n2,C\n", ["line 2", "line 3"]),
    ("not UTF-8", "badge,name\n1,Jos\xe9\n".encode("latin-1"), ["UTF-8"]),
]


@pytest.mark.parametrize(("content", "said"), [row[1:] for row in WRONG], ids=[row[0] for row in WRONG])
def test_every_wrong_line_gets_a_sentence(tmp_path: Path, content: str | bytes, said: list[str]) -> None:
    with pytest.raises(RosterError) as problem:
        roster(tmp_path, content)
    assert all(word in str(problem.value) for word in said)


def test_a_missing_list_says_how_to_write_one(tmp_path: Path) -> None:
    with pytest.raises(RosterError, match="badge,name,units"):
        read_roster(tmp_path / "roster.csv")
