"""The course page, questions in words, drawings in feedback, and the e-mails: each holds one apprentice's page."""

from __future__ import annotations

import base64
import email
import email.policy
import json
import re
from html import unescape
from pathlib import Path

import pytest

from grading import workorders
from grading.course.course import Course, new_course, open_course, write_safely
from grading.demo.demo import roster_csv
from grading.given_out.given_out import given_out
from grading.giving_out.give_out import give_out
from grading.handins.handin import asked
from grading.marking.drawings import Drawings
from grading.report.questions_in_words import QuestionsInWords, what_it_asks
from grading.report.whole_page import STYLE, page_table
from lessons.questions.question import Question
from tests.grading.classroom import CLASS, LESSON, QUESTIONS, classroom, notebook_of, put, run

ADA, BEN, CLEO, DAN = CLASS


@pytest.fixture(scope="module")
def course(tmp_path_factory: pytest.TempPathFactory) -> Course:
    """Return a class of four: three handed in, one of them late; two have addresses of their own."""
    folder = tmp_path_factory.mktemp("course")
    course = classroom(folder)
    mails = ("ada@example.org", "ben@example.org", "home@example.org", "Home@example.org")
    lines = [f"{p.badge},{p.name},{p.units},{mail}" for p, mail in zip(CLASS, mails, strict=True)]
    write_safely(course.root / "roster.csv", "badge,name,units,e-mail\n" + "\n".join(lines))
    put(folder / "back", f"{ADA.badge}.ipynb", notebook_of(course, ADA))
    put(folder / "back", f"{BEN.badge}.ipynb", notebook_of(course, BEN, "mistake", "unreadable"))
    notebook = notebook_of(course, CLEO)
    notebook["cells"] = [each for each in notebook["cells"] if "%%answer inherent.w1" not in "".join(each["source"])]
    put(folder / "back", f"{CLEO.badge}.ipynb", notebook)
    put(folder / "back", "homework.ipynb", b"{}")
    run(course, "due", "04", "2001-01-01 12:00", "--badge", ADA.badge)
    for step in (["take-in", str(folder / "back")], ["mark"], ["hand-back", "--mail"], ["tables"]):
        run(course, *step)
    return open_course(course.root)


def page_of(course: Course, name: str) -> str:
    return unescape((course.root / "tables" / name).read_text(encoding="utf-8"))


def test_the_course_at_a_glance(course: Course) -> None:
    page = page_of(course, "index.html")
    lesson = page.partition("<h2>Apprentices</h2>")[0]
    shown = dict(re.findall(r'data-label="(\w[\w ]+)">([^<]*)<', lesson))
    wanted = {"Due": "–", "Handed in": "3 of 4", "Late": "1", "Open": "2"}
    assert {name: shown[name] for name in wanted} == wanted
    assert re.fullmatch(r"\d\.\d of 7", shown["Mean"])
    assert f'href="{LESSON}.html"' in page
    assert f'href="../handed_back/{ADA.badge}/{LESSON}/{LESSON}.html">7 late</a>' in page
    assert page.count("homework.ipynb") == 2  # its place and its name, in one sentence
    for links in re.findall(r'href="([^"]+)"', page):
        assert (course.root / "tables" / links).resolve().exists(), links


def test_reports_name_questions_in_words(course: Course) -> None:
    page = page_of(course, f"{LESSON}.html")
    asks = what_it_asks(QUESTIONS[0])
    assert asks in page
    # The one place for an id is the column for commands.
    without = re.sub(r'<td data-label="Name for commands">[^<]*</td>', "", page)
    assert not re.findall(r"inherent\.w\d", without)
    assert not re.findall(r"inherent\.w\d", (course.root / "needs_a_person.txt").read_text(encoding="utf-8"))


def test_each_note_stands_once(course: Course) -> None:
    page = page_of(course, f"{LESSON}.html")
    for note in ("the answer cell of question 1 is missing", "does not read as a number"):
        assert page.count(note) == 1, note
    assert "homework" not in page  # it is told on the course page


def test_pages_fit_a_telephone_and_paper(course: Course) -> None:
    """No table scrolls sideways: on a narrow screen each row is a block, and on paper nothing is cut off."""
    for name in ("index.html", f"{LESSON}.html"):
        page = page_of(course, name)
        assert "overflow-x" not in page
        assert all(float(width) <= 370 for width in re.findall(r'<svg[^>]* width="(\d+)"', page))
        assert page.count("<td") == page.count("<td data-label=")
    assert "max-width:640px" in STYLE


def test_a_table_without_rows_says_so() -> None:
    assert page_table(["a"], []) == "<p>None.</p>"


WORDS = [
    ("A plug of {area} sees {dp}. What force is left on it?", "A plug of … sees … . What force is left on it?"),
    ("Put in order what happens to {this}, from the inlet on.", "Put in order what happens to …, from the inlet on."),
    (
        "One. Two. " + "How long is a very long question indeed" * 2 + "?",
        "How long is a very long question indeed" * 2 + "?",
    ),
]


@pytest.mark.parametrize(("text", "asks"), WORDS)
def test_what_a_question_asks(text: str, asks: str) -> None:
    assert what_it_asks(Question("x.w1", "number", text, ())) == asks


def test_every_graded_question_has_its_own_words() -> None:
    for lesson in workorders.notebooks():
        words = QuestionsInWords(workorders.of_lesson(lesson))
        said = [words.long(each) for each in words.number]
        assert len(set(said)) == len(said)
        assert all(len(each) > 12 for each in said), said


def test_ids_in_sentences_become_numbers() -> None:
    words = QuestionsInWords([Question(f"a.w{n}", "number", "How?", ()) for n in range(1, 12)])
    assert words.said("a.w1, the saved question a.w11 and b.w1") == "question 1, the saved question 11 and b.w1"


def test_the_drawing_of_its_own_badge_is_shown_wherever_a_question_is(tmp_path: Path) -> None:
    """Parts are numbered otherwise for other badges, so the drawing has to be the one that went out."""
    lesson = next(each for each in workorders.notebooks() if each.startswith("03_"))
    course = new_course(tmp_path / "course")
    write_safely(course.root / "roster.csv", roster_csv(CLASS))
    give_out(course, lesson, workorders.notebooks()[lesson])
    put(tmp_path / "back", f"{ADA.badge}.ipynb", (course.root / "as_sent" / lesson / f"{lesson}.ipynb").read_bytes())
    for step in (["take-in", str(tmp_path / "back")], ["mark"], ["hand-back"], ["keys", "03"]):
        run(course, *step)
    page = (course.root / "handed_back" / ADA.badge / lesson / f"{lesson}.html").read_text(encoding="utf-8")

    keys = (course.root / "key_sheets" / lesson / f"{ADA.badge}.html").read_text(encoding="utf-8")
    cells = json.loads(course.autograded(ADA.badge, lesson).read_text(encoding="utf-8"))["cells"]
    marked = {asked(each["source"]): each["outputs"][0]["data"]["text/html"] for each in cells if each.get("outputs")}

    latest = given_out(course, lesson).latest
    own, others = Drawings(course).of(latest, ADA.badge), Drawings(course).of(latest, BEN.badge)
    assert own
    for question, svg in own.items():
        assert svg in page.partition(f'id="{question}"')[2].partition("</section>")[0]
        same = latest.questions[0].dealt[ADA.badge] == latest.questions[0].dealt[BEN.badge]
        assert (others[question] == svg) is same
        image = f'src="data:image/svg+xml;base64,{base64.b64encode(svg.encode()).decode()}"'
        assert image in marked[question]  # on the marking page: as an image, in which nothing can run
        assert image in keys.partition(f"<h2>{question},")[2].partition("</section>")[0]


def test_each_e_mail_holds_one_page_and_no_other(course: Course) -> None:
    found = {path.stem: path.read_bytes() for path in (course.root / "to_mail" / LESSON).iterdir()}
    assert set(found) == {ADA.badge, BEN.badge}  # two share an address, and would read each other's
    for person, address in ((ADA, "ada@example.org"), (BEN, "ben@example.org")):
        mail = email.message_from_bytes(found[person.badge], policy=email.policy.default)
        (attached,) = mail.iter_attachments()
        page = course.root / "handed_back" / person.badge / LESSON / f"{LESSON}.html"
        assert attached.get_content().replace("\r\n", "\n") == page.read_text(encoding="utf-8")
        assert [each.addr_spec for each in mail["To"].addresses] == [address]
        assert mail["Cc"] is None and mail["Bcc"] is None
        mail.set_boundary("between")  # it was a random number, in which a badge may stand by chance
        parts = [part for part in mail.walk() if not part.is_multipart()]
        whole = f"{mail.items()} " + " ".join(f"{part.items()} {part.get_content()}" for part in parts)
        assert person.badge in whole and len(parts) == 2
        for other in CLASS:
            if other is not person:
                assert other.badge not in whole and other.name not in whole and f"{other.name.lower()}@" not in whole


def test_who_gets_no_e_mail_is_told(course: Course) -> None:
    _, said = run(course, "hand-back", "--mail")
    assert "2 e-mails to send" in said
    assert f"No e-mail: {CLEO.badge} {CLEO.name} has the same address as another in roster.csv." in said
