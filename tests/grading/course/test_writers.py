"""What comes from outside never reaches terminal, list, table or page as control: every writer, walked."""

from __future__ import annotations

import ast
import csv
import email
import email.policy
import io
import unicodedata
import zipfile
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

import grading
from grading.commands import main
from grading.course import plain
from grading.course.course import Course
from lessons.units.readout import counted
from tests.grading.classroom import CLASS, LESSON, QUESTIONS, classroom, notebook_of, put, with_cell

ADA, BEN, CLEO, DAN = CLASS
# Escapes, bells, line ends of all kinds, signs that turn the reading direction, are not seen, or begin a formula.
NASTY = "\x1b[2J\x07\x9b31m\r\nRead: 4701\x85\u2028\u202egpj\u2066\u200b\u00ad\ufeff\u061c\U000e0041"
FORMULAS = ("\u200b=1+1", "\u202e＝1+1", "\x07@SUM(A1)", "\t+1+1", "-1+1|'x'!A0", "\ufeff=cmd")


def is_control(letter: str) -> bool:
    return letter not in "\n\t\u200c\u200d" and unicodedata.category(letter) in ("Cc", "Cf", "Cs", "Co", "Cn")


def controls(text: str) -> set[str]:
    return {f"U+{ord(letter):04X}" for letter in text if is_control(letter)}


def worked_through(tmp_path: Path) -> tuple[Course, list[str]]:
    """Hand in nasty things in every place that takes words, run every command, and return what was said."""
    course, back, said = classroom(tmp_path), tmp_path / "back", list[str]()
    lines = [f"{person.badge},{person.name},{person.units},{person.badge}@example.org" for person in CLASS]
    one_line = NASTY.replace("\r\n", "\x85")  # a name over two lines is refused: a quotation mark was not closed
    lines[0] = f'{ADA.badge},"{ADA.name} {one_line}",si,a@example.org'
    (course.root / "roster.csv").write_text("badge,name,units,mail\n" + "\n".join(lines) + "\n", encoding="utf-8")
    for person, formula in zip(CLASS, FORMULAS, strict=False):
        notebook = notebook_of(course, person)
        for question in QUESTIONS:
            with_cell(notebook, question, f"%%answer {question.id}\n{formula}{NASTY}")
        notebook["cells"].append({"cell_type": "markdown", "source": NASTY, "metadata": {"name": NASTY}})
        put(back, f"{person.badge}.ipynb", notebook)
    put(back, f"nobody {NASTY.replace(chr(10), '')}.ipynb".replace("\x00", ""), b"{}")
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr(f"9999 {NASTY}/x.ipynb", "{}")
    put(back, "strange.zip", packed.getvalue())
    put(back, "a.eml", f"Subject: =?utf-8?q?=1B[2J=07=E2=80=AE?= {NASTY}\n\nhello".encode())
    for command in (
        ["take-in", str(back)],
        ["mark"],
        ["hand-back", "--mail"],
        ["whose"],
        ["tables"],
        ["due", "04", "none"],
        ["counts", "best"],
        ["keys"],
        ["choose", "04", "--points", f"{QUESTIONS[0].id}=3"],
        ["withdraw", "04", QUESTIONS[1].id],
    ):
        main(["--course", str(course.root), *command], said.append)
    return course, said


def test_no_writer_lets_a_control_through(tmp_path: Path) -> None:
    course, said = worked_through(tmp_path)
    assert said
    assert controls("".join(said)) == set()
    written = [
        *(course.root / "tables").iterdir(),
        *(course.root / "handed_back").rglob("*.html"),
        *(course.root / "key_sheets").rglob("*.html"),
        *(course.root / "to_mail").rglob("*.eml"),
        course.root / "needs_a_person.txt",
    ]
    assert len(written) >= 15
    for path in written:
        text = path.read_bytes().decode("utf-8-sig").replace("\r\n", "\n")
        assert controls(text) == set(), path.name
        if path.suffix == ".eml":  # what is packed in it, too
            mail = email.message_from_bytes(path.read_bytes(), policy=email.policy.default)
            said = [
                mail["To"],
                mail["Subject"],
                *(part.get_content() for part in mail.walk() if not part.is_multipart()),
            ]
            assert controls("".join(said).replace("\r\n", "\n")) == set(), path.name


def test_a_line_of_a_list_stays_one_line(tmp_path: Path) -> None:
    course, _ = worked_through(tmp_path)
    listed = (course.root / "needs_a_person.txt").read_text(encoding="utf-8").splitlines()
    assert listed
    beginnings = ("Not taken in: ", "Not marked: ", "Look at: ", "Read: ")
    assert [line for line in listed if not line.startswith(beginnings)] == []
    assert not [line for line in listed if line.startswith("Read: 4701 ") and f", {LESSON}, " not in line]


def test_no_cell_of_a_table_is_worked_out(tmp_path: Path) -> None:
    course, _ = worked_through(tmp_path)
    for path in (course.root / "tables").glob("*.csv"):
        for delimiter in ",;":
            for row in csv.reader(io.StringIO(path.read_text("utf-8-sig"), newline=""), delimiter=delimiter):
                for cell in row:
                    first = unicodedata.normalize("NFKC", cell.strip())[:1]
                    number = cell.replace(".", "", 1).removeprefix("-").isdigit()
                    assert first not in tuple("=+-@") or not first or number, (path.name, cell)


def test_every_writer_for_people_goes_through_the_one_function() -> None:
    """What the rooms for people write is a page, a table or lines made plain; nothing else is handed to a file there."""
    allowed = {
        "page",
        "page_back",
        "class_page",
        "course_page",
        "table",
        "line",
        "text",
        "shown",
        "SAMPLE",
        "letter",
        "key_sheet",
        "learning_page",
    }
    root = Path(grading.__path__[0])
    for path in [*(root / "report").rglob("*.py"), *(root / "steps").glob("*.py")]:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        for call in [node for node in ast.walk(tree) if isinstance(node, ast.Call)]:
            if getattr(call.func, "id", "") == "write_safely":
                used = {getattr(n, "id", getattr(n, "attr", "")) for n in ast.walk(call.args[1])}
                assert used & allowed, f"{path.name}: {ast.unparse(call)}"


@given(st.text())
def test_any_words_are_made_plain(words: str) -> None:
    assert controls(plain.text(words)) == set()
    assert controls(plain.line(words)) == set()
    assert "\n" not in plain.line(words)
    assert controls(plain.table([[words, words]]).replace("\r\n", "\n")) == set()


def test_numbers_of_things_fit_their_words() -> None:
    assert [counted(n, "hand-in") for n in (0, 1, 2)] == ["0 hand-ins", "1 hand-in", "2 hand-ins"]
    assert counted(0.5, "point") == "0.5 points"
