"""The instructor's way from class list to class table, as commands; and everything that comes back wrong."""

from __future__ import annotations

import csv
import hashlib
import io
import itertools
import json
import os
import time
import zipfile
from pathlib import Path

import pytest

from grading import workorders
from grading.commands import DONE, FAILED, LOOK, main
from grading.course.course import REPOSITORY, Course
from grading.demo.demo import demo
from grading.demo.demo_class import filled_in, people
from grading.given_out.given_out import given_out
from grading.giving_out.give_out import work_order
from lessons.jupyter.working_copy import working_copy
from lessons.notebook.bank import released_sheet
from lessons.questions.question import Posed
from tests.grading.classroom import (
    CLASS,
    LESSON,
    QUESTIONS,
    answers_of,
    classroom,
    dealt,
    full,
    marks,
    notebook_of,
    points,
    put,
    released,
    run,
    scores,
)

ADA, BEN, CLEO, DAN = CLASS


def hand_in_all(course: Course, back: Path) -> None:
    for person in CLASS:
        put(back, f"{person.badge}.ipynb", notebook_of(course, person))


def test_the_whole_way(tmp_path: Path) -> None:
    said: list[str] = []
    folder = tmp_path / "class"
    assert main(["new", str(folder)], said.append) == DONE
    course = Course(folder)
    assert run(course, "give-out", "04")[0] == DONE
    assert (folder / "to_send" / LESSON / "4711.zip").exists()
    (ada,) = [each for each in course.roster.values() if each.badge == "4711"]
    planned = answers_of(ada, "right", "other", questions=given_out(course, LESSON).latest.questions)
    put(tmp_path / "back", "4711.ipynb", filled_in(released(course), planned))
    assert run(course, "take-in", str(tmp_path / "back"))[0] == DONE
    assert main(["mark", "--course", str(folder)], said.append) == DONE  # the folder may be named after the command
    assert run(course, "hand-back")[0] == DONE
    assert run(course, "tables")[0] == DONE
    assert scores(marks(course)["4711"]) == points(planned)
    page = (folder / "handed_back" / "4711" / LESSON / f"{LESSON}.html").read_text(encoding="utf-8")
    assert f"{full() - QUESTIONS[1].points:g} of {full():g} points</b>" in page
    rows = list(csv.DictReader(io.StringIO((folder / "tables" / f"{LESSON}_apprentices.csv").read_text("utf-8-sig"))))
    assert [row["badge"] for row in rows] == ["4711", "4712"]
    assert rows[1]["remarks"] == "nothing handed in"


def test_the_demo_class_gets_the_marks_it_must(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("grading.giving_out.give_out.drawing_of", _not_drawn)
    said: list[str] = []
    assert demo(tmp_path / "demo", said.append) == 0
    assert said[-1] == "Every mark is as expected."
    assert any("9999" in line for line in said)


def _not_drawn(this: Posed) -> str:
    """Stand in for a picture, one for each variant: test_secrets draws those of every lesson for a class of 24."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" role="img" aria-label="{id(this)}"></svg>'


def test_the_demo_notices_a_wrong_mark(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("grading.giving_out.give_out.drawing_of", _not_drawn)
    monkeypatch.setattr("grading.demo.demo_class._partly", lambda _this: ("a", 0.123))
    few = dict(itertools.islice(workorders.notebooks().items(), 3))  # the first has no work order
    monkeypatch.setattr(workorders, "notebooks", lambda: few)
    said: list[str] = []
    assert demo(tmp_path / "demo", said.append) == 1
    assert any(line.startswith("WRONG") for line in said)


def test_commands_that_cannot_be_done_say_why(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    for arguments, word in (
        (["--course", str(tmp_path), "mark"], "not a course folder"),
        (["new", str(REPOSITORY / "my-class")], "inside the project's own folder"),
        (["new", str(course.root)], "not empty"),
        (["--course", str(course.root), "give-out", "99"], "no lesson “99”"),
        (["--course", str(course.root), "give-out", "00"], "no work order"),
        (["--course", str(course.root), "give-out", "04", "--due", "soon"], "2030-03-01 16:00"),
        (["--course", str(course.root), "give-out", "04", "--due", "2030-02-31 10:00"], "calendar"),
        (["--course", str(course.root), "take-in", str(tmp_path / "nowhere")], "There is no folder or file"),
        (["--course", str(course.root), "mark", "05"], "No lesson 05 was given out"),
    ):
        said: list[str] = []
        assert main(arguments, said.append) == FAILED, arguments
        assert word in "\n".join(said)
        assert "Traceback" not in "\n".join(said)
    assert not (REPOSITORY / "my-class").exists()


def test_a_wrong_class_list_stops_the_release_by_line(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    (course.root / "roster.csv").write_text("badge,name\n1,A\n1,B\n")
    code, said = run(course, "give-out", "04")
    assert code == FAILED
    assert "line 3" in said


def test_the_release_is_locked_except_for_the_answers(tmp_path: Path) -> None:
    notebook = released(classroom(tmp_path))
    graded = {question.id.replace(".", "-"): question for question in QUESTIONS}
    asked, answered = {}, {}
    for cell in notebook["cells"]:
        about = cell["metadata"].get("nbgrader")
        assert cell["metadata"]["deletable"] is False
        is_answer = "".join(cell["source"]).startswith("%%answer ")
        assert cell["metadata"].get("editable", True) is is_answer
        if about:
            (answered if is_answer else asked)[about["grade_id"]] = about
    assert set(asked) == set(graded)
    for name, question in graded.items():
        assert asked[name]["points"] == question.points
        assert (asked[name]["grade"], asked[name]["locked"], asked[name]["solution"]) == (True, True, False)
        assert (answered[f"{name}-answer"]["grade"], answered[f"{name}-answer"]["solution"]) == (False, True)


def test_a_release_is_locked_as_a_working_copy_is(tmp_path: Path) -> None:
    working_copy(tmp_path / "mine")
    mine = json.loads((tmp_path / "mine" / f"{LESSON}.ipynb").read_text(encoding="utf-8"))
    given = released(classroom(tmp_path))
    for cell in given["cells"]:
        cell["metadata"].pop("nbgrader", None)
    assert [cell["metadata"] for cell in given["cells"]] == [cell["metadata"] for cell in mine["cells"]]


def test_the_release_holds_words_and_numbers_of_each_badge(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    sent = course.root / "to_send" / LESSON
    assert {path.stem for path in sent.iterdir()} == {person.badge for person in CLASS}
    for person in CLASS:
        with zipfile.ZipFile(sent / f"{person.badge}.zip") as archive:
            data = json.loads(archive.read(f"{LESSON}/workorder.json"))
        assert data["lesson"] == LESSON
        assert set(data["badges"]) == {person.badge}
        given = data["badges"][person.badge]
        assert given["units"] == person.units
        assert [sheet["id"] for sheet in given["sheets"]] == [question.id for question in QUESTIONS]
    with zipfile.ZipFile(course.root / "to_send" / LESSON / f"{ADA.badge}.zip") as archive:
        assert sorted(archive.namelist()) == [f"{LESSON}/{LESSON}.ipynb", f"{LESSON}/workorder.json"]


def test_releasing_again_for_a_late_comer_keeps_the_marks(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    hand_in_all(course, tmp_path / "back")
    run(course, "take-in", str(tmp_path / "back"))
    run(course, "mark")
    before = {badge: scores(sheet) for badge, sheet in marks(course).items()}
    with (course.root / "roster.csv").open("a") as roster:
        roster.write("4799,Late Comer,si\n")
    assert run(course, "give-out", "04")[0] == DONE
    assert {badge: scores(sheet) for badge, sheet in marks(course).items()} == before
    assert (course.root / "to_send" / LESSON / "4799.zip").exists()


def test_every_form_in_which_files_come_back(tmp_path: Path) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        archive.writestr(f"{LESSON}/{LESSON}.ipynb", json.dumps(notebook_of(course, ADA)))
        archive.writestr(f"{LESSON}/workorder.json", "{}")
    put(back, f"{ADA.badge}.zip", packed.getvalue())
    put(back, f"{BEN.badge}/{LESSON}.ipynb", notebook_of(course, BEN))
    put(back, f"{CLEO.badge}+{LESSON}+2026-01-02 03:04:05.678901 UTC+aBc/{LESSON}.ipynb", notebook_of(course, CLEO))
    put(
        back,
        f"{CLEO.badge}+{LESSON}+2026-01-02 03:04:05.678901 UTC+aBc/timestamp.txt",
        b"2026-01-02 03:04:05.678901 UTC",
    )
    put(back, f"{LESSON} - {DAN.badge} (1).ipynb", notebook_of(course, DAN))
    assert run(course, "take-in", str(back)) == (DONE, "4 new hand-ins, 0 known already, 0 not taken in.")
    assert run(course, "mark")[0] == DONE
    assert {badge: sheet.score for badge, sheet in marks(course).items()} == {p.badge: full() for p in CLASS}
    stamp = course.root / "handed_in" / CLEO.badge / LESSON / "timestamp.txt"
    assert stamp.read_text() == "2026-01-02 03:04:05 UTC\n"


def mail(course: Course, person: object, subject: str, number: int) -> bytes:
    from email.message import EmailMessage

    message = EmailMessage()
    message["Subject"], message["From"] = subject, "someone@example.invalid"
    message["Date"] = f"Fri, 0{number} Jan 2026 10:00:00 +0000"
    message.set_content("Please find it attached.")
    data = json.dumps(notebook_of(course, person)).encode()  # type: ignore[arg-type]
    message.add_attachment(data, maintype="application", subtype="octet-stream", filename=f"{LESSON}.ipynb")
    return message.as_bytes()


def test_saved_e_mails_and_a_mailbox(tmp_path: Path) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    put(back, "first.eml", mail(course, ADA, f"Hand-in of {ADA.badge}", 2))
    box = b"".join(
        b"From x Fri Jan  2 10:00:00 2026\n" + mail(course, person, f"{person.badge}: done", 2) + b"\n"
        for person in (BEN, CLEO)
    )
    put(back, "export.mbox", box)
    put(back, "chat.eml", b"Subject: hello\n\nwhen is it due?")
    code, said = run(course, "take-in", str(back))
    assert code == LOOK
    assert "3 new hand-ins, 0 known already, 1 not taken in." in said
    assert "“hello” has no notebook attached" in said
    assert (course.root / "handed_in" / ADA.badge / LESSON / "timestamp.txt").read_text().startswith("2026-01-02 10:00")


def test_what_nbgrader_collected_itself_is_marked_and_kept(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    put(course.root / "handed_in", f"{ADA.badge}/{LESSON}/{LESSON}.ipynb", notebook_of(course, ADA))
    assert run(course, "mark")[0] == DONE
    assert marks(course)[ADA.badge].score == full()
    later = put(tmp_path / "back", f"{ADA.badge}.ipynb", notebook_of(course, ADA, "other"))
    os.utime(later, (time.time() + 60, time.time() + 60))
    run(course, "take-in", str(tmp_path / "back"))
    assert len(list((course.root / "received" / LESSON / ADA.badge).glob("*.ipynb"))) == 2


BAD = {
    "an unreadable answer": ("4701.ipynb", "unreadable", LOOK, "does not read as a number"),
    "a badge not in the list": ("9999.ipynb", "right", LOOK, "has a badge of roster.csv"),
    "not JSON": ("4701.ipynb", b'{"cells": [', LOOK, "not valid JSON"),
    "another lesson": ("4701.ipynb", "05_installed_flow", LOOK, "05_installed_flow, which was not given out"),
    "a lesson without work order": ("4701.ipynb", "00_start_here", LOOK, "no work order question"),
    "a missing cell": ("4701.ipynb", "missing", LOOK, "the answer cell of question 1 is missing"),
    "two badges": ("4701_4702.ipynb", "right", LOOK, "names two badges, 4701 and 4702"),
    "folder and file differ": ("4702/4701.ipynb", "right", LOOK, "names two badges, 4702 and 4701"),
    "no notebook at all": ("4701.docx", b"PK", LOOK, "neither a notebook"),
}


@pytest.mark.parametrize(("name", "content", "code", "sentence"), BAD.values(), ids=BAD)
def test_bad_input_gets_a_sentence_and_the_others_are_marked(
    tmp_path: Path, name: str, content: str | bytes, code: int, sentence: str
) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    for person in (CLEO, DAN):
        put(back, f"{person.badge}.ipynb", notebook_of(course, person, "right", "other"))
    if isinstance(content, bytes):
        put(back, name, content)
    elif content in workorders.notebooks():
        put(back, name, workorders.notebooks()[content].read_bytes())
    elif content == "missing":
        notebook = notebook_of(course, ADA)
        first = f"%%answer {QUESTIONS[0].id}"
        notebook["cells"] = [cell for cell in notebook["cells"] if not "".join(cell["source"]).startswith(first)]
        put(back, name, notebook)
    else:
        put(back, name, notebook_of(course, ADA, content))
    before = {path: path.read_bytes() for path in back.rglob("*") if path.is_file()}
    run(course, "take-in", str(back))
    assert run(course, "mark")[0] == code
    found = marks(course)
    for person in (CLEO, DAN):
        assert scores(found[person.badge]) == points(answers_of(person, "right", "other"))
    run(course, "tables")
    listed = (course.root / "needs_a_person.txt").read_text(encoding="utf-8")
    pages = [(course.root / "tables" / f"{name}.html").read_text(encoding="utf-8") for name in (LESSON, "index")]
    page = "".join(pages)
    assert sentence in listed
    assert sentence.replace('"', "&quot;") in page
    assert (listed == "") is (code == DONE)
    assert {path: path.read_bytes() for path in back.rglob("*") if path.is_file()} == before
    kept = {
        hashlib.sha256(path.read_bytes()).hexdigest()
        for path in (course.root / "received").rglob("*")
        if path.is_file()
    }
    assert {hashlib.sha256(data).hexdigest() for data in before.values()} <= kept


def test_of_two_hand_ins_the_newer_counts_and_both_are_kept(tmp_path: Path) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    now = time.time()
    for name, way, when in (("4701/a.ipynb", "other", now - 50), ("4701/b.ipynb", "right", now - 100)):
        os.utime(put(back, name, notebook_of(course, ADA, way)), (when, when))
    code, said = run(course, "take-in", str(back))
    assert code == DONE
    assert "handed in 2 times" in said
    run(course, "mark")
    assert scores(marks(course)[ADA.badge]) == points(answers_of(ADA, "other"))
    assert len(list((course.root / "received" / LESSON / ADA.badge).glob("*.ipynb"))) == 2
    run(course, "tables")
    assert "handed in 2 times" in (course.root / "tables" / f"{LESSON}_apprentices.csv").read_text("utf-8-sig")


def test_in_time_counts_before_late_and_late_is_said(tmp_path: Path) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    assert run(course, "give-out", "04", "--due", "2026-01-10 12:00")[0] == DONE
    day = 86_400
    due = 1_768_046_400  # 2026-01-10 12:00 UTC; a day either way is far from any time zone's edge
    for name, way, when in (
        ("4701/a.ipynb", "right", due - 2 * day),
        ("4701/b.ipynb", "other", due + 2 * day),
        ("4702.ipynb", "right", due + 3 * day),
    ):
        os.utime(put(back, name, notebook_of(course, ADA if "4701" in name else BEN, way)), (when, when))
    said = run(course, "take-in", str(back))[1]
    assert "4702, " + LESSON + ": handed in late" in said
    assert run(course, "mark")[0] == DONE
    assert marks(course)[ADA.badge].score == full()
    assert marks(course)[BEN.badge].score == full()  # late is told, not punished
    run(course, "tables")
    assert "handed in late" in (course.root / "tables" / f"{LESSON}_apprentices.csv").read_text("utf-8-sig")


def test_every_step_twice_does_nothing_new(tmp_path: Path) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    hand_in_all(course, back)
    run(course, "take-in", str(back))
    assert "4 marked" in run(course, "mark")[1]
    before = {p: (p.stat().st_mtime_ns, p.read_bytes()) for p in (course.root / "marked").rglob("*.ipynb")}
    assert "0 new hand-ins, 4 known already" in run(course, "take-in", str(back))[1]
    assert "0 marked, 4 unchanged" in run(course, "mark")[1]
    assert {p: (p.stat().st_mtime_ns, p.read_bytes()) for p in before} == before
    assert "4 marked" in run(course, "mark", "--again")[1]


def test_a_renamed_file_leaves_the_list(tmp_path: Path) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    path = put(back, "homework.ipynb", notebook_of(course, ADA))
    assert run(course, "take-in", str(back))[0] == LOOK
    path.rename(back / "4701.ipynb")
    assert run(course, "take-in", str(back))[0] == DONE
    assert run(course, "mark")[0] == DONE


def test_originals_are_kept_read_only_under_their_checksum(tmp_path: Path) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    path = put(back, "4701.ipynb", notebook_of(course, ADA))
    run(course, "take-in", str(back))
    (kept,) = (course.root / "received" / LESSON / ADA.badge).glob("*.ipynb")
    assert kept.read_bytes() == path.read_bytes()
    assert kept.stem == hashlib.sha256(path.read_bytes()).hexdigest()
    assert kept.stat().st_mode & 0o222 == 0


def test_a_hand_in_changed_after_it_came_is_shown(tmp_path: Path) -> None:
    course, back = classroom(tmp_path), tmp_path / "back"
    put(back, "4701.ipynb", notebook_of(course, ADA, "other"))
    run(course, "take-in", str(back))
    put(course.root, f"handed_in/4701/{LESSON}/{LESSON}.ipynb", notebook_of(course, ADA))
    assert run(course, "mark")[0] == LOOK
    assert "is not the one that came in" in (course.root / "needs_a_person.txt").read_text(encoding="utf-8")


def test_a_picture_goes_out_with_its_question_once_for_all_who_have_it(tmp_path: Path) -> None:
    from dataclasses import replace

    from matplotlib.figure import Figure

    def figure(_numbers: object, units: str) -> Figure:
        drawn = Figure()
        drawn.text(0.5, 0.5, f"drawn in {units}")
        return drawn

    drawn = replace(QUESTIONS[0], id="drawn.w1", figure=figure, alt="A test picture")
    text = work_order(LESSON, [drawn, QUESTIONS[1]], people(48), dealt([drawn, QUESTIONS[1]], people(48)))
    (tmp_path / "workorder.json").write_text(text, encoding="utf-8")
    for person in people(48):
        seen, without = (released_sheet(tmp_path, person.badge, asked.id) for asked in (drawn, QUESTIONS[1]))
        assert seen is not None
        assert without is not None
        assert f"drawn in {person.units}" in seen.svg
        assert without.svg == ""
    # The test picture knows the unit set only: one for each half of the class, however many apprentices.
    assert len(json.loads(text)["pictures"]) == 2
    assert text.count("A test picture") == 2


def test_a_hand_in_taken_away_leaves_the_list(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    put(course.root / "handed_in", f"9999/{LESSON}/{LESSON}.ipynb", notebook_of(course, ADA))
    assert run(course, "mark")[0] == LOOK
    (course.root / "handed_in" / "9999").rename(tmp_path / "away")
    assert run(course, "mark")[0] == DONE


def test_the_time_in_a_zip_tells_which_is_newer(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    for name, day, way in (("a", 2, "right"), ("b", 1, "other")):
        packed = io.BytesIO()
        with zipfile.ZipFile(packed, "w") as archive:
            entry = zipfile.ZipInfo(f"{LESSON}.ipynb", date_time=(2026, 1, day, 12, 0, 0))
            archive.writestr(entry, json.dumps(notebook_of(course, ADA, way)))
        put(tmp_path / "back", f"{name}/{ADA.badge}.zip", packed.getvalue())
    run(course, "take-in", str(tmp_path / "back"))
    run(course, "mark")
    assert marks(course)[ADA.badge].score == full()


@pytest.mark.parametrize(
    ("problem", "said"), [(KeyboardInterrupt(), "Stopped."), (ZeroDivisionError("x"), "fault.txt")]
)
def test_no_command_ends_in_a_traceback(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, problem: BaseException, said: str
) -> None:
    def fails(*_: object) -> None:
        raise problem

    course = classroom(tmp_path)
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("grading.marking.mark_lesson.mark_lesson", fails)
    code, told = run(course, "mark")
    assert code == FAILED
    assert said in told
    assert "Traceback" not in told
    assert (tmp_path / "fault.txt").exists() is (said == "fault.txt")


def test_a_release_into_a_gradebook_out_of_reach_says_so(tmp_path: Path) -> None:
    course = classroom(tmp_path)
    (course.root / "course.json").write_text('{"gradebook": "sqlite:////no/such/folder/gradebook.db"}')
    code, told = run(course, "give-out", "04")
    assert code == FAILED
    assert "unable to open database file" in told
    assert "Traceback" not in told
