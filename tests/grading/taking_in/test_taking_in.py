"""Taking in as schools get it: exports named by person, forwarded mails, questions to the instructor, a new badge."""

from __future__ import annotations

import io
import json
import zipfile
from datetime import UTC, datetime
from email.message import EmailMessage
from email.utils import format_datetime
from pathlib import Path

import pytest

from grading.course.course import Course, open_course
from grading.given_out.given_out import given_out
from grading.handins.not_taken_in import open_questions
from grading.handins.received import entries
from tests.grading.classroom import CLASS, LESSON, classroom, full, marks, notebook_of, put, run

ADA, BEN, CLEO, DAN = CLASS
NAMED = [("Ada Example", "ada@example.org"), ("Ben Example", ""), ("Cleo Müller", ""), ("Dan Ng", "")]


@pytest.fixture
def course(tmp_path: Path) -> Course:
    course = classroom(tmp_path)
    people = zip(CLASS, NAMED, strict=True)
    lines = [f"{person.badge};{name};{person.units};{mail}" for person, (name, mail) in people]
    (course.root / "roster.csv").write_text("badge;name;units;e-mail\n" + "\n".join(lines), encoding="utf-8-sig")
    return open_course(course.root)


def notebook(course: Course, number: int) -> bytes:
    return json.dumps(notebook_of(course, CLASS[number])).encode()


def packed(**files: bytes) -> bytes:
    whole = io.BytesIO()
    with zipfile.ZipFile(whole, "w") as archive:
        for name, data in files.items():
            archive.writestr(name, data)
    return whole.getvalue()


def mail(sender: str, subject: str, day: int, **attached: bytes | EmailMessage) -> EmailMessage:
    message = EmailMessage()
    message["From"], message["Subject"] = sender, subject
    message["Date"] = format_datetime(datetime(2030, 1, day, 12, tzinfo=UTC))
    message.set_content("Here it is.")
    for name, data in attached.items():
        if isinstance(data, EmailMessage):
            message.add_attachment(data)
        else:
            message.add_attachment(data, maintype="application", subtype="octet-stream", filename=name)
    return message


def handed_in(course: Course) -> dict[str, int]:
    return {person.badge: len(entries(course, LESSON, person.badge)) for person in CLASS}


def test_an_export_named_by_person(course: Course, tmp_path: Path) -> None:
    files = {
        "Example Ada_901_assignsubmission_file_/lesson.ipynb": notebook(course, 0),
        "Example Ben_902_assignsubmission_file_/Work.ZIP": packed(**{"Work/x.ipynb": notebook(course, 1)}),
        "Mueller Cleo_903_assignsubmission_file_/x.ipynb": notebook(course, 2),
        "Ng Dan_904_assignsubmission_onlinetext_/onlinetext.html": b"<p>I forgot</p>",
    }
    put(tmp_path, "export.zip", packed(**files))
    code, said = run(course, "take-in", str(tmp_path / "export.zip"))
    assert code == 0, said
    assert "taken in for 4701 Ada Example by its name" in said
    assert handed_in(course) == {"4701": 1, "4702": 1, "4703": 1, "4704": 0}
    run(course, "mark")
    assert {badge: sheet.score for badge, sheet in marks(course).items()} == dict.fromkeys(
        ("4701", "4702", "4703"), full()
    )


def test_a_name_in_a_zip_that_does_not_say_its_letters(course: Course, tmp_path: Path) -> None:
    data = packed(**{"Mxller Cleo/x.ipynb": notebook(course, 2)}).replace(b"Mxller Cleo", "Müller Cle".encode())
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert archive.namelist() != ["Müller Cle/x.ipynb"]  # read as an old code page
    put(tmp_path, "a.zip", data)
    _, said = run(course, "take-in", str(tmp_path / "a.zip"))
    assert "> Müller Cle/x.ipynb" in said
    assert "Perhaps it is of 4703" in said


@pytest.mark.parametrize("as_file", [False, True], ids=["message in message", "as a file"])
def test_forwarded_mails(course: Course, tmp_path: Path, as_file: bool) -> None:
    first = mail("Ada <ADA@example.org>", "my lesson", 3, **{"lesson.ipynb": notebook(course, 0)})
    second = mail("x@y.org", "badge 4702", 4, **{"work.zip": packed(**{"a/b.ipynb": notebook(course, 1)})})
    inside = {"a.eml": first.as_bytes(), "b.eml": second.as_bytes()} if as_file else {"a": first, "b": second}
    put(tmp_path, "all.eml", mail("teacher@example.org", "Fwd", 20, **inside).as_bytes())
    code, said = run(course, "take-in", str(tmp_path / "all.eml"))
    assert code == 0, said
    assert handed_in(course) == {"4701": 1, "4702": 1, "4703": 0, "4704": 0}
    assert {entries(course, LESSON, badge)[0].when[:10] for badge in ("4701", "4702")} == {"2030-01-20"}


def test_a_mail_passed_on_after_the_due_time_asks_for_a_person(course: Course, tmp_path: Path) -> None:
    run(course, "due", "04", "2030-01-10 12:00")
    first = mail("Ada <ada@example.org>", "my lesson", 3, **{"lesson.ipynb": notebook(course, 0)})
    put(tmp_path, "all.eml", mail("teacher@example.org", "Fwd", 20, a=first).as_bytes())
    run(course, "take-in", str(tmp_path / "all.eml"))
    _, said = run(course, "mark")
    assert "that one says it was sent at 2030-01-03" in said
    assert "Look at: 4701 Ada Example" in said


def test_mails_in_mails_have_an_end(course: Course, tmp_path: Path) -> None:
    whole = mail("ada@example.org", "lesson", 3, **{"lesson.ipynb": notebook(course, 0)})
    for _ in range(6):
        whole = mail("ada@example.org", "lesson", 3, **{"x.eml": whole.as_bytes()})
    put(tmp_path, "all.eml", whole.as_bytes())
    _, said = run(course, "take-in", str(tmp_path / "all.eml"))
    assert "it lies in more than 4 mails or zips" in said


def test_the_instructor_is_asked_and_answers(course: Course, tmp_path: Path) -> None:
    files = {"Exampel A_901_file_/x.ipynb": notebook(course, 0), "homework.ipynb": notebook(course, 1)}
    put(tmp_path, "export.zip", packed(**files))
    code, said = run(course, "take-in", str(tmp_path / "export.zip"))
    assert (code, sum(handed_in(course).values())) == (1, 0)
    assert "Perhaps it is of 4701 Ada Example or 4702 Ben Example. Whose is it? Answer with: whose " in said
    first, second = sorted(open_questions(course), key=lambda each: each.origin)
    assert run(course, "whose")[1].count("Whose is it?") == 2
    assert run(course, "whose", first.key, "9999")[0] == 2
    assert run(course, "whose", "beef0000", "4701")[0] == 2
    assert run(course, "whose", first.key)[0] == 2
    assert run(course, "whose", first.key, "4701")[0] == 0
    assert handed_in(course)["4701"] == 1
    assert [each.key for each in open_questions(course)] == [second.key]
    # The same file in another export is known.
    put(tmp_path, "later.zip", packed(**files))
    _, said = run(course, "take-in", str(tmp_path / "later.zip"))
    assert "0 new hand-ins, 1 known already, 1 not taken in." in said
    assert run(course, "whose", second.key, "4702")[0] == 0
    assert run(course, "whose")[1] == "0 files wait for a name."


def test_what_was_asked_about_keeps_its_time(course: Course, tmp_path: Path) -> None:
    put(tmp_path, "a.eml", mail("x@y.org", "lesson", 3, **{"lesson.ipynb": notebook(course, 0)}).as_bytes())
    run(course, "take-in", str(tmp_path / "a.eml"))
    (question,) = open_questions(course)
    run(course, "whose", question.key, "4701")
    (entry,) = entries(course, LESSON, "4701")
    assert entry.when == "2030-01-03T12:00:00+00:00"


@pytest.mark.parametrize("end", ["ipynb.txt", "ipynb.json", "IPYNB.TXT", "ipynb. "])
def test_a_notebook_that_a_browser_named_otherwise(course: Course, tmp_path: Path, end: str) -> None:
    put(tmp_path / "back", f"4701.{end}", notebook(course, 0))
    put(tmp_path / "back", "more.zip", packed(**{f"4702.{end}": notebook(course, 1)}))
    sent = mail("ben@example.org", "4703", 3, **{f"lesson.{end}": notebook(course, 2)})
    put(tmp_path / "back", "a.eml", bytes(sent))
    code, said = run(course, "take-in", str(tmp_path / "back"))
    assert (code, "3 new hand-ins" in said) == (0, True), said
    assert handed_in(course) == {"4701": 1, "4702": 1, "4703": 1, "4704": 0}


def test_a_new_badge_keeps_marks_numbers_and_hand_ins(course: Course, tmp_path: Path) -> None:
    old = notebook(course, 0)
    put(tmp_path / "back", "4701.ipynb", old)
    put(tmp_path / "back", "4702.ipynb", notebook(course, 1))
    run(course, "take-in", str(tmp_path / "back"))
    run(course, "due", "04", "2030-01-10 12:00", "--badge", "4701")
    run(course, "mark")
    before = given_out(course, LESSON).latest
    assert run(course, "badge", "4701", "5701")[0] == 2  # the class list does not say so yet
    path = course.root / "roster.csv"
    path.write_bytes(path.read_bytes().replace(b"4701", b"5701"))
    assert "say which: badge 4701 NEW" in run(course, "mark")[1]
    for _ in range(2):  # once more changes nothing
        code, said = run(course, "badge", "4701", "5701")
        assert code == 0, said
    code, said = run(course, "mark")
    assert code == 0, said
    found = marks(course)
    assert {badge: sheet.score for badge, sheet in found.items()} == {"5701": full(), "4702": full()}
    after = given_out(open_course(course.root), LESSON).latest
    assert after.text(after.questions[0].id, "5701") == before.text(before.questions[0].id, "4701")
    # The old notebook, named by either badge, is hers.
    put(tmp_path / "later", "4701 again.ipynb", old + b" ")
    code, said = run(course, "take-in", str(tmp_path / "later"))
    assert "it is named by 4701, the badge of earlier" in said
    assert len(entries(course, LESSON, "5701")) == 2
    code, said = run(course, "mark", "--again")
    assert (code, marks(course)["5701"].score) == (0, full()), said
    assert run(course, "tables")[0] == 0
    assert "5701,Ada Example" in (course.root / "tables" / "marks.csv").read_text()


def test_a_badge_with_hand_ins_of_its_own_takes_no_other(course: Course, tmp_path: Path) -> None:
    put(tmp_path / "back", "4701.ipynb", notebook(course, 0))
    put(tmp_path / "back", "4702.ipynb", notebook(course, 1))
    run(course, "take-in", str(tmp_path / "back"))
    path = course.root / "roster.csv"
    path.write_bytes(path.read_bytes().replace(b"4701;", b"5701;"))
    code, said = run(course, "badge", "4701", "4702")
    assert (code, "hand-ins of its own" in said) == (2, True)
    code, said = run(course, "badge", "8888", "5701")
    assert (code, "Nothing was given out to badge 8888" in said) == (2, True)
