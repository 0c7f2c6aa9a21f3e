"""The class list: what is read, and the sentence for each line that is wrong."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

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
    ("tabs", "badge\tname\tunits\r\n1\tA, B\tus\r\n", [("1", "A, B", "us")]),
    ("UTF-16 with its mark, tabs", "badge\tname\r\n1\tAna Çelik\r\n".encode("utf-16"), [("1", "Ana Çelik", "si")]),
    ("UTF-16 without a mark", "badge;name\n1;Ana Çelik\n".encode("utf-16-le"), [("1", "Ana Çelik", "si")]),
    ("UTF-16, other order", "badge;name\n1;Ana Çelik\n".encode("utf-16-be"), [("1", "Ana Çelik", "si")]),
    ("a line that names the separator", "sep=;\r\nbadge;name\r\n1;A, B\r\n", [("1", "A, B", "si")]),
    ("a title above", "Spring class,,\n,,\nbadge,name,\n1,A,\n", [("1", "A", "si")]),
    (
        "a school's columns",
        'Surname,First name,"Badge No.",E-mail\nExample,Ada,1,a@b.org\n',
        [("1", "Ada Example", "si")],
    ),
    ("every field in quotes", '"badge";"name"\r\n"1";"B; A"\r\n', [("1", "B; A", "si")]),
    ("bars", "badge|name|units\n1|A, B|us\n", [("1", "A, B", "us")]),
    ("two lists put together", "badge,name\n1,A\nbadge,name\n2,B\n", [("1", "A", "si"), ("2", "B", "si")]),
    ("a quotation mark within a name", 'badge,name\n1,A "B" C\n2,D\n', [("1", 'A "B" C', "si"), ("2", "D", "si")]),
    (
        "several lines beside the name",
        'badge,name,shift\n1,A,"night\nand day"\n2,B,\n',
        [("1", "A", "si"), ("2", "B", "si")],
    ),
    ("old line ends", "badge,name\r1,A\r", [("1", "A", "si")]),
    ("badges kept as text", 'badge;name\n\'4711;A\n="4712";B\n', [("4711", "A", "si"), ("4712", "B", "si")]),
    ("signs that are not seen", "badge,name\n47\u200b11,A\u3164\n\x00,\x00\n", [("4711", "A", "si")]),
    ("commas in a title, semicolons below", "Shift A, room 4, north\nbadge;name\n1;A\n", [("1", "A", "si")]),
    ("rows longer than the head", "badge,name\n1,A,,,\n", [("1", "A", "si")]),
]


@pytest.mark.parametrize(("content", "people"), [row[1:] for row in READ], ids=[row[0] for row in READ])
def test_class_lists_are_read(tmp_path: Path, content: str | bytes, people: list[tuple[str, str, str]]) -> None:
    assert [(p.badge, p.name, p.units) for p in roster(tmp_path, content).values()] == people


WRONG = [
    ("no such column", "number,name\n1,A\n", ["line 1", "badge, name and units"]),
    ("empty file", "", ["line 1"]),
    ("nobody", "badge,name,units\n", ["lists nobody", "4711,Ada Example"]),
    ("only empty lines", "badge;name\n;\n\n", ["lists nobody"]),
    ("lines ended by another sign", "badge,name\u20281,A\u2028", ["lists nobody"]),
    ("a badge twice", "badge,name\n1,A\n2,B\n1,C\n", ["line 4", "is already in line 2"]),
    ("twice but for capitals", "badge,name\na1,A\nA1,B\n", ["line 3", "line 2"]),
    ("no name", "badge,name\n1,\n", ["line 2", "no name"]),
    ("a path as badge", "badge,name\n../4711,A\n", ["line 2", "../4711", "letters, digits"]),
    ("a badge too long", f"badge,name\n{'1' * 21},A\n", ["line 2", "1 to 20"]),
    ("a formula as badge", "badge,name\n=1+1,A\n", ["line 2"]),
    ("strange units", "badge,name,units\n1,A,metric\n", ["line 2", "“metric”", "si or us"]),
    ("two lines wrong", "badge,name\n?,A\n1,\n2,C\n", ["line 2", "line 3"]),
    ("a workbook", b"PK\x03\x04 and more", ["workbook", "CSV UTF-8"]),
    ("half a letter of UTF-16", "badge,name\n1,A\n".encode("utf-16")[:-1], ["UTF-8"]),
    ("no address", "badge,name,mail\n1,A,ada at home\n", ["line 2", "“ada at home”"]),
    ("wrong below a title", "Our class\n\nbadge,name\n1,\n", ["line 4", "no name"]),
    ("a quotation mark never closed", 'badge,name\n1,"A\n2,B\n3,C\n', ["quotation mark", "never closed"]),
    ("never closed in another column", 'badge,name,shift\n1,A,"night\n2,B,\n', ["never closed"]),
    ("closed a line too late", 'badge,name\n1,"A\n2,B"\n3,C\n', ["line 2", "several lines", "quotation marks"]),
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


@given(st.binary(max_size=300))
def test_any_bytes_are_a_list_or_a_sentence(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    try:
        people = roster(tmp_path_factory.getbasetemp(), data)
    except RosterError as problem:
        assert str(problem)
    else:
        assert people is not None
